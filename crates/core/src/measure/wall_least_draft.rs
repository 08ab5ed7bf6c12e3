//! How far the steepest wall leans.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::model::Scene;
use crate::quantity::Kind;
use uom::si::f64::Angle;

pub(super) const SPEC: Spec = Spec {
    name: "wall.least_draft",
    kind: ObjectKind::Pan,
    dimension: Angle::DIMENSION,
    over_duty: false,
    meaning: "Least draft of the walls of all zones",
    formula: "least of the zones' draft, 0 where none is stated",
    source: "read from the document",
    range: "Inner walls, as described.",
    checked_against: "what the description states",
    checked_by: "catalogue::draft_and_corners_are_those_stated",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let zones = &scene.floor_zones()?.zones.entries;
    zones
        .iter()
        .map(|zone| {
            let draft = zone.value.draft;
            (draft.map_or(0.0, |d| d.value.value), draft.map_or(zone.span, |d| d.span))
        })
        .reduce(|a, b| if b.0 < a.0 { b } else { a })
        .map(|(angle, span)| Sample::of(Bounds::exactly(angle), span))
        .ok_or_else(|| Unknown::because("the pan has no walls"))
}
