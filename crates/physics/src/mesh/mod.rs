//! Closed, oriented triangle meshes.

use glam::DVec3;

/// A triangle mesh: positions in metres, faces counter-clockwise seen from outside the body.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Mesh {
    /// Corner positions, in metres.
    pub points: Vec<DVec3>,
    /// Three indices into `points` a face.
    pub faces: Vec<[u32; 3]>,
}
