//! What the stated strike does to a fin.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::strength::fin::{Fin, Strike, root_stress};
use uom::si::f64::Pressure;

pub(super) const SPEC: Spec = Spec {
    name: "fin.root_stress",
    kind: ObjectKind::FinSet,
    dimension: Pressure::DIMENSION,
    over_duty: false,
    meaning: "Bending stress at a fin's root when the duty's strike hits its tip",
    formula: "6 F L / (b t^2), F force, L height, t root thickness, b = the lesser of the fin's length and 2 L + contact",
    source: "cantilever in bending (Roark's Formulas for Stress and Strain); load spread at 45 degrees: common practice, no source",
    range: "Elastic, no fillet and no notch counted; a fin much taller than its spread is a plate and carries more.",
    checked_against: "cantilever (Shigley, ch. 3)",
    checked_by: "catalogue::fins_and_floor_give_way_as_worked",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let set = scene.fin_set(index)?;
    let duty = scene.duty()?;
    let root = need(&set.root)?;
    let fin = Fin {
        height: need(&set.height)?.value,
        root: root.value,
        length: need(&set.length)?.value,
    };
    let strike = Strike {
        force: need(&duty.strike_force)?.value,
        contact: need(&duty.strike_contact)?.value,
    };
    let stress = root_stress(&fin, &strike).map_err(|e| super::Unknown::because(e.to_string()))?;
    Ok(Sample::of(Bounds::exactly(stress.value), root.span))
}
