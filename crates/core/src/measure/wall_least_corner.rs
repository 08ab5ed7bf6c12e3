//! How sharp the sharpest inner corner is.

use super::{Bounds, ObjectKind, Outcome, Sample, Spec, Unknown};
use crate::document::outline::OutlineForm;
use crate::model::Scene;
use crate::quantity::Kind;
use crate::source::Span;
use uom::si::f64::Length;

pub(super) const SPEC: Spec = Spec {
    name: "wall.least_corner",
    kind: ObjectKind::Pan,
    dimension: Length::DIMENSION,
    over_duty: false,
    meaning: "Least radius of the upright inner corners of all zones",
    formula: "least of the zones' corner radius, 0 where none is stated; of a circle half its diameter",
    source: "read from the document",
    range: "Where each zone opens; towards the floor a drafted corner grows sharper. Unknown for a polygon.",
    checked_against: "what the description states",
    checked_by: "catalogue::draft_and_corners_are_those_stated",
    read,
};

fn read(scene: &Scene, _: usize) -> Outcome {
    let interior = scene.floor_zones()?;
    let mut least: Option<(f64, Span)> = None;
    for zone in &interior.zones.entries {
        let outline = match &zone.value.outline.form {
            OutlineForm::Rail(_) => &interior.rail,
            _ => &zone.value.outline,
        };
        let one = match &outline.form {
            OutlineForm::Rectangle { corner, .. } => {
                corner.map_or((0.0, outline.span), |c| (c.value.value, c.span))
            }
            OutlineForm::Circle { diameter, .. } => (diameter.value.value / 2.0, diameter.span),
            _ => return Err(Unknown::because("the corners of a polygon have no stated radius")),
        };
        least = Some(match least {
            Some(other) if other.0 <= one.0 => other,
            _ => one,
        });
    }
    let (radius, span) = least.ok_or_else(|| Unknown::because("the pan has no walls"))?;
    Ok(Sample::of(Bounds::exactly(radius), span))
}
