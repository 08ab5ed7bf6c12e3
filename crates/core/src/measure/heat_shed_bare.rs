//! What a pan would shed without its fins.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Outside, Scene, Stream};
use crate::quantity::Kind;
use uom::si::f64::Power;

pub(super) const SPEC: Spec = Spec {
    name: "heat.shed_bare",
    kind: ObjectKind::Pan,
    dimension: Power::DIMENSION,
    over_duty: false,
    meaning: "Heat that the pan would shed at the stated air speed in a stirred stream, its fins left off",
    formula: "balance with h = 0.037 Re^0.8 Pr^(1/3) k/L",
    source: "energy balance through oil film, wall, fins and air film, with radiation (Incropera, chapters 3, 5 and 7, from memory)",
    range: "Oil at the duty's hottest, the stated oil film; air as under a plate along the rail; neighbours that shade the pan and hot ones are not counted. An estimate: a gauge in the oil decides.",
    checked_against: "a root search over the same balance, with the correlations",
    checked_by: "catalogue::the_heat_shed_is_that_of_an_independent_balance",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let shed = scene.shed(Stream::Turbulent, Outside::Bare)?;
    Ok(Sample::of(Bounds::exactly(shed.heat.value), scene.heat_subject()?))
}
