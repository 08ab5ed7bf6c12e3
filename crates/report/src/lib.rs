//! A review as bytes: terminal text and JSON. Owns every wire shape; computes nothing, opens nothing.
//!
//! [`FORMATS`] is the list of formats; the host picks one by name and calls its function.

mod counts;
mod deciding;
mod format;
mod json;
mod place;
#[cfg(test)]
mod samples;
mod scale;
mod si;
mod terminal;
mod visible;

pub use format::{FORMATS, Format, JSON, Options, TEXT, find};
pub use visible::visible as made_visible;
