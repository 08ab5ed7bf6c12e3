//! A pan driven along a recording: how deep the inlet's rim lies at every moment, the oil at rest in what the
//! vehicle does then, low-passed.
//!
//! Accelerations change much faster than oil moves. What is judged is therefore the resting level under the
//! low-passed motion; the raw motion is told beside it. The recording is read in pieces, and what is kept of it does
//! not grow with its length.

mod ride;
mod said;
mod tally;
mod window;
mod words;

pub use tally::{Moment, Tally};

use super::attitude::{STANDARD_GRAVITY, to_pan};
use super::looked::Looked;
use super::oil_space::World;
use super::scene::{Scene, need, need_or};
use crate::document::recording::{Log, Motion, Stopped};
use crate::quantity::{Given, si};
use crate::reading::Unknown;
use glam::DVec3;
use ride::Rim;
use std::sync::Arc;
use sumpwright_physics::slosh::first_period;
use sumpwright_physics::smooth::LowPass;
use uom::si::f64::{Frequency, Length, ThermodynamicTemperature};
use window::Window;

/// Less of apparent gravity than this, in gn, does not say where the oil is: it is all but weightless.
const LEAST_FORCE: f64 = 0.2;

/// Why nothing is known of a drive.
const NO_LOG: &str = "the duty names no log of a drive";

/// What a drive said.
#[derive(Debug, Clone, PartialEq)]
pub struct DriveRun {
    /// One in each world.
    pub worlds: Vec<Tally>,
    /// The cut-off of the low-pass.
    pub cutoff: Frequency,
    /// The oil temperature it was judged at: the coldest of the duty.
    pub oil_temperature: ThermodynamicTemperature,
}

impl Scene {
    /// What the drive along the recording says, at the stated values.
    ///
    /// # Errors
    /// Says what is not stated, or why the recording cannot be driven.
    pub fn drive(&self) -> Result<Arc<DriveRun>, Unknown> {
        if self.log.is_some() {
            // A moved scene looks at what the stated one found by ways of its own.
            self.note(&Looked::ALL);
        }
        if let Some(found) = self.drive.get() {
            return found.clone();
        }
        if self.moved {
            return Err(Unknown::because("the drive was not looked at with the stated values"));
        }
        // Made outside the lock, since it works on all threads: the same twice costs time and changes nothing.
        let made = self.ride().map(Arc::new);
        self.drive.get_or_init(|| made).clone()
    }

    /// Whether some value is moved from what is stated.
    fn is_moved(&self) -> bool {
        self.moved
    }

    /// Depth of the rim in a world under a motion, at the oil temperature of the drive.
    fn rim_depth_in(&self, world: &World, motion: &Motion) -> Result<Length, Unknown> {
        let volume = self.volume_at(&self.fill(world)?, self.coldest()?)?;
        let up = to_pan(motion.force, self.nose_up()?);
        Ok(self.mouth()?.least_depth(up, world.level(self, up, volume)?))
    }

    fn ride(&self) -> Result<DriveRun, Unknown> {
        let doc = need_or(&need(&self.duty)?.log, NO_LOG)?;
        let Some(log) = &self.log else {
            return Err(Unknown::because(format!("{} cannot be driven", doc.file.text)));
        };
        let cutoff = self.cutoff()?;
        let step = log.facts.step();
        if step * 2.0 * cutoff.value > 1.0 {
            return Err(Unknown::because(format!(
                "the log has {:.2} samples a second, and what the oil follows, up to {:.2} Hz, needs {:.2}",
                1.0 / step,
                cutoff.value,
                2.0 * cutoff.value
            )));
        }
        let worlds = self.worlds()?.iter().map(|world| self.ride_in(world, log, cutoff));
        Ok(DriveRun {
            worlds: worlds.collect::<Result<_, Unknown>>()?,
            cutoff,
            oil_temperature: self.coldest()?,
        })
    }

    fn ride_in(&self, world: &World, log: &Log, cutoff: Frequency) -> Result<Tally, Unknown> {
        let volume = self.volume_at(&self.fill(world)?, self.coldest()?)?;
        let rim = Rim::new(world.space(), volume, self.mouth()?, self.nose_up()?);
        let changed = |stopped: Stopped| {
            let why = match stopped {
                Stopped::File(_) => "it can no longer be read",
                _ => "it is no longer what it was when it was checked",
            };
            Unknown::because(format!("{}: {why}", log.path))
        };
        let samples = log.samples().map_err(changed)?;
        let mut window = Window::new(samples, LowPass::new(cutoff), log.facts.step(), cutoff);
        let mut tally = Tally::new(log.facts.first);
        while let Some(piece) = window.next().map_err(changed)? {
            let seen = rim.along(&piece, tally.matters(), log.facts.first);
            tally.add(&piece, &seen);
            log.worked_through(Some(window.bytes()));
        }
        log.worked_through(None);
        if tally.rows() != log.facts.rows {
            return Err(changed(Stopped::Empty));
        }
        Ok(tally)
    }

    /// As stated, or the first sloshing mode of a box as long as the rail with the oil of the check in it.
    fn cutoff(&self) -> Result<Frequency, Unknown> {
        if let Given::Stated(log) = &*self.duty()?.log
            && let Some(stated) = &log.cutoff
        {
            return Ok(stated.value);
        }
        let [low, high] = self.rail()?.bounds();
        let size = high - low;
        let length = if size.x >= size.y { size.x } else { size.y };
        let up = self.level_up()?;
        let Some(world) = self.worlds()?.first() else {
            return Err(Unknown::because("there is no oil space"));
        };
        let volume = self.volume_at(&self.fill(world)?, self.coldest()?)?;
        let surface = world.space().below(up, world.level(self, up, volume)?).surface;
        let depth = volume.value / surface.value;
        let period = first_period(si(length), si(depth), si(STANDARD_GRAVITY));
        Ok(si(1.0 / period.value))
    }
}

/// Up in the pan under a motion; nothing where too little of gravity is left.
fn up_of(motion: &Motion, nose_up: uom::si::f64::Angle) -> Option<DVec3> {
    // Written so that a force that is no number is none.
    (motion.force.length() >= LEAST_FORCE).then(|| to_pan(motion.force, nose_up))
}
