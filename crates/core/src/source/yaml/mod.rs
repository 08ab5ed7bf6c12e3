//! From text to the tree of [`super::Node`], in one pass over the parser's events. What is wrong is
//! a diagnostic at its place. Nothing here recurses and every amount is bounded before it is
//! made, so that a small hostile file can take neither memory nor time.

mod anchors;
mod build;
mod limits;
mod places;
mod syntax;
#[cfg(test)]
mod tests;

use super::{Code, Diagnostic, FileId, Node, Sources, Span, decode::first_control};
use build::{Builder, Next};
use granit_parser::Parser;

pub use limits::{
    ALIASES, DEPTH, EXPANDED_BYTES, KEYS, NODES, RULEBOOK_BYTES, SCALAR_BYTES, TEXT_BYTES,
};

/// Reads one document of at most [`TEXT_BYTES`]. What is wrong goes to `problems`; a tree comes back
/// as far as one can be made: with duplicate keys, tags or a second document it does, with
/// broken syntax, a limit reached or an alias to nothing it does not.
pub fn parse(sources: &Sources, file: FileId, problems: &mut Vec<Diagnostic>) -> Option<Node> {
    parse_within(sources, file, TEXT_BYTES, problems)
}

/// As [`parse`], with another limit on the length of the text: [`RULEBOOK_BYTES`] for rulebooks.
pub fn parse_within(
    sources: &Sources,
    file: FileId,
    text_bytes: usize,
    problems: &mut Vec<Diagnostic>,
) -> Option<Node> {
    let text = sources.text(file);
    if let Err(problem) = check_text(text, file, text_bytes) {
        problems.push(*problem);
        return None;
    }
    let mut builder = Builder::new(text, file, problems);
    for step in Parser::new_from_str_with_options(text, limits::parser_options()) {
        let next = match step {
            Ok((event, span)) => builder.event(event, &span),
            Err(error) => Err(Box::new(builder.syntax_error(&error))),
        };
        match next {
            Ok(Next::Event) => {}
            Ok(Next::Stop) => break,
            Err(problem) => {
                builder.give_up(*problem);
                return None;
            }
        }
    }
    builder.finish()
}

/// What can be said of the text before it is parsed: its length, and characters it may not hold.
fn check_text(text: &str, file: FileId, text_bytes: usize) -> Result<(), Box<Diagnostic>> {
    let at = |start: usize, length: usize| Span {
        file,
        start: limits::offset(start),
        end: limits::offset(start + length),
    };
    if text.len() > text_bytes {
        return Err(Box::new(
            Diagnostic::error(
                Code::LimitReached,
                at(0, 0),
                format!(
                    "the file is {} bytes long, at most {text_bytes} are read (text bytes)",
                    text.len()
                ),
            )
            .help("split it, or keep measured tables in a CSV file beside it"),
        ));
    }
    if let Some(start) = first_tab(text) {
        let message = "a tab stands where only blanks may";
        return Err(Box::new(
            Diagnostic::error(Code::YamlSyntax, at(start, 1), message)
                .help("replace the tab with blanks"),
        ));
    }
    let Some((start, found)) = first_control(text) else { return Ok(()) };
    let code = if found == '\0' { Code::NotText } else { Code::YamlSyntax };
    let message = match found {
        '\0' => "the file holds a NUL, so it is not a text".to_owned(),
        '\r' => "a carriage return without a line feed after it".to_owned(),
        _ => format!("the control character U+{:04X}", u32::from(found)),
    };
    Err(Box::new(
        Diagnostic::error(code, at(start, found.len_utf8()), message)
            .help("delete it; save the file as UTF-8 text with LF or CRLF line ends"),
    ))
}

/// The first tab in the indentation of a line: the grammar lets some pass, and each shows at
/// another depth in another editor.
fn first_tab(text: &str) -> Option<usize> {
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let blank = line.len() - line.trim_start_matches([' ', '\t']).len();
        let content = line.get(blank..).is_some_and(|l| !l.starts_with(['\r', '\n', '#']));
        if let Some(tab) = line.get(..blank).and_then(|b| b.find('\t')).filter(|_| content) {
            return Some(start + tab);
        }
        start += line.len();
    }
    None
}
