//! What the pans of the fixtures say.

use super::*;
use crate::document::object::Stage;
use crate::document::outline::OutlineForm;
use crate::document::pan::{
    BaffleBottom, Displaced, Engine, Facing, FillDoc, OpeningForm, PlanAxis, Process, Sides,
    SolidForm,
};
use crate::quantity::{Given, Kind};

#[test]
fn the_deep_cast_pan_says_what_its_file_says() {
    let reading = pan_of(valid("pan", "deep-cast"));
    let pan = reading.good();
    assert_eq!(pan.title.stated().map(|t| t.text.as_str()), Some("Deep cast pan"));
    let material = pan.material.stated().expect("stated");
    assert_eq!(material.process.stated().map(|w| w.value), Some(Process::SandCasting));
    let interior = pan.interior.stated().expect("stated");
    let floor = interior.floor_zones().expect("zones");
    let OutlineForm::Rectangle { x, y, corner, at } = &floor.rail.form else {
        panic!("a rectangle")
    };
    assert_si(x.value.to_si(), 0.412);
    assert_si(y.value.to_si(), 0.268);
    assert_si(corner.expect("stated").value.to_si(), 0.025);
    assert!(at.is_none());
    let names: Vec<_> = floor.zones.entries.iter().map(|z| z.name.as_str()).collect();
    assert_eq!(names, ["shelf", "sump"]);
    assert!(matches!(floor.zones.entries[0].value.outline.form, OutlineForm::Rail(_)));
    assert_si(floor.zones.entries[1].value.depth.value.to_si(), 0.118);
    let Displaced::Solid(filter) = &interior.displaced[0].value else { panic!("a solid") };
    let SolidForm::Block { z, .. } = filter.form else { panic!("a box") };
    assert_si(z.value.to_si(), 0.024);
    let inlet = pan.pickup.stated().and_then(|p| p.inlet.stated()).expect("stated");
    assert_si(inlet.at.stated().expect("stated").z.value.to_si(), -0.066);
    assert_eq!(inlet.facing.map(|w| w.value), Some(Facing::Down));
    let magnet = pan.magnet.stated().expect("stated");
    assert!(matches!(magnet.form, SolidForm::Cylinder { along: None, .. }));
    assert_si(magnet.at.z.value.to_si(), -0.112);
    assert!(matches!(*pan.check, Given::Absent(_)), "optional: left out counts as none");
}

#[test]
fn what_is_built_into_the_deep_cast_pan_is_read() {
    let reading = pan_of(valid("pan", "deep-cast"));
    let pan = reading.good();
    let baffle = &pan.baffles.stated().expect("stated").entries[0].value;
    assert!(matches!(baffle.bottom.stated(), Some(BaffleBottom::Floor(_))));
    assert_eq!(baffle.sides.stated().map(|w| w.value), Some(Sides::Sealed));
    let openings = &baffle.openings.stated().expect("stated").entries;
    assert!(matches!(openings[0].value.form, OpeningForm::Slot(..)));
    assert_si(openings[0].value.along.stated().expect("stated").value.to_si(), -0.070);
    let drain = &pan.drains.stated().expect("stated").entries[0].value;
    let thread = drain.thread.stated().expect("stated");
    assert_si(thread.diameter.to_si(), 0.014);
    assert_si(thread.pitch.to_si(), 0.0015);
    assert_eq!(reading.sources.slice(thread.span), "M14x1.5");
    let fins = &pan.fins.stated().expect("stated").entries[0].value;
    assert_eq!(fins.count.stated().map(|w| w.value), Some(9));
    assert_eq!(fins.along.stated().map(|w| w.value), Some(PlanAxis::X));
    let flange = pan.flange.stated().expect("stated");
    assert_si(flange.bolts.torque.stated().expect("stated").value.to_si(), 10.0);
    assert_si(flange.bolts.thread.stated().expect("stated").pitch.to_si(), 0.001);
}

#[test]
fn none_is_told_from_left_out() {
    let reading = pan_of(valid("pan", "said-to-be-none"));
    let pan = reading.good();
    assert!(matches!(*pan.drains, Given::Absent(_)));
    assert!(matches!(*pan.wall.stated().expect("stated").sides, Given::Absent(_)));
    let flange = pan.flange.stated().expect("stated");
    let Given::Absent(span) = &flange.bolts.torque else { panic!("none with its bolts") };
    assert_eq!(reading.sources.slice(*span), "none");
    assert!(pan.baseline.is_empty());

    let reading = pan_of(valid("pan", "above-the-rail"));
    let pan = reading.good();
    let Given::LeftOut(missing) = &*pan.fins else { panic!("left out") };
    assert_eq!(missing.path, "fins");
    assert_eq!(reading.sources.slice(missing.within), "pan", "a document shows its kind");
    let pickup = pan.pickup.stated().expect("stated");
    let Given::LeftOut(missing) = &pickup.fixed_to else { panic!("left out") };
    assert_eq!(missing.path, "pickup.fixed_to");
    assert!(reading.sources.slice(missing.within).starts_with("{ inlet:"));
}

