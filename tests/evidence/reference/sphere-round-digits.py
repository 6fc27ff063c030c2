"""Independent digits for sources on a rigid sphere, far away and all round, up to ka = 20.

Series of spherical Hankel functions, 50-digit arithmetic, from cylindrical ones of half order:
p_far / p_free = sum_n j^{n+1} U_n P_n(cos theta) / (x^2 h_n'(x)) with x = ka, U_n the velocity's Legendre coefficients for unit flow,
times 4 pi. Levels are re the same flow from a point in free space at the sphere's centre. The point source has
U_n = (2n + 1)/4 pi in closed form; the stiff cap's come from numerical quadrature. Its size is that of a cone of radius 0.1 m
on the sphere with the surface of a cube of 0.3 m.
Run: python3 sphere-round-digits.py > sphere-round-digits.json
"""
import json
import platform
from mpmath import mp, mpf, mpc, asin, besselj, bessely, cos, legendre, linspace, log10, pi, quad, sin, sqrt
import mpmath

mp.dps = 50
ANGLES = (0, 45, 90, 135, 180)
RADIUS = sqrt(6 * mpf('0.3') ** 2 / (4 * pi))
CAP = asin(mpf('0.1') / RADIUS)


def hankel(n, x):
    return sqrt(pi / (2 * x)) * (besselj(n + mpf(1) / 2, x) - 1j * bessely(n + mpf(1) / 2, x))


def slope(n, x):
    return hankel(n - 1, x) - (n + 1) / x * hankel(n, x)


def point(n):
    return (2 * n + 1) / (4 * pi)


def cap(n):
    pieces = linspace(0, CAP, 2 + n // 6)
    moment = quad(lambda t: cos(t) * legendre(n, cos(t)) * sin(t), pieces)
    return (2 * n + 1) / mpf(2) * moment / (pi * sin(CAP) ** 2)


def levels(velocity, x):
    terms = int(x) + 40
    factors = [mpc(0, 1) ** (n + 1) * velocity(n) / (x ** 2 * slope(n, x)) for n in range(terms)]
    out = []
    for angle in ANGLES:
        total = sum(f * legendre(n, cos(angle * pi / 180)) for n, f in enumerate(factors))
        out.append(float(mpmath.nstr(20 * log10(abs(4 * pi * total)), 10)))
    return out


rows = [
    {'source': name, 'ka': ka, 'levelDb': levels(velocity, mpf(ka))}
    for name, velocity in (('point', point), ('cap', cap))
    for ka in (2, 5, 10, 20)
]
print(json.dumps({
    'title': 'Point source and stiff cap on a rigid sphere, far away and all round',
    'source': 'sphere-round-digits.py beside this file, mpmath ' + mpmath.__version__ + ', Python ' + platform.python_version()
              + ', 50 digits',
    'date': '2026-11-29',
    'anglesDegrees': ANGLES,
    'rows': rows,
}, indent=1))
