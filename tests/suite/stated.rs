//! Measures that read a document or plain geometry, through the whole way: a description in, a reading out.

use crate::support::{bounds, measured, value};
use core::f64::consts::PI;
use sumpwright_core::review::PanMeasured;

/// A shelf of 400 by 270 mm, 120 mm deep, with a sump of 200 by 170 mm in it, 60 mm deeper, its middle 50 mm ahead; all walls
/// upright, so that every volume and area is a box's.
const PAN: &str = "pan: 1
vehicle: v.yaml
oil: o.yaml
duty: d.yaml
material: { process: sand casting, metal: aluminium, yield: 24000 psi }
interior:
  rail: { rectangle: [400 mm, 270 mm] }
  zones:
    shelf: { outline: rail, depth: 120 mm }
    sump: { outline: { rectangle: [200 mm, 170 mm], at: { x: 50 mm, y: 0 mm } }, depth: 180 mm }
wall: { floor: 5/32 in, sides: 1/8 in }
pickup: { inlet: { circle: 30 mm, at: { x: 60 mm, y: 20 mm, depth: 174 mm }, facing: down }, anti_vortex: cross }
baffles:
  rear: { from: { x: -10 mm, y: -85 mm }, to: { x: -10 mm, y: 85 mm }, top: 60 mm, bottom: floor, thickness: 3 mm, sides: sealed,
          openings: { one: { circle: 40 mm, at: { along: 0 mm, depth: 150 mm } }, two: { circle: 10 mm, at: { along: 40 mm, depth: 140 mm } } } }
drains:
  side: { thread: M14x1.5, at: { x: -50 mm, y: 0 mm, depth: 150 mm }, axis: rear, engaged: 0.5 in, boss: 1 in, head: 8 mm, spanner: 27 mm }
  below: { thread: M14x1.5, at: { x: 130 mm, y: 70 mm, depth: 180 mm }, axis: down, engaged: 15 mm, boss: 24 mm, head: 10 mm, spanner: 27 mm }
fins: { keel: { under: floor, along: x, count: 5, pitch: 15 mm, height: 3/4 in, root: 1/4 in, tip: 3/16 in, length: 100 mm } }
flange: { thickness: 3 mm, width: 16 mm }
magnet: none
check: { volume: 9.6 L, oil_at: 20 degC, engine: running }
";
const VEHICLE: &str = "vehicle: 1
wheelbase: 2.80 m
mount: { pan_origin: { behind_front_axle: 1.10 m, left: 0 mm, above_ground: 0.550 m }, nose_up: 0 deg, moves: none }
case: { outline: { rectangle: [400 mm, 270 mm] }, height: 80 mm, free_share: 1 }
rotating: { drum: { cylinder: [100 mm, 80 mm], along: x, at: { x: 0 mm, y: 0 mm, above_rail: 90 mm } } }
held_up: 1.08 L
pump: { flow: { idle: 12 L/min, high: 20 L/min }, suction_limit: 11.5 psi }
skid: { top_face: 250 mm, load: 4 kN, stiffness: 600 N/mm }
";
const OIL: &str = "oil: 1
density: { 15 degC: 850 kg/m^3 }
expansion: 0.00075 1/K
viscosity: { 40 degC: 35 mm^2/s, 100 degC: 7.3 mm^2/s }
";
const DUTY: &str = "duty: 1
oil_temperature: [20 degC, 95 degC]
states: { s: { climb: 0 deg, flow: high } }
strike: { force: 300 lbf, contact: 20 mm }
parked_to_drain: { climb: 0 deg }
cold_start: { oil_temperature: 0 degC, flow: idle }
";

fn read() -> PanMeasured {
    measured(PAN, VEHICLE, OIL, DUTY)
}

#[track_caller]
fn near(found: f64, meant: f64) {
    assert!((found - meant).abs() <= 1e-9 * meant.abs() + 1e-12, "{found} is not {meant}");
}

// NIST SP 811, appendix B.8: 1 in is 25.4 mm exactly, 1 psi 6.894757 kPa, 1 lbf 4.448222 N, and 12 L/min 0.2 L/s: what a
// document states comes out in these units.
#[test]
fn what_a_document_states_is_read_with_its_unit() {
    let pan = read();
    for (name, object, inches) in [
        ("drain.engaged", "side", 0.5),
        ("drain.boss", "side", 1.0),
        ("fin.height", "keel", 0.75),
        ("fin.root", "keel", 0.25),
        ("fin.tip", "keel", 0.1875),
        ("wall.floor_thickness", "", 0.15625),
        ("wall.side_thickness", "", 0.125),
    ] {
        near(value(&pan, name, object) / 0.0254, inches);
    }
    near(value(&pan, "pickup.inlet_diameter", ""), 0.030);
    near(value(&pan, "suction.cold_start_flow", ""), 0.2e-3);
    let share = |found: f64, meant: f64| assert!((found / meant - 1.0).abs() < 1e-6, "{found}");
    share(value(&pan, "material.yield", ""), 24_000.0 * 6_894.757);
    share(value(&pan, "suction.limit", ""), 11.5 * 6_894.757);
    share(value(&pan, "duty.strike_force", ""), 300.0 * 4.448_222);
}

