//! How many states are over before the oil comes to rest.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "motion.short_states",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Number of states of the duty that last less than three periods of the first sloshing mode",
    formula: "count",
    source: "definition",
    range: "Always.",
    checked_against: "Lamb, art. 190",
    checked_by: "worked::a_state_is_short_that_lasts_less_than_three_periods",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let count = u32::try_from(scene.short_states()?).map_or(f64::INFINITY, f64::from);
    Ok(Sample::of(Bounds::exactly(count), need(&scene.duty()?.states)?.span))
}
