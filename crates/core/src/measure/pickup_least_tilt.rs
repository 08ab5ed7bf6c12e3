//! How far the vehicle may lean in the least favourable direction before the inlet's cover is gone.

use super::{ObjectKind, Outcome, Sample, Spec};
use crate::coverage::{least_tilt, toward};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Angle;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.least_tilt",
    kind: ObjectKind::Pan,
    dimension: Angle::DIMENSION,
    over_duty: false,
    meaning: "Least tilt from level ground, over all directions, at which the inlet's rim lies no deeper than 10 mm below the oil surface, at the coldest oil of the duty",
    formula: "least over azimuth of the first zero of V - V below the plane 10 mm over the highest rim point, over the tilt",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem; 10 mm: common practice",
    range: "Oil at rest as one pool; looked at every 2.5 degrees up to 80 deg in 24 directions, the least then refined: a dip of the margin narrower than that can be missed. At least 80 deg where it is more.",
    checked_against: "closed form of a box",
    checked_by: "coverage::under_the_middle_of_a_box_every_direction_uncovers_alike",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let (bounds, azimuth) = least_tilt(scene)?;
    let mut sample = Sample::of(bounds, scene.inlet_depth_span()?);
    sample.notes = vec![format!("It is least where the oil runs {}.", toward(azimuth))];
    Ok(sample)
}
