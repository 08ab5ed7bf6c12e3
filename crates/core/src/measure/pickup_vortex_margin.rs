//! Whether a whirl at the surface can reach the inlet.

use super::{Bounds, ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.vortex_margin",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: true,
    meaning: "Depth of the inlet's rim below the surface less what published formulas ask against whirls that draw air, each state at its own flow, least over the duty",
    formula: "depth of the highest rim point - the most of D (1 + 2.3 Fr), 2.27 D Fr and D (1 + Fr), Fr = V / sqrt(g' D); with an anti-vortex plate or cross D Fr",
    source: "ANSI/HI 9.8 after Hecker (form seen in public text); Gordon, Water Power 22 (1970), lateral approach, and Reddy and Pickford, Water Power, March 1972 (both from memory)",
    range: "Bounds: the formulas, made for water and bells of 150 mm and more, ask more than thick oil needs, so that it is at least the lower bound, and at most the depth itself.",
    checked_against: "ANSI/HI 9.8 asks 89.989395 mm",
    checked_by: "measured::the_inlet_has_its_worked_figures",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let mouth = scene.mouth()?;
    scene.least_bounds_over_duty(scene.inlet_depth_span()?, |point| {
        let depth = mouth.least_depth(point.attitude.up, point.level()?);
        let flow = scene.flow(point.state.flow.as_ref())?.value;
        let asked = scene.vortex_depth(flow, point.attitude.gravity_ratio)?;
        Ok(Bounds::between((depth - asked).value, depth.value))
    })
}
