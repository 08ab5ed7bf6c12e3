//! Whether everything lies where it must: checked once, at the stated values, with the place and by how much.

use super::drains::{DRAIN_TOLERANCE, placed_drain};
use super::interior::{extent, parent, zones};
use super::outlines::plan;
use super::rim::rim;
use super::scene::Scene;
use super::words::{millimetres, terrain_words};
use crate::document::Item;
use crate::document::pan::{Baffle, BaffleBottom, Displacer, Interior, OpeningForm, PanPoint};
use crate::quantity::{Given, Stated};
use crate::source::{Code, Diagnostic, Span};
use glam::DVec2;
use sumpwright_physics::terrain::{Outline, Terrain, TerrainError, Zone, ZoneFault};
use uom::si::f64::Length;

/// What the geometry may be off by before it is said, in metres: a hundredth of what a depth gauge reads, far
/// above the rounding of the arithmetic and the chords of arcs.
const SLACK: f64 = 1e-6;

/// Everything of a pan that leaves the oil space or crosses a wall where it must not, or that cannot be built.
pub fn contained(scene: &Scene) -> Vec<Diagnostic> {
    let mut problems = Vec::new();
    let Given::Stated(interior) = &scene.pan.interior else { return problems };
    let made = match zones(interior) {
        Ok((_, made)) => made,
        Err((span, why)) => {
            problems.push(Diagnostic::error(Code::BadOutline, span, why));
            return problems;
        }
    };
    if let Some(problem) = case_outline(scene).or_else(|| zone_apart(interior, &made)) {
        problems.push(problem);
        return problems;
    }
    let terrain = scene.terrain_of(interior, &made);
    let terrain = match terrain.as_ref() {
        Ok(terrain) => terrain,
        Err(error) => {
            problems.push(bad_zone(interior, error));
            return problems;
        }
    };
    displacers(scene, terrain, &mut problems);
    inlet(scene, terrain, &mut problems);
    baffles(scene, terrain, &mut problems);
    drains(scene, &mut problems);
    problems
}

fn case_outline(scene: &Scene) -> Option<Diagnostic> {
    let vehicle = scene.vehicle.stated()?;
    let case = vehicle.case.stated()?;
    let rail = scene.rail().ok()?;
    let (span, why) = super::outlines::outline(&case.outline, Some(&rail)).err()?;
    Some(Diagnostic::error(Code::BadOutline, span, why))
}

fn bad_zone(interior: &Interior, error: &TerrainError) -> Diagnostic {
    let why = terrain_words(error);
    let TerrainError::Zone { zone, fault } = error else {
        return Diagnostic::error(Code::BadZone, interior.zones.span, why);
    };
    let Some(item) = interior.zones.entries.get(*zone) else {
        return Diagnostic::error(Code::BadZone, interior.zones.span, why);
    };
    let span = match fault {
        ZoneFault::WallsMeet { .. } | ZoneFault::DraftOutOfRange { .. } => {
            item.value.draft.map_or(item.span, |d| d.span)
        }
        ZoneFault::InsetSplits { .. } => item.value.outline.span,
        _ => item.value.depth.span,
    };
    Diagnostic::error(Code::BadZone, span, format!("zone {} cannot be built: {why}", item.name))
}

/// A zone that nowhere overlaps the one it opens in holds oil that nothing connects.
fn zone_apart(interior: &Interior, made: &[Zone]) -> Option<Diagnostic> {
    for (index, item) in interior.zones.entries.iter().enumerate() {
        let Some(inner) = made.get(index) else { continue };
        let Some(outer) = parent(interior, index).and_then(|p| made.get(p)) else { continue };
        if !meet(&inner.outline, &outer.outline) {
            let message = format!("zone {} lies wholly outside the zone it opens in", item.name);
            return Some(
                Diagnostic::error(Code::BadZone, item.value.outline.span, message)
                    .help("check its place and size, or say with `in` which zone it opens in"),
            );
        }
    }
    None
}

fn meet(a: &Outline, b: &Outline) -> bool {
    let cross = |p: DVec2, q: DVec2, r: DVec2, s: DVec2| {
        let side = |o: DVec2, d: DVec2, t: DVec2| (d - o).perp_dot(t - o);
        side(p, q, r) * side(p, q, s) < 0.0 && side(r, s, p) * side(r, s, q) < 0.0
    };
    a.points().iter().any(|p| b.contains(*p))
        || b.points().iter().any(|p| a.contains(*p))
        || a.edges().any(|[p, q]| b.edges().any(|[r, s]| cross(p, q, r, s)))
}

