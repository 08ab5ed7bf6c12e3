//! What the vehicles and oils of the fixtures say.

use super::*;
use crate::document::outline::OutlineForm;
use crate::document::pan::{FillDoc, PlanAxis, SolidForm};
use crate::quantity::{Given, Kind};

#[test]
fn the_brindle_says_what_its_file_says() {
    let reading = vehicle_of(valid("vehicle", "brindle"));
    let vehicle = reading.good();
    let mount = vehicle.mount.stated().expect("stated");
    assert_si(mount.behind_front_axle.stated().expect("stated").value.to_si(), 1.45);
    assert_si(
        mount.nose_up.stated().expect("stated").value.to_si(),
        3.0_f64 * std::f64::consts::PI / 180.0,
    );
    assert_si(mount.moves_down.stated().expect("stated").value.to_si(), 0.008);
    let case = vehicle.case.stated().expect("stated");
    assert_si(case.free_share.stated().expect("stated").value.to_si(), 0.5);
    let drum = &vehicle.rotating.stated().expect("stated").entries[0].value;
    let SolidForm::Cylinder { along, .. } = &drum.form else { panic!("a cylinder") };
    assert_eq!(along.map(|w| w.value), Some(PlanAxis::X));
    assert_si(drum.at.z.value.to_si(), 0.090);
    let check = vehicle.check.stated().expect("stated");
    let FillDoc::Level { below_rail, .. } = check.fill else { panic!("by level") };
    assert_si(below_rail.value.to_si(), 0.012);
    assert_si(check.oil_at.stated().expect("stated").value.to_si(), 313.15);
    let flows = vehicle.pump.stated().and_then(|p| p.flow.stated()).expect("stated");
    assert_eq!(flows.entries[1].name, "high");
    assert_si(flows.entries[1].value.value.to_si(), 0.020 / 60.0);
    let skid = vehicle.skid.stated().expect("stated");
    assert_si(skid.stiffness.stated().expect("stated").value.to_si(), 600e3);
    let hole = &skid.holes.stated().expect("stated").entries[0].value;
    assert_si(hole.at.stated().expect("stated").x.value.to_si(), -0.020);
}

#[test]
fn other_forms_of_a_vehicle_are_read() {
    let reading = vehicle_of(valid("vehicle", "other-forms"));
    let vehicle = reading.good();
    let mount = vehicle.mount.stated().expect("stated");
    assert!(matches!(*mount.moves_roll, Given::Absent(_)));
    assert!(matches!(*mount.left, Given::LeftOut(_)));
    let case = vehicle.case.stated().expect("stated");
    assert!(matches!(case.outline.form, OutlineForm::Polygon { .. }));
    assert_si(case.free_share.stated().expect("stated").value.to_si(), 0.5);
    assert_si(reading.input("check.volume").u, 0.00005 / 3.0_f64.sqrt());
    assert!(reading.input("held_up").assumed);
    assert_si(reading.input("held_up").u, 0.001 / 12.0_f64.sqrt());
}

#[test]
fn the_trail_fluid_says_what_its_file_says() {
    let reading = oil_of(valid("oil", "trail-fluid"));
    let oil = reading.good();
    let rows = &oil.viscosity.stated().expect("stated").rows;
    assert_eq!(rows.len(), 2);
    assert_si(rows[0].0.value.to_si(), 313.15);
    assert_si(rows[1].1.value.to_si(), 6.8e-6);
    assert_si(oil.expansion.stated().expect("stated").value.to_si(), 0.00072);
    assert_si(oil.heat_capacity.stated().expect("stated").value.to_si(), 2100.0);
    assert!(matches!(*oil.conductivity, Given::LeftOut(_)));
}

#[test]
fn a_table_is_put_in_order_and_its_temperatures_are_inputs() {
    let reading = oil_of(valid("oil", "with-conductivity"));
    let oil = reading.good();
    let rows = &oil.viscosity.stated().expect("stated").rows;
    assert_si(rows[0].0.value.to_si(), 310.95);
    assert_si(rows[1].0.value.to_si(), 373.15);
    let temperature = reading.input("density.15 degC by thermometer.temperature");
    assert_eq!(reading.sources.slice(temperature.span), "15 degC by thermometer");
    // For a temperature the instrument's half-width is a difference.
    assert_si(temperature.u, 1.0 / 3.0_f64.sqrt());
    let cold = rows[0].0.span;
    let shifts = [Shift { at: cold, by: 2.0 }];
    let mut findings = Findings::default();
    let moved = read_oil(&reading.node, ReadOptions { shifts: &shifts, ..STATED }, &mut findings);
    let moved = moved.expect("an oil");
    assert_si(moved.viscosity.stated().expect("stated").rows[0].0.value.to_si(), 312.95);
}
