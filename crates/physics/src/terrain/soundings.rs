//! Depths taken at single places to the solid of an interior.
//!
//! The ground is the triangles between the soundings, led on level to the outline beyond the outermost of them, or
//! the walls that lean in from the outline where these are shallower. What lies between soundings is not known:
//! [`Terrain::doubt`] says how far the ground may be from the truth, and a terrain may be built with all of that
//! doubt, or a part of it, on one side.

use super::doubt::doubt;
use super::patch::Ground;
use super::rim::{Rim, SAME_PLACE};
use super::tin::{self, Tin};
use super::wall::Walls;
use super::{Outline, Terrain, TerrainError, ZoneFault, patch};
use crate::mesh::{larger, smaller};
use glam::DVec2;
use uom::si::f64::{Angle, Length};
use uom::si::length::meter;

/// The fewest places from which a floor is made.
const FEWEST: usize = 3;

/// How far walls go on below the deepest sounding, in metres.
const PAST_FLOOR: f64 = 1e-4;

/// A depth at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sounding {
    /// Where, in metres.
    pub at: DVec2,
    /// How deep.
    pub depth: Length,
}

/// Soundings within an outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Soundings {
    /// The outline at the rail.
    pub outline: Outline,
    /// How far its walls lean inward from the vertical on their way down.
    pub draft: Angle,
    /// The soundings, in any order.
    pub points: Vec<Sounding>,
    /// Pairs of positions in `points` between which the ground is known to run straight: edges and foot lines.
    pub lines: Vec<[usize; 2]>,
    /// The radius of the gauge's tip; 0 for a point.
    pub tip: Length,
    /// By how much the ground lies deeper than the soundings say, on the average over the outline; spread over it
    /// as the doubt is.
    pub deeper: Length,
}

/// What is wrong with one sounding.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum SoundingFault {
    /// Its place or depth is no number that can be used.
    NotANumber,
    /// It lies outside the outline, by so much.
    Outside {
        /// The distance to the outline.
        by: Length,
    },
    /// It lies above the rail.
    AboveRail,
    /// Another one at the same place says another depth.
    Differs {
        /// The position of the other one.
        from: usize,
    },
}

/// A line between soundings that crosses another one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineFault {
    /// Its position in the list of lines.
    pub line: usize,
    /// The position of the line it crosses; none for the outline.
    pub with: Option<usize>,
}

/// Why soundings make no terrain; positions count from 0.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum SoundingsError {
    /// There are fewer than three.
    TooFew {
        /// How many there are.
        count: usize,
    },
    /// Every sounding that is at fault.
    Points(Vec<(usize, SoundingFault)>),
    /// Every line that is at fault.
    Lines(Vec<LineFault>),
    /// No sounding lies below the rail.
    NoDepth,
    /// The walls that lean in from the outline cannot be made.
    Walls(ZoneFault),
    /// Places lie so nearly on each other that they cannot be told apart.
    TooTangled {
        /// Where, in metres.
        near: DVec2,
    },
}

impl Terrain {
    /// Builds the ground from soundings.
    ///
    /// # Formula
    /// Between soundings the depth is linear over the triangles of the constrained Delaunay triangulation; beyond
    /// them each place on the outline is as deep as the nearest place between soundings; walls lean in from the
    /// outline by tan(draft) for each unit of depth, and the shallower of wall and floor is the ground.
    ///
    /// # Valid for
    /// Any soundings within the outline; those a tenth of a millimetre outside count as on it.
    ///
    /// # Errors
    /// Every sounding, or every line, that is at fault.
    ///
    /// # Source
    /// Tested against the closed form of a paraboloid, of planes, and against zones of the same shape.
    pub fn from_soundings(soundings: &Soundings) -> Result<Self, SoundingsError> {
        let mut tin = triangulated(soundings)?;
        let doubt = doubt(&tin, soundings.tip.value);
        if doubt.mean > 0.0 {
            let share = soundings.deeper.value / doubt.mean;
            for (depth, width) in tin.depths.iter_mut().zip(&doubt.widths) {
                *depth = larger(*depth + share * width, 0.0);
            }
        }
        let ground = ground(soundings, &tin)?;
        let terrain = Self::of_grounds(&[ground]).map_err(|error| match error {
            TerrainError::TooTangled { near } => SoundingsError::TooTangled { near },
            _ => SoundingsError::NoDepth,
        })?;
        let lost = soundings.outline.chord_share() * soundings.outline.area() * terrain.deepest();
        let chord_share = (lost / terrain.mesh().volume()).value;
        Ok(Self { chord_share, doubt: doubt.mean, ..terrain })
    }
}

