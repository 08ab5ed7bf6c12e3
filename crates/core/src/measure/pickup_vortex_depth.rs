//! How deep published formulas want the inlet, so that no whirl draws air.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.vortex_depth",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Depth below the surface that published formulas ask of the inlet against whirls that draw air, at the largest flow and standard gravity",
    formula: "the most of D (1 + 2.3 Fr), 2.27 D Fr and D (1 + Fr), Fr = V / sqrt(g' D); with an anti-vortex plate or cross D Fr",
    source: "ANSI/HI 9.8 after Hecker (form seen in public text); Gordon, Water Power 22 (1970), lateral approach, and Reddy and Pickford, Water Power, March 1972 (both from memory)",
    range: "An upper bound: made for water and bells of 150 mm and more; oil is thicker, which weakens whirls. Uncovering, slosh and foam are not counted.",
    checked_against: "ANSI/HI 9.8 asks 89.989395 mm",
    checked_by: "measured::the_inlet_has_its_worked_figures",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let diameter = need(&scene.inlet()?.diameter)?;
    let depth = scene.vortex_depth(scene.largest_flow()?.value, 1.0)?;
    Ok(Sample::of(Bounds::between(0.0, depth.value), diameter.span))
}
