//! The thinnest fin root that the pan's process makes soundly.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::{Scene, made_by, need};
use crate::quantity::Kind;
use sumpwright_physics::strength::process::fin_root_minimum;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "fin.process_minimum",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Thinnest fin root that the stated process usually makes soundly",
    formula: "table by process: sand casting 5 mm, permanent mould casting 3 mm, die casting 1.5 mm",
    source: "common practice, no source",
    range: "Aluminium castings of a pan's size; unknown for sheet and machining.",
    checked_against: "common practice, no source",
    checked_by: "stated::least_thicknesses_are_those_of_the_trade",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let process = need(&need(&scene.pan.material)?.process)?;
    let minimum = fin_root_minimum(made_by(process.value))
        .ok_or_else(|| Unknown::because("there is no usual least fin root for this process"))?;
    Ok(Sample::of(Bounds::exactly(minimum.value), process.span))
}
