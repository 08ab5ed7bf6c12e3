//! Closed forms of oil in motion, along a recorded drive and through a baffle, through the whole way: a description in, a
//! reading out.

use crate::support::{Disk, bounds, entry, measure, measured, value};
use core::f64::consts::{PI, TAU};
use std::fmt::Write as _;
use sumpwright_core::review::PanMeasured;

const G: f64 = 9.806_65;

#[track_caller]
fn near(found: f64, meant: f64, share: f64) {
    assert!((found / meant - 1.0).abs() <= share, "{found} is not {meant} within {share}");
}

/// A box of 0.400 m by 0.270 m by 0.2 m with 50 mm of oil at 20 °C, and what a test adds.
fn boxed(pan: &str, duty: &str) -> PanMeasured {
    let pan = format!(
        "pan: 1\nvehicle: v.yaml\noil: o.yaml\nduty: d.yaml\ninterior: {{ rail: {{ rectangle: [0.400 m, 0.270 m] }}, \
         zones: {{ floor: {{ outline: rail, depth: 200 mm }} }} }}\n{pan}"
    );
    let vehicle = "vehicle: 1\nmount: { nose_up: 0 deg }\ncase: { outline: { rectangle: [0.400 m, 0.270 m] }, height: 900 mm, \
                   free_share: 1 }\ncheck: { level: 150 mm, oil_at: 20 degC, engine: running }\n";
    let oil = "oil: 1\nexpansion: 0 1/K\ndensity: { 15 degC: 850 kg/m^3 }\nviscosity: { 40 degC: 35 mm^2/s, 100 degC: 7.3 mm^2/s }\n";
    measured(&pan, vehicle, oil, &format!("duty: 1\noil_temperature: 20 degC\n{duty}"))
}

// Lamb, art. 190 / NASA SP-106 ch. 2: across 0.270 m with 0.050 m of oil; a wall along the middle halves the width.
#[test]
fn a_wall_along_the_middle_halves_what_swings_across() {
    let wall = "baffles: { wall: { from: { x: -200 mm, y: 0 mm }, to: { x: 200 mm, y: 0 mm }, top: 100 mm, bottom: floor, \
                thickness: 3 mm, sides: sealed, openings: none } }\n";
    let pan = boxed(wall, "states: { s: { climb: 0 deg } }\n");
    let lamb = |width: f64| {
        let k = PI / width;
        (G * k * (k * 0.05).tanh()).sqrt() / TAU
    };
    near(value(&pan, "motion.frequency_across", ""), lamb(0.135), 5e-3);
    near(value(&pan, "motion.frequency_across_open", ""), lamb(0.270), 5e-3);
    near(value(&pan, "motion.frequency_along", ""), lamb(0.400), 5e-3);
}

// Lamb, art. 190: 0.400 m with 0.050 m of oil swing at 0.85384315 Hz, so that three periods last 3.5136 s.
#[test]
fn a_state_is_short_that_lasts_less_than_three_periods() {
    let states = "states: { a: { braking: 0.1 gn, lasts: 3.4 s }, b: { braking: 0.1 gn, lasts: 3.6 s }, c: { climb: 1 deg } }\n";
    near(value(&boxed("", states), "motion.short_states", ""), 1.0, 1e-12);
}

// White, Fluid Mechanics, ch. 2: in an accelerated frame the surface of 5.4 L leans by atan(0.1) and rises by 20 mm at an end.
// Den Hartog, Mechanical Vibrations: what comes at once overshoots by exp(-π ζ/√(1 - ζ²)), with the least ζ, NASA SP-106 ch. 4
// from memory.
#[test]
fn a_sudden_stop_overshoots_as_a_damped_oscillator() {
    let pan = boxed("", "states: { s: { braking: 0.1 gn, lasts: 9 s } }\n");
    near(value(&pan, "motion.static_rise", "") * 1e3, 20.0, 1e-6);
    // D341: 79.482 mm²/s at 20 °C.
    let decrement = 4.98 * 79.482e-6_f64.sqrt() * 0.2_f64.powf(-0.75) * G.powf(-0.25);
    let damping = decrement / TAU;
    near(bounds(&pan, "motion.damping", "")[0], damping, 1e-4);
    let over = 1.0 + (-PI * damping / (1.0 - damping * damping).sqrt()).exp();
    let [low, high] = bounds(&pan, "motion.first_peak", "");
    near(low * 1e3, 20.0, 1e-6);
    near(high * 1e3, 20.0 * over, 1e-5);
}

