"""Independent digits for a row of drivers and for one driver on an endless rigid cylinder.

Array factor: scipy.special.diric and, beside it, the plain sum of the sources. Hankel functions: scipy.special.h2vp.
Pattern on the cylinder: the series of Laird and Cohen summed with SciPy's functions, to a fixed high order.
Column in its box: boundary elements of another kind than the site's own (collocation at panel centres on an even mesh, no
symmetry, NumPy's dense solver), for the demo column of eight drivers. Two meshes show what it is good for.
Run: python3 driver-line-digits.py > driver-line-digits.json
"""
import json
import platform
from datetime import date

import numpy as np
import scipy
from scipy.special import diric, h2vp

C, RHO = 343.2, 1.204


def array_factor():
    rows = []
    for count, spacing_in_waves in [(2, 0.5), (4, 0.5), (8, 0.25), (8, 0.75), (8, 1.3), (24, 0.4), (5, 1.0)]:
        for degrees in (7.5, 20, 30, 52, 90):
            psi = 2 * np.pi * spacing_in_waves * np.sin(np.radians(degrees))
            plain = np.mean(np.exp(1j * psi * (np.arange(count) - (count - 1) / 2))).real
            value = float(diric(psi, count))
            assert abs(abs(plain) - abs(value)) < 1e-12
            rows.append({'count': count, 'spacingInWavelengths': spacing_in_waves, 'angle': degrees, 'factor': plain})
    return rows


def hankel_slopes():
    return [
        {'n': n, 'x': x, 're': h2vp(n, x).real, 'im': h2vp(n, x).imag}
        for n, x in [(0, 0.01), (1, 0.01), (0, 1.3), (3, 1.3), (9, 1.3), (0, 2.404825557695773), (2, 11.0), (20, 11.0), (5, 80.0), (90, 80.0)]
    ]


def on_cylinder(ka, half_side, round_rad, up_rad):
    x = ka * np.cos(up_rad)
    n = np.arange(0, int(x) + 40)
    eps = np.where(n == 0, 1, 2)
    terms = eps * 1j ** n * np.sinc(n * half_side / np.pi) * np.cos(n * round_rad) / h2vp(n, x)
    return 2 / (1j * np.pi * x) * np.sinc(ka * half_side * np.sin(up_rad) / np.pi) * terms[np.isfinite(terms)].sum()


def cylinder_patterns():
    rows = []
    radius, driver = 0.0732, 0.032
    half_side = np.sqrt(np.pi) / 2 * driver / radius
    for ka in (0.2, 1.0, 3.0, 10.0):
        axis = abs(on_cylinder(ka, half_side, 0, 0))
        for round_deg, up_deg in [(45, 0), (90, 0), (180, 0), (0, 40), (135, 60), (180, 85)]:
            value = abs(on_cylinder(ka, half_side, np.radians(round_deg), np.radians(up_deg)))
            rows.append({'ka': ka, 'radiusM': radius, 'driverRadiusM': driver, 'round': round_deg, 'up': up_deg,
                         'level_dB': 20 * np.log10(value / axis)})
    return rows


WIDTH, HEIGHT, DEPTH, DRIVER = 0.11, 0.9, 0.12, 0.032
HEIGHTS = (np.arange(8) - 3.5) * 0.1125


def panels(size):
    x, y, z = np.eye(3)
    faces = [
        (np.array([-WIDTH / 2, -HEIGHT / 2, 0]), x, y, z, WIDTH, HEIGHT),
        (np.array([-WIDTH / 2, -HEIGHT / 2, -DEPTH]), x, y, -z, WIDTH, HEIGHT),
        (np.array([WIDTH / 2, -HEIGHT / 2, -DEPTH]), y, z, x, HEIGHT, DEPTH),
        (np.array([-WIDTH / 2, -HEIGHT / 2, -DEPTH]), y, z, -x, HEIGHT, DEPTH),
        (np.array([-WIDTH / 2, HEIGHT / 2, -DEPTH]), x, z, y, WIDTH, DEPTH),
        (np.array([-WIDTH / 2, -HEIGHT / 2, -DEPTH]), x, z, -y, WIDTH, DEPTH),
    ]
    node, weight = np.polynomial.legendre.leggauss(4)
    node, weight = (node + 1) / 2, weight / 2
    centres, points, weights, normals = [], [], [], []
    for corner, u, v, normal, long_u, long_v in faces:
        nu, nv = max(2, round(long_u / size)), max(2, round(long_v / size))
        u, v = u * long_u / nu, v * long_v / nv
        area = long_u * long_v / nu / nv
        for i in range(nu):
            for k in range(nv):
                centres.append(corner + u * (i + 0.5) + v * (k + 0.5))
                points.append([corner + u * (i + a) + v * (k + b) for a in node for b in node])
                weights.append([area * a * b for a in weight for b in weight])
                normals.append(normal)
    return map(np.array, (centres, points, weights, normals))


