"""Measures of random pans, vehicles and duties, each computed again here from the numbers that were written down.

Every document is drawn from a seeded generator, so that no number in it was ever seen while the program was written.
The program reads them by `measure --format json`; here the same measures come from closed forms, root searches,
quadratures and linear solves. Nothing is shared with the program under test but the documents.

Usage: spot.py PROGRAM [COUNT [SEED]]; needs numpy and scipy. Prints the worst disagreement of each measure. Exit 1 where one
value is off by more than its bound, where one is missing, or where a measure was never looked at.
"""

import json
import random
import subprocess
import sys
import tempfile
from math import acos, atan, cos, exp, log10, pi, radians, sin, sqrt, tanh
from pathlib import Path

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq

G = 9.80665
# Relative; what is no closed form of its own has the bound of its method.
LIMITS = {
    "motion.frequency_along": 5e-3,
    "motion.frequency_across": 5e-3,
    "motion.hold_time": 1e-4,
    "drain.emptying_time": 1e-6,
    "skid.deflection": 1e-5,
    "suction.pressure": 1e-6,
    "oil.dry_floor_share": 1e-6,
}
LIMIT = 1e-8
# Of heights and depths, which may pass through zero.
METRES = 1e-9


# --- bodies -------------------------------------------------------------------------------------------------------


def cut_box(low, high, up, height):
    """Volume of a box below the plane up·p = height, by inclusion and exclusion (Scardovelli and Zaleski 2000)."""
    size = np.subtract(high, low)
    start = sum(min(u * a, u * b) for u, a, b in zip(up, low, high))
    slopes = [(abs(u) * s, s) for u, s in zip(up, size)]
    upright = [s for m, s in slopes if m < 1e-12]
    tilted = [m for m, _ in slopes if m >= 1e-12]
    share, count = 0.0, len(tilted)
    for chosen in range(1 << count):
        taken = sum(m for i, m in enumerate(tilted) if chosen >> i & 1)
        share += (-1) ** bin(chosen).count("1") * max(height - start - taken, 0.0) ** count
    factorial = [1, 1, 2, 6][count]
    share /= factorial * np.prod(tilted)
    return np.prod(upright) * np.prod([s for m, s in slopes if m >= 1e-12]) * min(max(share, 0.0), 1.0)


class Space:
    """Boxes with weights: pan, what hangs in it, and the case above the rail."""

    def __init__(self, boxes):
        self.boxes = boxes

    def below(self, up, height):
        return sum(w * cut_box(low, high, up, height) for w, low, high in self.boxes)

    def level(self, up, volume):
        return brentq(lambda h: self.below(up, h) - volume, -1.0, 1.0, xtol=1e-15, rtol=1e-15)


def attitude(x, y, nose_up, forward=0.0, left=0.0):
    """Unit vector up in the pan, for sines of climb and of a side slope and accelerations over g."""
    vehicle = np.array([x + forward, y + left, sqrt(1 - x * x - y * y)])
    c, s = cos(nose_up), sin(nose_up)
    pan = np.array([vehicle @ [c, 0, s], vehicle[1], vehicle @ [-s, 0, c]])
    return pan / np.linalg.norm(pan), vehicle


# --- the trade's formulas, otherwise ------------------------------------------------------------------------------


def walther(rows, celsius):
    """Through two rows of viscosity: two unknowns, solved."""
    matrix = [[1.0, -log10(t + 273.15)] for t, _ in rows]
    a, b = np.linalg.solve(matrix, [log10(log10(v + 0.7)) for _, v in rows])
    return 10 ** 10 ** (a - b * log10(celsius + 273.15)) - 0.7


def density(at_15, celsius):
    """By integrating the rate of table 54D from 15 degC."""
    alpha = 0.6278 / at_15
    change, _ = quad(lambda t: -alpha * (1 + 1.6 * alpha * (t - 15)), 15, celsius, epsabs=1e-14)
    return at_15 * exp(change)


def iso_thread(d, p):
    """Pitch, minor and root diameters from the triangle of ISO 68-1."""
    h = p * cos(radians(30))
    return d - 2 * 3 / 8 * h, d - 2 * 5 / 8 * h, d - 2 * 17 / 24 * h


