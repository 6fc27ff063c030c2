"""Independent digits for the binomial test of the blind comparison: scipy.stats.binom.sf.

Run: python3 binomial-digits.py > binomial-digits.json
"""
import json
import platform
from datetime import date

import scipy
from scipy.stats import binom

CASES = (
    [(trials, right, 0.5) for trials in (5, 8, 12, 20) for right in range(trials + 1)]
    + [(8, 7, 0.75), (20, 15, 0.75), (20, 15, 0.9), (100, 59, 0.5), (100, 99, 0.99), (100, 80, 0.3)]
)

print(
    json.dumps(
        {
            'title': 'Independent digits: upper tail of the binomial distribution',
            'source': f'binomial-digits.py beside this file, SciPy {scipy.__version__}, Python {platform.python_version()}',
            'date': date.today().isoformat(),
            'tails': [
                {'trials': trials, 'atLeast': right, 'chance': chance, 'value': float(binom.sf(right - 1, trials, chance))}
                for trials, right, chance in CASES
            ],
        },
        indent=2,
    )
)
