//! How far the skid plate gives way.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "skid.deflection",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "How far the skid plate gives way under its load",
    formula: "load / stiffness; without a stated stiffness between nothing and 4 W/(pi^4 D a b) sum of 1/(m^2/a^2 + n^2/b^2)^2 over odd m and n",
    source: "Navier's solution (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, from memory); Roark's table 11.4 case 1b",
    range: "A flat plate on its edges is the softest: folds, ribs, held edges, and more than half of its thickness of way make it stiffer.",
    checked_against: "Roark, table 11.4 case 1b",
    checked_by: "catalogue::a_plate_without_a_stated_stiffness_bounds_the_gap",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let load = need(&need(&scene.vehicle()?.skid)?.load)?.span;
    Ok(Sample::of(scene.skid_deflection()?, load))
}
