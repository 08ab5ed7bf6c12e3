//! How much of a fin works.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::{Scene, Stream, mean_thickness, need};
use crate::quantity::Kind;
use sumpwright_physics::heat::fin::efficiency;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "fin.efficiency",
    kind: ObjectKind::FinSet,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Heat that a fin sheds in stirred air over what it would shed were it as warm as its foot throughout",
    formula: "tanh(m L)/(m L), m = sqrt(2 h/(k t)), h the film of a turbulent stream along the fin, L height + t/2, t mean thickness",
    source: "Incropera, section 3.6, equation 3.94 of the 6th edition, from memory",
    range: "h t/k below 0.1; the film is the largest to be expected, so that the figure is at least so much in slower air.",
    checked_against: "a root search over the same balance, with the correlations and",
    checked_by: "catalogue::the_heat_shed_is_that_of_an_independent_balance",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let set = scene.fin_set(index)?;
    let height = need(&set.height)?;
    let sides = scene.heat_sides()?;
    let speed = need(&scene.duty()?.air_speed)?.value;
    let film = scene
        .fin_film(Stream::Turbulent, speed, &scene.film_air(&sides))?
        .ok_or_else(|| Unknown::because("there are no fins"))?;
    let conducts = need(&need(&scene.pan.material)?.conductivity)?.value;
    let one = efficiency(film, conducts, mean_thickness(set)?, height.value);
    Ok(Sample::of(Bounds::exactly(one.value), height.span))
}
