//! Points, outlines, displacers and the oil check: what pan and vehicle share.

use super::cursor::{Context, Cursor, Spot, mapping};
use super::mesh::mesh_keys;
use super::quantity::{quantities, quantity};
use super::value::{list, unknown_word, word};
use crate::document::outline::{OutlineDoc, OutlineForm, PlanPoint};
use crate::document::pan::{
    Check, Displaced, DisplacedMesh, Displacer, Engine, FillDoc, PanPoint, PlanAxis, SolidForm,
};
use crate::document::{Item, Text};
use crate::quantity::{Kind, Stated, si};
use crate::source::{Code, Diagnostic};
use uom::si::f64::Length;

pub(super) const PLAN_AXES: &[(&str, PlanAxis)] = &[("x", PlanAxis::X), ("y", PlanAxis::Y)];
const ENGINES: &[(&str, Engine)] = &[("running", Engine::Running), ("standing", Engine::Standing)];

/// A place in the plan.
pub(super) fn plan_point(c: &mut Cursor<'_, '_>) -> Option<PlanPoint> {
    let x = c.required("x", quantity);
    let y = c.required("y", quantity);
    Some(PlanPoint { x: x?, y: y? })
}

/// A place in the pan.
pub(super) fn pan_point(c: &mut Cursor<'_, '_>) -> Option<PanPoint> {
    let x = c.required("x", quantity);
    let y = c.required("y", quantity);
    let depth = c.optional("depth", quantity).map(downward);
    let below = c.optional("below_rail", quantity).map(downward);
    let above = c.optional("above_rail", quantity);
    let one = c.one_of_keys(&["depth", "below_rail", "above_rail"]);
    let z = depth.or(below).or(above).filter(|_| one);
    Some(PanPoint { x: x?, y: y?, z: z?, span: c.span })
}

/// A depth as a height.
fn downward(depth: Stated<Length>) -> Stated<Length> {
    Stated { value: si(-depth.value.to_si()), span: depth.span }
}

