"""Volumes, levels and rim depths of random pans, against a general-purpose mesh library.

The pans are random drafted zones without arcs, nested, overlapping and sticking out, with a displaced box, a case
above the rail with its free share, and random attitudes. The reference builds every zone as a convex hull, unites
them by exact booleans (manifold3d), cuts by the oil plane, and finds the level by bisection. Nothing is shared with
the program under test but the pan's own file.

Usage: levels.py PROGRAM [COUNT [SEED]]; needs numpy and manifold3d. Exit 1 where one value is off by more than LIMIT.
"""

import json
import math
import random
import subprocess
import sys
import tempfile
from pathlib import Path

import manifold3d
import numpy as np

# Relative to the pan's volume, and to 1 m for heights. The reference's booleans work with a tolerance of their own.
LIMIT = 1e-9
GRAVITY = 9.80665


def hull(points):
    return manifold3d.Manifold.hull_points(np.array(points, dtype=np.float64))


def zone_body(x0, x1, y0, y1, opens, floor, draft):
    """Column to the rail above `opens`, drafted walls below: convex, so that its hull is the body itself."""
    inset = (floor - opens) * math.tan(draft)
    top = [(x, y, z) for x in (x0, x1) for y in (y0, y1) for z in (0.0, -opens)]
    bottom = [(x, y, -floor) for x in (x0 + inset, x1 - inset) for y in (y0 + inset, y1 - inset)]
    return hull(top + bottom)


def block(x0, x1, y0, y1, z0, z1):
    return hull([(x, y, z) for x in (x0, x1) for y in (y0, y1) for z in (z0, z1)])


def below(parts, up, height):
    """Weighted volume below the plane up·x = height."""
    return sum(w * body.trim_by_plane(tuple(-up), -height).volume() for w, body in parts)


def level(parts, up, volume):
    low, high = -2.0, 2.0
    for _ in range(70):
        middle = (low + high) / 2
        if below(parts, up, middle) < volume:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def make(rng):
    """A pan in millimetres and degrees, kept away from touching faces."""
    length, width = rng.uniform(300, 450), rng.uniform(200, 300)
    shelf = rng.uniform(30, 50)
    zones = [(-length / 2, length / 2, -width / 2, width / 2, 0.0, shelf, rng.uniform(0, 8))]
    for _ in range(rng.randint(1, 3)):
        w, d = rng.uniform(0.3, 0.6) * length, rng.uniform(0.4, 0.8) * width
        cx, cy = rng.uniform(-0.25, 0.25) * length, rng.uniform(-0.15, 0.15) * width
        zones.append((cx - w / 2, cx + w / 2, cy - d / 2, cy + d / 2, shelf,
                      shelf + rng.uniform(15, 70), rng.uniform(0, 12)))
    box = (rng.uniform(60, 120), rng.uniform(60, 120), rng.uniform(8, shelf - 14))
    return {
        "length": length, "width": width, "zones": zones, "box": box,
        "case": (length - 20, width - 20, rng.uniform(60, 100), rng.uniform(0.3, 0.8)),
        "inlet": (rng.uniform(-40, 40), rng.uniform(-20, 20), shelf - 3, rng.uniform(20, 34)),
        "nose_up": rng.uniform(-4, 6), "share": rng.uniform(0.35, 0.95),
        "states": [(rng.uniform(-35, 35), rng.uniform(-25, 25), rng.uniform(-0.4, 0.4)) for _ in range(4)],
    }


def bodies(p):
    mm = 1e-3
    space = None
    for x0, x1, y0, y1, opens, floor, draft in p["zones"]:
        body = zone_body(x0 * mm, x1 * mm, y0 * mm, y1 * mm, opens * mm, floor * mm, math.radians(draft))
        space = body if space is None else space + body
    bx, by, bz = (v * mm for v in p["box"])
    box = block(-bx / 2, bx / 2, -by / 2, by / 2, -0.005 - bz, -0.005)
    cx, cy, ch, share = p["case"]
    case = block(-cx * mm / 2, cx * mm / 2, -cy * mm / 2, cy * mm / 2, 0.0, ch * mm)
    return [(1.0, space), (-1.0, box), (share, case)]