#[test]
fn what_is_left_out_of_a_group_that_is_left_out_has_its_full_path() {
    let reading = read_with("vehicle: 1\nmount: { nose_up: 3 deg }\n", |node, out| {
        read_vehicle(node, ReadOptions { prefix: "vehicle.", ..STATED }, out)
    });
    let mount = reading.good().mount.stated().expect("stated");
    let Given::LeftOut(missing) = &*mount.moves_roll else { panic!("left out") };
    assert_eq!(missing.path, "vehicle.mount.moves.roll");
    assert_eq!(reading.sources.slice(missing.within), "{ nose_up: 3 deg }");
    assert_eq!(reading.findings.inputs[0].path, "vehicle.mount.nose_up");
}

#[test]
fn other_forms_are_read() {
    let reading = pan_of(valid("pan", "other-forms"));
    let pan = reading.good();
    let object = pan.object.stated().expect("stated");
    assert_eq!(object.state.map(|w| w.value), Some(Stage::AsMade));
    let measured = object.measured.as_ref().expect("stated");
    assert_eq!(measured.with.len(), 2);
    assert_eq!(pan.baseline.len(), 2);
    let interior = pan.interior.stated().expect("stated");
    let floor = interior.floor_zones().expect("zones");
    assert!(matches!(&floor.rail.form, OutlineForm::Polygon { points, .. } if points.len() == 4));
    let cup = &floor.zones.entries[2].value;
    assert_eq!(cup.opens_in.as_ref().map(|t| t.text.as_str()), Some("well"));
    let Displaced::Solid(post) = &interior.displaced[1].value else { panic!("a solid") };
    assert_si(post.at.z.value.to_si(), 0.005);
    let check = pan.check.stated().expect("stated");
    assert_eq!(check.engine.stated().map(|w| w.value), Some(Engine::Standing));
    assert!(matches!(check.fill, FillDoc::Level { at: Some(_), .. }));
    let reading = pan_of(valid("pan", "above-the-rail"));
    let check = reading.good().check.stated().expect("stated");
    let FillDoc::Volume(litres) = check.fill else { panic!("by volume") };
    assert_si(litres.value.to_si(), 0.0045);
}

#[test]
fn every_quantity_is_an_input_with_its_path_place_and_uncertainty() {
    let reading = pan_of(valid("pan", "deep-cast"));
    reading.good();
    let depth = reading.input("interior.zones.sump.depth");
    assert_eq!(reading.sources.slice(depth.span), "118 ± 0.3 mm");
    // JCGM 100:2008, 4.3.7: a half-width a gives u = a/√3.
    assert_si(depth.u, 0.0003 / 3.0_f64.sqrt());
    assert_si(depth.last_digit, 0.001);
    assert_eq!(depth.unit.symbol, "mm");
    assert!(!depth.assumed);
    assert!(depth.how_to_get.starts_with("A depth gauge"));
    let shelf = reading.input("interior.zones.shelf.depth");
    assert_si(shelf.u, 0.0001 / 3.0_f64.sqrt());
    assert!(reading.input("fins.keel.root").u.abs() <= 0.0, "taken as exact");
    assert_eq!(reading.input("interior.rail.rectangle.1").value.to_bits(), 0.268_f64.to_bits());
}

#[test]
fn an_assumed_value_lies_anywhere_in_the_typical_range() {
    let reading = pan_of(valid("pan", "deep-cast"));
    let strength = reading.input("material.yield");
    assert!(strength.assumed);
    assert_si(strength.value, 165e6);
    // JCGM 100:2008, 4.3.8: a range of width 160 MPa gives u = 160/√12.
    assert_si(strength.u, 160e6 / 12.0_f64.sqrt());

    let outside = pan_of("pan: 1\nmaterial: { yield: 300 MPa assumed }\n");
    outside.good();
    assert_si(outside.input("material.yield").u, 200e6 / 12.0_f64.sqrt());
}

#[test]
fn an_alias_that_two_fields_share_is_one_input() {
    let reading = pan_of("pan: 1\nwall:\n  floor: &thick 5.0 ± 0.3 mm\n  sides: *thick\n");
    let wall = reading.good().wall.stated().expect("stated");
    let (floor, sides) =
        (wall.floor.stated().expect("stated"), wall.sides.stated().expect("stated"));
    assert_eq!(floor.span, sides.span);
    assert_eq!(reading.findings.inputs.len(), 1);
    assert_eq!(reading.findings.inputs[0].path, "wall.floor");

    let shift = [Shift { at: floor.span, by: 0.001 }];
    let options = ReadOptions { shifts: &shift, ..STATED };
    let mut findings = Findings::default();
    let moved = read_pan(&reading.node, options, &mut findings).expect("a pan");
    let wall = moved.wall.stated().expect("stated");
    assert_si(wall.floor.stated().expect("stated").value.to_si(), 0.006);
    assert_si(wall.sides.stated().expect("stated").value.to_si(), 0.006);
}

#[test]
fn a_value_that_a_step_moves_beyond_its_range_is_no_fault_of_the_document() {
    let text = "pan: 1\nwall: { floor: 5 mm }\ninterior:\n  rail: { rectangle: [40 mm, 40 mm], corner: 20 mm }\n  zones: { a: { outline: rail, depth: 10 mm } }\n";
    let stated = pan_of(text);
    stated.good();
    for (path, by) in [("wall.floor", -0.010), ("interior.rail.corner", 0.005)] {
        let shifts = [Shift { at: stated.input(path).span, by }];
        let options = ReadOptions { shifts: &shifts, ..STATED };
        let moved = read_with(text, |node, out| read_pan(node, options, out));
        moved.good();
        assert_si(moved.input(path).value, stated.input(path).value + by);
    }
}
