//! What the fins bring.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Outside, Scene, Stream};
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "heat.fins_gain",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Heat shed with the fins over heat shed without them, each with its own film: between a smooth and a stirred stream",
    formula: "heat with fins / heat without, in both streams",
    source: "energy balance through oil film, wall, fins and air film, with radiation (Incropera, chapters 3, 5 and 7, from memory)",
    range: "Oil at the duty's hottest, the stated oil film; air as under a plate along the rail; neighbours that shade the pan and hot ones are not counted. An estimate: a gauge in the oil decides. 1 for a pan without fins.",
    checked_against: "a root search over the same balance, with the correlations",
    checked_by: "catalogue::the_heat_shed_is_that_of_an_independent_balance",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let gain = |stream: Stream| {
        let finned = scene.shed(stream, Outside::Finned)?.heat;
        Ok((finned / scene.shed(stream, Outside::Bare)?.heat).value)
    };
    let (smooth, stirred) = (gain(Stream::Laminar)?, gain(Stream::Turbulent)?);
    Ok(Sample::of(Bounds::between(smooth, stirred), scene.heat_subject()?))
}
