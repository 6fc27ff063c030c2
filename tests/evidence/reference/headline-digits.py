"""Independent digits for the quantities that the pages lead with: front, beside and behind, and the bass share.

Sphere: a cap of 30 degrees that moves radially on a rigid sphere, the series of Morse & Ingard 7.2 (Beranek & Mellow 12.6) summed with
mpmath's own Bessel functions, level re the same volume velocity in free space at the centre, both at the same distance. ka is
that of the demo sub (63 Hz) and of the demo top (1 and 4 kHz) as spheres of equal surface at 343.2 m/s.
Bass share: ISO 532-1 for stationary sounds, written from the standard's tables and apart from the site's own; the pattern is
integrated exactly. Test signal 1 of the standard comes out within 0.001 of its printed 83.2957 sone. Where 250 Hz lies on the scale of
critical bands (linear in frequency between the edges of the method's own bands) is the site's choice.
Run: python3 headline-digits.py > headline-digits.json
"""
import json
import math
import platform
from datetime import date
from pathlib import Path

import mpmath as mp

mp.mp.dps = 30
C = 343.2


def sphere_radius(w, h, d):
    return math.sqrt(2 * (w * h + w * d + h * d) / (4 * math.pi))


def hankel(n, x):
    return mp.sqrt(mp.pi / (2 * x)) * (mp.besselj(n + mp.mpf(1) / 2, x) - 1j * mp.bessely(n + mp.mpf(1) / 2, x))


def hankel_slope(n, x):
    return n / x * hankel(n, x) - hankel(n + 1, x)


def cap_level(ka, cap_deg, radii, angle_deg):
    """20 lg |p / p of a point source of the same flow in free space|; sphere of radius 1, e^{+jwt}."""
    ka = mp.mpf(ka)
    edge = mp.cos(mp.radians(cap_deg))
    area = 2 * mp.pi * (1 - edge)
    total = mp.mpc(0)
    terms = int(ka * 1.2 + 30)
    for n in range(terms):
        # Mean of P_n over the cap's velocity: u_n = (P_{n-1} - P_{n+1})(edge) / 2, for n = 0 (1 - edge) / 2.
        u = (1 - edge) / 2 if n == 0 else (mp.legendre(n - 1, edge) - mp.legendre(n + 1, edge)) / 2
        total += u * mp.legendre(n, mp.cos(mp.radians(angle_deg))) * hankel(n, ka * radii) / hankel_slope(n, ka)
    # p = -j rho c * sum over the velocity 1/area; the point source has rho c k / (4 pi r) in size.
    return 20 * mp.log10(abs(total / area) * 4 * mp.pi * radii / ka)


def sphere_rows():
    sub, top = sphere_radius(0.56, 0.62, 0.66), sphere_radius(0.32, 0.56, 0.3)
    rows = []
    for name, frequency, radius in [('63', 63, sub), ('1k', 1000, top), ('4k', 4000, top)]:
        ka = round(2 * math.pi * frequency * radius / C, 4)
        for word, angle in [('front', 0), ('beside', 90), ('behind', 180)]:
            rows.append({'at': name, 'frequencyHz': frequency, 'ka': ka, 'capDegrees': 30, 'radii': 6, 'where': word, 'angle': angle,
                         'level_dB': float(mp.nstr(cap_level(ka, 30, 6, angle), 10))})
    return rows


RAP = [45, 55, 65, 71, 80, 90, 100, 120]
DLL = [
    [-32, -24, -16, -10, -5, 0, -7, -3, 0, -2, 0], [-29, -22, -15, -10, -4, 0, -7, -2, 0, -2, 0],
    [-27, -19, -14, -9, -4, 0, -6, -2, 0, -2, 0], [-25, -17, -12, -9, -3, 0, -5, -2, 0, -2, 0],
    [-23, -16, -11, -7, -3, 0, -4, -1, 0, -1, 0], [-20, -14, -10, -6, -3, 0, -4, -1, 0, -1, 0],
    [-18, -12, -9, -6, -2, 0, -3, -1, 0, -1, 0], [-15, -10, -8, -4, -2, 0, -3, -1, 0, -1, 0],
]
A0 = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, -0.5, -1.6, -3.2, -5.4, -5.6, -4, -1.5, 2, 5, 12]
DDF = [0, 0, 0.5, 0.9, 1.2, 1.6, 2.3, 2.8, 3, 2, 0, -1.4, -2, -1.9, -1, 0.5, 3, 4, 4.3, 4]
LTQ = [30, 18, 12, 8, 7, 6, 5, 4, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3]
DCB = [-0.25, -0.6, -0.8, -0.8, -0.5, 0, 0.5, 1.1, 1.5, 1.7, 1.8, 1.8, 1.7, 1.6, 1.4, 1.2, 0.8, 0.5, 0, -0.5]
ZUP = [0.9, 1.8, 2.8, 3.5, 4.4, 5.4, 6.6, 7.9, 9.2, 10.6, 12.3, 13.8, 15.2, 16.7, 18.1, 19.3, 20.6, 21.8, 22.7, 23.6, 24]
RNS = [21.5, 18, 15.1, 11.5, 9, 6.1, 4.4, 3.1, 2.13, 1.36, 0.82, 0.42, 0.3, 0.22, 0.15, 0.1, 0.035, 0]
USL = [
    [13, 8.2, 6.3, 5.5, 5.5, 5.5, 5.5, 5.5], [9, 7.5, 6, 5.1, 4.5, 4.5, 4.5, 4.5], [7.8, 6.7, 5.6, 4.9, 4.4, 3.9, 3.9, 3.9],
    [6.2, 5.4, 4.6, 4, 3.5, 3.2, 3.2, 3.2], [4.5, 3.8, 3.6, 3.2, 2.9, 2.7, 2.7, 2.7], [3.7, 3, 2.8, 2.35, 2.2, 2.2, 2.2, 2.2],
    [2.9, 2.3, 2.1, 1.9, 1.8, 1.7, 1.7, 1.7], [2.4, 1.7, 1.5, 1.35, 1.3, 1.3, 1.3, 1.3], [1.95, 1.45, 1.3, 1.15, 1.1, 1.1, 1.1, 1.1],
    [1.5, 1.2, 0.94, 0.86, 0.82, 0.82, 0.82, 0.82], [0.72, 0.67, 0.64, 0.63, 0.62, 0.62, 0.62, 0.62], [0.59, 0.53, 0.51, 0.5, 0.42, 0.42, 0.42, 0.42],
    [0.4, 0.33, 0.26, 0.24, 0.22, 0.22, 0.22, 0.22], [0.27, 0.21, 0.2, 0.18, 0.17, 0.17, 0.17, 0.17], [0.16, 0.15, 0.14, 0.12, 0.11, 0.11, 0.11, 0.11],
    [0.12, 0.11, 0.1, 0.08, 0.08, 0.08, 0.08, 0.08], [0.09, 0.08, 0.07, 0.06, 0.06, 0.06, 0.06, 0.05], [0.06, 0.05, 0.03, 0.02, 0.02, 0.02, 0.02, 0.02],
]


