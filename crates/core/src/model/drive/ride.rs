//! The depth of the rim along a piece of the recording, looked at only where it can matter.
//!
//! With the oil's volume fixed the surface turns about its own centroid, so the depth of a point of the rim changes by
//! no more than its distance from the farthest point of the oil space times the angle turned. From a sample at which
//! the rim lies deep, those that follow are passed over as long as that bound says that they lie deep as well: what
//! is passed over is known not to matter, and nothing is guessed.

use super::tally::{HALF_RANGE, WINDOW};
use super::up_of;
use super::window::Moving;
use crate::document::recording::Motion;
use glam::DVec3;
use rayon::prelude::*;
use sumpwright_physics::level::{Mouth, OilSpace, Rider};
use uom::si::f64::{Angle, Volume};

/// Samples that are ridden one after another; each share starts afresh, so that threads change nothing.
const SHARE: usize = 1024;
/// A turn by more than this chord is not bounded, only looked at.
const LARGEST_TURN: f64 = 0.5;
/// An arc is longer than its chord, for chords up to the largest turn by less than this.
const ARC_OVER_CHORD: f64 = 1.02;

/// What is known of the rim at a sample.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Seen {
    /// Nothing.
    Unknown,
    /// It lies deeper than anything that is asked about.
    Deep,
    /// Its depth in metres.
    Depth(f64),
}

/// A sample under the low-passed and under the raw motion.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Both {
    pub(super) smooth: Seen,
    pub(super) raw: Seen,
}

/// A rim in an oil space with its fill.
pub(super) struct Rim<'a> {
    space: &'a OilSpace,
    volume: Volume,
    mouth: Mouth,
    nose_up: Angle,
    /// Metres of depth per radian of turn, at most.
    per_radian: f64,
}

impl<'a> Rim<'a> {
    pub(super) fn new(space: &'a OilSpace, volume: Volume, mouth: Mouth, nose_up: Angle) -> Self {
        let farthest = [DVec3::X, DVec3::Y, DVec3::Z].map(|axis| {
            let low = space.lowest(axis).map_or(0.0, |at| at.value);
            let high = space.highest(axis).map_or(0.0, |at| at.value);
            let middle = mouth.centre.dot(axis);
            let (below, above) = (middle - low, high - middle);
            if below > above { below } else { above }
        });
        let per_radian = DVec3::from_array(farthest).length() + mouth.diameter.value / 2.0;
        Self { space, volume, mouth, nose_up, per_radian }
    }

    /// The rim along a piece. `matters`: depths up to this are asked about.
    pub(super) fn along(&self, piece: &[Moving], matters: f64, first: f64) -> Vec<Both> {
        piece
            .par_chunks(SHARE)
            .flat_map_iter(|share| {
                let mut smooth = Way::new(self, matters, first);
                let mut raw = Way::new(self, f64::NEG_INFINITY, first);
                share.iter().map(move |moving| Both {
                    smooth: smooth.next(moving.time, moving.smooth.as_ref()),
                    raw: raw.next(moving.time, moving.raw.as_ref()),
                })
            })
            .collect()
    }
}

/// A ride along a share of the samples.
struct Way<'r> {
    rim: &'r Rim<'r>,
    rider: Rider<'r>,
    /// Where the depth was last computed, and what it was.
    last: Option<(DVec3, f64)>,
    /// Depths up to this count among the worst moments.
    matters: f64,
    first: f64,
    /// The stretch of time that the least depth so far belongs to.
    stretch: f64,
    least: f64,
}

impl<'r> Way<'r> {
    fn new(rim: &'r Rim<'r>, matters: f64, first: f64) -> Self {
        let rider = Rider::new(rim.space, rim.volume);
        Self { rim, rider, last: None, matters, first, stretch: -1.0, least: f64::INFINITY }
    }

    fn next(&mut self, time: f64, motion: Option<&Motion>) -> Seen {
        let stretch = ((time - self.first) / WINDOW).floor();
        // Compared by bits: whole numbers made in one way.
        if stretch.to_bits() != self.stretch.to_bits() {
            (self.stretch, self.least) = (stretch, f64::INFINITY);
        }
        let Some(up) = motion.and_then(|motion| up_of(motion, self.rim.nose_up)) else {
            return Seen::Unknown;
        };
        if self.lies_deep(up) {
            return Seen::Deep;
        }
        match self.rider.level(up) {
            Ok(height) => {
                let depth = self.rim.mouth.least_depth(up, height).value;
                self.last = Some((up, depth));
                if depth < self.least {
                    self.least = depth;
                }
                Seen::Depth(depth)
            }
            Err(_) => Seen::Unknown,
        }
    }

    /// Whether the rim lies deeper than is asked about, by what was last computed.
    fn lies_deep(&self, up: DVec3) -> bool {
        let Some((last, depth)) = self.last else { return false };
        let chord = (up - last).length();
        let bound = depth - self.rim.per_radian * ARC_OVER_CHORD * chord;
        // Asked about: what is near the surface, and the least of its stretch where that is among the worst.
        let asked = if self.least < self.matters { self.least } else { self.matters };
        chord <= LARGEST_TURN && bound > HALF_RANGE && bound > asked
    }
}
