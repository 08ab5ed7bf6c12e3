//! A review as bytes: terminal text and JSON. Owns every wire shape; computes nothing, opens nothing.
//!
//! [`FORMATS`] is the list of formats; the host picks one by name and calls its function.

mod amount;
mod counts;
mod deciding;
mod format;
mod json;
mod place;
mod si;
mod terminal;
#[cfg(test)]
mod samples;
mod visible;

pub use format::{FORMATS, Format, Options, find};
