//! Reads what is built into a pan: pickup, baffles, drains, fins, flange.

use super::cursor::{Context, Cursor, Spot, keys, mapping};
use super::quantity::{quantities, quantity};
use super::shape::{PLAN_AXES, pan_point, plan_point};
use super::value::{count, named, text, thread, unknown_word, word, word_as_text};
use crate::document::pan::{
    Baffle, BaffleBottom, Bend, BoltClass, Bolts, Drain, Facing, Filter, FinSet, Flange, Gasket,
    Inlet, Line, Metal, Opening, OpeningForm, Pickup, Sides,
};
use crate::quantity::{Given, Stated};
use crate::source::{Code, Diagnostic};
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

const BOLT_CLASSES: &[(&str, BoltClass)] = &[
    ("4.8", BoltClass::C48),
    ("5.8", BoltClass::C58),
    ("8.8", BoltClass::C88),
    ("10.9", BoltClass::C109),
    ("12.9", BoltClass::C129),
];
const BOLT_METALS: &[(&str, Metal)] = &[
    ("aluminium", Metal::Aluminium),
    ("steel", Metal::Steel),
    ("zinc-plated steel", Metal::ZincOnSteel),
    ("stainless steel", Metal::StainlessSteel),
];

pub(super) fn pickup(c: &mut Cursor<'_, '_>) -> Pickup {
    let fixed_to = c.given("fixed_to", word_as_text(&["case", "pan"]));
    let inlet = c.part("inlet", keys(inlet));
    let anti_vortex = c.given("anti_vortex", word_as_text(&["plate", "cross"]));
    let line = c.part("line", keys(line));
    let filter = c.part("filter", keys(filter));
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
    let ring = c.given("ring", quantities::<Length, 2>);
    if let Given::Stated([inner, outer]) = &ring {
        let message = "the ring is no wider outside than inside";
        larger(c, inner, outer, message, "write `[inner, outer]`");
    }
    Drain {
        thread: c.given("thread", thread),
        at: c.given("at", mapping(pan_point)),
        axis: c.given("axis", word(PLUG_AXES)),
        engaged: c.given("engaged", quantity),
        boss: c.given("boss", quantity),
        head: c.given("head", quantity),
        torque: c.given("torque", quantity),
        torque_factor: c.given("torque_factor", quantity),
        ring,
        ring_yields_at: c.given("ring_yields_at", quantity),
        spanner: c.given("spanner", quantity),
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
    let width = c.given("width", quantity);
    let bead = c.given("bead", quantity);
    let bolts = c.group("bolts", bolts);
    let gasket = c.group("gasket", gasket);
    let span = c.span;
    Flange { span, thickness, width, bead, bolts, gasket }
}

fn bolts(c: &mut Cursor<'_, '_>) -> Bolts {
    let bolts = Bolts {
        count: c.given("count", count),
        thread: c.given("thread", thread),
        torque: c.given("torque", quantity),
        pitch: c.given("pitch", quantity),
        torque_factor: c.given("torque_factor", quantity),
        class: c.given("class", word(BOLT_CLASSES)),
        metal: c.given("metal", word(BOLT_METALS)),
        engaged: c.given("engaged", quantity),
        hole: c.given("hole", quantity),
    };
    if let (Given::Stated(thread), Given::Stated(hole)) = (&bolts.thread, &bolts.hole)
        && c.context.checks()
        && hole.value <= thread.diameter
    {
        let message = "the bolt does not go through its hole";
        let problem = Diagnostic::error(Code::Contradiction, hole.span, message)
            .also(thread.span, "the bolt's thread");
        c.context.report(problem);
    }
    bolts
}

fn gasket(c: &mut Cursor<'_, '_>) -> Gasket {
    let gasket = Gasket {
        material: c.given("material", text),
        thickness: c.given("thickness", quantity),
        width: c.given("width", quantity),
        modulus: c.given("modulus", quantity),
        seats_at: c.given("seats_at", quantity),
        crushes_at: c.given("crushes_at", quantity),
        clamped: c.given("clamped", quantity),
    };
    if let (Given::Stated(free), Given::Stated(clamped)) = (&gasket.thickness, &gasket.clamped) {
        let message = "limiters leave the gasket no thinner than it was";
        larger(c, clamped, free, message, "state what is left of its thickness");
    }
    gasket
}

/// Reports that of two lengths the second is not the larger.
fn larger(
    c: &mut Cursor<'_, '_>,
    small: &Stated<Length>,
    large: &Stated<Length>,
    message: &str,
    help: &str,
) {
    if c.context.checks() && small.value >= large.value {
        let problem = Diagnostic::error(Code::Contradiction, small.span, message)
            .also(large.span, "against this")
            .help(help);
        c.context.report(problem);
    }
}