// White, Fluid Mechanics, ch. 2: the surface of a box leans about its middle, so that the floor is bared at a/g = 2h/L: 0.25 for
// 0.400 m with 0.050 m of oil, the least of the four ways.
#[test]
fn a_box_bares_its_floor_at_twice_its_depth_over_its_length() {
    let pan = boxed("", "states: { s: { climb: 0 deg } }\n");
    near(value(&pan, "motion.floor_bares_at", ""), 0.25 * G, 1e-9);
    assert!(value(&pan, "oil.dry_floor_share", "").abs() <= 0.0);
}

// Hydrostatics in an accelerated frame: 41.862219 deg for 0.5 g on a descent of 20 deg (White, Fluid Mechanics, ch. 2), 33.854515
// deg for 0.6 g of braking with 0.3 g of cornering, 38.659808 deg for 0.8 g.
#[test]
fn slopes_and_accelerations_lean_apparent_gravity_as_worked() {
    for (state, meant) in [
        ("descent: 20 deg, braking: 0.5 gn", 41.862_219),
        ("braking: 0.6 gn, cornering: 0.3 gn, turn: left", 33.854_515),
        ("braking: 0.8 gn", 38.659_808),
    ] {
        let duty = format!(
            "states: {{ a: {{ climb: 1 deg }}, s: {{ {state} }}, b: {{ descent: 2 deg }} }}\n"
        );
        let pan = boxed("", &duty);
        near(value(&pan, "duty.apparent_tilt", "").to_degrees(), meant, 1e-7);
        let tilt = entry(&pan, "duty.apparent_tilt", "");
        assert_eq!((tilt.states.len(), tilt.worst.as_ref().unwrap().state.as_str()), (3, "s"));
    }
}

// Orifice equation (White, Fluid Mechanics; Idelchik sec. 4): 10 mm of head through 20 mm at most as without any loss; at least
// with C 0.61, Sampson's creeping loss and Poiseuille's over 3 mm, here by halving.
#[test]
fn a_bay_refills_by_the_orifice_equation() {
    let bay = "pickup: { inlet: { circle: 20 mm, at: { x: 50 mm, y: 0 mm, depth: 160 mm } }, anti_vortex: cross }\n\
               baffles: { wall: { from: { x: 0 mm, y: -135 mm }, to: { x: 0 mm, y: 135 mm }, top: 100 mm, bottom: floor, \
               thickness: 3 mm, sides: sealed, openings: { one: { circle: 20 mm, at: { along: 0 mm, depth: 185 mm } } } } }\n";
    let duty = "states: { s: { climb: 0 deg } }\n";
    let pan = boxed(bay, duty);
    assert!(pan.measures.iter().any(|m| m.spec.name == "motion.refill_surplus"));
    let drawn = measured(
        &format!(
            "pan: 1\nvehicle: v.yaml\noil: o.yaml\nduty: d.yaml\ninterior: {{ rail: {{ rectangle: [0.400 m, 0.270 m] }}, \
             zones: {{ floor: {{ outline: rail, depth: 200 mm }} }} }}\n{bay}"
        ),
        "vehicle: 1\nmount: { nose_up: 0 deg }\npump: { flow: { all: 3 L/min } }\n\
         check: { level: 150 mm, oil_at: 20 degC, engine: running }\n",
        "oil: 1\nexpansion: 0 1/K\nviscosity: { 40 degC: 35 mm^2/s, 100 degC: 7.3 mm^2/s }\n",
        &format!("duty: 1\noil_temperature: 20 degC\n{duty}"),
    );
    let (area, nu, d, draw) = (PI * 1e-4, 79.482e-6, 0.020, 3e-3 / 60.0);
    let head = |v: f64| {
        v * v / (2.0 * G) * (1.0 / (0.61 * 0.61) + 12.0 * PI * nu / (v * d))
            + 32.0 * nu * 0.003 * v / (G * d * d)
    };
    let (mut slow, mut fast) = (0.0, 1.0);
    for _ in 0..80 {
        let middle = f64::midpoint(slow, fast);
        if head(middle) < 0.010 { slow = middle } else { fast = middle }
    }
    let [low, high] = bounds(&drawn, "motion.refill_surplus", "");
    near(low, area * slow - draw, 1e-3);
    near(high, area * (2.0 * G * 0.010).sqrt() - draw, 1e-6);
}

