//! What the strike does to the floor between two fins.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Pressure;

pub(super) const SPEC: Spec = Spec {
    name: "fin.floor_stress",
    kind: ObjectKind::FinSet,
    dimension: Pressure::DIMENSION,
    over_duty: false,
    meaning: "Bending stress of the floor between two fins when the duty's strike hits it there",
    formula: "6 F s/(8 b w^2), s clear room, w floor, b the lesser of the fin's length and s + contact",
    source: "beam built in at both ends with a load in the middle, F s/8 (Roark's Formulas for Stress and Strain, from memory); load spread at 45 degrees: common practice, no source",
    range: "A stone narrow enough to reach the floor: a wider one rests on the fins, and the figure is then too large.",
    checked_against: "built-in beam (Roark)",
    checked_by: "catalogue::fins_and_floor_give_way_as_worked",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let set = scene.fin_set(index)?;
    if need(&set.count)?.value < 2 {
        return Err(Unknown::because("a single fin has no floor between it and a neighbour"));
    }
    let (root, tip) = (need(&set.root)?.value, need(&set.tip)?.value);
    let room = need(&set.pitch)?.value - if tip > root { tip } else { root };
    let duty = scene.duty()?;
    let spread = room + need(&duty.strike_contact)?.value;
    let length = need(&set.length)?.value;
    let bearing = if spread < length { spread } else { length };
    let floor = need(&need(&scene.pan.wall)?.floor)?;
    let force = need(&duty.strike_force)?.value;
    let stress = 0.75 * force * room / (bearing * floor.value * floor.value);
    Ok(Sample::of(Bounds::exactly(stress.value), floor.span))
}
