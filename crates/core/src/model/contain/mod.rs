//! Whether everything lies where it must: checked once, at the stated values, with the place and by how much.

mod baffles;
mod fittings;
mod flows;
mod meshes;
mod soundings;
mod things;
mod zones;

use crate::document::pan::{FloorZones, InteriorMesh, InteriorShape};
use crate::model::interior::zones as made_zones;
use crate::model::mesh::moved;
use crate::model::scene::Scene;
use crate::quantity::Given;
use crate::source::{Code, Diagnostic, has_error};
use sumpwright_physics::terrain::Terrain;

/// What the geometry may be off by before it is said, in metres: a hundredth of what a depth gauge reads, far
/// above the rounding of the arithmetic and the chords of arcs.
const SLACK: f64 = 1e-6;

/// Everything of a pan that leaves the oil space or crosses a wall where it must not, or that cannot be built.
pub fn contained(scene: &Scene) -> Vec<Diagnostic> {
    let mut problems = flows::unknown(scene);
    let Given::Stated(interior) = &*scene.pan.interior else { return problems };
    match &interior.shape {
        InteriorShape::Zones(floor) => zoned(scene, floor, &mut problems),
        InteriorShape::Mesh(mesh) => meshed(scene, mesh, &mut problems),
        InteriorShape::Soundings(doc) => match soundings::terrain(scene, doc) {
            Ok(terrain) => {
                if let Ok(terrain) = terrain.as_ref() {
                    within(scene, terrain, &mut problems);
                }
            }
            Err(found) => problems.extend(found),
        },
    }
    problems
}

fn zoned(scene: &Scene, floor: &FloorZones, problems: &mut Vec<Diagnostic>) {
    let made = match made_zones(floor) {
        Ok((_, made)) => made,
        Err((span, why)) => {
            problems.push(Diagnostic::error(Code::BadOutline, span, why));
            return;
        }
    };
    if let Some(problem) = zones::case_outline(scene).or_else(|| zones::apart(floor, &made)) {
        problems.push(problem);
        return;
    }
    match scene.terrain_of(floor, &made).as_ref() {
        Ok(terrain) => within(scene, terrain, problems),
        Err(error) => problems.push(zones::bad(floor, error)),
    }
}

fn meshed(scene: &Scene, doc: &InteriorMesh, problems: &mut Vec<Diagnostic>) {
    // A file that could not be read has been told of.
    let Ok(settled) = scene.settled(doc) else { return };
    match settled.as_ref() {
        Ok(settled) => {
            problems.extend(settled.troubles.iter().map(|trouble| trouble.diagnostic(&doc.mesh)));
            if has_error(problems) {
                return;
            }
            match zones::case_outline(scene) {
                Some(problem) => problems.push(problem),
                None => within(scene, &settled.terrain, problems),
            }
        }
        Err(gravest) => {
            // Everything that is wrong with it at once; what stood in the way of settling it is among it, or alone.
            let looked = scene.looked_over(&doc.mesh);
            let mut all = looked.map(|looked| looked.troubles(moved(doc))).unwrap_or_default();
            if !all.contains(gravest) {
                all.push(gravest.clone());
            }
            problems.extend(all.iter().map(|trouble| trouble.diagnostic(&doc.mesh)));
        }
    }
}

fn within(scene: &Scene, terrain: &Terrain, problems: &mut Vec<Diagnostic>) {
    things::displacers(scene, terrain, problems);
    fittings::inlet(scene, terrain, problems);
    baffles::baffles(scene, terrain, problems);
    fittings::drains(scene, problems);
}
