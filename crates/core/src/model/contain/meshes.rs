//! Things whose shape is a mesh, and interiors that overhang: told by their surfaces themselves.

use super::SLACK;
use super::things::above;
use crate::document::Item;
use crate::document::pan::{Displaced, DisplacedMesh, Displacer};
use crate::model::interior::solid as solid_of;
use crate::model::mesh::{Trouble, placed};
use crate::model::scene::Scene;
use crate::model::words::millimetres;
use crate::source::{Code, Diagnostic, Span};
use glam::{DVec2, DVec3};
use sumpwright_physics::mesh::{Mesh, contains, offset, split_at_rail, surfaces_cross};
use sumpwright_physics::terrain::Terrain;

/// Where it is said where something stands.
fn place_of(displaced: &Displaced) -> Span {
    match displaced {
        Displaced::Solid(solid) => solid.at.span,
        Displaced::Mesh(mesh) => mesh.at.as_ref().map_or(mesh.mesh.file.span, |at| at.span),
    }
}

/// A mesh under `displaced`: sound, inside floor, walls and case.
pub(super) fn displacer(
    scene: &Scene,
    terrain: &Terrain,
    name: &str,
    mesh: &DisplacedMesh,
    problems: &mut Vec<Diagnostic>,
) {
    // A file that could not be read has been told of.
    let Ok(looked) = scene.looked_over(&mesh.mesh) else { return };
    let troubles = looked.troubles(placed(mesh));
    problems.extend(troubles.iter().map(|trouble| trouble.diagnostic(&mesh.mesh)));
    if troubles.iter().any(Trouble::is_error) {
        return;
    }
    let Ok(whole) = scene.placed_mesh(mesh) else { return };
    let at = mesh.at.as_ref().map_or(mesh.mesh.file.span, |at| at.span);
    let halves = match split_at_rail(&whole) {
        Ok(halves) => halves,
        Err(error) => {
            let message = format!("{name} cannot be cut at the rail: {error:?}");
            problems.push(Diagnostic::error(Code::MeshRail, mesh.mesh.file.span, message));
            return;
        }
    };
    if let Some(below) = halves.below {
        inside(terrain, name, &below, at, problems);
    }
    if let Some(part) = halves.above {
        let shadow: Vec<DVec2> = part.points.iter().map(|point| point.truncate()).collect();
        let top = part.bounds().map_or(0.0, |[_, high]| high.z);
        if top > SLACK {
            let height = mesh.at.as_ref().map_or(at, |at| at.z.span);
            above(scene, &shadow, top, name, (at, height), problems);
        }
    }
}

/// A box or cylinder in an interior that overhangs.
pub(super) fn solid(
    terrain: &Terrain,
    name: &str,
    displacer: &Displacer,
    problems: &mut Vec<Diagnostic>,
) {
    if let Ok(halves) = solid_of(displacer).split_at_rail()
        && let Some(below) = halves.below
    {
        inside(terrain, name, &below, displacer.at.span, problems);
    }
}

/// Says by how much a thing below the rail leaves the oil space.
fn inside(terrain: &Terrain, name: &str, thing: &Mesh, at: Span, problems: &mut Vec<Diagnostic>) {
    let middle = thing.points.iter().copied().sum::<DVec3>() / thing.points.len() as f64;
    // A thing may stand on the floor: its corners are asked for a little inside it.
    let inward = |point: DVec3| {
        let way = middle - point;
        let step = SLACK / way.length();
        if step < 1.0 { point + way * step } else { middle }
    };
    let outside = thing.points.iter().filter(|point| !terrain.holds(inward(**point)));
    // How far each is out: below the floor where there is one under it, and from the rail's side otherwise unknown.
    let beyond = outside.map(|point| {
        let floor = terrain.depth_at(point.truncate()).map(|depth| -point.z - depth.value);
        (floor.unwrap_or(f64::INFINITY), *point)
    });
    let worst = beyond.reduce(|a, b| if b.0 > a.0 { b } else { a });
    let place = |p: DVec3| {
        format!("x {}, y {}, depth {}", millimetres(p.x), millimetres(p.y), millimetres(-p.z))
    };
    let message = match (worst, surfaces_cross(thing, terrain.mesh())) {
        (Some((by, point)), _) if by.is_finite() && by > SLACK => format!(
            "{name} leaves the oil space: at {} it is {} below the floor or wall under it",
            place(point),
            millimetres(by)
        ),
        (Some((by, point)), _) if !by.is_finite() => {
            format!("{name} leaves the oil space sideways: {} lies outside the rail", place(point))
        }
        (Some((_, point)), _) => {
            format!("{name} leaves the oil space: {} lies in the metal", place(point))
        }
        (None, Some(point)) => {
            format!("{name} passes through a wall or the floor at {}", place(point))
        }
        (None, None) => return,
    };
    problems.push(
        Diagnostic::error(Code::OutsideOilSpace, at, message).help("move it, or check its size"),
    );
}

/// Things that share room, where one of them is a mesh.
pub(super) fn overlaps(
    scene: &Scene,
    displaced: &[Item<Displaced>],
    problems: &mut Vec<Diagnostic>,
) {
    let mesh_of = |item: &Item<Displaced>| match &item.value {
        Displaced::Solid(solid) => solid_of(solid).mesh().ok(),
        Displaced::Mesh(mesh) => scene.placed_mesh(mesh).ok(),
    };
    let is_mesh = |item: &Item<Displaced>| matches!(item.value, Displaced::Mesh(_));
    if !displaced.iter().any(is_mesh) {
        return;
    }
    let made: Vec<Option<Mesh>> = displaced.iter().map(mesh_of).collect();
    for (index, (one, mine)) in displaced.iter().zip(&made).enumerate() {
        for (other, its) in displaced.iter().zip(&made).take(index) {
            let (Some(mine), Some(its)) = (mine, its) else { continue };
            if !is_mesh(one) && !is_mesh(other) || !share_room(mine, its) {
                continue;
            }
            let message = format!(
                "{} and {} overlap, so that their room would be taken out of the oil twice",
                other.name, one.name
            );
            problems.push(
                Diagnostic::error(Code::Overlap, place_of(&one.value), message)
                    .also(place_of(&other.value), "the other one")
                    .help("describe them as bodies that do not share room"),
            );
        }
    }
}

fn share_room(one: &Mesh, other: &Mesh) -> bool {
    let apart = match (one.bounds(), other.bounds()) {
        (Some([low, high]), Some([its_low, its_high])) => {
            (low + SLACK).cmpge(its_high).any() || (its_low + SLACK).cmpge(high).any()
        }
        _ => true,
    };
    if apart {
        return false;
    }
    // What touches shares no room, and faces in one plane do not cross: one of the two is drawn in a little.
    let other = offset(other, crate::quantity::si(-SLACK));
    let first_in = |mesh: &Mesh, around: &Mesh| {
        mesh.points.first().is_some_and(|point| contains(around, *point))
    };
    surfaces_cross(one, &other).is_some() || first_in(one, &other) || first_in(&other, one)
}
