"""Independent digits for the loudness of pink noise whose bass is turned down: the stationary method of ISO 532-1:2017 (clause 5, Annex A),
written from its tables apart from the project, the pattern followed in steps of 0.0005 Bark instead of piece by piece.
The bass is what lies below 250 Hz on the scale of the method, at 2.49 Bark; the cut takes all third octaves up to 250 Hz down.
`levelsDb` are 28 third octaves, 25 Hz to 12.5 kHz: flat pink noise, and what the lesson's rig sends 2.5 m in front, as the page has it.
Run: python3 bass-cut-digits.py > bass-cut-digits.json
"""
import json
import platform
from datetime import date

import numpy as np

RAP = [45, 55, 65, 71, 80, 90, 100, 120]
DLL = [
    [-32, -24, -16, -10, -5, 0, -7, -3, 0, -2, 0], [-29, -22, -15, -10, -4, 0, -7, -2, 0, -2, 0],
    [-27, -19, -14, -9, -4, 0, -6, -2, 0, -2, 0], [-25, -17, -12, -9, -3, 0, -5, -2, 0, -2, 0],
    [-23, -16, -11, -7, -3, 0, -4, -1, 0, -1, 0], [-20, -14, -10, -6, -3, 0, -4, -1, 0, -1, 0],
    [-18, -12, -9, -6, -2, 0, -3, -1, 0, -1, 0], [-15, -10, -8, -4, -2, 0, -3, -1, 0, -1, 0],
]
A0 = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, -0.5, -1.6, -3.2, -5.4, -5.6, -4, -1.5, 2, 5, 12]
LTQ = [30, 18, 12, 8, 7, 6, 5, 4, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3]
DCB = [-0.25, -0.6, -0.8, -0.8, -0.5, 0, 0.5, 1.1, 1.5, 1.7, 1.8, 1.8, 1.7, 1.6, 1.4, 1.2, 0.8, 0.5, 0, -0.5]
ZUP = [0.9, 1.8, 2.8, 3.5, 4.4, 5.4, 6.6, 7.9, 9.2, 10.6, 12.3, 13.8, 15.2, 16.7, 18.1, 19.3, 20.6, 21.8, 22.7, 23.6, 24]
RNS = [21.5, 18, 15.1, 11.5, 9, 6.1, 4.4, 3.1, 2.13, 1.36, 0.82, 0.42, 0.3, 0.22, 0.15, 0.1, 0.035, 0]
USL = [
    [13, 8.2, 6.3, 5.5, 5.5, 5.5, 5.5, 5.5], [9, 7.5, 6, 5.1, 4.5, 4.5, 4.5, 4.5], [7.8, 6.7, 5.6, 4.9, 4.4, 3.9, 3.9, 3.9],
    [6.2, 5.4, 4.6, 4, 3.5, 3.2, 3.2, 3.2], [4.5, 3.8, 3.6, 3.2, 2.9, 2.7, 2.7, 2.7], [3.7, 3, 2.8, 2.35, 2.2, 2.2, 2.2, 2.2],
    [2.9, 2.3, 2.1, 1.9, 1.8, 1.7, 1.7, 1.7], [2.4, 1.7, 1.5, 1.35, 1.3, 1.3, 1.3, 1.3], [1.95, 1.45, 1.3, 1.15, 1.1, 1.1, 1.1, 1.1],
    [1.5, 1.2, 0.94, 0.86, 0.82, 0.82, 0.82, 0.82], [0.72, 0.67, 0.64, 0.63, 0.62, 0.62, 0.62, 0.62],
    [0.59, 0.53, 0.51, 0.5, 0.42, 0.42, 0.42, 0.42], [0.4, 0.33, 0.26, 0.24, 0.22, 0.22, 0.22, 0.22],
    [0.27, 0.21, 0.2, 0.18, 0.17, 0.17, 0.17, 0.17], [0.16, 0.15, 0.14, 0.12, 0.11, 0.11, 0.11, 0.11],
    [0.12, 0.11, 0.1, 0.08, 0.08, 0.08, 0.08, 0.08], [0.09, 0.08, 0.07, 0.06, 0.06, 0.06, 0.06, 0.05],
    [0.06, 0.05, 0.03, 0.02, 0.02, 0.02, 0.02, 0.02],
]
BASS_BARK = 2.49
STEP = 0.0005


def core(levels):
    low = []
    for i, level in enumerate(levels[:11]):
        k = next((k for k in range(8) if level <= RAP[k] - DLL[k][i]), 7)
        low.append(10 ** ((level + DLL[k][i]) / 10))
    bands = [10 * np.log10(sum(low[a:b])) for a, b in ((0, 6), (6, 9), (9, 11))] + list(levels[11:])
    found = []
    for level, a0, ltq, dcb in zip(bands, A0, LTQ, DCB):
        le = level - a0
        n = 0.0635 * 10 ** (0.025 * ltq) * ((0.75 + 0.25 * 10 ** ((le - dcb - ltq) / 10)) ** 0.25 - 1) if le > ltq else 0.0
        found.append(max(0.0, n))
    found[0] *= min(1.0, 0.4 + 0.32 * found[0] ** 0.2)
    return found + [0.0]


def pattern(levels):
    cores = core(levels)
    value, out = 0.0, []
    for i in range(round(24 / STEP)):
        z = (i + 0.5) * STEP
        band = next(b for b, top in enumerate(ZUP) if z < top)
        floor = cores[band]
        if value > floor:
            row = next(r for r, limit in enumerate(RNS) if value > limit)
            value = max(floor, value - USL[row][min(max(band - 1, 0), 7)] * STEP)
        else:
            value = floor
        out.append(value)
    return np.array(out)


def bass_sones(levels):
    specific = pattern(levels)
    return float(specific[: round(BASS_BARK / STEP)].sum() * STEP)


def cut(levels, db):
    return [level - db if i <= 10 else level for i, level in enumerate(levels)]


RIG = [65.29, 71.52, 74.88, 75.71, 75.64, 75.66, 76.13, 76.72, 77.08, 77.19, 77.20, 77.19, 77.17, 77.06, 77.02, 77.16, 77.10, 76.87, 76.79, 76.57, 76.48, 76.40, 76.07, 76.00, 76.29, 76.80, 77.36, 77.40]
cases = [('flat pink noise', [70.0] * 28), ('flat pink noise', [80.0] * 28), ('the lesson’s rig in front', RIG)]
print(json.dumps({
    'title': 'Independent digits: loudness of the bass before and after a cut of 10 dB',
    'source': f'bass-cut-digits.py beside this file, NumPy {np.__version__}, Python {platform.python_version()}',
    'date': str(date.today()),
    'notes': 'ISO 532-1, free field; bass below 2.49 Bark; sones',
    'cases': [
        {'signal': name, 'levelsDb': levels, 'fromSones': bass_sones(levels), 'toSones': bass_sones(cut(levels, 10))}
        for name, levels in cases
    ],
}, indent=1, ensure_ascii=False))
