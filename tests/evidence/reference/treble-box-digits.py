"""Independent digits for a rigid box in the treble: a cones or a horn on its front face, levels all round in the plan.

Direct boundary integral with the pressure as unknown, p/2 - int p dG/dn dS = j w rho int v G dS at the panel centres and, with
0 on the left for p/2, at points inside, by least squares. The box is alike in eighths, so the source is split into even and odd
parts upward and front to back (left and right are even) and each part is solved on an eighth. Panels: a smoothly graded grid;
double layer by solid angles plus Gauss points near, by the panel's far pattern far away; the drivers' own potential by polar
integration. No diffraction theory anywhere. Each third octave is the mean power of five lines, which every mesh solves anew;
`levelDb` is the finer mesh's, `meshDb` its difference from the coarser one.

The top at 8 kHz is left out: its mesh is large, and the compact box at 8 kHz is as large
against the wave as the top at 6 kHz.
`check` compares with box-scattering.json, another equation: within 0.12 dB at 500 Hz, 0.06 dB at 1100 Hz.

The horn's mouth moves as in the demo gear: a wave from two virtual apexes, by the formula of horn-wavefront.ts.

Run, a box and a band at a time:  python3 treble-box-digits.py compact 2000 > c2.json; ...
then                              python3 treble-box-digits.py join c2.json ... > treble-box-digits.json
"""
import json
import platform
import sys
import numpy as np
import scipy
from scipy.linalg import cho_factor, cho_solve

C, RHO = 343.2, 1.2
ANGLES = (np.pi / 2, np.pi / 3)
BOXES = {  # sizes; cones of a radius at heights from the middle; horn's mouth, angles and height
    'compact': dict(size=(0.26, 0.42, 0.24), cones=(0.083, [-0.1]), horn=(0.2, 0.12, *ANGLES, 0.1)),
    'top': dict(size=(0.32, 0.56, 0.30), cones=(0.105, [-0.135]), horn=(0.26, 0.17, *ANGLES, 0.13)),
    'lesson': dict(size=(0.32, 0.56, 0.30), cones=(0.105, [0.0]), horn=None),  # lesson 2's, at the top's width
    'column': dict(size=(0.11, 0.9, 0.12), cones=(0.032, [0.1125 * (i - 3.5) for i in range(8)]), horn=None),
}
AZIMUTHS = np.arange(0, 181, 5)
DISTANCE = 4.0
LINES = [2 ** (i / 15) for i in (-2, -1, 0, 1, 2)]
MESHES = {2000: (10, 14), 2500: (9, 12), 4000: (8, 11), 8000: (6, 8)}  # panels a wavelength, on average over an edge


def cuts(length, n):
    """The half 0 ... length/2 of an edge in n panels, narrower towards the box's edge."""
    t = np.arange(n, 2 * n + 1) / (2 * n)
    return length * (t - 0.4 * np.sin(2 * np.pi * t) / (2 * np.pi)) - length / 2


def panels(size, k, n):
    """Centres, half sizes and the axis of the normal of an eighth of the box about its middle (x, y, z > 0)."""
    count = [int(np.ceil(n * k * s / (4 * np.pi))) for s in size]
    rows = []
    for axis in range(3):
        a, b = [i for i in range(3) if i != axis]
        ca, cb = cuts(size[a], count[a]), cuts(size[b], count[b])
        for i in range(count[a]):
            for j in range(count[b]):
                centre, half = np.zeros(3), np.zeros(3)
                centre[[a, b]] = (ca[i] + ca[i + 1]) / 2, (cb[j] + cb[j + 1]) / 2
                half[[a, b]] = (ca[i + 1] - ca[i]) / 2, (cb[j + 1] - cb[j]) / 2
                centre[axis] = size[axis] / 2
                rows.append([*centre, *half, axis])
    rows = np.array(rows)
    return rows[:, :3], rows[:, 3:6], rows[:, 6].astype(int)