// Common practice, no source: sand castings have roots of 5 mm and walls of 3.5 mm at least, permanent mould 3 and 3, die
// castings 1.5 and 1.5; steel sheet 1 mm.
#[test]
fn least_thicknesses_are_those_of_the_trade() {
    let of = |process: &str, metal: &str| {
        let words = format!("process: {process}, metal: {metal}");
        let pan = PAN.replace("process: sand casting, metal: aluminium", &words);
        measured(&pan, VEHICLE, OIL, DUTY)
    };
    for (process, metal, root, wall) in [
        ("sand casting", "aluminium", 5.0, 3.5),
        ("permanent mould casting", "aluminium", 3.0, 3.0),
        ("die casting", "aluminium", 1.5, 1.5),
        ("stamping", "steel", f64::NAN, 1.0),
    ] {
        let pan = of(process, metal);
        near(value(&pan, "wall.process_minimum", "") * 1e3, wall);
        if root > 0.0 {
            near(value(&pan, "fin.process_minimum", "") * 1e3, root);
        }
    }
}

// Plane and solid geometry, worked by hand: 12.96 L over the shelf and 2.04 L in the sump; a circle of 30 mm; a gap of 6 mm
// under it; walls of the sump 65 mm to the left and 90 mm ahead of its middle; continuity: 20 L/min through a bore of 30 mm go
// at 0.4715702 m/s.
#[test]
fn the_inlet_s_room_is_that_of_geometry() {
    let pan = read();
    near(value(&pan, "interior.volume", "") * 1e3, 15.0);
    near(value(&pan, "interior.deepest", ""), 0.180);
    near(value(&pan, "pickup.floor_gap", ""), 0.006);
    near(value(&pan, "pickup.inlet_area", "") * 1e6, PI * 225.0);
    near(value(&pan, "pickup.curtain_area", "") * 1e6, PI * 180.0);
    near(value(&pan, "pickup.wall_distance", ""), 0.050);
    near(value(&pan, "pickup.wall_over_bore", ""), 50.0 / 30.0);
    near(value(&pan, "pickup.gap_over_bore", ""), 0.2);
    let velocity = value(&pan, "pickup.inlet_velocity", "");
    assert!((velocity / 0.471_570_2 - 1.0).abs() < 1e-6, "{velocity}");
}

// Plane geometry, worked by hand: 60 mm by 270 mm over the shelf and 60 mm by 170 mm in the sump; two circles; the lower one
// reaches down to 170 mm over a floor at 180 mm.
#[test]
fn a_baffle_s_areas_are_those_of_geometry() {
    let pan = read();
    let (area, open) = (60.0 * 270.0 + 60.0 * 170.0, PI * (400.0 + 25.0));
    near(value(&pan, "baffle.area", "rear") * 1e6, area);
    near(value(&pan, "baffle.opening_area", "rear") * 1e6, open);
    near(value(&pan, "baffle.opening_share", "rear"), open / area);
    near(value(&pan, "baffle.opening_over_inlet", "rear"), (400.0 + 25.0) / 225.0);
    near(value(&pan, "baffle.lowest_opening", "rear"), 0.010);
}

// Plane geometry, worked by hand: the sump's floor, its wall of 5/32 in and fins of 3/4 in; a plug that lies with a boss of 1 in,
// one that hangs 25 mm down; ISO 612 / SAE J689: 0.300 m over the ground, 1.10 m behind the front axle of 2.80 m: 25.263099 deg.
#[test]
fn what_hangs_lowest_is_that_of_geometry() {
    let pan = read();
    let keel = 180.0 + (0.15625 + 0.75) * 25.4;
    near(value(&pan, "pan.lowest_depth", "") * 1e3, keel);
    near(value(&pan, "drain.lowest_depth", "side") * 1e3, 150.0 + 12.7);
    near(value(&pan, "drain.lowest_depth", "below") * 1e3, 180.0 + 25.0);
    near(value(&pan, "skid.gap_at_rest", "") * 1e3, 250.0 - 205.0);
    near(value(&pan, "ground.clearance", ""), 0.300);
    let angle = value(&pan, "ground.breakover_angle", "").to_degrees();
    assert!((angle / 25.263_099 - 1.0).abs() < 1e-6, "{angle}");
    // Between fins of 1/4 in every 15 mm.
    near(value(&pan, "fin.spacing", "keel") * 1e3, 15.0 - 6.35);
}

// Volume over area and the definition of the coefficient of expansion: 9.6 L are 2.04 L in the sump and 70 mm over the shelf,
// 10.14 L at 95 °C 75 mm; 1.08 L more are 10 mm; the drum's underside is 40 mm above the rail.
#[test]
fn levels_and_what_turns_above_them_are_volume_over_area() {
    let pan = read();
    near(value(&pan, "oil.litres_at_check", "") * 1e3, 9.6);
    near(value(&pan, "oil.level_above_rail", ""), -0.050);
    near(value(&pan, "level.hot_above_rail", ""), -0.045);
    near(value(&pan, "level.cold_above_rail", ""), -0.120 + (9.6 * 0.985 - 2.04) / 108.0);
    near(value(&pan, "rotating.gap", ""), 0.085);
    near(value(&pan, "rotating.gap_standing", ""), 0.075);
    // Of the sump 6 mm lie below the rim, 0.204 L.
    near(value(&pan, "pickup.rim_depth", ""), 0.174 - 0.050);
    near(value(&pan, "oil.fill_margin", "") * 1e3, 9.6 - 0.204);
    // On the inlet's side of the baffle they are 160 mm long.
    near(value(&pan, "oil.litres_below_inlet", "") * 1e3, 0.1632);
    // What lies below the lower opening, 10 mm over 40 mm of the sump, does not come through the baffle.
    near(value(&pan, "oil.usable_litres", "") * 1e3, 9.6 - 0.1632 - 0.068);
    let [low, high] = bounds(&pan, "oil.share_below_inlet", "");
    near(low, 0.204 / 9.6);
    near(high, 0.204 / 9.6);
}
