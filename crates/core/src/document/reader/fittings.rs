//! Reads what is built into a pan: pickup, baffles, drains, fins, flange.

use super::cursor::{Context, Cursor, Spot, keys, mapping};
use super::quantity::{quantities, quantity};
use super::shape::{PLAN_AXES, pan_point, plan_point};
use super::value::{count, named, text, thread, unknown_word, word, word_as_text};
use crate::document::pan::{
    Baffle, BaffleBottom, Bend, Drain, Facing, Filter, FinSet, Flange, Inlet, Line, Opening,
    OpeningForm, Pickup, Sides,
};
use uom::si::f64::Length;

const FACINGS: &[(&str, Facing)] = &[
    ("down", Facing::Down),
    ("up", Facing::Up),
    ("front", Facing::Front),
    ("rear", Facing::Rear),
    ("left", Facing::Left),
    ("right", Facing::Right),
];
/// A plug that comes out upwards would stand in the oil.
const PLUG_AXES: &[(&str, Facing)] = &[
    ("down", Facing::Down),
    ("front", Facing::Front),
    ("rear", Facing::Rear),
    ("left", Facing::Left),
    ("right", Facing::Right),
];
const BENDS: &[(&str, Bend)] = &[
    ("bend", Bend::Standard),
    ("long bend", Bend::Long),
    ("half bend", Bend::Half),
    ("mitre", Bend::Mitre),
];
const SIDES: &[(&str, Sides)] = &[("sealed", Sides::Sealed), ("open", Sides::Open)];

pub(super) fn pickup(c: &mut Cursor<'_, '_>) -> Pickup {
    let fixed_to = c.given("fixed_to", word_as_text(&["case", "pan"]));
    let inlet = c.given("inlet", keys(inlet));
    let anti_vortex = c.given("anti_vortex", word_as_text(&["plate", "cross"]));
    let line = c.given("line", keys(line));
    let filter = c.given("filter", keys(filter));
    Pickup { span: c.span, fixed_to, inlet, anti_vortex, line, filter }
}

fn line(c: &mut Cursor<'_, '_>) -> Line {
    Line {
        span: c.span,
        length: c.given("length", quantity),
        bore: c.given("bore", quantity),
        fittings: c.given("fittings", named(|context, spot| word(BENDS)(context, spot))),
    }
}

fn filter(c: &mut Cursor<'_, '_>) -> Filter {
    Filter {
        span: c.span,
        drop: c.given("drop", quantity),
        at_flow: c.given("at_flow", quantity),
        at_viscosity: c.given("at_viscosity", quantity),
    }
}

fn inlet(c: &mut Cursor<'_, '_>) -> Inlet {
    Inlet {
        span: c.span,
        diameter: c.given("circle", quantity),
        at: c.given("at", mapping(pan_point)),
        facing: c.optional("facing", word(FACINGS)),
    }
}

pub(super) fn baffle(c: &mut Cursor<'_, '_>) -> Baffle {
    Baffle {
        from: c.given("from", mapping(plan_point)),
        to: c.given("to", mapping(plan_point)),
        top: c.given("top", quantity),
        bottom: c.given("bottom", bottom),
        thickness: c.given("thickness", quantity),
        sides: c.given("sides", word(SIDES)),
        openings: c.given("openings", named(|context, spot| mapping(opening)(context, spot))),
    }
}

/// A depth, or the word `floor`.
fn bottom(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<BaffleBottom> {
    match spot.node.scalar() {
        Some(written) if written.text == "floor" => Some(BaffleBottom::Floor(spot.node.span)),
        Some(written) if written.text.starts_with(char::is_alphabetic) => {
            let problem = unknown_word(spot, &written.text, &["floor"]);
            context.report(problem.help("write `floor`, or the depth of its lower edge"));
            None
        }
        _ => quantity(context, spot).map(BaffleBottom::Depth),
    }
}

fn opening(c: &mut Cursor<'_, '_>) -> Option<Opening> {
    let circle = c.optional("circle", quantity);
    let slot = c.optional("slot", quantities::<Length, 2>);
    let rectangle = c.optional("rectangle", quantities::<Length, 2>);
    let (along, depth) =
        c.group("at", |at| (at.given("along", quantity), at.given("depth", quantity)));
    if !c.one_of_keys(&["circle", "slot", "rectangle"]) {
        return None;
    }
    let form = match (circle, slot, rectangle) {
        (Some(diameter), ..) => OpeningForm::Circle(diameter),
        (_, Some([length, width]), _) => OpeningForm::Slot(length, width),
        (_, _, rectangle) => {
            let [along, height] = rectangle?;
            OpeningForm::Rectangle(along, height)
        }
    };
    Some(Opening { span: c.span, form, along, depth })
}

pub(super) fn drain(c: &mut Cursor<'_, '_>) -> Drain {
    Drain {
        thread: c.given("thread", thread),
        at: c.given("at", mapping(pan_point)),
        axis: c.given("axis", word(PLUG_AXES)),
        engaged: c.given("engaged", quantity),
        boss: c.given("boss", quantity),
        head: c.given("head", quantity),
    }
}

pub(super) fn fin_set(c: &mut Cursor<'_, '_>) -> FinSet {
    FinSet {
        under: c.given("under", word_as_text(&["floor"])),
        along: c.given("along", word(PLAN_AXES)),
        count: c.given("count", count),
        pitch: c.given("pitch", quantity),
        height: c.given("height", quantity),
        root: c.given("root", quantity),
        tip: c.given("tip", quantity),
        length: c.given("length", quantity),
        at: c.optional("at", mapping(plan_point)),
    }
}

pub(super) fn flange(c: &mut Cursor<'_, '_>) -> Flange {
    let thickness = c.given("thickness", quantity);
    let (bolt_count, bolt_thread, bolt_torque) = c.group("bolts", |bolts| {
        (
            bolts.given("count", count),
            bolts.given("thread", thread),
            bolts.given("torque", quantity),
        )
    });
    let (gasket_material, gasket_thickness, gasket_width) = c.group("gasket", |gasket| {
        (
            gasket.given("material", text),
            gasket.given("thickness", quantity),
            gasket.given("width", quantity),
        )
    });
    Flange {
        span: c.span,
        thickness,
        bolt_count,
        bolt_thread,
        bolt_torque,
        gasket_material,
        gasket_thickness,
        gasket_width,
    }
}
