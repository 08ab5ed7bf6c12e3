//! Outlines and depths to the solid of an interior.
//!
//! A [`Zone`] is what a tape and callipers give of one part of an oil pan: an outline, the depth at which it
//! opens, its floor and the draft of its walls. A [`Terrain`] is the ground that all zones together leave, the
//! deepest winning, closed by a lid at the rail. Depth is positive downward from z = 0.

mod arrange;
mod beyond;
mod delaunay;
mod doubt;
mod envelope;
mod floor;
mod general;
mod inset;
mod layer;
mod outline;
mod patch;
mod plan;
mod query;
mod rim;
mod room;
mod soundings;
mod tin;
mod wall;

pub use outline::{Outline, OutlineError};
pub use query::Under;
pub use soundings::{LineFault, Sounding, SoundingFault, Soundings, SoundingsError};

use crate::mesh::{Mesh, larger};
use general::General;
use glam::{DVec2, DVec3};
use patch::Ground;
use uom::si::f64::{Angle, Length, Volume};
use uom::si::length::meter;

/// A part of the interior with one floor.
#[derive(Debug, Clone, PartialEq)]
pub struct Zone {
    /// The outline where it opens; everything above it, up to the rail, is open too.
    pub outline: Outline,
    /// The depth at which its walls start.
    pub opens_at: Length,
    /// The depth of its floor; of one that is not level, at the middle of the rectangle around the outline.
    pub floor: Length,
    /// Which way the floor falls; level if left out.
    pub slope: Option<Slope>,
    /// How far its walls lean inward from the vertical on their way down.
    pub draft: Angle,
}

/// How a floor falls to one side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope {
    /// The direction in plan in which it deepens, of any length.
    pub deeper: DVec2,
    /// By how much it leans from the level.
    pub by: Angle,
}

/// Why zones make no terrain.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum TerrainError {
    /// There is no zone.
    NoZones,
    /// One zone is at fault.
    Zone {
        /// Its position, counted from 0.
        zone: usize,
        /// What is wrong with it.
        fault: ZoneFault,
    },
    /// They are no zones but soundings, and these are at fault.
    Soundings(SoundingsError),
    /// Lines of the outlines lie so nearly on each other that they cannot be told apart.
    TooTangled {
        /// Where, in metres.
        near: DVec2,
    },
}

/// What is wrong with a zone.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum ZoneFault {
    /// The floor is not deeper than the place where the zone opens, or that place is above the rail.
    FloorNotDeeper {
        /// Where it opens.
        opens_at: Length,
        /// Its floor.
        floor: Length,
    },
    /// The draft is negative or a right angle and more.
    DraftOutOfRange {
        /// The draft.
        draft: Angle,
    },
    /// The floor's lean from the level is negative or a right angle and more.
    SlopeOutOfRange {
        /// The lean.
        by: Angle,
    },
    /// A floor that is not level comes up to the rail, or above it, within the outline.
    FloorAboveRail {
        /// Its least depth there, negative above the rail.
        depth: Length,
    },
    /// Opposite walls meet before the floor is reached.
    WallsMeet {
        /// The depth at which they meet.
        depth: Length,
    },
    /// The leaning walls of a concave outline cut it apart, or close an arm of it.
    InsetSplits {
        /// The depth at which that happens.
        depth: Length,
        /// The place, in metres.
        near: DVec2,
    },
    /// Other zones are at least as deep everywhere.
    ChangesNothing,
}

/// The ground that zones leave together, and the body between it and the rail.
#[derive(Debug, Clone, PartialEq)]
pub struct Terrain {
    mesh: Mesh,
    floor: Vec<[DVec3; 3]>,
    bounds: Vec<[DVec2; 2]>,
    deepest: f64,
    chord_share: f64,
    doubt: f64,
    general: Option<General>,
}

impl Terrain {
    /// Builds the ground from its zones: at each place the deepest zone wins.
    ///
    /// # Formula
    /// A wall leans inward by tan(draft) for each unit of depth below the opening; walls of neighbouring sides
    /// meet in the mitre of the two. The lines where ground of two zones is equally deep are edges too, so the
    /// mesh follows the true solid without an error of its own.
    ///
    /// # Valid for
    /// Outlines of any shape whose walls do not cut them apart. Arcs are chords: see [`Terrain::chord_share`].
    ///
    /// # Errors
    /// The first zone that is at fault, or outlines that cannot be told apart.
    ///
    /// # Source
    /// Tested against closed forms of frusta, inclusion–exclusion and column integration.
    pub fn build(zones: &[Zone]) -> Result<Self, TerrainError> {
        if zones.is_empty() {
            return Err(TerrainError::NoZones);
        }
        let mut grounds = Vec::with_capacity(zones.len());
        for (position, zone) in zones.iter().enumerate() {
            let ground =
                Ground::of(zone).map_err(|fault| TerrainError::Zone { zone: position, fault })?;
            grounds.push(ground);
        }
        let terrain = Self::of_grounds(&grounds)?;
        let volume = terrain.mesh.volume();
        let chord_share = zones.iter().map(|zone| (lost_to_chords(zone) / volume).value).sum();
        Ok(Self { chord_share, ..terrain })
    }

    fn of_grounds(grounds: &[Ground]) -> Result<Self, TerrainError> {
        let envelope = envelope::envelope(grounds)?;
        let bounds = envelope.floor.iter().map(query::plan_bounds).collect();
        let deepest =
            envelope.floor.iter().flatten().fold(0.0, |depth, corner| larger(depth, -corner.z));
        let (mesh, floor) = (envelope.mesh, envelope.floor);
        Ok(Self { mesh, floor, bounds, deepest, chord_share: 0.0, doubt: 0.0, general: None })
    }

    /// The closed mesh: floors, walls and a lid at the rail.
    pub fn mesh(&self) -> &Mesh {
        &self.mesh
    }

    /// The faces that look down: floors and leaning walls, without vertical walls and the lid.
    pub fn floor_faces(&self) -> &[[DVec3; 3]] {
        &self.floor
    }

    /// The greatest depth anywhere.
    pub fn deepest(&self) -> Length {
        Length::new::<meter>(self.deepest)
    }

    /// The share of the volume that chords in place of arcs may take away, at most; 0 without arcs.
    ///
    /// # Formula
    /// Σ a·(floor − opening) / V with a the area each outline loses: walls that lean inward lose less than a
    /// further down, because the chords' perimeter is shorter and their mitres are wider than those of the arcs.
    ///
    /// # Valid for
    /// Zones that open within another one or at the rail; the column above a zone that sticks out is not counted.
    pub fn chord_share(&self) -> f64 {
        self.chord_share
    }
}

fn lost_to_chords(zone: &Zone) -> Volume {
    let share = zone.outline.chord_share();
    // The middle of a floor that is not level stands for all of it, as in the volume of a slanted prism.
    zone.outline.area() * (share / (1.0 - share)) * (zone.floor - zone.opens_at)
}

#[cfg(test)]
mod tests;
