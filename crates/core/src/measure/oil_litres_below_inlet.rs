//! How much oil lies below the inlet on level ground, out of the pump's reach.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Volume;

pub(super) const SPEC: Spec = Spec {
    name: "oil.litres_below_inlet",
    kind: ObjectKind::Pan,
    dimension: Volume::DIMENSION,
    over_duty: false,
    meaning: "Oil of the inlet's basin that lies below the highest point of its rim on level ground: the pump draws air before it takes it",
    formula: "V = sum of weight times body, of the connected part round the inlet, below the level plane through the highest rim point",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Level ground, oil at rest, whatever the fill; what ridges keep apart from the inlet's basin is not counted; no vortex and no draw-down at the mouth.",
    checked_against: "volume over area and the definition of the coefficient of expansion",
    checked_by: "stated::levels_and_what_turns_above_them_are_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    let bounds = scene.in_all_worlds(|world| Ok(scene.below_inlet(world, &mouth)?.value))?;
    Ok(Sample::of(bounds, scene.inlet_depth_span()?))
}
