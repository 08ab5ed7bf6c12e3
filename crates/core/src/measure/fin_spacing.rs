//! The clear room between two fins at their roots.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "fin.spacing",
    kind: ObjectKind::FinSet,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Clear room between two neighbouring fins where it is narrowest",
    formula: "pitch - the larger of root and tip",
    source: "plain geometry",
    range: "Fins of one set, all alike; unknown for a single fin.",
    checked_against: "plane geometry, worked by hand",
    checked_by: "stated::what_hangs_lowest_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let set = scene.fin_set(index)?;
    if need(&set.count)?.value < 2 {
        return Err(super::Unknown::because("a single fin has no neighbour"));
    }
    let pitch = need(&set.pitch)?;
    let (root, tip) = (need(&set.root)?.value.value, need(&set.tip)?.value.value);
    let thickest = if tip > root { tip } else { root };
    Ok(Sample::of(Bounds::exactly(pitch.value.value - thickest), pitch.span))
}