def write(p, folder, litres, with_case=True):
    zones = []
    for i, (x0, x1, y0, y1, opens, floor, draft) in enumerate(p["zones"]):
        outline = "rail" if i == 0 else (
            f"{{ rectangle: [{x1 - x0!r} mm, {y1 - y0!r} mm], at: {{ x: {(x0 + x1) / 2!r} mm, y: {(y0 + y1) / 2!r} mm }} }}")
        zones.append(f"    z{i}: {{ outline: {outline}, depth: {floor!r} mm, draft: {draft!r} deg }}")
    bx, by, bz = p["box"]
    ix, iy, idepth, d = p["inlet"]
    (folder / "pan.yaml").write_text(
        "pan: 1\nvehicle: vehicle.yaml\noil: oil.yaml\nduty: duty.yaml\ninterior:\n"
        f"  rail: {{ rectangle: [{p['length']!r} mm, {p['width']!r} mm] }}\n  zones:\n" + "\n".join(zones) +
        f"\n  displaced:\n    box: {{ box: [{bx!r} mm, {by!r} mm, {bz!r} mm], at: {{ x: 0 mm, y: 0 mm, depth: 5 mm }} }}\n"
        f"pickup: {{ inlet: {{ circle: {d!r} mm, at: {{ x: {ix!r} mm, y: {iy!r} mm, depth: {idepth!r} mm }}, facing: down }} }}\n"
        f"check: {{ volume: {litres!r} L, oil_at: 40 degC, engine: running }}\n")
    cx, cy, ch, share = p["case"]
    case = f"case: {{ outline: {{ rectangle: [{cx!r} mm, {cy!r} mm] }}, height: {ch!r} mm, free_share: {share!r} }}\n"
    (folder / "vehicle.yaml").write_text(
        f"vehicle: 1\nmount: {{ nose_up: {p['nose_up']!r} deg }}\n" + (case if with_case else ""))
    (folder / "oil.yaml").write_text("oil: 1\nexpansion: 0.00072 1/K\n")
    states = []
    for i, (climb, side, push) in enumerate(p["states"]):
        slope = f"climb: {climb!r} deg" if climb >= 0 else f"descent: {-climb!r} deg"
        high = "left" if side >= 0 else "right"
        motion = f"braking: {push!r} gn" if push >= 0 else f"accelerating: {-push!r} gn"
        states.append(f"  s{i}: {{ {slope}, side_slope: {abs(side)!r} deg, high: {high}, {motion} }}")
    (folder / "duty.yaml").write_text("duty: 1\noil_temperature: 40 degC\nstates:\n" + "\n".join(states) + "\n")


def up_of(p, climb, side, push):
    s, t = math.sin(math.radians(climb)), math.sin(math.radians(side))
    v = np.array([s - push, t, math.sqrt(1 - s * s - t * t)])
    a = math.radians(p["nose_up"])
    x, z = np.array([math.cos(a), 0, math.sin(a)]), np.array([-math.sin(a), 0, math.cos(a)])
    n = np.array([v @ x, v[1], v @ z])
    return n / np.linalg.norm(n)


def measure(program, folder):
    run = subprocess.run([program, "measure", "pan.yaml", "--format", "json"], cwd=folder, capture_output=True, text=True)
    told = json.loads(run.stdout)
    if any("changes nothing" in problem["message"] for problem in told["problems"]):
        return None  # a random zone lay wholly inside a deeper one, which is refused
    assert not told["problems"], told["problems"]
    return {m["measure"]: m for m in told["pans"][0]["measures"]}


def united(parts):
    """All room for oil as one body."""
    whole = parts[0][1]
    for weight, body in parts[1:]:
        whole = whole - body if weight < 0 else whole + body
    return whole


def heights(body, up):
    return body.to_mesh64().vert_properties[:, :3] @ up


def pieces(whole, up, height):
    """The bodies of oil below a plane; a hollow comes as one of negative volume."""
    return [piece for piece in whole.trim_by_plane(tuple(-up), -height).decompose() if piece.volume() > 1e-14]


def one_pool(parts, up, height):
    """Whether what lies below the plane hangs together: only then is one level true of all oil."""
    return sum(piece.volume() > 1e-12 for piece in pieces(united(parts), up, height)) == 1


def held_back(parts, up, low, high):
    """The room up to their lips of pockets whose lowest place is above `low` and whose lip is below `high`: oil
    drawn down, or turned away, stays in them. One level for all oil would have them empty.

    Between the heights of two corners bodies neither begin nor join, so that one look below each corner is enough.
    """
    whole, found = united(parts), []
    steps = sorted({h for h in heights(whole, up) if low < h < high} | {low, high}, reverse=True)
    for upper, lower in zip(steps, steps[1:]):
        if upper - lower < 1e-8:
            continue
        below_lip = pieces(whole, up, upper - 1e-10)
        for piece in below_lip if len(below_lip) > 1 else []:
            is_known = any((piece ^ known).volume() > 0.0 for known in found)
            if not is_known and heights(piece, up).min() > low:
                found.append(piece)
    return sum(w * (body ^ piece).volume() for piece in found for w, body in parts if w > 0.0)


