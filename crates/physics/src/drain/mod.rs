//! What stays in a closed interior when oil leaves at one point of its surface.
//!
//! ```text
//!      ┌───────────────────────────┐   lid: a wall like any other
//!      │                           │
//!      │ outlet ○                  │   pool A stands as high as the outlet: it holds the outlet
//!      │~~~~~~~~│     ridge        │   pool B stands as high as the way out of it: cut off
//!      │ pool A │      ╱╲~~~~~~~~~~│
//!      └────────┴─────╱  ╲─pool B──┘
//! ```
//!
//! # Method
//! Oil at x runs out unless every way from x to the outlet climbs above it. Let w(x) be the least, over all ways
//! through the oil, of the highest point of the way: what lies below w stays. w is found by a priority flood (Barnes,
//! Lehman and Mulla 2014) over the corners of the surface instead of the cells of a grid, with one link more for each
//! underside that hangs into the oil, from its lowest corner straight down to what it hangs over.
//!
//! # Why corners and edges are enough
//! * *A way over the surface may run along edges.* Heights are linear on a face, so a way that crosses the face from
//!   one edge to another is nowhere lower at its two ends than the lower ends of these edges; go by those.
//! * *A planar face touches one pool at most.* Two neighbouring corners u, v have w(u) ≤ max(w(v), h(u)) and the same
//!   turned round; if both are under (h < w) then w(u) = w(v). If u is under and v is not, then w(u) ≤ h(v): a dry
//!   corner is never below its neighbour's level. So if any corner of a face is under, its lowest corner is under too
//!   (else w(u) ≤ max(h(u), h(lowest)) = h(u)), all wet corners have that one level, and what the face holds below
//!   that level is in one piece. If the lowest corner is dry, every point of the face runs down to it and out.
//! * *The oil below a level hangs together as its surface does, once undersides are linked.* The lowest point of a
//!   body of oil lies on its surface. A corner without a lower neighbour is either that point, or the tip of something
//!   solid that hangs in the oil; a tip joins the body of oil that the line straight down from it meets.
//!
//! # Limits
//! Air is taken to reach every place that oil leaves: an inverted cup that would keep oil up, or air under a bell
//! that would keep oil out, is not seen. Surfaces that touch without sharing corners, or that cross, are not joined;
//! two spaces that share a corner or an edge and nothing else count as joined there. Films and drops that cling to
//! the wall are not counted.

mod block;
mod flood;
#[cfg(test)]
pub(crate) mod tests;

use core::fmt;

use glam::DVec3;
use uom::si::f64::{Length, Volume};
use uom::si::length::meter;
use uom::si::volume::cubic_meter;

use crate::mesh::Mesh;
use crate::surface::{Surface, SurfaceError};
use flood::Flooded;

/// What stays after draining.
#[derive(Debug, Clone, PartialEq)]
pub struct Drained {
    /// The pools that stay, in the order of the first corner that each wets.
    pub pools: Vec<Pool>,
    /// The outlet, moved to the nearest point of the surface.
    pub outlet: DVec3,
    /// How far it was moved.
    pub moved: Length,
}

/// A connected body of oil that stays.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pool {
    /// How high the oil stands, along up from the origin.
    pub level: Length,
    /// The deepest corner that it wets.
    pub deepest: DVec3,
    /// What the interior holds there, with no block hanging in it.
    pub volume: Volume,
    /// The least that blocks take up of it.
    pub displaced_least: Volume,
    /// The most that blocks take up of it.
    pub displaced_most: Volume,
    /// Whether the oil stands as high as the outlet, so that only the outlet's own height keeps it; otherwise it is
    /// cut off behind something higher.
    pub holds_outlet: bool,
}

/// Why what stays cannot be computed.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum DrainError {
    /// There are no faces.
    Empty,
    /// A position or direction is not a finite number.
    NotFinite,
    /// Up is not of length one.
    UpNotUnit,
    /// This face names a corner that is not there.
    MissingCorner {
        /// Its number in the mesh.
        face: usize,
    },
    /// The surface is open, or turned against itself, along this edge.
    OpenEdge {
        /// One end.
        from: DVec3,
        /// The other end.
        to: DVec3,
    },
    /// The faces look inward.
    InsideOut,
    /// This part of the surface is no part of the space that the outlet opens into.
    Apart {
        /// A corner of it.
        at: DVec3,
    },
    /// Under this underside there is no floor: the surface crosses itself.
    NoFloor {
        /// The underside's lowest corner.
        under: DVec3,
    },
    /// The block of this number is no closed body.
    BlockUnsound {
        /// Its place in the list.
        block: usize,
    },
    /// The block of this number has its lowest corner outside the interior.
    BlockOutside {
        /// Its place in the list.
        block: usize,
    },
}

