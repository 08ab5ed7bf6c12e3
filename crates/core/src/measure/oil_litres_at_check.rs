//! How much oil is in pan and case at the maker's check.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Volume;

pub(super) const SPEC: Spec = Spec {
    name: "oil.litres_at_check",
    kind: ObjectKind::Pan,
    dimension: Volume::DIMENSION,
    over_duty: false,
    meaning: "Oil in pan and case in the state of the check: as stated, or what lies below the level of the check",
    formula: "V = sum of weight times body below the plane through the level's place, normal to up on level ground",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Without a described case, a level above the rail gives bounds: closed at the rail, open straight up.",
    checked_against: "volume over area and the definition of the coefficient of expansion",
    checked_by: "stated::levels_and_what_turns_above_them_are_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let bounds = scene.in_all_worlds(|world| Ok(scene.volume_at_check(world)?.value))?;
    Ok(Sample::of(bounds, scene.fill_span()?))
}