def off(told, parts, up, volume, height, rim):
    """How far a rim depth is from that of one level where pockets above it are empty, full, or in part full: after the
    vessel was turned from level ground they may have kept oil."""
    kept = held_back(parts, up, height, heights(united(parts), up).max())
    lowest = height if kept == 0.0 else level(parts, up, volume - kept)
    return max(told - (height - rim), lowest - rim - told)


def bounds(program, p, folder, parts, volume):
    """Largest difference of the bounds on the rim depth where nothing is said of the space above the rail (m):
    closed at the rail, and open straight up over the first zone's outline."""
    write(p, folder, volume * 1e3, with_case=False)
    readings = measure(program, folder)
    mm = 1e-3
    x, y = p["length"] * mm / 2, p["width"] * mm / 2
    worlds = [parts[:2], parts[:2] + [(1.0, block(-x, x, -y, y, 0.0, 1.5))]]
    ix, iy, idepth, d = p["inlet"]
    centre, radius, worst = np.array([ix, iy, -idepth]) * mm, d * mm / 2, 0.0
    for i, state in enumerate(p["states"]):
        up = up_of(p, *state)
        rim = up @ centre + radius * math.hypot(up[0], up[1])
        levels = [level(world, up, volume) for world in worlds]
        if not all(one_pool(world, up, h) for world, h in zip(worlds, levels)):
            continue
        meant = sorted(h - rim for h in levels)
        told = next(s for s in readings["pickup.rim_depth"]["states"] if s["state"] == f"s{i}")
        if meant[0] + LIMIT < told["low"] < 0:
            continue
        ends = zip(sorted(zip(levels, (0, 1))), (told["low"], told["high"]))
        worst = max(worst, *(off(end, worlds[at], up, volume, h, rim) for (h, at), end in ends))
    return worst


def compare(program, p, folder):
    """Largest differences: volume (share), level (m), rim depth (m), usable volume (share), bounds (m)."""
    parts = bodies(p)
    pan_volume = below(parts[:2], np.array([0.0, 0.0, 1.0]), 1.0)
    volume = p["share"] * pan_volume
    write(p, folder, volume * 1e3)
    readings = measure(program, folder)
    if readings is None:
        return None
    worst = [abs(readings["interior.volume"]["reading"]["value"] - pan_volume) / pan_volume, 0.0, 0.0, 0.0, 0.0]
    ix, iy, idepth, d = p["inlet"]
    centre, radius = np.array([ix, iy, -idepth]) * 1e-3, d * 1e-3 / 2
    for i, state in enumerate(p["states"]):
        up = up_of(p, *state)
        h = level(parts, up, volume)
        rim = up @ centre + radius * math.hypot(up[0], up[1])
        of = lambda name: next(s for s in readings[name]["states"] if s["state"] == f"s{i}")["value"]
        worst[1] = max(worst[1], abs(of("oil.level_above_rail") * up[2] - h))
        # A pocket round the inlet that lies dry above the surface is no part of the oil: what is told is then how far
        # the rim stands over that pocket, uncovered all the same.
        dry_pocket = h - rim + LIMIT < of("pickup.rim_depth") < 0
        if not one_pool(parts, up, h) or dry_pocket:
            POOLS.append(1)
            continue
        worst[2] = max(worst[2], off(of("pickup.rim_depth"), parts, up, volume, h, rim))
        # Drawn down to the rim the oil may come apart, and what is cut off then cannot be drawn.
        if not one_pool(parts, up, rim):
            continue
        usable = volume - below(parts, up, rim) - held_back(parts, up, rim, h)
        worst[3] = max(worst[3], abs(of("oil.usable_litres") - usable) / pan_volume)
    worst[4] = bounds(program, p, folder, parts, volume)
    return worst


def fails(found):
    return max(found) > LIMIT


# States in which the oil lies in several pools: their rim depth is not that of one level, and is tested elsewhere.
POOLS = []


def main():
    program = str(Path(sys.argv[1]).resolve())
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 200
    rng, worst, made = random.Random(int(sys.argv[3]) if len(sys.argv) > 3 else 20), [0.0] * 5, 0
    while made < count:
        p = make(rng)
        with tempfile.TemporaryDirectory() as folder:
            (Path(folder) / "sumpwright.yaml").write_text("project: 1\n")
            found = compare(program, p, Path(folder))
        if found is None:
            continue
        worst = [max(a, b) for a, b in zip(worst, found)]
        made += 1
        if fails(found):
            print(f"pan {made}: {found}")
    assert len(POOLS) < made, "most states have one pool"
    print(f"{made} pans, {4 * made} states, {len(POOLS)} of them with several pools; worst: volume {worst[0]:.1e}, level {worst[1]:.1e} m, "
          f"rim depth {worst[2]:.1e} m, usable volume {worst[3]:.1e}, "
          f"bounds without a case {worst[4]:.1e} m")
    sys.exit(int(fails(worst)))


main()
