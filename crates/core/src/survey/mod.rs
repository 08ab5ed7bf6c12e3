//! A mesh, or what else gives a closed body with a rail, becomes the description of a pan to complete.
//!
//! The interior stands in the description as it was given; what was found in it stands beside it as comments: the
//! rail, the deepest place, the floors, the volume over the depth, and zones that would come near it. Families that no
//! shape tells are left out, with how a person gets them.

mod found;
mod write;

use crate::document::dossier::Library;
use crate::document::reader::Findings;
use crate::model::{Memo, Scene, contained};
use crate::review::read_scene;
use crate::source::{Diagnostic, Files, Sources, has_error};
use glam::DVec3;
use std::sync::Arc;

/// What is asked for.
#[derive(Clone, Copy)]
pub struct SurveyRequest<'a> {
    /// The host's files.
    pub files: &'a dyn Files,
    /// Path that the description will have: references in it are from its folder.
    pub description: &'a str,
    /// The key of `interior` that gives the shape: `mesh` or `soundings`.
    pub shape: &'a str,
    /// The keys under it with their values as they are to be written; `file` is one of them.
    pub keys: &'a [(&'a str, String)],
}

impl std::fmt::Debug for SurveyRequest<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("SurveyRequest")
            .field("description", &self.description)
            .finish_non_exhaustive()
    }
}

/// What came of it.
#[derive(Debug)]
pub struct Survey {
    /// The texts that problems point into: the description as far as it was written.
    pub sources: Sources,
    /// What is wrong; any error in it means that there is no description. What is only odd stands beside one.
    pub problems: Vec<Diagnostic>,
    /// The description.
    pub text: Option<String>,
}

/// How often the place of a mesh is put right: its height, then its middle, then once more for rounding.
const TRIES: usize = 4;

/// Reads the shape and writes the description.
pub fn survey(request: SurveyRequest<'_>) -> Survey {
    let stated = request.keys.iter().any(|(key, _)| *key == "moved");
    let mut moved: Option<DVec3> = None;
    let mut last = look(request, moved);
    for _ in 0..TRIES {
        let wanted = last.scene.as_ref().and_then(Scene::mesh_put_right).filter(|_| !stated);
        // To the hundredth of a millimetre, which is how it is written.
        let rounded =
            wanted.map(|by| DVec3::from_array(by.to_array().map(|x| (x * 1e5).round() / 1e5)));
        if rounded.is_none() || rounded == moved {
            break;
        }
        moved = rounded;
        last = look(request, moved);
    }
    let mut problems = last.problems;
    let text = match (&last.scene, !has_error(&problems)) {
        (Some(scene), true) => match found::find(scene) {
            Ok(found) => Some(write::description(request, &last.head, &found)),
            Err(unknown) => {
                let at = crate::source::Span { file: last.file, start: 0, end: 0 };
                problems.push(Diagnostic::error(crate::source::Code::BadZone, at, unknown.reason));
                None
            }
        },
        _ => None,
    };
    Survey { sources: last.sources, problems, text }
}

struct Looked {
    sources: Sources,
    file: crate::source::FileId,
    problems: Vec<Diagnostic>,
    scene: Option<Scene>,
    /// The lines that describe the interior.
    head: String,
}

/// The description with the interior alone, read as any description is.
fn look(request: SurveyRequest<'_>, moved: Option<DVec3>) -> Looked {
    let head = write::interior(request, moved);
    let mut library = Library::new(request.files);
    let part = library.add_text(request.description, format!("pan: 1\n{head}"));
    let file = part.as_ref().map_or(crate::source::FileId(0), |part| part.file);
    let mut found = Findings::default();
    let memo = Arc::new(Memo::default());
    let scene = part.and_then(|part| {
        let dossier = library.dossier_of(part);
        read_scene(&dossier, &[], "", None, &memo, &mut found)
    });
    let mut problems = std::mem::take(&mut library.problems);
    problems.append(&mut found.problems);
    if let Some(scene) = &scene
        && !has_error(&problems)
    {
        problems.extend(contained(scene));
    }
    Looked { sources: library.sources, file, problems, scene, head }
}
