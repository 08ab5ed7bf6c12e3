//! A recorded drive as a duty names it: the file, what its columns hold, and how the sensor was mounted.

use super::Text;
use super::pan::Word;
use crate::quantity::{Given, Stated};
use crate::source::Span;
use glam::DVec3;
use uom::si::f64::{Frequency, Time};

/// A drive log.
#[derive(Debug, Clone)]
pub struct DriveLog {
    /// The whole mapping.
    pub span: Span,
    /// `file`.
    pub file: Text,
    /// `measures`.
    pub measures: Option<Word<Measured>>,
    /// `columns`: what is said of columns whose header does not say it in our words.
    pub columns: Vec<(Column, Text)>,
    /// `sensor`: where the sensor's forward, left and up point in the vehicle.
    pub sensor: Option<[Direction; 3]>,
    /// `rest`: how long the vehicle stands still at the start; none where it does not.
    pub rest: Given<Stated<Time>>,
    /// `cutoff`.
    pub cutoff: Option<Stated<Frequency>>,
}

/// What a sensor measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measured {
    /// Acceleration less gravity: +1 gn upward at rest.
    SpecificForce,
    /// Acceleration alone: nothing at rest. The attitude is recorded beside it.
    Acceleration,
}

impl Measured {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::SpecificForce => "specific force",
            Self::Acceleration => "acceleration",
        }
    }
}

/// A direction in the vehicle, or of the sensor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Direction {
    /// x.
    Forward,
    /// −x.
    Rearward,
    /// y.
    Left,
    /// −y.
    Right,
    /// z.
    Up,
    /// −z.
    Down,
}

impl Direction {
    /// All directions, with their words.
    pub const ALL: &'static [(&'static str, Self)] = &[
        ("forward", Self::Forward),
        ("rearward", Self::Rearward),
        ("left", Self::Left),
        ("right", Self::Right),
        ("up", Self::Up),
        ("down", Self::Down),
    ];

    /// Its word.
    pub fn word(self) -> &'static str {
        Self::ALL.iter().find(|(_, one)| *one == self).map_or("", |(word, _)| word)
    }

    /// The other way.
    #[must_use]
    pub fn opposite(self) -> Self {
        match self {
            Self::Forward => Self::Rearward,
            Self::Rearward => Self::Forward,
            Self::Left => Self::Right,
            Self::Right => Self::Left,
            Self::Up => Self::Down,
            Self::Down => Self::Up,
        }
    }

    /// As a unit vector: x forward, y left, z up (ISO 8855).
    pub fn vector(self) -> DVec3 {
        match self {
            Self::Forward => DVec3::X,
            Self::Rearward => DVec3::NEG_X,
            Self::Left => DVec3::Y,
            Self::Right => DVec3::NEG_Y,
            Self::Up => DVec3::Z,
            Self::Down => DVec3::NEG_Z,
        }
    }
}

/// What a column of a log holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Column {
    /// Time.
    Time,
    /// The acceleration or specific force that way.
    Toward(Direction),
    /// The angle along the vehicle, + uphill.
    Climb,
    /// The angle along the vehicle, + downhill.
    Descent,
    /// The angle across the vehicle, + with the left side high.
    LeftHigh,
    /// The angle across the vehicle, + with the right side high.
    RightHigh,
}
