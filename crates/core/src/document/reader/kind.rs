//! The first key of a file says what it is: `pan: 1`.

use super::message::{either, listed};
use crate::document::DocumentKind;
use crate::source::{Code, Diagnostic, Entry, Node, Span, Value};

/// The edition of every kind that this program reads.
const EDITION: &str = "1";

/// What a file says that it is by its first key; none if that key is no kind with a whole number.
pub fn kind_of(node: &Node) -> Option<DocumentKind> {
    let Value::Mapping(entries) = &node.value else { return None };
    let first = entries.first()?;
    DocumentKind::ALL
        .into_iter()
        .find(|kind| first.key.text == kind.key() && is_whole(&first.value))
}

/// The entries of a document of this kind, and where its kind stands.
pub(super) fn opened(
    node: &Node,
    wanted: DocumentKind,
) -> Result<(&[Entry], Span), Box<Diagnostic>> {
    let Value::Mapping(entries) = &node.value else {
        let message = format!(
            "a file of this kind is a mapping that begins with `{}: 1`, and this is {}",
            wanted.key(),
            node.shape()
        );
        return Err(Box::new(Diagnostic::error(Code::WrongShape, start(node), message)));
    };
    let Some(first) = entries.first() else {
        let message = format!("the file is empty, and {} was expected", with_article(wanted.key()));
        return Err(Box::new(
            Diagnostic::error(Code::WrongShape, start(node), message).help(begin_with(wanted)),
        ));
    };
    if first.key.text != wanted.key() {
        return Err(Box::new(another_kind(entries, first, wanted)));
    }
    let span = first.key.span;
    match first.value.scalar().map(|s| s.text.as_str()) {
        Some(EDITION) => Ok((entries, span)),
        Some(edition) if is_whole(&first.value) => {
            let message =
                format!("edition {edition} of `{}` is not known to this program", wanted.key());
            let problem = Diagnostic::error(Code::WrongEdition, first.value.span, message);
            Err(Box::new(problem.help(format!("it reads edition {EDITION}"))))
        }
        _ => {
            let message =
                format!("`{}` takes the edition of the document, a whole number", wanted.key());
            let at = if first.value.scalar().is_some() { first.value.span } else { span };
            let problem = Diagnostic::error(Code::WrongEdition, at, message);
            Err(Box::new(problem.help(begin_with(wanted))))
        }
    }
}

/// Another key stands first.
fn another_kind(entries: &[Entry], first: &Entry, wanted: DocumentKind) -> Diagnostic {
    let at = first.key.span;
    let wanted_words = with_article(wanted.key());
    let names: Vec<&str> = DocumentKind::ALL.map(DocumentKind::key).into();
    if names.contains(&first.key.text.as_str()) && is_whole(&first.value) {
        let found = with_article(&first.key.text);
        let message = format!("this is {found}, and {wanted_words} was expected");
        return Diagnostic::error(Code::WrongKind, at, message)
            .labelled(found)
            .help(format!("name a file that begins with `{}: {EDITION}`", wanted.key()));
    }
    let later = entries.iter().find(|e| e.key.text == wanted.key() && is_whole(&e.value));
    if let Some(later) = later {
        let message = format!("`{}` does not stand first", wanted.key());
        return Diagnostic::error(Code::WrongKind, later.key.span, message)
            .also(at, "this key does")
            .help("move it to the top: the first key says what a file is");
    }
    let known = if names.contains(&first.key.text.as_str()) {
        format!("the kinds are {}", listed(&names))
    } else {
        format!("the kinds are {}: one of them stands first, with a whole number", either(&names))
    };
    let message = format!("the file does not say what kind it is, and {wanted_words} was expected");
    Diagnostic::error(Code::WrongKind, at, message).help(format!("{}; {known}", begin_with(wanted)))
}

fn begin_with(kind: DocumentKind) -> String {
    format!("begin it with `{}: {EDITION}`", kind.key())
}

fn with_article(kind: &str) -> String {
    match kind {
        "oil" => "an oil".to_owned(),
        "concessions" => "a list of concessions".to_owned(),
        "remarks" => "a file of remarks".to_owned(),
        "known_findings" => "a list of known findings".to_owned(),
        kind => format!("a {kind}"),
    }
}

fn is_whole(node: &Node) -> bool {
    node.scalar().is_some_and(|s| !s.text.is_empty() && s.text.bytes().all(|b| b.is_ascii_digit()))
}

/// The first place of a document: its whole is no help to the eye.
fn start(node: &Node) -> Span {
    Span { end: node.span.start, ..node.span }
}
