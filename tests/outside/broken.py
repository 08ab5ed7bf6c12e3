"""Broken meshes: what is told of them against a general-purpose mesh library, exact numbers and known truth.

Random bodies (smooth lumps, rings, boxes, pans with a shelf, strips with one side, several bodies, bodies in one
another) are broken in one to three random ways of a list. The reference looks at the same points and faces: open
edges, edges of many faces, winding, closedness, doubles, needles, pieces and signed volumes by trimesh, the faces to turn
by a graph, what lies in what by solid angles, crossings and overlaps by trying every pair with signs that are
exact (whole numbers where floating point cannot tell), welding by a k-d tree, the cut at the rail by manifold3d. Every
place that is told must be one of the reference's. Then the program itself is given broken files inside a pan: it
must exit with 2, say the reference's number and places in the pan's frame, and judge nothing; stated repairs must work.

Usage: broken.py TOLD PROGRAM [COUNT [SEED]]; TOLD is the example `told` of the physics crate, PROGRAM the command line.
Needs numpy, scipy, trimesh, networkx and manifold3d. Exit 1 where anything differs.

Not compared: faces on a line but for rounding (trimesh calls them needles; here only those whose area comes to nothing
are told, and the others levelled as they are, which is tried); how many pairs cross where an edge meets an edge to the
last bit (at least the reference's are asked for); which faces of a strip with one side are turned. Overlaps
no wider than single precision leaves in doubt must be passed over.
"""

import json
import math
import re
import struct
import subprocess
import sys
import tempfile
import zipfile
from collections import Counter, defaultdict
from fractions import Fraction
from pathlib import Path

import manifold3d
import networkx
import numpy as np
import trimesh
from manifold3d import CrossSection, Manifold
from scipy.spatial import cKDTree

ROOT = Path(__file__).resolve().parents[2]
FINE = 2 ** 256
SEED = int(sys.argv[4]) if len(sys.argv) > 4 else 0


# Bodies: points in metres, faces counter-clockwise seen from outside.

def of_manifold(body):
    mesh = body.to_mesh64()
    return np.array(mesh.vert_properties)[:, :3], np.array(mesh.tri_verts, dtype=int)


def lump(rng):
    ball = trimesh.creation.icosphere(subdivisions=int(rng.integers(1, 3)))
    points = np.array(ball.vertices)
    waves = rng.normal(size=(3, 3))
    swell = 1 + 0.2 * np.sin(2 * points @ waves.T).mean(1)
    return points * swell[:, None] * rng.uniform(0.05, 0.15), np.array(ball.faces)


def ring(rng):
    body = trimesh.creation.torus(rng.uniform(0.08, 0.15), rng.uniform(0.02, 0.05), major_sections=int(rng.integers(6, 14)),
                                  minor_sections=int(rng.integers(4, 9)))
    return np.array(body.vertices), np.array(body.faces)


def box(rng):
    """Corners on a grid of 1/64 m, so that planes are planes to the last bit."""
    size, low = rng.integers(4, 16, 3) / 64, rng.integers(-8, 8, 3) / 64
    body = trimesh.creation.box(bounds=[low, low + size])
    points, faces = np.array(body.vertices), np.array(body.faces)
    if rng.random() < 0.5:
        points, faces = trimesh.remesh.subdivide(points, faces)
    return points, faces


def shelf(rng):
    """A pan's oil space with a shelf, its lid at z = 0."""
    x, z = np.sort(rng.uniform(0.05, 0.4, 2)), np.sort(rng.uniform(0.02, 0.1, 2))
    side = CrossSection([[(0, 0), (0, -z[1]), (x[0], -z[1]), (x[0], -z[0]), (x[1], -z[0]), (x[1], 0)]])
    return of_manifold(side.extrude(rng.uniform(0.1, 0.3)).rotate((90, 0, 0)))


def strip(rng):
    """A closed strip turned over once: it has one side and one rim."""
    around, half, size = int(rng.integers(6, 14)), rng.uniform(0.01, 0.04), rng.uniform(0.1, 0.2)
    angles = 2 * math.pi * np.arange(around) / around
    rows = []
    for side in (half, -half):
        across = size + side * np.cos(angles / 2)
        rows.append(np.column_stack([across * np.cos(angles), across * np.sin(angles), side * np.sin(angles / 2)]))
    faces = []
    for here in range(around):
        a, b, c, d = here, here + around, here + 1, here + 1 + around
        if here + 1 == around:
            c, d = around, 0
        faces += [(a, b, c), (b, d, c)]
    return np.vstack(rows), np.array(faces)


def together(*bodies):
    points, faces, shift = [], [], 0
    for body in bodies:
        points.append(body[0])
        faces.append(body[1] + shift)
        shift += len(body[0])
    return np.vstack(points), np.vstack(faces)


def several(rng):
    bodies = []
    for number in range(int(rng.integers(2, 4))):
        points, faces = [lump, ring, box, shelf][rng.integers(4)](rng)
        bodies.append((points + [number, 0, 0], faces))
    return together(*bodies)


def nested(rng):
    """Shells in one another; sometimes one of them is turned the wrong way."""
    points, faces = lump(rng)
    bodies = []
    for depth in range(int(rng.integers(2, 5))):
        turned = (depth % 2 == 1) != (rng.random() < 0.2)
        bodies.append((points * 0.6 ** depth, faces[:, ::-1] if turned else faces))
    if rng.random() < 0.5:
        far = lump(rng)
        bodies.append((far[0] + [1, 0, 0], far[1]))
    rng.shuffle(bodies)
    return together(*bodies)


BODIES = [lump, ring, box, shelf, several, nested]


# Breakages: each changes points and faces, and may set a tolerance of welding.

def left_out(rng, points, faces, told):
    gone = rng.choice(len(faces), int(rng.integers(1, 6)), replace=False)
    return points, np.delete(faces, gone, 0)


def turned(rng, points, faces, told):
    faces = faces.copy()
    over = rng.choice(len(faces), int(rng.integers(1, 5)), replace=False)
    faces[over] = faces[over][:, ::-1]
    return points, faces


def inside_out(rng, points, faces, told):
    return points, faces[:, ::-1].copy()


def twice(rng, points, faces, told):
    again = faces[rng.choice(len(faces), int(rng.integers(1, 4)), replace=False)]
    again = np.roll(again, rng.integers(3), 1)
    return points, np.vstack([faces, again[:, ::-1] if rng.random() < 0.5 else again])


def equal_corners(rng, points, faces, told):
    """An edge falls together, and the faces on it stay as needles; or a needle stands on its own."""
    a, b, _ = faces[rng.integers(len(faces))]
    if rng.random() < 0.5:
        return points, np.where(faces == b, a, faces)
    return points, np.vstack([faces, [[a, b, b]]])


