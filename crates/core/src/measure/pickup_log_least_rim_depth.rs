//! How deep the rim of the inlet lies at the worst moment of a recorded drive.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "pickup.log_least_rim_depth",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least depth of the inlet's rim below the oil surface along the recorded drive, the motion low-passed; negative is uncovered",
    formula: "least over time of h - up . c - r |up x n|, up along the specific force low-passed by exp(-t^2 / (2 s^2)), s = sqrt(ln 2) / (2 pi f), f the cut-off: as stated, else the first sloshing frequency of a box as long as the rail with the oil of the check in it",
    source: "hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2); volume by the divergence theorem",
    range: "Oil at rest under the low-passed motion, at the coldest oil of the duty: slower changes than the cut-off are followed, faster ones are taken as too fast for the oil, and surges are not computed. Less than 0.2 gn, gaps and bad numbers are unknown and make the reading a bound.",
    checked_against: "closed form of a box",
    checked_by: "worked::along_a_drive_a_rim_is_bare_for_as_long_as_the_climbs_last",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let run = scene.drive()?;
    let mut bounds: Option<Bounds> = None;
    for (world, tally) in scene.worlds()?.iter().zip(&run.worlds) {
        let depth = scene.least_rim_depth(world, tally)?;
        bounds = Some(match bounds {
            None => Bounds::exactly(depth),
            Some(known) => Bounds::between(known.low, depth),
        });
    }
    let mut bounds = bounds.ok_or_else(|| Unknown::because("there is no oil space"))?;
    if run.has_gaps() {
        bounds = Bounds::at_most(bounds.high);
    }
    let states = run.moments(scene.log_span()?);
    let mut sample = Sample::of(bounds, scene.inlet_depth_span()?);
    sample.worst = states.first().map(|state| state.at.clone());
    sample.states = states;
    sample.notes = run.notes();
    Ok(sample)
}
