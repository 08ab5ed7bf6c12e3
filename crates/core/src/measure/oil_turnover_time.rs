//! How long the pump takes to pass all the oil once.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Time;

pub(super) const SPEC: Spec = Spec {
    name: "oil.turnover_time",
    kind: ObjectKind::Pan,
    dimension: Time::DIMENSION,
    over_duty: false,
    meaning: "Oil in pan and case with the engine running over the pump's largest flow: the longest that oil can dwell on the mean before it is drawn again",
    formula: "t = V / Q",
    source: "definition",
    range: "Always; oil that takes a short way to the inlet dwells less.",
    checked_against: "continuity",
    checked_by: "measured::the_inlet_has_its_worked_figures",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let flow = scene.largest_flow()?;
    let bounds =
        scene.in_all_worlds(|world| Ok(scene.fill(world)?.running.value / flow.value.value))?;
    Ok(Sample::of(bounds, scene.fill_span()?))
}
