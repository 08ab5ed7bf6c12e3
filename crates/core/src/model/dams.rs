//! Baffles that hold oil back at rest: those that stand on the floor and go on to the walls.
//!
//! Such a baffle is a wall without thickness whose openings let oil through down to their lowest place. One with a gap
//! under its foot or at its ends lets oil by at the floor, and is no dam.

use super::openings::line;
use super::scene::{Scene, need};
use crate::document::pan::{Baffle, BaffleBottom, Opening, OpeningForm, Sides};
use crate::quantity::{Given, si};
use crate::reading::Unknown;
use glam::{DVec2, DVec3};
use sumpwright_physics::basins;

/// The baffles of a pan that are dams; none where the pan says nothing of baffles.
///
/// # Errors
/// Says what is not stated of a baffle.
pub(super) fn dams(scene: &Scene) -> Result<Vec<basins::Dam>, Unknown> {
    let Given::Stated(baffles) = &*scene.pan.baffles else { return Ok(Vec::new()) };
    let mut dams = Vec::new();
    for item in &baffles.entries {
        dams.extend(dam(&item.value)?);
    }
    Ok(dams)
}

fn dam(baffle: &Baffle) -> Result<Option<basins::Dam>, Unknown> {
    let stands = matches!(need(&baffle.bottom)?, BaffleBottom::Floor(_));
    if !(stands && need(&baffle.sides)?.value == Sides::Sealed) {
        return Ok(None);
    }
    let (from, to, along) = line(baffle)?;
    let middle = (from + to) / 2.0;
    let openings = match &baffle.openings {
        Given::Stated(openings) => {
            let all = openings.entries.iter();
            all.map(|item| opening(&item.value, middle, along)).collect::<Result<_, _>>()?
        }
        Given::Absent(_) => Vec::new(),
        Given::LeftOut(missing) => return Err(Unknown::not_stated(missing.clone())),
    };
    let top = si(-need(&baffle.top)?.value.value);
    Ok(Some(basins::Dam { from, to, top, openings }))
}

fn opening(opening: &Opening, middle: DVec2, along: DVec2) -> Result<basins::Opening, Unknown> {
    let place = middle + along * need(&opening.along)?.value.value;
    let height = -need(&opening.depth)?.value.value;
    let at = |aside: f64, up: f64| -> DVec3 { (place + along * aside).extend(height + up) };
    Ok(match &opening.form {
        OpeningForm::Circle(diameter) => {
            basins::Opening { corners: vec![at(0.0, 0.0)], radius: diameter.value / 2.0 }
        }
        OpeningForm::Slot(length, width) => {
            let half = (length.value.value - width.value.value) / 2.0;
            let corners = vec![at(-half, 0.0), at(half, 0.0)];
            basins::Opening { corners, radius: width.value / 2.0 }
        }
        OpeningForm::Rectangle(length, width) => {
            let (x, z) = (length.value.value / 2.0, width.value.value / 2.0);
            let corners = vec![at(-x, -z), at(x, -z), at(x, z), at(-x, z)];
            basins::Opening { corners, radius: si(0.0) }
        }
    })
}
