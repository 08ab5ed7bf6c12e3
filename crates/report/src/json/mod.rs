//! A review for programs: full precision, SI base units, the same bytes from run to run.
//!
//! A key is always there (`checklists` of a review only where lists were asked for); what there is none of is
//! `null` or an empty list. Numbers are in the unit that
//! stands beside them. Nothing in it depends on the machine, the clock or the page.

mod beside;
mod book;
mod checklist;
mod compare;
mod conceded;
mod confirmed;
mod coverage;
mod explain;
mod finding;
mod measured;
mod proof;
mod review;
mod wire;

pub(crate) use review::counts;
pub(crate) use wire::{ReadingWire, reading};

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde::Serialize;
use serde_json::Value;
use sumpwright_core::compare::{Comparison, PansCompared};
use sumpwright_core::confirm::Confirmation;
use sumpwright_core::declare::Declared;
use sumpwright_core::explain::Explanation;
use sumpwright_core::prove::Proof;
use sumpwright_core::review::{Measured, Review};

/// Name and version of the shape of a review; the version grows when a key changes its meaning.
const REVIEW_SCHEMA: &str = "sumpwright.review/1";

/// Name and version of the shape of readings.
const MEASURE_SCHEMA: &str = "sumpwright.measure/1";

/// Name and version of the shape of an explanation.
const EXPLAIN_SCHEMA: &str = "sumpwright.explain/1";

/// Name and version of the shape of a proof.
const PROOF_SCHEMA: &str = "sumpwright.proof/1";

/// Name and version of the shape of a comparison of two rulebooks.
const COMPARE_SCHEMA: &str = "sumpwright.compare_rulebooks/1";

/// Name and version of the shape of a comparison of pans.
const BESIDE_SCHEMA: &str = "sumpwright.compare_pans/1";

/// Name and version of the shape of what comes of declaring.
const DECLARE_SCHEMA: &str = "sumpwright.declare/1";

/// Name and version of the shape of what comes of confirming.
const CONFIRM_SCHEMA: &str = "sumpwright.confirm/1";

/// What came of declaring.
pub(crate) fn declared(declared: &Declared) -> String {
    pretty(&confirmed::declared(declared))
}

/// What came of judging a declaration again.
pub(crate) fn confirmation(found: &Confirmation) -> String {
    pretty(&confirmed::confirmed(found))
}

/// The JSON Schema of what comes of declaring.
pub(crate) fn schema_of_declared() -> String {
    schema::<confirmed::DeclaredWire>(DECLARE_SCHEMA)
}

/// The JSON Schema of what comes of confirming.
pub(crate) fn schema_of_confirmation() -> String {
    schema::<confirmed::ConfirmedWire>(CONFIRM_SCHEMA)
}

/// A pan beside its baseline.
pub(crate) fn pans_compared(compared: &PansCompared) -> String {
    pretty(&beside::document(compared))
}

/// Two rulebooks beside each other.
pub(crate) fn comparison(comparison: &Comparison) -> String {
    pretty(&compare::document(comparison))
}

/// A rule, a measure, or the list of all.
pub(crate) fn explanation(explanation: &Explanation) -> String {
    pretty(&explain::document(explanation))
}

/// A rulebook against its own cases.
pub(crate) fn proof(proof: &Proof) -> String {
    pretty(&proof::document(proof))
}

/// A review.
pub(crate) fn review(review: &Review) -> String {
    pretty(&review::document(review))
}

/// Readings.
pub(crate) fn measured(measured: &Measured) -> String {
    pretty(&measured::document(measured))
}

/// The JSON Schema of a review.
pub(crate) fn schema_of_review() -> String {
    schema::<review::ReviewWire>(REVIEW_SCHEMA)
}

/// The JSON Schema of readings.
pub(crate) fn schema_of_measured() -> String {
    schema::<measured::MeasuredWire>(MEASURE_SCHEMA)
}

/// The JSON Schema of an explanation.
pub(crate) fn schema_of_explanation() -> String {
    schema::<explain::ExplanationWire>(EXPLAIN_SCHEMA)
}

/// The JSON Schema of a proof.
pub(crate) fn schema_of_proof() -> String {
    schema::<proof::ProofWire>(PROOF_SCHEMA)
}

/// The JSON Schema of a comparison of two rulebooks.
pub(crate) fn schema_of_comparison() -> String {
    schema::<compare::ComparisonWire>(COMPARE_SCHEMA)
}

/// The JSON Schema of a comparison of pans.
pub(crate) fn schema_of_pans_compared() -> String {
    schema::<beside::BesideWire>(BESIDE_SCHEMA)
}

/// The schema of a shape as it is written, with its name and version.
fn schema<T: JsonSchema>(version: &str) -> String {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let mut schema = settings.into_generator().into_root_schema_for::<T>();
    schema.insert("$id".to_owned(), format!("urn:{}", version.replace(['.', '/'], ":")).into());
    schema.insert("title".to_owned(), version.into());
    let version_of = schema.pointer_mut("/properties/schema").and_then(Value::as_object_mut);
    if let Some(keyword) = version_of {
        keyword.insert("const".to_owned(), version.into());
    }
    pretty(&schema)
}

/// Pretty JSON with a final line end, in which characters that could act on a terminal are escaped too:
/// the same text to a program, and nothing unseen to a person who looks.
pub(crate) fn pretty(document: &impl Serialize) -> String {
    // Maps have text keys only and numbers are finite or null, so this does not fail.
    let text = serde_json::to_string_pretty(document).unwrap_or_else(|_| "null".to_owned());
    let mut out = String::with_capacity(text.len() + 1);
    for c in text.chars() {
        if c == '\n' || crate::visible::is_seen(c) {
            out.push(c);
        } else {
            out.extend(c.encode_utf16(&mut [0; 2]).iter().map(|unit| format!("\\u{unit:04x}")));
        }
    }
    out.push('\n');
    out
}

#[cfg(test)]
mod tests;
