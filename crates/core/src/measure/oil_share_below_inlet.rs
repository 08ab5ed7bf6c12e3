//! Which share of the oil lies where the pump cannot draw it.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "oil.share_below_inlet",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Oil below the highest point of the inlet's rim on level ground over all oil in pan and case at the check",
    formula: "V below the level plane through the highest rim point / V at the check",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Level ground, oil at rest; no vortex and no draw-down at the mouth.",
    checked_against: "volume over area and the definition of the coefficient of expansion",
    checked_by: "stated::levels_and_what_turns_above_them_are_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (mouth, up) = (scene.mouth()?, scene.level_up()?);
    let bounds = scene.in_all_worlds(|world| {
        Ok((world.below(scene, up, mouth.highest(up)) / scene.volume_at_check(world)?).value)
    })?;
    Ok(Sample::of(bounds, scene.inlet_depth_span()?))
}
