//! Several files laid end to end in one address space, so that one drawing can mark a pan and a rulebook
//! at once. The renderer only ever sees excerpts that are already clean, and spans that fit them.

use super::excerpt::{LABEL_ROOM, show_line};
use super::page::{Page, wrap};
use crate::{place, visible};
use miette::{LabeledSpan, MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents};
use std::ops::Range;
use sumpwright_core::source::{FileId, Place, Sources, Span};
use unicode_width::UnicodeWidthStr;

/// The narrowest column that a label is wrapped into.
const LEAST_LABEL: usize = 10;

/// A place in a text and what is said there.
#[derive(Debug, Clone)]
pub(super) struct Mark {
    /// Where.
    pub(super) span: Span,
    /// What is said there; may be empty.
    pub(super) text: String,
}

impl Mark {
    /// A place and what is said there.
    pub(super) fn new(span: Span, text: impl Into<String>) -> Self {
        Self { span, text: text.into() }
    }
}

/// Lines of one file, with its place in the common address space.
#[derive(Debug)]
struct Excerpt {
    path: String,
    first_line: usize,
    start: usize,
    text: String,
    lines: usize,
}

#[derive(Debug)]
struct LaidMark {
    range: Range<usize>,
    place: Place,
    label: String,
}

/// The excerpts and the marks in them; the first mark is the first one drawn.
#[derive(Debug)]
pub(super) struct Atlas {
    excerpts: Vec<Excerpt>,
    marks: Vec<LaidMark>,
}

/// A mark held to one line of its file: line from 0, range of bytes in that line.
struct LineMark {
    file: FileId,
    line: usize,
    range: Range<usize>,
    place: Place,
    text: String,
}

/// A run of lines of one file that are drawn together.
struct Run {
    file: FileId,
    lines: Range<usize>,
    marks: Vec<LineMark>,
}

impl Atlas {
    /// Lays out what the marks need. Marks in a text that does not exist are left out; a mark over
    /// several lines is drawn on its first; marks that overlap are drawn as one.
    pub(super) fn new(sources: &Sources, marks: &[Mark], page: &Page) -> Self {
        let mut atlas = Self { excerpts: Vec::new(), marks: Vec::new() };
        for run in runs(sources, line_marks(sources, marks), page.options.width) {
            atlas.lay(sources, &run, page);
        }
        atlas
    }

    /// Whether there is anything to draw.
    pub(super) fn is_empty(&self) -> bool {
        self.marks.is_empty()
    }

    /// The marks for the renderer.
    pub(super) fn labels(&self) -> Vec<LabeledSpan> {
        let mut labels = Vec::new();
        for (i, mark) in self.marks.iter().enumerate() {
            let text = (!mark.label.is_empty()).then(|| mark.label.clone());
            let span = SourceSpan::from(mark.range.clone());
            labels.push(if i == 0 {
                LabeledSpan::new_primary_with_span(text, span)
            } else {
                LabeledSpan::new_with_span(text, span)
            });
        }
        labels
    }

    fn lay(&mut self, sources: &Sources, run: &Run, page: &Page) {
        // One unused byte between two excerpts: no span fits across it, so they are drawn apart.
        let start = self.excerpts.last().map_or(0, |last| last.start + last.text.len() + 1);
        let lines_before = sources.lines_before(run.file);
        let gutter = (lines_before + run.lines.end).to_string().len() + 4;
        let columns = page.options.width.saturating_sub(gutter);
        let mut text = String::new();
        let mut laid: Vec<(usize, LaidMark)> = Vec::new();
        for (number, line) in lines(sources.text(run.file)).enumerate() {
            if !run.lines.contains(&number) {
                continue;
            }
            let marks: Vec<_> =
                run.marks.iter().enumerate().filter(|(_, mark)| mark.line == number).collect();
            let ranges: Vec<_> = marks.iter().map(|(_, mark)| mark.range.clone()).collect();
            let shown = show_line(line, &ranges, columns, page.options.plain);
            for ((order, mark), range) in marks.into_iter().zip(shown.marks) {
                let label = label(&mark.text, &shown.text, &range, columns, page);
                let range = start + text.len() + range.start..start + text.len() + range.end;
                laid.push((order, LaidMark { range, place: mark.place.clone(), label }));
            }
            text.push_str(&shown.text);
            text.push('\n');
        }
        laid.sort_by_key(|(order, _)| *order);
        self.marks.extend(laid.into_iter().map(|(_, mark)| mark));
        let path = page.safe(&visible::visible(sources.path(run.file)));
        let lines = run.lines.len();
        let first_line = lines_before + run.lines.start;
        self.excerpts.push(Excerpt { path, first_line, start, text, lines });
    }
}

