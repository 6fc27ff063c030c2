"""Independent digits for sound over ground that is not hard.

faddeeva: w(z) by mpmath with 40 digits. impedance: Delany's and Bazley's formula, and Miki's with the same flow resistivity.
over grass: a point source over ground of an admittance as Sommerfeld's integral over plane waves of all angles, those along
the ground with them, minus the integral for hard ground (which is the mirror image); as the factor of the mirror image, and as the
level re free air. `miki` is the same level with Miki's impedance, by the same integral. absorption: what grass takes of sound from all sides.
Time factor e^{+jwt} in the results. Nothing is shared with the code under test.
Run: python3 ground-digits.py > ground-digits.json   (a few seconds)
"""
import json
import platform
import sys
import mpmath
import numpy as np
import scipy
from scipy.integrate import quad
from scipy.special import j0

C, GRASS = 343.2, 200e3
mpmath.mp.dps = 40


def faddeeva(z):
    z = mpmath.mpc(z)
    return complex(mpmath.exp(-z**2) * mpmath.erfc(-1j * z))


# Time factor e^{-jwt} from here on, as in the books; conjugated at the end.
def delany_bazley(f, sigma=GRASS):
    x = 1000 * f / sigma
    return 1 + 9.08 * x**-0.75 + 11.9j * x**-0.73


def miki(f, sigma=GRASS):
    x = 1000 * f / sigma
    return 1 + 5.50 * x**-0.632 + 8.43j * x**-0.632


def integral(g, start, end, pieces):
    edges = np.linspace(start, end, pieces + 1)
    part = lambda f, a, b: quad(f, a, b, epsabs=1e-11, epsrel=1e-9, limit=400)[0]
    return sum(part(lambda x: g(x).real, a, b) + 1j * part(lambda x: g(x).imag, a, b) for a, b in zip(edges, edges[1:]))


def factor(f, beta, source, listener, along):
    """What multiplies the mirror image's e^{jkr}/r: horizontal wavenumber k sin(t), then k cosh(u)."""
    k, up = 2 * np.pi * f / C, source + listener
    slow = lambda t: -2 * beta / (np.cos(t) + beta) * j0(k * along * np.sin(t)) * np.exp(1j * k * up * np.cos(t)) * k * np.sin(t)
    fast = lambda u: -2 * beta / (1j * np.sinh(u) + beta) * j0(k * along * np.cosh(u)) * np.exp(-k * up * np.sinh(u)) * k * np.cosh(u)
    pieces = max(8, int(k * along / 3))
    more = 1j * integral(slow, 0, np.pi / 2, pieces) + integral(fast, 0, np.arcsinh(45 / (k * up)), 2 * pieces)
    path = np.hypot(along, up)
    return 1 + more / (np.exp(1j * k * path) / path)


def level(f, q, source, listener, along):
    k = 2 * np.pi * f / C
    direct, path = np.hypot(along, source - listener), np.hypot(along, source + listener)
    return 20 * np.log10(abs(1 + q * direct / path * np.exp(1j * k * (path - direct))))


def absorption(f):
    beta = 1 / delany_bazley(f)
    share = lambda t: (1 - abs((np.cos(t) - beta) / (np.cos(t) + beta))**2) * np.sin(2 * t)
    return quad(share, 0, np.pi / 2)[0]


if __name__ == '__main__':
    digits = lambda v, n=6: float(f'{v:.{n}g}')
    result = {
        'title': 'Sound over grass',
        'source': f'ground-digits.py beside this file, NumPy {np.__version__}, SciPy {scipy.__version__}, mpmath {mpmath.__version__}, Python {platform.python_version()}',
        'date': '2026-11-30',
        'notes': 'c = 343.2 m/s; flow resistivity of grass 200 000 Pa s/m2 (class D); heights and distance along the ground in m',
        'faddeeva': [{'z': [z.real, z.imag], 'value': [digits(w.real, 15), digits(w.imag, 15)]}
                     for z in (0j, 0.5 + 0.5j, 1 + 2j, 3 + 0j, 2.5 + 0.1j, 6 + 5j, 0.01 + 0.02j, 40 + 30j, 1 - 0.2j, 3 - 0.5j)
                     for w in [faddeeva(z)]],
        'impedance': [{'frequencyHz': f, 're': digits(z.real, 10), 'im': digits(-z.imag, 10)}
                      for f in (40.0, 100.0, 500.0, 2000.0, 10000.0) for z in [delany_bazley(f)]],
        'overGrass': [],
        'absorption': [{'frequencyHz': f, 'value': digits(absorption(f))} for f in (125, 250, 500, 1000, 2000, 4000)],
    }
    for source, listener, along in ((0.3, 1.6, 2.0), (1.8, 1.6, 2.0), (0.3, 1.6, 10.0), (1.8, 1.6, 10.0), (0.3, 1.2, 30.0)):
        for f in (31.5, 63.0, 125.0, 250.0, 500.0, 1000.0, 2000.0, 4000.0):
            q = factor(f, 1 / delany_bazley(f), source, listener, along)
            other = factor(f, 1 / miki(f), source, listener, along)
            result['overGrass'].append({
                'sourceM': source, 'listenerM': listener, 'alongM': along, 'frequencyHz': f,
                're': digits(q.real), 'im': digits(-q.imag),
                'levelDb': digits(level(f, q, source, listener, along)),
                'mikiDb': digits(level(f, other, source, listener, along))})
    json.dump(result, sys.stdout, indent=1)
    print()
