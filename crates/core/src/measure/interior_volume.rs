//! What the pan holds below the rail.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::document::pan::InteriorShape;
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Volume;

pub(super) const SPEC: Spec = Spec {
    name: "interior.volume",
    kind: ObjectKind::Pan,
    dimension: Volume::DIMENSION,
    over_duty: false,
    meaning: "Room for oil below the rail: interior less what displacers fill of it",
    formula: "V = volume of the interior - sum of the displacers' stretches below the rail",
    source: "divergence theorem",
    range: "Arcs count as chords that lose at most 8 parts in a million of an outline's area; a note says how much of the volume.",
    checked_against: "plane and solid geometry, worked by hand",
    checked_by: "stated::the_inlet_s_room_is_that_of_geometry",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let interior = scene.interior()?;
    let volume = scene.volume_below_rail()?;
    let subject = match &interior.shape {
        InteriorShape::Zones(floor) => {
            floor.zones.entries.first().map_or(interior.span, |z| z.value.depth.span)
        }
        InteriorShape::Mesh(_) | InteriorShape::Soundings(_) => interior.depth_span(),
    };
    Ok(Sample::of(Bounds::exactly(volume.value), subject))
}
