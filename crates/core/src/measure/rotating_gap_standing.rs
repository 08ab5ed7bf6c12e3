//! How far the oil stays below what turns when the engine is off.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "rotating.gap_standing",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least distance from the oil surface up to the lowest rotating part when the engine has stopped and what was held up has come back, level ground, hottest oil",
    formula: "lowest point of each part along up - height of the surface for V(T) + held up",
    source: "hydrostatics; volume by the divergence theorem; thermal expansion V(T) = V(T_check)(1 + b (T - T_check))",
    range: "Level ground, oil at rest; what the parts throw about is not counted.",
    checked_against: "volume over area and the definition of the coefficient of expansion",
    checked_by: "stated::levels_and_what_turns_above_them_are_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (lowest, subject) = scene.lowest_rotating()?;
    let (hottest, held_up) = (scene.hottest()?, scene.held_up()?);
    let bounds = scene.in_all_worlds(|world| {
        let hot = scene.volume_at(&scene.fill(world)?, hottest)?;
        Ok(lowest.value - scene.level_on_the_flat(world, hot + held_up)?)
    })?;
    Ok(Sample::of(bounds, subject))
}
