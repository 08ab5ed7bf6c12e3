//! How far the hottest oil stays below what turns.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "rotating.gap",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least distance from the oil surface up to the lowest rotating part, vehicle on level ground, oil at the hottest of the duty",
    formula: "lowest point of each part along up - height of the surface at the hottest oil",
    source: "hydrostatics; thermal expansion V(T) = V(T_check)(1 + b (T - T_check))",
    range: "Level ground, oil at rest, engine running; what the parts throw about is not counted.",
    checked_against: "volume over area and the definition of the coefficient of expansion",
    checked_by: "stated::levels_and_what_turns_above_them_are_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (lowest, subject) = scene.lowest_rotating()?;
    let hottest = scene.hottest()?;
    let up = scene.level_up()?;
    let bounds = scene.in_all_worlds(|world| {
        let fill = scene.fill(world)?;
        let level = world.level(scene, up, scene.volume_at(&fill, hottest)?)?;
        Ok(lowest.value - level.value)
    })?;
    Ok(Sample::of(bounds, subject))
}
