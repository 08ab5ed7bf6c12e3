//! Triangles over a region of any shape, by a constrained triangulation of its corners.
#![expect(
    clippy::indexing_slicing,
    reason = "handles are numbered in the order in which the corners are put in"
)]

use super::TerrainError;
use super::plan::Plan;
use glam::DVec2;
use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};
use std::collections::BTreeMap;

/// Adds triangles over the region that has these half-edges around it.
///
/// Points are put in one by one in their order, because loading them in bulk leaves the choice among equal
/// triangulations to a randomly ordered set. Lines that cross or pass through points are an error, never a panic.
pub(super) fn cover(plan: &mut Plan, half_edges: &[u32]) -> Result<(), TerrainError> {
    let tangled = |near: DVec2| TerrainError::TooTangled { near };
    let mut mesh = ConstrainedDelaunayTriangulation::<Point2<f64>>::new();
    let mut handle_of = BTreeMap::new();
    let mut corner_of = Vec::new();
    for &half_edge in half_edges {
        let place = plan.place(half_edge);
        if let std::collections::btree_map::Entry::Vacant(vacant) =
            handle_of.entry(plan.origin(half_edge))
        {
            // The triangulation does not take numbers so small that their products vanish.
            let clean = |value: f64| if value.abs() < 1e-30 { 0.0 } else { value };
            let point = Point2::new(clean(place.x), clean(place.y));
            vacant.insert(mesh.insert(point).map_err(|_| tangled(place))?);
            corner_of.push(half_edge);
        }
    }
    if mesh.num_vertices() != corner_of.len() {
        return Err(tangled(plan.place(half_edges[0])));
    }
    let ends = |half_edge: u32| {
        [handle_of[&plan.origin(half_edge)], handle_of[&plan.origin(half_edge ^ 1)]]
    };
    for &half_edge in half_edges {
        let [from, to] = ends(half_edge);
        if !mesh.exists_constraint(from, to) && mesh.try_add_constraint(from, to).is_empty() {
            return Err(tangled(plan.place(half_edge)));
        }
    }
    let mut inside = vec![false; mesh.num_all_faces()];
    let mut waiting = Vec::new();
    for &half_edge in half_edges {
        let [from, to] = ends(half_edge);
        let side =
            mesh.get_edge_from_neighbors(from, to).ok_or_else(|| tangled(plan.place(half_edge)))?;
        let left = side.face().as_inner().ok_or_else(|| tangled(plan.place(half_edge)))?;
        if !inside[left.fix().index()] {
            inside[left.fix().index()] = true;
            waiting.push(left);
        }
    }
    let mut triangles = Vec::new();
    while let Some(face) = waiting.pop() {
        let sides = face.adjacent_edges();
        triangles.push(sides.map(|side| corner_of[side.from().fix().index()]));
        for side in sides.iter().filter(|side| !side.is_constraint_edge()) {
            let Some(across) = side.rev().face().as_inner() else { continue };
            if !inside[across.fix().index()] {
                inside[across.fix().index()] = true;
                waiting.push(across);
            }
        }
    }
    plan.triangles.append(&mut triangles);
    Ok(())
}