fn displacers(scene: &Scene, terrain: &Terrain, problems: &mut Vec<Diagnostic>) {
    let Given::Stated(interior) = &scene.pan.interior else { return };
    for item in &interior.displaced {
        one_displacer(scene, terrain, &item.name, &item.value, problems);
    }
    if let Given::Stated(magnet) = &scene.pan.magnet {
        one_displacer(scene, terrain, "the magnet", magnet, problems);
    }
    overlaps(&interior.displaced, problems);
}

fn one_displacer(
    scene: &Scene,
    terrain: &Terrain,
    name: &str,
    displacer: &Displacer,
    problems: &mut Vec<Diagnostic>,
) {
    let (shadow, bottom, top) = extent(displacer);
    if bottom < -SLACK {
        under(terrain, &shadow, -bottom, name, &displacer.at, problems);
    }
    if top > SLACK {
        above(scene, &shadow, top, name, &displacer.at, problems);
    }
}

/// A thing whose shadow and lowest depth are given must lie above the floor and inside the walls.
fn under(
    terrain: &Terrain,
    shadow: &[DVec2],
    depth: f64,
    name: &str,
    at: &PanPoint,
    problems: &mut Vec<Diagnostic>,
) {
    let below = terrain.under(shadow);
    // An area is told from rounding by the length it would have along the shadow's edge.
    if below.outside.value > SLACK * SLACK.sqrt() {
        let message = format!(
            "{name} leaves the oil space sideways: {:.1} cm² of its outline lies outside the rail",
            below.outside.value * 1e4
        );
        problems.push(
            Diagnostic::error(Code::OutsideOilSpace, at.span, message)
                .help("move it inward, or check its size"),
        );
    } else if depth - below.least_depth.value > SLACK {
        let message = format!(
            "{name} leaves the oil space: its lowest point is {} below the floor or wall under it",
            millimetres(depth - below.least_depth.value)
        );
        let help = format!(
            "its lowest point is {} below the rail, the floor or wall there {}: raise it or move it",
            millimetres(depth),
            millimetres(below.least_depth.value)
        );
        problems.push(Diagnostic::error(Code::OutsideOilSpace, at.z.span, message).help(help));
    }
}

/// What reaches above the rail must lie inside the case, where the case is described.
fn above(
    scene: &Scene,
    shadow: &[DVec2],
    top: f64,
    name: &str,
    at: &PanPoint,
    problems: &mut Vec<Diagnostic>,
) {
    let Given::Stated(vehicle) = scene.vehicle.as_ref() else { return };
    let Given::Stated(case) = &vehicle.case else { return };
    let Ok(rail) = scene.rail() else { return };
    let Ok(outline) = super::outlines::outline(&case.outline, Some(&rail)) else { return };
    let over = top - case.height.value.value;
    if over > SLACK {
        let message = format!("{name} reaches {} above the case", millimetres(over));
        problems.push(
            Diagnostic::error(Code::OutsideOilSpace, at.z.span, message)
                .also(case.height.span, "the case is only this high"),
        );
    } else if let Some(off) = farthest_outside(&outline, shadow) {
        let message = format!("{name} leaves the case above the rail by {}", millimetres(off));
        problems.push(
            Diagnostic::error(Code::OutsideOilSpace, at.span, message)
                .also(case.outline.span, "the case's outline"),
        );
    }
}

/// How far the farthest corner of a shadow lies outside an outline, if any does.
fn farthest_outside(outline: &Outline, shadow: &[DVec2]) -> Option<f64> {
    shadow
        .iter()
        .filter(|p| !outline.contains(**p))
        .map(|p| distance_to(outline, *p))
        .filter(|d| *d > SLACK)
        .reduce(|a, b| if b > a { b } else { a })
}

fn distance_to(outline: &Outline, point: DVec2) -> f64 {
    let points = outline.points();
    points
        .iter()
        .zip(points.iter().cycle().skip(1))
        .map(|(a, b)| {
            let along = *b - *a;
            let share = ((point - *a).dot(along) / along.length_squared()).clamp(0.0, 1.0);
            (*a + along * share).distance(point)
        })
        .fold(f64::INFINITY, |a, b| if b < a { b } else { a })
}

