//! The room round the inlet that sealed baffles enclose: how long it holds oil, how fast it fills again.

use super::attitude::STANDARD_GRAVITY;
use super::openings::{line, opening_area, opening_height};
use super::scene::{Scene, need, need_or};
use super::states::DutyPoint;
use crate::document::pan::{Baffle, BaffleBottom, Sides};
use crate::quantity::{Given, si};
use crate::reading::{Bounds, Unknown};
use crate::source::Span;
use glam::{DVec2, DVec3};
use std::sync::Arc;
use sumpwright_physics::columns::{Columns, Divide};
use sumpwright_physics::orifice::{Opening, hold_time, velocity_bounds};
use uom::si::f64::{Length, Volume};

/// A baffle that is open to more of its area than this lets the long wave through: common practice, no source.
const OPEN_SHARE: f64 = 0.20;
/// Halvings of a bracket of heights, in a pan to less than a millionth of a millimetre.
const HALVINGS: u32 = 40;

/// The room round the inlet.
#[derive(Debug)]
pub struct Compartment {
    columns: Arc<Columns>,
    /// Both ends of each baffle's upper edge.
    brim: Vec<DVec3>,
    openings: Vec<(Opening, DVec3)>,
}

impl Scene {
    /// Baffles that part the surface at a level, and why others do not; whole sentences.
    pub(super) fn dividing(
        &self,
        up: DVec3,
        level: f64,
    ) -> Result<(Vec<Divide>, Vec<String>), Unknown> {
        let (mut walls, mut notes) = (Vec::new(), Vec::new());
        let baffles = match &*self.pan.baffles {
            Given::Absent(_) => return Ok((walls, notes)),
            given => need(given)?,
        };
        for (index, item) in baffles.entries.iter().enumerate() {
            let baffle = &item.value;
            let name = &item.name;
            if !encloses(baffle)? {
                notes.push(format!(
                    "Baffle {name} does not reach walls and floor, and divides nothing."
                ));
                continue;
            }
            let share = self.baffle_opening(index)?.0 / self.baffle_area(index)?.0;
            let under = ends(baffle)?.iter().map(|end| level - up.dot(*end)).fold(f64::MIN, larger);
            if share.value > OPEN_SHARE {
                notes.push(format!("Baffle {name} is too open to divide what swings."));
            } else if under > 0.0 {
                notes.push(format!(
                    "Baffle {name} ends {:.0} mm below the surface, and divides nothing.",
                    under * 1e3
                ));
            } else {
                walls.push(divide(baffle)?);
            }
        }
        Ok((walls, notes))
    }

    /// Both ends of a baffle's upper edge, and where its depth stands.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn baffle_edge(&self, index: usize) -> Result<([DVec3; 2], Span), Unknown> {
        let baffle = &self.baffle(index)?.value;
        Ok((ends(baffle)?, need(&baffle.top)?.span))
    }

    /// The room round the inlet that baffles enclose.
    ///
    /// # Errors
    /// Says what is not stated, or that nothing encloses the inlet.
    pub fn compartment(&self) -> Result<Compartment, Unknown> {
        let place = self.mouth()?.centre.truncate();
        let (mut walls, mut brim, mut openings) = (Vec::new(), Vec::new(), Vec::new());
        for item in &need_or(&self.pan.baffles, "there are no baffles")?.entries {
            let baffle = &item.value;
            if !encloses(baffle)? {
                continue;
            }
            walls.push(divide(baffle)?);
            brim.extend(ends(baffle)?);
            openings.extend(openings_of(baffle)?);
        }
        if walls.is_empty() {
            return Err(Unknown::because(
                "no baffle is sealed to the walls and stands on the floor, so that none holds the oil",
            ));
        }
        let (columns, _) = self.columns()?;
        Ok(Compartment { columns: Arc::new(columns.compartment(place, &walls)), brim, openings })
    }

    /// How long the room round the inlet keeps its rim covered in a state, its neighbours taken as empty.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn holds(&self, room: &Compartment, point: &DutyPoint<'_>) -> Result<f64, Unknown> {
        let up = point.attitude.up;
        let flat = self.level_up()?;
        let before = point.world.level(self, flat, point.volume)?;
        let brim = room.brim_along(up);
        let start = room.height(up, brim, room.columns.below(flat, before));
        let gravity = si(point.attitude.gravity_ratio * STANDARD_GRAVITY);
        let draw = self.flow(point.state.flow.as_ref())?.value;
        let span = [start, self.mouth()?.highest(up)];
        let below = |height: Length| room.columns.below(up, height);
        Ok(hold_time(below, span, &room.openings_along(up), draw, gravity).value)
    }

    /// What flows into the room round the inlet while its rim is just covered, less what the pump draws, in a state
    /// with the oil outside at rest; in m³/s.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn refills(&self, room: &Compartment, point: &DutyPoint<'_>) -> Result<Bounds, Unknown> {
        let up = point.attitude.up;
        let outside = point.level()?;
        let inside = self.mouth()?.highest(up);
        let gravity = si(point.attitude.gravity_ratio * STANDARD_GRAVITY);
        let viscosity = si(self.viscosity_at(point.temperature)?.bounds.low);
        let draw = self.flow(point.state.flow.as_ref())?.value.value;
        let mut bounds = Bounds::exactly(-draw);
        for opening in room.openings_along(up) {
            let against = if inside > opening.height { inside } else { opening.height };
            let [least, most] = velocity_bounds(outside - against, &opening, viscosity, gravity);
            bounds.low += (least * opening.area).value;
            bounds.high += (most * opening.area).value;
        }
        if outside > room.brim_along(up) {
            bounds.high = f64::INFINITY;
        }
        Ok(bounds)
    }
}

