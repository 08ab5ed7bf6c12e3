//! How much of the oil swings.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::Scene;
use crate::quantity::Kind;
use sumpwright_physics::slosh::sloshing_share;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "motion.sloshing_share",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Share of the oil that moves in the first swing along the longer side; the rest moves with the pan",
    formula: "m1/m = 8 tanh(pi h/L) / (pi^3 h/L), h oil over free surface, L the longer side of the rail",
    source: "Graham and Rodriguez, J. Appl. Mech. 19 (1952); NASA SP-106, ch. 6 (both from memory)",
    range: "Exact for a box with a level floor, an estimate elsewhere.",
    checked_against: "Graham and Rodriguez: 0.77132202",
    checked_by: "measured::the_box_swings_as_published",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let length = scene.longer_side()?;
    let mut bounds: Option<Bounds> = None;
    for swing in scene.swing(false)? {
        let share = sloshing_share(length, swing.seiche.mean_depth).value;
        bounds = Some(bounds.map_or(Bounds::exactly(share), |b| Bounds::between(b.low, share)));
    }
    let bounds = bounds.ok_or_else(|| Unknown::because("there is no oil space"))?;
    Ok(Sample::of(bounds, scene.fill_span()?))
}
