//! How far a struck fin gives way.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::strength::fin::{Fin, Strike, tip_deflection};
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "fin.tip_deflection",
    kind: ObjectKind::FinSet,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "How far a fin's tip gives way under the duty's strike",
    formula: "F L^3/(3 E I), I = b t^3/12, b as for the root stress",
    source: "cantilever in bending (Shigley, chapter 3, from memory)",
    range: "Elastic, root's thickness all the way up: a fin that thins out gives way more.",
    checked_against: "cantilever (Shigley, ch. 3)",
    checked_by: "catalogue::fins_and_floor_give_way_as_worked",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let set = scene.fin_set(index)?;
    let duty = scene.duty()?;
    let root = need(&set.root)?;
    let (height, length) = (need(&set.height)?.value, need(&set.length)?.value);
    let fin = Fin { height, root: root.value, length };
    let (force, contact) = (need(&duty.strike_force)?.value, need(&duty.strike_contact)?.value);
    let modulus = need(&need(&scene.pan.material)?.modulus)?.value;
    let gives = tip_deflection(&fin, &Strike { force, contact }, modulus)
        .map_err(|e| Unknown::because(e.to_string()))?;
    Ok(Sample::of(Bounds::exactly(gives.value), root.span))
}
