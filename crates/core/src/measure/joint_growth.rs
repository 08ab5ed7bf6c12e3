//! How far the pan grows away from the case.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "joint.growth",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "By how much the corner of the pan's rail grows away from the case from 20 degC to the hottest oil",
    formula: "|a_pan - a_case| (T_hot - 20 degC) times the way from the rail's middle to its corner",
    source: "definition of linear expansion",
    range: "Pan and case as warm as the oil; the case is colder at first, and the difference then larger for a pan of its own metal.",
    checked_against: "thermal growth by definition",
    checked_by: "catalogue::the_joint_bears_what_the_standards_say",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (growth, span) = scene.growth_against_case()?;
    Ok(Sample::of(Bounds::exactly(growth.value), span))
}
