//! Which share of the oil stands where the inlet cannot reach it, in the worst state of the duty.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "oil.stranded_share",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: true,
    meaning: "Share of the oil in pan and case that is not in the pool the inlet stands in, most over the duty",
    formula: "V_stranded / V(T)",
    source: "fill-spill-merge on the join tree of the surface (Barnes, Callaghan and Wickert, Earth Surface Dynamics 9 (2021), from memory)",
    range: "Oil at rest, at one level on level ground and turned slowly about one axis; a baffle that is sealed and stands on the floor holds back what is below its openings; what the pump draws comes back; a state that lasts less than three first-mode periods is unknown.",
    checked_against: "elementary plane geometry",
    checked_by: "basins::what_a_ridge_keeps_from_the_inlet_is_the_prism_behind_it",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    scene.most_over_duty(scene.inlet_place_span()?, |point| {
        Ok((point.at_inlet(&mouth)?.stranded / point.volume).value)
    })
}
