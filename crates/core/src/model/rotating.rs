//! What turns above the oil.

use super::interior::position;
use super::scene::{Scene, need};
use crate::document::pan::{Displacer, PlanAxis, SolidForm};
use crate::quantity::si;
use crate::reading::Unknown;
use crate::source::Span;
use glam::DVec3;
use uom::si::f64::{Length, ThermodynamicTemperature};

impl Scene {
    /// Height along up on level ground of the lowest point of all rotating parts, and where the part's place
    /// stands.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn lowest_rotating(&self) -> Result<(Length, Span), Unknown> {
        let up = self.level_up()?;
        need(&self.vehicle()?.rotating)?
            .entries
            .iter()
            .map(|part| (si(lowest(&part.value, up)), part.value.at.z.span))
            .reduce(|a: (Length, Span), b| if b.0 < a.0 { b } else { a })
            .ok_or_else(|| Unknown::because("the vehicle names no rotating part"))
    }

    /// The hottest oil of the duty.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn hottest(&self) -> Result<ThermodynamicTemperature, Unknown> {
        need(&self.duty()?.oil_temperature)?
            .iter()
            .map(|stated| stated.value)
            .reduce(|a, b| if b > a { b } else { a })
            .ok_or_else(|| Unknown::because("the duty holds no oil temperature"))
    }

    /// The coldest oil of the duty: the least oil there is to cover the inlet.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn coldest(&self) -> Result<ThermodynamicTemperature, Unknown> {
        need(&self.duty()?.oil_temperature)?
            .iter()
            .map(|stated| stated.value)
            .reduce(|a, b| if b < a { b } else { a })
            .ok_or_else(|| Unknown::because("the duty holds no oil temperature"))
    }
}

/// Height along `up` of the lowest point of a block or cylinder, in metres.
fn lowest(part: &Displacer, up: DVec3) -> f64 {
    let at = position(part);
    match &part.form {
        SolidForm::Block { x, y, z } => {
            let half = DVec3::new(x.value.value, y.value.value, z.value.value) / 2.0;
            up.dot(at - DVec3::Z * half.z) - half.dot(up.abs())
        }
        SolidForm::Cylinder { diameter, length, along } => {
            let (axis, middle) = match along.map(|word| word.value) {
                Some(PlanAxis::X) => (DVec3::X, at),
                Some(PlanAxis::Y) => (DVec3::Y, at),
                None => (DVec3::Z, at - DVec3::Z * (length.value.value / 2.0)),
            };
            let along_axis = up.dot(axis).abs() * length.value.value / 2.0;
            let across = up.cross(axis).length() * diameter.value.value / 2.0;
            up.dot(middle) - along_axis - across
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::pan::{PanPoint, Word};
    use crate::quantity::{Kind, Stated};
    use crate::source::FileId;

    const HERE: Span = Span { file: FileId(0), start: 0, end: 0 };

    fn stated<Q: Kind>(value: f64) -> Stated<Q> {
        Stated { value: si(value), span: HERE }
    }

    fn drum(along: Option<PlanAxis>) -> Displacer {
        Displacer {
            form: SolidForm::Cylinder {
                diameter: stated(0.150),
                length: stated(0.090),
                along: along.map(|value| Word { value, span: HERE }),
            },
            at: PanPoint { x: stated(0.0), y: stated(0.0), z: stated(0.090), span: HERE },
            span: HERE,
        }
    }

    #[test]
    fn a_lying_drum_reaches_down_by_its_radius_and_a_standing_one_by_its_length() {
        assert!((lowest(&drum(Some(PlanAxis::X)), DVec3::Z) - 0.015).abs() < 1e-15);
        assert!(lowest(&drum(None), DVec3::Z).abs() < 1e-15);
    }

    #[test]
    fn a_tilt_along_a_drum_lowers_one_end_by_half_its_length_times_the_sine() {
        let up = DVec3::new(0.6, 0.0, 0.8);
        let by_hand = 0.8 * 0.090 - 0.6 * 0.045 - 0.8 * 0.075;
        assert!((lowest(&drum(Some(PlanAxis::X)), up) - by_hand).abs() < 1e-15);
    }
}
