//! What is left of the gasket's stress between two bolts.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Pressure;

pub(super) const SPEC: Spec = Spec {
    name: "gasket.stress_midway",
    kind: ObjectKind::Pan,
    dimension: Pressure::DIMENSION,
    over_duty: false,
    meaning: "Stress of the gasket midway between the two bolts that stand farthest apart",
    formula: "stress at a bolt times 2 (cosh u sin u + sinh u cos u)/(sinh 2u + sin 2u), u half the pitch in rail lengths",
    source: "Hetenyi, Beams on Elastic Foundation (1946), from memory; force over area",
    range: "An elastic gasket; with limiters or a groove its squeeze sets the stress, else torque and number of the bolts. Unknown where the rail lifts off.",
    checked_against: "Hetényi, Beams on Elastic Foundation (1946)",
    checked_by: "catalogue::the_rail_presses_its_gasket_as_hetenyi_has_it",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (_, midway, span) = scene.gasket_stress()?;
    Ok(Sample::of(Bounds::exactly(midway.value), span))
}
