//! Reads the interior: rail, floor zones and what takes up room.

use super::super::Named;
use super::super::pan::{Interior, Zone};
use super::cursor::{Context, Cursor, Spot, mapping};
use super::quantity::quantity;
use super::shape::{displacers, outline, outline_or_rail};
use super::value::{named, text};
use crate::source::{Code, Diagnostic, nearest};
use std::collections::BTreeSet;

const ZONES_INSTEAD: &str = "describe the interior by `rail` and `zones`";

pub(super) fn interior(c: &mut Cursor<'_, '_>) -> Option<Interior> {
    let displaced = c.optional("displaced", displacers).unwrap_or_default();
    let mesh = c.not_yet("mesh", ZONES_INSTEAD);
    let soundings = c.not_yet("soundings", ZONES_INSTEAD);
    if mesh || soundings {
        for key in ["rail", "zones"] {
            c.find(key);
        }
        return None;
    }
    let rail = c.required("rail", outline);
    let zones = c.required("zones", zones);
    Some(Interior { span: c.span, rail: rail?, zones: zones?, displaced })
}

fn zones(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Named<Zone>> {
    let zones = named(|context, spot| mapping(zone)(context, spot))(context, spot)?;
    let names = names_written(spot);
    let broken = wrong_parent(&zones, &names).or_else(|| around_in_a_circle(&zones, &names));
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
    c.not_yet("slope", "give it a `depth` alone: its floor is then level");
    Some(Zone { outline: outline?, depth: depth?, draft, opens_in })
}

/// All names under `zones`, also of those that could not be read: they are no unknown words.
fn names_written<'n>(spot: &Spot<'n>) -> Vec<&'n str> {
    super::cursor::keys(spot.node)
}

fn wrong_parent(zones: &Named<Zone>, names: &[&str]) -> Option<Diagnostic> {
    zones.entries.iter().find_map(|zone| {
        let parent = zone.value.opens_in.as_ref()?;
        if names.first() == Some(&zone.name.as_str()) {
            let message = format!("`{}` is the first zone, which opens at the rail", zone.name);
            let problem = Diagnostic::error(Code::Contradiction, parent.span, message);
            return Some(problem.help("leave `in` out, or write the zone around it first"));
        }
        if names.contains(&parent.text.as_str()) {
            return None;
        }
        let message = format!("`{}` is none of the zones", parent.text);
        let problem = Diagnostic::error(Code::UnknownWord, parent.span, message);
        Some(match nearest(&parent.text, names.iter().copied()) {
            Some(near) => problem.help(format!("did you mean `{near}`?")),
            None => problem.help(format!("the zones are {}", super::cursor::listed(names))),
        })
    })
}

/// A zone that opens, over others, in itself.
fn around_in_a_circle(zones: &Named<Zone>, names: &[&str]) -> Option<Diagnostic> {
    zones.entries.iter().find_map(|zone| {
        let mut seen = BTreeSet::from([zone.name.as_str()]);
        let mut at = zone;
        loop {
            // Left out, it opens in the first zone, and that one at the rail.
            let parent = at.value.opens_in.as_ref()?;
            if parent.text == zone.name {
                let message = format!("`{}` opens in itself", zone.name);
                let problem = Diagnostic::error(Code::BadZone, parent.span, message);
                return Some(problem.help(format!("`in` must lead to `{}`", names.first()?)));
            }
            if !seen.insert(parent.text.as_str()) {
                return None;
            }
            at = zones.entries.iter().find(|z| z.name == parent.text)?;
        }
    })
}
