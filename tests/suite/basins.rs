//! Oil behind ridges and baffles, through the whole way: a description in, a reading out.

use crate::support::{Disk, measure};
use sumpwright_core::review::PanMeasured;

/// Two sumps 175 mm long, 270 mm wide and 40 mm deeper than the ridge of 50 mm between them.
const RIDGE: &str = "    ridge: { outline: rail, depth: 160 mm }\n    \
    front: { outline: { rectangle: [175 mm, 270 mm], at: { x: 112.5 mm, y: 0 mm } }, depth: 200 mm }\n    \
    rear: { outline: { rectangle: [175 mm, 270 mm], at: { x: -112.5 mm, y: 0 mm } }, depth: 200 mm }\n";

/// A box of the same size.
const BOX: &str = "    floor: { outline: rail, depth: 200 mm }\n";

struct Pan<'a> {
    zones: &'a str,
    baffles: &'a str,
    litres: f64,
    climb: f64,
    /// Of the inlet: forward of the middle, and deep, in millimetres.
    inlet: [f64; 2],
}

impl Pan<'_> {
    fn read(&self) -> PanMeasured {
        let Self { zones, baffles, litres, climb, inlet: [x, depth] } = self;
        let pan = format!(
            "pan: 1\nvehicle: v.yaml\noil: o.yaml\nduty: d.yaml\ninterior:\n  rail: {{ rectangle: [400 mm, 270 mm] }}\n  \
             zones:\n{zones}pickup: {{ inlet: {{ circle: 20 mm, at: {{ x: {x} mm, y: 0 mm, depth: {depth} mm }}, facing: down }} }}\n\
             check: {{ volume: {litres} L, oil_at: 20 degC, engine: running }}\nbaffles: {baffles}\n"
        );
        let climb = if *climb < 0.0 {
            format!("descent: {} deg", -climb)
        } else {
            format!("climb: {climb} deg")
        };
        let duty = format!("duty: 1\noil_temperature: 20 degC\nstates: {{ s: {{ {climb} }} }}\n");
        let files = [
            ("t/p/pan.yaml", pan.as_str()),
            ("t/p/v.yaml", "vehicle: 1\nmount: { nose_up: 0 deg }\n"),
            ("t/p/o.yaml", "oil: 1\nexpansion: 0.00075 1/K\n"),
            ("t/p/d.yaml", duty.as_str()),
        ];
        let instead = files.iter().map(|(p, t)| ((*p).to_owned(), (*t).to_owned())).collect();
        let measured = measure(&Disk { instead }, &["t/p/pan.yaml"]);
        assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
        measured.pans.into_iter().next().unwrap()
    }

    fn value(&self, name: &str) -> f64 {
        let pan = self.read();
        let entry = pan.measures.iter().find(|m| m.spec.name == name).unwrap();
        let reading = entry.reading.as_ref().unwrap_or_else(|e| panic!("{name}: {}", e.reason));
        reading.bounds.value().unwrap()
    }
}

fn close(found: f64, meant: f64, by: f64) {
    assert!((found - meant).abs() <= by, "{found} is not {meant} within {by}");
}

/// What stays in the front sump, W (40 run − run² tan/2) with run = min(40/tan, 175): elementary plane geometry.
#[test]
fn what_a_ridge_keeps_from_the_inlet_is_the_prism_behind_it() {
    for (climb, behind) in [(12.0, 1_011.211), (18.0, 664.780), (25.0, 463.213), (35.0, 308.480)] {
        let pan = Pan { zones: RIDGE, baffles: "none", litres: 4.2, climb, inlet: [-100.0, 190.0] };
        close(pan.value("oil.stranded") * 1e6, behind, 1e-3);
        close(pan.value("oil.stranded_share"), behind / 4.2e3, 1e-6);
        let front = Pan { inlet: [100.0, 190.0], ..pan };
        close(front.value("oil.stranded") * 1e6, 4.2e3 - behind, 1e-3);
    }
}

/// On the level both sumps stand above the ridge and nothing is apart.
#[test]
fn nothing_is_stranded_where_all_oil_is_one_body() {
    let pan =
        Pan { zones: RIDGE, baffles: "none", litres: 4.2, climb: 0.0, inlet: [-100.0, 190.0] };
    close(pan.value("oil.stranded"), 0.0, 0.0);
    // Of 3.9 mm over the ridge and its own sump: 400 · 3.9 + 175 · 30 mm², by hand.
    let over = (4.2e3 - 2.0 * 175.0 * 40.0 * 0.27) / (400.0 * 0.27);
    close(pan.value("oil.usable_litres") * 1e6, (400.0 * over + 175.0 * 30.0) * 0.27, 1e-6);
    close(pan.value("oil.litres_below_inlet") * 1e6, 175.0 * 10.0 * 0.27, 1e-6);
}

