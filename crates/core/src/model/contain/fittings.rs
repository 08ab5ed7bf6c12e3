//! The inlet within the oil space, and drains on their walls.

use super::SLACK;
use super::things::under;
use crate::model::drains::{DRAIN_TOLERANCE, placed_drain};
use crate::model::rim::rim;
use crate::model::scene::Scene;
use crate::model::words::millimetres;
use crate::quantity::Given;
use crate::source::{Code, Diagnostic, Span};
use glam::DVec2;
use sumpwright_physics::terrain::Terrain;

/// The inlet's mouth.
pub(super) fn inlet(scene: &Scene, terrain: &Terrain, problems: &mut Vec<Diagnostic>) {
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

/// Drains that no wall is near.
pub(super) fn drains(scene: &Scene, problems: &mut Vec<Diagnostic>) {
    let Given::Stated(drains) = &*scene.pan.drains else { return };
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
