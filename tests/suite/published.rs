//! Closed forms and published values through the whole way: a description in, a reading out.

use crate::support::{Disk, measure};
use sumpwright_core::review::PanMeasured;

/// A box pan 0.400 by 0.270 m and 0.2 m deep, on a vehicle whose rail stands level, in one state.
struct BoxPan<'a> {
    check: &'a str,
    state: &'a str,
    oil_temperature: &'a str,
    parked: &'a str,
    more: &'a str,
}

impl Default for BoxPan<'_> {
    fn default() -> Self {
        Self {
            check: "volume: 4.0 L, oil_at: 20 degC, engine: running",
            state: "climb: 0 deg",
            oil_temperature: "20 degC",
            parked: "climb: 0 deg",
            more: "",
        }
    }
}

impl BoxPan<'_> {
    fn read(&self) -> PanMeasured {
        let Self { check, state, oil_temperature, parked, more } = self;
        let pan = format!(
            "pan: 1\nvehicle: v.yaml\noil: o.yaml\nduty: d.yaml\ninterior:\n  rail: {{ rectangle: [0.400 m, 0.270 m] }}\n  \
             zones:\n    floor: {{ outline: rail, depth: 200 mm }}\ncheck: {{ {check} }}\n{more}"
        );
        let duty = format!(
            "duty: 1\noil_temperature: {oil_temperature}\nstates: {{ s: {{ {state} }} }}\nparked_to_drain: {{ {parked} }}\n"
        );
        let vehicle = "vehicle: 1\nmount: { nose_up: 0 deg }\nheld_up: 1.08 L\n";
        let files = [
            ("t/p/pan.yaml", pan.as_str()),
            ("t/p/v.yaml", vehicle),
            ("t/p/o.yaml", "oil: 1\nexpansion: 0.00075 1/K\n"),
            ("t/p/d.yaml", duty.as_str()),
        ];
        let instead = files.iter().map(|(p, t)| ((*p).to_owned(), (*t).to_owned())).collect();
        let measured = measure(&Disk { instead }, &["t/p/pan.yaml"]);
        assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
        measured.pans.into_iter().next().unwrap()
    }

    /// Depth of the oil over the floor at the middle of the pan, in millimetres, normal to the floor.
    fn depth(&self) -> f64 {
        200.0 + value(&self.read(), "oil.level_above_rail") * 1e3
    }
}

fn value(pan: &PanMeasured, name: &str) -> f64 {
    let entry = pan.measures.iter().find(|m| m.spec.name == name).unwrap();
    entry
        .reading
        .as_ref()
        .unwrap_or_else(|e| panic!("{name}: {}", e.reason))
        .bounds
        .value()
        .unwrap()
}

fn close(found: f64, meant: f64, by: f64) {
    assert!((found - meant).abs() <= by, "{found} is not {meant} within {by}");
}

fn tan(degrees: f64) -> f64 {
    degrees.to_radians().tan()
}

// Elementary solid geometry (Bronshtein/Semendyayev, Handbook of Mathematics, stereometry): depth V/(LW).
#[test]
fn four_litres_stand_37_037_mm_deep_in_the_box() {
    close(BoxPan::default().depth(), 37.037_037, 1e-6);
    close(value(&BoxPan::default().read(), "interior.volume") * 1e3, 21.6, 1e-12);
}

// Same source: pitched 5 deg with the floor covered, depth at the low end normal to the floor V/(LW) + (L/2) tan θ.
#[test]
fn a_climb_of_5_degrees_piles_the_oil_at_the_rear_wall() {
    let pan = BoxPan { state: "climb: 5 deg", ..BoxPan::default() };
    close(pan.depth() + 200.0 * tan(5.0), 54.534_77, 1e-4);
}

