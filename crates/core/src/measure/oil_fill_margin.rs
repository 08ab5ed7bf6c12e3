//! How low the fill may fall before the inlet uncovers in the worst state of the duty.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Volume;

pub(super) const SPEC: Spec = Spec {
    name: "oil.fill_margin",
    kind: ObjectKind::Pan,
    dimension: Volume::DIMENSION,
    over_duty: true,
    meaning: "Oil that may be missing from the fill, as it is poured in at the temperature of the check, before the inlet's rim uncovers in the worst state of the duty; negative is what is missing already",
    formula: "V_check - V_least / (1 + b (T - T_check)), V_least the oil below the plane through the highest rim point",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); thermal expansion V(T) = V(T_check)(1 + b (T - T_check))",
    range: "Oil at rest as one pool; a state that lasts less than three first-mode periods is unknown. Arcs count as chords that lose at most 8 parts in a million of an outline's area; a note says how much of the volume.",
    checked_against: "volume over area and the definition of the coefficient of expansion",
    checked_by: "stated::levels_and_what_turns_above_them_are_volume_over_area",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    scene.least_over_duty(scene.fill_span()?, |point| {
        let up = point.attitude.up;
        let least = point.world.below(scene, up, mouth.highest(up)).value;
        let running = scene.fill(point.world)?.running.value;
        // By how much the oil has grown since it was poured in.
        let grown = point.volume.value / running;
        Ok(running - least / grown)
    })
}