impl SourceCode for Atlas {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let (start, end) = (span.offset(), span.offset() + span.len());
        let excerpt = self
            .excerpts
            .iter()
            .find(|e| e.start <= start && end <= e.start + e.text.len())
            .ok_or(MietteError::OutOfBounds)?;
        let path = excerpt.path.clone();
        let mark = self.marks.iter().find(|mark| mark.range == (start..end));
        // Asked without context, the renderer wants the place of a mark: columns are characters of the
        // file as it is, which only the mark knows.
        if let (0, 0, Some(mark)) = (before, after, mark) {
            let data = excerpt.text.as_bytes().get(start - excerpt.start..end - excerpt.start);
            return Ok(Box::new(MietteSpanContents::new_named(
                path,
                data.unwrap_or_default(),
                *span,
                mark.place.line.saturating_sub(1),
                mark.place.column.saturating_sub(1),
                1,
            )));
        }
        Ok(Box::new(MietteSpanContents::new_named(
            path,
            excerpt.text.as_bytes(),
            SourceSpan::from(excerpt.start..excerpt.start + excerpt.text.len()),
            excerpt.first_line,
            0,
            excerpt.lines,
        )))
    }
}

/// The lines of a text without their ends; an empty text has one, and so has what follows a last end.
fn lines(text: &str) -> impl Iterator<Item = &str> {
    text.split('\n').map(|line| line.strip_suffix('\r').unwrap_or(line))
}

fn line_marks(sources: &Sources, marks: &[Mark]) -> Vec<LineMark> {
    let mut kept: Vec<LineMark> = Vec::new();
    for mark in marks.iter().filter(|mark| (mark.span.file.0 as usize) < sources.len()) {
        let span = place::clamp(sources, mark.span);
        let place = sources.place(span);
        let text = sources.text(span.file);
        let (start, end) = (span.start as usize, span.end as usize);
        let line_start = text.get(..start).and_then(|t| t.rfind('\n')).map_or(0, |at| at + 1);
        let content = text.get(line_start..).and_then(|rest| lines(rest).next()).unwrap_or("");
        let within = |byte: usize| (byte - line_start).min(content.len());
        let range = within(start)..within(end);
        // Of a long recording only some lines are kept; lines are counted within them until they are drawn.
        let line = place.line.saturating_sub(1 + sources.lines_before(span.file));
        let same = kept
            .iter_mut()
            .find(|k| k.file == span.file && k.line == line && overlap(&k.range, &range));
        if let Some(other) = same {
            other.range = other.range.start.min(range.start)..other.range.end.max(range.end);
            if !mark.text.is_empty() && !other.text.is_empty() {
                other.text.push_str("; ");
            }
            other.text.push_str(&mark.text);
        } else {
            let text = mark.text.clone();
            kept.push(LineMark { file: span.file, line, range, place, text });
        }
    }
    kept
}

fn overlap(a: &Range<usize>, b: &Range<usize>) -> bool {
    a == b || (a.start < b.end && b.start < a.end)
}

/// Marks gathered into runs of lines, in the order of the first mark of each. The first mark gets a line
/// before and a line after it to stand in.
fn runs(sources: &Sources, marks: Vec<LineMark>, width: usize) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for (i, mark) in marks.into_iter().enumerate() {
        let around = usize::from(i == 0);
        let wanted = with_neighbours(sources.text(mark.file), mark.line, around);
        let touching = runs.iter_mut().find(|run| {
            run.file == mark.file
                && wanted.start <= run.lines.end + 1
                && run.lines.start <= wanted.end + 1
                && run.marks.iter().all(|other| fit_one_page(&mark, other, width))
        });
        match touching {
            Some(run) => {
                run.lines = run.lines.start.min(wanted.start)..run.lines.end.max(wanted.end);
                run.marks.push(mark);
            }
            None => runs.push(Run { file: mark.file, lines: wanted, marks: vec![mark] }),
        }
    }
    runs
}

/// Whether two marks can be drawn together: those far apart on one line are not in sight at once.
fn fit_one_page(a: &LineMark, b: &LineMark, width: usize) -> bool {
    let apart = a.range.start.abs_diff(b.range.start);
    a.line != b.line
        || a.range.end.max(b.range.end) + 2 * LABEL_ROOM <= width
        || apart + 2 * LABEL_ROOM <= width
}

/// A line with so many before and after it, empty ones at the edges left out.
fn with_neighbours(text: &str, line: usize, around: usize) -> Range<usize> {
    let shown = line.saturating_sub(around)..line + 1 + around;
    let filled: Vec<usize> = lines(text)
        .enumerate()
        .skip(shown.start)
        .take(shown.len())
        .filter(|(number, content)| *number == line || !content.trim().is_empty())
        .map(|(number, _)| number)
        .collect();
    let first = filled.first().copied().unwrap_or(line);
    first..filled.last().copied().unwrap_or(line) + 1
}

/// A label wrapped into what is left of the page beside its connector.
fn label(text: &str, line: &str, range: &Range<usize>, columns: usize, page: &Page) -> String {
    if text.is_empty() {
        return String::new();
    }
    let text = page.safe(&visible::visible_paragraph(text));
    let before = line.get(..range.start).map_or(0, UnicodeWidthStr::width);
    let under = line.get(range.clone()).map_or(0, UnicodeWidthStr::width);
    let used = before + under / 2 + 4;
    let room = columns.saturating_sub(used);
    // Beside a mark at the right edge a label may go past the page, rather than be a column of
    // syllables.
    let room = room.max(LEAST_LABEL);
    wrap(&text, room, room).join("\n")
}
