//! The shapes of SARIF 2.1.0 that are used here, named as the standard names them.

use crate::json::ReadingWire;
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Debug, Serialize)]
pub(super) struct Log {
    #[serde(rename = "$schema")]
    pub(super) schema: &'static str,
    pub(super) version: &'static str,
    pub(super) runs: Vec<Run>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Run {
    pub(super) tool: Tool,
    pub(super) invocations: Vec<Invocation>,
    pub(super) artifacts: Vec<Artifact>,
    pub(super) column_kind: &'static str,
    pub(super) results: Vec<Results>,
    pub(super) properties: RunProperties,
}

#[derive(Debug, Serialize)]
pub(super) struct RunProperties {
    /// How many findings have each verdict, those not judged included.
    pub(super) counts: BTreeMap<String, usize>,
}

#[derive(Debug, Serialize)]
pub(super) struct Tool {
    pub(super) driver: Driver,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Driver {
    pub(super) name: &'static str,
    pub(super) version: &'static str,
    pub(super) semantic_version: &'static str,
    pub(super) rules: Vec<Rule>,
    pub(super) notifications: Vec<Rule>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Rule {
    pub(super) id: String,
    pub(super) short_description: Message,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) full_description: Option<Message>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) help: Option<Message>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) default_configuration: Option<Configuration>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) properties: Option<RuleProperties>,
}

impl Rule {
    /// A descriptor of which only the sentence is known.
    pub(super) fn described(id: &str, sentence: &str) -> Self {
        Self {
            id: id.to_owned(),
            short_description: Message::text(sentence.to_owned()),
            full_description: None,
            help: None,
            default_configuration: None,
            properties: None,
        }
    }
}

#[derive(Debug, Serialize)]
pub(super) struct Configuration {
    pub(super) level: &'static str,
}

#[derive(Debug, Serialize)]
pub(super) struct RuleProperties {
    pub(super) force: &'static str,
    pub(super) measure: String,
    pub(super) source: String,
}

#[derive(Debug, Serialize)]
pub(super) struct Message {
    text: String,
}

impl Message {
    pub(super) fn text(text: String) -> Self {
        Self { text }
    }
}

#[derive(Debug, Serialize)]
pub(super) struct Text {
    pub(super) text: String,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Invocation {
    pub(super) execution_successful: bool,
    pub(super) tool_execution_notifications: Vec<Notification>,
    pub(super) tool_configuration_notifications: Vec<Notification>,
}

#[derive(Debug, Serialize)]
pub(super) struct Notification {
    pub(super) level: &'static str,
    pub(super) descriptor: Descriptor,
    pub(super) message: Message,
    pub(super) locations: Vec<Location>,
}

#[derive(Debug, Serialize)]
pub(super) struct Descriptor {
    pub(super) id: String,
}

#[derive(Debug, Serialize)]
pub(super) struct Artifact {
    pub(super) location: ArtifactLocation,
}

#[derive(Debug, Serialize)]
pub(super) struct ArtifactLocation {
    pub(super) uri: String,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
#[expect(clippy::struct_field_names, reason = "the names are those of the standard")]
pub(super) struct Location {
    pub(super) physical_location: Physical,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) logical_locations: Vec<LogicalLocation>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) message: Option<Message>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct LogicalLocation {
    pub(super) fully_qualified_name: String,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Physical {
    pub(super) artifact_location: ArtifactLocation,
    pub(super) region: Region,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Region {
    pub(super) start_line: usize,
    pub(super) start_column: usize,
    pub(super) end_line: usize,
    pub(super) end_column: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) snippet: Option<Text>,
}

#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Results {
    pub(super) rule_id: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) rule_index: Option<usize>,
    pub(super) kind: &'static str,
    pub(super) level: &'static str,
    pub(super) message: Message,
    pub(super) locations: Vec<Location>,
    pub(super) related_locations: Vec<Location>,
    pub(super) partial_fingerprints: BTreeMap<&'static str, String>,
    /// On every result of a run or on none, as the standard asks: an empty list means that it is not suppressed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) suppressions: Option<Vec<Suppression>>,
    pub(super) properties: ResultProperties,
}

/// That a person lets a result stand, or wanted to.
#[derive(Debug, Serialize)]
pub(super) struct Suppression {
    pub(super) kind: &'static str,
    pub(super) status: &'static str,
    pub(super) justification: String,
    pub(super) location: Location,
}

/// What the standard has no place for: the verdict by its name, what was computed, and what was asked.
#[derive(Debug, Serialize)]
pub(super) struct ResultProperties {
    pub(super) verdict: &'static str,
    pub(super) reading: ReadingWire,
    pub(super) limits: Vec<LimitProperties>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) remarks: Vec<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) computed_changes: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) clause: Option<ClauseProperties>,
}

/// Of a clause of a customer's list: on which pan, and whether it must be met and is not shown to be.
#[derive(Debug, Serialize)]
pub(super) struct ClauseProperties {
    pub(super) pan: String,
    pub(super) binding: bool,
    pub(super) against: bool,
}

/// A limit with what is left to it.
#[derive(Debug, Serialize)]
pub(super) struct LimitProperties {
    pub(super) text: String,
    pub(super) margin: ReadingWire,
}
