//! What the parser refuses, said in the words of someone who writes a description.

use super::limits::{self, offset, reached};
use crate::source::{Code, Diagnostic, FileId, Span};
use granit_parser::ErrorKind;

const QUOTE: &str = "quote the value, or write this mapping over several lines";

/// The diagnostic for a refusal at byte `start`. `bracket` is the innermost open bracket and
/// `last` the single value read last.
pub(super) fn describe(
    text: &str,
    file: FileId,
    kind: &ErrorKind,
    start: usize,
    bracket: Option<Span>,
    last: Option<Span>,
) -> Diagnostic {
    // Wherever the parser gave up, this is why.
    if let Some(mark) = mark_of_a_merge(text) {
        let span = Span { file, start: offset(mark), end: offset(mark + MARK) };
        return Diagnostic::error(Code::YamlSyntax, span, "a merge was left unfinished here")
            .help("keep what is to stand of the two sides, and delete the lines with the marks");
    }
    // The parser notices a tab once it is past it.
    let start = match start.checked_sub(1) {
        Some(before) if text.as_bytes().get(before) == Some(&b'\t') => before,
        _ => start,
    };
    let span = token(text, file, start);
    if matches!(kind, ErrorKind::RecursionLimitExceeded) {
        let what = "or more mappings and lists one within another";
        return reached(span, "depth", limits::DEPTH + 1, limits::DEPTH, what);
    }
    let runs_on = last.is_some_and(|l| slice(text, l).contains('\n'));
    let (message, help) = words(kind, slice(text, span), bracket.is_some(), runs_on);
    let mut problem = Diagnostic::error(Code::YamlSyntax, span, message).labelled(kind.to_string());
    if let Some(bracket) = bracket.filter(|b| b.start != span.start) {
        let open = slice(text, bracket);
        problem = problem.also(bracket, format!("this `{open}` is still open there"));
    } else if let Some(last) = last.filter(|_| runs_on) {
        problem = problem.also(last, "read as one value over several lines");
    }
    problem.help(help)
}

