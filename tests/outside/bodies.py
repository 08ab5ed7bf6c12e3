"""Levels, moments, least volumes and steepest tilts in random bodies, against a general-purpose mesh library.

The bodies are balls, rings, hulls, unions of boxes, some with voids cut out, as a mesh library makes them; the
program under test reads the same triangles. The reference cuts them by exact booleans (manifold3d), finds the level
and the tilt by scipy's brentq, and adds up the tetrahedra and the cap of what is left. Nothing is shared but the mesh.

Usage: bodies.py PROGRAM [COUNT [SEED]]; PROGRAM is the example `told` of the physics crate. Needs numpy, scipy and
manifold3d. Exit 1 where a level is off by 1e-12 m, a middle by 1e-11 m, an area or moment by 1e-9 of itself, or a
tilt by 1e-9 rad.
"""

import math
import random
import subprocess
import sys

import manifold3d
import numpy as np
from manifold3d import CrossSection, Manifold
from scipy.optimize import brentq

NAMES = ("level", "volume", "middle of oil", "surface", "middle of surface", "larger moment", "smaller moment",
         "least volume", "steepest tilt")
LIMITS = (1e-12, 1e-9, 1e-11, 1e-9, 1e-11, 1e-9, 1e-9, 1e-9, 1e-9)


def ball(rng):
    return Manifold.sphere(rng.uniform(0.05, 0.2), rng.choice([16, 32, 64]))


def ring(rng):
    small = rng.uniform(0.02, 0.06)
    circle = CrossSection.circle(small, rng.choice([12, 24])).translate((small + rng.uniform(0.02, 0.1), 0.0))
    return circle.revolve(rng.choice([24, 48]))


def hull(rng):
    return Manifold.hull_points(np.array([[rng.gauss(0, 0.1) for _ in range(3)] for _ in range(rng.randint(8, 60))]))


def boxes(rng):
    body = Manifold.cube((0.4, 0.27, 0.05), True)
    for _ in range(rng.randint(1, 5)):
        size = tuple(rng.uniform(0.03, 0.2) for _ in range(3))
        at = tuple(rng.uniform(-0.1, 0.1) for _ in range(3))
        body += Manifold.cube(size, True).rotate((0.0, 0.0, rng.uniform(0, 90))).translate(at)
    return body


def hollow(rng):
    inner = Manifold.sphere(0.02, 24).translate((rng.uniform(-0.05, 0.05), rng.uniform(-0.05, 0.05), 0.0))
    return boxes(rng) - inner


def make(rng):
    body = rng.choice([ball, ring, hull, boxes, hollow])(rng)
    return body.rotate(tuple(rng.uniform(0, 360) for _ in range(3))).translate(
        tuple(rng.uniform(-0.3, 0.3) for _ in range(3)))


def triangles(body):
    mesh = body.to_mesh64()
    return np.asarray(mesh.vert_properties)[:, :3], np.asarray(mesh.tri_verts)


def cut(body, up, height):
    return body.trim_by_plane(tuple(-up), -height)


def below(body, up, height):
    return cut(body, up, height).volume()


def moments(body, up, height):
    """Middle of the oil, surface, its middle, and its second moments, from the triangles of the cut body."""
    points, faces = triangles(cut(body, up, height))
    origin = points.mean(0)
    t = (points - origin)[faces]
    six = np.einsum("ij,ij->i", t[:, 0], np.cross(t[:, 1], t[:, 2]))
    middle = (t.sum(1) / 4 * six[:, None]).sum(0) / six.sum() + origin
    flat = np.abs(t @ up - (height - origin @ up)).max(1) < 1e-9
    t = t[flat]
    area = np.cross(t[:, 1] - t[:, 0], t[:, 2] - t[:, 0]) @ up / 2
    surface = (t.sum(1) / 3 * area[:, None]).sum(0) / area.sum()
    t = t - surface
    sums = t.sum(1)
    second = (np.einsum("n,ni,nj->ij", area, sums, sums) + np.einsum("n,nki,nkj->ij", area, t, t)) / 12
    one = np.cross(up, [1.0, 0, 0] if abs(up[0]) < 0.7 else [0, 1.0, 0])
    one /= np.linalg.norm(one)
    frame = np.array([one, np.cross(up, one)])
    small, large = np.linalg.eigvalsh(frame @ second @ frame.T)
    return middle, area.sum(), surface + origin, large, small


