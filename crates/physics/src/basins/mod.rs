//! Oil in basins: where ridges, lips and dams keep it apart, and how it comes there when the vessel is turned.
//!
//! ```text
//!        turned nose up ─►
//!      ┌─────────────────────────────┐
//!      │                     ~~~~~~~~│
//!      │                   ~~~  B    │   A stays behind the ridge at its own level;
//!      │~~~~~~            ~~~        │   one level for both would have it all in B
//!      │  A   ~~╱╲       ~~╱         │
//!      └────────  ╲_______╱──────────┘
//! ```
//!
//! # The join tree
//! Every body of oil below a plane has its lowest point on the surface, and two bodies become one only at a place on
//! the surface, at the lip between them. So the corners are taken up in the order of their heights and joined along
//! edges: one without lower neighbours begins a basin or is the tip of something solid that hangs in the oil, which
//! joins what lies straight below it. The sign of the cubic term of the volume just above the corner tells which. Corners
//! joined by level edges count as one. What each face adds to a volume belongs to the body of its lowest corner.
//!
//! # What is counted
//! The space is chambers with the share of their room that is free; what takes up room in a chamber is a surface in it
//! like any other and weighs minus its share; chambers join through passages at their lowest place. Dams are walls
//! without thickness: the surface is parted along their feet, and an opening joins both sides at its lowest place. All of
//! it is exact for plane faces.
//!
//! # Limits
//! Oil is at rest but for what runs over a lip, and air reaches every place that oil leaves. What stands tight on floor
//! and walls without sharing corners with them does not dam. A dam has no thickness, and where it touches a thing that
//! is not parted with it, that thing does not open it.

mod fill;
mod flats;
mod grow;
mod passage;
mod path;
mod pools;
mod seam;
mod settle;
mod slit;
#[cfg(test)]
mod tests;
mod tree;
mod union;
mod vessel;
mod views;

pub use pools::{Over, Pool, Settled};
pub use vessel::{Chamber, Dam, Opening, Passage, Vessel};

use crate::surface::SurfaceError;
use core::fmt;
use glam::DVec3;
use std::sync::Arc;
use uom::si::f64::{Length, Volume};
use uom::si::length::meter;
use uom::si::volume::cubic_meter;
use views::View;

/// Why there are no basins, or no oil at rest in them.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum BasinError {
    /// There are no faces.
    Empty,
    /// A position or direction is not a finite number.
    NotFinite,
    /// Up is not of length one.
    UpNotUnit,
    /// This face of a chamber, or of what stands in it, names a corner that is not there.
    MissingCorner {
        /// Its number in its mesh.
        face: usize,
    },
    /// A surface is open, or turned against itself, along this edge.
    OpenEdge {
        /// One end.
        from: DVec3,
        /// The other end.
        to: DVec3,
    },
    /// The faces of a chamber, or of what stands in it, look inward.
    InsideOut,
    /// A dam's ends are one place, or not finite.
    DamWithoutLength,
    /// A passage names a chamber that is not there.
    NoSuchChamber,
    /// This part of the space is joined with the rest at no height.
    Apart {
        /// A corner of it.
        at: DVec3,
    },
    /// Under this underside there is no floor: the surface crosses itself.
    NoFloor {
        /// The underside's lowest corner.
        under: DVec3,
    },
    /// The volume is negative or not a number.
    NotAVolume(Volume),
    /// More oil than there is space.
    TooMuch {
        /// The whole space.
        capacity: Volume,
    },
    /// The oil found no rest, or the shortest steps still differed from those before.
    DidNotSettle,
}

impl fmt::Display for BasinError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(out, "there are no faces"),
            Self::NotFinite => write!(out, "a position is not a finite number"),
            Self::UpNotUnit => write!(out, "the direction up is not of length one"),
            Self::MissingCorner { face } => {
                write!(out, "face {face} names a corner that is not there")
            }
            Self::OpenEdge { from, to } => {
                write!(out, "the surface is open between {from} and {to}")
            }
            Self::InsideOut => write!(out, "the faces look inward"),
            Self::DamWithoutLength => write!(out, "both ends of a dam are one place"),
            Self::NoSuchChamber => write!(out, "a passage leads into no chamber"),
            Self::Apart { at } => write!(out, "nothing joins the space at {at} with the rest"),
            Self::NoFloor { under } => write!(out, "there is no floor under {under}"),
            Self::NotAVolume(_) => write!(out, "the volume is negative or not a number"),
            Self::TooMuch { .. } => write!(out, "there is more oil than space"),
            Self::DidNotSettle => write!(out, "the oil found no rest between the basins"),
        }
    }
}

impl core::error::Error for BasinError {}

impl From<SurfaceError> for BasinError {
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

/// A place where oil can stand apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Basin {
    /// Its lowest point.
    pub deepest: DVec3,
    /// From this height on it is one body.
    pub formed: Length,
    /// The height of its lip, where it joins another basin; none for the one that holds all.
    pub lip: Option<Length>,
    /// What it holds up to its lip; the whole space for the one that holds all.
    pub capacity: Volume,
}

/// The basins of a vessel for one direction.
#[derive(Debug, Clone)]
pub struct Basins(Arc<View>);

impl Vessel {
    /// The basins for one direction.
    ///
    /// # Errors
    /// A direction that is not of length one, a space in several parts, or a surface that crosses itself.
    pub fn basins(&self, up: DVec3) -> Result<Basins, BasinError> {
        self.view(up).map(Basins)
    }

    /// The height above which all oil is one body, however it came there: the highest lip of all.
    ///
    /// If one level for all oil lies no lower, that level is the right one, since basins that each stand no higher than
    /// their lips hold less.
    ///
    /// # Errors
    /// As [`Self::basins`].
    pub fn joined_above(&self, up: DVec3) -> Result<Length, BasinError> {
        let surface = self.turned(up)?;
        let mut growth = grow::Growth::new(self, &surface)?;
        Ok(Length::new::<meter>(growth.joined_above(&surface)?))
    }
}

impl Basins {
    /// All basins, each after those that join in it; the last holds all.
    pub fn all(&self) -> Vec<Basin> {
        let basin = |(number, node): (usize, &tree::Node)| Basin {
            deepest: self.0.surface.points.get(node.birth).copied().unwrap_or_default(),
            formed: Length::new::<meter>(node.formed),
            lip: node.parent.map(|_| Length::new::<meter>(node.spills)),
            capacity: Volume::new::<cubic_meter>(self.0.tree.capacity(number)),
        };
        self.0.tree.nodes.iter().enumerate().map(basin).collect()
    }

    /// The bodies below a plane, each with its lowest point and its volume.
    pub fn below(&self, height: Length) -> Vec<Pool> {
        let nodes = self.0.tree.nodes.iter().enumerate();
        let is_body = |(_, node): &(usize, &tree::Node)| {
            node.low < height.value && node.formed <= height.value && height.value < node.spills
        };
        let pool = |(number, node): (usize, &tree::Node)| Pool {
            level: height,
            deepest: self.0.surface.points.get(node.birth).copied().unwrap_or_default(),
            volume: Volume::new::<cubic_meter>(self.0.tree.below(number, height.value)[0]),
        };
        nodes.filter(is_body).map(pool).collect()
    }
}
