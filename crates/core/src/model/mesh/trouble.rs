//! What is wrong with a mesh, in words, at the value of the document that it belongs to.

use crate::document::pan::MeshDoc;
use crate::model::words::{fine_millimetres, millimetres};
use crate::source::{Code, Diagnostic, Severity, Span};
use glam::DVec3;
use sumpwright_physics::mesh::{Diagnosis, Faults, Piece};

/// The key of a mesh that a trouble belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum At {
    /// `file`.
    File,
    /// `unit`; `file` where it is not stated.
    Unit,
    /// `normals`.
    Normals,
    /// `weld`.
    Weld,
}

/// Something wrong with a mesh.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Trouble {
    pub(crate) code: Code,
    pub(crate) severity: Severity,
    pub(crate) at: At,
    pub(crate) message: String,
    pub(crate) help: Option<String>,
    /// By how much the mesh is to be moved in all, in metres, where that would put it right.
    pub(crate) moved: Option<DVec3>,
}

impl Trouble {
    /// Whether the mesh cannot be used.
    pub(crate) fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }

    pub(crate) fn error(code: Code, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            at: At::File,
            message: message.into(),
            help: None,
            moved: None,
        }
    }

    pub(crate) fn warning(code: Code, message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, message) }
    }

    pub(crate) fn help(self, help: impl Into<String>) -> Self {
        Self { help: Some(help.into()), ..self }
    }

    pub(crate) fn moved(self, by: DVec3) -> Self {
        Self { moved: Some(by), ..self }
    }

    pub(crate) fn at(self, at: At) -> Self {
        Self { at, ..self }
    }

    /// At its place in the document.
    pub(crate) fn diagnostic(&self, doc: &MeshDoc) -> Diagnostic {
        let file: Span = doc.file.span;
        let span = match self.at {
            At::File => file,
            At::Unit => doc.unit.map_or(file, |unit| unit.span),
            At::Weld => doc.weld.map_or(file, |weld| weld.span),
            At::Normals => doc.normals.map_or(file, |normals| normals.span),
        };
        let problem = Diagnostic {
            severity: self.severity,
            ..Diagnostic::error(self.code, span, self.message.clone())
        };
        match &self.help {
            Some(help) => problem.help(help.clone()),
            None => problem,
        }
    }
}

/// A place of the pan for a sentence.
pub(crate) fn place(at: DVec3) -> String {
    format!("x {}, y {}, z {}", millimetres(at.x), millimetres(at.y), millimetres(at.z))
}

/// Where faults are: the first ones, and how many more there are.
fn places(faults: &Faults, moved: DVec3) -> String {
    let first: Vec<String> = faults.places.iter().map(|at| place(*at + moved)).collect();
    let more = faults.count - first.len();
    let rest = if more > 0 { format!("; and {more} more") } else { String::new() };
    format!("at {}{rest}", first.join("; at "))
}

fn counted(count: usize, one: &str, several: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {several}") }
}

