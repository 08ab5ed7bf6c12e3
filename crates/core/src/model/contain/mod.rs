//! Whether everything lies where it must: checked once, at the stated values, with the place and by how much.

mod baffles;
mod fittings;
mod flows;
mod soundings;
mod things;
mod zones;

use crate::document::pan::InteriorShape;
use crate::model::interior::zones as made_zones;
use crate::model::scene::Scene;
use crate::quantity::Given;
use crate::source::{Code, Diagnostic};
use sumpwright_physics::terrain::Terrain;

/// What the geometry may be off by before it is said, in metres: a hundredth of what a depth gauge reads, far
/// above the rounding of the arithmetic and the chords of arcs.
const SLACK: f64 = 1e-6;

/// Everything of a pan that leaves the oil space or crosses a wall where it must not, or that cannot be built.
pub fn contained(scene: &Scene) -> Vec<Diagnostic> {
    let mut problems = flows::unknown(scene);
    let Given::Stated(interior) = &scene.pan.interior else { return problems };
    if let InteriorShape::Soundings(doc) = &interior.shape {
        match soundings::terrain(scene, doc) {
            Ok(terrain) => {
                if let Ok(terrain) = terrain.as_ref() {
                    parts(scene, terrain, &mut problems);
                }
            }
            Err(found) => problems.extend(found),
        }
        return problems;
    }
    let InteriorShape::Zones(floor) = &interior.shape else {
        let message = "a mesh is not read by this version yet";
        problems.push(Diagnostic::error(Code::NotSupportedYet, interior.span, message));
        return problems;
    };
    let made = match made_zones(floor) {
        Ok((_, made)) => made,
        Err((span, why)) => {
            problems.push(Diagnostic::error(Code::BadOutline, span, why));
            return problems;
        }
    };
    if let Some(problem) = zones::case_outline(scene).or_else(|| zones::apart(floor, &made)) {
        problems.push(problem);
        return problems;
    }
    let terrain = scene.terrain_of(floor, &made);
    let terrain = match terrain.as_ref() {
        Ok(terrain) => terrain,
        Err(error) => {
            problems.push(zones::bad(floor, error));
            return problems;
        }
    };
    parts(scene, terrain, &mut problems);
    problems
}

/// What stands in the pan, once there is one.
fn parts(scene: &Scene, terrain: &Terrain, problems: &mut Vec<Diagnostic>) {
    things::displacers(scene, terrain, problems);
    fittings::inlet(scene, terrain, problems);
    baffles::baffles(scene, terrain, problems);
    fittings::drains(scene, problems);
}
