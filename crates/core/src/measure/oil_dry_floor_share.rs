//! How much of the floor stands out of the oil.

use super::{ObjectKind, Outcome, Spec};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Ratio;

pub(super) const SPEC: Spec = Spec {
    name: "oil.dry_floor_share",
    kind: ObjectKind::Pan,
    dimension: Ratio::DIMENSION,
    over_duty: true,
    meaning: "Share of the pan's floor, seen in plan with its leaning walls, that stands out of the oil, most over the duty",
    formula: "plan area of floor and leaning walls above the surface / plan area of all",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); plane geometry",
    range: "Oil at rest, all of it taken as one body; a state that lasts less than three first-mode periods is unknown.",
    checked_against: "elementary solid geometry",
    checked_by: "published::a_climb_of_20_degrees_bares_part_of_the_floor",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    scene.most_over_duty(scene.fill_span()?, |point| {
        let level = point.level()?;
        let up = point.attitude.up;
        Ok(scene.with_terrain(|terrain| Ok(terrain.dry_floor_share(up, level)))?.value)
    })
}
