//! A mesh file read, put into metres and the pan's axes, welded, and looked over for faults.

use super::trouble::{At, Trouble};
use crate::document::attached::Attached;
use crate::document::pan::{MeshAxis, MeshDoc, MeshUnit, Normals, Word};
use crate::mesh_file::{MeshFile, read_mesh};
use crate::model::words::{fine_millimetres, millimetres};
use crate::source::Code;
use glam::DVec3;
use sumpwright_physics::mesh::{Diagnosis, Mesh, check, diagnose, weld};

/// Extents of a mesh, in metres, beyond which it is no pan and no part of one (common practice, no source).
const POSSIBLE: [f64; 2] = [0.005, 3.0];
/// Tolerances tried to say which would close a mesh, in metres; a larger one would do more than close gaps.
const CLOSING: [f64; 5] = [1e-6, 1e-5, 1e-4, 2e-4, 5e-4];
/// The largest tolerance of welding, in metres: the wall of a pressed pan is not much thicker.
const LARGEST_WELD: f64 = 1e-3;
/// More faces are not welded on trial: it would take longer than the review.
const TRIED_UP_TO: usize = 300_000;

/// A mesh file in metres and the pan's axes, not yet moved.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct LookedOver {
    /// Its faces over shared corners.
    pub(crate) mesh: Mesh,
    /// What is wrong with it; of nothing that was read it holds nothing.
    pub(crate) found: Diagnosis,
    /// Why it could not be read.
    pub(crate) unreadable: Option<Trouble>,
    /// A tolerance of welding that would close it and leave no face without area, in metres.
    pub(crate) closes_at: Option<f64>,
    /// What it is and what was done to it; whole sentences.
    pub(crate) notes: Vec<String>,
    /// Whether it was said to be inside out.
    pub(crate) said_inward: bool,
}

impl LookedOver {
    /// Everything wrong with it; places in the frame of the pan, into which it is moved by so much.
    pub(crate) fn troubles(&self, moved: DVec3) -> Vec<Trouble> {
        if let Some(trouble) = &self.unreadable {
            return vec![trouble.clone()];
        }
        let mut troubles = super::trouble::of_diagnosis(&self.found, moved, self.closes_at);
        if self.found.is_closed_and_clean() {
            troubles.extend(super::trouble::of_pieces(&self.found, moved, self.said_inward));
        }
        troubles
    }
}

pub(super) fn look_over(doc: &MeshDoc, file: &Attached) -> LookedOver {
    let not = |trouble| LookedOver { unreadable: Some(trouble), ..LookedOver::default() };
    let read = match read_mesh(&doc.file.text, &file.bytes) {
        Ok(read) => read,
        Err(error) => {
            let message = format!("{} cannot be read: {error}", file.path);
            return not(Trouble::error(Code::MeshUnreadable, message));
        }
    };
    let metres = match unit(doc, &read) {
        Ok(metres) => metres,
        Err(trouble) => return not(*trouble),
    };
    let turned = |point: &DVec3| turn(doc, *point).map(|x| metres.of(x));
    let points = read.points.iter().map(turned).map(DVec3::from_array).collect();
    let mut mesh = Mesh { points, faces: read.faces.clone() }.with_shared_corners();
    let mut notes = vec![format!(
        "{} is {} with {} faces, its coordinates taken as {}.",
        file.path,
        read.format.name(),
        mesh.faces.len(),
        metres.words
    )];
    if let Err(trouble) = size(&mesh, metres) {
        return not(*trouble);
    }
    if let Some(tolerance) = doc.weld {
        if tolerance.value.value > LARGEST_WELD {
            let message = format!(
                "a tolerance of {} would do more than close gaps; {} is the largest",
                millimetres(tolerance.value.value),
                millimetres(LARGEST_WELD)
            );
            return not(Trouble::error(Code::OutOfRange, message).at(At::Weld));
        }
        let welded = weld(&mesh, tolerance.value);
        notes.push(format!(
            "Corners nearer than {} became one: {} of {} corners were moved, by {} at most, and {} faces fell together.",
            fine_millimetres(tolerance.value.value),
            welded.merged,
            mesh.points.len(),
            fine_millimetres(welded.farthest.value),
            welded.dropped
        ));
        mesh = welded.mesh;
    }
    let said_inward = doc.normals.is_some_and(|normals| normals.value == Normals::Inward);
    if said_inward {
        for face in &mut mesh.faces {
            face.swap(1, 2);
        }
        notes.push("The mesh was turned, since it is said to be inside out.".to_owned());
    }
    let found = diagnose(&mesh);
    let would_help = found.open.count > 0 || found.degenerate.count > 0;
    let try_weld = would_help && doc.weld.is_none() && mesh.faces.len() <= TRIED_UP_TO;
    let closes_at = CLOSING
        .into_iter()
        .filter(|_| try_weld)
        .find(|gap| check(&weld(&mesh, crate::quantity::si(*gap)).mesh).is_ok());
    LookedOver { mesh, found, unreadable: None, closes_at, notes, said_inward }
}

