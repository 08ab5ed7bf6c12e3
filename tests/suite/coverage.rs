//! Tilts and accelerations at which the inlet uncovers, against closed forms of a box.

use crate::support::{Disk, measure, rulebook};
use sumpwright_core::coverage::CoverageCase;
use sumpwright_core::review::{Measured, Request, measure_with_map};

/// A box 400 by 240 mm on a level rail with oil 50 mm below it.
fn world(x: f64, depth: f64, fill: &str) -> Disk {
    let pan = format!(
        "pan: 1\nvehicle: ../v.yaml\noil: none\nduty: ../d.yaml\n\
         interior: {{ rail: {{ rectangle: [400 mm, 240 mm] }}, zones: {{ box: {{ outline: rail, depth: 100 mm }} }} }}\n\
         pickup: {{ inlet: {{ circle: 20 mm, at: {{ x: {x} mm, y: 0 mm, depth: {depth} mm }}, facing: down }} }}\n\
         check: {{ level: {fill}, oil_at: 40 degC, engine: running }}\n"
    );
    let vehicle = "vehicle: 1\nmount: { nose_up: 0 deg }\n";
    let duty = "duty: 1\noil_temperature: 40 degC\nstates: { climb: { climb: 5 deg } }\n";
    let texts = [("w/pans/box.yaml", pan.as_str()), ("w/v.yaml", vehicle), ("w/d.yaml", duty)];
    Disk { instead: texts.map(|(path, text)| (path.to_owned(), text.to_owned())).into() }
}

fn value(measured: &Measured, name: &str) -> f64 {
    let found = measured.pans[0].measures.iter().find(|m| m.spec.name == name).unwrap();
    found.reading.as_ref().unwrap().bounds.value().unwrap()
}

/// The tilt at which depth·cos τ − away·sin τ − r·sin τ is `need`: with the floor wet and the rail dry the surface of a box
/// turns about the middle of its surface.
fn closed_form(depth: f64, away: f64, need: f64) -> f64 {
    let across = away + 10.0;
    (need / depth.hypot(across)).acos() - (across / depth).atan()
}

/// Closed form of a box, as above, and a = g tan τ on level ground.
#[test]
fn under_the_middle_of_a_box_every_direction_uncovers_alike() {
    let disk = world(0.0, 62.0, "50 mm");
    let measured = measure(&disk, &["w/pans/box.yaml"]);
    assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
    let expected = closed_form(12.0, 0.0, 10.0);
    assert!((value(&measured, "pickup.least_tilt") - expected).abs() < 1e-11);
    let acceleration = 9.80665 * expected.tan();
    assert!((value(&measured, "pickup.least_acceleration") - acceleration).abs() < 1e-9);
    // The same tilt less the 5 deg of the one state, in its direction.
    let margin = value(&measured, "pickup.tilt_margin");
    assert!((margin - (expected - 5.0_f64.to_radians())).abs() < 1e-11, "{margin}");
}

#[test]
fn an_inlet_ahead_of_the_middle_uncovers_first_where_the_oil_runs_rearward() {
    let disk = world(100.0, 80.0, "50 mm");
    let pans = ["w/pans/box.yaml".to_owned()];
    let measured =
        measure_with_map(Request { files: &disk, pans: &pans, rulebook: &[], drawn: false });
    let map = measured.pans[0].coverage.clone().unwrap().unwrap();
    let [case] = map.cases.as_slice() else { panic!("a check taken as exact has one fill") };
    let expected = closed_form(30.0, 100.0, 10.0);
    assert!((case.least - expected).abs() < 1e-9, "{} {expected}", case.least);
    assert!((case.least_azimuth - std::f64::consts::PI).abs() < 1e-3);
    // Every ray that keeps the floor wet and the rail dry: the inlet lies 100·cos off the pivot on its way.
    let mut held = 0;
    for ray in &case.rays {
        let away = -100.0 * ray.azimuth.cos();
        let tilt = closed_form(30.0, away, 10.0);
        let reach =
            (200.0 * ray.azimuth.cos().abs() + 120.0 * ray.azimuth.sin().abs()) * tilt.tan();
        if (0.0..1.5).contains(&tilt) && reach < 50.0 {
            held += 1;
            assert!((ray.to_floor.low - tilt).abs() < 1e-9, "{} {tilt}", ray.azimuth);
        }
    }
    assert!(held >= 5, "{held} rays held against the closed form");
    assert_eq!(case.rays.len(), 36);
    let mark = &map.duty[0];
    assert!((mark.tilt.to_degrees() - 5.0).abs() < 1e-9);
    assert!((mark.azimuth.to_degrees() - 180.0).abs() < 1e-9);
}

#[test]
fn less_oil_uncovers_sooner_in_every_direction_and_bounds_the_stated() {
    let disk = world(60.0, 80.0, "50 ± 5 mm");
    let pans = ["w/pans/box.yaml".to_owned()];
    let measured =
        measure_with_map(Request { files: &disk, pans: &pans, rulebook: &[], drawn: false });
    let map = measured.pans[0].coverage.clone().unwrap().unwrap();
    let words: Vec<&str> = map.cases.iter().map(|case| case.fill.words()).collect();
    assert_eq!(words, ["least oil", "stated oil", "most oil"]);
    // The half-width of the check in full: the oil stands 55 mm below the rail at the least.
    let expected = closed_form(25.0, 60.0, 10.0);
    assert!((map.cases[0].least - expected).abs() < 1e-6, "{} {expected}", map.cases[0].least);
    let low = |case: &CoverageCase, i: usize| case.rays[i].to_floor.low;
    for i in 0..36 {
        assert!(low(&map.cases[0], i) <= low(&map.cases[1], i));
        assert!(low(&map.cases[1], i) <= low(&map.cases[2], i));
    }
}

#[test]
fn an_inlet_that_stands_out_on_level_ground_has_no_tilt_left() {
    let measured = measure(&world(0.0, 45.0, "50 mm"), &["w/pans/box.yaml"]);
    assert!(value(&measured, "pickup.least_tilt").abs() <= 0.0);
    assert!(value(&measured, "pickup.tilt_margin") < 0.0);
}

/// The measures look for the depth that the rule of coverage asks.
#[test]
fn the_depth_of_the_map_is_the_limit_of_the_rule() {
    let (_, text) = rulebook().into_iter().find(|(path, _)| path.ends_with("pickup.yaml")).unwrap();
    let rule = text.split("pickup.uncovered:").nth(1).unwrap();
    assert!(rule.lines().any(|line| line.trim() == "at_least: 10 mm"));
    assert!((sumpwright_core::coverage::COVERED - 0.010).abs() <= 0.0);
}