def on_a_line(rng, points, faces, told):
    """A corner in the middle of an edge of one face, the gap closed by a face on a line."""
    at = int(rng.integers(len(faces)))
    a, b, c = faces[at]
    share = 0.5 if rng.random() < 0.5 else rng.uniform(0.2, 0.8)
    middle = len(points)
    points = np.vstack([points, points[a] + (points[b] - points[a]) * share])
    return points, np.vstack([np.delete(faces, at, 0), [(a, middle, c), (middle, b, c), (a, b, middle)]])


def nearly_equal(rng, points, faces, told):
    a, b, _ = faces[rng.integers(len(faces))]
    points = points.copy()
    points[b] = points[a] + rng.normal(size=3) * 10.0 ** rng.integers(-9, -5)
    return points, faces


def split(rng, points, faces, told, apart):
    """Some faces get corners of their own, a part or a multiple of the tolerance away."""
    tolerance = 10.0 ** rng.integers(-6, -3)
    faces, extra = faces.copy(), []
    for at in rng.choice(len(faces), min(len(faces), int(rng.integers(1, 8))), replace=False):
        corner = int(rng.integers(3))
        way = rng.normal(size=3)
        extra.append(points[faces[at, corner]] + way / np.linalg.norm(way) * tolerance * apart)
        faces[at, corner] = len(points) + len(extra) - 1
    told["tolerance"] = tolerance if rng.random() < 0.8 else 0.0
    return np.vstack([points, extra]), faces


def split_little(rng, points, faces, told):
    return split(rng, points, faces, told, 0.4)


def split_far(rng, points, faces, told):
    return split(rng, points, faces, told, 3.0)


def crosses(rng, points, faces, told):
    other, own = [lump, ring][rng.integers(2)](rng)
    spot = points[rng.integers(len(points))]
    return together((points, faces), (other @ turn(rng) + spot, own))


def lies_on(rng, points, faces, told):
    """A face moved within its own plane, half of it on its neighbour or itself; on a grid that plane is exact."""
    a, b, c = faces[rng.integers(len(faces))]
    if rng.random() < 0.5:
        extra = [points[a], points[b], (points[a] + points[b]) / 2 + (points[c] - points[a]) / 4]
    else:
        extra = points[[a, b, c]] + (points[b] - points[a]) / 2
    return np.vstack([points, extra]), np.vstack([faces, [np.arange(3) + len(points)]])


def touching(rng, points, faces, told):
    """A block whose planes are those of the first block more often than not: touching, crossing, inside."""
    return together((points, faces), box(rng))


def fins(rng, points, faces, told):
    """One face more on an edge, or two: edges of three and four faces."""
    a, b, c = faces[rng.integers(len(faces))]
    extra = points[[a, a]] + rng.normal(size=(2, 3)) * 0.02
    one, other = len(points), len(points) + 1
    more = [(a, b, one)] if rng.random() < 0.5 else [(a, b, one), (b, a, other)]
    return np.vstack([points, extra]), np.vstack([faces, more])


def other_unit(rng, points, faces, told):
    return points * rng.choice([25.4, 1000.0, 0.001]), faces


BREAKAGES = [left_out, turned, inside_out, twice, equal_corners, on_a_line, nearly_equal, split_little, split_far, crosses,
             lies_on, touching, fins, other_unit]


def turn(rng):
    way, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    return way * np.sign(np.linalg.det(way))


def make(rng):
    """A body, how it was broken, and the tolerance to weld it with."""
    kind = BODIES[rng.integers(len(BODIES))] if rng.random() < 0.95 else strip
    points, faces = kind(rng)
    told, names = {"tolerance": 0.0}, []
    grid = kind is box and rng.random() < 0.7
    if not grid and rng.random() < 0.8:
        points = points @ turn(rng) + rng.uniform(-0.05, 0.05, 3)
    for _ in range(int(rng.choice([0, 1, 1, 2, 3]))):
        breakage = BREAKAGES[rng.integers(len(BREAKAGES))]
        points, faces = breakage(rng, points, faces, told)
        names.append(breakage.__name__)
    # Every face with corners of its own, as a file of triangles has them; what is one place must be found again.
    if rng.random() < 0.3:
        points, faces = points[faces.ravel()], np.arange(faces.size).reshape(-1, 3)
    return kind.__name__, names, points, faces, told["tolerance"]


# The reference.

def shared(points, faces):
    """Corners at one place are one, numbered as the faces first name them."""
    _, first, back = np.unique(points + 0.0, axis=0, return_index=True, return_inverse=True)
    faces = back.ravel()[faces]
    order = list(dict.fromkeys(faces.ravel().tolist()))
    number = np.full(len(first), -1)
    number[order] = np.arange(len(order))
    return points[first[order]] + 0.0, number[faces]


def welded(points, faces, tolerance):
    groups = networkx.Graph()
    groups.add_nodes_from(range(len(points)))
    groups.add_edges_from(cKDTree(points).query_pairs(tolerance))
    one = np.arange(len(points))
    for group in networkx.connected_components(groups):
        one[list(group)] = min(group)
    far = np.linalg.norm(points - points[one], axis=1)
    faces = one[faces]
    fallen = has_equal_corners(faces)
    did = {"merged": int((one != np.arange(len(points))).sum()), "farthest": far.max(), "dropped": int(fallen.sum())}
    return points, faces[~fallen], did


def has_equal_corners(faces):
    return (faces[:, 0] == faces[:, 1]) | (faces[:, 1] == faces[:, 2]) | (faces[:, 2] == faces[:, 0])


