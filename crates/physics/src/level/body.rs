//! One closed body with what is needed to cut it by a plane quickly.

use super::lanes::Faces;
use super::order::in_order;
use super::plane::Plane;
use super::slab::Slab;
use super::sums::Held;
use super::tree::{Trail, Tree};
use crate::mesh::{Mesh, MeshProblem, check_but_for_needles, larger, smaller};
use glam::DVec3;
use uom::si::f64::Volume;
use uom::si::volume::cubic_meter;

/// A closed body, ready to be cut by planes.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    /// The middle of its box; the tree's coordinates are from there, or sums of a body far away would cancel.
    middle: DVec3,
    tree: Tree,
    volume: f64,
    /// About how far a leaf reaches to either side of its middle.
    leaf: f64,
}

impl Body {
    /// Checks a mesh and builds its tree.
    ///
    /// # Errors
    /// What [`check`](crate::mesh::check()) finds, but for faces without area, which hold nothing: only a closed body has
    /// a level.
    pub fn new(mesh: &Mesh) -> Result<Self, MeshProblem> {
        check_but_for_needles(mesh)?;
        let [low, high] = mesh.bounds().ok_or(MeshProblem::Empty)?;
        let middle = (low + high) / 2.0;
        let faces: Vec<[DVec3; 3]> = (0..mesh.faces.len())
            .filter_map(|face| mesh.corners(face))
            .map(|corners| corners.map(|corner| corner - middle))
            .collect();
        let tree = Tree::new(&in_order(&faces));
        let leaf = tree.leaf();
        Ok(Self { middle, tree, volume: mesh.volume().value, leaf })
    }

    /// The volume of the whole body.
    pub fn volume(&self) -> Volume {
        Volume::new::<cubic_meter>(self.volume)
    }

    /// The middle of its box.
    pub(super) fn middle(&self) -> DVec3 {
        self.middle
    }

    /// The corners, from the middle, and the vector area of each face.
    pub(super) fn faces(&self) -> impl Iterator<Item = ([DVec3; 3], DVec3)> {
        self.tree.leaves.iter().flat_map(Faces::each)
    }

    /// The least and greatest height of its points along a unit vector, in metres.
    pub(super) fn extent(&self, up: DVec3) -> [f64; 2] {
        let shift = up.dot(self.middle);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for (corners, _) in self.faces() {
            for height in corners.map(|corner| up.dot(corner)) {
                low = smaller(height, low);
                high = larger(height, high);
            }
        }
        [low + shift, high + shift]
    }

    /// Bounds on the heights of its points over the plane, from the boxes alone.
    pub(super) fn reach(&self, plane: &Plane) -> [f64; 2] {
        self.tree.reach(&plane.from(self.middle))
    }

    /// About how far a leaf reaches to either side of its middle.
    pub(super) fn leaf(&self) -> f64 {
        self.leaf
    }

    /// What lies below the plane.
    pub(super) fn below(&self, plane: &Plane, trail: &mut Trail) -> Held {
        self.tree.below(&plane.from(self.middle), trail)
    }

    /// What lies below the plane, about: see [`Tree::about`].
    pub(super) fn about(&self, plane: &Plane, limit: f64, trail: &mut Trail) -> Held {
        self.tree.about(&plane.from(self.middle), limit, trail)
    }

    /// Adds to the slab what lies below its heights.
    pub(super) fn add_slab(&self, plane: &Plane, weight: f64, trail: &mut Trail, slab: &mut Slab) {
        self.tree.add_slab(&plane.from(self.middle), weight, trail, slab);
    }
}
