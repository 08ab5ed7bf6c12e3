//! Every format, once: a name, what it is, and the functions that write it.

use crate::{json, terminal};
use sumpwright_core::compare::Comparison;
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
    /// Writes a review.
    pub review: fn(&Review, &Options) -> String,
    /// Writes readings.
    pub measured: fn(&Measured, &Options) -> String,
    /// Writes an explanation.
    pub explanation: fn(&Explanation, &Options) -> String,
    /// Writes a proof.
    pub proof: fn(&Proof, &Options) -> String,
    /// Writes a comparison.
    pub comparison: fn(&Comparison, &Options) -> String,
}

/// For people, on a terminal or on paper.
pub const TEXT: Format = Format {
    name: "text",
    media_type: "text/plain; charset=utf-8",
    extension: "txt",
    review: terminal::review,
    measured: terminal::measured,
    explanation: terminal::explanation,
    proof: terminal::proof,
    comparison: terminal::comparison,
};

/// For programs.
pub const JSON: Format = Format {
    name: "json",
    media_type: "application/json",
    extension: "json",
    review: |review, _| json::review(review),
    measured: |measured, _| json::measured(measured),
    explanation: |explanation, _| json::explanation(explanation),
    proof: |proof, _| json::proof(proof),
    comparison: |comparison, _| json::comparison(comparison),
};

/// All formats; the first is the default.
pub const FORMATS: &[Format] = &[TEXT, JSON];

/// The format of a name.
pub fn find(name: &str) -> Option<&'static Format> {
    FORMATS.iter().find(|format| format.name == name)
}