def balance(at, film, fins):
    """Heat through oil film, wall and outer film with radiation: the surface temperature by a root search."""
    inner = at["area"] / (1 / at["oil_film"] + at["thickness"] / at["k"])

    def leaves(surface):
        over = surface - at["air"]
        wall, on_fins = film(over)
        free, add = at["area"], 0.0
        if fins:
            free -= at["feet"]
            m = sqrt(2 * on_fins / (at["k"] * at["fin_t"]))
            add = on_fins * tanh(m * at["fin_l"]) / (m * at["fin_l"]) * at["fin_area"]
        shine = at["emissivity"] * 5.670374419e-8 * at["area"] * (surface**4 - at["air"] ** 4)
        return (wall * free + add) * over + shine

    surface = brentq(lambda t: inner * (at["oil"] - t) - leaves(t), at["air"] + 1e-9, at["oil"], xtol=1e-12)
    return inner * (at["oil"] - surface)


def air(kelvin):
    """Sutherland's laws of dry air at one atmosphere (White, Viscous Fluid Flow, from memory): k, nu, Pr."""
    warm = (kelvin / 273) ** 1.5
    mu, k = 1.716e-5 * warm * 384 / (kelvin + 111), 0.0241 * warm * 467 / (kelvin + 194)
    return k, mu * 287.05 * kelvin / 101325, mu * 1007 / k


def hold(area, k, draw, high, low):
    """How long a head falls from high to low through an orifice with a constant draw, by quadrature."""
    return quad(lambda h: area / (k * sqrt(max(h, 0.0)) + draw), low, high, epsabs=1e-13, points=[min(max(0.0, low), high)])[0]


# --- documents ----------------------------------------------------------------------------------------------------


def draw(rng):
    """Numbers in millimetres and degrees, rounded as a person writes them."""
    u = lambda low, high, digits=1: round(rng.uniform(low, high), digits)
    p = {"kind": rng.choice(["stepped", "flat", "baffled"])}
    p["length"], p["width"] = u(330, 460), u(220, 300)
    p["shelf"], p["sump"] = u(60, 80), u(100, 140)
    p["sump_x"], p["sump_y"] = u(160, 220), u(140, 190)
    p["sump_at"] = [u(-40, 40), u(-10, 10)]
    p["floor"], p["sides"] = u(2.5, 6), u(2, 6)
    p["bore"] = u(24, 40)
    p["gap"] = u(5, 20)
    p["litres_over"] = u(0.35, 0.75, 3)
    p["check_at"], p["hot"] = u(15, 45), u(60, 110)
    p["nose_up"] = 0.0 if p["kind"] == "baffled" or rng.random() < 0.4 else u(-4, 4, 2)
    p["climb"], p["side"], p["braking"] = u(2, 9, 2), u(2, 6, 2), u(0.05, 0.15, 3)
    p["rho"], p["beta"] = u(830, 880), u(6.6e-4, 7.8e-4, 7)
    p["v40"], p["v100"], p["c_oil"] = u(26, 38, 2), u(5.5, 7.8, 2), u(1.9, 2.3, 2)
    p["flow"], p["held_up"], p["altitude"] = u(8, 16), u(0.3, 0.9, 2), u(0, 3000, 0)
    p["case_h"], p["share"] = u(150, 220), u(0.4, 1.0, 2)
    p["drum"] = u(180, 260)
    p["line"], p["line_bore"] = u(80, 300), u(26, 36)
    p["thread"] = rng.choice([(12, 1.5), (14, 1.5), (16, 1.5), (18, 1.5), (20, 1.5)])
    p["engaged"], p["torque"], p["factor"] = u(9, 22), u(15, 40), u(0.12, 0.24, 2)
    p["ring"] = [p["thread"][0] + u(0.2, 0.6), p["thread"][0] + u(3, 7)]
    p["tensile"], p["case_tensile"], p["modulus"] = u(180, 320, 0), u(160, 260, 0), u(65, 80)
    p["k"], p["alpha"], p["c_pan"], p["eps"] = u(90, 170), u(1.8e-5, 2.6e-5, 7), u(0.8, 1.1, 3), u(0.1, 0.95, 2)
    p["case_alpha"], p["mass"] = u(1.0e-5, 2.4e-5, 7), u(2, 6)
    p["fins"], p["fin_h"] = rng.randint(3, 9), u(8, 28)
    p["tip"], p["fin_long"] = u(2, 4), u(90, 160)
    p["root"] = round(p["tip"] + rng.uniform(0.5, 3), 1)
    p["pitch"] = round(p["root"] + rng.uniform(6, 16), 1)
    p["force"], p["contact"] = u(0.5, 3, 2), u(8, 40)
    p["speed"], p["air"], p["film"] = u(1, 8), u(10, 40), u(60, 150)
    p["bolts"], p["bolt"] = rng.randint(10, 20), rng.choice([(6, 1.0), (8, 1.25)])
    p["bolt_torque"], p["bolt_pitch"], p["bolt_engaged"] = u(5, 11), u(40, 80), u(9, 16)
    p["class"] = rng.choice(["8.8", "10.9"])
    p["flange_t"], p["flange_w"] = u(5, 12), u(14, 24)
    p["gasket"] = [u(2, 4), u(6, 12), u(4, 20)]
    p["hole"] = p["bolt"][0] + u(0.6, 1.2)
    p["clamped"] = round(p["gasket"][0] * rng.uniform(0.65, 0.85), 2) if rng.random() < 0.5 else None
    p["metal"] = rng.choice(["stainless steel", "steel", "zinc-plated steel"])
    p["wheelbase"], p["behind"], p["above"] = u(2400, 3100, 0), u(1000, 1500, 0), u(560, 700, 0)
    p["plate"] = [u(400, 600), u(300, 500), u(4, 9), u(190, 210)]
    p["top_face"], p["load"], p["tyre"] = u(200, 260), u(2, 6), u(340, 420)
    p["air_share"], p["bulk"], p["pressure"] = u(0.01, 0.06, 3), u(1.2, 1.7, 2), u(4, 20)
    p["hump"] = u(1.0, 3.0, 2)
    p["wall_at"] = u(-60, 20)
    return p


