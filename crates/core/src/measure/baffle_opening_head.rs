//! How far the oil falls on its way through a baffle.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "baffle.opening_head",
    kind: ObjectKind::Baffle,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Head that the pump's largest flow takes through a baffle's openings with the coldest oil of the duty's states",
    formula: "V^2/2g at least, V^2/2g (1/0.61^2 + 12 pi/Re) + 32 v l V/(g d^2) at most, d the smallest side of an opening, l the thickness",
    source: "orifice equation and Poiseuille (White, Fluid Mechanics); Sampson's creeping flow (Happel and Brenner, from memory)",
    range: "Bounds, any Reynolds number; where the baffle has gaps that are not sealed, at least the lower one.",
    checked_against: "orifice equation: 20 L/min through 20 mm take 154.2579 mm at 1.061033 m/s",
    checked_by: "measured::a_compartment_holds_and_a_hole_takes_its_head",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let (bounds, subject) = scene.baffle_head(index)?;
    Ok(Sample::of(bounds, subject))
}
