//! How much a litre shows at the check.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "level.per_litre",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Rise of the oil surface on level ground when one litre more is put in",
    formula: "h(V + 1 L) - h(V), h the height of the surface for a volume; 1 L / area for upright walls",
    source: "hydrostatics; volume by the divergence theorem; thermal expansion V(T) = V(T_check)(1 + b (T - T_check))",
    range: "Level ground, oil at the temperature of the check and at rest, engine running.",
    checked_against: "one litre is 1/0.108 mm",
    checked_by: "measured::levels_rise_by_volume_over_area",
    read,
};

/// One litre, in cubic metres.
const LITRE: f64 = 1e-3;

fn read(scene: &Scene, _: usize) -> Outcome {
    let bounds = scene.in_all_worlds(|world| {
        let running = scene.fill(world)?.running;
        let more = scene.level_on_the_flat(world, running + crate::quantity::si(LITRE))?;
        Ok(more - scene.level_on_the_flat(world, running)?)
    })?;
    Ok(Sample::of(bounds, scene.fill_span()?))
}