def documents(p):
    deep = p["sump"] if p["kind"] == "stepped" else p["shelf"]
    p["deep"] = deep
    # Where the sump's middle lies, or the box's, and the inlet near it.
    x, y = p["sump_at"] if p["kind"] == "stepped" else (70.0, 10.0)
    p["inlet"] = [x + 5, y - 3, round(deep - p["gap"], 2)]
    area = p["length"] * p["width"] * 1e-6
    own = p["sump_x"] * p["sump_y"] * (p["sump"] - p["shelf"]) * 1e-9 if p["kind"] == "stepped" else 0.0
    p["litres"] = round((own + area * p["shelf"] * 1e-3 * p["litres_over"]) * 1e3, 3)
    half = p["length"] / 2
    p["drain_at"] = round(p["shelf"] - 14.0, 1)
    sump = ""
    if p["kind"] == "stepped":
        sump = (
            f"    sump: {{ outline: {{ rectangle: [{p['sump_x']} mm, {p['sump_y']} mm], at: {{ x: {p['sump_at'][0]} mm, "
            f"y: {p['sump_at'][1]} mm }} }}, depth: {p['sump']} mm }}\n"
        )
    baffles = "none"
    if p["kind"] == "baffled":
        w, at = p["width"] / 2, p["wall_at"]
        p["brim"] = 12.0
        baffles = (
            f"{{ wall: {{ from: {{ x: {at} mm, y: {-w} mm }}, to: {{ x: {at} mm, y: {w} mm }}, top: {p['brim']} mm, bottom: floor, "
            f"thickness: 3 mm, sides: sealed, openings: {{ one: {{ circle: 10 mm, at: {{ along: 0 mm, depth: "
            f"{p['shelf'] - 6} mm }} }} }} }} }}"
        )
    clamped = "none" if p["clamped"] is None else f"{p['clamped']} mm"
    d, pitch = p["thread"]
    bolt = "M6" if p["bolt"][0] == 6 else "M8"
    pan = f"""pan: 1
vehicle: v.yaml
oil: o.yaml
duty: d.yaml
material: {{ process: sand casting, metal: aluminium, tensile: {p['tensile']} MPa, yield: 160 MPa, modulus: {p['modulus']} GPa,
            conductivity: {p['k']} W/(m·K), expansion: {p['alpha']:.7f} 1/K, heat_capacity: {p['c_pan']} kJ/(kg·K), emissivity: {p['eps']} }}
mass: {p['mass']} kg
interior:
  rail: {{ rectangle: [{p['length']} mm, {p['width']} mm] }}
  zones:
    shelf: {{ outline: rail, depth: {p['shelf']} mm }}
{sump}wall: {{ floor: {p['floor']} mm, sides: {p['sides']} mm }}
pickup: {{ inlet: {{ circle: {p['bore']} mm, at: {{ x: {x + 5} mm, y: {y - 3} mm, depth: {p['inlet'][2]} mm }}, facing: down }}, anti_vortex: none,
          line: {{ length: {p['line']} mm, bore: {p['line_bore']} mm, fittings: none }}, filter: none }}
baffles: {baffles}
drains:
  plug: {{ thread: M{d}x{pitch}, at: {{ x: {-half} mm, y: 0 mm, depth: {p['drain_at']} mm }}, axis: rear, engaged: {p['engaged']} mm, boss: 28 mm,
          head: 9 mm, torque: {p['torque']} N·m, torque_factor: {p['factor']}, ring: [{p['ring'][0]} mm, {p['ring'][1]} mm], ring_yields_at: 50 MPa, spanner: 24 mm }}
fins: {{ keel: {{ under: floor, along: x, count: {p['fins']}, pitch: {p['pitch']} mm, height: {p['fin_h']} mm, root: {p['root']} mm, tip: {p['tip']} mm,
                length: {p['fin_long']} mm }} }}
flange:
  thickness: {p['flange_t']} mm
  width: {p['flange_w']} mm
  bead: none
  bolts: {{ count: {p['bolts']}, thread: {bolt}, torque: {p['bolt_torque']} N·m, torque_factor: {p['factor']}, pitch: {p['bolt_pitch']} mm, class: {p['class']},
           metal: {p['metal']}, engaged: {p['bolt_engaged']} mm, hole: {p['hole']:.1f} mm }}
  gasket: {{ material: rubber, thickness: {p['gasket'][0]} mm, width: {p['gasket'][1]} mm, modulus: {p['gasket'][2]} MPa, seats_at: 1 MPa,
            crushes_at: 7 MPa, clamped: {clamped} }}
magnet: none
check: {{ volume: {p['litres']} L, oil_at: {p['check_at']} degC, engine: running }}
"""
    vehicle = f"""vehicle: 1
wheelbase: {p['wheelbase']} mm
mount: {{ pan_origin: {{ behind_front_axle: {p['behind']} mm, left: 0 mm, above_ground: {p['above']} mm }}, nose_up: {p['nose_up']} deg, moves: none }}
case: {{ outline: {{ rectangle: [{p['length']} mm, {p['width']} mm] }}, height: {p['case_h']} mm, free_share: {p['share']}, tensile: {p['case_tensile']} MPa,
        expansion: {p['case_alpha']:.7f} 1/K }}
rotating: {{ drum: {{ cylinder: [100 mm, 60 mm], along: y, at: {{ x: 0 mm, y: 0 mm, above_rail: {p['drum']} mm }} }} }}
held_up: {p['held_up']} L
pump: {{ flow: {{ all: {p['flow']} L/min }}, suction_limit: 60 kPa, at: {{ x: 0 mm, y: 0 mm, above_rail: 40 mm }}, pressure: {p['pressure']} bar }}
skid: {{ top_face: {p['top_face']} mm, load: {p['load']} kN, size: [{p['plate'][0]} mm, {p['plate'][1]} mm], thickness: {p['plate'][2]} mm, modulus: {p['plate'][3]} GPa }}
tyres: {{ loaded_radius: {p['tyre']} mm }}
"""
    oil = f"""oil: 1
density: {{ 15 degC: {p['rho']} kg/m^3 }}
expansion: {p['beta']:.7f} 1/K
viscosity: {{ 40 degC: {p['v40']} mm^2/s, 100 degC: {p['v100']} mm^2/s }}
heat_capacity: {p['c_oil']} kJ/(kg·K)
air_share: {p['air_share']}
bulk_modulus: {p['bulk']} GPa
"""
    states = "s: { climb: 0 deg }" if p["kind"] == "baffled" else (
        f"up: {{ climb: {p['climb']} deg }}, across: {{ side_slope: {p['side']} deg, high: left }}, stop: {{ braking: {p['braking']} gn }}"
    )
    duty = f"""duty: 1
oil_temperature: {p['hot']} degC
states: {{ {states} }}
strike: {{ force: {p['force']} kN, contact: {p['contact']} mm }}
cooling: {{ air_speed: {p['speed']} m/s, air_at: {p['air']} degC, oil_film: {p['film']} W/(m^2·K) }}
parked_to_drain: {{ climb: 0 deg }}
altitude: {p['altitude']} m
humps: {p['hump']} Hz
"""
    return {"pan.yaml": pan, "v.yaml": vehicle, "o.yaml": oil, "d.yaml": duty}


