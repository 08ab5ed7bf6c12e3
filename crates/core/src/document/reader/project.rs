//! Reads a project file.

use super::cursor::Cursor;
use super::value::{count, path, text, texts};
use crate::document::project::Project;

pub(super) fn project(c: &mut Cursor<'_, '_>) -> Project {
    Project {
        span: c.key,
        title: c.given("title", text),
        pans: c.optional("pans", texts).unwrap_or_default(),
        rulebooks: c.optional("rulebooks", texts).unwrap_or_default(),
        checklists: c.optional("checklists", texts).unwrap_or_default(),
        concessions: c.optional("concessions", texts).unwrap_or_default(),
        concession_days: c.optional("concession_days", count),
        known_findings: c.optional("known_findings", path),
    }
}
