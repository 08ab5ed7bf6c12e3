//! Every format, once: a name, what it is, and the functions that write it.

use crate::{beside, html, json, junit, markdown, sarif, terminal};
use sumpwright_core::compare::{Comparison, PansCompared};
use sumpwright_core::confirm::Confirmation;
use sumpwright_core::declare::Declared;
use sumpwright_core::explain::Explanation;
use sumpwright_core::prove::Proof;
use sumpwright_core::review::{Measured, Review};

/// How a format for people is laid out; formats for machines look at none of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Options {
    /// Columns of the page.
    pub width: usize,
    /// Whether the severity words and markers are coloured.
    pub colour: bool,
    /// Whether only ASCII is printed.
    pub plain: bool,
    /// Whether conforming rules and whole lists are printed too.
    pub all: bool,
}

/// A way to write a review.
#[derive(Debug)]
pub struct Format {
    /// The word by which it is chosen.
    pub name: &'static str,
    /// Its media type.
    pub media_type: &'static str,
    /// The usual ending of its files, without a dot.
    pub extension: &'static str,
    /// Whether it has drawings, so that they have to be made.
    pub drawn: bool,
    /// Writes a review.
    pub review: fn(&Review, &Options) -> String,
    /// Writes readings; none where the format has no place for them.
    pub measured: Option<fn(&Measured, &Options) -> String>,
    /// Writes an explanation; likewise.
    pub explanation: Option<fn(&Explanation, &Options) -> String>,
    /// Writes a proof; likewise.
    pub proof: Option<fn(&Proof, &Options) -> String>,
    /// Writes a comparison; likewise.
    pub comparison: Option<fn(&Comparison, &Options) -> String>,
    /// Writes a pan beside its baseline; likewise.
    pub pans_compared: Option<fn(&PansCompared, &Options) -> String>,
    /// Writes what came of declaring; likewise.
    pub declared: Option<fn(&Declared, &Options) -> String>,
    /// Writes what came of judging a declaration again; likewise.
    pub confirmation: Option<fn(&Confirmation, &Options) -> String>,
}

/// For people, on a terminal or on paper.
pub const TEXT: Format = Format {
    name: "text",
    media_type: "text/plain; charset=utf-8",
    extension: "txt",
    drawn: false,
    review: terminal::review,
    measured: Some(terminal::measured),
    explanation: Some(terminal::explanation),
    proof: Some(terminal::proof),
    comparison: Some(terminal::comparison),
    pans_compared: Some(terminal::pans_compared),
    declared: Some(terminal::declared),
    confirmation: Some(terminal::confirmation),
};

/// For programs.
pub const JSON: Format = Format {
    name: "json",
    media_type: "application/json",
    extension: "json",
    drawn: false,
    review: |review, _| json::review(review),
    measured: Some(|measured, _| json::measured(measured)),
    explanation: Some(|explanation, _| json::explanation(explanation)),
    proof: Some(|proof, _| json::proof(proof)),
    comparison: Some(|comparison, _| json::comparison(comparison)),
    pans_compared: Some(|compared, _| json::pans_compared(compared)),
    declared: Some(|declared, _| json::declared(declared)),
    confirmation: Some(|found, _| json::confirmation(found)),
};

/// For programs that show the results of checks of files: SARIF 2.1.0.
pub const SARIF: Format = Format {
    name: "sarif",
    media_type: "application/sarif+json",
    extension: "sarif",
    drawn: false,
    review: |review, _| sarif::review(review),
    measured: None,
    explanation: None,
    proof: None,
    comparison: None,
    pans_compared: None,
    declared: None,
    confirmation: None,
};

/// For programs that show the results of tests: JUnit XML.
pub const JUNIT: Format = Format {
    name: "junit",
    media_type: "application/xml",
    extension: "xml",
    drawn: false,
    review: |review, _| junit::review(review),
    measured: None,
    explanation: None,
    proof: None,
    comparison: None,
    pans_compared: None,
    declared: None,
    confirmation: None,
};

/// For a merge request.
pub const MARKDOWN: Format = Format {
    name: "markdown",
    media_type: "text/markdown; charset=utf-8",
    extension: "md",
    drawn: false,
    review: |review, _| markdown::review(review),
    measured: None,
    explanation: None,
    proof: None,
    comparison: None,
    pans_compared: Some(|compared, _| beside::markdown::pans_compared(compared)),
    declared: None,
    confirmation: None,
};

/// For a browser or a printer.
pub const HTML: Format = Format {
    name: "html",
    media_type: "text/html; charset=utf-8",
    extension: "html",
    drawn: true,
    review: |review, _| html::review(review),
    measured: Some(|measured, _| html::measured(measured)),
    explanation: Some(|explanation, _| html::explanation(explanation)),
    proof: Some(|proof, _| html::proof(proof)),
    comparison: Some(|comparison, _| html::comparison(comparison)),
    pans_compared: Some(|compared, _| html::pans_compared(compared)),
    declared: Some(|declared, _| html::declared(declared)),
    confirmation: Some(|found, _| html::confirmation(found)),
};

/// All formats; the first is the default.
pub const FORMATS: &[Format] = &[TEXT, HTML, JSON, SARIF, JUNIT, MARKDOWN];

/// The format of a name.
pub fn find(name: &str) -> Option<&'static Format> {
    FORMATS.iter().find(|format| format.name == name)
}
