//! The thinnest wall that the pan's process makes soundly.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::{Scene, made_by, need};
use crate::quantity::Kind;
use sumpwright_physics::strength::process::wall_minimum;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "wall.process_minimum",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Thinnest wall that the stated process usually makes soundly",
    formula: "table by process: sand casting 3.5 mm, permanent mould casting 3 mm, die casting 1.5 mm, stamping and fabrication 1 mm",
    source: "common practice, no source",
    range: "Aluminium castings and steel sheet of a pan's size; unknown for machining.",
    checked_against: "common practice, no source",
    checked_by: "stated::least_thicknesses_are_those_of_the_trade",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let process = need(&need(&scene.pan.material)?.process)?;
    let minimum = wall_minimum(made_by(process.value))
        .ok_or_else(|| Unknown::because("there is no usual least wall for this process"))?;
    Ok(Sample::of(Bounds::exactly(minimum.value), process.span))
}
