//! Zones and outlines that cannot be built.

use crate::document::pan::FloorZones;
use crate::model::interior::parent;
use crate::model::outlines;
use crate::model::scene::Scene;
use crate::model::words::terrain_words;
use crate::source::{Code, Diagnostic};
use glam::DVec2;
use sumpwright_physics::terrain::{Outline, TerrainError, Zone, ZoneFault};

/// What is wrong with the case's outline.
pub(super) fn case_outline(scene: &Scene) -> Option<Diagnostic> {
    let vehicle = scene.vehicle.stated()?;
    let case = vehicle.case.stated()?;
    let rail = scene.rail().ok()?;
    let (span, why) = outlines::outline(&case.outline, Some(rail)).err()?;
    Some(Diagnostic::error(Code::BadOutline, span, why))
}

/// Why a zone cannot be built, at the value that decides it.
pub(super) fn bad(interior: &FloorZones, error: &TerrainError) -> Diagnostic {
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
        ZoneFault::SlopeOutOfRange { .. } | ZoneFault::FloorAboveRail { .. } => {
            item.value.slope.map_or(item.value.depth.span, |slope| slope.by.span)
        }
        ZoneFault::InsetSplits { .. } => item.value.outline.span,
        _ => item.value.depth.span,
    };
    let help = match fault {
        ZoneFault::ChangesNothing => {
            "delete it, or check its depth and place against the zones round it"
        }
        ZoneFault::FloorNotDeeper { .. } => {
            "every depth is below the rail; say with `in` which zone it opens in, if it is another"
        }
        ZoneFault::WallsMeet { .. } | ZoneFault::InsetSplits { .. } => {
            "make `draft` less, or the outline larger: it is measured where the zone opens"
        }
        _ => "check its depth, draft and slope",
    };
    Diagnostic::error(Code::BadZone, span, format!("zone {} cannot be built: {why}", item.name))
        .help(help)
}

/// A zone that nowhere overlaps the one it opens in holds oil that nothing connects.
pub(super) fn apart(interior: &FloorZones, made: &[Zone]) -> Option<Diagnostic> {
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
