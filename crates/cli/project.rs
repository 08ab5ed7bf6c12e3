//! The project that a run belongs to: the nearest `sumpwright.yaml` above the working directory.

use crate::select;
use std::path::Path;
use sumpwright_core::document::Text;
use sumpwright_core::document::dossier::tidy;
use sumpwright_core::document::project::PROJECT_FILE;
use sumpwright_core::review::{self, ProjectRead, Review};
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
    /// The list of known findings, there or not.
    pub(crate) known: Option<String>,
    /// The project's file; none without a project.
    pub(crate) file: Option<String>,
    /// Its folder, as a prefix of paths; empty for the working directory.
    pub(crate) folder: String,
}

impl Project {
    /// A path as the patterns of the project spell it, so that one file has one name; what lies outside stays as it is.
    pub(crate) fn spelled(&self, name: &str) -> String {
        let plain = tidy(name);
        let folder = if self.folder.is_empty() { "." } else { &self.folder };
        let real = |path: &str| Path::new(path).canonicalize().ok();
        let (Some(here), Some(top)) = (real("."), real(folder)) else { return plain };
        let whole = here.join(&plain).to_string_lossy().replace('\\', "/");
        let top = top.to_string_lossy().replace('\\', "/");
        let inside = tidy(&whole);
        let inside = inside.strip_prefix(&tidy(&top)).and_then(|rest| rest.strip_prefix('/'));
        inside.map_or(plain, |inside| format!("{}{inside}", self.folder))
    }
}

/// The nearest project.
///
/// # Errors
/// What is wrong with its file, as a review without pans: a pattern that matches nothing is among it.
pub(crate) fn nearest(files: &dyn Files) -> Result<Project, Box<Review>> {
    let Some(folder) = folder_of_project(files) else { return Ok(Project::default()) };
    let path = format!("{folder}{PROJECT_FILE}");
    let ProjectRead { project, mut read } = review::read_project_file(files, &path);
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
        known: project.known_findings.map(|known| format!("{folder}{}", known.text)),
        file: Some(path),
        folder,
    };
    if read.problems.iter().any(|problem| problem.severity == Severity::Error) {
        return Err(Box::new(read));
    }
    Ok(project)
}

/// What is wrong with a project whose list of known findings is not there; nothing where it is, or none is named.
pub(crate) fn without_list(files: &dyn Files, project: &Project) -> Option<Box<Review>> {
    let known = project.known.as_ref().filter(|known| !files.exists(known))?;
    let ProjectRead { project: doc, mut read } =
        review::read_project_file(files, project.file.as_ref()?);
    let span = doc?.known_findings?.span;
    let problem = Diagnostic::error(Code::BadReference, span, format!("there is no file {known}"));
    let help = "correct the name, or bring the file back; `sumpwright screen --write-known` writes it anew, with all \
                that is found now";
    read.problems.push(problem.help(help));
    Some(Box::new(read))
}

/// The folder of the nearest project file, as a prefix of paths.
fn folder_of_project(files: &dyn Files) -> Option<String> {
    (0..HIGHEST)
        .map(|steps| "../".repeat(steps))
        .find(|folder| files.exists(&format!("{folder}{PROJECT_FILE}")))
}
