//! How often the track shakes the vehicle.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Frequency;

pub(super) const SPEC: Spec = Spec {
    name: "duty.hump_frequency",
    kind: ObjectKind::Pan,
    dimension: Frequency::DIMENSION,
    over_duty: false,
    meaning: "Frequency with which humps of the track follow each other, as stated",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "what the description states",
    checked_by: "measured::the_box_swings_as_published",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let stated = need(&scene.duty()?.humps)?;
    Ok(Sample::of(Bounds::exactly(stated.value.value), stated.span))
}
