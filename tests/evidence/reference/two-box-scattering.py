"""Independent digits for two rigid boxes one behind the other, one driven: reciprocity and an indirect boundary integral.

A plane wave of unit strength comes from the direction in question and is scattered by both boxes at once; by reciprocity the mean
total pressure over a box's driver is what that driver, with unit volume velocity and the other box's still, makes far away in
that direction, re a point source at the origin in free space. The method, its panels and rules are those of box-scattering.py
beside this file; the code under test uses another equation, other panels and other rules. `floor`: the boxes stand on a hard
floor, which is the plane of symmetry of boxes twice as high with two drivers; the direction lies in the floor and the reference
is a point source on the floor (twice the free one). `scatter` is the greatest change of any of the 13 values by the
extrapolation from the finer of two meshes. `blocks` are three such boxes flush side by side on the floor, as one block: the two
outer drivers at the front together, and the middle one at the rear; `stacks` are two on top of each other on the floor, as one
block, each driver alone; the origin is the middle of the block.
Run (half an hour): python3 two-box-scattering.py > two-box-scattering.json
"""
import importlib.util
import json
import pathlib
import platform
import sys
import numpy as np

spec = importlib.util.spec_from_file_location('box_scattering', pathlib.Path(__file__).with_name('box-scattering.py'))
box = importlib.util.module_from_spec(spec)
spec.loader.exec_module(box)

RADIUS = 0.19
ANGLES = np.arange(0, 181, 15)
IMAGES = [np.array(image, float) for image in ((1, 1, 1), (-1, 1, 1), (1, -1, 1), (-1, -1, 1))]


def quarter(n, width):
    """The quarter x > 0, y > 0 of one box; n panels along 0.62 m."""
    box.W, box.D = width, 0.66
    centres, halves, normals = box.panels(int(round(n * box.H / 0.62)))
    upper = centres[:, 1] > 0
    return centres[upper], halves[upper], normals[upper]


def panels(n, spacing):
    """The same of two boxes, their middles at z = ± spacing/2."""
    centres, halves, normals = quarter(n, 0.56)
    shift = np.array([0, 0, spacing / 2])
    return [np.concatenate(part) for part in (
        (centres - shift, centres + shift), (halves,) * 2, (normals,) * 2)]


def influence(centres, halves, normals, k):
    total = box.influence(centres, halves, normals, k, False)
    for image in IMAGES[1:]:
        box.MIRROR = image
        total = total + box.influence(centres, halves, normals, k, True)
    total[np.diag_indices(len(centres))] -= 0.5
    return total


def disc(x, y, z):
    """Points and weights of a driver."""
    radial, weight = np.polynomial.legendre.leggauss(6)
    r = RADIUS * np.sqrt((1 + radial) / 2)
    angle = 2 * np.pi * (np.arange(24) + 0.5) / 24
    points = np.column_stack([x + np.outer(r, np.cos(angle)).ravel(), y + np.outer(r, np.sin(angle)).ravel(), np.full(144, z)])
    return points, np.repeat(weight / 2, 24) / 24


def solve(frequency, mesh, drivers):
    """Mean pressure on each driver (x, y, z of its middle) for plane waves from all ANGLES."""
    k = 2 * np.pi * frequency / box.C
    centres, halves, normals = mesh
    x, z = k * np.sin(np.radians(ANGLES)), k * np.cos(np.radians(ANGLES))

    # The part of the wave that is even left to right; drivers in step, left and right, do not feel the rest.
    def incident(points):
        return np.cos(points[:, :1] * x) * np.exp(1j * points[:, 2:] * z)
    slope = (-normals[:, :1] * x * np.sin(centres[:, :1] * x) + 1j * normals[:, 2:] * z * np.cos(centres[:, :1] * x)) \
        * np.exp(1j * centres[:, 2:] * z)
    sigma = np.linalg.solve(influence(centres, halves, normals, k), -slope)
    means = []
    for driver in drivers:
        points, weights = disc(*driver)
        face = np.abs(centres[:, 2] - driver[2]) < 1e-9
        total = incident(points)
        for image in IMAGES:
            total = total + box.layer(points, None, centres[~face] * image, halves[~face], k, 6) @ sigma[~face]
            total = total + box.face_potential(points, centres[face] * image, halves[face], k) @ sigma[face]
        means.append(weights @ total)
    return np.array(means), len(centres)


def extrapolated(frequency, mesh_of, drivers, n):
    (coarse, few), (fine, many) = [solve(frequency, mesh_of(m), drivers) for m in n]
    value = fine + (fine - coarse) / ((n[1] / n[0]) ** 2 - 1)
    scatter = np.abs(value - fine).max()
    print(frequency, few, many, scatter, file=sys.stderr, flush=True)
    return value, round(float(scatter), 5)


def numbers(values):
    return [[round(float(v.real), 5), round(float(v.imag), 5)] for v in values]


if __name__ == '__main__':
    rows, blocks, stacks = [], [], []
    for place, height, driver_y in (('free', 0.62, 0.0), ('floor', 1.24, 0.31)):
        box.H = height
        for spacing in (0.76, 1.4):
            drivers = [(0.0, driver_y, middle + 0.33) for middle in (-spacing / 2, spacing / 2)]
            for frequency in (40, 63, 100):
                value, scatter = extrapolated(frequency, lambda n: panels(n, spacing), drivers, (10, 16))
                rows.append({'place': place, 'spacingM': spacing, 'frequencyHz': frequency, 'scatter': scatter,
                             'rear': numbers(value[0]), 'front': numbers(value[1])})
    box.H = 1.24
    for frequency in (40, 63, 100):
        value, scatter = extrapolated(frequency, lambda n: quarter(n, 1.68), [(0.56, 0.31, 0.33), (0.0, 0.31, -0.33)], (6, 10))
        blocks.append({'frequencyHz': frequency, 'scatter': scatter, 'outer': numbers(value[0]), 'middle': numbers(value[1])})
    box.H = 2.48
    for frequency in (40, 63, 100):
        value, scatter = extrapolated(frequency, lambda n: quarter(n, 0.56), [(0.0, 0.31, 0.33), (0.0, 0.93, 0.33)], (6, 10))
        stacks.append({'frequencyHz': frequency, 'scatter': scatter, 'lower': numbers(value[0]), 'upper': numbers(value[1])})
    text = json.dumps({
        'title': 'Two rigid boxes one behind the other, one driven: far field, by reciprocity and an indirect boundary integral',
        'source': 'two-box-scattering.py beside this file, NumPy ' + np.__version__ + ', Python ' + platform.python_version(),
        'date': '2026-11-25',
        'notes': 'boxes 0.56 x 0.62 x 0.66 m, both facing +z, fronts spacingM apart, origin halfway between their middles; '
                 'pistons of radius 0.19 m in the middle of the fronts; real and imaginary part re a point source at the '
                 'origin, by angle; e^{+jwt}, c = 343.2 m/s',
        'angleDeg': [int(a) for a in ANGLES],
        'rows': rows,
        'blocks': blocks,
        'stacks': stacks,
    })
    for word in ('{"place"', '"rows"', '"blocks"', '"stacks"', '{"frequencyHz"'):
        text = text.replace(word, '\n' + word)
    print(text)
