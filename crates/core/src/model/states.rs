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
use uom::si::f64::{Length, ThermodynamicTemperature, Volume};

/// A state is judged by the resting level only if it lasts at least this many first-mode periods.
const PERIODS_TO_REST: f64 = 3.0;
/// A swept state may have hundreds of points of which none can be judged for one reason: so many are told.
const NOTES: usize = 12;

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
    /// The state as stated.
    pub state: &'a State,
    /// The oil's temperature.
    pub temperature: ThermodynamicTemperature,
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

/// Which states of the duty a measure is read over.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Which {
    /// All; one that is too short for the oil to come to rest is unknown.
    AtRest,
    /// All, however short.
    All,
    /// Only those that are too short for the oil to come to rest.
    Short,
}

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
        self.least_bounds_over_duty(subject, |point| read(point).map(Bounds::exactly))
    }

    /// As [`Scene::least_over_duty`], where each state has bounds of its own.
    ///
    /// # Errors
    /// As for [`Scene::least_over_duty`].
    pub fn least_bounds_over_duty(
        &self,
        subject: Span,
        read: impl Fn(&DutyPoint<'_>) -> Result<Bounds, Unknown>,
    ) -> Result<Sample, Unknown> {
        self.least_over(Which::AtRest, subject, read)
    }

    /// As [`Scene::least_bounds_over_duty`], over the states that are asked for.
    ///
    /// # Errors
    /// As for [`Scene::least_over_duty`].
    pub fn least_over(
        &self,
        which: Which,
        subject: Span,
        read: impl Fn(&DutyPoint<'_>) -> Result<Bounds, Unknown>,
    ) -> Result<Sample, Unknown> {
        let states = self.read_states(which, &read)?;
        let known = |s: &StateValue| s.bounds.as_ref().ok().copied();
        let low = least(states.iter().filter_map(|s| known(s).map(|b| b.low)));
        let high = least(states.iter().filter_map(|s| known(s).map(|b| b.high)));
        let (Some(low), Some(high)) = (low, high) else {
            return Err(states.into_iter().find_map(|s| s.bounds.err()).unwrap_or_else(|| {
                Unknown::because(match which {
                    Which::Short => "every state lasts long enough for the oil to come to rest",
                    Which::AtRest | Which::All => "the duty holds no state",
                })
            }));
        };
        let worst =
            states.iter().find(|s| known(s).is_some_and(|b| b.low <= low)).map(|s| s.at.clone());
        let mut notes: Vec<String> = Vec::new();
        for state in &states {
            if let Err(unknown) = &state.bounds {
                let note = format!("state {} is not judged: {}", state.at.words(), unknown.reason);
                if !notes.contains(&note) {
                    notes.push(note);
                }
            }
        }
        let bounds = if notes.is_empty() { Bounds { low, high } } else { Bounds::at_most(high) };
        notes.truncate(NOTES);
        Ok(Sample { bounds, subject, worst, states: worst_points(states), notes })
    }

    /// How many states are too short for the oil to come to rest.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn short_states(&self) -> Result<usize, Unknown> {
        let states = self.read_states(Which::Short, &|_| Ok(Bounds::exactly(0.0)))?;
        let mut names: Vec<&str> = states.iter().map(|s| s.at.state.as_str()).collect();
        names.dedup();
        Ok(names.len())
    }

    fn read_states(
        &self,
        which: Which,
        read: &impl Fn(&DutyPoint<'_>) -> Result<Bounds, Unknown>,
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
                    point: item.value.point.clone(),
                    span: item.name_span,
                    oil_temperature: temperature.value.value,
                };
                let in_world = |world: &World| {
                    let fill = self.fill(world)?;
                    let volume = self.volume_at(&fill, temperature.value)?;
                    let point = DutyPoint {
                        scene: self,
                        world,
                        attitude,
                        volume,
                        state: &item.value,
                        temperature: temperature.value,
                    };
                    if which == Which::AtRest
                        && let StateCheck::TooShort(why) = self.state_check(&item.value, &point)?
                    {
                        return Err(why);
                    }
                    if which == Which::Short
                        && self.state_check(&item.value, &point)? == StateCheck::AtRest
                    {
                        return Ok(None);
                    }
                    read(&point).map(Some)
                };
                if let Some(bounds) = over_worlds(worlds, in_world).transpose() {
                    values.push(StateValue { at, bounds });
                }
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
                    point: item.value.point.clone(),
                    span: item.name_span,
                    oil_temperature: temperature.value.value,
                };
                let in_world = |world: &World| {
                    let volume = self.volume_at(&self.fill(world)?, temperature.value)?;
                    read(&DutyPoint {
                        scene: self,
                        world,
                        attitude,
                        volume,
                        state: &item.value,
                        temperature: temperature.value,
                    })
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
        let surface = point.world.cut(self, up, point.level()?).surface;
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
        self.bounds_in_all_worlds(|world| read(world).map(Bounds::exactly))
    }

    /// As [`Scene::in_all_worlds`], where each world has bounds of its own.
    ///
    /// # Errors
    /// Says why there is no value.
    pub fn bounds_in_all_worlds(
        &self,
        read: impl Fn(&World) -> Result<Bounds, Unknown>,
    ) -> Result<Bounds, Unknown> {
        over_worlds(self.worlds()?, |world| read(world).map(Some))?
            .ok_or_else(|| Unknown::because("there is no oil space"))
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
    read: impl Fn(&World) -> Result<Option<Bounds>, Unknown>,
) -> Result<Option<Bounds>, Unknown> {
    if worlds.is_empty() {
        return Err(Unknown::because("there is no oil space"));
    }
    let mut all: Option<Bounds> = None;
    for world in worlds {
        let Some(value) = read(world)? else { continue };
        // Written so that what is no number is refused; a bound may be infinite on its open side.
        if !(value.low < f64::INFINITY && value.high > f64::NEG_INFINITY) {
            return Err(Unknown::because("the computation gave no finite number"));
        }
        all = Some(all.map_or(value, |before| Bounds {
            low: lower(before.low, value.low),
            high: -lower(-before.high, -value.high),
        }));
    }
    Ok(all)
}

/// The lower of two values; the first where they are one but for rounding.
fn lower(first: f64, other: f64) -> f64 {
    let apart = other.is_infinite() || (other - first).abs() > SAME * (other.abs() + first.abs());
    if apart && other < first { other } else { first }
}

/// Of each swept state at each temperature the point with the least value: a reader asks for the state, and is told
/// where in it. Where some points cannot be read, the least over the others is a bound.
fn worst_points(all: Vec<StateValue>) -> Vec<StateValue> {
    let mut worst: Vec<StateValue> = Vec::new();
    for state in all {
        // Points of one state stand together, and its temperatures take turns: a place to look for it is near.
        let same = |known: &StateValue| {
            known.at.span == state.at.span
                && known.at.oil_temperature.to_bits() == state.at.oil_temperature.to_bits()
        };
        match worst.iter_mut().rev().find(|known| same(known)) {
            Some(known) => *known = lesser(known, state),
            None => worst.push(state),
        }
    }
    worst
}

fn lesser(known: &StateValue, other: StateValue) -> StateValue {
    match (&known.bounds, &other.bounds) {
        (Ok(a), Ok(b)) => {
            let mut lesser = if b.low < a.low { other.clone() } else { known.clone() };
            let high = if b.high < a.high { b.high } else { a.high };
            lesser.bounds = Ok(Bounds { low: if b.low < a.low { b.low } else { a.low }, high });
            lesser
        }
        (Ok(a), Err(_)) => StateValue { bounds: Ok(Bounds::at_most(a.high)), ..known.clone() },
        (Err(_), Ok(b)) => StateValue { bounds: Ok(Bounds::at_most(b.high)), ..other },
        (Err(_), Err(_)) => known.clone(),
    }
}

fn least(values: impl Iterator<Item = f64>) -> Option<f64> {
    values.reduce(|a, b| if b < a { b } else { a })
}
