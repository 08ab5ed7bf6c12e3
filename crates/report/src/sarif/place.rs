//! Spans as locations.

use super::wire::{ArtifactLocation, Location, LogicalLocation, Message, Physical, Region, Text};
use crate::place;
use core::fmt::Write as _;
use sumpwright_core::source::{Sources, Span};

/// The longest excerpt that is copied out of a file, in characters.
const SNIPPET: usize = 400;

/// Where a span stands, with what is said there and the path inside the document.
pub(super) fn location(
    sources: &Sources,
    span: Span,
    said: &str,
    inside: Option<&str>,
) -> Location {
    let (start, end) = (place::start(sources, span), place::end(sources, span));
    let snippet: String =
        sources.slice(place::clamp(sources, span)).chars().take(SNIPPET).collect();
    Location {
        physical_location: Physical {
            artifact_location: ArtifactLocation { uri: uri(&start.path) },
            region: Region {
                start_line: start.line,
                start_column: start.column,
                end_line: end.line,
                end_column: end.column,
                snippet: (!snippet.is_empty()).then_some(Text { text: snippet }),
            },
        },
        logical_locations: inside
            .map(|path| LogicalLocation { fully_qualified_name: path.to_owned() })
            .into_iter()
            .collect(),
        message: (!said.is_empty()).then(|| Message::text(crate::said::unglued(said))),
    }
}

/// A path as a relative reference of RFC 3986: forward slashes, every other byte than the unreserved ones as `%XX`.
/// A path that begins with a slash becomes a `file` URI.
pub(super) fn uri(path: &str) -> String {
    let slashed = path.replace('\\', "/");
    let mut out = String::from(if slashed.starts_with('/') { "file://" } else { "" });
    for byte in slashed.bytes() {
        match byte {
            b'A'..=b'Z' | b'a'..=b'z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => {
                out.push(char::from(byte));
            }
            // Writing into a string does not fail.
            _ => drop(write!(out, "%{byte:02X}")),
        }
    }
    out
}
