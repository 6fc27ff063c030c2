"""Independent digits for sound in a box-shaped hall with locally reacting walls.

Walls: the real impedance whose absorption, averaged over all angles by quadrature (Paris), is alpha.
Hall: the exact solution for a point source. Across and up, standing waves from a Galerkin method with Legendre polynomials
(eigenvalues of a matrix, no root is searched); along the hall the closed form of a wave between two walls, so that the sum
converges like e^{-qz}. No images, no windows.
Run: python3 hall-digits.py > hall-digits.json  (a minute)
"""
import json
import platform
from datetime import date

import numpy as np
import scipy
from numpy.polynomial import legendre
from scipy.linalg import eig
from scipy.optimize import brentq

C, RHO = 343.2, 101325 / (287.058 * 293.15)
SIZE = np.array([11.0, 4.6, 18.0])  # width x, height y, length z
LOW = np.array([-5.5, 0.0, 0.0])
NODES, WEIGHTS = legendre.leggauss(400)


def random_incidence(admittance):
    """alpha for sound from all sides: integral of alpha(cos) 2 cos dcos, with cos = t^2 to meet the steep part along the wall."""
    t = (NODES + 1) / 2
    cos = t ** 2
    alpha = 1 - ((cos - admittance) / (cos + admittance)) ** 2
    return np.sum(WEIGHTS / 2 * alpha * 2 * cos * 2 * t)


def admittance_of(alpha):
    return 0.0 if alpha == 0 else brentq(lambda b: random_incidence(b) - alpha, 1e-9, 0.638, xtol=1e-14)


def axis_modes(length, low, high, k, most):
    """Wavenumbers, norms and a function of the shapes at a place; psi' = jk low psi at 0, psi' = -jk high psi at length."""
    n = most
    i = np.arange(n)
    x, w = NODES, WEIGHTS
    p = np.array([legendre.legval(x, np.eye(n)[m]) for m in i])
    d = np.array([legendre.legval(x, legendre.legder(np.eye(n)[m])) if m else 0 * x for m in i])
    mass = (p * w) @ p.T * length / 2
    stiff = (d * w) @ d.T * 2 / length
    at_low, at_high = (-1.0) ** i, np.ones(n)
    a = stiff + 1j * k * (low * np.outer(at_low, at_low) + high * np.outer(at_high, at_high))
    values, vectors = eig(a, mass)
    keep = np.argsort(values.real)[: n // 2]
    values, vectors = values[keep], vectors[:, keep]
    norms = np.einsum('im,ij,jm->m', vectors, mass, vectors)

    def shapes(place):
        return np.array([legendre.legval(2 * place / length - 1, np.eye(n)[m]) for m in i]) @ vectors

    return values, norms, shapes


def exact(sources, alphas, listener, frequency):
    """alphas: [[x low, x high], [y low, y high], [z low, z high]]; sources: (position, complex drive)."""
    k = 2 * np.pi * frequency / C
    b = [[admittance_of(alpha) for alpha in pair] for pair in alphas]
    qx, nx, sx = axis_modes(SIZE[0], *b[0], k, 120)
    qy, ny, sy = axis_modes(SIZE[1], *b[1], k, 70)
    kz = np.sqrt(k * k - qx[:, None] - qy[None, :] + 0j)
    kz = np.where(kz.imag > 0, -kz, kz)
    low, high = [(kz - value * k) / (kz + value * k) for value in b[2]]
    length = SIZE[2]
    u = listener - LOW
    total = 0j
    for position, drive in sources:
        s = position - LOW
        across = sx(s[0]) * sx(u[0]) / nx
        up = sy(s[1]) * sy(u[1]) / ny
        near, far = sorted((s[2], u[2]))
        wave = lambda way: np.exp(-1j * kz * way)
        along = wave(far - near) * (1 + low * wave(2 * near)) * (1 + high * wave(2 * (length - far)))
        along = along / (1 - low * high * wave(2 * length)) / (2j * kz)
        total += drive * 4 * np.pi * np.sum(across[:, None] * up[None, :] * along)
    return 1j * 2 * np.pi * frequency * RHO / (4 * np.pi) * total


def rows():
    source = np.array([1.3, 0.8, 2.1])
    yaw, spacing = 0.4, 1.0
    ahead = np.array([np.sin(yaw), 0, np.cos(yaw)]) * spacing / 2
    halls = {
        'even 0.3': [[0.3, 0.3]] * 3,
        'even 0.15': [[0.15, 0.15]] * 3,
        'six surfaces': [[0.18, 0.25], [0.22, 0.35], [0.1, 0.4]],
        'brick': [[0.02, 0.02], [0.1, 0.2], [0.02, 0.02]],
        'even 0.9': [[0.9, 0.9]] * 3,
    }
    places = [(0.0, 1.7, 8.0), (-4.0, 1.2, 15.0), (5.0, 1.6, 0.5), (1.5, 1.5, 4.0)]
    out = []
    for hall, alphas in halls.items():
        for frequency in (35.0, 60.0, 85.0, 160.0):
            for kind in ('point', 'pair'):
                if kind == 'point':
                    sources = [(source, 1.0)]
                else:
                    delay = np.exp(-2j * np.pi * frequency * spacing / C)
                    sources = [(source + ahead, 1.0), (source - ahead, -delay)]
                for place in places:
                    p = exact(sources, alphas, np.array(place), frequency)
                    out.append({
                        'hall': hall, 'alphas': alphas, 'source': kind, 'frequencyHz': frequency, 'listener': place,
                        're': float(f'{p.real:.7g}'), 'im': float(f'{p.imag:.7g}'),
                    })
    return out


def wall_rows():
    return [{'alpha': alpha, 'admittance': float(f'{admittance_of(alpha):.9g}')} for alpha in (0.01, 0.03, 0.1, 0.2, 0.4, 0.6, 0.8, 0.93)]


print(json.dumps({
    'title': 'Independent digits: sound in a box-shaped hall with locally reacting walls',
    'source': f'hall-digits.py beside this file, NumPy {np.__version__}, SciPy {scipy.__version__}, Python {platform.python_version()}',
    'date': str(date.today()),
    'notes': 'hall 11 m wide (x, -5.5 to 5.5), 4.6 m high (y), 18 m long (z, from 0); point source of 1 m3/s at (1.3, 0.8, 2.1), or two of them 1 m apart about it, yaw 0.4 rad, '
             'the rear one delayed by 1 m/c and inverted; c = 343.2 m/s, air absorption left out; Pa, time factor e^{+jwt}; '
             'alphas, for sound from all sides, are [low, high] along x, y, z',
    'walls': wall_rows(),
    'field': rows(),
}, indent=1))
