//! Oil levels in closed bodies, exactly, without ever cutting a mesh open.
//!
//! With N the vector area of a face, d the unit vector up against apparent gravity, s = N·d and z = d·x − h the
//! height of a corner over the surface, the divergence theorem for the field z·d, which vanishes on the surface,
//! gives V(h) = Σ s·⟨z⟩ over the part of each face with z < 0, and dV/dh = −Σ s·(share of the face with z < 0):
//! no cap is needed. Both are linear in the bodies, so displaced bodies simply count with weight −1.

mod body;
mod cover;
mod lanes;
mod moments;
mod mouth;
mod order;
mod plane;
mod rider;
mod search;
mod slab;
mod space;
mod sums;
mod tree;

pub use body::Body;
pub use cover::{Ray, Reach};
pub use moments::{Moments, SecondMoment};
pub use mouth::Mouth;
pub use rider::Rider;
pub(crate) use slab::Pieces;
pub use space::{Cut, LevelError, OilSpace};

#[cfg(test)]
mod tests;
