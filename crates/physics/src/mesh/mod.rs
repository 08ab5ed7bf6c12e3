//! Closed, oriented triangle meshes: their volume, their faults, and simple solids.
//!
//! A mesh bounds a body when every edge is run through as often one way as the other. Nothing here repairs a
//! mesh: [`check()`] says what is wrong and where, and whoever made the mesh decides.

mod boxes;
mod check;
mod crossing;
mod cut;
mod diagnosis;
mod offset;
mod overlap;
mod polygon;
mod slice;
mod solid;
mod weld;

pub use check::{MeshProblem, check};
pub use crossing::surfaces_cross;
pub use cut::{CutError, Hollow, hollow_below_rail, rail_loops, split_at_rail};
pub use diagnosis::{Diagnosis, Faults, Piece, contains, diagnose};
pub use offset::offset;
pub use overlap::overlap;
pub use slice::slice;
pub use solid::{Axis, Halves, Solid, SolidError, prism};
pub use weld::{Welded, weld};

pub(crate) use boxes::BoxTree;
pub(crate) use check::check_but_for_needles;
pub(crate) use diagnosis::is_inside;
pub(crate) use polygon::{halving, is_strictly_convex, triangulate};

use glam::DVec3;
use uom::si::f64::Volume;
use uom::si::volume::cubic_meter;

/// A triangle mesh: positions in metres, faces counter-clockwise seen from outside the body.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Mesh {
    /// Corner positions, in metres.
    pub points: Vec<DVec3>,
    /// Three indices into `points` a face.
    pub faces: Vec<[u32; 3]>,
}

impl Mesh {
    /// The enclosed volume, negative when the mesh is inside out.
    ///
    /// # Formula
    /// V = Σ (a − m)·((b − m) × (c − m)) / 6 over the faces abc, m the middle of the bounding box: far from
    /// the origin the terms would otherwise cancel.
    ///
    /// # Valid for
    /// A closed mesh; the figure of an open one depends on where the origin lies. A face that names a point
    /// which is not there adds nothing; [`check()`] reports it.
    ///
    /// # Source
    /// Divergence theorem; tested against the closed forms of a box, a frustum and a cylinder.
    pub fn volume(&self) -> Volume {
        let middle = self.bounds().map_or(DVec3::ZERO, |[low, high]| (low + high) / 2.0);
        let mut sum = 0.0;
        for face in 0..self.faces.len() {
            if let Some([a, b, c]) = self.corners(face) {
                sum += (a - middle).dot((b - middle).cross(c - middle));
            }
        }
        Volume::new::<cubic_meter>(sum / 6.0)
    }

    /// The corners of a face, if the face and all its points exist.
    pub fn corners(&self, face: usize) -> Option<[DVec3; 3]> {
        let [a, b, c] = *self.faces.get(face)?;
        Some([
            *self.points.get(a as usize)?,
            *self.points.get(b as usize)?,
            *self.points.get(c as usize)?,
        ])
    }

    /// The lowest and the highest corner of the box around all points; none without points.
    pub fn bounds(&self) -> Option<[DVec3; 2]> {
        let first = *self.points.first()?;
        Some(self.points.iter().fold([first, first], |[low, high], &p| [low.min(p), high.max(p)]))
    }

    /// Another mesh put beside this one; bodies must not overlap for the volume to be their sum.
    pub fn append(&mut self, other: &Self) {
        let shift = index_of(self.points.len());
        self.points.extend_from_slice(&other.points);
        self.faces.extend(other.faces.iter().map(|face| face.map(|corner| corner + shift)));
    }
}

/// A position in a list as the 32-bit index that faces hold.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a mesh of 2^32 points does not fit the memory of a review"
)]
pub(crate) fn index_of(position: usize) -> u32 {
    position as u32
}

/// The larger of two numbers; the second if either is not a number.
pub(crate) fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

/// The smaller of two numbers; the second if either is not a number.
pub(crate) fn smaller(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}
