//! The texts that were read, and places in them.

/// Which text of [`Sources`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(pub u32);

/// A stretch of bytes in one text, `start <= end`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The text it stands in.
    pub file: FileId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

/// A place as a person reads it: lines and columns from 1, columns in characters.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Path as it is shown.
    pub path: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

#[derive(Debug, Clone)]
struct SourceText {
    path: String,
    text: String,
    line_starts: Vec<u32>,
    /// How many lines of the file stand before this text.
    lines_before: usize,
}

/// All texts of one run, in the order they were read.
#[derive(Debug, Clone, Default)]
pub struct Sources {
    texts: Vec<SourceText>,
}

impl Sources {
    /// Keeps a text under the path by which it is shown.
    pub fn add(&mut self, path: &str, text: String) -> FileId {
        self.add_part(path, text, 0)
    }

    /// Keeps some lines of a file that is too long to keep: `lines_before` stand before them.
    pub fn add_part(&mut self, path: &str, text: String, lines_before: usize) -> FileId {
        let mut line_starts = vec![0];
        line_starts.extend(
            text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(i, _)| index(i + 1)),
        );
        self.texts.push(SourceText { path: path.to_owned(), text, line_starts, lines_before });
        FileId(index(self.texts.len() - 1))
    }

    /// Path by which a text is shown.
    pub fn path(&self, file: FileId) -> &str {
        self.get(file).map_or("", |t| &t.path)
    }

    /// The whole text.
    pub fn text(&self, file: FileId) -> &str {
        self.get(file).map_or("", |t| &t.text)
    }

    /// How many lines of the file stand before the text that is kept.
    pub fn lines_before(&self, file: FileId) -> usize {
        self.get(file).map_or(0, |t| t.lines_before)
    }

    /// The text under a span; empty where the span does not fit.
    pub fn slice(&self, span: Span) -> &str {
        self.text(span.file).get(span.start as usize..span.end as usize).unwrap_or("")
    }

    /// How many texts there are.
    pub fn len(&self) -> usize {
        self.texts.len()
    }

    /// How many files were read, of some perhaps only parts.
    pub fn files_read(&self) -> usize {
        let paths: std::collections::BTreeSet<&str> =
            self.texts.iter().map(|text| text.path.as_str()).collect();
        paths.len()
    }

    /// Whether nothing was read.
    pub fn is_empty(&self) -> bool {
        self.texts.is_empty()
    }

    /// All texts, in the order they were read.
    pub fn files(&self) -> impl Iterator<Item = FileId> + '_ {
        (0..self.texts.len()).map(|i| FileId(index(i)))
    }

    /// Where a span begins.
    pub fn place(&self, span: Span) -> Place {
        let path = self.path(span.file).to_owned();
        let Some(source) = self.get(span.file) else { return Place { path, line: 1, column: 1 } };
        let line = source.line_starts.partition_point(|s| *s <= span.start).max(1);
        let start = source.line_starts.get(line - 1).copied().unwrap_or(0);
        let before = source.text.get(start as usize..span.start as usize).unwrap_or("");
        let before = if start == 0 { before.trim_start_matches('\u{feff}') } else { before };
        Place { path, line: line + source.lines_before, column: before.chars().count() + 1 }
    }

    fn get(&self, file: FileId) -> Option<&SourceText> {
        self.texts.get(file.0 as usize)
    }
}

/// Texts are limited to a few MiB, so an index always fits.
fn index(i: usize) -> u32 {
    u32::try_from(i).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_after_a_wide_sign_counts_characters_not_bytes() {
        let mut sources = Sources::default();
        let file = sources.add("a.yaml", "x: 1\ny: 62.4 ± 0.3 mm\n".to_owned());
        let start = 5 + index("y: 62.4 ± ".len());
        let place = sources.place(Span { file, start, end: start + 3 });
        assert_eq!((place.line, place.column), (2, 11));
    }

    #[test]
    fn a_byte_order_mark_takes_no_column() {
        let mut sources = Sources::default();
        let file = sources.add("a.yaml", "\u{feff}pan: 1\n".to_owned());
        assert_eq!(sources.place(Span { file, start: 8, end: 9 }).column, 6);
    }
}
