//! Reads a project file.

use super::cursor::Cursor;
use super::value::{count, text, texts};
use crate::document::project::Project;

pub(super) fn project(c: &mut Cursor<'_, '_>) -> Project {
    let project = Project {
        span: c.key,
        title: c.given("title", text),
        pans: c.optional("pans", texts).unwrap_or_default(),
        rulebooks: c.optional("rulebooks", texts).unwrap_or_default(),
        concessions: c.optional("concessions", texts).unwrap_or_default(),
        concession_days: c.optional("concession_days", count),
    };
    for key in ["checklists", "known_findings"] {
        c.not_yet(key, "leave it out until a version reads it");
    }
    project
}
