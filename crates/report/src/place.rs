//! Spans made safe and turned into the places that people and programs read.

use sumpwright_core::source::{Place, Sources, Span};

/// A span that fits its text and splits no character. A text that does not exist leaves it empty at 0.
pub(crate) fn clamp(sources: &Sources, span: Span) -> Span {
    let text = sources.text(span.file);
    let floor = |offset: u32| {
        let mut at = (offset as usize).min(text.len());
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        u32::try_from(at).unwrap_or(0)
    };
    let start = floor(span.start);
    let end = floor(span.end);
    Span { file: span.file, start, end: if end < start { start } else { end } }
}

/// Where a span begins, whatever it says.
pub(crate) fn start(sources: &Sources, span: Span) -> Place {
    sources.place(clamp(sources, span))
}

/// Where a span ends: the place just past its last character.
pub(crate) fn end(sources: &Sources, span: Span) -> Place {
    let span = clamp(sources, span);
    sources.place(Span { start: span.end, ..span })
}

/// `path:line:column` of where a span begins.
pub(crate) fn text(sources: &Sources, span: Span) -> String {
    let Place { path, line, column } = start(sources, span);
    format!("{path}:{line}:{column}")
}
