//! How soon the oil comes to rest.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "motion.damping",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Damping ratio of the first swing by the friction of the hottest oil on smooth walls",
    formula: "4.98 sqrt(v) R^-0.75 g^-0.25 / (2 pi), v viscosity, R half the longer side of the rail",
    source: "Mikishev and Dorozhkin, Stephens and others, in NASA SP-106, ch. 4 (from memory)",
    range: "A bound: at least this, since floor, baffles and what hangs in the oil damp more; an order of magnitude.",
    checked_against: "NASA SP-106 ch. 4",
    checked_by: "worked::a_sudden_stop_overshoots_as_a_damped_oscillator",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let least = scene.least_damping()?;
    Ok(Sample::of(Bounds::at_least(least.value), scene.fill_span()?))
}