/// A unit as a number to multiply by and one to divide by, so that both are exact where the unit is.
#[derive(Debug, Clone, Copy)]
struct Metres {
    name: &'static str,
    words: &'static str,
    times: f64,
    over: f64,
}

impl Metres {
    fn of(self, length: f64) -> f64 {
        length * self.times / self.over
    }
}

const fn metres(unit: MeshUnit) -> Metres {
    let (name, words, times, over) = match unit {
        MeshUnit::Micrometre => ("µm", "micrometres", 1.0, 1e6),
        MeshUnit::Millimetre => ("mm", "millimetres", 1.0, 1e3),
        MeshUnit::Centimetre => ("cm", "centimetres", 1.0, 1e2),
        MeshUnit::Metre => ("m", "metres", 1.0, 1.0),
        MeshUnit::Inch => ("in", "inches", 254.0, 1e4),
        MeshUnit::Foot => ("ft", "feet", 3048.0, 1e4),
    };
    Metres { name, words, times, over }
}

const ALL_UNITS: [MeshUnit; 6] = [
    MeshUnit::Millimetre,
    MeshUnit::Centimetre,
    MeshUnit::Metre,
    MeshUnit::Inch,
    MeshUnit::Foot,
    MeshUnit::Micrometre,
];

fn unit(doc: &MeshDoc, read: &MeshFile) -> Result<Metres, Box<Trouble>> {
    let own = read
        .unit
        .and_then(|(_, name)| ALL_UNITS.into_iter().map(metres).find(|unit| unit.name == name));
    let stated = doc.unit.map(|unit| metres(unit.value));
    match (stated, own) {
        (Some(stated), Some(own)) if stated.name != own.name => Err(Box::new(
            Trouble::error(
                Code::Contradiction,
                format!(
                    "the file says that it is in {}, the description in {}",
                    own.name, stated.name
                ),
            )
            .at(At::Unit)
            .help("a 3MF file carries its own unit: leave `unit` out, or export the mesh again"),
        )),
        (Some(unit), _) | (None, Some(unit)) => Ok(unit),
        (None, None) => Err(Box::new(
            Trouble::error(
                Code::MissingUnit,
                format!("{} carries no unit, and none is stated", read.format.name()),
            )
            .help("add `unit: mm`, or what the mesh was exported in"),
        )),
    }
}

/// The pan's coordinates of a point of the mesh, still in the mesh's unit.
fn turn(doc: &MeshDoc, point: DVec3) -> [f64; 3] {
    let axis = |word: Option<Word<MeshAxis>>, usual: DVec3| {
        word.map_or(usual, |word| {
            let unit =
                [DVec3::X, DVec3::Y, DVec3::Z].get(word.value.axis).copied().unwrap_or(usual);
            if word.value.reversed { -unit } else { unit }
        })
    };
    let (forward, up) = (axis(doc.forward, DVec3::X), axis(doc.up, DVec3::Z));
    [forward.dot(point), up.cross(forward).dot(point), up.dot(point)]
}

/// Whether a mesh has a size that a pan or a part of it can have.
fn size(mesh: &Mesh, stated: Metres) -> Result<(), Box<Trouble>> {
    let [low, high] = mesh.bounds().unwrap_or_default();
    let extent = (high - low).max_element();
    let meant = |extent: f64| {
        let fits = |unit: &Metres| {
            let there = unit.of(extent * stated.over / stated.times);
            unit.name != stated.name && (0.15..=0.9).contains(&there)
        };
        ALL_UNITS.into_iter().map(metres).find(fits)
    };
    let told = |meant: Metres| {
        let there = meant.of(extent * stated.over / stated.times);
        format!(
            "as {} it would be {}: is that the unit it was exported in?",
            meant.words,
            millimetres(there)
        )
    };
    if (POSSIBLE[0]..=POSSIBLE[1]).contains(&extent) {
        return Ok(());
    }
    let message = format!(
        "the mesh is {} across, with its coordinates taken as {}: no pan is that {}",
        millimetres(extent),
        stated.words,
        if extent > 1.0 { "large" } else { "small" }
    );
    let help = match meant(extent) {
        Some(unit) => told(unit),
        None => "state the unit that the mesh was exported in".to_owned(),
    };
    Err(Box::new(Trouble::error(Code::MeshUnit, message).help(help).at(At::Unit)))
}

/// What is odd about the size of an interior, though it is possible.
pub(super) fn odd_interior(mesh: &Mesh) -> Option<Trouble> {
    let [low, high] = mesh.bounds()?;
    let extent = (high - low).max_element();
    if (0.1..=1.5).contains(&extent) {
        return None;
    }
    let (factor, why) = if extent > 1.5 {
        (1.0 / 25.4, "millimetres read as inches are 25.4 times too large")
    } else {
        (25.4, "inches read as millimetres are 25.4 times too small, centimetres 10 times")
    };
    Some(
        Trouble::warning(
            Code::MeshUnit,
            format!("the interior is {} across, which is unusual for a pan", millimetres(extent)),
        )
        .at(At::Unit)
        .help(format!(
            "check the unit: {why}; this would then be {}",
            millimetres(extent * factor)
        )),
    )
}
