//! Outlines of documents to outlines of the geometry.

use super::words::outline_words;
use crate::document::outline::{OutlineDoc, OutlineForm, PlanPoint};
use crate::document::pan::PlanAxis;
use crate::source::Span;
use glam::DVec2;
use sumpwright_physics::terrain::{Outline, OutlineError};
use uom::si::f64::Length;

/// The outline; `rail` stands in for the word `rail`. Where it cannot be used: the place, and why in words.
pub(super) fn outline(doc: &OutlineDoc, rail: Option<&Outline>) -> Result<Outline, (Span, String)> {
    let made = match &doc.form {
        OutlineForm::Rail(_) => {
            return rail
                .cloned()
                .ok_or_else(|| (doc.span, "the rail has no outline of its own".to_owned()));
        }
        OutlineForm::Rectangle { x, y, corner, at } => Outline::rectangle(
            plan(at.as_ref()),
            x.value,
            y.value,
            corner.map_or(crate::quantity::si(0.0), |c| c.value),
        ),
        OutlineForm::Circle { diameter, at } => Outline::circle(plan(at.as_ref()), diameter.value),
        OutlineForm::Polygon { points, at } => {
            let move_by = plan(at.as_ref());
            Outline::polygon(&points.iter().map(|p| plan(Some(p)) + move_by).collect::<Vec<_>>())
        }
        OutlineForm::Slot { length, width, along, at } => {
            // An uncertainty step may make a slot as long as wide a little shorter: round ends then stay round.
            let (length, width) = (length.value, width.value);
            let radius = if length < width { length } else { width } / 2.0;
            let [x, y] = match along.map(|axis| axis.value) {
                Some(PlanAxis::Y) => [width, length],
                _ => [length, width],
            };
            Outline::rectangle(plan(at.as_ref()), x, y, radius)
        }
    };
    made.map_err(|error| {
        let corner = match (&doc.form, &error) {
            (
                OutlineForm::Rectangle { corner: Some(corner), .. },
                OutlineError::CornerTooLarge { .. },
            ) => Some(corner.span),
            _ => None,
        };
        (corner.unwrap_or(doc.span), outline_words(&error))
    })
}

/// The numbers an outline is made of, in a fixed order.
pub(super) fn key(doc: &OutlineDoc, out: &mut Vec<u64>) {
    let mut put = |value: Length| out.push(value.value.to_bits());
    let at = match &doc.form {
        OutlineForm::Rail(_) => {
            out.push(0);
            return;
        }
        OutlineForm::Rectangle { x, y, corner, at } => {
            put(x.value);
            put(y.value);
            put(corner.map_or(crate::quantity::si(0.0), |c| c.value));
            out.push(1);
            at
        }
        OutlineForm::Circle { diameter, at } => {
            put(diameter.value);
            out.push(2);
            at
        }
        OutlineForm::Polygon { points, at } => {
            for p in points {
                put(p.x.value);
                put(p.y.value);
            }
            out.push(3);
            at
        }
        OutlineForm::Slot { length, width, along, at } => {
            put(length.value);
            put(width.value);
            out.push(match along.map(|axis| axis.value) {
                Some(PlanAxis::Y) => 5,
                _ => 4,
            });
            at
        }
    };
    let at = plan(at.as_ref());
    out.extend([at.x.to_bits(), at.y.to_bits()]);
}

/// A place in the plan, in metres; the origin if left out.
pub(super) fn plan(point: Option<&PlanPoint>) -> DVec2 {
    point.map_or(DVec2::ZERO, |p| DVec2::new(p.x.value.value, p.y.value.value))
}
