//! YAML text to a tree of nodes, in one pass over parser events, with limits counted on the way.

use super::{Diagnostic, FileId, Node, Sources};

/// Reads one document. What is wrong goes to `problems`; a tree comes back as far as one can be made.
pub fn parse(_sources: &Sources, _file: FileId, _problems: &mut Vec<Diagnostic>) -> Option<Node> {
    None
}
