"""Independent digits for direct sound against a hall's.

Distances: the energies of all images of the lattice, one by one, up to a path at which the walls have left next to nothing; no statistics, no early
and no late part. The source sends ((1 + cos angle)/2)^n of its axis pressure, n = 4 or 0. From near to far in steps of 0.5 % the first distance ahead
at which the hall has as much energy as the direct sound, over the octave about 2 kHz in 24 lines, pink.
Decay times: Eyring by hand from the coefficients as the handbook has them, typed in again here; air by ISO 9613-1.
Run: python3 hall-balance-digits.py > hall-balance-digits.json
"""
import json
import platform
from datetime import date

import numpy as np

C = 343.2
SIZE = (11.0, 4.6, 18.0)  # width, height, length
VOLUME = SIZE[0] * SIZE[1] * SIZE[2]
SURFACE = 2 * (SIZE[0] * SIZE[1] + SIZE[1] * SIZE[2] + SIZE[0] * SIZE[2])


def air_energy_per_m(f, t=293.15, humidity=50.0):
    """ISO 9613-1 at 101.325 kPa, as energy attenuation, 1/m."""
    psat = 10 ** (-6.8346 * (273.16 / t) ** 1.261 + 4.6151)
    h = humidity * psat
    oxygen = 24 + 4.04e4 * h * (0.02 + h) / (0.391 + h)
    ratio = t / 293.15
    nitrogen = ratio ** -0.5 * (9 + 280 * h * np.exp(-4.170 * (ratio ** (-1 / 3) - 1)))
    db = 8.686 * f * f * (
        1.84e-11 * ratio ** 0.5
        + ratio ** -2.5 * (
            0.01275 * np.exp(-2239.1 / t) / (oxygen + f * f / oxygen)
            + 0.1068 * np.exp(-3352.0 / t) / (nitrogen + f * f / nitrogen)
        )
    )
    return db / (10 * np.log10(np.e))


def images(listener, source, alpha, within):
    """Offsets from the listener to all images of the source, the energy left by the walls, and the way each image faces along z."""
    axes = []
    for at, to, length, low in zip(listener, source, SIZE, (-SIZE[0] / 2, 0.0, 0.0)):
        n = np.arange(-int(within / (2 * length)) - 2, int(within / (2 * length)) + 3)
        same = 2 * n * length + (to - at)
        turned = 2 * n * length + (2 * low - to - at)
        axes.append((
            np.concatenate([same, turned]),
            np.concatenate([2 * abs(n), abs(2 * n - 1)]),
            np.concatenate([np.ones(len(n)), -np.ones(len(n))]),
        ))
    x, y, z = np.meshgrid(*[a[0] for a in axes], indexing='ij')
    hits = axes[0][1][:, None, None] + axes[1][1][None, :, None] + axes[2][1][None, None, :]
    facing = np.broadcast_to(axes[2][2][None, None, :], x.shape)
    r = np.sqrt(x * x + y * y + z * z)
    use = r < within
    # From the image to the listener along the way that the image faces.
    cos = -z[use] / r[use] * facing[use]
    return r[use], (1 - alpha) ** hits[use], cos


def balance_m(alpha, within, n):
    source = (-2.5, 1.9, 3.0)
    lines = [10 ** (3.3 + 0.3 * ((i + 0.5) / 24 - 0.5)) for i in range(24)]
    air = [air_energy_per_m(f) for f in lines]
    distance = 0.5
    while distance < 14:
        listener = (source[0], 1.6, source[2] + distance)
        r, walls, cos = images(listener, source, alpha, within)
        sent = walls * ((1 + cos) / 2) ** (2 * n) / r**2
        first = int(np.argmin(r))
        direct = hall = 0.0
        for m in air:
            # What the air takes on the way of the direct sound is left out of all, as where a rig is set flat.
            energy = sent * np.exp(-m * (r - r[first]))
            direct += energy[first]
            hall += energy.sum() - energy[first]
        if hall >= direct:
            return distance
        distance *= 1.005
    raise SystemExit('no balance')


HANDBOOK = {  # 125 Hz, 2 kHz
    'wood on studs': (0.18, 0.08),
    'stage floor': (0.10, 0.06),
    'cotton curtains': (0.30, 0.59),
    'brick': (0.03, 0.05),
    'plasterboard ceiling': (0.20, 0.04),
    'people on chairs and their floor': (0.16, 0.81),
}
# left, right, behind, opposite, ceiling; people cover 150 m2 of the floor
STATES = {
    'timber': (['wood on studs'] * 5, False),
    'packed': (['wood on studs'] * 5, True),
    'curtains': (['cotton curtains'] * 3 + ['wood on studs'] * 2, False),
    'brick': (['brick'] * 4 + ['plasterboard ceiling'], False),
}


def decay_rows():
    w, h, l = SIZE
    areas = (l * h, l * h, w * h, w * h, w * l)
    rows = []
    for state, (surfaces, people) in STATES.items():
        for which, f in enumerate((125.0, 2000.0)):
            taken = sum(area * HANDBOOK[name][which] for area, name in zip(areas, surfaces))
            bare = w * l - (150 if people else 0)
            taken += bare * HANDBOOK['stage floor'][which] + (w * l - bare) * HANDBOOK['people on chairs and their floor'][which]
            mean = taken / SURFACE
            # The mid-band frequency itself: 125 Hz is a name.
            exact = 10 ** (2.1 if f == 125 else 3.3)
            area = -SURFACE * np.log(1 - mean) + 4 * air_energy_per_m(exact) * VOLUME
            rows.append({'state': state, 'frequencyHz': f, 'meanAbsorption': mean, 'decayS': 24 * np.log(10) * VOLUME / (C * area)})
    return rows


print(json.dumps({
    'title': 'Independent digits: direct sound against a hall’s, and decay times',
    'source': f'hall-balance-digits.py beside this file, NumPy {np.__version__}, Python {platform.python_version()}',
    'date': str(date.today()),
    'notes': 'hall 11 m wide, 4.6 m high, 18 m long; source 1.9 m high, 3 m in front of the wall behind, 2.5 m left of the middle; ears 1.6 m high; '
             'same absorption everywhere',
    'distances': [
        {'alpha': alpha, 'withinM': within, 'exponent': n, 'distanceM': balance_m(alpha, within, n)}
        for alpha, within in ((0.08, 500.0), (0.25, 200.0)) for n in (4, 0)
    ],
    'decays': decay_rows(),
}, indent=1, ensure_ascii=False))
