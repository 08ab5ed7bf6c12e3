//! How hard the vehicle may be driven on level ground before the deepest floor is bared.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::coverage::{floor_bares, toward};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Acceleration;

pub(super) const SPEC: Spec = Spec {
    name: "motion.floor_bares_at",
    kind: ObjectKind::Pan,
    dimension: Acceleration::DIMENSION,
    over_duty: false,
    meaning: "Least steady braking, acceleration or cornering on level ground that bares a place of the deepest floor, at the coldest oil of the duty",
    formula: "g tan(t), t the least of four tilts at which V is no more than what lies below the plane through the highest corner of the floor within 1 mm of the deepest point; in a box 2 g h / L",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Oil at rest as one pool; looked at every 2.5 degrees up to 80 deg. A floor that is bare says nothing of the inlet: that is what its rim is looked at for.",
    checked_against: "the surface of a box leans about its middle",
    checked_by: "worked::a_box_bares_its_floor_at_twice_its_depth_over_its_length",
    read,
};

/// ISO 80000-3 standard gravity, in m/s².
const STANDARD_GRAVITY: f64 = 9.806_65;

fn read(scene: &Scene, _: usize) -> Outcome {
    let (tilt, azimuth) = floor_bares(scene)?;
    let of = |tilt: f64| {
        if tilt.is_infinite() { tilt } else { STANDARD_GRAVITY * libm::tan(tilt) }
    };
    let bounds = Bounds { low: of(tilt.low), high: of(tilt.high) };
    let mut sample = Sample::of(bounds, scene.fill_span()?);
    sample.notes = vec![format!("It is least where the oil runs {}.", toward(azimuth))];
    Ok(sample)
}
