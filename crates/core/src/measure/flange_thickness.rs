//! How thick the rail is.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "flange.thickness",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Thickness of the rail, as stated",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "what the description states",
    checked_by: "catalogue::distances_round_a_drain_are_those_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let stated = need(&scene.flange()?.thickness)?;
    Ok(Sample::of(Bounds::exactly(stated.value.value), stated.span))
}
