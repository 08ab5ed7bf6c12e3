//! The project that a run belongs to: the nearest `sumpwright.yaml` above the working directory.

use crate::select;
use sumpwright_core::document::Text;
use sumpwright_core::document::project::PROJECT_FILE;
use sumpwright_core::review::{self, Review};
use sumpwright_core::source::{Code, Diagnostic, Files, Severity};

/// Folders looked at on the way up; more deeply nobody nests a repository.
const HIGHEST: usize = 64;

/// What a project names, as paths and patterns from the working directory; empty without a project.
#[derive(Debug, Default)]
pub(crate) struct Project {
    /// Where the pans live.
    pub(crate) pans: Vec<String>,
    /// Where the rulebook lives.
    pub(crate) rulebooks: Vec<String>,
    /// Where the customers' lists live.
    pub(crate) checklists: Vec<String>,
    /// Where the lists of concessions live.
    pub(crate) concessions: Vec<String>,
    /// The longest term of a concession, in days.
    pub(crate) concession_days: Option<u32>,
}

/// The nearest project.
///
/// # Errors
/// What is wrong with its file, as a review without pans: a pattern that matches nothing is among it.
pub(crate) fn nearest(files: &dyn Files) -> Result<Project, Box<Review>> {
    let Some(folder) = folder_of_project(files) else { return Ok(Project::default()) };
    let path = format!("{folder}{PROJECT_FILE}");
    let review::ProjectRead { project, mut read } = review::read_project_file(files, &path);
    let Some(project) = project else { return Err(Box::new(read)) };
    let mut found = |wanted: &[Text]| {
        let mut patterns = Vec::new();
        for want in wanted {
            let pattern = format!("{folder}{}", want.text);
            for complaint in select::select(std::slice::from_ref(&pattern)).complaints {
                read.problems.push(Diagnostic::error(Code::BadReference, want.span, complaint));
            }
            patterns.push(pattern);
        }
        patterns
    };
    let project = Project {
        pans: found(&project.pans),
        rulebooks: found(&project.rulebooks),
        checklists: found(&project.checklists),
        concessions: found(&project.concessions),
        concession_days: project.concession_days.map(|days| days.value),
    };
    if read.problems.iter().any(|problem| problem.severity == Severity::Error) {
        return Err(Box::new(read));
    }
    Ok(project)
}

/// The folder of the nearest project file, as a prefix of paths.
fn folder_of_project(files: &dyn Files) -> Option<String> {
    (0..HIGHEST)
        .map(|steps| "../".repeat(steps))
        .find(|folder| files.exists(&format!("{folder}{PROJECT_FILE}")))
}
