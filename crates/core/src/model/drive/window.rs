//! The recording in pieces, each sample with its raw motion and the low-passed one.

use crate::document::recording::{Motion, Sample, Samples, Stopped};
use crate::quantity::si;
use glam::DVec3;
use rayon::prelude::*;
use sumpwright_physics::smooth::LowPass;
use uom::si::f64::Frequency;

/// Samples read at a time.
const PIECE: usize = 1 << 12;
/// Samples that one thread takes at a time.
const SHARE: usize = 1 << 9;
/// A step of more than so many usual ones is a gap, unless it is short beside what the oil follows.
const USUAL_STEPS: f64 = 2.5;
/// A step of this share of the cut-off's period is bridged, however many usual ones it is.
const BRIDGED: f64 = 0.25;

/// One sample, ready to be judged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moving {
    pub(super) line: usize,
    pub(super) time: f64,
    /// The time that it stands for, in seconds.
    pub(super) span: f64,
    /// Time before it of which nothing is known, in seconds.
    pub(super) gap: f64,
    /// As recorded.
    pub(super) raw: Option<Motion>,
    /// Low-passed.
    pub(super) smooth: Option<Motion>,
}

/// A stretch of the recording with what lies round it within the reach of the low-pass.
pub(super) struct Window {
    samples: Samples,
    low_pass: LowPass,
    longest_step: f64,
    rows: Vec<Sample>,
    /// The first row that has not been handed out.
    next: usize,
    ended: bool,
}

impl Window {
    pub(super) fn new(
        samples: Samples,
        low_pass: LowPass,
        usual_step: f64,
        cutoff: Frequency,
    ) -> Self {
        let (usual, bridged) = (USUAL_STEPS * usual_step, BRIDGED / cutoff.value);
        let longest_step = if usual > bridged { usual } else { bridged };
        Self { samples, low_pass, longest_step, rows: Vec::new(), next: 0, ended: false }
    }

    pub(super) fn bytes(&self) -> u64 {
        self.samples.bytes()
    }

    /// The next piece; nothing at the end.
    pub(super) fn next(&mut self) -> Result<Option<Vec<Moving>>, Stopped> {
        while !self.ended {
            let before = self.rows.len();
            self.samples.read(&mut self.rows, PIECE)?;
            self.ended = self.rows.len() - before < PIECE;
            let end = self.settled();
            if end > self.next {
                return Ok(Some(self.hand_out(end)));
            }
        }
        let end = self.rows.len();
        Ok((end > self.next).then(|| self.hand_out(end)))
    }

    /// Rows before which everything within the reach of the low-pass has been read.
    fn settled(&self) -> usize {
        if self.ended {
            return self.rows.len();
        }
        let last = self.rows.last().map_or(f64::NEG_INFINITY, |row| row.time);
        let reach = self.low_pass.reach().value;
        self.rows.partition_point(|row| row.time + reach < last)
    }

    fn hand_out(&mut self, end: usize) -> Vec<Moving> {
        let from = self.next;
        let spans: Vec<f64> =
            (0..self.rows.len()).map(|at| span(&self.rows, self.longest_step, at)).collect();
        let stretch = Stretch {
            rows: &self.rows,
            spans: &spans,
            low_pass: &self.low_pass,
            longest_step: self.longest_step,
        };
        // Collected in the order of the rows, each computed by itself: threads change nothing.
        let piece: Vec<Moving> = (from..end)
            .into_par_iter()
            .with_min_len(SHARE)
            .filter_map(|at| stretch.moving(at))
            .collect();
        let reach = self.low_pass.reach().value;
        let first_needed =
            self.rows.get(end).or(self.rows.last()).map_or(0.0, |row| row.time) - reach;
        // One row more, for the step to the first.
        let keep_from =
            self.rows.partition_point(|row| row.time < first_needed).saturating_sub(1).min(end);
        self.rows.drain(..keep_from);
        self.next = end - keep_from;
        piece
    }
}

/// The rows that are held, as every thread may look at them.
struct Stretch<'a> {
    rows: &'a [Sample],
    /// The time that each row stands for, in seconds.
    spans: &'a [f64],
    low_pass: &'a LowPass,
    longest_step: f64,
}

/// The step from one row to the next.
fn step(rows: &[Sample], at: usize) -> Option<f64> {
    Some(rows.get(at + 1)?.time - rows.get(at)?.time)
}

/// The time that a row stands for: half of the steps on both sides that are no gaps.
fn span(rows: &[Sample], longest: f64, at: usize) -> f64 {
    let half = |step: Option<f64>| step.filter(|s| *s <= longest).map_or(0.0, |s| s / 2.0);
    half(at.checked_sub(1).and_then(|before| step(rows, before))) + half(step(rows, at))
}

impl Stretch<'_> {
    fn step(&self, at: usize) -> Option<f64> {
        step(self.rows, at)
    }

    fn span(&self, at: usize) -> f64 {
        self.spans.get(at).copied().unwrap_or(0.0)
    }

    fn moving(&self, at: usize) -> Option<Moving> {
        let row = self.rows.get(at)?;
        let before = at.checked_sub(1).and_then(|before| self.step(before));
        let gap = before.filter(|step| *step > self.longest_step).unwrap_or(0.0);
        let smooth = row.motion.and_then(|_| self.smooth(at, row));
        Some(Moving {
            line: row.line,
            time: row.time,
            span: self.span(at),
            gap,
            raw: row.motion,
            smooth,
        })
    }

    /// The weighted mean round a row; nothing where more than half of the weight is unknown.
    fn smooth(&self, at: usize, row: &Sample) -> Option<Motion> {
        let reach = self.low_pass.reach().value;
        let near = |other: &Sample| (other.time - row.time).abs() <= reach;
        let joined = |i: usize| self.step(i).is_some_and(|step| step <= self.longest_step);
        let mut first = at;
        while first > 0 && joined(first - 1) && self.rows.get(first - 1).is_some_and(near) {
            first -= 1;
        }
        let mut end = at + 1;
        while joined(end - 1) && self.rows.get(end).is_some_and(near) {
            end += 1;
        }
        if end - first == 1 {
            return row.motion;
        }
        let (mut known, mut unknown) = (0.0, 0.0);
        let (mut force, mut up) = (DVec3::ZERO, DVec3::ZERO);
        for i in first..end {
            let other = self.rows.get(i)?;
            let weight = self.low_pass.weight(si(other.time - row.time)) * self.span(i);
            match &other.motion {
                Some(motion) => {
                    known += weight;
                    force += motion.force * weight;
                    up += motion.up.unwrap_or(DVec3::ZERO) * weight;
                }
                None => unknown += weight,
            }
        }
        if known <= 0.0 {
            // Rows at one time stand for none: the row speaks for itself.
            return row.motion;
        }
        let has_up = row.motion.is_some_and(|motion| motion.up.is_some());
        (known >= unknown)
            .then(|| Motion { force: force / known, up: has_up.then(|| up.normalize_or(DVec3::Z)) })
    }
}
