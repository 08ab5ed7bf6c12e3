//! How much of anything a document may hold. A description is some kilobytes; these are far above
//! what a person writes and far below what hurts.

use crate::source::{Code, Diagnostic, Span};
use granit_parser::Options;

/// Bytes of the text of a description.
pub const TEXT_BYTES: usize = 4 << 20;
/// Bytes of the text of a rulebook.
pub const RULEBOOK_BYTES: usize = 8 << 20;
/// Mappings and lists that may be open at one place.
pub const DEPTH: usize = 64;
/// Keys, single values, lists and mappings, counted with all aliases written out.
pub const NODES: usize = 100_000;
/// Aliases, those of merge keys included.
pub const ALIASES: usize = 1_000;
/// Bytes of one single value or key.
pub const SCALAR_BYTES: usize = 64 << 10;
/// Keys of one mapping, merged ones included.
pub const KEYS: usize = 10_000;
/// Bytes of all keys and single values with all aliases written out: without it 1 000 aliases to a
/// list of long texts stay within every other limit and take gigabytes.
pub const EXPANDED_BYTES: usize = 16 << 20;

/// A limit that was reached: what was counted, how many there are, and where.
pub(super) fn reached(
    span: Span,
    name: &str,
    found: usize,
    limit: usize,
    what: &str,
) -> Diagnostic {
    let message = format!("{found} {what}, at most {limit} are read ({name})");
    let help = "a description of this size is seldom meant: look for an alias or a list that repeats itself";
    Diagnostic::error(Code::LimitReached, span, message).help(help)
}

/// The parser's own bounds, set to ours.
pub(super) fn parser_options() -> Options {
    granit_parser::options! {
        disallow_directives: true,
        emit_unresolved_aliases: true,
        emit_comments: false,
        flow_nesting_limit: DEPTH,
        block_nesting_limit: DEPTH,
    }
}

/// A byte offset as spans hold it; texts are limited to a few MiB, so it always fits.
pub(super) fn offset(i: usize) -> u32 {
    u32::try_from(i).unwrap_or(u32::MAX)
}