def solid_angle(d, ha, hb):
    """Of a rectangle with half sizes ha, hb in z = 0, seen from d (z counted positive above), over 4 pi."""
    total = 0.0
    for s in (1, -1):
        for t in (1, -1):
            u, v = s * ha - d[0], t * hb - d[1]
            total = total + s * t * np.arctan(u * v / (d[2] * np.sqrt(u * u + v * v + d[2] ** 2)))
    return total / (4 * np.pi)


def double_layer(x, centres, halves, axis, outward, k):
    """int dG/dn dS of panels that share an axis (outward +1 or -1 along it) at points x."""
    a, b = [i for i in range(3) if i != axis]
    ha, hb = halves[None, :, a], halves[None, :, b]
    d = [x[:, None, i] - centres[None, :, i] for i in range(3)]
    height = outward * d[axis]
    r = np.sqrt(d[0] ** 2 + d[1] ** 2 + d[2] ** 2 + 1e-30)
    far = 4 * ha * hb * height * (1 + 1j * k * r) * np.exp(-1j * k * r) / (4 * np.pi * r ** 3)
    far *= np.sinc(k * ha * d[a] / r / np.pi) * np.sinc(k * hb * d[b] / r / np.pi)
    flat = np.abs(height) < 1e-12
    rows, columns = np.nonzero((r < 5 * np.hypot(ha, hb)) & ~flat)
    if rows.size:
        near = [d[i][rows, columns] for i in range(3)]
        pa, pb, h = ha[0, columns], hb[0, columns], height[rows, columns]
        value = solid_angle((near[a], near[b], h), pa, pb).astype(complex)
        nodes, weights = np.polynomial.legendre.leggauss(5)
        for u, wu in zip(nodes, weights):
            for v, wv in zip(nodes, weights):
                q = np.sqrt((near[a] - u * pa) ** 2 + (near[b] - v * pb) ** 2 + h ** 2)
                kernel = ((1 + 1j * k * q) * np.exp(-1j * k * q) - 1) / (4 * np.pi * q ** 3)
                value += wu * wv * pa * pb * h * kernel
        far[rows, columns] = value
    far[flat] = 0
    return far


def images(x, mesh, k):
    """Double layer of the eighth's mirror images at x, left and right together: one matrix for each (up, front) image."""
    centres, halves, axes = mesh
    out = {}
    for sy in (1, -1):
        for sz in (1, -1):
            total = np.empty((len(x), len(centres)), complex)
            for axis in range(3):
                pick = axes == axis
                for start in range(0, len(x), 256):
                    rows = slice(start, start + 256)
                    part = 0
                    for sx in (1, -1):
                        s = np.array([sx, sy, sz])
                        part = part + double_layer(x[rows], centres[pick] * s, halves[pick], axis, s[axis], k)
                    total[rows, np.nonzero(pick)[0]] = part
            out[sy, sz] = total.astype(np.complex64)
    return out


class Cone:
    def __init__(self, radius, y, k):
        self.radius, self.y, self.k = radius, y, k
        radial, weight = np.polynomial.legendre.leggauss(24)
        r = radius * np.sqrt((1 + radial) / 2)
        angle = 2 * np.pi * (np.arange(96) + 0.5) / 96
        self.u, self.v = np.outer(r, np.cos(angle)).ravel(), np.outer(r, np.sin(angle)).ravel()
        self.flow = np.repeat(weight / 2, 96) / 96

    def in_plane(self, u, v):
        """int G v dS at points of the face, by polar integration about each: int (1 - e^{-jkR})/jk dtheta along the rim."""
        phi = 2 * np.pi * (np.arange(1440) + 0.5) / 1440
        du, dv = self.radius * np.cos(phi) - u[:, None], self.radius * np.sin(phi) - v[:, None]
        r2 = du ** 2 + dv ** 2
        turn = self.radius * (du * np.cos(phi) + dv * np.sin(phi)) / r2
        total = ((1 - np.exp(-1j * self.k * np.sqrt(r2))) / (1j * self.k) * turn).mean(axis=1) * 2 * np.pi
        return total / (4 * np.pi) / (np.pi * self.radius ** 2)


