"""Independent digits for what the pages say of a horn, of a pair of subs left and right, and of a row of drivers.

Horn: the aperture integral of horn-mouth-digits.py by Gauss-Legendre over the whole width, and the beam found by walking out
from the axis in steps of 0.1 degrees to the first direction 6.0206 dB down. Pair: two points on hard ground, pressures summed,
minima and maxima along the row by a dense search; in step where the phase of one against the other is a whole turn. Row: the sum
of its drivers' phases. Nothing is shared with the code under test.
Run: python3 page-digits.py > page-digits.json
"""
import json
import platform
import numpy as np
import scipy
from scipy.optimize import brentq

C = 343.2  # m/s


def beamwidth(mouth, coverage_deg, frequency):
    k = 2 * np.pi * frequency / C
    apex = mouth / 2 / np.tan(np.radians(coverage_deg) / 2)
    x, w = np.polynomial.legendre.leggauss(160)
    x, w = x * mouth / 2, w * mouth / 2
    rho = np.sqrt(apex**2 + x**2)
    moving = w * (apex / rho) ** 1.5 * np.exp(-1j * k * (rho - apex))
    angles = np.radians(np.arange(0, 90.1, 0.1))
    level = 20 * np.log10(np.abs(np.exp(1j * k * np.outer(np.sin(angles), x)) @ moving / moving.sum()))
    under = np.flatnonzero(level <= -20 * np.log10(2))
    if len(under) == 0:
        return None
    i = under[0]
    part = (level[i - 1] + 20 * np.log10(2)) / (level[i - 1] - level[i])
    return float(2 * np.degrees(angles[i - 1] + part * (angles[i] - angles[i - 1])))


def turn(mouth, coverage, wanted, low, high):
    """The frequency between two where the beam is so wide."""
    return float(brentq(lambda f: (beamwidth(mouth, coverage, f) or 180) - wanted, low, high, xtol=0.1))


def pair(x, frequency, spacing=6.0, ahead=5.0, ear=1.6):
    k = 2 * np.pi * frequency / C
    r = [np.sqrt((x - side * spacing / 2) ** 2 + ahead**2 + ear**2) for side in (-1, 1)]
    return [np.exp(-1j * k * d) / d for d in r], r


def extremes(frequency):
    x = np.linspace(0.02, 12, 120_000)
    (a, b), _ = pair(x, frequency)
    level = np.abs(a + b)
    i = np.arange(1, len(x) - 1)
    weak = x[i[(level[i] < level[i - 1]) & (level[i] < level[i + 1])]]
    peak = x[i[(level[i] > level[i - 1]) & (level[i] > level[i + 1])]]
    in_step = brentq(lambda s: (lambda r: r[0] - r[1])(pair(s, frequency)[1]) - C / frequency, 0, 200) if C / frequency < 6 else None
    return {'weakM': float(weak[0]), 'peakM': float(peak[0]), 'inStepM': in_step}


def up_db(count, spacing, frequency):
    phases = np.exp(2j * np.pi * frequency / C * spacing * np.arange(count))
    return float(20 * np.log10(abs(phases.sum()) / count))


wide = np.array([beamwidth(0.26, 90, v) for v in np.arange(2200, 16000, 50.0)])
high = np.arange(2600, 16000, 50.0)
tall = np.array([beamwidth(0.17, 60, v) for v in high])
print(json.dumps({
    'title': 'Digits of the pages: beams of a horn, lanes of a pair, a row straight up',
    'source': f'page-digits.py beside this file, NumPy {np.__version__}, SciPy {scipy.__version__}, Python {platform.python_version()}',
    'date': '2026-11-29',
    'notes': 'c = 343.2 m/s; horn mouths in an endless wall; pair 6 m apart on hard ground, ears 1.6 m up, 5 m in front',
    'horn': {
        'across': {'mouthM': 0.26, 'coverageDeg': 90, 'at1800HzDeg': beamwidth(0.26, 90, 1800), 'at2000HzDeg': beamwidth(0.26, 90, 2000),
                   'narrowToHz': turn(0.26, 90, 72, 2100, 2300), 'widestAbove2200HzDeg': float(wide.max())},
        'up': {'mouthM': 0.17, 'coverageDeg': 60, 'at1800HzDeg': beamwidth(0.17, 60, 1800),
               'narrowFromHz': turn(0.17, 60, 48, 3000, 3700), 'narrowestDeg': float(tall.min()),
               'narrowToHz': turn(0.17, 60, 48, 5200, 5500)},
    },
    'lanes': {'63': extremes(63), '80': extremes(80)},
    'row': {'count': 8, 'spacingM': 0.1125, 'upAt095Db': up_db(8, 0.1125, 0.95 * C / 0.1125), 'upAt2900HzDb': up_db(8, 0.1125, 2900),
            'firstNullUpHz': float(brentq(lambda v: np.sin(8 * np.pi * 0.1125 * v / C), 2500, 2800))},
}, indent=2))