impl fmt::Display for DrainError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(out, "the interior has no faces"),
            Self::NotFinite => write!(out, "a position is not a finite number"),
            Self::UpNotUnit => write!(out, "the direction up is not of length one"),
            Self::MissingCorner { face } => {
                write!(out, "face {face} names a corner that is not there")
            }
            Self::OpenEdge { from, to } => {
                write!(out, "the surface is open between {from} and {to}")
            }
            Self::InsideOut => write!(out, "the faces of the interior look inward"),
            Self::Apart { at } => write!(out, "the outlet does not open into the space at {at}"),
            Self::NoFloor { under } => write!(out, "there is no floor under {under}"),
            Self::BlockUnsound { block } => write!(out, "block {block} is not a closed body"),
            Self::BlockOutside { block } => write!(out, "block {block} leaves the interior"),
        }
    }
}

impl core::error::Error for DrainError {}

impl From<SurfaceError> for DrainError {
    fn from(error: SurfaceError) -> Self {
        match error {
            SurfaceError::Empty => Self::Empty,
            SurfaceError::NotFinite => Self::NotFinite,
            SurfaceError::UpNotUnit => Self::UpNotUnit,
            SurfaceError::MissingCorner { face } => Self::MissingCorner { face },
            SurfaceError::OpenEdge { from, to } => Self::OpenEdge { from, to },
            SurfaceError::InsideOut => Self::InsideOut,
        }
    }
}

impl Drained {
    /// The least and the most that stays in all, with what blocks take up taken off.
    pub fn stays(&self) -> (Volume, Volume) {
        let none = Volume::new::<cubic_meter>(0.0);
        self.pools.iter().fold((none, none), |(least, most), pool| {
            let volume = pool.volume;
            (least + (volume - pool.displaced_most), most + (volume - pool.displaced_least))
        })
    }
}

/// What stays in a closed interior when oil leaves at `outlet`.
///
/// # Formula
/// w(x) = min over ways from x to the outlet of their highest height; what lies below w stays. A pool's volume is
/// Σ s ⟨z⟩ over what its faces have below its level, s = area vector · up, z the height above the level.
/// # Units and shapes
/// Metres; closed, outward faces that share corners; up of length one; the outlet is the lowest wetted point of the
/// drain opening, on or near the surface.
/// # Valid for
/// The limits at the top of this module. A dent shallower than a billionth of the interior's extent is no pool.
/// # Errors
/// A mesh that is open, inside out, or not in one piece with the outlet.
/// # Source
/// Barnes, Lehman and Mulla 2014, Priority-Flood, Computers & Geosciences 62 (the flood on a grid); the step to a
/// surface is argued at the top of this module.
pub fn pools_after_draining(
    interior: &Mesh,
    up: DVec3,
    outlet: DVec3,
) -> Result<Drained, DrainError> {
    pools_round_blocks(interior, &[], up, outlet)
}

/// What stays in a closed interior in which convex blocks hang, stand or lie.
///
/// A convex block touches one pool at most. Any two points of its surface are joined over that surface by a way no
/// higher than the higher of them: down to its lowest point and up again. Two pools of different levels would so be
/// joined below the higher level, and oil is taken to pass under a block. Its lowest corner tells which pool it is.
///
/// # Units and shapes
/// As [`pools_after_draining`]; each block closed, outward, convex, and clear of the other blocks.
/// # Valid for
/// Blocks within the interior give one value. Where the wet part of one rises out of the interior, through the lid
/// say, it may take up anything from nothing to all of that part: two values. A block that stands tight on floor and
/// walls does not dam the oil here.
/// # Errors
/// As [`pools_after_draining`], and a block that is no closed body or starts outside the interior.
pub fn pools_round_blocks(
    interior: &Mesh,
    blocks: &[Mesh],
    up: DVec3,
    outlet: DVec3,
) -> Result<Drained, DrainError> {
    let surface = Surface::new(interior, up)?;
    if !outlet.is_finite() {
        return Err(DrainError::NotFinite);
    }
    let (place, face) = surface.nearest(outlet);
    let flooded = Flooded::from_outlet(&surface, place, face)?;
    let mut pools = flooded.pools(&surface);
    block::displace(&surface, blocks, &flooded, &mut pools)?;
    let moved = Length::new::<meter>(place.distance(outlet));
    Ok(Drained { pools, outlet: place, moved })
}
