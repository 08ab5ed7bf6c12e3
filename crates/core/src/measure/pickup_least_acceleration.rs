//! How hard the vehicle may be driven on level ground, whichever way, before the inlet's cover is gone.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::coverage::{least_tilt, toward};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Acceleration;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.least_acceleration",
    kind: ObjectKind::Pan,
    dimension: Acceleration::DIMENSION,
    over_duty: false,
    meaning: "Least steady horizontal acceleration on level ground, over all directions, under which the inlet's rim lies no deeper than 10 mm below the oil surface, at the coldest oil of the duty",
    formula: "g tan(t), t the least tilt, g standard gravity",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); 10 mm: common practice",
    range: "As pickup.least_tilt; the acceleration lasts until the oil is at rest.",
    checked_against: "closed form of a box",
    checked_by: "coverage::under_the_middle_of_a_box_every_direction_uncovers_alike",
    read,
};

/// ISO 80000-3 standard gravity, in m/s².
const STANDARD_GRAVITY: f64 = 9.806_65;

fn read(scene: &Scene, _: usize) -> Outcome {
    let (tilt, azimuth) = least_tilt(scene)?;
    let of = |tilt: f64| {
        if tilt.is_infinite() { tilt } else { STANDARD_GRAVITY * libm::tan(tilt) }
    };
    let bounds = Bounds { low: of(tilt.low), high: of(tilt.high) };
    let mut sample = Sample::of(bounds, scene.inlet_depth_span()?);
    sample.notes = vec![format!("It is least where the oil runs {}.", toward(azimuth))];
    Ok(sample)
}