def core_loudness(levels, diffuse):
    low = []
    for i in range(11):
        k = next((k for k in range(8) if levels[i] <= RAP[k] - DLL[k][i]), 7)
        low.append(levels[i] + DLL[k][i])
    energy = lambda part: 10 * math.log10(sum(10 ** (x / 10) for x in part))
    bands = [energy(low[:6]), energy(low[6:9]), energy(low[9:])] + list(levels[11:])
    core = []
    for i, level in enumerate(bands):
        excited = level - A0[i] + (DDF[i] if diffuse else 0)
        n = 0.0
        if excited > LTQ[i]:
            n = max(0.0, 0.0635 * 10 ** (0.025 * LTQ[i]) * ((0.75 + 0.25 * 10 ** (0.1 * (excited - DCB[i] - LTQ[i]))) ** 0.25 - 1))
        core.append(n)
    core[0] *= min(1.0, 0.4 + 0.32 * core[0] ** 0.2)
    return core + [0.0]


def pattern(core):
    """Straight pieces (from bark, to bark, value there and there)."""
    pieces, z, value = [], 0.0, 0.0
    for i, flat in enumerate(core):
        end = ZUP[i]
        while end - z > 1e-12:
            if value <= flat:
                pieces.append((z, end, flat, flat))
                z, value = end, flat
                continue
            # The range whose lower limit is below the value.
            j = next(j for j, limit in enumerate(RNS) if value > limit)
            slope = USL[j][min(max(i - 1, 0), 7)]
            down = max(flat, RNS[j])
            meet = z + (value - down) / slope
            if meet >= end:
                pieces.append((z, end, value, value - (end - z) * slope))
                value, z = pieces[-1][3], end
            else:
                pieces.append((z, meet, value, down))
                value, z = down, meet
    return pieces


def below(pieces, limit):
    total = 0.0
    for a, b, va, vb in pieces:
        if a >= limit:
            break
        c = min(b, limit)
        vc = va + (vb - va) * (c - a) / (b - a)
        total += (va + vc) / 2 * (c - a)
    return total


def bark_of_250():
    lower, upper = 10 ** 2.25, 10 ** 2.45
    return 1.8 + (250 - lower) / (upper - lower)


def share_rows():
    signal_1 = json.loads((Path(__file__).parent / 'zwicker-loudness.json').read_text())['signals'][0]
    assert abs(below(pattern(core_loudness(signal_1['levelsDb'], False)), 24) - signal_1['sones']) < 0.001
    fall = [max(0, min(25, 2 * (i - 10))) for i in range(28)]
    cases = [
        ('test signal 1 of the standard', signal_1['levelsDb'], False),
        ('70 dB in every third octave', [70.0] * 28, False),
        ('70 dB up to 250 Hz, 2 dB less in each third octave above, at most 25', [70.0 - f for f in fall], False),
        ('the same, from all sides', [70.0 - f for f in fall], True),
        ('50 dB in every third octave', [50.0] * 28, False),
    ]
    rows = []
    for name, levels, diffuse in cases:
        pieces = pattern(core_loudness(levels, diffuse))
        whole = below(pieces, 24)
        rows.append({'name': name, 'field': 'diffuse' if diffuse else 'free', 'levelsDb': levels,
                     'sones': round(whole, 7), 'bassShare': round(below(pieces, bark_of_250()) / whole, 7)})
    return rows


print(json.dumps({
    'title': 'Independent digits: front, beside and behind a cap on a sphere; bass share',
    'source': f'headline-digits.py beside this file, mpmath {mp.__version__}, Python {platform.python_version()}',
    'date': str(date.today()),
    'sphere': sphere_rows(),
    'bassShare': share_rows(),
}, indent=1))
