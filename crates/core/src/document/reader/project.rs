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
        checklists: c.optional("checklists", texts).unwrap_or_default(),
        concessions: c.optional("concessions", texts).unwrap_or_default(),
        concession_days: c.optional("concession_days", count),
    };
    c.not_yet("known_findings", "leave it out until a version reads it");
    project
}