/// A message and what to do.
type Words = (String, &'static str);

/// The message and what to do.
fn words(kind: &ErrorKind, found: &str, in_brackets: bool, runs_on: bool) -> Words {
    of_brackets(kind, found)
        .or_else(|| of_lines(kind, in_brackets, runs_on))
        .or_else(|| of_values(kind, found))
        .unwrap_or_else(|| {
            fixed(
                "the text is not YAML from here on",
                "look for a missing colon, bracket or quotation mark on this line or the one above",
            )
        })
}

fn fixed(message: &str, help: &'static str) -> Words {
    (message.to_owned(), help)
}

fn of_brackets(kind: &ErrorKind, found: &str) -> Option<Words> {
    use ErrorKind as K;
    Some(match kind {
        K::UnclosedFlowCollection { open } => (
            format!("this `{open}` is never closed"),
            "close it; a list or mapping that grows is easier to read over several lines",
        ),
        K::MismatchedFlowCollectionEnd { open, close } => (
            format!("`{close}` closes what `{open}` opened"),
            "close each bracket with its own kind",
        ),
        K::MisplacedFlowCollectionEnd => {
            (format!("`{found}` closes nothing"), "delete it, or quote the value it belongs to")
        }
        K::ExpectedFlowMappingSeparator
        | K::ExpectedFlowSequenceSeparator
        | K::InvalidColonPlacement
        | K::FlowMappingValueAdjacentCollection
        | K::UnexpectedEofFlowMapping
        | K::UnexpectedEofFlowSequence
        | K::UnexpectedEofImplicitFlowMapping => {
            (format!("a comma or a closing bracket was expected before `{found}`"), QUOTE)
        }
        K::BlockEntryInFlowCollection | K::PlainScalarStartsWithDashFlowIndicator => {
            fixed("a dash cannot begin an item between brackets", QUOTE)
        }
        _ => return None,
    })
}

fn of_lines(kind: &ErrorKind, in_brackets: bool, runs_on: bool) -> Option<Words> {
    use ErrorKind as K;
    Some(match kind {
        K::TabNotAllowed
        | K::TabInBlockIndentation
        | K::TabAtBlockScalarStart
        | K::TabInIndentation
        | K::TabInPlainScalar => {
            fixed("a tab stands where only blanks may", "replace the tab with blanks")
        }
        K::MappingValueNotAllowed if runs_on => fixed(
            "this line goes on with the value above it, so it cannot hold a colon",
            "begin it in the same column as the key it belongs beside",
        ),
        K::MappingValueNotAllowed if in_brackets => {
            fixed("a second colon stands in one value", QUOTE)
        }
        K::MappingValueNotAllowed => fixed(
            "a second colon stands in one line",
            "quote the value that holds `: `, or begin a mapping on the next line",
        ),
        K::SimpleKeyExpected | K::InvalidSimpleKey => fixed(
            "a key with a colon after it was expected",
            "write `key: value`; mind that a key stands on one line",
        ),
        K::InvalidIndentation
        | K::ExpectedBlockMappingKey
        | K::ExpectedBlockSequenceEntry
        | K::BlockSequenceEntryNotAllowed
        | K::InvalidBlockEntryWhitespace
        | K::InvalidBlockScalarIndent
        | K::InvalidQuotedScalarIndent
        | K::InvalidFlowScalarIndent
        | K::MappingKeyNotAllowed
        | K::UnexpectedEofBlockMapping
        | K::UnexpectedEofBlockSequence => fixed(
            "this does not line up with what stands above it",
            "begin every key of one mapping, and every dash of one list, in the same column",
        ),
        K::DirectiveDisallowed => fixed("a line that begins with `%` is not read", "delete it"),
        K::BomInsideDocument => fixed("a byte order mark stands within the text", "delete it"),
        _ => return None,
    })
}

fn of_values(kind: &ErrorKind, found: &str) -> Option<Words> {
    use ErrorKind as K;
    Some(match kind {
        K::UnclosedQuotedScalar | K::DocumentIndicatorInQuotedScalar => fixed(
            "this quotation mark is never closed",
            "close it; within '…' a ' is written twice",
        ),
        K::InvalidBlockScalarHeader | K::ZeroBlockScalarIndent => fixed(
            "after `|` or `>` the text begins on the next line",
            "begin the text below, or quote a value that begins with `|` or `>`",
        ),
        K::UnexpectedCharacter { character: '`' } => {
            fixed("a value cannot begin with a backtick", "quote the value")
        }
        K::UnexpectedCharacter { character } => {
            (format!("a value cannot begin with `{character}`"), "quote the value")
        }
        K::InvalidTrailingSingleQuotedScalar | K::InvalidTrailingDoubleQuotedScalar => (
            format!("`{found}` follows a closing quotation mark"),
            "put the whole value within the quotation marks",
        ),
        K::UnknownQuotedScalarEscape
        | K::InvalidQuotedScalarHexEscape
        | K::InvalidLowSurrogateHexEscape
        | K::InvalidLowSurrogate
        | K::MissingLowSurrogate
        | K::UnpairedLowSurrogate
        | K::InvalidUnicodeEscape => fixed(
            "an escape within \"…\" that means nothing",
            "write the path with forward slashes, or the text within '…'",
        ),
        K::CommentInterceptedScalar | K::CommentNotSeparated => fixed(
            "a comment stands within a value",
            "put a blank before the `#`, or quote the value",
        ),
        K::MissingAnchorOrAliasName => {
            fixed("an anchor or alias without a name", "quote a value that begins with `&` or `*`")
        }
        K::ExpectedNodeContent => (format!("a value was expected, found `{found}`"), QUOTE),
        _ => return None,
    })
}

/// How long a mark is that version control leaves where two sides cannot be merged.
const MARK: usize = 7;

/// Where the first line begins that is such a mark.
fn mark_of_a_merge(text: &str) -> Option<usize> {
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        if ["<<<<<<< ", "||||||| ", ">>>>>>> "].iter().any(|mark| line.starts_with(mark)) {
            return Some(start);
        }
        start += line.len();
    }
    None
}

/// The word or sign at a place; at the end of the text, or of a line, nothing.
fn token(text: &str, file: FileId, start: usize) -> Span {
    let start = if start > text.len() { text.len() } else { start };
    let rest = text.get(start..).unwrap_or("");
    let word = rest.find(|c: char| !c.is_alphanumeric() && c != '_').unwrap_or(rest.len());
    let sign = rest.chars().next().filter(|c| !matches!(c, '\r' | '\n')).map_or(0, char::len_utf8);
    let length = if word == 0 { sign } else { word };
    Span { file, start: offset(start), end: offset(start + length) }
}

fn slice(text: &str, span: Span) -> &str {
    text.get(span.start as usize..span.end as usize).unwrap_or("")
}
