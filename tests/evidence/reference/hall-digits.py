"""Independent digits for sound in a box-shaped hall.

Images: the plain sum over the lattice, image by image, for point sources and reflection factors sqrt(1 - alpha), with no
resonances in it. Images are left out whose factor over distance is below 1e-5 (-100 dB); a second, coarser limit shows what
that is good for.
Run: python3 hall-digits.py > hall-digits.json  (a few minutes)
"""
import json
import platform
from datetime import date

import numpy as np

C, RHO = 343.2, 101325 / (287.058 * 293.15)
SIZE = np.array([11.0, 4.6, 18.0])  # width x, height y, length z
LOW = np.array([-5.5, 0.0, 0.0])


def axis_images(listener, source, low, length, r_low, r_high, within):
    most = int(np.ceil(within / (2 * length))) + 1
    n = np.arange(-most, most + 1)
    u, s = listener - low, source - low
    off = np.concatenate([u + 2 * n * length - s, -u + 2 * n * length - s])
    low_hits = np.concatenate([abs(n), np.where(n > 0, n - 1, abs(n) + 1)])
    high_hits = np.concatenate([abs(n), abs(n)])
    return off, r_low ** low_hits * r_high ** high_hits


def images(sources, alphas, listener, frequency, limit):
    """alphas: [[x low, x high], [y low, y high], [z low, z high]]; sources: (position, complex drive)."""
    k = 2 * np.pi * frequency / C
    reflection = np.sqrt(1 - np.array(alphas))
    within = 1 / limit if np.any(reflection == 1) else 2000.0
    total = 0j
    for position, drive in sources:
        axes = []
        for i in range(3):
            off, factor = axis_images(listener[i], position[i], LOW[i], SIZE[i], *reflection[i], min(within, 2000.0))
            keep = factor / np.maximum(abs(off), 1e-9) > limit
            axes.append((off[keep], factor[keep]))
        (x, fx), (y, fy), (z, fz) = axes
        part = 0j
        for xi, fi in zip(x, fx):
            r = np.sqrt(xi * xi + y[:, None] ** 2 + z[None, :] ** 2)
            w = fi * fy[:, None] * fz[None, :] / r
            use = w > limit
            part += np.sum(w[use] * np.exp(-1j * k * r[use]))
        total += drive * part
    return 1j * 2 * np.pi * frequency * RHO / (4 * np.pi) * total


def image_rows():
    source = np.array([1.3, 0.8, 2.1])
    yaw, spacing = 0.4, 1.0
    ahead = np.array([np.sin(yaw), 0, np.cos(yaw)]) * spacing / 2
    halls = {
        'even 0.3': [[0.3, 0.3]] * 3,
        'even 0.15': [[0.15, 0.15]] * 3,
        'six surfaces': [[0.18, 0.25], [0.22, 0.35], [0.1, 0.4]],
    }
    places = [(0.0, 1.7, 8.0), (-4.0, 1.2, 15.0), (5.0, 1.6, 0.5), (1.5, 1.5, 4.0)]
    rows = []
    for hall, alphas in halls.items():
        for frequency in (35.0, 60.0, 85.0):
            for kind in ('point', 'pair'):
                if kind == 'point':
                    sources = [(source, 1.0)]
                else:
                    delay = np.exp(-2j * np.pi * frequency * spacing / C)
                    sources = [(source + ahead, 1.0), (source - ahead, -delay)]
                for place in places:
                    fine = images(sources, alphas, np.array(place), frequency, 1e-5)
                    coarse = images(sources, alphas, np.array(place), frequency, 4e-5)
                    rows.append({
                        'hall': hall, 'alphas': alphas, 'source': kind, 'frequencyHz': frequency, 'listener': place,
                        're': fine.real, 'im': fine.imag, 'coarseDifferencePa': abs(fine - coarse),
                    })
    return rows


print(json.dumps({
    'title': 'Independent digits: sound in a box-shaped hall by images',
    'source': f'hall-digits.py beside this file, NumPy {np.__version__}, Python {platform.python_version()}',
    'date': str(date.today()),
    'notes': 'hall 11 m wide (x, -5.5 to 5.5), 4.6 m high (y), 18 m long (z, from 0); point source of 1 m3/s at (1.3, 0.8, 2.1), or two of them 1 m apart about it, yaw 0.4 rad, '
             'the rear one delayed by 1 m/c and inverted; c = 343.2 m/s, air absorption left out; Pa, time factor e^{+jwt}; '
             'alphas are [low, high] along x, y, z',
    'images': image_rows(),
}, indent=1))
