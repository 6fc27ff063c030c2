"""Independent digits for the levels of a recording: third octaves by time-domain filters of SciPy, A and C by the formulas of IEC 61672-1.
The signal is 60 s at 48 kHz: uniform random numbers of the generator mulberry32 (seed 1), less 0.5, through y[n] = 0.98 y[n-1] + 0.02 x[n],
plus 0.02 of the unfiltered number, so that both ends of the spectrum have something in them.
Each band: Butterworth band-pass of order 8 (SciPy's butter, bilinear, the corners prewarped) between the band edges of IEC 61260-1, mean square.
Where a band is narrow against the sample rate the signal is taken down to 3 kHz first (SciPy's decimate by 4 and 4, zero-phase FIR).
Run: python3 recording-bands-digits.py > recording-bands-digits.json
"""
import json
import platform
from datetime import date

import numpy as np
import scipy
from scipy import signal

RATE = 48000
COUNT = 60 * RATE
MASK = 0xFFFFFFFF


def uniform(count, seed):
    out = np.empty(count)
    state = seed
    for i in range(count):
        state = (state + 0x6D2B79F5) & MASK
        t = ((state ^ (state >> 15)) * (state | 1)) & MASK
        t = ((t + (((t ^ (t >> 7)) * (t | 61)) & MASK)) & MASK) ^ t
        out[i] = ((t ^ (t >> 14)) & MASK) / 2**32
    return out


white = uniform(COUNT, 1) - 0.5
sound = signal.lfilter([0.02], [1, -0.98], white) + 0.02 * white

slow = signal.decimate(signal.decimate(sound, 4, ftype='fir'), 4, ftype='fir')
bands = []
for index in range(14, 43):
    centre = 10 ** (index / 10)
    low, high = centre * 10 ** -0.05, centre * 10**0.05
    x, rate = (slow, RATE / 16) if centre < 500 else (sound, RATE)
    sos = signal.butter(8, [low, high], 'bandpass', fs=rate, output='sos')
    y = signal.sosfilt(sos, x)[int(rate):]
    bands.append({'centreHz': centre, 'levelDb': 10 * np.log10(np.mean(y**2))})

spectrum = np.fft.rfft(sound)
f = np.fft.rfftfreq(COUNT, 1 / RATE)
power = 2 * np.abs(spectrum) ** 2 / COUNT**2
power[0] = 0
f1, f2, f3, f4 = 20.598997, 107.65265, 737.86223, 12194.217
a = f4**2 * f**4 / ((f**2 + f1**2) * np.sqrt(f**2 + f2**2) * np.sqrt(f**2 + f3**2) * (f**2 + f4**2))
c = f4**2 * f**2 / ((f**2 + f1**2) * (f**2 + f4**2))
print(json.dumps({
    'title': 'Independent digits: third octaves, A and C levels of one minute of noise',
    'source': f'recording-bands-digits.py beside this file, SciPy {scipy.__version__}, NumPy {np.__version__}, Python {platform.python_version()}',
    'date': str(date.today()),
    'notes': 'dB re 1 (mean square)',
    'bands': [{'centreHz': round(b['centreHz'], 4), 'levelDb': round(float(b['levelDb']), 4)} for b in bands],
    'aDb': round(float(10 * np.log10(np.sum(power * a**2)) + 1.9997), 4),
    'cDb': round(float(10 * np.log10(np.sum(power * c**2)) + 0.0619), 4),
}, indent=1))
