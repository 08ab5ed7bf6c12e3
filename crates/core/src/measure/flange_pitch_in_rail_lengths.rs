//! How soft the rail is between its bolts.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "flange.pitch_in_rail_lengths",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Bolt pitch in the rail's own lengths: from 2.2 on less than 0.8 of the gasket's stress is left midway, from 4.73 on none",
    formula: "lambda s, lambda = (E_g b_g/t_g/(4 E I))^(1/4), I = w t^3/12 times the bead's factor",
    source: "Hetenyi, Beams on Elastic Foundation (1946), from memory",
    range: "A straight stretch that does not twist; the longest pitch repeated.",
    checked_against: "Hetényi, Beams on Elastic Foundation (1946)",
    checked_by: "catalogue::the_rail_presses_its_gasket_as_hetenyi_has_it",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (pitch, span) = scene.pitch_in_rail_lengths()?;
    Ok(Sample::of(pitch, span))
}