/// An outline, or the word `rail`.
pub(super) fn outline_or_rail(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<OutlineDoc> {
    let Some(written) = spot.node.scalar() else { return outline(context, spot) };
    let span = spot.node.span;
    if written.text == "rail" {
        let form = OutlineForm::Rail(Text { text: written.text.clone(), span });
        return Some(OutlineDoc { form, span });
    }
    let problem = unknown_word(spot, &written.text, &["rail"]);
    context.report(
        problem.help("write `rail`, or a mapping with `rectangle`, `circle`, `polygon` or `slot`"),
    );
    None
}

/// An outline of its own.
pub(super) fn outline(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<OutlineDoc> {
    mapping(outline_keys)(context, spot)
}

fn outline_keys(c: &mut Cursor<'_, '_>) -> Option<OutlineDoc> {
    let span = c.span;
    let at = c.optional("at", mapping(plan_point));
    let rectangle = c.optional("rectangle", quantities::<Length, 2>);
    let corner = c.optional("corner", quantity);
    let circle = c.optional("circle", quantity);
    let polygon = c.optional("polygon", polygon);
    let slot = c.optional("slot", quantities::<Length, 2>);
    let along = c.optional("along", word(PLAN_AXES));
    if !c.one_of_keys(&["rectangle", "circle", "polygon", "slot"]) {
        return None;
    }
    for (key, owner) in [("corner", "rectangle"), ("along", "slot")] {
        if c.key_span(owner).is_none()
            && let Some(at_key) = c.key_span(key)
        {
            let message = format!("`{key}` belongs to a `{owner}`");
            c.context.report(Diagnostic::error(Code::Contradiction, at_key, message));
            return None;
        }
    }
    if let Some(points) = &polygon
        && points.len() < 3
    {
        let message = format!("a polygon has 3 corners or more, and this has {}", points.len());
        c.context.report(Diagnostic::error(Code::BadOutline, span, message));
        return None;
    }
    let form = if let Some([x, y]) = rectangle {
        corner_fits(c, x, y, corner);
        OutlineForm::Rectangle { x, y, corner, at }
    } else if let Some(diameter) = circle {
        OutlineForm::Circle { diameter, at }
    } else if let Some([length, width]) = slot {
        slot_is_long(c, length, width)?;
        OutlineForm::Slot { length, width, along, at }
    } else {
        OutlineForm::Polygon { points: polygon?, at }
    };
    Some(OutlineDoc { form, span })
}

/// A corner takes its radius off both sides of the rectangle.
fn corner_fits(
    c: &mut Cursor<'_, '_>,
    x: Stated<Length>,
    y: Stated<Length>,
    corner: Option<Stated<Length>>,
) {
    let Some(corner) = corner else { return };
    let shorter = if x.value.to_si() < y.value.to_si() { x } else { y };
    if c.context.checks() && 2.0 * corner.value.to_si() > shorter.value.to_si() {
        let message = "the corner's radius is more than half of the rectangle's shorter side";
        let problem = Diagnostic::error(Code::BadOutline, corner.span, message)
            .also(shorter.span, "the shorter side");
        c.context.report(problem);
    }
}

/// A slot that is shorter than it is wide has its numbers the wrong way round.
fn slot_is_long(
    c: &mut Cursor<'_, '_>,
    length: Stated<Length>,
    width: Stated<Length>,
) -> Option<()> {
    if c.context.checks() && length.value < width.value {
        let message = "the slot is shorter than it is wide";
        let problem = Diagnostic::error(Code::BadOutline, length.span, message)
            .also(width.span, "its width")
            .help("a slot is `[overall length, width]` with round ends; `along: y` turns it");
        c.context.report(problem);
        return None;
    }
    Some(())
}

/// The corners; nothing where one of them could not be read, which has been said.
fn polygon(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Vec<PlanPoint>> {
    let before = context.out.problems.len();
    let points = list(context, spot, |context, item| mapping(plan_point)(context, item))?;
    (context.out.problems.len() == before).then_some(points)
}

/// A box or cylinder that takes up room.
pub(super) fn displacer(c: &mut Cursor<'_, '_>) -> Option<Displacer> {
    solid(c, &["box", "cylinder"])
}

fn solid(c: &mut Cursor<'_, '_>, forms: &[&'static str]) -> Option<Displacer> {
    let block = c.optional("box", quantities::<Length, 3>);
    let cylinder = c.optional("cylinder", quantities::<Length, 2>);
    let along = c.optional("along", word(PLAN_AXES));
    let at = c.required("at", mapping(pan_point));
    if !c.one_of_keys(forms) {
        return None;
    }
    if c.key_span("box").is_some()
        && let Some(at_along) = c.key_span("along")
    {
        let message = "`along` belongs to a `cylinder`";
        c.context.report(Diagnostic::error(Code::Contradiction, at_along, message));
    }
    let form = if let Some([x, y, z]) = block {
        SolidForm::Block { x, y, z }
    } else {
        let [diameter, length] = cylinder?;
        SolidForm::Cylinder { diameter, length, along }
    };
    Some(Displacer { form, at: at?, span: c.span })
}

/// A box, a cylinder or a mesh.
fn displaced(c: &mut Cursor<'_, '_>) -> Option<Displaced> {
    const FORMS: &[&str] = &["box", "cylinder", "mesh"];
    let mesh = c.optional("mesh", mapping(mesh_keys));
    if c.key_span("mesh").is_none() {
        return solid(c, FORMS).map(Displaced::Solid);
    }
    // A mesh is drawn in the pan's own frame unless it is said to stand elsewhere.
    let at = c.optional("at", mapping(pan_point));
    for other in ["box", "cylinder", "along"] {
        c.find(other);
    }
    if !c.one_of_keys(FORMS) {
        return None;
    }
    Some(Displaced::Mesh(DisplacedMesh { mesh: mesh?, at, span: c.span }))
}

/// Displacers by name.
pub(super) fn displacers(
    context: &mut Context<'_>,
    spot: &Spot<'_>,
) -> Option<Vec<Item<Displaced>>> {
    super::value::named(|context, spot| mapping(displaced)(context, spot))(context, spot)
        .map(|named| named.entries)
}

/// How the maker says the oil is checked.
pub(super) fn check(c: &mut Cursor<'_, '_>) -> Option<Check> {
    let level = c.optional("level", quantity);
    let volume = c.optional("volume", quantity);
    let at = c.optional("at", mapping(plan_point));
    let oil_at = c.given("oil_at", quantity);
    let engine = c.given("engine", word(ENGINES));
    if !c.one_of_keys(&["level", "volume"]) {
        return None;
    }
    if c.key_span("volume").is_some()
        && let Some(at_place) = c.key_span("at")
    {
        let message = "`at` belongs to a `level`";
        c.context.report(Diagnostic::error(Code::Contradiction, at_place, message));
    }
    let fill = match (level, volume) {
        (Some(below_rail), _) => FillDoc::Level { below_rail, at },
        (None, volume) => FillDoc::Volume(volume?),
    };
    Some(Check { span: c.span, fill, oil_at, engine })
}
