//! How much higher the oil stands when the engine is off.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "level.standing_rise",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Rise of the oil surface on level ground when the engine stops and what is held up comes back to the pan",
    formula: "h(V + held up) - h(V), h the height of the surface for a volume, V with the engine running",
    source: "hydrostatics; volume by the divergence theorem; thermal expansion V(T) = V(T_check)(1 + b (T - T_check))",
    range: "Level ground, oil at the temperature of the check and at rest.",
    checked_against: "1.08 L more are 10 mm",
    checked_by: "measured::levels_rise_by_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let held_up = scene.held_up()?;
    let bounds = scene.in_all_worlds(|world| {
        let running = scene.fill(world)?.running;
        let standing = scene.level_on_the_flat(world, running + held_up)?;
        Ok(standing - scene.level_on_the_flat(world, running)?)
    })?;
    Ok(Sample::of(bounds, scene.fill_span()?))
}
