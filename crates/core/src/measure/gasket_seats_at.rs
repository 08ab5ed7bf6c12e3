//! What the gasket needs to seal.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Pressure;

pub(super) const SPEC: Spec = Spec {
    name: "gasket.seats_at",
    kind: ObjectKind::Pan,
    dimension: Pressure::DIMENSION,
    over_duty: false,
    meaning: "Least stress at which the gasket seals, as its maker states it",
    formula: "as stated",
    source: "read from the document",
    range: "Always.",
    checked_against: "what the description states",
    checked_by: "catalogue::the_rail_presses_its_gasket_as_hetenyi_has_it",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let stated = need(&scene.flange()?.gasket.seats_at)?;
    Ok(Sample::of(Bounds::exactly(stated.value.value), stated.span))
}