/// A box of 200 by 240 mm with oil 50 mm below the rail and the middle of a mouth of 20 mm so far under its middle that a tilt
/// of 15° brings the rim to the surface, along a drive of level ground and two climbs of 30°.
fn along_two_climbs() -> PanMeasured {
    let depth = 50.0 + 10.0 * 15.0_f64.to_radians().tan();
    let pan = format!(
        "pan: 1\nvehicle: v.yaml\noil: none\nduty: d.yaml\ninterior: {{ rail: {{ rectangle: [200 mm, 240 mm] }}, zones: {{ \
         box: {{ outline: rail, depth: 150 mm }} }} }}\n\
         pickup: {{ inlet: {{ circle: 20 mm, at: {{ x: 0 mm, y: 0 mm, depth: {depth} mm }}, facing: down }} }}\n"
    );
    let vehicle = "vehicle: 1\nmount: { nose_up: 0 deg }\ncase: { outline: { rectangle: [200 mm, 240 mm] }, height: 400 mm, \
                   free_share: 1 }\ncheck: { level: 50 mm, oil_at: 40 degC, engine: running }\n";
    let duty = "duty: 1\noil_temperature: 40 degC\nstates: { s: { climb: 0 deg } }\nlog: { file: log.csv }\n";
    let mut log =
        "time [s],specific force forward [gn],specific force left [gn],specific force up [gn]\n"
            .to_owned();
    let mut row = 0.0;
    for (lasts, climb) in [(4.0, 0.0_f64), (6.0, 30.0), (6.0, 0.0), (3.0, 30.0), (4.0, 0.0)] {
        let end: f64 = row + lasts * 50.0;
        while row < end {
            let (x, z) = climb.to_radians().sin_cos();
            writeln!(log, "{:.2},{x:.9},0,{z:.9}", row / 50.0).unwrap();
            row += 1.0;
        }
    }
    let files =
        [("pan.yaml", pan.as_str()), ("v.yaml", vehicle), ("d.yaml", duty), ("log.csv", &log)];
    let instead = files.map(|(name, text)| (format!("t/p/{name}"), text.to_owned())).into();
    let measured = measure(&Disk { instead }, &["t/p/pan.yaml"]);
    assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
    measured.pans.into_iter().next().unwrap()
}

// Closed form of a box, floor wet and case dry: the surface turns about its middle, so that the rim lies D cos τ - r sin τ
// deep. Half-angle identity, sin τ/(1 + cos τ) = tan(τ/2): halfway through the low-pass of a step to 30° the oil leans by 15°,
// and a low-pass without shift is halfway when the step is, so that the rim is bare for as long as each climb lasts.
#[test]
fn along_a_drive_a_rim_is_bare_for_as_long_as_the_climbs_last() {
    let pan = along_two_climbs();
    let (sine, cosine) = 30.0_f64.to_radians().sin_cos();
    let meant = 10.0 * (15.0_f64.to_radians().tan() * cosine - sine);
    near(value(&pan, "pickup.log_least_rim_depth", "") * 1e3, meant, 1e-6);
    // Samples stand for 0.02 s, and each climb ends at one of two.
    let time = value(&pan, "pickup.log_time_uncovered", "");
    assert!((time - 9.0).abs() <= 0.0401, "{time}");
    let spell = value(&pan, "pickup.log_longest_spell", "");
    assert!((spell - 6.0).abs() <= 0.0201, "{spell}");
}