def exact(vector):
    """Whole numbers of 2⁻²⁵⁶: what a sum, a product or a sign is does not depend on the unit."""
    ratios = [float(x).as_integer_ratio() for x in vector]
    assert all(below <= FINE for _, below in ratios), vector
    return [above * (FINE // below) for above, below in ratios]


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def minus(a, b):
    return [x - y for x, y in zip(a, b)]


def dot(a, b):
    return sum(x * y for x, y in zip(a, b))


def signs(a, b, c, d):
    """Of (b − a)×(c − a)·(d − a), exact: floating point where its error bound allows, whole numbers elsewhere."""
    u, v, w = b - a, c - a, d - a
    det = np.einsum("ij,ij->i", np.cross(u, v), w)
    size = np.abs(u)[:, [1, 2, 0]] * np.abs(v)[:, [2, 0, 1]] + np.abs(u)[:, [2, 0, 1]] * np.abs(v)[:, [1, 2, 0]]
    bound = 2e-15 * np.einsum("ij,ij->i", size, np.abs(w))
    sign = np.sign(det).astype(int)
    # In a plane along the axes it is nought; differences of equal numbers are exact.
    level = ((u == 0) & (v == 0) & (w == 0)).any(1)
    sign[level] = 0
    for at in np.flatnonzero((np.abs(det) <= bound) & ~level):
        p, q, r, s = (exact(x[at]) for x in (a, b, c, d))
        value = dot(cross(minus(q, p), minus(r, p)), minus(s, p))
        sign[at] = (value > 0) - (value < 0)
    return sign


def near_pairs(points, faces):
    """Pairs of faces whose boxes meet, by trying all."""
    low, high = points[faces].min(1), points[faces].max(1)
    meet = np.ones((len(faces), len(faces)), dtype=bool)
    for axis in range(3):
        meet &= low[:, None, axis] <= high[None, :, axis]
    return np.argwhere(np.triu(meet & meet.T, 1))


def crossing_pairs(points, faces, pairs):
    """Pairs where an edge of one goes through the inside of the other; and whether an edge meets a rim or a corner,
    where what counts as a pair is a convention."""
    inside, general = set(), True
    common = (faces[pairs[:, 0]][:, :, None] == faces[pairs[:, 1]][:, None, :]).any(2).sum(1)
    pairs = pairs[common < 2]
    for of, against in ((0, 1), (1, 0)):
        mine, its = faces[pairs[:, of]], faces[pairs[:, against]]
        t = points[its]
        for start in range(3):
            ends = mine[:, [start, (start + 1) % 3]]
            free = ~(ends[:, :, None] == its[:, None, :]).any((1, 2)) & (ends[:, 0] != ends[:, 1])
            rows = np.flatnonzero(free)
            p, q, f = points[ends[rows, 0]], points[ends[rows, 1]], t[rows]
            above, below = signs(f[:, 0], f[:, 1], f[:, 2], p), signs(f[:, 0], f[:, 1], f[:, 2], q)
            through = above * below < 0
            rows, p, q, f = rows[through], p[through], q[through], f[through]
            ways = np.array([signs(p, q, f[:, k], f[:, (k + 1) % 3]) for k in range(3)]).T.reshape(-1, 3)
            hit = (ways > 0).all(1) | (ways < 0).all(1)
            rim = ~hit & ((ways >= 0).all(1) | (ways <= 0).all(1))
            general &= not rim.any()
            inside.update(map(tuple, pairs[rows[hit]]))
    return inside, general


def overlap_pairs(points, faces, pairs):
    """Pairs in one plane, to the last bit, whose common part has area: those that must be told, and those that may be.
    Strips as narrow as the rounding of single precision are passed over; what width is, is a convention up to twice."""
    common = (faces[pairs[:, 0]][:, :, None] == faces[pairs[:, 1]][:, None, :]).any(2).sum(1)
    pairs = pairs[common < 3]
    flat = np.ones(len(pairs), dtype=bool)
    for of, against in ((0, 1), (1, 0)):
        t = points[faces[pairs[:, of]]]
        for corner in range(3):
            rows = np.flatnonzero(flat)
            p = points[faces[pairs[rows, against], corner]]
            flat[rows] = signs(t[rows, 0], t[rows, 1], t[rows, 2], p) == 0
    thin = np.ptp(points[np.unique(faces)], axis=0).max() * 2.0 ** -23
    sure, maybe = set(), set()
    for pair in pairs[flat]:
        width = common_width(*([exact(points[corner]) for corner in faces[face]] for face in pair))
        if width > thin / 2:
            maybe.add(tuple(pair))
        if width > thin:
            sure.add(tuple(pair))
    return sure, maybe


def common_width(one, other):
    """Clips one face by the sides of the other, exactly, and says how wide what is left is across its narrowest way."""
    normals = [cross(minus(t[1], t[0]), minus(t[2], t[0])) for t in (one, other)]
    if not all(any(normal) for normal in normals):
        return 0.0
    part, normal = one, normals[1]
    for start in range(3):
        a, b = other[start], other[(start + 1) % 3]
        inward = cross(normal, minus(b, a))
        height = [dot(inward, minus(p, a)) for p in part]
        if max(height) <= 0:
            return 0.0
        kept = []
        for here in range(len(part)):
            after = (here + 1) % len(part)
            if height[here] >= 0:
                kept.append(part[here])
            if height[here] * height[after] < 0:
                share = Fraction(height[here], height[here] - height[after])
                kept.append([p + (q - p) * share for p, q in zip(part[here], part[after])])
        part = kept
    return min(extent_across(a, b, part) for a, b in zip(part, part[1:] + part[:1]) if a != b)


def extent_across(a, b, part):
    """How far a flat part reaches from the line through a and b."""
    # Products cancel here: they are floating point only once they stand.
    length = lambda vector, unit: math.hypot(*(float(Fraction(x) / unit) for x in vector))
    along = minus(b, a)
    return max(length(cross(along, minus(p, a)), FINE ** 2) for p in part) / length(along, FINE)


def to_turn(faces, two):
    """For each stretch of faces that hang together over edges of two, the sets of faces that may be the ones to turn;
    and whether some stretch has one side only."""
    links = networkx.Graph()
    links.add_nodes_from(range(len(faces)))
    for (one, way), (other, back) in two:
        if one != other:
            links.add_edge(one, other)
            links[one][other].setdefault("against", set()).add(way == back)
    stretches, one_sided = [], False
    for stretch in networkx.connected_components(links):
        start = min(stretch)
        side = {start: False}
        for one, other in networkx.bfs_edges(links, start):
            side[other] = side[one] ^ (True in links[one][other]["against"])
        bad = any(side[a] ^ side[b] not in {x} for a, b, xs in links.subgraph(stretch).edges(data="against") for x in xs)
        one_sided |= bad
        halves = [{f for f in stretch if side[f]}, {f for f in stretch if not side[f]}]
        least = min(map(len, halves))
        stretches.append([half for half in halves if len(half) == least])
    return stretches, one_sided


def solid_angles(triangles, at):
    t = triangles - at
    length = np.linalg.norm(t, axis=2)
    up = np.einsum("ij,ij->i", t[:, 0], np.cross(t[:, 1], t[:, 2]))
    down = length.prod(1)
    for a, b, c in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        down = down + np.einsum("ij,ij->i", t[:, a], t[:, b]) * length[:, c]
    return 2 * np.arctan2(up, down).sum() / (4 * math.pi)


class Reference:
    def __init__(self, points, faces, tolerance=0.0):
        self.points, self.faces = shared(points, faces)
        self.weld = None
        if tolerance:
            self.points, self.faces, self.weld = welded(self.points, self.faces, tolerance)
        points, faces = self.points, self.faces
        if not len(faces):
            # A tolerance larger than the body.
            return
        # A face with two equal corners has no sides that could be open.
        self.real = np.flatnonzero(~has_equal_corners(faces))
        mesh = self.mesh = trimesh.Trimesh(points, faces[self.real], process=False, validate=False)
        assert len(mesh.faces) == len(self.real)
        edges = mesh.edges_sorted
        alone = trimesh.grouping.group_rows(edges, require_count=1)
        self.open = points[edges[alone]].mean(1)
        many = np.bincount(mesh.edges_unique_inverse, minlength=len(mesh.edges_unique)) > 2
        self.crowded = points[mesh.edges_unique[many]].mean(1)
        self.closed, self.consistent = mesh.is_watertight, mesh.is_winding_consistent
        doubles = ~trimesh.Trimesh(points, faces, process=False, validate=False).unique_faces()
        self.duplicate = points[faces[doubles]].mean(1)
        self.needles()
        on_edge = defaultdict(list)
        for number, row in enumerate(mesh.edges):
            on_edge[tuple(sorted(row))].append((int(self.real[number // 3]), row[0] < row[1]))
        self.stretches, self.one_sided = to_turn(faces, [e for e in on_edge.values() if len(e) == 2])
        chain = [(e[0][0], other) for e in on_edge.values() for other, _ in e[1:]]
        hang = networkx.Graph(chain)
        hang.add_nodes_from(range(len(faces)))
        self.pieces = sorted(map(sorted, networkx.connected_components(hang)))
        pairs = near_pairs(points, faces)
        self.crossing, self.general = crossing_pairs(points, faces, pairs)
        self.overlap, self.maybe_overlap = overlap_pairs(points, faces, pairs)
        self.clean = (self.closed and self.consistent and not self.degenerate.any() and not len(self.crossing)
                      and not len(self.overlap) and not len(self.duplicate))

    def needles(self):
        """Faces without area: exactly, and as trimesh has it, which calls needles of rounding so too. What lies between
        the two encloses nothing and is levelled as it is: either answer is right."""
        triangles = self.points[self.faces]
        self.degenerate = np.zeros(len(triangles), dtype=bool)
        self.maybe = ~trimesh.triangles.nondegenerate(triangles, height=1e-12 * np.abs(triangles).max())
        for at in np.flatnonzero(self.maybe):
            a, b, c = (exact(p) for p in triangles[at])
            self.degenerate[at] = not any(cross(minus(b, a), minus(c, a)))

    def expect_overlaps(self, told, of):
        least, most = (len(pairs - self.crossing) for pairs in (self.overlap, self.maybe_overlap))
        if not least <= told <= most:
            expect(f"overlap{of}", told, (least, most))

    def volume(self, piece, middle):
        body = trimesh.Trimesh(self.points - middle, self.faces[piece], process=False, validate=False)
        return float(body.volume)

    def bounds_room(self, piece):
        """Whether the piece is closed and of one mind: of others the volume depends on where one stands."""
        body = trimesh.Trimesh(self.points, self.faces[piece], process=False, validate=False)
        return body.is_watertight and body.is_winding_consistent

    def depth(self, number):
        at = self.points[self.faces[self.pieces[number][0]][0]]
        others = [piece for other, piece in enumerate(self.pieces) if other != number]
        return sum(abs(solid_angles(self.points[self.faces[piece]], at)) > 0.5 for piece in others)


class Differs(Exception):
    pass


def expect(what, told, right):
    if told != right:
        raise Differs(f"{what}: told {told}, reference {right}")


def told_places(what, found, right, within=1e-12):
    """The first places that are told are different ones of the reference's."""
    expect(f"places of {what}", len(found["places"]), min(3, found["count"]))
    taken = set()
    for place in found["places"]:
        off = np.linalg.norm(np.asarray(right) - place, axis=1)
        off[list(taken)] = np.inf
        if not off.min() <= within * (1 + np.abs(place).max()):
            raise Differs(f"{what} at {place}, {off.min():.1e} m from the nearest of the reference")
        taken.add(int(off.argmin()))


def compare(found, right, counts):
    expect("faces", found["faces"], len(right.faces))
    if right.weld:
        for key in ("merged", "dropped"):
            expect(f"weld {key}", found["weld"][key], right.weld[key])
        same("farthest welded", found["weld"]["farthest"], right.weld["farthest"], 1e-12 * right.weld["farthest"])
        counts["welded"] += 1
    if not len(right.faces):
        return
    for what in ("open", "crowded", "duplicate"):
        expect(what, found[what]["count"], len(getattr(right, what)))
        told_places(what, found[what], getattr(right, what))
    closed = found["open"]["count"] == 0 and found["crowded"]["count"] == 0
    expect("closed", closed, right.closed)
    least, most = int(right.degenerate.sum()), int(right.maybe.sum())
    if not least <= found["degenerate"]["count"] <= most:
        expect("degenerate", found["degenerate"]["count"], (least, most))
    told_places("degenerate", found["degenerate"], right.points[right.faces[right.maybe, 0]])
    expect("consistent", found["turned"]["count"] == 0, right.consistent)
    if not right.one_sided:
        expect("turned", found["turned"]["count"], sum(len(s[0]) for s in right.stretches))
        over = sorted({face for stretch in right.stretches for half in stretch for face in half})
        told_places("turned", found["turned"], right.points[right.faces[over]].mean(1))
    # Between the two bounds of needles it is ours to say.
    right.clean &= found["degenerate"]["count"] == 0
    inside, on = found["crossing"]["count"], found["overlap"]["count"]
    if right.general:
        expect("crossing", inside, len(right.crossing))
    elif inside < len(right.crossing):
        expect("crossing at least", inside, len(right.crossing))
    right.expect_overlaps(on, "")
    for what, pairs in (("crossing", right.crossing), ("overlap", right.maybe_overlap)):
        if what == "overlap" or right.general:
            on_pairs(what, found[what], right, pairs)
    expect("pieces", len(found["pieces"]), len(right.pieces))
    used = np.unique(right.faces)
    low, high = right.points[used].min(0), right.points[used].max(0)
    scale = np.prod(high - low)
    for number, (piece, own) in enumerate(zip(found["pieces"], right.pieces)):
        expect("faces of a piece", piece["faces"], len(own))
        expect("corner of a piece", piece["at"], right.points[right.faces[own[0], 0]].tolist())
        if not right.bounds_room(own):
            continue
        volume = right.volume(own, (low + high) / 2)
        if not abs(piece["volume"] - volume) <= 1e-12 * scale:
            raise Differs(f"volume {piece['volume']} {volume}")
        if right.clean and right.general:
            expect("depth", piece["depth"], right.depth(number))
            expect("right", piece["right"], (volume > 0) == (piece["depth"] % 2 == 0))
    if right.clean:
        expect("levelled", found["problem"] == "", right.mesh.volume > 0)
    elif not right.closed and len(right.open):
        # Nothing that is open elsewhere than in the rail plane may get a volume from the cut.
        expect("levelled", found["problem"] in ("OpenEdges", "Degenerate"), True)
        ends = right.points[right.mesh.edges_sorted[trimesh.grouping.group_rows(right.mesh.edges_sorted, require_count=1)]]
        if (ends[:, :, 2] != 0).any():
            expect("halves of an open mesh", isinstance(found["halves"], str), True)
    for what in ("degenerate", "duplicate", "open", "crowded", "turned", "crossing", "overlap"):
        counts[what] += found[what]["count"]
    if right.clean and all(piece["right"] for piece in found["pieces"]):
        cut(found, right, counts)


def lies_in(place, triangles):
    """Which triangles a place lies in, by the areas of the three that it makes with their sides."""
    t = triangles - place
    area = np.linalg.norm(np.cross(t[:, 1] - t[:, 0], t[:, 2] - t[:, 0]), axis=1)
    parts = sum(np.linalg.norm(np.cross(t[:, k], t[:, (k + 1) % 3]), axis=1) for k in range(3))
    around = np.linalg.norm(t - np.roll(t, 1, 1), axis=2).sum(1)
    return set(np.flatnonzero(parts - area <= 1e-12 * np.abs(triangles).max() * around).tolist())


def on_pairs(what, found, right, pairs):
    """A place that is told lies in both faces of a pair that clashes."""
    expect(f"places of {what}", len(found["places"]), min(3, found["count"]))
    for place in found["places"]:
        at = lies_in(place, right.points[right.faces])
        if not any(a in at and b in at for a, b in pairs):
            raise Differs(f"{what} at {place}, where no pair of the reference is")


def solid(points, faces):
    body = Manifold(manifold3d.Mesh64(vert_properties=np.ascontiguousarray(points),
                                      tri_verts=np.ascontiguousarray(faces, dtype=np.uint64)))
    assert body.status() == manifold3d.Error.NoError, body.status()
    return body


def cut(found, right, counts):
    expect("cut at the rail", isinstance(found["halves"], list), True)
    body = solid(right.points, right.faces)
    for side, half in zip((-1.0, 1.0), found["halves"]):
        volume = body.trim_by_plane((0.0, 0.0, side), 0.0).volume()
        if not abs(half - volume) <= 1e-9 * body.volume():
            raise Differs(f"half {half} {volume}")
    counts["cut"] += 1


def ask(told, meshes):
    text = []
    for points, faces, tolerance in meshes:
        text.append(f"{len(points)} {len(faces)} {float(tolerance)!r}")
        text += [" ".join(map(repr, row)) for row in points.tolist()]
        text += [" ".join(map(str, row)) for row in faces.tolist()]
    run = subprocess.run([told, "diagnoses"], input="\n".join(text), capture_output=True, text=True, check=True)
    return [json.loads(line) for line in run.stdout.splitlines()]


def bodies(told, count):
    rng = np.random.default_rng([SEED, 11])
    made = [make(rng) for _ in range(count)]
    answers = ask(told, [mesh[2:] for mesh in made])
    expect("answers", len(answers), count)
    counts, ways, wrong = Counter(), Counter(), 0
    for number, (mesh, found) in enumerate(zip(made, answers)):
        kind, names, points, faces, tolerance = mesh
        ways.update(names)
        try:
            compare(found, Reference(points, faces, tolerance), counts)
        except Differs as difference:
            wrong += 1
            print(f"mesh {number}, {kind} {'+'.join(names) or 'whole'}: {difference}")
    print(f"{count} meshes, {sum(ways.values())} breakages of {len(ways)} kinds; found and compared:",
          ", ".join(f"{value} {key}" for key, value in counts.items()))
    print("breakages:", ", ".join(f"{value} {key}" for key, value in sorted(ways.items())))
    return wrong


# Bodies of which the truth is known by their making.

def blocks(told, count):
    """Two blocks on a coarse grid: whether their surfaces pass through each other is a matter of intervals."""
    rng, pairs, meshes = np.random.default_rng([SEED, 12]), [], []
    while len(pairs) < count:
        low, size = rng.integers(0, 5, (2, 3)), rng.integers(1, 5, (2, 3))
        high = low + size
        if (low[0] == low[1]).all() and (high[0] == high[1]).all():
            continue
        pairs.append((low, high))
        boxes = [trimesh.creation.box(bounds=b) for b in zip(low / 64, high / 64)]
        meshes.append((*together(*[(np.array(b.vertices), np.array(b.faces)) for b in boxes]), 0.0))
    wrong, kinds = 0, Counter()
    for (low, high), found in zip(pairs, ask(told, meshes)):
        meet = (np.maximum(*low) < np.minimum(*high)).all()
        within = any((low[i] <= low[1 - i]).all() and (high[1 - i] <= high[i]).all() for i in (0, 1))
        kind = "apart or touching" if not meet else "within" if within else "crossing"
        kinds[kind] += 1
        crossing, overlap = found["crossing"]["count"], found["overlap"]["count"]
        # A block that goes through another with a face in common may be told as lying on it.
        if (crossing + overlap == 0) if kind == "crossing" else (crossing != 0):
            wrong += 1
            print(f"blocks {low.tolist()} to {high.tolist()} are {kind}: {crossing} crossings, {overlap} overlaps")
    print(f"{count} pairs of blocks:", ", ".join(f"{value} {key}" for key, value in kinds.items()))
    return wrong


def parts(told, count):
    """Whole pans, metal inside: the hollow below the rail, with and without a hole in the floor, with a face left out."""
    rng, meshes, rooms = np.random.default_rng([SEED, 13]), [], []
    for number in range(count):
        size, wall = rng.uniform(0.1, 0.3, 3) * [1, 1, 0.5], rng.uniform(0.002, 0.01)
        points = np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 0)]) * size / [2, 2, 1]
        inner = Manifold.hull_points(np.vstack([points * [1, 1, 0] + [0, 0, 0.02], points * [0.8, 0.7, 1]]))
        outer = inner.scale((1.2, 1.2, 1.0)).translate((0, 0, -wall)).trim_by_plane((0.0, 0.0, -1.0), -rng.uniform(0, 0.01))
        part, hole = outer - inner, number % 3 == 1
        if hole:
            part -= Manifold.cylinder(1.0, 0.005).translate((0, 0, -1.0 - size[2] / 2))
        points, faces = of_manifold(part)
        if number % 3 == 2:
            below = np.flatnonzero(points[faces][:, :, 2].max(1) < 0)
            faces = np.delete(faces, rng.choice(below), 0)
        meshes.append((points, faces, 0.0))
        rooms.append([inner.trim_by_plane((0.0, 0.0, -1.0), 0.0).volume(), "NoHollow", "Open"][number % 3])
    wrong = 0
    for number, (room, found) in enumerate(zip(rooms, ask(told, meshes))):
        hollow = found["hollow"]
        # Where the missing face is in the outer skin, the inner may still be whole; a diagnosis comes before the cut.
        right = (abs(hollow - room) <= 1e-9 * room if isinstance(room, float) and isinstance(hollow, float)
                 else hollow == room if room == "NoHollow" else found["problem"] == "OpenEdges" and found["open"]["count"] == 3)
        if not right:
            wrong += 1
            print(f"part {number}: hollow {hollow}, reference {room}, {found['problem']}")
    print(f"{count} whole pans: hollow, drilled through, open")
    return wrong


# The program, on files.

SAYS = {
    "open": r"the mesh is open along (\d+) edges?: ",
    "crowded": r"more than two faces meet at (\d+) edges?: ",
    "turned": r"^(\d+) faces? (?:is|are) turned against the neighbours: ",
    "duplicate": r"^(\d+) faces? (?:is|are) there twice: ",
    "degenerate": r"^(\d+) faces? (?:has|have) no area: ",
    "crossing": r"the mesh passes through itself: (\d+) pairs? of faces cross(?:es)?: ",
    "overlap": r"^(\d+) pairs? of faces (?:lies|lie) in one plane on each other: ",
}
NUMBER = r"(-?[\d.]+) mm"
UNITS = {"mm": (1.0, 1e3), "cm": (1.0, 1e2), "m": (1.0, 1.0), "in": (254.0, 1e4), "ft": (3048.0, 1e4), "µm": (1.0, 1e6)}


def oil_space():
    """A pan's room with a shelf and a sump, in metres."""
    body = (Manifold.cube((0.412, 0.268, 0.042)).translate((-0.206, -0.134, -0.042))
            + Manifold.cube((0.230, 0.236, 0.078)).translate((-0.095, -0.118, -0.078)))
    points, faces = of_manifold(body)
    points = np.round(points, 6)
    # Smaller faces, for breakages to be small.
    return trimesh.remesh.subdivide(points, faces)


def written(folder, form, points, faces):
    """A file of a form, by trimesh where that can write it; what it holds as trimesh reads it."""
    mesh = trimesh.Trimesh(points, faces, process=False, validate=False)
    name = {"binary": "a.stl", "text": "a.stl", "obj": "a.obj", "3mf": "a.3mf"}[form]
    path = folder / name
    if form == "3mf":
        vertices = "".join(f'<vertex x="{x!r}" y="{y!r}" z="{z!r}"/>' for x, y, z in points.tolist())
        triangles = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in faces.tolist())
        with zipfile.ZipFile(path, "w") as archive:
            archive.writestr("3D/3dmodel.model", '<?xml version="1.0"?><model unit="millimeter"><resources><object id="1" '
                             f'type="model"><mesh><vertices>{vertices}</vertices><triangles>{triangles}</triangles></mesh>'
                             '</object></resources><build><item objectid="1"/></build></model>')
        return name, points, faces
    if form == "binary":
        path.write_bytes(mesh.export(file_type="stl"))
    elif form == "text":
        path.write_text(mesh.export(file_type="stl_ascii"))
    else:
        path.write_text(mesh.export(file_type="obj", digits=9))
    read = trimesh.load_mesh(path, process=False, validate=False)
    return name, np.array(read.vertices, dtype=float), np.array(read.faces)


class Program:
    def __init__(self, program, folder):
        self.program, self.folder = str(Path(program).resolve()), Path(folder)
        for kind, name in (("vehicles", "brindle"), ("oils", "trail"), ("duties", "rock-trail"), ("pans", "stock-stamped")):
            (self.folder / kind).mkdir(exist_ok=True)
            text = (ROOT / "fixtures" / kind / f"{name}.yaml").read_text()
            (self.folder / kind / f"{name}.yaml").write_text(text)
        # Without the magnet, which some changes of the floor would hit: that is another error.
        text = re.sub(r"(?m)^magnet: .*$", "magnet: none", text)
        before, rest = text.split("interior:\n", 1)
        self.around = before, rest.split("\nwall:", 1)[1]
        self.runs = 0

    def measure(self, mesh):
        text = f"{self.around[0]}interior:\n  mesh: {{ {mesh} }}\n  displaced: none\nwall:{self.around[1]}"
        (self.folder / "pans" / "broken.yaml").write_text(text)
        run = subprocess.run([self.program, "measure", "pans/broken.yaml", "--format", "json"], cwd=self.folder,
                             capture_output=True, text=True)
        self.runs += 1
        return run.returncode, json.loads(run.stdout)


def places_of(message):
    return [[float(x) for x in place] for place in re.findall(f"x {NUMBER}, y {NUMBER}, z {NUMBER}", message)]


def refused(code, result, codes):
    """Exit 2, nothing judged, each error at the key of the mesh."""
    expect("exit", code, 2)
    expect("pans judged", result["pans"], [])
    errors = [problem for problem in result["problems"] if problem["severity"] == "error"]
    for problem in errors:
        expect("file of the error", problem["place"]["path"], "pans/broken.yaml")
        if codes and problem["code"] not in codes:
            raise Differs(f"{problem['code']}: {problem['message']}")
    return errors


def judged(code, result):
    if code == 2 or len(result["pans"]) != 1:
        raise Differs(f"exit {code}: {[problem['message'] for problem in result['problems']]}")
    pan = result["pans"][0]
    volume = next(m for m in pan["measures"] if m["measure"] == "interior.volume")["reading"]["value"]
    return volume, pan["notes"]


def same(what, told, right, within):
    if not abs(told - right) <= within:
        raise Differs(f"{what}: {told}, reference {right}")


def broken_file(program, rng, form, counts):
    """A file broken in a way, drawn along other axes, somewhere else, in another unit: counts and places are told in the
    pan's frame."""
    points, faces = oil_space()
    ways = [left_out, turned, twice, equal_corners, on_a_line, split_far, crosses, lies_on, fins]
    names = []
    for way in rng.choice(len(ways), int(rng.integers(1, 3)), replace=False):
        points, faces = ways[way](rng, points, faces, {})
        names.append(ways[way].__name__)
    forward, up = rng.choice(3, 2, replace=False)
    ahead, high = (np.eye(3)[axis] * rng.choice([-1, 1]) for axis in (forward, up))
    frame = np.array([ahead, np.cross(high, ahead), high])
    shift = np.round(rng.uniform(-0.5, 0.5, 3), 3) + 0.0
    unit = "mm" if form == "3mf" else list(UNITS)[rng.integers(len(UNITS))]
    times, over = UNITS[unit]
    name, drawn, faces = written(program.folder / "pans", form, (points - shift) @ frame * over / times, faces)
    axis = lambda way: ("-" if way.min() < 0 else "") + "xyz"[int(np.abs(way).argmax())]
    moved = ", ".join(f"{letter}: {value:.3f} m" for letter, value in zip("xyz", shift))
    code, result = program.measure(f"file: {name}, unit: {unit}, of: oil space, forward: {axis(ahead)}, up: {axis(high)}, "
                                   f"moved: {{ {moved} }}")
    right = Reference(drawn @ frame.T * times / over, faces)
    place = lambda rows: (np.asarray(rows).reshape(-1, 3) + shift) * 1e3
    where = {"open": right.open, "crowded": right.crowded, "duplicate": right.duplicate,
             "degenerate": right.points[right.faces[right.maybe, 0]]}
    over_turned = sorted({face for stretch in right.stretches for half in stretch for face in half})
    where["turned"] = right.points[right.faces[over_turned]].mean(1)
    number = {"open": len(right.open), "crowded": len(right.crowded), "duplicate": len(right.duplicate),
              "turned": sum(len(s[0]) for s in right.stretches), "crossing": len(right.crossing)}
    if right.clean and result["pans"]:
        # Needles of rounding, and nothing else: what they leave is levelled.
        same("volume", judged(code, result)[0], right.mesh.volume, 1e-6 * right.mesh.volume)
        return False
    errors = refused(code, result, {"mesh-open", "mesh-faulty", "mesh-turned", "mesh-crosses"})
    told = {}
    for problem in errors:
        for what, says in SAYS.items():
            if match := re.search(says, problem["message"]):
                told[what] = int(match[1]), places_of(problem["message"])
    expect("errors that are understood", len(told), len(errors))
    for what, count in number.items():
        if what == "crossing" and not right.general:
            continue
        expect(f"{what} in {names}", told.get(what, (0,))[0], count)
    right.expect_overlaps(told.get("overlap", (0,))[0], f" in {names}")
    if not right.degenerate.sum() <= told.get("degenerate", (0,))[0] <= right.maybe.sum():
        raise Differs(f"degenerate {told.get('degenerate')}, reference {right.degenerate.sum()}, {right.maybe.sum()}")
    for what, (count, places) in told.items():
        expect(f"places of {what}", len(places), min(3, count))
        for at in places:
            if what in where:
                off = np.abs(place(where[what]) - at).max(1).min()
            else:
                pairs = right.crossing if what == "crossing" else right.maybe_overlap
                off = 0.0 if near_pair(np.array(at), place(right.points[right.faces]).reshape(-1, 3, 3), pairs) else math.inf
            same(f"{what} at {at} mm", off, 0.0, 0.00501)
        counts[what] += 1
    return True


def near_pair(at, triangles, pairs):
    """Whether a place, told to a hundredth of a millimetre, is near both faces of a pair."""
    near = trimesh.triangles.closest_point(triangles, np.tile(at, (len(triangles), 1)))
    close = set(np.flatnonzero(np.linalg.norm(near - at, axis=1) < 0.01).tolist())
    return any(a in close and b in close for a, b in pairs)


def repairs(program, rng, form, counts):
    """What may be stated puts a mesh right, and is told; without it nothing is judged."""
    points, faces = oil_space()
    volume = solid(points, faces).volume()
    file, key = lambda p, f: written(program.folder / "pans", form, p * 1e3, f), "unit: mm, of: oil space"
    name = file(points, faces)[0]
    same("volume", judged(*program.measure(f"file: {name}, {key}"))[0], volume, 1e-8 * volume)

    # Split corners: refused, closed by the tolerance that is told, and by one of our own.
    told = {}
    while True:
        apart, split_faces = split(rng, points, faces, told, 0.4)
        # Corners on the rail are put back on it, which is another matter.
        if told["tolerance"] and apart[len(points):, 2].max() < -0.001:
            break
    tolerance = told["tolerance"]
    _, drawn, split_faces = file(apart, split_faces)
    errors = refused(*program.measure(f"file: {name}, {key}"), {"mesh-open", "mesh-crosses", "mesh-turned"})
    help_ = " ".join(problem["help"] or "" for problem in errors)
    offered = re.search(r"add `(weld: ([\d.]+) mm)`", help_)
    gap = Reference(drawn / 1e3, split_faces, tolerance)
    if offered:
        if not float(offered[2]) > 0:
            raise Differs(f"offered {offered[1]}")
        same("volume as offered", judged(*program.measure(f"file: {name}, {key}, {offered[1]}"))[0], volume, 1e-3 * volume)
    elif tolerance <= 5e-4:
        raise Differs(f"no tolerance offered for {tolerance}: {help_}")
    read, notes = judged(*program.measure(f"file: {name}, {key}, weld: {tolerance * 1e3:.6f} mm"))
    same("volume when welded", read, gap.mesh.volume, 1e-9 * volume)
    note = next(note for note in notes if "became one" in note)
    did = re.search(r"nearer than ([\d.]+) mm became one: (\d+) of \d+ corners were moved, by ([\d.]+) mm at most, and (\d+) "
                    "faces", note)
    expect("weld", (int(did[2]), int(did[4])), (gap.weld["merged"], gap.weld["dropped"]))
    same("tolerance", float(did[1]), tolerance * 1e3, 1e-9)
    same("farthest", float(did[3]), gap.weld["farthest"] * 1e3, 0.006 * gap.weld["farthest"] * 1e3)
    refused(*program.measure(f"file: {name}, {key}, weld: {tolerance * 1e2:.7f} mm"), {"mesh-open", "mesh-crosses", "mesh-turned"})

    # An edge that fell together is welded away.
    a, b, _ = faces[rng.integers(len(faces))]
    fallen = np.where(faces == b, a, faces)
    name, _, _ = file(points, fallen)
    errors = refused(*program.measure(f"file: {name}, {key}"), {"mesh-faulty", "mesh-crosses", "mesh-turned", "mesh-open"})
    needles = next(problem for problem in errors if "no area" in problem["message"])
    whole = Reference(points, fallen, 1e-6)
    if whole.clean:
        expect("offered", "add `weld: 0.001 mm`" in needles["help"], True)
        code, result = program.measure(f"file: {name}, {key}, weld: 0.001 mm")
        same("volume", judged(code, result)[0], whole.mesh.volume, 1e-8 * volume)
        counts["welded away"] += 1

    # Inside out.
    file(points, faces[:, ::-1])
    errors = refused(*program.measure(f"file: {name}, {key}"), {"mesh-turned"})
    same("litres", float(re.search(r"inside out: it encloses (\S+) L", errors[0]["message"])[1]), -volume * 1e3, 5.01e-4)
    read, notes = judged(*program.measure(f"file: {name}, {key}, normals: inward"))
    same("volume when turned", read, volume, 1e-8 * volume)
    expect("told", any("was turned" in note for note in notes), True)
    file(points, faces)
    refused(*program.measure(f"file: {name}, {key}, normals: inward"), {"mesh-turned"})

    # Bodies in the room: turned outward they would count twice, turned inward they take room away; beside it is no pan.
    extra = [(box.vertices * 0.004 + [0.05 * number - 0.05, 0.01, -0.02], np.array(box.faces))
             for number, box in enumerate([trimesh.creation.icosphere(1)] * int(rng.integers(1, 4)))]
    taken = sum(solid(*body).volume() for body in extra)
    inward = [(p, f[:, ::-1]) for p, f in extra]
    aside = [(p + [0.3, 0, 0], f) for p, f in extra]
    file(*together((points, faces), *inward))
    same("volume less voids", judged(*program.measure(f"file: {name}, {key}"))[0], volume - taken, 1e-7 * volume)
    for others, says in ((extra, r"^(\d+) bod\w+ lies? inside another"), (aside, r"holds (\d+) bodies apart"),
                         ([(p, f[:, ::-1]) for p, f in aside], r"^(\d+) bod\w+ (?:is|are) inside out")):
        file(*together((points, faces), *others))
        errors = refused(*program.measure(f"file: {name}, {key}"), {"mesh-bodies", "mesh-turned"})
        expect("bodies", int(re.search(says, errors[0]["message"])[1]), len(others) + ("apart" in says))
        litres = [float(x) for x in re.findall(r"(\S+) L at", errors[0]["message"])]
        right = ([volume] if "apart" in says else []) + [solid(*body).volume() for body in extra]
        for one, other in zip(litres, right):
            same("litres of a body", one, other * 1e3, 5.01e-4)
        expect("bodies told", len(litres), min(3, len(right)))

    # Upside down, and drawn so.
    over = points * [1, -1, -1]
    file(over, faces)
    refused(*program.measure(f"file: {name}, {key}"), {"mesh-rail"})
    same("volume", judged(*program.measure(f"file: {name}, {key}, up: -z"))[0], volume, 1e-8 * volume)

    # A rail that is elsewhere, and the move that is told.
    height = round(rng.uniform(0.001, 0.3), 4)
    file(points + [0, 0, height], faces)
    errors = refused(*program.measure(f"file: {name}, {key}"), {"mesh-rail"})
    same("rail", float(re.search(f"at z {NUMBER} and", errors[0]["message"])[1]), height * 1e3, 0.00501)
    moved = re.search(r"`(moved: \{[^}]*\})`", errors[0]["help"])[1]
    same("volume", judged(*program.measure(f"file: {name}, {key}, {moved}"))[0], volume, 1e-5 * volume)

    # A wrong unit: no pan is so large or so small; one that is only odd is judged, and said.
    if form != "3mf":
        for drawn, stated, severity in (("mm", "in", "error"), ("mm", "m", "error"), ("m", "mm", "error"), ("mm", "cm", "error"),
                                        ("in", "mm", "warning"), ("cm", "mm", "warning")):
            times, per = UNITS[drawn]
            written(program.folder / "pans", form, points * per / times, faces)
            code, result = program.measure(f"file: {name}, unit: {stated}, of: oil space")
            found = [p for p in result["problems"] if p["code"] == "mesh-unit"]
            expect(f"{drawn} read as {stated}", [p["severity"] for p in found], [severity])
            if severity == "error":
                refused(code, result, {"mesh-unit"})
                expect("unit meant", "would be 412 mm" in found[0]["help"], True)
    else:
        file(points / 25.4, faces)
        code, result = program.measure(f"file: {name}, of: oil space")
        expect("odd", [p["severity"] for p in result["problems"] if p["code"] == "mesh-unit"], ["warning"])
        file(points * 25.4, faces)
        refused(*program.measure(f"file: {name}, of: oil space"), {"mesh-unit"})


def torn(program, rng):
    """Files that are no mesh: the byte or the line is told."""
    points, faces = oil_space()
    pans = program.folder / "pans"
    written(pans, "binary", points * 1e3, faces)
    data = (pans / "a.stl").read_bytes()
    for cut in (len(data) - 1, len(data) - 50 * int(rng.integers(1, 9)), 84, 83):
        (pans / "a.stl").write_bytes(data[:cut])
        refused(*program.measure("file: a.stl, unit: mm, of: oil space"), {"mesh-unreadable"})
    (pans / "a.stl").write_bytes(data[:96] + struct.pack("<f", math.nan) + data[100:])
    errors = refused(*program.measure("file: a.stl, unit: mm, of: oil space"), {"mesh-unreadable"})
    expect("byte", "96" in errors[0]["message"], True)
    written(pans, "obj", points * 1e3, faces)
    lines = (pans / "a.obj").read_text().splitlines()
    at = next(number for number, line in enumerate(lines) if line.startswith("f "))
    for wrong in (f"f 1 2 {len(points) + 1}", "f 1 2", "f 1 2 x", "f 0 1 2"):
        (pans / "a.obj").write_text("\n".join([*lines[:at + 2], wrong, *lines[at + 3:]]) + "\n")
        errors = refused(*program.measure("file: a.obj, unit: mm, of: oil space"), {"mesh-unreadable"})
        expect(f"line of {wrong}", f"line {at + 3}" in errors[0]["message"], True)


def files(path, count):
    rng, wrong, counts, forms = np.random.default_rng([SEED, 14]), 0, Counter(), ["binary", "text", "obj", "3mf"]
    with tempfile.TemporaryDirectory() as folder:
        program = Program(path, folder)
        for number in range(count):
            form = forms[number % 4]
            try:
                counts["files"] += broken_file(program, rng, form, counts)
            except Differs as difference:
                wrong += 1
                print(f"file {number}, {form}: {difference}")
        for form in forms * 3:
            try:
                repairs(program, rng, form, counts)
            except Differs as difference:
                wrong += 1
                print(f"repairs of {form}: {difference}")
        try:
            torn(program, rng)
        except Differs as difference:
            wrong += 1
            print(f"torn: {difference}")
        print(f"{program.runs} runs of the program; told of {counts.pop('files')} broken files:",
              ", ".join(f"{value} {key}" for key, value in counts.items()))
    return wrong


def exported(told, count):
    """Sound bodies as a drawing program exports them: cut and joined with cylinders and bars, in single precision."""
    rng, meshes, volumes = np.random.default_rng([SEED, 1]), [], []
    for number in range(count):
        body = Manifold.cube([400, 260, 60], True)
        body += Manifold.cube([220, 230, 60], True).translate([rng.uniform(-40, 40), 0, -50])
        for _ in range(rng.integers(3, 9)):
            size = [rng.uniform(20, 120), rng.uniform(8, 40), rng.uniform(6, 40)]
            at = [rng.uniform(-180, 180), rng.uniform(-110, 110), rng.uniform(-60, 0)]
            round_one = Manifold.cylinder(*size, 48, True).translate(at)
            body = body + round_one if rng.random() < 0.5 else body - round_one
        for _ in range(3):
            bar = Manifold.cube([rng.uniform(5, 200), rng.uniform(2, 8), 40], True)
            bar = bar.rotate([rng.uniform(-8, 8), rng.uniform(-8, 8), rng.uniform(0, 180)])
            body -= bar.translate([rng.uniform(-100, 100), rng.uniform(-80, 80), -50])
        if number >= count // 2:
            body = body.rotate([rng.uniform(0, 20), rng.uniform(0, 20), rng.uniform(0, 360)])
        mesh = body.to_mesh64()
        points = np.asarray(mesh.vert_properties)[:, :3].astype(np.float32).astype(float) / 1e3
        points, shared = np.unique(points, axis=0, return_inverse=True)
        meshes.append((points, shared.reshape(-1)[np.asarray(mesh.tri_verts)], 0.0))
        volumes.append(body.volume() / 1e9)
    wrong = 0
    for number, (found, volume) in enumerate(zip(ask(told, meshes), volumes)):
        faults = {key: value["count"] for key, value in found.items()
                  if isinstance(value, dict) and value["count"]}
        own = sum(piece["volume"] for piece in found["pieces"])
        if faults or not abs(own - volume) <= 1e-6 * volume:
            wrong += 1
            print(f"exported {number}: {faults} {own} {volume}")
    print(f"{count} bodies in single precision: without a fault, and of their volume")
    return wrong


def main():
    told, program, count = sys.argv[1], sys.argv[2], int(sys.argv[3]) if len(sys.argv) > 3 else 400
    wrong = bodies(told, count) + blocks(told, count) + parts(told, 30) + exported(told, 200) + files(program, count // 4)
    print(f"{wrong} differences")
    sys.exit(wrong > 0)


main()
