//! Baffles within the walls, and their openings within the baffles.

use super::SLACK;
use crate::document::Item;
use crate::document::pan::{Baffle, BaffleBottom, OpeningForm};
use crate::model::outlines::plan;
use crate::model::scene::Scene;
use crate::model::words::millimetres;
use crate::quantity::{Given, Stated};
use crate::source::{Code, Diagnostic};
use sumpwright_physics::terrain::Terrain;
use uom::si::f64::Length;

/// Every baffle.
pub(super) fn baffles(scene: &Scene, terrain: &Terrain, problems: &mut Vec<Diagnostic>) {
    let Given::Stated(baffles) = &*scene.pan.baffles else { return };
    for item in &baffles.entries {
        baffle_ends(terrain, item, problems);
        baffle_openings(terrain, item, problems);
    }
}

fn baffle_ends(terrain: &Terrain, item: &Item<Baffle>, problems: &mut Vec<Diagnostic>) {
    let Some(top) = item.value.top.stated() else { return };
    let ends = [&item.value.from, &item.value.to].map(|end| end.stated());
    for (end, other) in [(ends[0], ends[1]), (ends[1], ends[0])] {
        let (Some(end), Some(other)) = (end, other) else { continue };
        // The coordinate along which the baffle runs is the one that reaches too far.
        let run = plan(Some(end)) - plan(Some(other));
        let nearer = if run.y.abs() > run.x.abs() { end.y } else { end.x };
        let floor = terrain.depth_at(plan(Some(end))).map_or(0.0, |d| d.value);
        if top.value.value - floor > SLACK {
            let message = if floor > 0.0 {
                format!(
                    "baffle {} crosses a wall: at this end the wall or floor is only {} below the rail, its \
                     upper edge {}",
                    item.name,
                    millimetres(floor),
                    millimetres(top.value.value)
                )
            } else {
                format!("baffle {} crosses the wall: this end lies outside the rail", item.name)
            };
            problems.push(
                Diagnostic::error(Code::OutsideOilSpace, nearer.span, message)
                    .also(top.span, "its upper edge")
                    .help("end the baffle where the wall is as deep as its upper edge, or raise that edge"),
            );
        }
    }
}

fn baffle_openings(terrain: &Terrain, item: &Item<Baffle>, problems: &mut Vec<Diagnostic>) {
    let (Given::Stated(from), Given::Stated(to)) = (&item.value.from, &item.value.to) else {
        return;
    };
    let (from, to) = (plan(Some(from)), plan(Some(to)));
    let Some(along) = (to - from).try_normalize() else {
        let message = format!("baffle {} has no length: both ends are one place", item.name);
        problems.push(
            Diagnostic::error(Code::BadOutline, item.span, message)
                .help("`from` and `to` are its two ends"),
        );
        return;
    };
    let Given::Stated(openings) = &item.value.openings else { return };
    for opening in &openings.entries {
        let value = &opening.value;
        if let OpeningForm::Slot(length, width) = &value.form
            && length.value < width.value
        {
            let message = format!("slot {} is shorter than it is wide", opening.name);
            problems.push(
                Diagnostic::error(Code::BadOutline, length.span, message)
                    .also(width.span, "its width")
                    .help("a slot is `[overall length, width]` with round ends"),
            );
            continue;
        }
        let (Given::Stated(place), Given::Stated(depth)) = (&value.along, &value.depth) else {
            continue;
        };
        let (width, height) = opening_size(&value.form);
        let half = (to - from).length() / 2.0;
        let beyond = place.value.value.abs() + width / 2.0 - half;
        if beyond > SLACK {
            let message = format!(
                "opening {} reaches {} beyond the end of baffle {}",
                opening.name,
                millimetres(beyond),
                item.name
            );
            problems.push(
                Diagnostic::error(Code::OutsideOilSpace, place.span, message)
                    .help("`along` is from the middle of the baffle, + towards `to`: move the opening, or make it smaller"),
            );
            continue;
        }
        let middle = (from + to) / 2.0 + along * place.value.value;
        let floor = terrain.depth_at(middle).map_or(0.0, |d| d.value);
        let (lowest, highest) =
            (depth.value.value + height / 2.0, depth.value.value - height / 2.0);
        let bottom = match item.value.bottom.stated() {
            Some(BaffleBottom::Depth(bottom)) if bottom.value.value < floor => bottom.value.value,
            _ => floor,
        };
        edge(item, &opening.name, depth, lowest - bottom, "lower edge", problems);
        if let Some(top) = item.value.top.stated() {
            edge(item, &opening.name, depth, top.value.value - highest, "upper edge", problems);
        }
    }
}

fn edge(
    baffle: &Item<Baffle>,
    opening: &str,
    depth: &Stated<Length>,
    beyond: f64,
    which: &str,
    problems: &mut Vec<Diagnostic>,
) {
    if beyond > SLACK {
        let message = format!(
            "opening {opening} reaches {} beyond the {which} of baffle {}",
            millimetres(beyond),
            baffle.name
        );
        problems.push(Diagnostic::error(Code::OutsideOilSpace, depth.span, message).help(
            "`depth` is that of its middle, below the rail: move the opening, or make it smaller",
        ));
    }
}

/// Length along the baffle and height of an opening, in metres.
fn opening_size(form: &OpeningForm) -> (f64, f64) {
    match form {
        OpeningForm::Circle(d) => (d.value.value, d.value.value),
        OpeningForm::Slot(length, width) => (length.value.value, width.value.value),
        OpeningForm::Rectangle(along, height) => (along.value.value, height.value.value),
    }
}