/// Everything that a diagnosis found, in the order in which it is best mended; places in the pan's frame.
pub(super) fn of_diagnosis(
    found: &Diagnosis,
    moved: DVec3,
    closes_at: Option<f64>,
) -> Vec<Trouble> {
    let mut troubles = Vec::new();
    let mut tell = |faults: &Faults, code: Code, what: String, help: &str| {
        if faults.count > 0 {
            let message = format!("{what}: {}", places(faults, moved));
            troubles.push(Trouble::error(code, message).help(help));
        }
    };
    let n = |faults: &Faults, one: &str, several: &str| counted(faults.count, one, several);
    let weld = closes_at.map_or_else(
        || "close the gaps where the mesh was made; an open mesh encloses no volume and is never levelled".to_owned(),
        |gap| format!("the gaps close when corners nearer than {0} become one: close them where the mesh was made, or add `weld: {0}`", fine_millimetres(gap)),
    );
    tell(
        &found.open,
        Code::MeshOpen,
        format!("the mesh is open along {}", n(&found.open, "edge", "edges")),
        &weld,
    );
    tell(
        &found.crowded,
        Code::MeshFaulty,
        format!("more than two faces meet at {}", n(&found.crowded, "edge", "edges")),
        "an edge of a body has two faces: take out inner walls, or move bodies that touch along an edge apart",
    );
    tell(
        &found.turned,
        Code::MeshTurned,
        format!("{} turned against the neighbours", n(&found.turned, "face is", "faces are")),
        "make the normals consistent where the mesh was made",
    );
    tell(
        &found.duplicate,
        Code::MeshFaulty,
        format!("{} there twice", n(&found.duplicate, "face is", "faces are")),
        "remove doubles where the mesh was made",
    );
    let needles = closes_at.map_or_else(
        || "remove faces without area where the mesh was made".to_owned(),
        |gap| format!("they go when corners nearer than {0} become one: remove them where the mesh was made, or add `weld: {0}`", fine_millimetres(gap)),
    );
    tell(
        &found.degenerate,
        Code::MeshFaulty,
        format!("{} no area", n(&found.degenerate, "face has", "faces have")),
        &needles,
    );
    tell(
        &found.crossing,
        Code::MeshCrosses,
        format!(
            "the mesh passes through itself: {}",
            n(&found.crossing, "pair of faces crosses", "pairs of faces cross")
        ),
        "unite the bodies where the mesh was made, so that one skin is left",
    );
    tell(
        &found.overlap,
        Code::MeshCrosses,
        format!(
            "{} in one plane on each other",
            n(&found.overlap, "pair of faces lies", "pairs of faces lie")
        ),
        "unite the bodies where the mesh was made, so that one skin is left",
    );
    if found.cut_short {
        troubles.push(
            Trouble::error(
                Code::MeshCrosses,
                "so many faces lie on one place that not all of them could be compared",
            )
            .help(
                "reduce the mesh where it was made; what is told of it is the least that is wrong",
            ),
        );
    }
    troubles
}

/// What the pieces of a closed mesh are to each other.
pub(super) fn of_pieces(found: &Diagnosis, moved: DVec3, said_inward: bool) -> Vec<Trouble> {
    let pieces = &found.pieces;
    let wrong: Vec<_> = pieces.iter().filter(|piece| !piece.is_turned_right()).collect();
    if wrong.len() == pieces.len() && !pieces.is_empty() {
        return vec![if said_inward {
            Trouble::error(
                Code::MeshTurned,
                "the mesh is not inside out as `normals: inward` says: its faces look outward",
            )
            .at(At::Normals)
            .help("leave `normals` out")
        } else {
            let litres = pieces.iter().map(|piece| piece.volume.value).sum::<f64>() * 1e3;
            Trouble::error(
                Code::MeshTurned,
                format!("the mesh is inside out: it encloses {litres:.3} L"),
            )
            .help("turn its normals outward where it was made, or add `normals: inward`, and it is turned here")
        }];
    }
    let mut troubles = Vec::new();
    let (shells, crumbs): (Vec<&Piece>, Vec<&Piece>) =
        wrong.into_iter().partition(|piece| piece.depth.is_multiple_of(2));
    if !shells.is_empty() {
        let what = counted(shells.len(), "body is", "bodies are");
        let message = format!("{what} inside out: {}", listed(&shells, moved));
        troubles.push(
            Trouble::error(Code::MeshTurned, message)
                .help("turn the normals outward where the mesh was made"),
        );
    }
    if !crumbs.is_empty() {
        let what = counted(crumbs.len(), "body lies", "bodies lie");
        let message =
            format!("{what} inside another and would be counted twice: {}", listed(&crumbs, moved));
        troubles.push(Trouble::error(Code::MeshBodies, message).help(
            "a body within a body takes room away: turn its normals inward where the mesh was made, or take it out",
        ));
    }
    let outer: Vec<&Piece> = pieces.iter().filter(|piece| piece.depth.is_multiple_of(2)).collect();
    if troubles.is_empty() && outer.len() > 1 {
        troubles.push(
            Trouble::error(
                Code::MeshBodies,
                format!(
                    "the mesh holds {} bodies apart from each other: {}",
                    outer.len(),
                    listed(&outer, moved)
                ),
            )
            .help("one body is read: unite them where the mesh was made, or leave out what does not belong to it"),
        );
    }
    troubles
}

/// The first of some pieces with what they hold.
fn listed(pieces: &[&Piece], moved: DVec3) -> String {
    let told: Vec<String> = pieces
        .iter()
        .take(3)
        .map(|piece| {
            format!("{:.3} L at {}", piece.volume.value.abs() * 1e3, place(piece.at + moved))
        })
        .collect();
    let more = pieces.len() - told.len();
    let rest = if more > 0 { format!("; and {more} more") } else { String::new() };
    format!("{}{rest}", told.join("; "))
}