class Horn:
    def __init__(self, width, height, horizontal, vertical, y, k):
        self.half, self.y, self.k = (width / 2, height / 2), y, k
        self.apex = (width / 2 / np.tan(horizontal / 2), height / 2 / np.tan(vertical / 2))
        nodes, weights = np.polynomial.legendre.leggauss(32)
        self.u, self.v = np.repeat(nodes, 32) * self.half[0], np.tile(nodes, 32) * self.half[1]
        flow = np.outer(weights, weights).ravel() * self.half[0] * self.half[1] * self.velocity(self.u, self.v)
        self.scale = 1 / abs(flow.sum())
        self.flow = flow * self.scale

    def velocity(self, u, v):
        (ah, av), (first, second) = self.apex, (u, v)
        if ah > av:
            (ah, av), (first, second) = (av, ah), (v, u)
        rho = np.sqrt(first ** 2 + ah ** 2)
        big = np.sqrt((rho + av - ah) ** 2 + second ** 2)
        cos_psi, cos_phi = (rho + av - ah) / big, ah / rho
        size = np.sqrt(cos_psi / (big * rho) * ah * av) * cos_psi * cos_phi
        return size * np.exp(-1j * self.k * (big - av))

    def in_plane(self, u, v):
        """As for the cone: four triangles about each point, with sign; sin(theta) = tanh(t) along each side."""
        nodes, weights = np.polynomial.legendre.leggauss(48)
        total = np.zeros(len(u), complex)
        for axis in (0, 1):
            for sign in (1, -1):
                here, along = (u, v) if axis == 0 else (v, u)
                h = sign * self.half[axis] - here
                size = np.maximum(np.abs(h), 1e-12)
                low, high = [np.arcsinh((e * self.half[1 - axis] - along) / size) for e in (-1, 1)]
                t = (low + high)[:, None] / 2 + (high - low)[:, None] / 2 * nodes
                reach, angle = size[:, None] * np.cosh(t), weights * (high - low)[:, None] / 2 / np.cosh(t)
                r = reach[..., None] * (1 + nodes) / 2
                cross, side = h[:, None, None] / reach[..., None] * r, (np.tanh(t))[..., None] * r
                place = [here[:, None, None] + cross, along[:, None, None] + side]
                value = self.velocity(*(place if axis == 0 else place[::-1])) * np.exp(-1j * self.k * r)
                inner = (value * weights).sum(axis=2) * reach / 2
                total += np.sign(sign * h) * (inner * angle).sum(axis=1)
        return total * self.scale / (4 * np.pi)


def potential(source, x, front):
    """int G v dS of a driver in the plane z = front at points x."""
    out = np.empty(len(x), complex)
    on = (np.abs(x[:, 2] - front) < 1e-12) & (np.hypot(x[:, 0], x[:, 1]) < 1)
    for start in range(0, len(x), 1000):
        p, flat = x[start:start + 1000], on[start:start + 1000]
        r = np.sqrt((p[:, None, 0] - source.u) ** 2 + (p[:, None, 1] - source.y - source.v) ** 2
                    + (p[:, None, 2] - front) ** 2 + 1e-30)
        value = (np.exp(-1j * source.k * r) / (4 * np.pi * r)) @ source.flow
        if flat.any():
            value[flat] = source.in_plane(p[flat, 0], p[flat, 1] - source.y)
        out[start:start + 1000] = value
    return out


def potentials(sources, x, front):
    return sum(potential(s, x, front) for s in sources) / len(sources)