// Elementary solid geometry, same source: pitched 20 deg part of the floor is dry, depth at the low end 103.8475 mm, wetted
// length 285.31866 mm.
#[test]
fn a_climb_of_20_degrees_bares_part_of_the_floor() {
    let pan = BoxPan { state: "climb: 20 deg", ..BoxPan::default() };
    close(pan.depth() + 200.0 * tan(20.0), 103.847_5, 1e-3);
    close(value(&pan.read(), "oil.dry_floor_share"), 1.0 - 285.318_66 / 400.0, 1e-6);
}

// Same source: a plane through two opposite edges of a box 0.090 m high leaves L W H / 2 = 4.86 L.
#[test]
fn the_diagonal_cut_holds_half_the_box() {
    let state = format!("climb: {} deg", (90.0_f64 / 400.0).atan().to_degrees());
    let check = "volume: 4.86 L, oil_at: 20 degC, engine: running";
    close(BoxPan { state: &state, check, ..BoxPan::default() }.depth(), 45.0, 1e-9);
}

// Same source: on a side slope of 20 deg oil rises by (W/2) tan θ = 49.135982 mm at the low side wall. Twice the oil,
// so that the floor stays covered.
#[test]
fn a_side_slope_of_20_degrees_raises_oil_by_49_mm_at_the_low_wall() {
    let check = "volume: 8.0 L, oil_at: 20 degC, engine: running";
    let level = BoxPan { check, ..BoxPan::default() };
    let sloped = BoxPan { state: "side_slope: 20 deg, high: left", check, ..BoxPan::default() };
    close(135.0 * tan(20.0), 49.135_982, 1e-6);
    close(sloped.depth(), level.depth(), 1e-9);
}

// Definition of the coefficient of expansion; its value 7.5e-4 1/K is common practice, no source: 5.0 L at 20 degC
// over 0.108 m² rise by 2.6041667 mm to 95 degC.
#[test]
fn hot_oil_stands_higher_by_its_expansion() {
    let check = "volume: 5.0 L, oil_at: 20 degC, engine: running";
    let cold = BoxPan { check, ..BoxPan::default() };
    let hot = BoxPan { check, oil_temperature: "95 degC", ..BoxPan::default() };
    close(hot.depth() - cold.depth(), 2.604_166_7, 1e-6);
}

// Engine standing: what is held up is in the pan already, and gone from it when the engine runs: 1.08 L over
// 0.108 m² are 10 mm.
#[test]
fn what_is_held_up_is_missing_when_the_engine_runs() {
    let running = BoxPan::default();
    let check = "volume: 4.0 L, oil_at: 20 degC, engine: standing";
    close(running.depth() - BoxPan { check, ..BoxPan::default() }.depth(), 10.0, 1e-9);
}

/// A drain in the rear wall whose bore (12.376 mm for M14x1.5, ISO 724) has its lowest point so far over the floor.
fn rear_drain(above_floor: f64) -> String {
    let depth = 200.0 - above_floor - 12.376_202_8 / 2.0;
    format!(
        "drains: {{ plug: {{ thread: M14x1.5, at: {{ x: -200 mm, y: 0 mm, depth: {depth} mm }}, axis: rear }} }}\n"
    )
}

// Elementary: what lies below a side drain whose lowest point is 6 mm over a flat floor is A · 6 mm.
#[test]
fn a_side_drain_leaves_what_lies_below_its_bore() {
    let more = rear_drain(6.0);
    let pan = BoxPan { more: &more, ..BoxPan::default() }.read();
    close(value(&pan, "drain.residual") * 1e3, 0.108 * 6.0, 1e-6);
    close(value(&pan, "drain.residual_share"), 0.108 * 6.0 / 4.0, 1e-6);
}

// Elementary: parked 2 deg nose down with the drain at the rear floor edge, the wedge L² W tan θ / 2 stays.
#[test]
fn parked_the_wrong_way_a_wedge_stays() {
    let more = rear_drain(1e-4);
    let pan = BoxPan { more: &more, parked: "descent: 2 deg", ..BoxPan::default() }.read();
    let left = value(&pan, "drain.residual") * 1e3;
    close(left, 0.4 * 0.4 * 0.27 * tan(2.0) / 2.0 * 1e3, 2e-4);
}
