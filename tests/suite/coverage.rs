//! Tilts and accelerations at which the inlet uncovers, against closed forms of a box and of a half-ball.

use crate::meshes::text_stl;
use crate::support::{Disk, Shelf, measure, rulebook};
use glam::DVec3;
use sumpwright_core::coverage::CoverageCase;
use sumpwright_core::review::{Measured, Request, measure_with_map};
use sumpwright_physics::mesh::Mesh;

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

/// A half-ball of 100 mm under a lid, a ring of 4·`count` points every quarter turn by `count`.
fn half_ball(count: u32) -> Mesh {
    let around = 4 * count;
    let mut points = vec![DVec3::ZERO, DVec3::NEG_Z * 0.1];
    let quarter = |part: u32| std::f64::consts::FRAC_PI_2 * f64::from(part) / f64::from(count);
    for ring in 0..count {
        for at in 0..around {
            let across = 0.1 * quarter(ring).cos();
            let (x, y) = (quarter(at).cos(), quarter(at).sin());
            points.push(DVec3::new(across * x, across * y, -0.1 * quarter(ring).sin()));
        }
    }
    let point = |ring: u32, at: u32| {
        if ring == count { 1 } else { 2 + ring * around + at % around }
    };
    let mut faces = Vec::new();
    for at in 0..around {
        faces.push([0, point(0, at), point(0, at + 1)]);
        for ring in 0..count {
            let [a, b] = [point(ring, at), point(ring, at + 1)];
            let [c, d] = [point(ring + 1, at), point(ring + 1, at + 1)];
            faces.push([a, c, b]);
            if c != d {
                faces.push([b, c, d]);
            }
        }
    }
    Mesh { points, faces }
}

/// In a half-ball the surface stands as far below the middle at every attitude, while the rail stays dry: an inlet of
/// radius r at depth D under oil p below the rail is covered by c up to the tilt at which D·cos τ − r·sin τ = p + c, in
/// every direction. Source: the ball's symmetry, worked here; a mesh of it meets it to second order.
#[test]
fn in_a_half_ball_every_direction_uncovers_at_the_closed_form() {
    let expected = (90.0 / 95.0_f64.hypot(3.0)).acos() - (3.0 / 95.0_f64).atan();
    let worst = |count: u32| {
        let pan = "pan: 1\nvehicle: ../v.yaml\noil: none\nduty: ../d.yaml\n\
             interior: { mesh: { file: ball.stl, unit: mm, of: oil space } }\n\
             pickup: { inlet: { circle: 6 mm, at: { x: 0 mm, y: 0 mm, depth: 95 mm }, facing: down } }\n\
             check: { level: 80 mm, oil_at: 40 degC, engine: running }\n";
        let duty = "duty: 1\noil_temperature: 40 degC\nstates: { climb: { climb: 5 deg } }\n";
        let files = [
            ("w/pans/ball.yaml", pan.as_bytes().to_vec()),
            ("w/pans/ball.stl", text_stl(&half_ball(count), 1000.0)),
            ("w/v.yaml", b"vehicle: 1\nmount: { nose_up: 0 deg }\n".to_vec()),
            ("w/d.yaml", duty.as_bytes().to_vec()),
        ];
        let files = Shelf(files.map(|(path, bytes)| (path.to_owned(), bytes)).into());
        let pans = ["w/pans/ball.yaml".to_owned()];
        let measured =
            measure_with_map(Request { files: &files, pans: &pans, rulebook: &[], drawn: false });
        assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
        let map = measured.pans[0].coverage.clone().unwrap().unwrap();
        let [case] = map.cases.as_slice() else { panic!("a check taken as exact has one fill") };
        assert_eq!(case.rays.len(), 36);
        let off = |tilt: f64| (tilt - expected).abs();
        case.rays.iter().map(|ray| off(ray.to_floor.low)).fold(off(case.least), f64::max)
    };
    let (coarse, fine) = (worst(12), worst(24));
    assert!(fine < 2e-3, "{fine}");
    assert!(coarse / fine > 3.0, "{coarse} {fine}");
}
