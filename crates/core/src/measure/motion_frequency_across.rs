//! How fast the oil swings across the pan.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Frequency;

pub(super) const SPEC: Spec = Spec {
    name: "motion.frequency_across",
    kind: ObjectKind::Pan,
    dimension: Frequency::DIMENSION,
    over_duty: false,
    meaning: "First natural frequency of the oil across the pan, in the part round the inlet where baffles divide the surface, on level ground at the check",
    formula: "lowest root of div(g h grad n) + w^2 n = 0 without flow through walls, w^2 then times tanh(k d) / (k d), k^2 = w^2 / (g d), d the mean depth; f = w / 2 pi",
    source: "Lamb, Hydrodynamics, art. 190 and 193 (from memory): shallow oil on a grid of columns, with the depth's tanh",
    range: "Thin oil, small waves; the walls go on upright above the rail. Unknown where no mode is mostly a tilt that way.",
    checked_against: "Lamb, art. 190 / NASA SP-106 ch. 2",
    checked_by: "worked::a_wall_along_the_middle_halves_what_swings_across",
    read,
};

/// A mode with less than this share of a plain tilt is no swing to and fro.
const MOSTLY: f64 = 0.5;

fn read(scene: &Scene, _: usize) -> Outcome {
    let mut bounds: Option<Bounds> = None;
    let mut notes = Vec::new();
    for swing in scene.swing(true)? {
        let [_, tilt] = swing.seiche.tilts;
        if tilt.value < MOSTLY {
            return Err(Unknown::because("no mode of the oil is mostly a tilt across the pan"));
        }
        let value = swing.seiche.across.value;
        bounds = Some(bounds.map_or(Bounds::exactly(value), |b| Bounds::between(b.low, value)));
        notes = swing.notes;
    }
    let bounds = bounds.ok_or_else(|| Unknown::because("there is no oil space"))?;
    let mut sample = Sample::of(bounds, scene.fill_span()?);
    sample.notes = notes;
    Ok(sample)
}
