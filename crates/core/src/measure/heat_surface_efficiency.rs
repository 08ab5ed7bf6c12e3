//! How much of the outside works.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec};
use crate::model::{Outside, Scene, Stream, need};
use crate::quantity::Kind;
use sumpwright_physics::heat::balance::working_share;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "heat.surface_efficiency",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: false,
    meaning: "Share of the pan's outside that works as if it were as warm as the wall, in a stirred stream",
    formula: "1 - sum of (A_f/A_t)(1 - efficiency of a fin)",
    source: "Incropera, equation 3.102 of the 6th edition, from memory",
    range: "As for the fins' efficiency; 1 without fins.",
    checked_against: "Incropera, equation 3.102",
    checked_by: "catalogue::surface_efficiency_and_best_spacing_are_the_textbook_s",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let wall = scene.heat_wall(Outside::Finned)?;
    let sides = scene.heat_sides()?;
    let speed = need(&scene.duty()?.air_speed)?.value;
    let film = scene.fin_film(Stream::Turbulent, speed, &scene.film_air(&sides))?;
    let share = film.map_or(1.0, |film| working_share(&wall, film).value);
    Ok(Sample::of(Bounds::exactly(share), scene.heat_subject()?))
}
