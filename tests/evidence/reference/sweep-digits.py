"""Independent digits for sweeps and what comes of them, by SciPy.

chirp: values of scipy.signal.chirp(method="logarithmic") at some moments; it is a cosine, so phi = -90 degrees makes the sine.
filter: a chain of second-order sections (a high-pass as a loudspeaker has, a dip, a lift, a low-pass), and the mean of its |H|^2 over third octaves for pink noise from 4000 lines a band (scipy.signal.sosfreqz).
Run: python3 sweep-digits.py > sweep-digits.json
"""
import json
import platform
from datetime import date

import numpy as np
import scipy
from scipy import signal

FS = 48000
F1, F2, T = 20.0, 20000.0, 8.0

TIMES = [0.5, 1.0, 2.0, 4.0, 5.5, 7.0]


def peaking(f, q, gain_db):
    """Second-order peak or dip (Bristow-Johnson's formulas, typed in here)."""
    a = 10 ** (gain_db / 40)
    w = 2 * np.pi * f / FS
    alpha = np.sin(w) / (2 * q)
    b = [1 + alpha * a, -2 * np.cos(w), 1 - alpha * a]
    d = [1 + alpha / a, -2 * np.cos(w), 1 - alpha / a]
    return [x / d[0] for x in b] + [x / d[0] for x in d]


SOS = np.vstack([
    signal.butter(4, 45, "highpass", fs=FS, output="sos"),
    peaking(118, 4, -12),
    peaking(900, 1.2, 6),
    signal.butter(2, 5000, "lowpass", fs=FS, output="sos"),
])


def pink_level(lo, hi):
    f = np.linspace(lo, hi, 4000)
    _, h = signal.sosfreqz(SOS, worN=f, fs=FS)
    return float(10 * np.log10(np.sum(np.abs(h) ** 2 / f) / np.sum(1 / f)))


centres = [10 ** (i / 10) for i in range(16, 42)]
print(json.dumps({
    "title": "Independent digits: an exponential sweep, and a filter that it is to find again",
    "source": f"sweep-digits.py beside this file, SciPy {scipy.__version__}, NumPy {np.__version__}, Python {platform.python_version()}",
    "date": date.today().isoformat(),
    "chirp": [
        {"timeS": t, "value": float(signal.chirp(np.array([t]), F1, T, F2, method="logarithmic", phi=-90)[0])} for t in TIMES
    ],
    "sos": SOS.tolist(),
    "thirdOctavesDb": [{"centreHz": c, "levelDb": pink_level(c * 10 ** -0.05, c * 10 ** 0.05)} for c in centres],
}, indent=1))
