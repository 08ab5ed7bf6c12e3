//! The page being written: the one place through which text reaches the terminal. Everything that comes
//! in is made visible, in plain mode made ASCII, and wrapped; only this file writes escape codes.

use crate::format::Options;
use crate::said::GLUE;
use crate::visible;
use unicode_width::UnicodeWidthStr;

/// Columns of the word before a row's text, with the two blanks before and after it.
const WORD_COLUMNS: usize = 12;

/// The narrowest page; below it text is not made narrower.
const LEAST_WIDTH: usize = 40;

/// What a page is made of, for a page that is laid out elsewhere: the same words, as they came in.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Piece {
    /// What begins a part.
    Heading(String),
    /// Whole sentences.
    Paragraph(String),
    /// A word and what there is to say under it; an empty word goes on under the one before.
    Row(String, String),
    /// A name, perhaps a word of it, and what there is to say.
    Entry(String, String, String),
    /// What begins a smaller part, and what is said of it at once.
    Part(String, String),
    /// Text to be pasted elsewhere.
    Pasted(String),
}

/// A growing page.
#[derive(Debug)]
pub(super) struct Page {
    out: String,
    pieces: Vec<Piece>,
    /// How the page is laid out.
    pub(super) options: Options,
}

impl Page {
    /// An empty page.
    pub(super) fn new(options: &Options) -> Self {
        let width = if options.width < LEAST_WIDTH { LEAST_WIDTH } else { options.width };
        Self { out: String::new(), pieces: Vec::new(), options: Options { width, ..*options } }
    }

    /// The text of the page, without blanks at line ends.
    pub(super) fn finish(self) -> String {
        let mut text = String::with_capacity(self.out.len());
        for line in self.out.lines() {
            text.push_str(line.trim_end());
            text.push('\n');
        }
        text
    }

    /// What the page is made of.
    pub(super) fn into_pieces(self) -> Vec<Piece> {
        self.pieces
    }

    /// An empty line, never two, none at the top.
    pub(super) fn gap(&mut self) {
        if !self.out.is_empty() && !self.out.ends_with("\n\n") {
            self.out.push('\n');
        }
    }

    /// A line that begins a part.
    pub(super) fn heading(&mut self, text: &str) {
        self.pieces.push(Piece::Heading(text.to_owned()));
        let text = self.safe(&visible::visible(text));
        for line in wrap(&text, self.options.width, self.options.width.saturating_sub(2)) {
            let line = if self.options.colour { format!("\u{1b}[1m{line}\u{1b}[0m") } else { line };
            self.push_line("", &line);
        }
    }

    /// Whole sentences from the left edge.
    pub(super) fn paragraph(&mut self, text: &str) {
        self.pieces.push(Piece::Paragraph(text.to_owned()));
        let text = self.safe(&visible::visible_paragraph(text));
        for line in wrap(&text, self.options.width, self.options.width) {
            self.push_line("", &line);
        }
    }

    /// A word and what there is to say under it, the text hanging in one column.
    pub(super) fn row(&mut self, word: &str, text: &str) {
        self.pieces.push(Piece::Row(word.to_owned(), text.to_owned()));
        let text = self.safe(&visible::visible_paragraph(text));
        let columns = self.options.width.saturating_sub(WORD_COLUMNS + 2);
        let mut lead = format!("  {word:<WORD_COLUMNS$}");
        for line in wrap(&text, columns, columns) {
            self.push_line(&lead, &line);
            lead = " ".repeat(WORD_COLUMNS + 2);
        }
    }

    /// A name on a line of its own column and what there is to say of it, hanging under it.
    pub(super) fn entry(&mut self, name: &str, text: &str) {
        self.pieces.push(Piece::Entry(name.to_owned(), String::new(), text.to_owned()));
        self.hung(name, text);
    }

    fn hung(&mut self, name: &str, text: &str) {
        let text = self.safe(&visible::visible_paragraph(&format!("{name}: {text}")));
        let mut lead = "  ";
        for line in wrap(&text, self.options.width - 2, self.options.width - 6) {
            self.push_line(lead, &line);
            lead = "      ";
        }
    }

    /// A name and a word in columns of their own, and what there is to say of them hanging in a third; as an
    /// entry where the page is too narrow for that.
    pub(super) fn listed(&mut self, name: (&str, usize), word: (&str, usize), text: &str) {
        let piece = Piece::Entry(name.0.to_owned(), word.0.to_owned(), text.to_owned());
        self.pieces.push(piece);
        let indent = name.1 + word.1 + 6;
        if indent + LEAST_WIDTH > self.options.width {
            self.hung(name.0, &format!("{}. {text}", word.0));
            return;
        }
        let padded = |page: &Self, (text, columns): (&str, usize)| {
            let text = page.safe(&visible::visible(text));
            let blanks = columns.saturating_sub(text.width());
            format!("{text}{}", " ".repeat(blanks))
        };
        let mut lead = format!("  {}  {}  ", padded(self, name), padded(self, word));
        let text = self.safe(&visible::visible_paragraph(text));
        let columns = self.options.width - indent;
        for line in wrap(&text, columns, columns) {
            self.push_line(&lead, &line);
            lead = " ".repeat(indent);
        }
    }

    /// Words in columns of their own, each with the columns that it takes.
    pub(super) fn cells(&mut self, cells: impl Iterator<Item = (String, usize)>) {
        let mut line = String::new();
        for (text, columns) in cells {
            let text = self.safe(&visible::visible(&text));
            let blanks = columns.saturating_sub(text.width());
            line.push_str(&text);
            line.push_str(&" ".repeat(blanks));
        }
        self.push_line("  ", &line);
    }

    /// A smaller part that is one line laid out in columns here, and a name with what is said of it elsewhere.
    pub(super) fn part(&mut self, name: &str, said: &str, line: &str) {
        self.pieces.push(Piece::Part(name.to_owned(), said.to_owned()));
        let line = self.safe(&visible::visible(line));
        self.drawn(&format!("{line}\n"));
    }

    /// Text to be pasted, whole: a line that is broken is no longer the same text.
    pub(super) fn pasted(&mut self, text: &str) {
        self.pieces.push(Piece::Pasted(text.to_owned()));
        let text = self.safe(&visible::visible(text));
        self.drawn(&format!("      {text}\n"));
    }

    /// What was drawn elsewhere, from text that went through [`Page::safe`].
    pub(super) fn drawn(&mut self, text: &str) {
        self.out.push_str(&text.replace(GLUE, " "));
    }

    /// Text that has been made visible, in the letters of the page.
    pub(super) fn safe(&self, text: &str) -> String {
        if self.options.plain {
            let parts: Vec<_> = text.split(GLUE).map(visible::ascii).collect();
            parts.join(&GLUE.to_string())
        } else {
            text.to_owned()
        }
    }

    fn push_line(&mut self, lead: &str, line: &str) {
        self.out.push_str(lead);
        self.out.push_str(&line.replace(GLUE, " "));
        self.out.push('\n');
    }
}

/// Lines of at most `first` columns, then of at most `rest`; broken at blanks, in a word only where it
/// is longer than a line. At least one line.
pub(super) fn wrap(text: &str, first: usize, rest: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let room = if lines.is_empty() { first } else { rest };
        let needed = line.width() + usize::from(!line.is_empty()) + word.width();
        if needed > room && !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        for c in word.chars() {
            let room = if lines.is_empty() { first } else { rest };
            line.push(c);
            if line.width() > room && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::take(&mut line));
                line.push(c);
            }
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}
