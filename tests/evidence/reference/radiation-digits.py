"""Independent digits for the spherical Hankel functions and for pistons on a sphere.

Series summed with 60-digit arithmetic from cylindrical Bessel functions of half order, by numerical quadrature of the
cap's velocity; nothing is shared with the code under test. Run: python3 radiation-digits.py > radiation-digits.json
"""
import json
import platform
from mpmath import mp, mpf, mpc, besselj, bessely, sqrt, pi, legendre, quad, cos, sin, linspace
import mpmath

mp.dps = 60
c, rho = mpf('343.2'), mpf('1.2')


def h2(n, x):
    return sqrt(pi / (2 * x)) * (besselj(n + mpf(1) / 2, x) - 1j * bessely(n + mpf(1) / 2, x))


def dh2(n, x):
    return h2(n - 1, x) - (n + 1) / x * h2(n, x)


def pair(z):
    return [mpmath.nstr(z.real, 20), mpmath.nstr(z.imag, 20)]


def velocity(n, alpha, motion):
    """U_n on a unit sphere for unit net volume velocity, by quadrature."""
    if motion == 'radial':
        u0, shape = 1 / (2 * pi * (1 - cos(alpha))), lambda t: mpf(1)
    else:
        u0, shape = 1 / (pi * sin(alpha) ** 2), lambda t: cos(t)
    pieces = linspace(0, alpha, 2 + n // 6)
    return (2 * n + 1) / mpf(2) * u0 * quad(lambda t: shape(t) * legendre(n, cos(t)) * sin(t), pieces)


def pressure(radius, alpha, motion, ka, r, theta, terms):
    k = ka / radius
    total = mpc(0)
    for n in range(terms):
        a = -1j * rho * c * velocity(n, alpha, motion) / radius ** 2 / dh2(n, k * radius)
        total += a * h2(n, k * r) * legendre(n, cos(theta))
    return total


out = {
    'title': 'Independent digits: spherical Hankel functions and pistons on a rigid sphere',
    'source': 'radiation-digits.py beside this file, mpmath ' + mpmath.__version__ + ', Python ' + platform.python_version()
    + ', 60 digits',
    'date': '2026-11-25',
    'notes': 'time factor e^{+jwt}; c = 343.2 m/s, density 1.2 kg/m3, unit net volume velocity; complex as [re, im]',
    'hankelRatios': [],
    'hankelLogDerivatives': [],
    'spherePressures': [],
}
for n, x in [(1, '0.01'), (1, '1'), (5, '1'), (5, '10'), (20, '1'), (40, '0.1'), (60, '60'), (80, '60'), (200, '60'), (1000, '1000')]:
    X = mpf(x)
    out['hankelRatios'].append({'n': n, 'x': float(x), 'value': pair(h2(n, X) / h2(n - 1, X))})
    out['hankelLogDerivatives'].append({'n': n, 'x': float(x), 'value': pair(dh2(n, X) / h2(n, X))})
for radius, degrees, motion, ka, r, theta_deg, terms in [
    ('0.25', 25, 'radial', '0.05', '0.5', 180, 24),
    ('0.25', 25, 'radial', '1', '0.3', 40, 120),
    ('0.25', 25, 'axial', '1', '0.3', 40, 120),
    ('0.25', 25, 'axial', '4', '2', 0, 40),
    ('0.25', 25, 'axial', '4', '2', 150, 40),
    ('0.25', 90, 'axial', '2', '1', 70, 40),
    ('0.25', 120, 'axial', '2', '1', 70, 40),
    ('0.25', 60, 'radial', '20', '0.4', 30, 90),
    ('0.25', 60, 'radial', '60', '5', 10, 110),
    ('0.25', 60, 'radial', '60', '5', 120, 110),
]:
    alpha = mpf(degrees) * pi / 180
    value = pressure(mpf(radius), alpha, motion, mpf(ka), mpf(r), mpf(theta_deg) * pi / 180, terms)
    out['spherePressures'].append({
        'radiusM': float(radius), 'capHalfAngleDegrees': degrees, 'motion': motion, 'ka': float(ka),
        'distanceM': float(r), 'angleDegrees': theta_deg, 'pressurePa': pair(value),
    })
print(json.dumps(out, indent=2))
