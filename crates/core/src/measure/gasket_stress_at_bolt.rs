//! What the gasket bears at a bolt.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Pressure;

pub(super) const SPEC: Spec = Spec {
    name: "gasket.stress_at_bolt",
    kind: ObjectKind::Pan,
    dimension: Pressure::DIMENSION,
    over_duty: false,
    meaning: "Stress of the gasket at a bolt at the maker's torque",
    formula: "N F/(L w) (x/2)(sinh x + sin x)/(cosh x - cos x), x the pitch in rail lengths; with limiters E_g times the squeeze",
    source: "Hetenyi, Beams on Elastic Foundation (1946), from memory; force over area",
    range: "An elastic gasket; with limiters or a groove its squeeze sets the stress, else torque and number of the bolts. Unknown where the rail lifts off.",
    checked_against: "the squeeze sets the stress",
    checked_by: "catalogue::the_rail_presses_its_gasket_as_hetenyi_has_it",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (at_bolt, _, span) = scene.gasket_stress()?;
    Ok(Sample::of(Bounds::exactly(at_bolt.value), span))
}
