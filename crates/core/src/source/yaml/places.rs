//! Where things stand in the text, where the parser says it otherwise than a person would.

use super::limits::offset;
use crate::source::{FileId, Span};
use granit_parser::{Marker, ScalarStyle};

/// The text that is being read.
#[derive(Debug, Clone, Copy)]
pub(super) struct Text<'a> {
    pub(super) text: &'a str,
    pub(super) file: FileId,
}

impl<'a> Text<'a> {
    pub(super) fn at(&self, start: u32, end: u32) -> Span {
        Span { file: self.file, start, end: if end < start { start } else { end } }
    }

    pub(super) fn slice(&self, span: Span) -> &'a str {
        self.text.get(span.start as usize..span.end as usize).unwrap_or("")
    }

    pub(super) fn span(&self, span: &granit_parser::Span) -> Span {
        self.at(self.byte(&span.start), self.byte(&span.end))
    }

    /// Byte of a place; the parser gives it, but only promises the number of characters.
    pub(super) fn byte(&self, marker: &Marker) -> u32 {
        offset(marker.byte_offset().unwrap_or_else(|| {
            self.text.char_indices().nth(marker.index()).map_or(self.text.len(), |(i, _)| i)
        }))
    }

    /// The parser puts a value that is left out before the colon or on the next line, and lets
    /// block texts run on over the blank lines below them.
    pub(super) fn scalar(&self, mut span: Span, style: ScalarStyle) -> Span {
        const BLANKS: [char; 3] = [' ', '\r', '\n'];
        if matches!(style, ScalarStyle::Literal | ScalarStyle::Folded) {
            let kept = self.slice(span).trim_end_matches(BLANKS).len();
            span.end = span.start + offset(kept);
        }
        if span.start < span.end {
            return span;
        }
        let before = self.text.get(..span.start as usize).unwrap_or("").trim_end_matches(BLANKS);
        let colon = self.text.as_bytes().get(span.start as usize) == Some(&b':');
        let place = if colon { span.start + 1 } else { offset(before.len()) };
        self.at(place, place)
    }

    /// Where the text of a scalar stands letter by letter, if it does.
    pub(super) fn verbatim(&self, text: &str, style: ScalarStyle, span: Span) -> Option<u32> {
        let quoted = matches!(style, ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted);
        let start = if quoted { span.start + 1 } else { span.start };
        let source = self.text.get(start as usize..)?;
        source.starts_with(text).then_some(start)
    }

    /// Where a list begins that is the value of a key: when its dashes stand in the column of the
    /// key, the parser says where the first item begins.
    pub(super) fn first_dash(&self, key_end: u32, said: u32) -> u32 {
        let mut line_start = key_end as usize;
        for line in self.slice(self.at(key_end, said)).split_inclusive('\n') {
            let content = line.trim_start_matches(' ');
            if line_start > key_end as usize && content.starts_with('-') {
                return offset(line_start + line.len() - content.len());
            }
            line_start += line.len();
        }
        said
    }
}