impl Compartment {
    /// Height along up of the lowest place of the baffles' upper edges.
    fn brim_along(&self, up: DVec3) -> Length {
        let lowest = self
            .brim
            .iter()
            .map(|end| up.dot(*end))
            .fold(f64::INFINITY, |a, b| if b < a { b } else { a });
        si(lowest)
    }

    fn openings_along(&self, up: DVec3) -> Vec<Opening> {
        let at = |(opening, place): &(Opening, DVec3)| Opening {
            height: si(up.dot(*place)),
            ..*opening
        };
        self.openings.iter().map(at).collect()
    }

    /// The surface of so much oil in it; the brim where there is more.
    fn height(&self, up: DVec3, brim: Length, volume: Volume) -> Length {
        if self.columns.below(up, brim) <= volume {
            return brim;
        }
        // Farther down than any pan is deep.
        let (mut low, mut high) = (brim - si::<Length>(1.0), brim);
        for _ in 0..HALVINGS {
            let middle = (low + high) / 2.0;
            if self.columns.below(up, middle) < volume {
                low = middle;
            } else {
                high = middle;
            }
        }
        low
    }
}

fn larger(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

/// Whether a baffle meets the walls and the floor.
fn encloses(baffle: &Baffle) -> Result<bool, Unknown> {
    let sealed = need(&baffle.sides)?.value == Sides::Sealed;
    Ok(sealed && matches!(need(&baffle.bottom)?, BaffleBottom::Floor(_)))
}

fn divide(baffle: &Baffle) -> Result<Divide, Unknown> {
    let (from, _, along) = line(baffle)?;
    Ok(Divide { at: from, along })
}

fn ends(baffle: &Baffle) -> Result<[DVec3; 2], Unknown> {
    let (from, to, _) = line(baffle)?;
    let top = need(&baffle.top)?.value.value;
    Ok([from, to].map(|end: DVec2| end.extend(-top)))
}

fn openings_of(baffle: &Baffle) -> Result<Vec<(Opening, DVec3)>, Unknown> {
    let openings = match &baffle.openings {
        Given::Absent(_) => return Ok(Vec::new()),
        given => need(given)?,
    };
    let (from, to, along) = line(baffle)?;
    let thickness = need(&baffle.thickness)?.value;
    let mut list = Vec::new();
    for item in &openings.entries {
        let place = (from + to) / 2.0 + along * need(&item.value.along)?.value.value;
        let place = place.extend(-need(&item.value.depth)?.value.value);
        let smaller = si(opening_height(&item.value.form));
        let area = opening_area(&item.value.form)?;
        list.push((Opening { area, smaller, thickness, height: si(0.0) }, place));
    }
    Ok(list)
}