def solve(box, frequency, n, receivers_of):
    """Pressures at receivers (about the middle of the front face) of each driver, per unit volume velocity."""
    k = 2 * np.pi * frequency / C
    size = np.array(box['size'])
    front = size[2] / 2
    mesh = panels(size, k, n)
    centres = mesh[0]
    count = len(centres)
    random = np.random.default_rng(1)
    inside = random.uniform(0.03, 0.9, (max(24, count // 8), 3)) * size / 2
    points = np.vstack([centres, inside])
    layers = images(points, mesh, k)
    radius, heights = box['cones']
    sources = [[Cone(radius, y, k) for y in heights]] + ([[Horn(*box['horn'], k)]] if box['horn'] else [])
    mirrored = {key: points * np.array([1, *key]) for key in layers}
    given = {key: np.array([potentials(s, x, front) for s in sources]).T for key, x in mirrored.items()}
    surface = {key: np.zeros((count, len(sources)), complex) for key in layers}
    for py in (1, -1):
        for pz in (1, -1):
            signs = {(sy, sz): (py if sy < 0 else 1) * (pz if sz < 0 else 1) for sy, sz in layers}
            matrix = -sum(signs[key] * layers[key].astype(complex) for key in layers)
            matrix[np.arange(count), np.arange(count)] += 0.5
            right = sum(signs[key] * given[key] for key in layers) / 4
            square = matrix.conj().T @ matrix
            p = cho_solve(cho_factor(square, overwrite_a=True), matrix.conj().T @ right)
            for key in layers:
                surface[key] += signs[key] * p
            del matrix, square
    result = []
    for i, source in enumerate(sources):
        x = receivers_of(np.mean([part.y for part in source])) + np.array([0, 0, front])
        field = images(x, mesh, k)
        total = potentials(source, x, front) + sum(field[key] @ surface[key][:, i] for key in field)
        result.append(1j * 2 * np.pi * frequency * RHO * total)
    return result, 8 * count


def ring(y):
    a = np.radians(AZIMUTHS)
    return np.column_stack([DISTANCE * np.sin(a), np.full(a.size, y), DISTANCE * np.cos(a)])


def check():
    """Against box-scattering.json, another equation: prints the greatest difference, dB."""
    import os
    with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), 'box-scattering.json')) as file:
        rows = json.load(file)['pressures']
    for frequency in (500, 1100):
        here = [r for r in rows if r['frequencyHz'] == frequency]
        x = np.array([[r['xM'], r['yM'], r['zM']] for r in here])
        [p], unknowns = solve({**BOXES['top'], 'horn': None}, frequency, 24, lambda y: x)
        print(frequency, unknowns, np.max(np.abs(20 * np.log10(
            np.abs(p) / [np.hypot(*r['pressurePa']) for r in here]))), file=sys.stderr)


if __name__ == '__main__':
    if sys.argv[1] == 'check':
        check()
    elif sys.argv[1] == 'join':
        print(json.dumps({
            'title': 'Cone and horn on a rigid box in the treble: levels all round, by boundary elements on an eighth',
            'source': 'treble-box-digits.py beside this file, NumPy ' + np.__version__ + ', SciPy ' + scipy.__version__
                      + ', Python ' + platform.python_version(),
            'date': '2026-11-29',
            'notes': 'the boxes of the demo gear and of lesson 2 with their cones or their horn (BOXES in the script); 4 m from the '
                     'middle of the drivers on the front face, in the plan at its height; dB re 1 Pa per 1 m3/s, c = 343.2 m/s, density '
                     '1.2 kg/m3; mean power of five lines a fifteenth of an octave apart',
            'azimuthsDegrees': AZIMUTHS.tolist(),
            'bands': [row for name in sys.argv[2:] for row in json.load(open(name))],
        }))
    else:
        name, band = sys.argv[1], int(sys.argv[2])
        sums, unknowns = [0, 0], [0, 0]
        for ratio in LINES:
            for m, n in enumerate(MESHES[band]):
                pressures, unknowns[m] = solve(BOXES[name], band * ratio, n, ring)
                sums[m] = sums[m] + np.abs(np.array(pressures)) ** 2 / len(LINES)
            print(name, band * ratio, unknowns, file=sys.stderr, flush=True)
        coarse, fine = [10 * np.log10(s) for s in sums]
        print(json.dumps([
            {'box': name, 'bandHz': band, 'driver': driver, 'panels': unknowns[1], 'levelDb': np.round(fine[i], 3).tolist(),
             'meshDb': np.round(fine[i] - coarse[i], 3).tolist()}
            for i, driver in enumerate(('cones', 'horn')[:len(fine)])
        ]))
