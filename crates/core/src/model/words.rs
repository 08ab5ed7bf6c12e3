//! What the geometry refuses, in words.

use glam::{DVec2, DVec3};
use sumpwright_physics::basins::BasinError;
use sumpwright_physics::level::LevelError;
use sumpwright_physics::mesh::MeshProblem;
use sumpwright_physics::terrain::{
    OutlineError, SoundingFault, SoundingsError, TerrainError, ZoneFault,
};
use uom::si::f64::Length;

/// A length in millimetres for a sentence.
pub(crate) fn millimetres(length: f64) -> String {
    let text = format!("{:.2}", length * 1000.0);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    format!("{} mm", if text == "-0" { "0" } else { text })
}

/// A length in metres that may be far below a hundredth of a millimetre, in millimetres with three digits that count.
pub(crate) fn fine_millimetres(length: f64) -> String {
    let (mut decimals, mut leading) = (2, (length * 1000.0).abs());
    while leading < 1.0 && decimals < 11 {
        leading *= 10.0;
        decimals += 1;
    }
    let text = format!("{:.decimals$}", length * 1000.0);
    format!("{} mm", text.trim_end_matches('0').trim_end_matches('.'))
}

fn mm(length: Length) -> String {
    millimetres(length.value)
}

fn place(at: DVec2) -> String {
    format!("x {}, y {}", millimetres(at.x), millimetres(at.y))
}

fn point(at: DVec3) -> String {
    format!("{}, {} below the rail", place(at.truncate()), millimetres(-at.z))
}

/// Why a mesh that was made of a sound description bounds no body.
pub(super) fn mesh_words(problem: &MeshProblem) -> String {
    let middle = |[one, other]: [DVec3; 2]| point((one + other) / 2.0);
    let why = match problem {
        MeshProblem::OpenEdges { count, first } => {
            format!("{count} of its edges are open, the first at {}", middle(*first))
        }
        MeshProblem::TurnedFaces { count, first } => format!(
            "at {count} of its edges a face is turned against its neighbour, at {} first",
            middle(*first)
        ),
        MeshProblem::InsideOut { volume } => {
            format!("it encloses {:.3} L", volume.value * 1e3)
        }
        other => format!("{other:?}"),
    };
    format!("the surface of the oil space, as it was put together, bounds no body: {why}")
}

/// Why basins cannot be told.
pub(super) fn basin_words(error: &BasinError) -> String {
    let why = match error {
        BasinError::Apart { at } => {
            format!("nothing joins the space at {} with the rest", point(*at))
        }
        BasinError::NoFloor { under } => {
            format!("nothing lies below what hangs at {}", point(*under))
        }
        BasinError::TooMuch { capacity } => {
            format!("there is more oil than the {:.2} L of pan and case", capacity.value * 1e3)
        }
        other => other.to_string(),
    };
    format!("whether ridges hold oil back cannot be told: {why}")
}

/// Points are counted from 1 for people.
pub(super) fn outline_words(error: &OutlineError) -> String {
    match error {
        OutlineError::NotPositive(size) => {
            format!("a side or diameter is {}, not more than 0", mm(*size))
        }
        OutlineError::NotARadius(radius) => format!("the corner's radius is {}", mm(*radius)),
        OutlineError::CornerTooLarge { corner, largest } => format!(
            "a corner of {} is larger than half the shorter side, {}",
            mm(*corner),
            mm(*largest)
        ),
        OutlineError::OutOfReach { point } => {
            format!("point {} lies out of reach, more than 1 km away", point + 1)
        }
        OutlineError::TooFewPoints { count } => {
            format!("an outline needs at least three corners, and this one has {count}")
        }
        OutlineError::Repeated { first, second } => {
            format!("points {} and {} are one place", first + 1, second + 1)
        }
        OutlineError::TurnsBack { point } => {
            format!("at point {} the outline goes back along the side it came from", point + 1)
        }
        OutlineError::Crossing { first, second, at } => format!(
            "the outline crosses itself: the side from point {} to {} meets that from {} to {} at {}",
            first[0] + 1,
            first[1] + 1,
            second[0] + 1,
            second[1] + 1,
            place(*at)
        ),
        OutlineError::NoArea => "all corners of the outline lie on one line".to_owned(),
        other => format!("the outline cannot be used: {other:?}"),
    }
}