/// One level for both sumps would have the inlet under 10 mm of oil and more; in its own pool it is not.
#[test]
fn an_inlet_that_one_level_covers_is_bare_behind_a_ridge() {
    let climb = 18.0_f64;
    let (sine, cosine) = climb.to_radians().sin_cos();
    let pan = Pan { zones: RIDGE, baffles: "none", litres: 4.2, climb, inlet: [-100.0, 150.0] };
    let rim = |depth: f64| sine * -0.1 - cosine * depth * 1e-3 + 0.01 * sine;
    let one = |pan: &Pan<'_>| pan.value("oil.level_above_rail") * cosine - rim(pan.inlet[1]);
    let apart = one(&pan) - pan.value("pickup.rim_depth");
    assert!(apart > 3e-3, "{apart}");
    // As deep as it takes for one level to say half of that more than 10 mm.
    let deeper = (0.010 + apart / 2.0 - one(&pan)) / cosine * 1e3;
    let pan = Pan { inlet: [-100.0, 150.0 + deeper], ..pan };
    assert!(one(&pan) > 0.010);
    assert!(pan.value("pickup.rim_depth") < 0.010);
    assert!(pan.value("oil.usable_litres") > 0.0);
}

/// As behind the ridge: W (60 run − run² tan/2), run = min(60/tan, 300), behind a baffle of 60 mm, 100 mm from the rear
/// wall, that is sealed and stands on the floor. One with a gap at its ends or under its foot holds nothing.
#[test]
fn a_sealed_baffle_holds_oil_back_up_to_its_top() {
    let baffle = |more: &str| {
        let line = "from: { x: -100 mm, y: -130 mm }, to: { x: -100 mm, y: 130 mm }, top: 140 mm, thickness: 3 mm";
        format!("{{ b: {{ {line}, {more} }} }}")
    };
    let closed = baffle("bottom: floor, sides: sealed, openings: none");
    let pan = Pan { zones: BOX, baffles: &closed, litres: 2.9, climb: 0.0, inlet: [-150.0, 190.0] };
    for climb in [15.0_f64, 30.0, 45.0] {
        let slope = climb.to_radians().tan();
        let run = if 60.0 / slope < 300.0 { 60.0 / slope } else { 300.0 };
        let behind = 270.0 * (60.0 * run - run * run * slope / 2.0) * 1e-3;
        let rear = Pan { climb, ..pan };
        close(rear.value("oil.stranded") * 1e6, behind, 1e-6);
    }
    for open in [
        baffle("bottom: floor, sides: open, openings: none"),
        baffle("bottom: 195 mm, sides: sealed, openings: none"),
        baffle(
            "bottom: floor, sides: sealed, openings: { a: { circle: 20 mm, at: { along: 0 mm, depth: 190 mm } } }",
        ),
    ] {
        close(Pan { baffles: &open, climb: 30.0, ..pan }.value("oil.stranded"), 0.0, 0.0);
    }
}

/// Through its openings the higher side runs down to the lowest place of the lowest: 25 mm over the floor here, so that
/// W (25 run − run² tan/2) stays.
#[test]
fn a_baffle_keeps_what_is_below_its_openings() {
    let openings = "{ slot: { slot: [60 mm, 10 mm], at: { along: 0 mm, depth: 170 mm } }, \
                    hole: { circle: 10 mm, at: { along: 80 mm, depth: 150 mm } } }";
    let baffles = format!(
        "{{ b: {{ from: {{ x: -100 mm, y: -130 mm }}, to: {{ x: -100 mm, y: 130 mm }}, top: 140 mm, bottom: floor, \
         thickness: 3 mm, sides: sealed, openings: {openings} }} }}"
    );
    let climb = 30.0_f64;
    let pan = Pan { zones: BOX, baffles: &baffles, litres: 1.4, climb, inlet: [-150.0, 190.0] };
    let run = 25.0 / climb.to_radians().tan();
    close(pan.value("oil.stranded") * 1e6, 270.0 * 25.0 * run / 2.0 * 1e-3, 1e-6);
}

#[test]
fn a_sealed_baffle_whose_openings_are_not_stated_leaves_coverage_unknown() {
    let baffles = "{ b: { from: { x: -100 mm, y: -130 mm }, to: { x: -100 mm, y: 130 mm }, top: 140 mm, bottom: floor, \
                   thickness: 3 mm, sides: sealed } }";
    let pan = Pan { zones: BOX, baffles, litres: 2.9, climb: 30.0, inlet: [-150.0, 190.0] }.read();
    let rim = pan.measures.iter().find(|m| m.spec.name == "pickup.rim_depth").unwrap();
    assert!(rim.reading.as_ref().unwrap_err().reason.contains("baffles.b.openings"));
}
