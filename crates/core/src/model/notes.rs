//! What a reader has to know of how a pan was computed.

use super::drains::placed_drain;
use super::scene::Scene;
use crate::quantity::Given;

/// Below this a drain is not said to have been moved, in metres: what a tape cannot show.
const NOTICED: f64 = 5e-5;

/// Whole sentences.
pub fn notes(scene: &Scene) -> Vec<String> {
    let mut notes = Vec::new();
    if matches!(&*scene.pan.interior, Given::Stated(_)) {
        let _ = scene.with_terrain(|terrain| {
            if terrain.chord_share() > 0.0 {
                notes.push(format!(
                    "Arcs were taken as chords, which lose at most {:.1} parts in a million of the interior's volume.",
                    terrain.chord_share() * 1e6
                ));
            }
            Ok(())
        });
    }
    if let Some((_, doubt)) = scene.between_soundings() {
        notes.push(format!(
            "The floor runs straight between soundings and level beyond the outermost of them; how far it may lie from \
             that is estimated from how the depths bend, {:.2} mm on the average, and counts as the uncertainty of \
             interior.soundings.file.",
            doubt.value * 1000.0
        ));
    }
    notes.extend(scene.mesh_notes());
    if let Given::Stated(vehicle) = scene.vehicle.as_ref()
        && !matches!(*vehicle.case, Given::Stated(_))
    {
        notes.push(
            "The space above the rail is not described: where oil would stand above the rail, results are \
             bounds, closed at the rail and open straight up."
                .to_owned(),
        );
    }
    if let Given::Stated(drains) = &*scene.pan.drains {
        for drain in &drains.entries {
            if let Ok(placed) = placed_drain(scene, drain)
                && placed.moved.abs() > NOTICED
            {
                notes.push(format!(
                    "Drain {} was moved {:.2} mm along its axis on to its wall.",
                    drain.name,
                    placed.moved.abs() * 1000.0
                ));
            }
        }
    }
    notes
}
