//! Soundings that cannot be used, each at its row of the table.

use super::zones::case_outline;
use crate::document::pan::InteriorSoundings;
use crate::document::soundings::{SoundingRow, SoundingTable};
use crate::model::scene::Scene;
use crate::model::words::{sounding_words, terrain_words};
use crate::source::{Code, Diagnostic};
use std::sync::Arc;
use sumpwright_physics::terrain::{
    LineFault, SoundingFault, SoundingsError, Terrain, TerrainError, ZoneFault,
};

/// Rows told of; of the others only how many there are.
const MOST_TOLD: usize = 50;

/// The terrain, or everything that is wrong with the soundings.
pub(super) fn terrain(
    scene: &Scene,
    doc: &InteriorSoundings,
) -> Result<Arc<Result<Terrain, TerrainError>>, Vec<Diagnostic>> {
    // A table that could not be read has been told of where it was.
    let table = scene.table(doc).ok_or_else(Vec::new)?;
    let made = scene
        .soundings(doc)
        .map_err(|(span, why)| vec![Diagnostic::error(Code::BadOutline, span, why)])?;
    if let Some(problem) = case_outline(scene) {
        return Err(vec![problem]);
    }
    let terrain = scene.sounded(doc, &made);
    let Err(error) = terrain.as_ref() else { return Ok(terrain) };
    let TerrainError::Soundings(fault) = error else {
        return Err(vec![Diagnostic::error(
            Code::BadSoundings,
            doc.file.span,
            terrain_words(error),
        )]);
    };
    Err(match fault {
        SoundingsError::Points(faults) => points(doc, table, faults),
        SoundingsError::Lines(faults) => lines(doc, table, faults),
        SoundingsError::Walls(fault) => {
            let at = match fault {
                ZoneFault::InsetSplits { .. } => doc.rail.span,
                _ => doc.draft.map_or(doc.span, |draft| draft.span),
            };
            vec![Diagnostic::error(Code::BadZone, at, terrain_words(error))]
        }
        _ => vec![Diagnostic::error(Code::BadSoundings, doc.file.span, terrain_words(error))],
    })
}

fn points(
    doc: &InteriorSoundings,
    table: &SoundingTable,
    faults: &[(usize, SoundingFault)],
) -> Vec<Diagnostic> {
    let row = |at: usize| table.rows.get(at);
    let told = faults.iter().filter_map(|(position, fault)| {
        let row_here = row(*position)?;
        let why = sounding_words(fault);
        Some(match fault {
            SoundingFault::Outside { .. } => {
                Diagnostic::error(Code::OutsideOilSpace, row_here.span, why)
                    .also(doc.rail.span, "the rail")
                    .help("places are from the middle of the rail's bounding rectangle")
            }
            SoundingFault::Differs { from } => {
                let problem = Diagnostic::error(Code::Contradiction, row_here.span, why);
                match row(*from) {
                    Some(first) => problem
                        .also(first.span, "the first one")
                        .help("keep one of them, or their mean"),
                    None => problem,
                }
            }
            _ => Diagnostic::error(Code::OutOfRange, row_here.depth_span, why),
        })
    });
    within_reason(told.collect())
}

fn lines(doc: &InteriorSoundings, table: &SoundingTable, faults: &[LineFault]) -> Vec<Diagnostic> {
    let pairs = table.lines();
    let ends = |line: usize| -> Option<[&SoundingRow; 2]> {
        let [from, to] = *pairs.get(line)?;
        Some([table.rows.get(from)?, table.rows.get(to)?])
    };
    let told = faults.iter().filter_map(|fault| {
        let [from, to] = ends(fault.line)?;
        let problem = |what: &str| {
            let message = format!("the line from the row before to this one crosses {what}");
            Diagnostic::error(Code::BadSoundings, to.span, message)
                .also(from.span, "it comes from here")
        };
        Some(match fault.with.and_then(ends) {
            Some([_, other]) => problem("another line")
                .also(other.span, "the other one ends here")
                .help("sound the place where they meet, and give it to both lines"),
            None => problem("the rail").also(doc.rail.span, "the rail"),
        })
    });
    within_reason(told.collect())
}

fn within_reason(mut told: Vec<Diagnostic>) -> Vec<Diagnostic> {
    let untold = told.len().saturating_sub(MOST_TOLD);
    told.truncate(MOST_TOLD);
    if untold > 0
        && let Some(last) = told.pop()
    {
        told.push(last.help(format!("and {untold} more like this in this table")));
    }
    told
}
