//! JSON Schemas (2020-12): of the documents, made from the table of fields, and of the JSON results, made
//! from the shapes that are written. An editor completes and checks by the first; programs rely on the second.
//!
//! A schema of a document refuses no document that the program reads. It sees keys, words, signs, units and
//! statements of uncertainty; what hangs on several values, or on what is missing, the program tells.

mod document;
mod node;
mod quantity;
#[cfg(test)]
mod tests;

use crate::json;
use sumpwright_core::document::DocumentKind;

/// The edition of JSON Schema.
const DIALECT: &str = "https://json-schema.org/draft/2020-12/schema";

/// A schema that can be written.
#[derive(Debug)]
pub struct Schema {
    /// The word by which it is chosen.
    pub name: &'static str,
    /// What it is of, in a few words.
    pub of: &'static str,
    /// Writes it.
    pub write: fn() -> String,
}

/// All schemas: those of documents, then those of results.
pub const SCHEMAS: &[Schema] = &[
    Schema {
        name: "pan",
        of: "the description of a pan",
        write: || document::schema(DocumentKind::Pan),
    },
    Schema {
        name: "vehicle",
        of: "the description of a vehicle",
        write: || document::schema(DocumentKind::Vehicle),
    },
    Schema {
        name: "oil",
        of: "the description of an oil",
        write: || document::schema(DocumentKind::Oil),
    },
    Schema {
        name: "duty",
        of: "the states a pan must live in",
        write: || document::schema(DocumentKind::Duty),
    },
    Schema {
        name: "rulebook",
        of: "rules with their cases",
        write: || document::schema(DocumentKind::Rulebook),
    },
    Schema {
        name: "project",
        of: "where the documents of a repository live (sumpwright.yaml)",
        write: || document::schema(DocumentKind::Project),
    },
    Schema {
        name: "checklist",
        of: "a customer's written list and what answers it",
        write: || document::schema(DocumentKind::Checklist),
    },
    Schema {
        name: "concessions",
        of: "departures that were accepted",
        write: || document::schema(DocumentKind::Concessions),
    },
    Schema {
        name: "remarks",
        of: "what a reviewer has to say of findings",
        write: || document::schema(DocumentKind::Remarks),
    },
    Schema {
        name: "declaration",
        of: "what a supplier declares",
        write: || document::schema(DocumentKind::Declaration),
    },
    Schema {
        name: "review",
        of: "what `review --format json` writes",
        write: json::schema_of_review,
    },
    Schema {
        name: "measure",
        of: "what `measure --format json` writes",
        write: json::schema_of_measured,
    },
    Schema { name: "prove", of: "what `prove --format json` writes", write: json::schema_of_proof },
    Schema {
        name: "explain",
        of: "what `explain --format json` writes",
        write: json::schema_of_explanation,
    },
    Schema {
        name: "compare",
        of: "what `compare --format json` writes of two rulebooks",
        write: json::schema_of_comparison,
    },
    Schema {
        name: "compare_pans",
        of: "what `compare --format json` writes of a pan and its baseline",
        write: json::schema_of_pans_compared,
    },
    Schema {
        name: "declare",
        of: "what `declare --format json` writes",
        write: json::schema_of_declared,
    },
    Schema {
        name: "confirm",
        of: "what `confirm --format json` writes",
        write: json::schema_of_confirmation,
    },
];
