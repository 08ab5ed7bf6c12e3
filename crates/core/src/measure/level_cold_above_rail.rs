//! Where cold oil stands.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "level.cold_above_rail",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Height of the oil surface over the middle of the rail (negative: below) on level ground with the oil at the duty's cold start, engine running",
    formula: "z = h / (up . z), h the height of the surface along up",
    source: "hydrostatics; volume by the divergence theorem; thermal expansion V(T) = V(T_check)(1 + b (T - T_check))",
    range: "Level ground, oil at rest, engine running; shapes keep their stated size, which leaves out a tenth of the effect at most.",
    checked_against: "volume over area and the definition of the coefficient of expansion",
    checked_by: "stated::levels_and_what_turns_above_them_are_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (temperature, up) = (scene.cold_start()?.0.value, scene.level_up()?);
    let bounds = scene.in_all_worlds(|world| {
        let fill = scene.fill(world)?;
        Ok(scene.level_on_the_flat(world, scene.volume_at(&fill, temperature)?)? / up.z)
    })?;
    Ok(Sample::of(bounds, scene.fill_span()?))
}
