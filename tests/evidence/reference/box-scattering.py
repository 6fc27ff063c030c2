"""Independent digits for a piston on a rigid box, by reciprocity and an indirect boundary integral.

A point source of unit volume velocity stands outside a rigid box. Its scattered field is written as a single layer sigma
on the surface, p_s = int sigma G dS; zero normal velocity asks for  -sigma/2 + int sigma dG/dn_x dS = -dp_inc/dn  at the
panel centres. By reciprocity the mean total pressure over the piston's disc is what the piston, with unit volume
velocity, makes at the place of the point source. The code under test uses another equation (direct, with the driver as
source, pressure as unknown, tested inside the box as well), other panels and other rules. Two meshes are solved; `value` is
their extrapolation for errors falling with the square of the panel size, `scatterDb` its distance from the finer mesh.
The frequencies keep off the resonances of the inside (841, 994, 1208 ... Hz), where this equation fails.
Run: python3 box-scattering.py > box-scattering.json
"""
import json
import platform
import numpy as np

C, RHO = 343.2, 1.2
W, H, D = 0.32, 0.56, 0.30  # front face in z = 0, box to z = -D
DISC = (-0.135, 0.105)  # centre y, radius; x = 0
MIRROR = np.array([-1.0, 1.0, 1.0])


def cuts(length, n):
    """n panels along an edge, denser towards both ends."""
    t = np.arange(n + 1) / n
    return length * (t - 0.8 * np.sin(2 * np.pi * t) / (2 * np.pi)) - length / 2


def panels(n):
    """Centres, half sizes and normals of the panels of the half x > 0 of a box about the origin; n even."""
    rows = []
    size = np.array([W, H, D])
    counts = {a: 2 * int(round(n * size[a] / H / 2)) for a in range(3)}
    for axis in range(3):
        a, b = [i for i in range(3) if i != axis]
        ca, cb = cuts(size[a], counts[a]), cuts(size[b], counts[b])
        for sign in (1, -1):
            for i in range(counts[a]):
                for j in range(counts[b]):
                    centre, half, normal = np.zeros(3), np.zeros(3), np.zeros(3)
                    centre[[a, b]] = (ca[i] + ca[i + 1]) / 2, (cb[j] + cb[j + 1]) / 2
                    half[[a, b]] = (ca[i + 1] - ca[i]) / 2, (cb[j + 1] - cb[j]) / 2
                    centre[axis], normal[axis] = sign * size[axis] / 2, sign
                    if centre[0] > 0:
                        rows.append(np.concatenate([centre, half, normal]))
    rows = np.array(rows)
    return rows[:, :3], rows[:, 3:6], rows[:, 6:]


def layer(points, normals, centres, halves, k, order):
    """int dG/dn_x dS (normals given) or int G dS (None) of every panel at every point, order x order Gauss points."""
    nodes, weights = np.polynomial.legendre.leggauss(order)
    total = np.zeros((len(points), len(centres)), complex)
    axes = np.argmin(halves, axis=1)
    area = np.array([4 * np.prod(np.delete(h, a)) for h, a in zip(halves, axes)])
    for u, wu in zip(nodes, weights):
        for v, wv in zip(nodes, weights):
            local = np.array([np.insert([u, v], a, 0.0) for a in range(3)])[axes]
            d = points[:, None] - (centres + local * halves)[None]
            r = np.sqrt((d ** 2).sum(axis=2))
            g = np.exp(-1j * k * r) / (4 * np.pi * r)
            if normals is not None:
                g *= -(1 + 1j * k * r) / r ** 2 * (d * normals[:, None]).sum(axis=2)
            total += wu * wv / 4 * area * g
    return total


def influence(centres, halves, normals, k, mirrored):
    """dG/dn_x of panels (or of their mirror images) at all centres; near pairs again with many points."""
    sources = centres * MIRROR if mirrored else centres
    matrix = layer(centres, normals, sources, halves, k, 2)
    size = 2 * np.linalg.norm(halves, axis=1)
    distance = np.linalg.norm(centres[:, None] - sources[None], axis=2)
    for limit, order in ((4.0, 6), (1.5, 24)):
        rows, columns = np.nonzero(distance < limit * size[None])
        for column in np.unique(columns):
            near = rows[columns == column]
            one = slice(column, column + 1)
            matrix[near, column] = layer(centres[near], normals[near], sources[one], halves[one], k, order)[:, 0]
    # Panels of one plane do not act on each other.
    same = np.abs(((centres[:, None] - sources[None]) * normals[:, None]).sum(axis=2)) < 1e-12
    matrix[same] = 0
    return matrix


