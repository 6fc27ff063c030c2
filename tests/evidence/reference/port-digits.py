"""Independent digits for a port in the back of a box.

share: the air of a box (compliance) and of its port (mass, friction) integrated in time until they swing evenly, driven by a
cone whose flow is a cosine; the flow of the port over that of the cone is read off one period.
box: the piston of page-boxes.py beside this file on the box of the demo top, and a second one where the port is: a disc on the
rear face, collocated there (nothing is mirrored). Both are summed with the share in closed form. Two meshes are solved; `scatter` is
how far they are apart. Levels of |p|/(omega rho), 1 m3/s from the cone, dB re 1/m. Time factor e^{+jwt}.
Nothing is shared with the code under test.
Run: python3 port-digits.py > port-digits.json   (a minute or two)
"""
import importlib.util
import json
import pathlib
import platform
import sys
import numpy as np
import scipy
from scipy.integrate import solve_ivp

spec = importlib.util.spec_from_file_location('page_boxes', pathlib.Path(__file__).with_name('page-boxes.py'))
boxes = importlib.util.module_from_spec(spec)
spec.loader.exec_module(boxes)

TUNING, QUALITY = 55.0, 7.0
HOLE = (0.1, 0.05)  # height above the middle, radius


def share_in_time(x, quality):
    """Tuning 1 rad/s, compliance 1, mass 1, friction 1/quality."""
    def step(t, state):
        pressure, port = state
        return [-(np.cos(x * t) + port), pressure - port / quality]
    settle = np.ceil(60 * quality * x / (2 * np.pi)) * 2 * np.pi / x
    t = settle + np.linspace(0, 2 * np.pi / x, 513)[:-1]
    flow = solve_ivp(step, (0, t[-1]), [0, 0], method='DOP853', rtol=1e-11, atol=1e-12, t_eval=t).y[1]
    return 2 * np.mean(flow * np.exp(-1j * x * (t - settle)))


class Rear(boxes.Box):
    """The same box with one disc, on the rear face."""

    def __init__(self, name, fine):
        self.depth = boxes.BOXES[name][2]
        super().__init__(name, fine)
        self.discs = [HOLE]

    def share(self, points, k):
        return super().share(points + np.array([0, 0, self.depth]), k)


PLACES = {'front': (0, 0.3, 2.0), 'beside': (2.0, 0.3, -0.15), 'behind': (0, 0.3, -2.3), 'close behind': (0.2, 0.1, -0.7)}
FAR = 2000.0


def levels(fine, f):
    cone, hole = boxes.Box('top', fine), Rear('top', fine)
    x = f / TUNING
    share = -1 / (1 - x**2 + 1j * x / QUALITY)
    at = lambda places: cone.pressure(places, f) + share * hole.pressure(places, f)
    out = dict(zip(PLACES, boxes.db(at(list(PLACES.values())))))
    front, beside, behind = boxes.db(at([[0, 0, FAR], [FAR, 0, 0], [0, 0, -FAR]]))
    out['far beside re front'], out['far behind re front'] = beside - front, behind - front
    out['hole alone behind re front'] = float(np.subtract(*boxes.db(hole.pressure([[0, 0, -FAR], [0, 0, FAR]], f))))
    return out


if __name__ == '__main__':
    rounded = lambda v: float(f'{v:.5g}')
    shares = [(x, q) for q in (7.0, 20.0) for x in (0.1, 0.5, 1.0, 2**0.5, 2.0, 4.0)]
    result = {
        'title': 'A port in the back: its share of the flow, and the demo top with one',
        'source': f'port-digits.py beside this file, NumPy {np.__version__}, SciPy {scipy.__version__}, Python {platform.python_version()}',
        'date': '2026-11-29',
        'notes': 'c = 343.2 m/s; box 0.32 x 0.56 x 0.30 m, cone of radius 0.105 at -0.135, hole of radius 0.05 at 0.1 in the rear; tuning 55 Hz, quality 7',
        'share': [{'x': x, 'quality': q, 're': rounded(s.real), 'im': rounded(s.imag)} for x, q in shares for s in [share_in_time(x, q)]],
        'places': {name: list(place) for name, place in PLACES.items()},
        'box': [],
    }
    for f in (31.5, 55.0, 80.0, 125.0, 500.0):
        coarse, fine = levels(12, f), levels(17, f)
        result['box'].append({'frequencyHz': f, 'value': {k: rounded(v) for k, v in fine.items()},
                              'scatter': {k: rounded(abs(v - coarse[k])) for k, v in fine.items()}})
    json.dump(result, sys.stdout, indent=2)
    print()
