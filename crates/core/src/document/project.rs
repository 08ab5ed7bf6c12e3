//! A project: where the documents of a repository live. Its folder is the root that references may not leave.

use super::Text;
use super::pan::Word;
use crate::quantity::Given;
use crate::source::Span;

/// The name of a project's file.
pub const PROJECT_FILE: &str = "sumpwright.yaml";

/// A project.
#[derive(Debug, Clone)]
pub struct Project {
    /// The key that says the kind.
    pub span: Span,
    /// `title`.
    pub title: Given<Text>,
    /// `pans`: paths or patterns from the project's folder.
    pub pans: Vec<Text>,
    /// `rulebooks`: likewise; empty where the built-in one is used.
    pub rulebooks: Vec<Text>,
    /// `checklists`: likewise; empty where the pans are held against none.
    pub checklists: Vec<Text>,
    /// `concessions`: likewise.
    pub concessions: Vec<Text>,
    /// `concession_days`: the longest term of a concession, in days.
    pub concession_days: Option<Word<u32>>,
    /// `known_findings`: the path of the list.
    pub known_findings: Option<Text>,
}
