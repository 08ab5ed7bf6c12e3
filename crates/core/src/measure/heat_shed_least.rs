//! What a pan sheds in a smooth stream.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Outside, Scene, Stream};
use crate::quantity::Kind;
use uom::si::f64::Power;

pub(super) const SPEC: Spec = Spec {
    name: "heat.shed_least",
    kind: ObjectKind::Pan,
    dimension: Power::DIMENSION,
    over_duty: false,
    meaning: "Heat that the pan sheds at the stated air speed in a smooth stream, fins included",
    formula: "balance with h = 0.664 Re^(1/2) Pr^(1/3) k/L on the pan and along the fins; fins across the stream are not counted",
    source: "energy balance through oil film, wall, fins and air film, with radiation (Incropera, chapters 3, 5 and 7, from memory)",
    range: "Oil at the duty's hottest, the stated oil film; air as under a plate along the rail; neighbours that shade the pan and hot ones are not counted. An estimate: a gauge in the oil decides.",
    checked_against: "a root search over the same balance, with the correlations",
    checked_by: "catalogue::the_heat_shed_is_that_of_an_independent_balance",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let shed = scene.shed(Stream::Laminar, Outside::Finned)?;
    Ok(Sample::of(Bounds::exactly(shed.heat.value), scene.heat_subject()?))
}
