"""Times general-purpose ways to an oil level on the pans that `cargo bench --bench levels` wrote, and checks first
that they find the same levels.

Peers, each as a good engineer would set it up:
  numpy      all triangles at once, Newton with the free surface as derivative
  sorted     the same with heights and areas worked out and sorted once an attitude, and each step only cutting what
             the plane crosses
  manifold3d trim_by_plane + volume, scipy's brentq
  trimesh    slice_plane(cap=True) + volume, scipy's brentq
`alone`: every attitude from nothing. `log`: along a drive, from the level before (numpy: as the start; brentq: a
bracket round it, widened until it holds the root).

Usage: peers.py FOLDER. In FOLDER, for each pan: NAME.points (f64, mm), NAME.faces (u32), NAME.alone and NAME.log
(f64: up, level in mm by the program under test), NAME.volume (f64, mm³). Prints `peer kind name µs offset` lines;
times are process CPU time, the least of the repeats. Exit 1 where levels differ by more than LIMIT mm.
"""

import sys
import time
from pathlib import Path

import manifold3d
import numpy as np
import trimesh
from scipy.optimize import brentq

LIMIT = 1e-9


class Newton:
    def __init__(self, points, faces, volume):
        self.points, self.faces, self.target = points, faces, volume
        a, b, c = (points[faces[:, i]] for i in range(3))
        self.normals = np.cross(b - a, c - a) / 2

    def level(self, up, start):
        z = self.points @ up
        bottom, top = z.min(), z.max()
        h = bottom + (top - bottom) * 0.25 if start is None else start
        cut = self.cuts(up)
        for _ in range(60):
            volume, area = cut(h)
            miss = volume - self.target
            bottom, top = (bottom, h) if miss > 0 else (h, top)
            if abs(miss) <= 1e-13 * self.target:
                return h
            after = h - miss / area if area > 0 else bottom
            after = after if bottom < after < top else (bottom + top) / 2
            if abs(after - h) <= 1e-12:
                return after
            h = after
        return h


class Numpy(Newton):
    def cuts(self, up):
        def cut(h):
            z = np.sort((self.points @ up - h)[self.faces], axis=1)
            s = self.normals @ up
            a, b, c = z.T
            with np.errstate(divide="ignore", invalid="ignore"):
                tip, top = a / (a - b) * (a / (a - c)), c / (c - a) * (c / (c - b))
            mean = (a + b + c) / 3
            full, one, two = c <= 0, (a < 0) & (b >= 0), (b < 0) & (c > 0)
            volume = np.select([full, one, two], [mean, tip * a / 3, mean - top * c / 3], 0.0)
            share = np.select([full, one, two], [1.0, tip, 1 - top], 0.0)
            return s @ volume, -(s @ share)

        return cut


class Sorted(Newton):
    def cuts(self, up):
        z = (self.points @ up)[self.faces]
        s = self.normals @ up
        x, y, w = z[:, 0], z[:, 1], z[:, 2]
        low, high = np.minimum(np.minimum(x, y), w), np.maximum(np.maximum(x, y), w)
        middle, sums = x + y + w - low - high, x + y + w

        def cut(h):
            full = high <= h
            one = (low < h) & (middle >= h)
            two = (middle < h) & (high > h)
            a, b, c, t = low[one] - h, middle[one] - h, high[one] - h, s[one]
            share = a / (a - b) * (a / (a - c))
            volume, area = (t * share * a).sum() / 3, -(t * share).sum()
            t = s[full]
            volume, area = volume + (t * (sums[full] - 3 * h)).sum() / 3, area - t.sum()
            a, b, c, t = low[two] - h, middle[two] - h, high[two] - h, s[two]
            share = c / (c - a) * (c / (c - b))
            volume += (t * (a + b + c - share * c)).sum() / 3
            return volume, area - (t * (1 - share)).sum()

        return cut


class Rooted:
    """A volume below a plane, and brentq."""

    def level(self, up, start):
        z = self.points @ up
        bottom, top = z.min(), z.max()
        miss = lambda h: self.below(up, h) - self.target
        if start is not None:
            width = 0.05
            while miss(start - width) > 0 or miss(start + width) < 0:
                width *= 4
            bottom, top = max(bottom, start - width), min(top, start + width)
        return brentq(miss, bottom, top, xtol=1e-11, rtol=1e-14)


class Manifold(Rooted):
    def __init__(self, points, faces, volume):
        self.points, self.target = points, volume
        self.body = manifold3d.Manifold(manifold3d.Mesh64(points, faces.astype(np.uint64)))
        assert self.body.status() == manifold3d.Error.NoError, self.body.status()

    def below(self, up, h):
        return self.body.trim_by_plane(tuple(-up), -h).volume()


class Trimesh(Rooted):
    def __init__(self, points, faces, volume):
        self.points, self.target = points, volume
        self.body = trimesh.Trimesh(points, faces, process=False)

    def below(self, up, h):
        part = self.body.slice_plane(up * h, -up, cap=True)
        return part.volume if len(part.faces) else 0.0


# How many attitudes each peer does at each size, and how often; the slow ones fewer.
PEERS = {
    "numpy": (Numpy, (100, 40, 10, 2), (3, 3, 2, 2)),
    "sorted": (Sorted, (100, 40, 10, 3), (3, 3, 2, 2)),
    "manifold3d": (Manifold, (8, 4, 2, 1), (3, 2, 1, 1)),
    "trimesh": (Trimesh, (4, 2, 1, 0), (2, 2, 1, 0)),
}


def main():
    folder, wrong = Path(sys.argv[1]), False
    names = sorted((path.stem for path in folder.glob("*.volume")), key=int)
    for size, name in enumerate(names):
        read = lambda kind, type: np.fromfile(folder / f"{name}.{kind}", type)
        points, faces = read("points", np.float64).reshape(-1, 3), read("faces", np.uint32).reshape(-1, 3)
        volume = float(read("volume", np.float64)[0])
        for peer, (build, counts, repeats) in PEERS.items():
            size = min(size, 3)
            if not counts[size]:
                continue
            body = build(points, faces, volume)
            for kind in ("alone", "log"):
                ways = read(kind, np.float64).reshape(-1, 4)
                # Along a log the peer, too, comes from the attitude before.
                tasks = [(ways[i, :3], ways[i, 3], ways[i - 1, 3] if kind == "log" else None)
                         for i in range(1, counts[size] + 1)]
                best, worst = float("inf"), 0.0
                for _ in range(repeats[size]):
                    start = time.process_time()
                    found = [body.level(up, before) for up, _, before in tasks]
                    best = min(best, (time.process_time() - start) / len(tasks))
                    worst = max(abs(h - ours) for h, (_, ours, _) in zip(found, tasks))
                wrong |= not worst <= LIMIT
                print(f"{peer} {kind} {name} {best * 1e6:.3f} {worst:.3e}", flush=True)
    sys.exit(wrong)


main()
