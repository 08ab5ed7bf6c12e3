//! Which breaks first, a fin or the floor it stands on.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "fin.root_to_wall",
    kind: ObjectKind::FinSet,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Bending moment that a fin's root bears over that which the floor on both sides of it bears",
    formula: "t^2/(2 w^2), t root, w floor",
    source: "statics: the root's moment goes into the floor half to each side; section moduli b t^2/6 and b w^2/6",
    range: "One metal throughout, no fillet counted. Below 1 the fin breaks and leaves the floor whole.",
    checked_against: "section moduli, worked by hand",
    checked_by: "catalogue::fins_and_floor_give_way_as_worked",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let root = need(&scene.fin_set(index)?.root)?;
    let floor = need(&need(&scene.pan.wall)?.floor)?.value;
    let share = root.value * root.value / (2.0 * floor * floor);
    Ok(Sample::of(Bounds::exactly(share.value), root.span))
}
