//! How much higher hot oil stands than at the check.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "level.hot_rise",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Rise of the oil surface on level ground from the temperature of the check to the hottest oil of the duty",
    formula: "h(V (1 + b (T_hot - T_check))) - h(V), h the height of the surface for a volume",
    source: "hydrostatics; volume by the divergence theorem; thermal expansion V(T) = V(T_check)(1 + b (T - T_check))",
    range: "Level ground, oil at rest, engine running; shapes keep their stated size, which leaves out a tenth of the effect at most.",
    checked_against: "definition of the coefficient of expansion",
    checked_by: "measured::levels_rise_by_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let hottest = scene.hottest()?;
    let bounds = scene.in_all_worlds(|world| {
        let fill = scene.fill(world)?;
        let hot = scene.level_on_the_flat(world, scene.volume_at(&fill, hottest)?)?;
        Ok(hot - scene.level_on_the_flat(world, fill.running)?)
    })?;
    Ok(Sample::of(bounds, scene.fill_span()?))
}
