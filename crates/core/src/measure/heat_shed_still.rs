//! What a pan sheds when the vehicle stands.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Outside, Scene, Stream};
use crate::quantity::Kind;
use uom::si::f64::Power;

pub(super) const SPEC: Spec = Spec {
    name: "heat.shed_still",
    kind: ObjectKind::Pan,
    dimension: Power::DIMENSION,
    over_duty: false,
    meaning: "Heat that the pan sheds in still air: between none and all of its fins counted",
    formula: "balance with h = 0.27 Ra^(1/4) k/L, L area over perimeter of the rail, with and without fins",
    source: "McAdams, in Incropera, equation 9.32 of the 6th edition, from memory; balance as for moving air",
    range: "Still air under a flat pan, Ra from 1e5 to 1e10; an exhaust beside it heats instead.",
    checked_against: "a root search over the same balance, with the correlations",
    checked_by: "catalogue::the_heat_shed_is_that_of_an_independent_balance",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let bare = scene.shed(Stream::Still, Outside::Bare)?.heat;
    let finned = scene.shed(Stream::Still, Outside::Finned)?.heat;
    Ok(Sample::of(Bounds::between(bare.value, finned.value), scene.heat_subject()?))
}
