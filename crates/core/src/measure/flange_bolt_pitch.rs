//! How far apart the bolts stand.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "flange.bolt_pitch",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Longest way from one bolt to the next along the rail",
    formula: "as stated; without that at least the gasket's run over the number of bolts",
    source: "read from the document",
    range: "The mean is a lower bound for the longest.",
    checked_against: "what the description states",
    checked_by: "catalogue::the_rail_presses_its_gasket_as_hetenyi_has_it",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (pitch, span) = scene.bolt_pitch()?;
    Ok(Sample::of(pitch, span))
}
