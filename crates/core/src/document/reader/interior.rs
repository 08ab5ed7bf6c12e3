//! Reads the interior: rail, floor zones and what takes up room.

use super::cursor::{Context, Cursor, Spot, mapping};
use super::mesh::interior_mesh;
use super::message::listed;
use super::quantity::quantity;
use super::shape::{displacers, outline, outline_or_rail};
use super::value::{named, path, text, word};
use crate::document::Named;
use crate::document::pan::{
    Facing, Fall, FloorZones, Interior, InteriorShape, InteriorSoundings, Zone,
};
use crate::quantity::{Input, Kind, Stated, Unit, si};
use crate::source::{Code, Diagnostic, Span, Value, nearest};
use std::collections::{BTreeMap, BTreeSet};
use uom::si::f64::Length;

/// What a depth gauge is read to, in metres.
const TENTH_OF_A_MILLIMETRE: f64 = 1e-4;
const SIDES: &[(&str, Facing)] = &[
    ("front", Facing::Front),
    ("rear", Facing::Rear),
    ("left", Facing::Left),
    ("right", Facing::Right),
];

pub(super) fn interior(c: &mut Cursor<'_, '_>) -> Option<Interior> {
    let displaced = c.optional("displaced", displacers).unwrap_or_default();
    let shape = shape(c)?;
    Some(Interior { span: c.span, shape, displaced })
}

fn shape(c: &mut Cursor<'_, '_>) -> Option<InteriorShape> {
    let soundings = c.optional("soundings", mapping(soundings));
    if c.key_span("soundings").is_some() {
        for other in ["rail", "zones", "mesh"] {
            c.exclude("soundings", other, "soundings have their own `rail`, and are the floor");
        }
        known_all_the_same(c);
        c.find("mesh");
        return soundings.map(InteriorShape::Soundings);
    }
    let mesh = c.optional("mesh", mapping(interior_mesh));
    if c.key_span("mesh").is_some() {
        for other in ["rail", "zones"] {
            c.exclude("mesh", other, "a mesh holds its own rail, floors and walls");
        }
        known_all_the_same(c);
        return mesh.map(InteriorShape::Mesh);
    }
    let rail = c.required("rail", outline);
    let zones = c.required("zones", zones);
    Some(InteriorShape::Zones(FloorZones { rail: rail?, zones: zones? }))
}

/// Keys that are no misspelling where the interior is described in another way.
fn known_all_the_same(c: &mut Cursor<'_, '_>) {
    for key in ["rail", "zones"] {
        c.find(key);
    }
}

fn soundings(c: &mut Cursor<'_, '_>) -> Option<InteriorSoundings> {
    let file = c.required("file", path);
    let rail = c.required("rail", outline);
    let draft = c.optional("draft", quantity);
    let zero = c.optional("zero", quantity);
    let tip = c.optional("tip", quantity);
    // Left out, it is an input all the same: depths that nobody says anything of are taken as exact, and listed.
    let zero = match zero {
        Some(zero) => zero,
        None => Stated { value: unstated(c, "zero", c.span), span: c.span },
    };
    let deeper = match &file {
        Some(file) => unstated(c, "file", file.span),
        None => si(0.0),
    };
    Some(InteriorSoundings { span: c.span, file: file?, rail: rail?, draft, zero, tip, deeper })
}

/// A length that no scalar states, 0 but for an uncertainty step: an input that stands where `span` says.
fn unstated(c: &mut Cursor<'_, '_>, key: &'static str, span: Span) -> Length {
    let path = c.path_of(key);
    let value = c.context.shift(span, &path);
    if c.context.seen.insert(span) {
        let how_to_get = c.context.field(&path).map_or("", |row| row.how_to_get);
        c.context.out.inputs.push(Input {
            path: format!("{}{path}", c.context.options.prefix),
            span,
            dimension: Length::DIMENSION,
            value,
            u: 0.0,
            last_digit: TENTH_OF_A_MILLIMETRE,
            assumed: false,
            unit: Unit::for_value(Length::DIMENSION, TENTH_OF_A_MILLIMETRE),
            how_to_get,
        });
    }
    si(value)
}

fn zones(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Named<Zone>> {
    let zones = named(|context, spot| mapping(zone)(context, spot))(context, spot)?;
    // Also the names of those that could not be read: they are no unknown words.
    let names: Vec<&str> = match &spot.node.value {
        Value::Mapping(entries) => entries.iter().map(|e| e.key.text.as_str()).collect(),
        _ => Vec::new(),
    };
    let broken = wrong_parent(&zones, &names).or_else(|| around_in_a_circle(&zones));
    match broken {
        Some(problem) => {
            context.report(problem);
            None
        }
        // Without any zone there is nothing to build, and why has been said.
        None => Some(zones).filter(|zones| !zones.entries.is_empty()),
    }
}

fn zone(c: &mut Cursor<'_, '_>) -> Option<Zone> {
    let outline = c.required("outline", outline_or_rail);
    let depth = c.required("depth", quantity);
    let draft = c.optional("draft", quantity);
    let opens_in = c.optional("in", text);
    let slope = c.optional("slope", mapping(fall));
    Some(Zone { outline: outline?, depth: depth?, slope, draft, opens_in })
}

fn fall(c: &mut Cursor<'_, '_>) -> Option<Fall> {
    let deeper = c.required("deeper", word(SIDES));
    let by = c.required("by", quantity);
    Some(Fall { deeper: deeper?, by: by? })
}

fn wrong_parent(zones: &Named<Zone>, names: &[&str]) -> Option<Diagnostic> {
    let known: BTreeSet<&str> = names.iter().copied().collect();
    zones.entries.iter().find_map(|zone| {
        let parent = zone.value.opens_in.as_ref()?;
        if names.first() == Some(&zone.name.as_str()) {
            let message = format!("`{}` is the first zone, which opens at the rail", zone.name);
            let problem = Diagnostic::error(Code::Contradiction, parent.span, message);
            return Some(problem.help("leave `in` out, or write the zone around it first"));
        }
        if known.contains(parent.text.as_str()) {
            return None;
        }
        let message = format!("`{}` is none of the zones", parent.text);
        let problem = Diagnostic::error(Code::UnknownWord, parent.span, message);
        Some(match nearest(&parent.text, names.iter().copied()) {
            Some(near) => problem.help(format!("did you mean `{near}`?")),
            None => problem.help(format!("the zones are {}", listed(names))),
        })
    })
}

/// A zone that opens, by way of others, in itself.
fn around_in_a_circle(zones: &Named<Zone>) -> Option<Diagnostic> {
    let by_name: BTreeMap<&str, &Zone> =
        zones.entries.iter().map(|zone| (zone.name.as_str(), &zone.value)).collect();
    let mut safe: BTreeSet<&str> = BTreeSet::new();
    for zone in &zones.entries {
        let mut way: Vec<&str> = vec![&zone.name];
        // Left out, a zone opens in the first one, and that one at the rail.
        while let Some(name) = way.last()
            && let Some(parent) = by_name.get(name).and_then(|zone| zone.opens_in.as_ref())
        {
            if way.contains(&parent.text.as_str()) {
                let message = format!("`{}` opens in itself", parent.text);
                let problem = Diagnostic::error(Code::BadZone, parent.span, message);
                return Some(
                    problem.help("`in` must lead to the first zone, which opens at the rail"),
                );
            }
            if safe.contains(parent.text.as_str()) {
                break;
            }
            way.push(&parent.text);
        }
        safe.extend(way);
    }
    None
}
