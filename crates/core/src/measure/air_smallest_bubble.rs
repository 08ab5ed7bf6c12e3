//! Which bubbles cannot get out of the oil.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::Scene;
use crate::quantity::{Kind, si};
use sumpwright_physics::aeration::{Around, air_density, bubble_reynolds, smallest_bubble};
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "air.smallest_bubble",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least diameter of an air bubble that can climb from the inlet's depth to the surface before it is drawn again, level ground and hottest oil",
    formula: "d = sqrt(12 v d_oil h / (g (d_oil - d_air) t)), v viscosity, h depth of the mouth, t oil over the largest flow; a surface that does not move makes it sqrt(1.5) times larger",
    source: "Stokes; Hadamard and Rybczynski (Clift, Grace and Weber, Bubbles, Drops and Particles)",
    range: "A bound: at least this, since oil dwells no longer than the mean and few bubbles have a clean surface; unknown where the bubble's Reynolds number reaches 1.",
    checked_against: "Stokes, half as fast again with a surface that moves (Hadamard and Rybczynski)",
    checked_by: "measured::the_inlet_has_its_worked_figures",
    read,
};

/// A clean surface lets a bubble rise this much faster than one that does not move.
const CLEAN: f64 = 1.5;
/// Density of the air in a bubble is that of the surroundings, in pascals.
const SURROUNDINGS: f64 = 1e5;

fn read(scene: &Scene, _: usize) -> Outcome {
    let (mouth, up, hottest) = (scene.mouth()?, scene.level_up()?, scene.hottest()?);
    let around = Around {
        oil: scene.density_at(hottest)?,
        gas: air_density(si(SURROUNDINGS), hottest),
        viscosity: si(scene.viscosity_at(hottest)?.bounds.low),
        gravity: Scene::gravity(),
    };
    let flow = scene.largest_flow()?;
    let bounds = scene.in_all_worlds(|world| {
        let volume = scene.volume_at(&scene.fill(world)?, hottest)?;
        let depth = world.level(scene, up, volume)?.value - up.dot(mouth.centre);
        if depth <= 0.0 {
            return Err(Unknown::because("the inlet stands out of the oil on level ground"));
        }
        let time = volume / flow.value;
        let smallest = smallest_bubble(si(depth), time, &around) / CLEAN.sqrt();
        if bubble_reynolds(smallest, si(depth), time, &around).value >= 1.0 {
            return Err(Unknown::because("its bubbles rise too fast for Stokes' law"));
        }
        Ok(smallest.value)
    })?;
    Ok(Sample::of(Bounds::at_least(bounds.low), scene.inlet_depth_span()?))
}
