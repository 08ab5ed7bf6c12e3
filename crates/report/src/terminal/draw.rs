//! One drawing: a severity word, a title, and the marked excerpts, by miette with our own characters.

use super::atlas::{Atlas, Mark};
use super::page::{Page, wrap};
use crate::{place, visible};
use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, Severity, SourceCode,
    ThemeCharacters, ThemeStyles,
};
use std::fmt;
use sumpwright_core::source::Sources;
use unicode_width::UnicodeWidthStr;

/// How much a word stands out where there is colour; without it the word says all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Weight {
    /// Something is against it.
    Heavy,
    /// It cannot be said, or deserves a look.
    Middle,
    /// Good to know.
    Light,
}

/// Draws a severity word with its title and marks; the first mark, which is always there, gives the
/// place that is printed.
pub(super) fn draw(
    page: &mut Page,
    sources: &Sources,
    (word, weight): (&str, Weight),
    title: &str,
    (first, others): (Mark, Vec<Mark>),
) {
    let first_span = first.span;
    let mut marks = vec![first];
    marks.extend(others);
    let atlas = Atlas::new(sources, &marks, page);
    let shown = Shown { title: title_lines(page, word, title), weight, atlas: &atlas };
    let mut out = String::new();
    let drawn = handler(page, word).render_report(&mut out, &shown);
    page.drawn(&out);
    if atlas.is_empty() || drawn.is_err() {
        page.row("at", &place::text(sources, first_span));
    }
}

fn title_lines(page: &Page, word: &str, title: &str) -> String {
    let title = page.safe(&visible::visible(title));
    // The renderer puts two blanks, the word, a colon and a blank before the first line, and four
    // columns before the others.
    let first = page.options.width.saturating_sub(word.width() + 4);
    wrap(&title, first, page.options.width.saturating_sub(4)).join("\n")
}

fn handler(page: &Page, word: &str) -> GraphicalReportHandler {
    GraphicalReportHandler::new_themed(GraphicalTheme {
        characters: characters(page.options.plain, word),
        styles: styles(page.options.colour),
    })
    .with_width(page.options.width)
    .with_wrap_lines(false)
    .with_urls(false)
    .with_context_lines(1)
    .without_cause_chain()
    .without_syntax_highlighting()
}

fn characters(plain: bool, word: &str) -> ThemeCharacters {
    let word = format!("{word}:");
    // A rule of dots, a double line under what is meant: a drawing board's, not another checker's.
    let (dots, bar, corner, foot, under, point) = if plain {
        ('.', ':', '.', '\'', '=', '^')
    } else {
        ('┈', '┊', '┌', '└', '═', '△')
    };
    ThemeCharacters {
        hbar: dots,
        vbar: bar,
        xbar: bar,
        vbar_break: bar,
        uarrow: point,
        rarrow: dots,
        ltop: corner,
        mtop: dots,
        rtop: dots,
        lbot: foot,
        rbot: dots,
        mbot: dots,
        lbox: '[',
        rbox: ']',
        lcross: bar,
        rcross: dots,
        underbar: under,
        underline: under,
        error: word.clone(),
        warning: word.clone(),
        advice: word,
    }
}

/// Only the word and the marks are coloured; red, yellow, blue-green, told apart by the words anyway.
fn styles(colour: bool) -> ThemeStyles {
    if !colour {
        return ThemeStyles::none();
    }
    let ansi = ThemeStyles::ansi();
    let plain = ThemeStyles::none();
    let marker = ansi.highlights.first().copied().into_iter().collect();
    ThemeStyles {
        help: plain.help,
        link: plain.link,
        linum: plain.linum,
        highlights: marker,
        ..ansi
    }
}

/// What the renderer is given.
#[derive(Debug)]
struct Shown<'a> {
    title: String,
    weight: Weight,
    atlas: &'a Atlas,
}

impl fmt::Display for Shown<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.title)
    }
}

impl std::error::Error for Shown<'_> {}

impl Diagnostic for Shown<'_> {
    fn severity(&self) -> Option<Severity> {
        Some(match self.weight {
            Weight::Heavy => Severity::Error,
            Weight::Middle => Severity::Warning,
            Weight::Light => Severity::Advice,
        })
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(self.atlas)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.atlas.labels().into_iter()))
    }
}