def solved_column(frequency, size):
    """p/2 = sum p dG/dn dS + j w rho sum v G dS on the surface; the same without the half outside."""
    k = 2 * np.pi * frequency / C
    centres, points, weights, normals = panels(size)
    node, weight = np.polynomial.legendre.leggauss(12)
    ring, part = (node + 1) / 2 * DRIVER, weight / 2 * DRIVER
    turn = 2 * np.pi * (np.arange(16) + 0.5) / 16
    source = np.array([[r * np.cos(t), y + r * np.sin(t), 0] for y in HEIGHTS for r in ring for t in turn])
    flow = np.array([w * r * 2 * np.pi / 16 for _ in HEIGHTS for r, w in zip(ring, part) for _ in turn])

    def reach(places, on_panels):
        d = places[:, None, :] - on_panels[None]
        r = np.linalg.norm(d, axis=2)
        return d, np.maximum(r, 1e-3)

    def double_layer(places):
        matrix = np.zeros((len(places), len(centres)), complex)
        for q in range(points.shape[1]):
            d, r = reach(places, points[:, q])
            cosine = -(d * normals[None]).sum(2) / r
            matrix += -(1j * k + 1 / r) * np.exp(-1j * k * r) / (4 * np.pi * r) * cosine * weights[:, q]
        return matrix

    def single_layer(places):
        _, r = reach(places, source)
        return 2j * np.pi * frequency * RHO * (np.exp(-1j * k * r) / (4 * np.pi * r)) @ flow

    inside = double_layer(centres)
    np.fill_diagonal(inside, 0)
    pressure = np.linalg.solve(0.5 * np.eye(len(centres)) - inside, single_layer(centres))
    return lambda places: double_layer(places) @ pressure + single_layer(places)


def columns():
    rows = []
    for frequency in (100, 200, 400, 630, 1000, 1600):
        fields = [solved_column(frequency, size) for size in (0.03, 0.022)]
        for round_deg in (45, 90, 135, 180):
            angle = np.radians([0, round_deg])
            places = 1000 * np.stack([np.sin(angle), 0 * angle, np.cos(angle)], axis=1)
            coarse, fine = (20 * np.log10(abs(p[1] / p[0])) for p in (field(places) for field in fields))
            rows.append({'frequency': frequency, 'round': round_deg, 'level_dB': round(fine, 2),
                         'coarserMesh_dB': round(coarse, 2)})
        near = np.array([[0, 0, 2.5], [0, 0, -2.5]])
        coarse, fine = (20 * np.log10(abs(p[1] / p[0])) for p in (field(near) for field in fields))
        rows.append({'frequency': frequency, 'round': 180, 'distanceM': 2.5, 'level_dB': round(fine, 2),
                     'coarserMesh_dB': round(coarse, 2)})
    return rows


print(json.dumps({
    'title': 'Independent digits: rows of drivers, a driver on a rigid cylinder, a column in its box',
    'source': f'driver-line-digits.py beside this file, SciPy {scipy.__version__}, NumPy {np.__version__}, Python {platform.python_version()}',
    'date': date.today().isoformat(),
    'notes': 'time factor e^{+jwt}; c = 343.2 m/s; angles in degrees, round the axis from the front and up from the plane across it',
    'arrayFactor': array_factor(),
    'hankelSlopes': hankel_slopes(),
    'cylinderPatterns': cylinder_patterns(),
    'solvedColumn': columns(),
}, indent=2))