def steepest(body, volume, centre, diameter, need, azimuth):
    toward = np.array([math.cos(azimuth), math.sin(azimuth), 0.0])

    def margin(tilt):
        up = np.array([0.0, 0.0, 1.0]) * math.cos(tilt) + toward * math.sin(tilt)
        rim = up @ centre + diameter / 2 * math.hypot(up[0], up[1])
        return volume - below(body, up, rim + need)

    before = margin(0.0)
    if before < 0:
        return math.nan
    for degree in range(1, 61):
        after = margin(math.radians(degree))
        if after < 0:
            return brentq(margin, math.radians(degree - 1), math.radians(degree), xtol=1e-14, rtol=1e-15)
    return math.nan


def compare(program, rng):
    body = make(rng)
    points, faces = triangles(body)
    low, high = points.min(0), points.max(0)
    rows = []
    for _ in range(4):
        up = np.array([rng.gauss(0, 1) for _ in range(3)])
        centre = low + (high - low) * np.array([rng.uniform(0.2, 0.8), rng.uniform(0.2, 0.8), rng.uniform(0.1, 0.4)])
        rows.append((*(up / np.linalg.norm(up)), rng.uniform(0.05, 0.95), *centre, rng.uniform(0.005, 0.03), 0.005,
                     rng.uniform(0, 2 * math.pi)))
    text = [f"{len(points)} {len(faces)} {len(rows)}"]
    text += [" ".join(repr(float(v)) for v in row) for row in points]
    text += [" ".join(str(int(v)) for v in row) for row in faces]
    text += [" ".join(repr(float(v)) for v in row) for row in rows]
    run = subprocess.run([program], input="\n".join(text), capture_output=True, text=True)
    if run.returncode:
        # Booleans may leave faces of no area, which are refused.
        assert "Degenerate" in run.stderr, run.stderr
        return None
    worst, tilts = [0.0] * len(NAMES), 0
    for row, line in zip(rows, run.stdout.splitlines()):
        told = [float(word) for word in line.split()]
        up, share, centre = np.array(row[:3]), row[3], np.array(row[4:7])
        volume, z = body.volume() * share, points @ np.array(row[:3])
        level = brentq(lambda h: below(body, up, h) - volume, z.min(), z.max(), xtol=1e-15, rtol=1e-15)
        middle, area, surface, large, small = moments(body, up, told[0])
        rim = up @ centre + row[7] / 2 * math.hypot(up[0], up[1])
        tilt = steepest(body, volume, centre, row[7], row[8], row[9])
        assert math.isnan(tilt) == math.isnan(told[12]), (tilt, told[12])
        tilts += not math.isnan(tilt)
        off = (abs(told[0] - level), abs(told[1] / volume - 1), np.abs(told[2:5] - middle).max(),
               abs(told[5] / area - 1), np.abs(told[6:9] - surface).max(), abs(told[9] / large - 1),
               abs(told[10] / small - 1), abs(told[11] - below(body, up, rim + row[8])) / body.volume(),
               0.0 if math.isnan(tilt) else abs(told[12] - tilt))
        worst = [max(a, b) for a, b in zip(worst, off)]
    return worst, tilts


def main():
    program, count = sys.argv[1], int(sys.argv[2]) if len(sys.argv) > 2 else 100
    rng, worst, made, tilts = random.Random(int(sys.argv[3]) if len(sys.argv) > 3 else 7), [0.0] * len(NAMES), 0, 0
    while made < count:
        found = compare(program, rng)
        if found is None:
            continue
        made, tilts = made + 1, tilts + found[1]
        worst = [max(a, b) for a, b in zip(worst, found[0])]
        if any(not a <= limit for a, limit in zip(found[0], LIMITS)):
            print(f"body {made}:", *(f"{name} {off:.1e}" for name, off in zip(NAMES, found[0])))
    print(f"{made} bodies, {4 * made} attitudes, {tilts} tilts; worst:",
          ", ".join(f"{name} {off:.1e}" for name, off in zip(NAMES, worst)))
    sys.exit(any(not a <= limit for a, limit in zip(worst, LIMITS)))


main()
