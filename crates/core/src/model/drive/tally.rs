//! What is counted along a recording; it does not grow with it.

use super::ride::{Both, Seen};
use super::window::Moving;
use crate::document::recording::Motion;

/// The worst moments are the least of stretches of this length, in seconds.
pub(super) const WINDOW: f64 = 2.0;
/// Depths are counted to this on both sides of the surface, in metres: farther than an uncertain input moves a rim
/// that is worth a judgement.
pub(super) const HALF_RANGE: f64 = 0.010;
/// One step of the count, in metres.
const STEP: f64 = 0.00025;
/// Steps on one side.
const STEPS: usize = 40;
/// So many stretches are kept: of two that touch one is told, so that ten are left.
const KEPT: usize = 30;
/// So many moments are told.
const TOLD: usize = 10;

/// One moment of a drive.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// When, in seconds of the recording.
    pub time: f64,
    /// Its line in the recording.
    pub line: usize,
    /// Depth of the rim, in metres.
    pub depth: f64,
    /// What the vehicle did, low-passed.
    pub motion: Motion,
    stretch: f64,
}

/// Times and spells below one depth.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
struct Below {
    time: f64,
    spell: f64,
    longest: f64,
    /// As the two before, with what is unknown counted in.
    spell_at_most: f64,
    longest_at_most: f64,
}

/// What was counted in one world.
#[derive(Debug, Clone, PartialEq)]
pub struct Tally {
    first: f64,
    rows: usize,
    /// The time that all samples stand for, in seconds, gaps counted in.
    pub lasts: f64,
    /// Time of which nothing is known, in seconds.
    pub unknown: f64,
    /// Samples of which nothing is known.
    pub unknown_samples: usize,
    /// Time in which the raw motion leaves the rim uncovered, in seconds.
    pub raw_uncovered: f64,
    below: Vec<Below>,
    /// The least of each of the worst stretches, deepest last.
    worst: Vec<Moment>,
    /// The moment of each stretch at which the rim is nearest to uncovering, nearest first.
    nearest: Vec<Moment>,
    /// The stretch that is being passed.
    least: Option<Moment>,
    near: Option<Moment>,
}

impl Tally {
    pub(super) fn new(first: f64) -> Self {
        Self {
            first,
            rows: 0,
            lasts: 0.0,
            unknown: 0.0,
            unknown_samples: 0,
            raw_uncovered: 0.0,
            below: vec![Below::default(); 2 * STEPS + 1],
            worst: Vec::new(),
            nearest: Vec::new(),
            least: None,
            near: None,
        }
    }

    /// Depths up to this can still be among the worst moments.
    pub(super) fn matters(&self) -> f64 {
        match self.worst.get(KEPT - 1) {
            Some(last) => last.depth,
            None => f64::INFINITY,
        }
    }

    pub(super) fn rows(&self) -> usize {
        self.rows
    }

    pub(super) fn add(&mut self, piece: &[Moving], seen: &[Both]) {
        for (moving, seen) in piece.iter().zip(seen) {
            self.rows += 1;
            self.lasts += moving.span + moving.gap;
            if moving.gap > 0.0 {
                self.unknown += moving.gap;
                self.pass_unknown(moving.gap);
            }
            self.count(moving, seen.smooth);
            if seen.raw_uncovers {
                self.raw_uncovered += moving.span;
            }
        }
        self.close_stretch();
    }

    fn count(&mut self, moving: &Moving, seen: Seen) {
        let depth = match seen {
            Seen::Unknown => {
                self.unknown += moving.span;
                self.unknown_samples += 1;
                self.pass_unknown(moving.span);
                return;
            }
            Seen::Deep => f64::INFINITY,
            Seen::Depth(depth) => depth,
        };
        for (below, place) in self.below.iter_mut().zip(0_i32..) {
            if depth < threshold(place) {
                below.time += moving.span;
                below.spell += moving.span;
                below.spell_at_most += moving.span;
            } else {
                below.spell = 0.0;
                below.spell_at_most = 0.0;
            }
            below.keep_longest();
        }
        if let (Seen::Depth(depth), Some(motion)) = (seen, moving.smooth) {
            let stretch = ((moving.time - self.first) / WINDOW).floor();
            let (time, line) = (moving.time, moving.line);
            self.meet(Moment { time, line, depth, motion, stretch });
        }
    }

