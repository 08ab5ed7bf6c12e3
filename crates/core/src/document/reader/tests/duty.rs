//! What the duties of the fixtures say.

use super::*;
use crate::document::duty::Side;
use crate::quantity::{Given, Kind};

#[test]
fn the_rock_trail_says_what_its_file_says() {
    let reading = duty_of(valid("duty", "rock-trail"));
    let duty = reading.good();
    assert_eq!(duty.oil_temperature.stated().map(Vec::len), Some(2));
    let states = &duty.states.stated().expect("stated").entries;
    let names: Vec<_> = states.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(
        names,
        [
            "steep-climb",
            "steep-descent",
            "shelf-road",
            "corner-of-a-climb",
            "firm-stop",
            "stop-downhill"
        ]
    );
    let degrees = std::f64::consts::PI / 180.0;
    let climb = states[0].value.climb.expect("stated");
    assert!(!climb.descent);
    assert_si(climb.angle.value.to_si(), 30.0 * degrees);
    assert_eq!(states[0].value.flow.as_ref().map(|t| t.text.as_str()), Some("idle"));
    assert!(states[1].value.climb.expect("stated").descent);
    assert_eq!(states[2].value.high.map(|w| w.value), Some(Side::Left));
    // ISO 80000-3: standard gravity is 9.80665 m/s².
    assert_si(states[4].value.braking.expect("stated").value.to_si(), 0.5 * 9.80665);
    assert!(states[5].value.lasts.is_none());
    assert_si(duty.strike_force.stated().expect("stated").value.to_si(), 1500.0);
    let parked = duty.parked_to_drain.stated().expect("stated");
    assert!(parked.climb.expect("stated").angle.value.to_si().abs() <= 0.0);
}

#[test]
fn a_sweep_takes_equal_steps_and_both_ends() {
    let reading = duty_of(valid("duty", "swept"));
    let duty = reading.good();
    let all = duty.oil_temperature.stated().expect("stated");
    let degrees: Vec<f64> = all.iter().map(|t| t.value.to_si() - 273.15).collect();
    for (found, expected) in degrees.iter().zip([20.0, 40.0, 60.0, 80.0, 100.0, 120.0]) {
        assert!((found - expected).abs() < 1e-9, "{degrees:?}");
    }
    assert_eq!(degrees.len(), 6);
    assert_eq!(reading.sources.slice(all[0].span), "20 degC");
    assert_eq!(reading.sources.slice(all[5].span), "120 degC");
    assert!(matches!(*duty.strike_contact, Given::Absent(_)));
    let states = &duty.states.stated().expect("stated").entries;
    assert_eq!(states[1].value.turn.map(|w| w.value), Some(Side::Right));
}

#[test]
fn a_step_on_an_end_of_the_sweep_moves_the_temperatures_between() {
    let text = valid("duty", "swept");
    let stated = duty_of(text);
    let from = stated.input("oil_temperature.from").span;
    let shifts = [Shift { at: from, by: 10.0 }];
    let moved = read_with(text, |node, out| {
        read_duty(node, ReadOptions { shifts: &shifts, ..STATED }, out)
    });
    let before = stated.good().oil_temperature.stated().expect("stated");
    let after = moved.good().oil_temperature.stated().expect("stated");
    let steps: Vec<f64> =
        before.iter().zip(after).map(|(b, a)| a.value.to_si() - b.value.to_si()).collect();
    for (found, expected) in steps.iter().zip([10.0, 8.0, 6.0, 4.0, 2.0, 0.0]) {
        assert!((found - expected).abs() < 1e-9, "{steps:?}");
    }
}

#[test]
fn one_temperature_needs_no_list() {
    let reading = duty_of(valid("duty", "one-temperature"));
    assert_eq!(reading.good().oil_temperature.stated().map(Vec::len), Some(1));
    assert!(matches!(*reading.good().strike_force, Given::LeftOut(_)));
}

#[test]
fn a_swept_state_stands_once_for_each_point_of_the_product_of_its_ranges() {
    let reading = duty_of(valid("duty", "swept-states"));
    let states = &reading.good().states.stated().expect("stated").entries;
    let names: Vec<_> = states.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names.iter().filter(|n| **n == "crawl").count(), 7 * 4);
    assert_eq!(names.iter().filter(|n| **n == "stop").count(), 3);
    assert_eq!(names.iter().filter(|n| **n == "level").count(), 1);
    let points: Vec<_> = states.iter().map(|s| s.value.point.as_deref()).collect();
    // What is written last turns fastest; both ends come out as written.
    assert_eq!(points[0], Some("climb 0 deg, side slope 0 deg"));
    assert_eq!(points[1], Some("climb 0 deg, side slope 5 deg"));
    assert_eq!(points[27], Some("climb 30 deg, side slope 15 deg"));
    assert_eq!(points[28], Some("braking 0.2 gn"));
    assert_eq!(points[31], None);
    // ISO 80000-3: standard gravity is 9.80665 m/s².
    assert_si(states[30].value.braking.expect("stated").value.to_si(), 0.6 * 9.80665);
    assert!(states.iter().all(|s| s.name != "stop" || s.value.lasts.is_some()));
}

#[test]
fn an_end_of_a_swept_state_is_an_input_that_moves_the_points_between() {
    let text = valid("duty", "swept-states");
    let to = duty_of(text).input("states.crawl.climb.to").span;
    let shifts = [Shift { at: to, by: 0.06 }];
    let moved = read_with(text, |node, out| {
        read_duty(node, ReadOptions { shifts: &shifts, ..STATED }, out)
    });
    let angle = |reading: &Reading<Duty>, point: usize| {
        let states = &reading.good().states.stated().expect("stated").entries;
        states[point].value.climb.expect("stated").angle.value.to_si()
    };
    let stated = duty_of(text);
    for (point, expected) in [(0, 0.0), (4, 0.01), (12, 0.03), (24, 0.06)] {
        let found = angle(&moved, point) - angle(&stated, point);
        assert!((found - expected).abs() < 1e-12, "{point}: {found}");
    }
}