# --- what must come out -------------------------------------------------------------------------------------------


def expected(p):
    """Measures by name: a value, (low, None) or (None, high) for one end, or (low, high)."""
    mm = 1e-3
    e = {}
    L, W, deep = p["length"] * mm, p["width"] * mm, p["deep"] * mm
    shelf = p["shelf"] * mm
    boxes = [(1.0, (-L / 2, -W / 2, -shelf), (L / 2, W / 2, 0.0))]
    wetted = L * W + 2 * (L + W) * shelf
    if p["kind"] == "stepped":
        a, b = p["sump_x"] * mm, p["sump_y"] * mm
        cx, cy = (v * mm for v in p["sump_at"])
        boxes.append((1.0, (cx - a / 2, cy - b / 2, -deep), (cx + a / 2, cy + b / 2, -shelf)))
        wetted += 2 * (a + b) * (deep - shelf)
    e["interior.volume"] = sum(np.prod(np.subtract(high, low)) for _, low, high in boxes)
    e["interior.deepest"] = deep
    space = Space(boxes + [(p["share"], (-L / 2, -W / 2, 0.0), (L / 2, W / 2, p["case_h"] * mm))])
    litres, warmer = p["litres"] * mm, p["hot"] - p["check_at"]
    hot = litres * (1 + p["beta"] * warmer)
    e["oil.litres_at_check"] = litres
    nose = radians(p["nose_up"])
    flat, _ = attitude(0, 0, nose)
    level = lambda volume, up=flat: space.level(up, volume)
    # One along the pan's own z over the middle of the rail, the others along the plumb line.
    e["level.hot_above_rail"] = level(hot) / flat[2]
    e["level.hot_rise"] = level(hot) - level(litres)
    e["level.per_litre"] = level(litres + mm) - level(litres)
    drum = p["drum"] * mm * flat[2] - 0.050
    # A cylinder that lies across has its end caps square to y, and up has no part along y on level ground.
    e["rotating.gap"] = drum - level(hot)
    e["rotating.gap_standing"] = drum - level(hot + p["held_up"] * mm)
    # The inlet.
    bore, flow = p["bore"] * mm, p["flow"] * mm / 60
    mouth = np.array([p["inlet"][0], p["inlet"][1], -p["inlet"][2]]) * mm
    gap = deep + mouth[2]
    inlet = pi * bore**2 / 4
    speed = flow / inlet
    froude = speed / sqrt(G * bore)
    viscosity = walther([(40, p["v40"]), (100, p["v100"])], p["hot"]) * 1e-6
    rho = density(p["rho"], p["hot"])
    e |= {"pickup.inlet_diameter": bore, "pickup.inlet_area": inlet, "pickup.inlet_velocity": speed, "pickup.floor_gap": gap}
    e |= {"pickup.curtain_area": pi * bore * gap, "pickup.curtain_velocity": flow / (pi * bore * gap)}
    e |= {"pickup.curtain_over_inlet": pi * bore * gap / inlet, "pickup.gap_over_bore": gap / bore, "pickup.froude": froude}
    e["pickup.reynolds"] = speed * bore / viscosity
    e["pickup.vortex_depth"] = (None, bore * max(1 + 2.3 * froude, 2.27 * froude, 1 + froude))
    if p["kind"] == "stepped":
        room = min(a / 2 - abs(mouth[0] - cx), b / 2 - abs(mouth[1] - cy))
    else:
        room = min(L / 2 - abs(mouth[0]), W / 2 - abs(mouth[1]))
    e |= {"pickup.wall_distance": room - bore / 2, "pickup.wall_over_bore": (room - bore / 2) / bore}
    # Oil.
    e |= {"oil.hot_viscosity": viscosity, "oil.hot_density": rho, "oil.viscosity_at_100": p["v100"] * 1e-6}
    e |= {"oil.expansion_by_density": 0.6278 / p["rho"], "oil.turnover_time": litres / flow}
    bulk, over = p["bulk"] * 1e9, p["pressure"] * 1e5
    squeezed = brentq(lambda k: 1 / k - ((1 - p["air_share"]) / bulk + p["air_share"] * 1e5 / over**2), 1e6, bulk * 2)
    e["air.stiffness_share"] = squeezed / bulk
    # States of the duty, oil at rest as one body.
    highest = lambda up: mouth @ up + bore / 2 * sqrt(1 - up[2] ** 2)
    states = [(0, 0, 0)] if p["kind"] == "baffled" else [
        (sin(radians(p["climb"])), 0, 0), (0, sin(radians(p["side"])), 0), (0, 0, -p["braking"])
    ]
    looked = [attitude(x, y, nose, forward=f) for x, y, f in states]
    e["oil.level_above_rail"] = min(level(hot, up) / up[2] for up, _ in looked)
    e["duty.apparent_tilt"] = max(acos(v[2] / np.linalg.norm(v)) for _, v in looked)
    e["oil.fill_margin"] = min(litres - space.below(up, highest(up)) * litres / hot for up, _ in looked)
    if p["kind"] == "flat":
        # One box has one pool.
        e["pickup.rim_depth"] = min(level(hot, up) - highest(up) for up, _ in looked)
        e["oil.usable_share"] = min(1 - space.below(up, highest(up)) / hot for up, _ in looked)
        e["oil.usable_litres"] = min(hot - space.below(up, highest(up)) for up, _ in looked)
        up = looked[-1][0]
        corner = -np.sign(up[0]) * L / 2
        e["motion.static_rise"] = abs((level(hot, up) - up[0] * corner) / up[2] - (level(hot) - flat[0] * corner) / flat[2])

        def dry(up):
            """Share of a level floor above a plane that turns about y or x, by its wetted length."""
            h = level(hot, up)
            (axis, size) = (0, L) if abs(up[0]) > abs(up[1]) else (1, W)
            edge = (h + shelf * up[2]) / up[axis]
            bare = (size / 2 - edge) if up[axis] > 0 else (edge + size / 2)
            return min(max(bare / size, 0), 1)

        if all(abs(up[0]) < 1e-12 or abs(up[1]) < 1e-12 for up, _ in looked):
            e["oil.dry_floor_share"] = max(dry(up) for up, _ in looked)
    e["oil.share_below_inlet"] = space.below(flat, highest(flat)) / litres
    # Drain: ISO 68-1, ISO 724, FED-STD-H28/2B.
    d, pitch = (v * mm for v in p["thread"])
    d2, d1, d3 = iso_thread(d, pitch)
    shear = lambda d, pitch, d2: pi / pitch * d * (pitch / 2 + (d - d2) / sqrt(3))
    outer = pi / pitch * d1 * (pitch / 2 + (d2 - d1) / sqrt(3))
    pull = p["torque"] / (p["factor"] * d)
    e |= {"drain.thread_diameter": d, "drain.preload": pull, "drain.engaged": p["engaged"] * mm}
    e["drain.strip_force"] = 0.6 * p["tensile"] * 1e6 * shear(d, pitch, d2) * p["engaged"] * mm
    e["drain.full_engagement"] = 2 * pi / 4 * ((d2 + d3) / 2) ** 2 / outer
    e["drain.seat_stress"] = pull / (pi / 4 * ((p["ring"][1] * mm) ** 2 - (p["ring"][0] * mm) ** 2))
    if p["kind"] != "stepped":
        at = np.array([-L / 2, 0, -p["drain_at"] * mm])
        lowest = at @ flat - d1 / 2 * sqrt(1 - flat[0] ** 2)
        left = Space(boxes).below(flat, lowest)
        e |= {"drain.residual": left, "drain.residual_share": left / litres}
        standing = (litres + p["held_up"] * mm) * hot / litres
        head = level(standing) - at @ flat
        outflow = 0.61 * pi / 4 * d1**2 * sqrt(2 * G)
        if nose == 0 and head < p["drain_at"] * mm:
            e["drain.emptying_time"] = (2 * L * W * (sqrt(head) - sqrt(mm)) / outflow, None)
    # Bolts, rail and gasket.
    d, pitch = (v * mm for v in p["bolt"])
    d2, d1, d3 = iso_thread(d, pitch)
    bolt = p["bolt_torque"] / (p["factor"] * d)
    e["joint.preload"] = bolt
    e["joint.strip_force"] = 0.6 * p["case_tensile"] * 1e6 * shear(d, pitch, d2) * p["bolt_engaged"] * mm
    e["joint.proof_force"] = pi / 4 * ((d2 + d3) / 2) ** 2 * {"8.8": 580e6, "10.9": 830e6}[p["class"]]
    half = sqrt(L**2 + W**2) / 2
    e["joint.growth"] = abs(float(f"{p['alpha']:.7f}") - float(f"{p['case_alpha']:.7f}")) * (p["hot"] - 20) * half
    e["joint.hole_room"] = (round(p["hole"], 1) * mm - d) / 2
    e["joint.galvanic_step"] = 0.90 - {"stainless steel": 0.50, "steel": 0.85, "zinc-plated steel": 1.25}[p["metal"]]
    thick, wide, soft = p["gasket"][0] * mm, p["gasket"][1] * mm, p["gasket"][2] * 1e6
    beam = p["modulus"] * 1e9 * p["flange_w"] * mm * (p["flange_t"] * mm) ** 3 / 12
    lam = (soft * wide / thick / (4 * beam)) ** 0.25
    x = lam * p["bolt_pitch"] * mm
    e["flange.pitch_in_rail_lengths"] = x

    def influence(offset):
        """Deflection of a long beam on springs under many loads a pitch apart (Hetenyi), without its constant."""
        far = [abs(offset + n) * x for n in range(-60, 61)]
        return sum(exp(-z) * (cos(z) + sin(z)) for z in far)

    share = influence(0.5) / influence(0.0)
    if p["clamped"] is None:
        run = 2 * (L + W) + pi * p["flange_w"] * mm
        mean = p["bolts"] * bolt / (run * wide)
        # The mean of the influence over a pitch is that of the stress.
        level_of = quad(influence, 0, 1, limit=400, epsabs=1e-12, points=[0.5])[0]
        at_bolt = mean * influence(0.0) / level_of
    else:
        at_bolt = soft * (thick - p["clamped"] * mm) / thick
        e["gasket.squeeze"] = (thick - p["clamped"] * mm) / thick
    e |= {"gasket.stress_at_bolt": at_bolt, "gasket.stress_midway": at_bolt * share}
    # Fins and floor under the strike.
    force, high, root, tip = p["force"] * 1e3, p["fin_h"] * mm, p["root"] * mm, p["tip"] * mm
    spread = min(p["fin_long"] * mm, 2 * high + p["contact"] * mm)
    e["fin.spacing"] = p["pitch"] * mm - max(root, tip)
    e["fin.root_stress"] = force * high * (root / 2) / quad(lambda z: spread * z * z, -root / 2, root / 2)[0]
    stiff = p["modulus"] * 1e9 * spread * root**3 / 12
    e["fin.tip_deflection"] = quad(lambda z: force * (high - z) ** 2 / stiff, 0, high)[0]
    e["fin.root_to_wall"] = root**2 / (2 * (p["floor"] * mm) ** 2)
    # Heat.
    T_oil, T_air = p["hot"] + 273.15, p["air"] + 273.15
    k_air, nu_air, prandtl = air((T_oil + T_air) / 2)
    mean_t = (root + tip) / 2
    at = {"area": wetted, "oil_film": p["film"], "thickness": (p["floor"] + p["sides"]) / 2 * mm, "k": p["k"], "oil": T_oil, "air": T_air}
    at |= {"emissivity": p["eps"], "feet": p["fins"] * p["fin_long"] * mm * root, "fin_t": mean_t, "fin_l": high + mean_t / 2}
    at["fin_area"] = p["fins"] * 2 * p["fin_long"] * mm * at["fin_l"]

    def plate(length, stirred):
        re = p["speed"] * length / nu_air
        smooth = 0.664 * re**0.5 * prandtl ** (1 / 3)
        nusselt = max(smooth, 0.037 * re**0.8 * prandtl ** (1 / 3)) if stirred else smooth
        return nusselt * k_air / length

    channel = 1170 * p["speed"] * (p["pitch"] * mm - mean_t) / (2 * p["fin_long"] * mm)
    films = lambda stirred: (plate(L, stirred), min(plate(p["fin_long"] * mm, stirred), channel))
    least, most = (balance(at, lambda _, s=s: films(s), True) for s in (False, True))
    bare = balance(at, lambda _: films(True), False)
    size = L * W / (2 * (L + W))

    def still(over):
        rayleigh = G * max(over, 1e-9) * size**3 / ((T_oil + T_air) / 2 * nu_air**2) * prandtl
        return (0.27 * rayleigh**0.25 * k_air / size,) * 2

    e |= {"heat.shed_least": least, "heat.shed_most": most, "heat.shed_bare": bare}
    e["heat.shed_still"] = (balance(at, still, False), balance(at, still, True))
    m = sqrt(2 * films(True)[1] / (p["k"] * mean_t)) * at["fin_l"]
    e["fin.efficiency"] = tanh(m) / m
    whole = wetted - at["feet"] + at["fin_area"]
    e["heat.surface_efficiency"] = 1 - at["fin_area"] / whole * (1 - tanh(m) / m)
    # Clearance.
    hangs = deep + p["floor"] * mm + high
    e["pan.lowest_depth"] = hangs
    boss = p["drain_at"] * mm + 0.014
    e["drain.lowest_depth"] = boss
    e["skid.gap_at_rest"] = p["top_face"] * mm - max(hangs, boss)
    clear = p["above"] * mm - max(hangs, p["top_face"] * mm)
    base, behind, tyre = p["wheelbase"] * mm, p["behind"] * mm, p["tyre"] * mm
    e["ground.clearance"] = clear
    e["ground.breakover_angle"] = atan(clear / behind) + atan(clear / (base - behind))
    tangent = lambda to: brentq(lambda t: (tyre - clear) * cos(t) + to * sin(t) - tyre, 0, 1.2, xtol=1e-15)
    e["ground.breakover_over_tyres"] = tangent(behind) + tangent(base - behind)
    a, b, t, modulus = (v * f for v, f in zip(p["plate"], (mm, mm, mm, 1e9)))
    odd = np.arange(1, 1200, 2.0)
    sums = (1 / (odd[:, None] ** 2 / a**2 + odd[None, :] ** 2 / b**2) ** 2).sum()
    bends = modulus * t**3 / (12 * (1 - 0.3**2))
    e["skid.deflection"] = (0.0, 4 * p["load"] * 1e3 / (pi**4 * bends * a * b) * sums)
    # Suction, laminar, level ground or the worst state.
    tube = p["line_bore"] * mm
    in_tube = flow / (pi * tube**2 / 4)
    re = in_tube * tube / viscosity
    if re < 2300 and p["kind"] == "baffled":
        outside = 101325 * (1 - 0.0065 * p["altitude"] / 288.15) ** (G * 0.0289644 / (8.31432 * 0.0065))
        entrance = lambda v, d: 160 / (v * d / viscosity) + 0.5
        lost = rho * speed**2 / 2 * entrance(speed, bore) + rho * in_tube**2 / 2 * (1 + entrance(in_tube, tube))
        friction = 128 * viscosity * rho * p["line"] * mm * flow / (pi * tube**4)
        e["suction.pressure"] = outside - rho * G * (0.040 - level(hot)) - lost - friction
        e["suction.line_velocity"] = in_tube
    # A box swings, and holds behind its wall.
    swing = lambda size, depth: sqrt(G * pi / size * tanh(pi * depth / size)) / (2 * pi)
    if p["kind"] == "flat" and nose == 0 or p["kind"] == "baffled":
        depth = litres / (L * W)
        if depth < shelf and p["kind"] == "flat":
            e["motion.frequency_along"] = swing(L, depth)
        if depth < shelf:
            e["motion.frequency_across"] = swing(W, depth)
    if p["kind"] == "baffled":
        area = (L / 2 - p["wall_at"] * mm) * W
        hole = p["shelf"] * mm - 0.006
        start = min(-p["brim"] * mm, level(hot))
        k = 0.61 * pi / 4 * 0.010**2 * sqrt(2 * G)
        e["motion.hold_time"] = (hold(area, k, flow, start + hole, highest(flat) + hole), None)
    return e


