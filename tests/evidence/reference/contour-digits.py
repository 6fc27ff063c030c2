"""Independent digits for equal-loudness contours between the frequencies of the standard's table.

The three parameters of equal-loudness.json are drawn over the logarithm of frequency by scipy.interpolate.CubicSpline with
its ends "not-a-knot"; the formula of ISO 226:2023 is then evaluated with NumPy.
Run: python3 contour-digits.py > contour-digits.json
"""
import json
import platform
from datetime import date
from pathlib import Path

import numpy as np
import scipy
from scipy.interpolate import CubicSpline

TABLE = json.loads((Path(__file__).parent / 'equal-loudness.json').read_text())['table']
X = np.log([row['frequencyHz'] for row in TABLE])
ALPHA, TRANSFER, THRESHOLD = (
    CubicSpline(X, [row[key] for row in TABLE], bc_type='not-a-knot') for key in ('alpha', 'transferDb', 'thresholdDb')
)


def contour_db(phon, frequency_hz):
    x = np.log(frequency_hz)
    alpha, transfer, threshold = float(ALPHA(x)), float(TRANSFER(x)), float(THRESHOLD(x))
    loud = 4e-10 ** (0.3 - alpha) * (10 ** (0.03 * phon) - 10**0.072)
    return 10 / alpha * np.log10(loud + 10 ** (alpha * (threshold + transfer) / 10)) - transfer


print(
    json.dumps(
        {
            'title': 'Independent digits: equal-loudness contours between the tabulated frequencies',
            'source': f'contour-digits.py beside this file, SciPy {scipy.__version__}, NumPy {np.__version__}, '
            f'Python {platform.python_version()}',
            'date': date.today().isoformat(),
            'points': [
                {'phon': phon, 'frequencyHz': frequency_hz, 'levelDb': contour_db(phon, frequency_hz)}
                for phon in (20, 60, 90)
                for frequency_hz in (22, 45, 90, 225, 700, 1100, 1413, 2818, 3700, 9000, 11500)
                if phon < 90 or frequency_hz <= 4000
            ],
        },
        indent=2,
    )
)
