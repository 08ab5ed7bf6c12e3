//! What takes up room in the oil: inside floor, walls and case, and clear of each other.

use super::{SLACK, meshes};
use crate::document::Item;
use crate::document::pan::{Displaced, Displacer, PanPoint};
use crate::model::interior::{extent, whole};
use crate::model::outlines;
use crate::model::scene::Scene;
use crate::model::words::millimetres;
use crate::quantity::Given;
use crate::source::{Code, Diagnostic, Span};
use glam::DVec2;
use sumpwright_physics::mesh::overlap;
use sumpwright_physics::terrain::{Outline, Terrain};

/// Things that share less than this, in cubic metres, touch: a cube of 1 mm.
const TOUCHING: f64 = 1e-9;

/// Displacers and the magnet.
pub(super) fn displacers(scene: &Scene, terrain: &Terrain, problems: &mut Vec<Diagnostic>) {
    let Given::Stated(interior) = &*scene.pan.interior else { return };
    for item in &interior.displaced {
        match &item.value {
            Displaced::Solid(solid) => one_displacer(scene, terrain, &item.name, solid, problems),
            Displaced::Mesh(mesh) => {
                meshes::displacer(scene, terrain, &item.name, mesh, problems);
            }
        }
    }
    if let Given::Stated(magnet) = &*scene.pan.magnet {
        one_displacer(scene, terrain, "the magnet", magnet, problems);
    }
    overlaps(&interior.displaced, problems);
    meshes::overlaps(scene, &interior.displaced, problems);
}

fn one_displacer(
    scene: &Scene,
    terrain: &Terrain,
    name: &str,
    displacer: &Displacer,
    problems: &mut Vec<Diagnostic>,
) {
    let (shadow, bottom, top) = extent(displacer);
    if bottom < -SLACK && terrain.has_undercuts() {
        meshes::solid(terrain, name, displacer, problems);
    } else if bottom < -SLACK {
        under(terrain, &shadow, -bottom, name, &displacer.at, problems);
    }
    if top > SLACK {
        let places = (displacer.at.span, displacer.at.z.span);
        above(scene, &shadow, top, name, places, problems);
    }
}

/// A thing whose shadow and lowest depth are given must lie above the floor and inside the walls.
pub(super) fn under(
    terrain: &Terrain,
    shadow: &[DVec2],
    depth: f64,
    name: &str,
    at: &PanPoint,
    problems: &mut Vec<Diagnostic>,
) {
    let below = terrain.under_from(shadow, crate::quantity::si(depth));
    // An area is told from rounding by the length it would have along the shadow's edge.
    if below.outside.value > SLACK * SLACK.sqrt() {
        let message = format!(
            "{name} leaves the oil space sideways: {:.1} cm² of its outline lies outside the rail",
            below.outside.value * 1e4
        );
        problems.push(
            Diagnostic::error(Code::OutsideOilSpace, at.span, message)
                .help("move it inward, or check its size"),
        );
    } else if depth - below.least_depth.value > SLACK {
        let message = format!(
            "{name} leaves the oil space: its lowest point is {} below the floor or wall under it",
            millimetres(depth - below.least_depth.value)
        );
        let help = format!(
            "its lowest point is {} below the rail, the floor or wall there {}: raise it or move it",
            millimetres(depth),
            millimetres(below.least_depth.value)
        );
        problems.push(Diagnostic::error(Code::OutsideOilSpace, at.z.span, message).help(help));
    }
}

/// What reaches above the rail must lie inside the case, where the case is described.
pub(super) fn above(
    scene: &Scene,
    shadow: &[DVec2],
    top: f64,
    name: &str,
    (at, height): (Span, Span),
    problems: &mut Vec<Diagnostic>,
) {
    let Given::Stated(vehicle) = scene.vehicle.as_ref() else { return };
    let Given::Stated(case) = &*vehicle.case else { return };
    let Ok(rail) = scene.rail() else { return };
    let Ok(outline) = outlines::outline(&case.outline, Some(rail)) else { return };
    let over = top - case.height.value.value;
    if over > SLACK {
        let message = format!("{name} reaches {} above the case", millimetres(over));
        problems.push(
            Diagnostic::error(Code::OutsideOilSpace, height, message)
                .also(case.height.span, "the case is only this high"),
        );
    } else if let Some(off) = farthest_outside(&outline, shadow) {
        let message = format!("{name} leaves the case above the rail by {}", millimetres(off));
        problems.push(
            Diagnostic::error(Code::OutsideOilSpace, at, message)
                .also(case.outline.span, "the case's outline"),
        );
    }
}

/// How far the farthest corner of a shadow lies outside an outline, if any does.
fn farthest_outside(outline: &Outline, shadow: &[DVec2]) -> Option<f64> {
    shadow
        .iter()
        .filter(|p| !outline.contains(**p))
        .map(|p| distance_to(outline, *p))
        .filter(|d| *d > SLACK)
        .reduce(|a, b| if b > a { b } else { a })
}

fn distance_to(outline: &Outline, point: DVec2) -> f64 {
    let points = outline.points();
    points
        .iter()
        .zip(points.iter().cycle().skip(1))
        .map(|(a, b)| {
            let along = *b - *a;
            let share = ((point - *a).dot(along) / along.length_squared()).clamp(0.0, 1.0);
            (*a + along * share).distance(point)
        })
        .fold(f64::INFINITY, |a, b| if b < a { b } else { a })
}

fn overlaps(displaced: &[Item<Displaced>], problems: &mut Vec<Diagnostic>) {
    let solids = || {
        displaced.iter().filter_map(|item| match &item.value {
            Displaced::Solid(solid) => Some((&item.name, solid)),
            Displaced::Mesh(_) => None,
        })
    };
    for (index, (name, one)) in solids().enumerate() {
        for (other_name, other) in solids().take(index) {
            let (shadow, bottom, top) = extent(one);
            let (other_shadow, other_bottom, other_top) = extent(other);
            let apart = bottom >= other_top - SLACK || other_bottom >= top - SLACK;
            if apart || !shadows_meet(&shadow, &other_shadow) {
                continue;
            }
            let (Some(body), Some(other_body)) = (whole(one), whole(other)) else { continue };
            let shared = overlap(&body, &other_body).value;
            if shared > TOUCHING {
                let message = format!(
                    "{other_name} and {name} overlap by {}, so that their room would be taken out of the oil twice",
                    cubic(shared)
                );
                problems.push(
                    Diagnostic::error(Code::Overlap, one.at.span, message)
                        .also(other.at.span, "the other one")
                        .help("describe them as bodies that do not share room"),
                );
            }
        }
    }
}

/// A volume for a sentence.
fn cubic(volume: f64) -> String {
    if volume < 1e-7 {
        format!("{:.1} mm³", volume * 1e9)
    } else {
        format!("{:.1} cm³", volume * 1e6)
    }
}

/// Whether two convex shadows share area: no side of either separates them.
fn shadows_meet(a: &[DVec2], b: &[DVec2]) -> bool {
    let separates = |one: &[DVec2], other: &[DVec2]| {
        one.iter().zip(one.iter().cycle().skip(1)).any(|(p, q)| {
            let outward = (*q - *p).perp() * -1.0;
            let Some(outward) = outward.try_normalize() else { return false };
            other.iter().all(|r| (*r - *p).dot(outward) >= -SLACK)
        })
    };
    !separates(a, b) && !separates(b, a)
}