def off(name, found, meant):
    """How far a reading is from what it must be: relative, or in metres for what may pass through zero."""
    ends = [(found["low"], meant[0]), (found["high"], meant[1])] if isinstance(meant, tuple) else [(found["value"], meant)]
    worst = 0.0
    for got, want in ends:
        if want is None:
            continue
        if got is None:
            return float("inf")
        scale = max(abs(want), METRES / LIMIT) if found["unit"] == "m" else max(abs(want), 1e-12)
        worst = max(worst, abs(got - want) / scale)
    return worst


def main():
    program, count = Path(sys.argv[1]).resolve(), int(sys.argv[2]) if len(sys.argv) > 2 else 50
    rng = random.Random(int(sys.argv[3]) if len(sys.argv) > 3 else 20261126)
    worst, looked, wrong = {}, {}, []
    for number in range(count):
        p = draw(rng)
        with tempfile.TemporaryDirectory() as folder:
            for name, text in documents(p).items():
                Path(folder, name).write_text(text, encoding="utf-8")
            run = subprocess.run([program, "measure", "pan.yaml", "--format", "json"], cwd=folder, capture_output=True, text=True)
        if run.returncode != 0:
            print(run.stdout[-3000:], run.stderr, documents(p)["pan.yaml"], sep="\n")
            sys.exit(f"pan {number}: exit {run.returncode}")
        measures = {m["measure"]: m for m in json.loads(run.stdout)["pans"][0]["measures"]}
        for name, meant in expected(p).items():
            reading = measures[name]["reading"]
            found = float("inf") if reading is None else off(name, reading, meant)
            looked[name] = looked.get(name, 0) + 1
            worst[name] = max(worst.get(name, 0.0), found)
            if not found <= LIMITS.get(name, LIMIT):
                why = measures[name]["reason"] or f"{reading} is not {meant}"
                wrong.append(f"pan {number} ({p['kind']}): {name}: {why}")
    for name in sorted(worst):
        print(f"{name:32} {looked[name]:3} pans, off by at most {worst[name]:.1e}")
    print(f"{len(worst)} measures of {count} pans, {sum(looked.values())} readings computed again")
    if wrong:
        sys.exit("\n".join(wrong[:40]) + f"\n{len(wrong)} readings disagree")


if __name__ == "__main__":
    main()
