//! How near a neighbour comes to the pan.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, optional};
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "neighbour.gap",
    kind: ObjectKind::Neighbour,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least distance between the pan's outside and the neighbour, the gearbox moved in its mounts and the neighbour moved towards it; 0 where they touch",
    formula: "least distance of convex bodies over the mounts down or not and rolled each way or not, less the neighbour's own movement and the pan's thermal growth",
    source: "Gilbert, Johnson and Keerthi, IEEE Journal of Robotics and Automation 4 (1988), from memory",
    range: "A zone whose outline has a notch is taken as filled, an interior of a mesh or of soundings as it is, a set of fins as one block, the flange as its rectangle: at least so much.",
    checked_against: "plane geometry",
    checked_by: "catalogue::a_neighbour_stands_as_far_as_geometry_and_growth_have_it",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let neighbour = &scene.neighbour(index)?.value;
    let apart = scene.distance_to(&neighbour.solid)?;
    let growth = scene.growth_of_pan()?;
    let left = apart - optional(&neighbour.moves)? - growth;
    let least = if left.value > 0.0 { left.value } else { 0.0 };
    Ok(Sample::of(Bounds::exactly(least), neighbour.solid.at.span))
}
