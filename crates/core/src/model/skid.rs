//! How far the skid plate gives way.

use super::scene::{Scene, need};
use crate::document::vehicle::Skid;
use crate::quantity::Given;
use crate::reading::{Bounds, Unknown};
use sumpwright_physics::plate::{Plate, deflection_at_middle};

impl Scene {
    /// How far the plate gives way under its load, in metres: by its stated stiffness; without one, at most what a flat
    /// plate would that rests on its edges.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn skid_deflection(&self) -> Result<Bounds, Unknown> {
        let skid = need(&self.vehicle()?.skid)?;
        let load = need(&skid.load)?.value;
        match &skid.stiffness {
            Given::LeftOut(missing) => match flat_plate(skid) {
                Some(plate) => deflection_at_middle(&plate, load)
                    .map(|most| Bounds::between(0.0, most.value))
                    .ok_or_else(|| Unknown::because("the plate has no size")),
                None => Err(Unknown::not_stated(missing.clone())),
            },
            given => Ok(Bounds::exactly(load.value / need(given)?.value.value)),
        }
    }
}

/// The plate as stated, where all of it is.
fn flat_plate(skid: &Skid) -> Option<Plate> {
    let size = skid.size.stated()?.map(|side| side.value);
    let thickness = skid.thickness.stated()?.value;
    Some(Plate { size, thickness, modulus: skid.modulus.stated()?.value })
}
