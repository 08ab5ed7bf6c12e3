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

pub(super) fn vehicle(c: &mut Cursor<'_, '_>, like: Option<&Vehicle>) -> Vehicle {
    instruments(c);
    Vehicle {
        span: c.span,
        notebook: c.notebook(),
        title: c.given("title", text),
        wheelbase: c.part_like("wheelbase", like.map(|l| &l.wheelbase), quantity),
        mount: c.part_like("mount", like.map(|l| &l.mount), keys(mount)),
        case: c.part_like("case", like.map(|l| &l.case), mapping(case)),
        rotating: c.part_like(
            "rotating",
            like.map(|l| &l.rotating),
            named(|context, spot| mapping(displacer)(context, spot)),
        ),
        check: c.part_like("check", like.map(|l| &l.check), mapping(check)),
        held_up: c.part_like("held_up", like.map(|l| &l.held_up), quantity),
        pump: c.part_like("pump", like.map(|l| &l.pump), keys(pump)),
        skid: c.part_like("skid", like.map(|l| &l.skid), keys(skid)),
        tyre_radius: if let Some(like) = like.filter(|_| c.is_still("tyres")) {
            like.tyre_radius.kept(&c.notebook())
        } else {
            let radius = c.group("tyres", |tyres| tyres.given("loaded_radius", quantity));
            c.watched("tyres", radius)
        },
        neighbours: c.part_like(
            "neighbours",
            like.map(|l| &l.neighbours),
            named(|context, spot| mapping(neighbour)(context, spot)),
        ),
    }
}

fn mount(c: &mut Cursor<'_, '_>) -> Mount {
    let (behind_front_axle, left, above_ground) = c.group("pan_origin", |origin| {
        (
            origin.part("behind_front_axle", quantity),
            origin.part("left", quantity),
            origin.part("above_ground", quantity),
        )
    });
    let nose_up = c.part("nose_up", quantity);
    let (moves_down, moves_roll) =
        c.group("moves", |moves| (moves.part("down", quantity), moves.part("roll", quantity)));
    Mount { span: c.span, behind_front_axle, left, above_ground, nose_up, moves_down, moves_roll }
}

fn case(c: &mut Cursor<'_, '_>) -> Option<Case> {
    let outline = c.required("outline", outline);
    let height = c.required("height", quantity);
    let free_share = c.given("free_share", quantity);
    let tensile = c.part("tensile", quantity);
    let expansion = c.part("expansion", quantity);
    let (outline, height) = (outline?, height?);
    Some(Case { span: c.span, outline, height, free_share, tensile, expansion })
}

fn pump(c: &mut Cursor<'_, '_>) -> Pump {
    let flow = c.part("flow", named(quantity));
    let suction_limit = c.part("suction_limit", quantity);
    let at = c.part("at", mapping(pan_point));
    let flow_rises_in = c.part("flow_rises_in", quantity);
    let pressure = c.part("pressure", quantity);
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
