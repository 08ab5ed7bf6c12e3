//! What the measures of a drive share.

use super::tally::{Moment, Tally};
use super::{DriveRun, NO_LOG};
use crate::model::oil_space::World;
use crate::model::scene::{Scene, need_or};
use crate::reading::{Bounds, StateValue, Unknown, Worst};
use crate::source::Span;

impl Scene {
    /// Where the recording is named: what a reader would look at.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn log_span(&self) -> Result<Span, Unknown> {
        Ok(need_or(&self.duty()?.log, NO_LOG)?.file.span)
    }

    /// Least depth of the rim in a world over the worst moments of a drive, in metres.
    ///
    /// # Errors
    /// Says why it cannot be computed.
    pub fn least_rim_depth(&self, world: &World, tally: &Tally) -> Result<f64, Unknown> {
        let mut least: Option<f64> = None;
        for moment in tally.worst() {
            let depth = self.depth_at(world, &moment)?;
            if least.is_none_or(|least| depth < least) {
                least = Some(depth);
            }
        }
        least.ok_or_else(|| Unknown::because("no moment of the drive can be judged"))
    }

    /// By how much the rim lies deeper in this scene than at the stated values, in metres: the mean over the moments
    /// at which it is nearest to uncovering. Times are counted along the recording at the stated values only; with
    /// this they follow a moved value to first order.
    ///
    /// # Errors
    /// Says why it cannot be computed.
    pub fn deeper_than_stated(&self, world: &World, tally: &Tally) -> Result<f64, Unknown> {
        let moments = tally.nearest();
        if !self.is_moved() || moments.is_empty() {
            return Ok(0.0);
        }
        let mut sum = 0.0;
        for moment in moments {
            sum += self.depth_at(world, moment)? - moment.depth;
        }
        Ok(sum / moments.len() as f64)
    }

    fn depth_at(&self, world: &World, moment: &Moment) -> Result<f64, Unknown> {
        if self.is_moved() {
            return Ok(self.rim_depth_in(world, &moment.motion)?.value);
        }
        Ok(moment.depth)
    }

    /// A reading of times in every world: what is known at the least, and with all that is unknown at the most.
    ///
    /// # Errors
    /// Says why it cannot be computed.
    pub fn times_of_drive(
        &self,
        run: &DriveRun,
        of: impl Fn(&Tally, f64) -> [f64; 2],
    ) -> Result<Bounds, Unknown> {
        let mut all: Option<Bounds> = None;
        for (world, tally) in self.worlds()?.iter().zip(&run.worlds) {
            let [low, high] = of(tally, -self.deeper_than_stated(world, tally)?);
            all = Some(match all {
                None => Bounds { low, high },
                Some(known) => Bounds {
                    low: if low < known.low { low } else { known.low },
                    high: if high > known.high { high } else { known.high },
                },
            });
        }
        all.ok_or_else(|| Unknown::because("there is no oil space"))
    }
}

impl DriveRun {
    /// Whether something of the recording is unknown.
    pub fn has_gaps(&self) -> bool {
        self.worlds.iter().any(|tally| tally.unknown > 0.0 || tally.unknown_samples > 0)
    }

    /// The worst moments, in the world in which they are worst.
    pub fn moments(&self, at: Span) -> Vec<StateValue> {
        let worst = self.worlds.iter().map(Tally::worst);
        let depth = |moments: &[Moment]| moments.first().map_or(f64::INFINITY, |m| m.depth);
        let worst = worst.reduce(|a, b| if depth(&b) < depth(&a) { b } else { a });
        worst
            .unwrap_or_default()
            .iter()
            .map(|moment| StateValue {
                at: Worst {
                    state: moment.words(),
                    point: None,
                    span: at,
                    oil_temperature: self.oil_temperature.value,
                },
                bounds: Ok(Bounds::exactly(moment.depth)),
            })
            .collect()
    }

    /// What a reader has to know of the drive; whole sentences.
    pub fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        let Some(tally) = self.worlds.first() else { return notes };
        let [uncovered, _] = tally.time_below(0.0);
        notes.push(format!(
            "Of {:.1} s the rim is uncovered for {uncovered:.1} s, the motion low-passed at {:.2} Hz.",
            tally.lasts, self.cutoff.value
        ));
        notes.push(format!(
            "Under the raw motion it would be uncovered for {:.1} s: what is faster than the cut-off is too fast for \
             the oil.",
            tally.raw_uncovered
        ));
        if self.has_gaps() {
            let samples = match tally.unknown_samples {
                0 => "gaps of the log".to_owned(),
                count => format!(
                    "{count} samples with a bad number, with less than 0.2 gn or next to a gap, and the gaps"
                ),
            };
            notes.push(format!("Nothing is known of {:.1} s: {samples}.", tally.unknown));
        }
        notes
    }
}
