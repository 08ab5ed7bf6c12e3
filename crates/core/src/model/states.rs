//! The states of the duty, each at each oil temperature.

use super::attitude::{Attitude, STANDARD_GRAVITY, attitude};
use super::oil_space::World;
use super::scene::{Scene, need};
use crate::document::duty::State;
use crate::quantity::si;
use crate::reading::{Bounds, Sample, StateValue, Unknown, Worst};
use crate::source::Span;
use glam::DVec3;
use sumpwright_physics::slosh::first_period;
use uom::si::f64::{Length, Volume};

/// A state is judged by the resting level only if it lasts at least this many first-mode periods.
const PERIODS_TO_REST: f64 = 3.0;

/// One world of one state at one temperature, oil at rest.
#[derive(Debug)]
pub struct DutyPoint<'a> {
    /// The scene.
    pub scene: &'a Scene,
    /// The world.
    pub world: &'a World,
    /// The attitude.
    pub attitude: Attitude,
    /// Oil in pan and case.
    pub volume: Volume,
}

impl DutyPoint<'_> {
    /// Height of the oil surface along the attitude's up.
    ///
    /// # Errors
    /// Says why there is no level.
    pub fn level(&self) -> Result<Length, Unknown> {
        self.world.level(self.scene, self.attitude.up, self.volume)
    }
}

/// A state, and what was found in each world, or why nothing was.
pub type InState<T> = (Worst, Result<Vec<T>, Unknown>);

/// Whether a state can be judged at rest.
#[derive(Debug, Clone, PartialEq)]
pub enum StateCheck {
    /// It lasts long enough, or without end.
    AtRest,
    /// It is over before the oil comes to rest.
    TooShort(Unknown),
}