    fn pass_unknown(&mut self, span: f64) {
        for below in &mut self.below {
            below.spell = 0.0;
            below.spell_at_most += span;
            below.keep_longest();
        }
    }

    fn meet(&mut self, moment: Moment) {
        if self.least.is_some_and(|least| least.stretch < moment.stretch) {
            self.close_stretch();
        }
        if self.least.is_none_or(|least| moment.depth < least.depth) {
            self.least = Some(moment);
        }
        if self.near.is_none_or(|near| moment.depth.abs() < near.depth.abs()) {
            self.near = Some(moment);
        }
    }

    fn close_stretch(&mut self) {
        if let Some(least) = self.least.take() {
            keep(&mut self.worst, least, KEPT, |moment| moment.depth);
        }
        if let Some(near) = self.near.take() {
            keep(&mut self.nearest, near, TOLD, |moment| moment.depth.abs());
        }
    }

    /// The worst moments, worst first; of those that belong together one is told.
    pub fn worst(&self) -> Vec<Moment> {
        let mut told: Vec<Moment> = Vec::new();
        for moment in &self.worst {
            let touches = |other: &Moment| (other.stretch - moment.stretch).abs() < 1.5;
            if told.len() < TOLD && !told.iter().any(touches) {
                told.push(*moment);
            }
        }
        told
    }

    /// The moments at which the rim is nearest to uncovering or covering.
    pub fn nearest(&self) -> &[Moment] {
        &self.nearest
    }

    /// Time in seconds in which the rim lies less deep than `depth` (m): what is known, and with what is unknown.
    pub fn time_below(&self, depth: f64) -> [f64; 2] {
        let known = self.at(depth, |below| below.time);
        [known, known + self.unknown]
    }

    /// The longest spell in seconds in which the rim lies less deep than `depth` (m): what is known, and with what is
    /// unknown.
    pub fn longest_below(&self, depth: f64) -> [f64; 2] {
        [self.at(depth, |below| below.longest), self.at(depth, |below| below.longest_at_most)]
    }

    /// A count at a depth, straight between its steps, and as at the last step beyond them.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the place is clamped to those there are"
    )]
    fn at(&self, depth: f64, of: impl Fn(&Below) -> f64) -> f64 {
        let place = (depth / STEP + STEPS as f64).clamp(0.0, 2.0 * STEPS as f64);
        let low = place as usize;
        match (self.below.get(low), self.below.get(low + 1)) {
            (Some(here), Some(next)) => of(here) + (of(next) - of(here)) * (place - low as f64),
            (Some(here), None) => of(here),
            _ => f64::NAN,
        }
    }
}

impl Below {
    fn keep_longest(&mut self) {
        if self.spell > self.longest {
            self.longest = self.spell;
        }
        if self.spell_at_most > self.longest_at_most {
            self.longest_at_most = self.spell_at_most;
        }
    }
}

fn threshold(place: i32) -> f64 {
    f64::from(place - 40) * STEP
}

/// Keeps the least by a key, in order; of equal ones that which came first. A stretch cut in two by a piece's end is
/// one.
fn keep(kept: &mut Vec<Moment>, moment: Moment, count: usize, key: impl Fn(&Moment) -> f64) {
    if let Some(same) = kept.iter().position(|m| m.stretch.to_bits() == moment.stretch.to_bits()) {
        if kept.get(same).is_some_and(|m| key(m) <= key(&moment)) {
            return;
        }
        kept.remove(same);
    }
    let at = kept.partition_point(|other| key(other) <= key(&moment));
    if at < count {
        kept.insert(at, moment);
        kept.truncate(count);
    }
}