pub(super) fn terrain_words(error: &TerrainError) -> String {
    match error {
        TerrainError::NoZones => "there is no zone".to_owned(),
        TerrainError::Zone { fault, .. } => zone_words(fault),
        TerrainError::Soundings(error) => soundings_words(error),
        TerrainError::TooTangled { near } => format!(
            "lines of the outlines lie so nearly on each other near {} that they cannot be told apart",
            place(*near)
        ),
        other => format!("it cannot be built: {other:?}"),
    }
}

fn soundings_words(error: &SoundingsError) -> String {
    match error {
        SoundingsError::TooFew { count } => {
            format!("a floor needs soundings at three places or more, and these are {count}")
        }
        SoundingsError::NoDepth => "no sounding lies below the rail".to_owned(),
        SoundingsError::Points(faults) => match faults.first() {
            Some((_, fault)) => sounding_words(fault),
            None => "a sounding is at fault".to_owned(),
        },
        SoundingsError::Lines(_) => "lines between soundings cross".to_owned(),
        SoundingsError::Walls(fault) => zone_words(fault).replace("its ", "the "),
        SoundingsError::TooTangled { near } => {
            format!(
                "soundings lie so near to each other near {} that they cannot be told apart",
                place(*near)
            )
        }
        other => format!("they cannot be used: {other:?}"),
    }
}

pub(super) fn sounding_words(fault: &SoundingFault) -> String {
    match fault {
        SoundingFault::Outside { by } => {
            format!("this place lies {} outside the rail", mm(*by))
        }
        SoundingFault::AboveRail => "this depth lies above the rail".to_owned(),
        SoundingFault::Differs { .. } => "another depth is stated for this place".to_owned(),
        _ => "this is no place and depth that can be used".to_owned(),
    }
}

fn zone_words(fault: &ZoneFault) -> String {
    match fault {
        ZoneFault::FloorNotDeeper { opens_at, floor } => format!(
            "its floor at {} is not deeper than the {} at which it opens",
            mm(*floor),
            mm(*opens_at)
        ),
        ZoneFault::DraftOutOfRange { draft } => format!(
            "its draft of {:.1} deg is out of range",
            draft.value * 180.0 / core::f64::consts::PI
        ),
        ZoneFault::SlopeOutOfRange { by } => {
            format!(
                "its slope of {:.1} deg is out of range",
                by.value * 180.0 / core::f64::consts::PI
            )
        }
        ZoneFault::FloorAboveRail { depth } if depth.value < 0.0 => {
            format!("its floor rises {} above the rail within its outline", mm(-*depth))
        }
        ZoneFault::FloorAboveRail { .. } => {
            "its floor comes up to the rail within its outline".to_owned()
        }
        ZoneFault::WallsMeet { depth } => {
            format!("its walls lean so far that they meet at depth {}, above its floor", mm(*depth))
        }
        ZoneFault::InsetSplits { depth, near } => format!(
            "its leaning walls cut its outline apart at depth {} near {}",
            mm(*depth),
            place(*near)
        ),
        ZoneFault::ChangesNothing => {
            "it changes nothing: other zones are at least as deep everywhere in its outline"
                .to_owned()
        }
        other => format!("it cannot be built: {other:?}"),
    }
}

pub(super) fn level_words(error: &LevelError) -> String {
    match error {
        LevelError::TooMuch { capacity } => format!(
            "there is more oil than the space for it holds ({:.2} L)",
            capacity.value * 1000.0
        ),
        LevelError::NothingThere => "there is no space for oil".to_owned(),
        LevelError::NotAVolume(_) => "the volume of oil is negative".to_owned(),
        LevelError::DidNotSettle { residual, iterations } => format!(
            "the search for the level ended after {iterations} steps with {:.2e} L unaccounted for",
            residual.value * 1000.0
        ),
        other => format!("the level could not be found: {other:?}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_length_is_told_without_idle_digits() {
        assert_eq!(millimetres(0.0624), "62.4 mm");
        assert_eq!(millimetres(0.1), "100 mm");
        assert_eq!(millimetres(-0.000_001), "0 mm");
        assert_eq!(millimetres(0.000_25), "0.25 mm");
    }

    #[test]
    fn a_tolerance_below_a_hundredth_of_a_millimetre_is_not_told_as_nothing() {
        assert_eq!(fine_millimetres(1e-6), "0.001 mm");
        assert_eq!(fine_millimetres(4.002_7e-9), "0.000004 mm");
        assert_eq!(fine_millimetres(2e-4), "0.2 mm");
        assert_eq!(fine_millimetres(0.001_234_5), "1.23 mm");
        assert_eq!(fine_millimetres(0.0), "0 mm");
    }
}
