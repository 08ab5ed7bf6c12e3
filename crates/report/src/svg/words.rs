//! What is said of a drawing: its title, and what can be seen in it, for those who do not see it.

use crate::said::{self, unglued};
use crate::scale::Scale;
use sumpwright_core::figure::{Figure, FigureKind, Part, SectionKind};
use sumpwright_core::model::DrawnPart;
use sumpwright_core::quantity::Dimension;

const LENGTH: Dimension =
    Dimension { length: 1, mass: 0, time: 0, temperature: 0, angle: 0, point: false };

/// A length in millimetres to a tenth.
fn millimetres(metres: f64) -> String {
    // Half a micrometre is no sign: what would print as zero has none.
    let value = if metres.abs() < 5e-5 { 0.0 } else { metres };
    let scale = Scale::of_value(LENGTH, 0.01);
    unglued(&scale.difference(value, 1e-3))
}

/// The inlet and the surface, in short.
pub(super) fn rim(depth: f64) -> String {
    if depth >= 0.0 {
        format!("inlet, {} under the surface", millimetres(depth))
    } else {
        format!("inlet DRY: rim {} above the surface", millimetres(-depth))
    }
}

/// A thing by its name; a baffle may be named as a direction is.
pub(super) fn thing(part: DrawnPart, name: &str) -> String {
    if part == DrawnPart::Baffle { format!("baffle {name}") } else { name.to_owned() }
}

/// The surface of the inlet's pool, in short.
pub(super) fn surface(kind: &SectionKind) -> &'static str {
    if kind.pools.len() > 1 { "surface at the inlet" } else { "oil surface" }
}

/// A pool that the inlet cannot reach, in short.
pub(super) fn apart(kind: &SectionKind, number: usize) -> String {
    let volume = kind.pools.get(number).map_or(0.0, |pool| pool.volume);
    format!("out of reach: {}", litres(volume))
}

fn litres(cubic_metres: f64) -> String {
    // A millilitre is the least oil to speak of.
    let volume = Dimension { length: 3, ..LENGTH };
    unglued(&Scale::of_value(volume, 1e-3).value(cubic_metres, 1e-5))
}

/// In which pools the oil lies.
fn pools(kind: &SectionKind) -> String {
    if let Some(why) = &kind.apart_unknown {
        return format!("One level for all oil: what keeps it apart is not known, since {why}.");
    }
    if kind.pools.len() < 2 {
        return "One level for all oil.".to_owned();
    }
    let all: f64 = kind.pools.iter().map(|pool| pool.volume).sum();
    let reached: f64 = kind.pools.iter().filter(|pool| pool.at_inlet).map(|pool| pool.volume).sum();
    let apart = kind.pools.iter().filter(|pool| !pool.at_inlet && pool.is_met);
    let told: Vec<String> = apart
        .map(|pool| {
            let side = if pool.higher < 0.0 { "lower" } else { "higher" };
            format!("{} stand {} {side}", litres(pool.volume), millimetres(pool.higher.abs()))
        })
        .collect();
    let told = if told.is_empty() {
        " The section does not meet it.".to_owned()
    } else {
        format!(" Crossed: out of its reach; {}.", told.join(", "))
    };
    format!(
        "What a ridge or a baffle holds back stays at its own level: {} of {} lie in the inlet's pool, {} elsewhere.{told}",
        litres(reached),
        litres(all),
        litres(all - reached)
    )
}

/// The title of a drawing.
pub(super) fn title(figure: &Figure, pan: &str) -> String {
    match &figure.kind {
        FigureKind::Plan => format!("{pan}: the pan from above"),
        FigureKind::Section(kind) => format!("{pan}: section through the inlet, {}", state(kind)),
    }
}

fn state(kind: &SectionKind) -> String {
    kind.state.as_ref().map_or_else(
        || "vehicle on level ground, oil as at the check".to_owned(),
        |worst| unglued(&said::worst(worst)),
    )
}

/// What a drawing shows, in sentences.
pub(crate) fn caption(figure: &Figure) -> String {
    match &figure.kind {
        FigureKind::Plan => plan(figure),
        FigureKind::Section(kind) => section(figure, kind),
    }
}

fn section(figure: &Figure, kind: &SectionKind) -> String {
    let tilt = kind.tilt * 180.0 / core::f64::consts::PI;
    let rim = if kind.rim_depth >= 0.0 {
        format!("The rim's highest point lies {} under the surface.", millimetres(kind.rim_depth))
    } else {
        format!(
            "The rim's highest point stands {} above the surface: the inlet draws air.",
            millimetres(-kind.rim_depth)
        )
    };
    let case = if kind.case_known {
        ""
    } else {
        " What is above the rail is not described; drawn as if a lid lay on the rail."
    };
    let in_case = figure.shapes.iter().any(|shape| matches!(shape.part, Part::OilInCase(_)));
    let in_case = if in_case { " Dotted: oil among the parts of the case." } else { "" };
    let state = state(kind);
    format!(
        "Section through the inlet, {state}. The paper is turned so that the oil surface lies level; the rail leans \
         {tilt:.1} deg against it. {rim} {}{in_case}{case}",
        pools(kind)
    )
}

fn plan(figure: &Figure) -> String {
    let depths: Vec<f64> = figure
        .shapes
        .iter()
        .filter_map(|shape| match shape.part {
            Part::Contour(depth) => Some(depth),
            _ => None,
        })
        .collect();
    let deepest = depths.iter().copied().fold(0.0, |a, b| if b > a { b } else { a });
    let names = |wanted: Part| {
        let found = figure.shapes.iter().filter(|shape| shape.part == wanted);
        found.map(|shape| shape.name.as_str()).collect::<Vec<_>>()
    };
    let drains = names(Part::Drain);
    let drains = if drains.is_empty() {
        "no drain".to_owned()
    } else {
        format!("{}: {}", said::number_of(drains.len(), "drain"), drains.join(", "))
    };
    let bolts = names(Part::Bolt).len();
    let bolts = if bolts == 0 {
        String::new()
    } else {
        format!(" {bolts} bolts are drawn evenly spaced: their places are not stated.")
    };
    format!(
        "The pan from above, front to the right, with lines of equal depth down to {}; the inlet; {drains}.{bolts}",
        millimetres(deepest)
    )
}
