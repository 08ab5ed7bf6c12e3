//! The depth of the rim along a piece of the recording, looked at only where it can matter.
//!
//! With the oil's volume fixed the surface turns about its own centroid, so the depth of a point of the rim changes by
//! no more than its distance from the farthest point of the oil space times the angle turned. From a direction in
//! which the rim lies deep, those near it are passed over as long as that bound says that it lies deep in them as well:
//! what is passed over is known not to matter, and nothing is guessed.

use super::tally::{HALF_RANGE, WINDOW};
use super::up_of;
use super::window::Moving;
use crate::document::recording::Motion;
use crate::quantity::si;
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
/// So many directions that were looked at are kept: a shaken vehicle comes back to the same few.
const ANCHORS: usize = 96;

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

/// A sample under the low-passed motion, and whether the raw motion uncovers the rim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Both {
    pub(super) smooth: Seen,
    pub(super) raw_uncovers: bool,
}

/// A rim in an oil space with its fill.
pub(super) struct Rim<'a> {
    space: &'a OilSpace,
    volume: Volume,
    mouth: Mouth,
    nose_up: Angle,
    /// Metres of depth per radian of turn, at most.
    per_radian: f64,
    /// No plane cuts the space in more than this, in square metres.
    largest_surface: f64,
}

impl<'a> Rim<'a> {
    pub(super) fn new(space: &'a OilSpace, volume: Volume, mouth: Mouth, nose_up: Angle) -> Self {
        let reach = |axis: DVec3| {
            let low = space.lowest(axis).map_or(0.0, |at| at.value);
            let high = space.highest(axis).map_or(0.0, |at| at.value);
            let middle = mouth.centre.dot(axis);
            let (below, above) = (middle - low, high - middle);
            (if below > above { below } else { above }, high - low)
        };
        let [(x, a), (y, b), (z, c)] = [DVec3::X, DVec3::Y, DVec3::Z].map(reach);
        let per_radian = DVec3::new(x, y, z).length() + mouth.diameter.value / 2.0;
        // A plane of normal n cuts a box in no more than a face over the share of n along it, for each of the faces:
        // the least of the three is largest where they are equal.
        let largest_surface = DVec3::new(a * b, b * c, c * a).length();
        Self { space, volume, mouth, nose_up, per_radian, largest_surface }
    }

    /// The rim along a piece. `matters`: depths up to this are asked about.
    pub(super) fn along(&self, piece: &[Moving], matters: f64, first: f64) -> Vec<Both> {
        piece
            .par_chunks(SHARE)
            .flat_map_iter(|share| {
                let mut smooth = Way::new(self, matters, first);
                let mut raw = Anchors::default();
                share.iter().map(move |moving| {
                    let seen = smooth.next(moving.time, moving.smooth.as_ref());
                    let raw_uncovers =
                        self.uncovers(&smooth.anchors, &mut raw, moving.raw.as_ref());
                    Both { smooth: seen, raw_uncovers }
                })
            })
            .collect()
    }

    /// Whether a motion uncovers the rim: one volume instead of a search for the level, and none where a direction
    /// near it has said so already.
    fn uncovers(&self, smooth: &Anchors, raw: &mut Anchors, motion: Option<&Motion>) -> bool {
        let Some(up) = motion.and_then(|motion| up_of(motion, self.nose_up)) else { return false };
        let says = |depth: f64, chord: f64| {
            let turn = self.per_radian * ARC_OVER_CHORD * chord;
            if depth.abs() > turn { Some(depth < 0.0) } else { None }
        };
        if let Some(uncovers) = raw.find(says, up).or_else(|| smooth.find(says, up)) {
            return uncovers;
        }
        let over = self.volume - self.space.least_volume(&self.mouth, si(0.0), up);
        // So much oil, spread over the largest surface, is the least depth it can have.
        raw.keep(up, over.value / self.largest_surface);
        over.value < 0.0
    }
}

/// Directions that were looked at, with the depth there, the newest in the place of the oldest.
#[derive(Debug, Default)]
struct Anchors {
    kept: Vec<(DVec3, f64)>,
    next: usize,
}

impl Anchors {
    fn keep(&mut self, up: DVec3, depth: f64) {
        match self.kept.get_mut(self.next) {
            Some(oldest) => *oldest = (up, depth),
            None => self.kept.push((up, depth)),
        }
        self.next = (self.next + 1) % ANCHORS;
    }

    /// What the first of the directions says that says something: of its depth and the chord to it.
    fn find<T>(&self, says: impl Fn(f64, f64) -> Option<T>, up: DVec3) -> Option<T> {
        self.kept.iter().find_map(|(kept, depth)| {
            let chord = (up - *kept).length();
            if chord <= LARGEST_TURN { says(*depth, chord) } else { None }
        })
    }
}

/// A ride along a share of the samples.
struct Way<'r> {
    rim: &'r Rim<'r>,
    rider: Rider<'r>,
    anchors: Anchors,
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
        let anchors = Anchors::default();
        Self { rim, rider, anchors, matters, first, stretch: -1.0, least: f64::INFINITY }
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
                self.anchors.keep(up, depth);
                if depth < self.least {
                    self.least = depth;
                }
                Seen::Depth(depth)
            }
            Err(_) => Seen::Unknown,
        }
    }

    /// Whether the rim lies deeper than is asked about, by what was computed before.
    fn lies_deep(&self, up: DVec3) -> bool {
        // Asked about: what is near the surface, and the least of its stretch where that is among the worst.
        let least = if self.least < self.matters { self.least } else { self.matters };
        let asked = if least > HALF_RANGE { least } else { HALF_RANGE };
        let deep = |depth: f64, chord: f64| {
            (depth - self.rim.per_radian * ARC_OVER_CHORD * chord > asked).then_some(())
        };
        self.anchors.find(deep, up).is_some()
    }
}
