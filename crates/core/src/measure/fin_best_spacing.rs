//! How far apart upright fins would best stand.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Scene, need};
use crate::quantity::{Kind, si};
use sumpwright_physics::heat::film::rayleigh;
use sumpwright_physics::heat::fin::best_spacing;
use uom::si::f64::{Length, TemperatureInterval};

pub(super) const SPEC: Spec = Spec {
    name: "fin.best_spacing",
    kind: ObjectKind::FinSet,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Clear room between fins that sheds most in still air, were they upright and open below and above",
    formula: "2.714 L/Ra^(1/4), Ra over the fin's length, surface as warm as the oil",
    source: "Bar-Cohen and Rohsenow, Journal of Heat Transfer 106 (1984), from memory",
    range: "Upright open channels. Fins that hang under a floor are closed above and want more room, so that it is a lower bound for them.",
    checked_against: "Bar-Cohen and Rohsenow",
    checked_by: "catalogue::surface_efficiency_and_best_spacing_are_the_textbook_s",
    read,
};

fn read(scene: &Scene, index: usize) -> Outcome {
    let set = scene.fin_set(index)?;
    let length = need(&set.length)?;
    let sides = scene.heat_sides()?;
    let warmer: TemperatureInterval = si(sides.oil.value - sides.air.value);
    let number = rayleigh(warmer, length.value, &scene.film_air(&sides));
    let best = best_spacing(length.value, number);
    Ok(Sample::of(Bounds::exactly(best.value), length.span))
}