def disc_points():
    radial, weight = np.polynomial.legendre.leggauss(6)
    r = DISC[1] * np.sqrt((1 + radial) / 2)
    angle = np.pi * (np.arange(12) + 0.5) / 12 - np.pi / 2  # x > 0
    x, y = np.outer(r, np.cos(angle)).ravel(), np.outer(r, np.sin(angle)).ravel() + DISC[0]
    return np.column_stack([x, y, np.zeros(x.size)]), np.repeat(weight / 2, 12) / 12


def face_potential(points, centres, halves, k):
    """int G dS of coplanar panels at points among them: the static part in closed form, the rest by Gauss points."""
    def corner(a, b):
        return a * np.arcsinh(b / np.maximum(np.abs(a), 1e-300)) + b * np.arcsinh(a / np.maximum(np.abs(b), 1e-300))
    d = centres[None] - points[:, None]
    static = 0.0
    for s in (1, -1):
        for t in (1, -1):
            static = static + s * t * corner(d[..., 0] + s * halves[:, 0], d[..., 1] + t * halves[:, 1])
    nodes, weights = np.polynomial.legendre.leggauss(4)
    rest = np.zeros(static.shape, complex)
    for u, wu in zip(nodes, weights):
        for v, wv in zip(nodes, weights):
            r = np.hypot(d[..., 0] + u * halves[:, 0], d[..., 1] + v * halves[:, 1]) + 1e-12
            rest += wu * wv * halves[:, 0] * halves[:, 1] * (np.exp(-1j * k * r) - 1) / r
    return (static + rest) / (4 * np.pi)


def solve(frequency, receivers, n):
    k = 2 * np.pi * frequency / C
    centres, halves, normals = panels(n)
    outside = np.array(receivers) + [0, 0, D / 2]
    matrix = influence(centres, halves, normals, k, False) + influence(centres, halves, normals, k, True)
    matrix[np.diag_indices(len(centres))] -= 0.5
    d = centres[:, None] - outside[None]
    r = np.linalg.norm(d, axis=2)
    incident = -(1 + 1j * k * r) * np.exp(-1j * k * r) / (4 * np.pi * r ** 3) * (d * normals[:, None]).sum(axis=2)
    sigma = np.linalg.solve(matrix, -incident)
    disc, weights = disc_points()
    disc = disc + [0, 0, D / 2]
    front = normals[:, 2] > 0.5
    r = np.linalg.norm(disc[:, None] - outside[None], axis=2)
    total = np.exp(-1j * k * r) / (4 * np.pi * r)
    for mirror in (np.ones(3), MIRROR):
        total = total + layer(disc, None, centres[~front] * mirror, halves[~front], k, 6) @ sigma[~front]
        total = total + face_potential(disc, centres[front] * mirror, halves[front], k) @ sigma[front]
    return 1j * 2 * np.pi * frequency * RHO * weights @ total, len(centres)


if __name__ == '__main__':
    import sys
    receivers = [(0.0, 1.5 * np.sin(np.radians(a)), 1.5 * np.cos(np.radians(a))) for a in (0, 45, 90, 135, 180, -60, -120)]
    rows = []
    for frequency in (100, 500, 1100):
        (coarse, few), (fine, many) = [solve(frequency, receivers, n) for n in (16, 24)]
        value = fine + (fine - coarse) / ((24 / 16) ** 2 - 1)
        scatter = np.abs(20 * np.log10(np.abs(value / fine)))
        print(frequency, few, many, np.round(20 * np.log10(np.abs(value)), 3), scatter.max(), file=sys.stderr, flush=True)
        for (x, y, z), p, s in zip(receivers, value, scatter):
            rows.append({
                'frequencyHz': frequency, 'xM': x, 'yM': round(float(y), 12), 'zM': round(float(z), 12),
                'pressurePa': [round(float(p.real), 6), round(float(p.imag), 6)], 'scatterDb': round(float(s), 4),
            })
    print(json.dumps({
        'title': 'Piston on a rigid box: pressure outside, by reciprocity and an indirect boundary integral',
        'source': 'box-scattering.py beside this file, NumPy ' + np.__version__ + ', Python ' + platform.python_version(),
        'date': '2026-11-25',
        'notes': 'box 0.32 x 0.56 x 0.30 m, piston of radius 0.105 m at (0, -0.135) on the front face, unit volume velocity, '
                 'e^{+jwt}, c = 343.2 m/s, density 1.2 kg/m3; origin at the centre of the front face',
        'pressures': rows,
    }, indent=2))
