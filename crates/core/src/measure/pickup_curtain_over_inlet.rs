//! Whether the gap under the inlet throttles it.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use sumpwright_physics::opening::{circle_area, curtain_area};
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.curtain_over_inlet",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Area of the cylinder between the inlet's rim and the floor over the area of its bore",
    formula: "pi D h / (pi D^2 / 4) = 4 h / D",
    source: "plain geometry",
    range: "A mouth that faces down; unknown for others.",
    checked_against: "a gap of 6 mm lets it through at 0.58946275 m/s and is four fifths of the bore",
    checked_by: "measured::the_inlet_has_its_worked_figures",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let diameter = need(&scene.inlet()?.diameter)?.value;
    let share = curtain_area(diameter, scene.curtain_gap()?) / circle_area(diameter);
    Ok(Sample::of(Bounds::exactly(share.value), scene.inlet_depth_span()?))
}