impl Scene {
    /// A measure that is the least of a value over the duty; `subject` is what a reader would change.
    ///
    /// Where some states cannot be read, the least over the others is a bound: it can show that the pan does not
    /// conform, never that it does.
    ///
    /// # Errors
    /// Says what is not stated, or why no state can be read.
    pub fn least_over_duty(
        &self,
        subject: Span,
        read: impl Fn(&DutyPoint<'_>) -> Result<f64, Unknown>,
    ) -> Result<Sample, Unknown> {
        let states = self.read_states(&read)?;
        let known = |s: &StateValue| s.bounds.as_ref().ok().copied();
        let low = least(states.iter().filter_map(|s| known(s).map(|b| b.low)));
        let high = least(states.iter().filter_map(|s| known(s).map(|b| b.high)));
        let (Some(low), Some(high)) = (low, high) else {
            return Err(states
                .into_iter()
                .find_map(|s| s.bounds.err())
                .unwrap_or_else(|| Unknown::because("the duty holds no state")));
        };
        let worst =
            states.iter().find(|s| known(s).is_some_and(|b| b.low <= low)).map(|s| s.at.clone());
        let mut notes: Vec<String> = Vec::new();
        for state in &states {
            if let Err(unknown) = &state.bounds {
                let note = format!("state {} is not judged: {}", state.at.state, unknown.reason);
                if !notes.contains(&note) {
                    notes.push(note);
                }
            }
        }
        let bounds = if notes.is_empty() { Bounds { low, high } } else { Bounds::at_most(high) };
        Ok(Sample { bounds, subject, worst, states, notes })
    }

    fn read_states(
        &self,
        read: &impl Fn(&DutyPoint<'_>) -> Result<f64, Unknown>,
    ) -> Result<Vec<StateValue>, Unknown> {
        let duty = self.duty()?;
        let temperatures = need(&duty.oil_temperature)?;
        let nose_up = self.nose_up()?;
        let worlds = self.worlds()?;
        let mut values = Vec::new();
        for item in &need(&duty.states)?.entries {
            let attitude = attitude(&item.value, nose_up);
            for temperature in temperatures {
                let at = Worst {
                    state: item.name.clone(),
                    span: item.name_span,
                    oil_temperature: temperature.value.value,
                };
                let in_world = |world: &World| {
                    let fill = self.fill(world)?;
                    let volume = self.volume_at(&fill, temperature.value)?;
                    let point = DutyPoint { scene: self, world, attitude, volume };
                    if let StateCheck::TooShort(why) = self.state_check(&item.value, &point)? {
                        return Err(why);
                    }
                    read(&point)
                };
                values.push(StateValue { at, bounds: over_worlds(worlds, in_world) });
            }
        }
        Ok(values)
    }

    /// What can be said in every state at every temperature, in every world; states too short to come to rest too.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn in_each_state<T>(
        &self,
        read: impl Fn(&DutyPoint<'_>) -> Result<T, Unknown>,
    ) -> Result<Vec<InState<T>>, Unknown> {
        let duty = self.duty()?;
        let nose_up = self.nose_up()?;
        let worlds = self.worlds()?;
        let mut all = Vec::new();
        for item in &need(&duty.states)?.entries {
            let attitude = attitude(&item.value, nose_up);
            for temperature in need(&duty.oil_temperature)? {
                let at = Worst {
                    state: item.name.clone(),
                    span: item.name_span,
                    oil_temperature: temperature.value.value,
                };
                let in_world = |world: &World| {
                    let volume = self.volume_at(&self.fill(world)?, temperature.value)?;
                    read(&DutyPoint { scene: self, world, attitude, volume })
                };
                all.push((at, worlds.iter().map(in_world).collect()));
            }
        }
        Ok(all)
    }

    /// Whether a state lasts long enough for the oil to come to rest: three periods of the first sloshing
    /// mode of a box as long as the rail and as deep as the oil is on the mean.
    fn state_check(&self, state: &State, point: &DutyPoint<'_>) -> Result<StateCheck, Unknown> {
        let Some(lasts) = state.lasts else { return Ok(StateCheck::AtRest) };
        let [low, high] = self.rail()?.bounds();
        let size = high - low;
        let length = if size.x >= size.y { size.x } else { size.y };
        let up = point.attitude.up;
        let surface = point.world.space().below(up, point.level()?).surface;
        let depth = point.volume.value / surface.value;
        let period = first_period(
            si(length),
            si(depth),
            si(point.attitude.gravity_ratio * STANDARD_GRAVITY),
        );
        let needed = PERIODS_TO_REST * period.value;
        if lasts.value.value >= needed {
            return Ok(StateCheck::AtRest);
        }
        Ok(StateCheck::TooShort(Unknown::because(format!(
            "it lasts {:.1} s, less than three periods of the first sloshing mode ({needed:.1} s), so that \
             the resting level does not judge it",
            lasts.value.value
        ))))
    }

    /// A value in every world, as bounds: two worlds that agree to rounding are one value.
    ///
    /// # Errors
    /// Says why there is no value.
    pub fn in_all_worlds(
        &self,
        read: impl Fn(&World) -> Result<f64, Unknown>,
    ) -> Result<Bounds, Unknown> {
        over_worlds(self.worlds()?, read)
    }

    /// Up on level ground in the pan frame.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn level_up(&self) -> Result<DVec3, Unknown> {
        Ok(super::attitude::level_ground(self.nose_up()?))
    }
}

/// Rounding that two worlds may differ by and still say the same, relative to the larger: the open world reaches
/// metres up, which costs some digits of the 1e-16 of a double.
const SAME: f64 = 1e-10;

fn over_worlds(
    worlds: &[World],
    read: impl Fn(&World) -> Result<f64, Unknown>,
) -> Result<Bounds, Unknown> {
    let mut all: Option<Bounds> = None;
    for world in worlds {
        let value = read(world)?;
        if !value.is_finite() {
            return Err(Unknown::because("the computation gave no finite number"));
        }
        all = Some(match all {
            None => Bounds::exactly(value),
            Some(b) if (value - b.low).abs() <= SAME * (value.abs() + b.low.abs()) => b,
            Some(b) => Bounds::between(b.low, value),
        });
    }
    all.ok_or_else(|| Unknown::because("there is no oil space"))
}

fn least(values: impl Iterator<Item = f64>) -> Option<f64> {
    values.reduce(|a, b| if b < a { b } else { a })
}