fn overlaps(displaced: &[Item<Displacer>], problems: &mut Vec<Diagnostic>) {
    for (index, one) in displaced.iter().enumerate() {
        for other in displaced.iter().take(index) {
            let (shadow, bottom, top) = extent(&one.value);
            let (other_shadow, other_bottom, other_top) = extent(&other.value);
            let apart = bottom >= other_top - SLACK || other_bottom >= top - SLACK;
            if !apart && shadows_meet(&shadow, &other_shadow) {
                let message = format!(
                    "{} and {} overlap, so that their room would be taken out of the oil twice",
                    other.name, one.name
                );
                problems.push(
                    Diagnostic::error(Code::Overlap, one.value.at.span, message)
                        .also(other.value.at.span, "the other one")
                        .help("describe them as bodies that do not share room"),
                );
            }
        }
    }
}

/// Whether two convex shadows share area: no side of either separates them.
fn shadows_meet(a: &[DVec2], b: &[DVec2]) -> bool {
    let separates = |one: &[DVec2], other: &[DVec2]| {
        one.iter().zip(one.iter().cycle().skip(1)).any(|(p, q)| {
            let outward = (*q - *p).perp() * -1.0;
            let Some(outward) = outward.try_normalize() else { return false };
            other.iter().all(|r| (*r - *p).dot(outward) >= -SLACK)
        })
    };
    !separates(a, b) && !separates(b, a)
}

fn inlet(scene: &Scene, terrain: &Terrain, problems: &mut Vec<Diagnostic>) {
    let (Ok(mouth), Ok(inlet)) = (scene.mouth(), scene.inlet()) else { return };
    let Given::Stated(at) = &inlet.at else { return };
    let rim = rim(&mouth, 32);
    let shadow: Vec<DVec2> = rim.iter().map(|p| p.truncate()).collect();
    let deepest = rim.iter().fold(f64::NEG_INFINITY, |d, p| if -p.z > d { -p.z } else { d });
    if mouth.normal.z.abs() > 0.5 {
        under(terrain, &shadow, deepest, "the inlet", at, problems);
        return;
    }
    for point in rim {
        let floor = terrain.depth_at(point.truncate()).map_or(0.0, |d| d.value);
        if -point.z - floor > SLACK {
            let message = format!(
                "the inlet leaves the oil space: its rim is {} below the floor or wall under it",
                millimetres(-point.z - floor)
            );
            problems.push(Diagnostic::error(Code::OutsideOilSpace, at.span, message));
            return;
        }
    }
}

fn baffles(scene: &Scene, terrain: &Terrain, problems: &mut Vec<Diagnostic>) {
    let Given::Stated(baffles) = &scene.pan.baffles else { return };
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
                    .also(top.span, "its upper edge"),
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
        problems.push(Diagnostic::error(Code::BadOutline, item.span, message));
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
            problems.push(Diagnostic::error(Code::OutsideOilSpace, place.span, message));
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
        problems.push(Diagnostic::error(Code::OutsideOilSpace, depth.span, message));
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

fn drains(scene: &Scene, problems: &mut Vec<Diagnostic>) {
    let Given::Stated(drains) = &scene.pan.drains else { return };
    for item in &drains.entries {
        let Given::Stated(at) = &item.value.at else { continue };
        let span: Span = at.span;
        match placed_drain(scene, item) {
            Ok(placed) if placed.moved.abs() > DRAIN_TOLERANCE => {
                let message = format!(
                    "drain {} stands {} from the wall that its axis points to",
                    item.name,
                    millimetres(placed.moved.abs())
                );
                let help = format!(
                    "the middle of the opening lies on the wall: there it is at x {}, y {}, depth {} (a place \
                     off by up to {} is moved)",
                    millimetres(placed.middle.x),
                    millimetres(placed.middle.y),
                    millimetres(-placed.middle.z),
                    millimetres(DRAIN_TOLERANCE)
                );
                problems.push(Diagnostic::error(Code::OutsideOilSpace, span, message).help(help));
            }
            Err(unknown) if unknown.missing.is_empty() => {
                let message = format!("drain {}: {}", item.name, unknown.reason);
                problems.push(Diagnostic::error(Code::OutsideOilSpace, span, message));
            }
            Ok(_) | Err(_) => {}
        }
    }
}
