//! A review as bytes: terminal text, JSON, HTML, SARIF, JUnit XML and Markdown. Owns every wire shape; computes nothing, opens nothing.
//!
//! [`FORMATS`] is the list of formats; the host picks one by name and calls its function.

mod across;
mod beside;
mod changes;
mod computed;
mod conceded;
mod counts;
mod deciding;
mod declaration;
mod format;
mod html;
mod json;
mod junit;
mod markdown;
mod place;
mod said;
#[cfg(test)]
mod samples;
mod sarif;
mod scale;
mod schema;
mod screening;
mod si;
mod svg;
mod terminal;
mod told;
mod visible;

pub use declaration::{differences, envelope, made, read_envelope, read_statement};
pub use format::{FORMATS, Format, HTML, JSON, JUNIT, MARKDOWN, Options, SARIF, TEXT, find};
pub use schema::{SCHEMAS, Schema};
pub use svg::drawings;
pub use terminal::problems;
pub use visible::visible as made_visible;
