"""Independent digits for what the pages say of boxes: the rigs' bass behind, on hard ground and before a wall, and lesson 2.

A piston on a rigid box by collocation: on every panel p/2 = sum of p dG/dn + the piston's own share, and at points inside the
box the same with 0 on the left; least squares. The static part of dG/dn is the panel's solid angle in closed form, the rest by
Gauss; the share of a disc is a line integral along its rim. Two meshes are solved; `scatter` is how far they are apart.
Mirror planes of the box are used. Pistons share one unit of volume velocity. Time factor e^{+jwt}.

Rigs are made of boxes as the pages say: every way is level and in step where the rig is set flat, crossovers are Butterworth
and Linkwitz-Riley of order 4, and ground and wall are mirror images of the listener. Bass is 40 to 160 Hz by third octaves of
pink noise. All lengths in m. Nothing is shared with the code under test.
Run: python3 page-boxes.py > page-boxes.json   (some minutes)
"""
import json
import platform
import numpy as np
import scipy
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

C = 343.2  # m/s
EAR, FLAT_AT = 1.6, 4.0

BOXES = {  # width, height, depth, height of the front's middle, [(driver y, radius)]
    'sub': (0.56, 0.62, 0.66, 0.31, [(0.0, 0.19)]),
    'top': (0.32, 0.56, 0.30, 1.9, [(-0.135, 0.105)]),
    'compact': (0.26, 0.42, 0.24, 1.6, [(-0.1, 0.083)]),
    'base': (0.42, 0.46, 0.46, 0.23, [(0.0, 0.13)]),
    'column': (0.11, 0.90, 0.12, 1.6, [(-0.39375 + 0.1125 * i, 0.032) for i in range(8)]),
    'lesson': (0.50, 0.875, 0.46875, 0.0, [(0.0, 0.1640625)]),
}
RIGS = {  # box, high-pass (order 4), low-pass
    'top-over-sub': [('sub', ('b', 35), ('lr', 100)), ('top', ('lr', 100), ('lr', 1800))],
    'column-on-base': [('base', ('b', 45), ('lr', 200)), ('column', ('lr', 200), None)],
    'compact-two-way': [('compact', ('b', 65), ('lr', 2200))],
}
DEPTH = {'top-over-sub': 0.66, 'column-on-base': 0.46, 'compact-two-way': 0.24}


