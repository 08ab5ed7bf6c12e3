//! Texts, spans and what is wrong with them: files become trees of nodes that know where they stand.
//! Knows nothing of pans or units.

mod code;
mod decode;
mod diagnostic;
mod files;
mod folder;
mod nearest;
mod node;
mod text;
pub mod yaml;

pub use code::Code;
pub use decode::{NotText, decode};
pub use diagnostic::{Diagnostic, Label, Severity, has_error};
pub use files::{FileProblem, Files, Recording};
pub use folder::{BUILT_IN_FOLDER, Folder};
pub use nearest::nearest;
pub use node::{Entry, Key, Node, Scalar, Value};
pub use text::{FileId, Place, Sources, Span};
pub use yaml::{parse, parse_within};
