//! Reads a vehicle.

use super::cursor::{Cursor, keys, mapping};
use super::instrument::instruments;
use super::quantity::{quantities, quantity};
use super::shape::{check, displacer, outline, pan_point, plan_point};
use super::value::{named, text, word};
use crate::document::vehicle::{
    Case, Mount, Neighbour, NeighbourKind, Pump, Skid, SkidHole, Vehicle,
};
use uom::si::f64::Length;

const NEIGHBOUR_KINDS: &[(&str, NeighbourKind)] = &[
    ("rigid", NeighbourKind::Rigid),
    ("rotating", NeighbourKind::Rotating),
    ("exhaust", NeighbourKind::Exhaust),
];

pub(super) fn vehicle(c: &mut Cursor<'_, '_>) -> Vehicle {
    instruments(c);
    Vehicle {
        span: c.span,
        notebook: c.notebook(),
        title: c.given("title", text),
        wheelbase: c.part("wheelbase", quantity),
        mount: c.part("mount", keys(mount)),
        case: c.part("case", mapping(case)),
        rotating: c.part("rotating", named(|context, spot| mapping(displacer)(context, spot))),
        check: c.part("check", mapping(check)),
        held_up: c.part("held_up", quantity),
        pump: c.part("pump", keys(pump)),
        skid: c.part("skid", keys(skid)),
        tyre_radius: {
            let radius = c.group("tyres", |tyres| tyres.given("loaded_radius", quantity));
            c.watched("tyres", radius)
        },
        neighbours: c.part("neighbours", named(|context, spot| mapping(neighbour)(context, spot))),
    }
}

fn mount(c: &mut Cursor<'_, '_>) -> Mount {
    let (behind_front_axle, left, above_ground) = c.group("pan_origin", |origin| {
        (
            origin.given("behind_front_axle", quantity),
            origin.given("left", quantity),
            origin.given("above_ground", quantity),
        )
    });
    let nose_up = c.given("nose_up", quantity);
    let (moves_down, moves_roll) =
        c.group("moves", |moves| (moves.given("down", quantity), moves.given("roll", quantity)));
    Mount { span: c.span, behind_front_axle, left, above_ground, nose_up, moves_down, moves_roll }
}

fn case(c: &mut Cursor<'_, '_>) -> Option<Case> {
    let outline = c.required("outline", outline);
    let height = c.required("height", quantity);
    let free_share = c.given("free_share", quantity);
    let tensile = c.given("tensile", quantity);
    let expansion = c.given("expansion", quantity);
    let (outline, height) = (outline?, height?);
    Some(Case { span: c.span, outline, height, free_share, tensile, expansion })
}

fn pump(c: &mut Cursor<'_, '_>) -> Pump {
    let flow = c.given("flow", named(quantity));
    let suction_limit = c.given("suction_limit", quantity);
    let at = c.given("at", mapping(pan_point));
    let flow_rises_in = c.given("flow_rises_in", quantity);
    let pressure = c.given("pressure", quantity);
    Pump { span: c.span, flow, suction_limit, at, flow_rises_in, pressure }
}

fn skid(c: &mut Cursor<'_, '_>) -> Skid {
    Skid {
        span: c.span,
        top_face: c.given("top_face", quantity),
        stiffness: c.given("stiffness", quantity),
        load: c.given("load", quantity),
        size: c.given("size", quantities::<Length, 2>),
        thickness: c.given("thickness", quantity),
        modulus: c.given("modulus", quantity),
        holes: c.given("holes", named(|context, spot| keys(hole)(context, spot))),
    }
}

fn neighbour(c: &mut Cursor<'_, '_>) -> Option<Neighbour> {
    let kind = c.given("kind", word(NEIGHBOUR_KINDS));
    let moves = c.given("moves", quantity);
    let solid = displacer(c)?;
    Some(Neighbour { kind, solid, moves })
}

fn hole(c: &mut Cursor<'_, '_>) -> SkidHole {
    let diameter = c.given("circle", quantity);
    let at = c.given("at", mapping(plan_point));
    SkidHole { diameter, at }
}