class Box:
    """A box with its front face in z = 0 (middle at the origin), at one fineness."""

    def __init__(self, name, fine):
        w, h, d, _, discs = BOXES[name]
        self.discs = discs
        flip_y = sorted(y for y, _ in discs) == sorted(-y for y, _ in discs)
        self.mirrors = [np.array([sx, sy, 1.0]) for sx in (1, -1) for sy in ((1, -1) if flip_y else (1,))]
        size, middle = np.array([w, h, d]), np.array([0, 0, -d / 2])
        rows = []
        counts = [2 * max(2, int(round(fine * s / max(size) / 2))) for s in size]
        grade = lambda n: (lambda t: t - 0.75 * np.sin(2 * np.pi * t) / (2 * np.pi) - 0.5)(np.arange(n + 1) / n)
        for axis in range(3):
            a, b = [i for i in range(3) if i != axis]
            ca, cb = size[a] * grade(counts[a]), size[b] * grade(counts[b])
            for sign in (1, -1):
                for i in range(counts[a]):
                    for j in range(counts[b]):
                        c, half, n = np.zeros(3), np.zeros(3), np.zeros(3)
                        c[a], c[b], c[axis] = (ca[i] + ca[i + 1]) / 2, (cb[j] + cb[j + 1]) / 2, sign * size[axis] / 2
                        half[a], half[b], n[axis] = (ca[i + 1] - ca[i]) / 2, (cb[j + 1] - cb[j]) / 2, sign
                        if c[0] > 0 and (c[1] > 0 or not flip_y):
                            rows.append((c + middle, half, n))
        self.c, self.half, self.n = (np.array(x) for x in zip(*rows))
        rng = np.random.default_rng(7)
        self.inside = (rng.random((24, 3)) - 0.5) * 0.8 * size + middle
        self.axis = np.argmax(np.abs(self.n), axis=1)
        self.kept = {}

    def double(self, points, k):
        """Integral of dG/dn over every panel and its mirror images, at points; flat against a panel it is 0."""
        total = np.zeros((len(points), len(self.c)), complex)
        nodes, weights = np.polynomial.legendre.leggauss(2)
        for m in self.mirrors:
            x = points * m
            for axis in range(3):
                sel = np.where(self.axis == axis)[0]
                a, b = [i for i in range(3) if i != axis]
                c, h, sign = self.c[sel], self.half[sel], self.n[sel, axis]
                dz = (c[None, :, axis] - x[:, None, axis]) * sign
                flat = np.abs(dz) < 1e-12
                solid = 0
                for sa in (1, -1):
                    for sb in (1, -1):
                        pa = c[None, :, a] + sa * h[None, :, a] - x[:, None, a]
                        pb = c[None, :, b] + sb * h[None, :, b] - x[:, None, b]
                        z = np.where(flat, 1.0, dz)
                        solid = solid + sa * sb * np.arctan(pa * pb / (z * np.sqrt(pa**2 + pb**2 + z**2)))
                part = -np.where(flat, 0, solid) / (4 * np.pi) + 0j
                for u, wu in zip(nodes, weights):
                    for v, wv in zip(nodes, weights):
                        da = c[None, :, a] + u * h[None, :, a] - x[:, None, a]
                        db = c[None, :, b] + v * h[None, :, b] - x[:, None, b]
                        r = np.sqrt(da**2 + db**2 + dz**2)
                        r = np.where(r < 1e-9, 1, r)
                        rest = -((1 + 1j * k * r) * np.exp(-1j * k * r) - 1) * dz / (4 * np.pi * r**3)
                        part += np.where(flat, 0, rest) * wu * wv * (h[:, a] * h[:, b])[None]
                total[:, sel] += part
        return total

    def share(self, points, k):
        """Integral of G over the discs, each with its share of one unit of volume velocity, without the factor jwρ."""
        t = (np.arange(2400) + 0.5) * 2 * np.pi / 2400
        total = np.zeros(len(points), complex)
        area = sum(np.pi * r**2 for _, r in self.discs)
        for y, radius in self.discs:
            rx = radius * np.cos(t)[None] - points[:, None, 0]
            ry = y + radius * np.sin(t)[None] - points[:, None, 1]
            z = np.abs(points[:, None, 2])
            dx, dy = -radius * np.sin(t)[None], radius * np.cos(t)[None]
            r2 = rx**2 + ry**2
            turn = (rx * dy - ry * dx) / r2 * (2 * np.pi / 2400)
            rho = np.sqrt(r2 + z**2)
            # (e^{-jkz} − e^{-jkρ})/(jk), steady for small k(ρ − z)
            total += (np.exp(-1j * k * (rho + z) / 2) * (rho - z) * np.sinc(k * (rho - z) / (2 * np.pi)) * turn).sum(1)
        return total / (4 * np.pi * area)

    def solved(self, f):
        if f not in self.kept:
            k = 2 * np.pi * f / C
            matrix = np.vstack([0.5 * np.eye(len(self.c)) - self.double(self.c, k), -self.double(self.inside, k)])
            share = np.concatenate([self.share(self.c, k), self.share(self.inside, k)])
            self.kept[f] = np.linalg.solve(matrix.conj().T @ matrix, matrix.conj().T @ share)
        return self.kept[f]

    def pressure(self, points, f):
        """Pressure over jwρ at points outside, for one unit of volume velocity."""
        points, k = np.atleast_2d(points).astype(float), 2 * np.pi * f / C
        return self.double(points, k) @ self.solved(f) + self.share(points, k)


def db(x):
    return 20 * np.log10(np.abs(x))


FAR = 2000.0
FRONT, SIDE, REAR = np.array([0, 0, FAR]), np.array([FAR, 0, 0]), np.array([0, 0, -FAR])


def rear_db(box, f, y=0.0):
    front, rear = box.pressure([[0, y, FAR], [0, y, -FAR]], f)
    return db(rear / front)


def shadow_hz(box, low, high):
    return brentq(lambda f: rear_db(box, f) + 6, low, high, xtol=0.05)


# ---- lesson 2
def band_edges(nominal):
    centre = 1000 * 10 ** (round(10 * np.log10(nominal / 1000)) / 10)
    return centre * 10**-0.05, centre * 10**0.05


def lesson_levels(box, frequencies):
    rows = []
    for f in frequencies:
        front, side, rear = box.pressure([FRONT, SIDE, REAR], f)
        rows.append((abs(side / front) ** 2, abs(rear / front) ** 2))
    return np.array(rows)


def lesson_bands(box):
    out = {}
    for nominal in (1000, 1250):
        low, high = band_edges(nominal)
        lines = low * (high / low) ** ((np.arange(16) + 0.5) / 16)
        fine = 10 * np.log10(lesson_levels(box, lines).mean(0))
        # the same band from twelve lines an octave, straight in dB between them: what a table of that step can know
        start = 8 / 0.5
        first = int(np.floor(12 * np.log2(low / start)))
        knots = start * 2 ** (np.arange(first, first + 6) / 12)
        coarse = 10 * np.log10(lesson_levels(box, knots))
        between = [np.interp(np.log(lines), np.log(knots), coarse[:, i]) for i in (0, 1)]
        table = [10 * np.log10(np.mean(10 ** (b / 10))) for b in between]
        single = 10 * np.log10(lesson_levels(box, [np.sqrt(low * high)])[0])
        out[nominal] = {'sideDb': fine[0], 'rearDb': fine[1], 'sideTableDb': table[0], 'rearTableDb': table[1],
                        'sideLineDb': single[0], 'rearLineDb': single[1]}
    return out