/// The triangles of the soundings and the outline.
fn triangulated(soundings: &Soundings) -> Result<Tin, SoundingsError> {
    let stands_for = checked(soundings)?;
    let places: Vec<DVec2> = soundings.points.iter().map(|point| point.at).collect();
    let rim = Rim::of(&soundings.outline, &places, &stands_for);
    if !rim.faults.is_empty() {
        return Err(SoundingsError::Points(rim.faults));
    }
    let depths: Vec<f64> = soundings.points.iter().map(|point| point.depth.value).collect();
    if !depths.iter().any(|&depth| depth > SAME_PLACE) {
        return Err(SoundingsError::NoDepth);
    }
    tin::triangulate(rim, &depths, &stands_for, &soundings.lines)
}

/// For each sounding the first one at its place, or everything that is wrong with single ones.
fn checked(soundings: &Soundings) -> Result<Vec<usize>, SoundingsError> {
    let points = &soundings.points;
    let mut faults = Vec::new();
    for (position, point) in points.iter().enumerate() {
        if !(point.at.is_finite() && point.depth.value.is_finite()) {
            faults.push((position, SoundingFault::NotANumber));
        } else if point.depth.value < 0.0 {
            faults.push((position, SoundingFault::AboveRail));
        }
    }
    if !faults.is_empty() {
        return Err(SoundingsError::Points(faults));
    }
    let stands_for = tin::first_at_place(points.iter().map(|point| point.at), SAME_PLACE);
    let distinct = stands_for.iter().enumerate().filter(|(at, first)| at == *first).count();
    for (position, &first) in stands_for.iter().enumerate() {
        let depth = |at: usize| points.get(at).map_or(0.0, |point| point.depth.value);
        if (depth(position) - depth(first)).abs() > SAME_PLACE {
            faults.push((position, SoundingFault::Differs { from: first }));
        }
    }
    if !faults.is_empty() {
        return Err(SoundingsError::Points(faults));
    }
    if distinct < FEWEST {
        return Err(SoundingsError::TooFew { count: distinct });
    }
    Ok(stands_for)
}

fn ground(soundings: &Soundings, tin: &Tin) -> Result<Ground, SoundingsError> {
    let draft = soundings.draft;
    if !(0.0..core::f64::consts::FRAC_PI_2).contains(&draft.value) {
        return Err(SoundingsError::Walls(ZoneFault::DraftOutOfRange { draft }));
    }
    let outline = soundings.outline.points();
    let greatest = tin.depths.iter().copied().fold(0.0, larger);
    let lean = libm::tan(draft.value);
    let walls = if greatest * lean <= SAME_PLACE {
        None
    } else {
        // A little past the floor, so that they cross it.
        let walls = Walls::down_to(outline, 0.0, greatest + PAST_FLOOR, lean)
            .map_err(|stop| SoundingsError::Walls(patch::fault(&stop, 0.0, lean)))?;
        Some((walls, lean))
    };
    let patches = tin.patches();
    let ground = Ground::of_floor(outline, patches, walls);
    Ok(ground.with_lines(&tin.points, &tin.edges()))
}

impl Terrain {
    /// How far the ground may be from the truth because soundings are single places, as a standard uncertainty of
    /// its depth, the same way everywhere; 0 for zones.
    ///
    /// # Formula
    /// The mean over the outline of |k̄|·Σs²/24 + |k − k̄|·d²/2/√12 + r·(√(1 + g²) − 1), with k the curvature at which a
    /// floor lies as far off the plane through a sounding's neighbours, d away, as the sounding does, k̄ its mean over
    /// the sounding and its neighbours, and s the sides of the triangles. Chords of a curved floor under-read by the
    /// first term, about curvature × spacing²/8; where the floor breaks off between two soundings the second says how
    /// little is known of where; the third is what a round tip of radius r reads too little on a slope g.
    ///
    /// # Valid for
    /// An estimate of first order from the soundings themselves: what happens wholly between them leaves no trace.
    /// It is a known error left uncorrected, so it counts in full and not as a half-width.
    ///
    /// # Source
    /// Own derivation, tested against the true error for paraboloids and steps, on grids and at random.
    pub fn doubt(&self) -> Length {
        Length::new::<meter>(self.doubt)
    }
}

/// Keeps a fraction between two ends, whatever rounding did.
pub(super) fn between(value: f64, low: f64, high: f64) -> f64 {
    smaller(larger(value, low), high)
}
