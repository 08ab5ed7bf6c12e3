//! The shape of a statement: in-toto Statement v1 with a predicate of our own.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The type of the statement.
pub(super) const STATEMENT_TYPE: &str = "https://in-toto.io/Statement/v1";
/// The type of its predicate; the number grows when a key changes its meaning.
pub(super) const PREDICATE_TYPE: &str = "urn:sumpwright:declaration:1";
/// The type of the outcome alone.
pub(super) const TEST_RESULT_TYPE: &str = "https://in-toto.io/attestation/test-result/v0.1";

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct StatementWire<P> {
    #[serde(rename = "_type")]
    pub(super) kind: String,
    pub(super) subject: Vec<DescriptorWire>,
    #[serde(rename = "predicateType")]
    pub(super) predicate_type: String,
    pub(super) predicate: P,
}

#[derive(Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct DescriptorWire {
    pub(super) name: String,
    pub(super) digest: DigestWire,
}

#[derive(Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct DigestWire {
    pub(super) sha256: String,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct PredicateWire {
    pub(super) number: String,
    pub(super) supersedes: Option<String>,
    pub(super) issuer: IssuerWire,
    pub(super) objects: Vec<ObjectWire>,
    pub(super) serials: Vec<String>,
    pub(super) statement: String,
    pub(super) requirements: RequirementsWire,
    pub(super) issued: IssuedWire,
    pub(super) signatory: PersonWire,
    pub(super) limits: LimitsWire,
    pub(super) assessed_by: Option<AssessorWire>,
    pub(super) kept_in_line: Option<String>,
    pub(super) kept_until: Option<String>,
    pub(super) evidence: Vec<EvidenceWire>,
    pub(super) judged: JudgedWire,
    pub(super) results: Vec<ResultWire>,
    pub(super) clauses: Vec<ClauseWire>,
    pub(super) files: Vec<FileWire>,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct IssuerWire {
    pub(super) name: String,
    pub(super) address: String,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct PersonWire {
    pub(super) name: String,
    pub(super) function: String,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct AssessorWire {
    pub(super) name: String,
    pub(super) function: String,
    pub(super) competence: String,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct ObjectWire {
    pub(super) pan: String,
    pub(super) name: String,
    pub(super) revision: Option<String>,
    pub(super) part_number: Option<String>,
    /// `as designed` or `as made`.
    pub(super) state: String,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct RequirementsWire {
    /// The rulebook's files, in the order in which they are taken.
    pub(super) rulebook: Vec<String>,
    /// SHA-256 of the rules in their canonical form.
    pub(super) edition: String,
    pub(super) rules: Vec<RuleWire>,
    pub(super) checklists: Vec<String>,
    pub(super) concessions: Vec<String>,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct RuleWire {
    pub(super) id: String,
    pub(super) edition: String,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct IssuedWire {
    pub(super) on: String,
    pub(super) at: String,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct LimitsWire {
    #[serde(rename = "use")]
    pub(super) purpose: Option<String>,
    pub(super) until: Option<String>,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct EvidenceWire {
    pub(super) name: String,
    pub(super) path: String,
    pub(super) sha256: String,
    pub(super) shows: String,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct JudgedWire {
    /// The program.
    pub(super) by: String,
    pub(super) version: String,
    /// The document that was declared from.
    pub(super) from: String,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct ResultWire {
    pub(super) pan: String,
    pub(super) rule: String,
    pub(super) object: Option<String>,
    pub(super) verdict: String,
    /// Bounds of the reading in SI base units; `null` where there is none.
    pub(super) low: Option<f64>,
    pub(super) high: Option<f64>,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct ClauseWire {
    pub(super) list: String,
    pub(super) pan: String,
    pub(super) clause: String,
    pub(super) number: Option<String>,
    pub(super) says: String,
    pub(super) binding: bool,
    pub(super) answer: String,
    /// The document and what it shows, or the person and the words; `null` where only rules answer.
    pub(super) word: Option<String>,
    pub(super) rules: Vec<String>,
}

#[derive(Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct FileWire {
    pub(super) name: String,
    pub(super) role: String,
    pub(super) sha256: String,
    /// Why it is not handed over; `null` where it is.
    pub(super) withheld: Option<String>,
}

/// The predicate of a test result, as its own text has it.
#[derive(Debug, Serialize)]
pub(super) struct TestResultWire {
    pub(super) result: &'static str,
    pub(super) configuration: Vec<DescriptorWire>,
    #[serde(rename = "passedTests")]
    pub(super) passed: Vec<String>,
    #[serde(rename = "warnedTests")]
    pub(super) warned: Vec<String>,
    #[serde(rename = "failedTests")]
    pub(super) failed: Vec<String>,
}

/// A DSSE 1.0 envelope.
#[derive(Debug, Serialize, Deserialize)]
pub(super) struct EnvelopeWire {
    #[serde(rename = "payloadType")]
    pub(super) payload_type: String,
    pub(super) payload: String,
    pub(super) signatures: Vec<SignatureWire>,
}

#[derive(Debug, Serialize, Deserialize)]
pub(super) struct SignatureWire {
    #[serde(default)]
    pub(super) keyid: String,
    pub(super) sig: String,
}