# ---- rigs
def filters(high, low, f):
    out = 1 + 0j
    for kind, cut, is_high in [(*high, True)] + ([(*low, False)] if low else []):
        s = 1j * f / cut
        if kind == 'lr':
            den = (s**2 + np.sqrt(2) * s + 1) ** 2
        else:
            den = (s**2 + 2 * np.cos(np.pi / 8) * s + 1) * (s**2 + 2 * np.cos(3 * np.pi / 8) * s + 1)
        out = out * (s**4 if is_high else 1) / den
    return out


KNOTS = 20 * 2 ** (np.arange(0, 20) / 6)


class Rig:
    def __init__(self, name, fine):
        self.ways = [(Box(box, fine), BOXES[box][3], high, low) for box, high, low in RIGS[name]]
        self.depth = DEPTH[name]
        self.splines = {}

    def way(self, index, point):
        """A way's pressure at a place, smooth in frequency once its own travel time is taken out."""
        key = (index, *np.round(point, 9))
        if key not in self.splines:
            box, y, _, _ = self.ways[index]
            local = np.array(point) - [0, y, 0]
            r = np.linalg.norm(local)
            values = np.array([box.pressure(local, f)[0] * np.exp(2j * np.pi * f * r / C) for f in KNOTS])
            self.splines[key] = (r, CubicSpline(np.log(KNOTS), values))
        return self.splines[key]

    def at(self, point, f):
        total = 0
        for i, (_, _, high, low) in enumerate(self.ways):
            r, s = self.way(i, point)
            r0, s0 = self.way(i, (0, EAR, FLAT_AT))
            total = total + filters(high, low, f) * s(np.log(f)) / s0(np.log(f)) * np.exp(-2j * np.pi * f * (r - r0) / C)
        return total

    def placed(self, place, f, mirrors):
        return sum(self.at(mirror(place), f) for mirror in mirrors)


free = [lambda p: p]
ground = free + [lambda p: (p[0], -p[1], p[2])]


def bass_db(rig, place, mirrors):
    total = 0
    for nominal in (40, 50, 63, 80, 100, 125, 160):
        low, high = band_edges(nominal)
        lines = low * (high / low) ** ((np.arange(48) + 0.5) / 48)
        total += (np.abs(rig.placed(place, lines, mirrors)) ** 2).mean()
    return 10 * np.log10(total)


def rig_values(name, fine):
    rig = Rig(name, fine)
    out = {}
    for key, mirrors, at in (('free2M', free, 2.0), ('ground2p5M', ground, 2.5)):
        out[key] = bass_db(rig, (0, EAR, at), mirrors) - bass_db(rig, (0, EAR, -at), mirrors)
    # before a hard wall 1.7 m behind the front face: 0.3 m off the wall, and as far in front
    wall = [lambda p: p, lambda p: (p[0], p[1], -2 * 1.7 - p[2])]
    away = 1.7 - 0.3
    more = lambda f: db(rig.placed((0, EAR, -away), f, wall) / rig.placed((0, EAR, away), f, wall))
    f = np.exp(np.linspace(np.log(25), np.log(200), 2000))
    d = more(f)
    first = np.argmax(d <= 0)
    out['wall'] = {'alwaysFromHz': 25.0, 'toHz': brentq(more, f[first - 1], f[first]),
                   **{f'at{hz}HzDb': float(more(float(hz))) for hz in (25, 50, 100)}}
    return out


def both(compute):
    """From the finer mesh, and how far the coarser one is from it."""
    coarse, fine = compute(COARSE), compute(FINE)
    spread = lambda a, b: {k: spread(a[k], b[k]) if isinstance(b[k], dict) else abs(a[k] - b[k]) for k in b}
    rounded = lambda v: {k: rounded(x) for k, x in v.items()} if isinstance(v, dict) else float(f'{v:.5g}')
    return {'value': rounded(fine), 'scatter': rounded(spread(coarse, fine))}


COARSE, FINE = 11, 15
if __name__ == '__main__':
    import sys
    result = {
        'title': 'Boxes of the pages: bass behind three rigs, on hard ground and before a wall, and the box of lesson 2',
        'source': f'page-boxes.py beside this file, NumPy {np.__version__}, SciPy {scipy.__version__}, Python {platform.python_version()}',
        'date': '2026-11-29',
        'notes': 'c = 343.2 m/s; `scatter` is the distance of the coarser mesh; bass 40 to 160 Hz, pink noise; drops in dB, positive when behind is quieter',
        'rigs': {name: both(lambda fine: rig_values(name, fine)) for name in RIGS},
        'shadowHz': {
            'value': {}, 'scatter': {},
        },
    }
    COARSE, FINE = 16, 22
    for name, low, high in (('lesson', 250, 330), ('top', 380, 520), ('sub', 230, 340), ('compact', 400, 700)):
        pair = both(lambda fine: {'hz': shadow_hz(Box(name, fine), low, high)})
        result['shadowHz']['value'][name] = pair['value']['hz']
        result['shadowHz']['scatter'][name] = pair['scatter']['hz']
    COARSE, FINE = 22, 32
    result['lessonBands'] = both(lambda fine: lesson_bands(Box('lesson', fine)))
    json.dump(result, sys.stdout, indent=2)
    print()
