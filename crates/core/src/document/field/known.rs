//! The fields of a list of known findings.

use super::{BOUND, COUNT, LIST, PATH, TEXT, rows, words};
use crate::document::known::KNOWN_VERDICTS;

rows! { KnownFindings;
    "known_findings": COUNT, "The edition of this kind of document: 1.";
    "findings": LIST, "What is known, a finding a line; `sumpwright screen --write-known` writes them.";
    "findings.*.pan": PATH, "The description of the pan, from the folder of the project.";
    "findings.*.rule": TEXT, "The id of the rule, as the review prints it.";
    "findings.*.object": TEXT, "The object, as the review prints it behind the rule: `fins.keel`.", optional();
    "findings.*.at": TEXT, "The dotted path of the value that the finding points at.";
    "findings.*.verdict": words(KNOWN_VERDICTS), "The verdict that is known; a graver one is new.";
    "findings.*.value": BOUND, "The value that is known; one further outside the limit is new.", optional();
}
