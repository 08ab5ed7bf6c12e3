//! Stretches of source text made ready to draw: whole lines, all characters visible, tabs opened, lines
//! too long for the page cut around what is marked, and every mark moved along.

use crate::visible;
use std::ops::Range;
use unicode_width::UnicodeWidthStr;

/// Columns to the next multiple of this for a tab.
const TAB: usize = 4;

/// Columns that a label needs to the right of the middle of its mark.
pub(super) const LABEL_ROOM: usize = 24;

/// A character of the source line as it is shown.
struct Cell {
    /// Byte in the line at which it begins.
    at: usize,
    shown: String,
    width: usize,
}

/// One line, ready to draw.
pub(super) struct ShownLine {
    /// The text.
    pub(super) text: String,
    /// For each mark, its range of bytes in `text`.
    pub(super) marks: Vec<Range<usize>>,
}

/// Draws one source line (without its line end) into at most `columns` columns. `marks` are ranges of
/// bytes in the line, not overlapping; the leftmost of them stays in sight.
pub(super) fn show_line(
    line: &str,
    marks: &[Range<usize>],
    columns: usize,
    plain: bool,
) -> ShownLine {
    let cells = cells(line, plain);
    let whole: usize = cells.iter().map(|cell| cell.width).sum();
    let first = marks.iter().map(|mark| mark.start).min();
    let skip = first.map_or(0, |at| skipped(&cells, at, whole, columns));
    let ellipsis = if plain { "..." } else { "…" };
    let (mut text, mut edges) = (String::new(), Vec::new());
    if skip > 0 {
        text.push_str(ellipsis);
    }
    let mut used = text.width();
    let mut cut_off = false;
    for (i, cell) in cells.iter().enumerate().skip(skip) {
        let is_last = i + 1 == cells.len();
        let reserve = if is_last { 0 } else { ellipsis.width() };
        if used + cell.width + reserve > columns {
            cut_off = true;
            break;
        }
        edges.push((cell.at, text.len()));
        text.push_str(&cell.shown);
        used += cell.width;
    }
    let content_end = text.len();
    if cut_off {
        text.push_str(ellipsis);
    }
    // A byte of the source line to a byte of what is drawn: the first cell at or after it.
    let moved = |byte: usize| {
        edges.iter().find(|(at, _)| *at >= byte).map_or(content_end, |(_, shown)| *shown)
    };
    let marks = marks.iter().map(|mark| moved(mark.start)..moved(mark.end)).collect();
    ShownLine { text, marks }
}

/// How many cells are left out at the left, so that the first mark and its label fit.
fn skipped(cells: &[Cell], first: usize, whole: usize, columns: usize) -> usize {
    let before = cells.iter().take_while(|cell| cell.at < first);
    let column: usize = before.clone().map(|cell| cell.width).sum();
    let fits = whole <= columns && column + LABEL_ROOM <= columns;
    // No more is cut than it takes to show what follows the mark, within half a page, and its label.
    let after = (whole - column).min(columns / 2).max(2 * LABEL_ROOM);
    let wanted = columns.saturating_sub(after).max(columns / 8);
    // An ellipsis in the place of as few characters would hide more than it saves.
    if fits || column <= wanted + 3 {
        return 0;
    }
    let mut left = column - wanted;
    let mut skip = 0;
    for cell in before {
        if left == 0 {
            break;
        }
        left = left.saturating_sub(cell.width);
        skip += 1;
    }
    skip
}

fn cells(line: &str, plain: bool) -> Vec<Cell> {
    let mut column = 0;
    line.char_indices()
        // A byte order mark is no part of what an author sees.
        .filter(|(at, c)| !(*at == 0 && *c == '\u{feff}'))
        .map(|(at, c)| {
            let mut text = String::from(c);
            if c == '\t' {
                text = " ".repeat(TAB - column % TAB);
            }
            let mut shown = visible::visible(&text).into_owned();
            if plain {
                shown = visible::ascii(&shown);
            }
            let width = shown.width();
            column += width;
            Cell { at, shown, width }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marked(line: &str, what: &str, columns: usize) -> (String, String) {
        let start = line.find(what).unwrap();
        let mark = start..start + what.len();
        let shown = show_line(line, std::slice::from_ref(&mark), columns, false);
        let mark = shown.marks.first().unwrap().clone();
        let under = shown.text.get(mark).unwrap().to_owned();
        (shown.text, under)
    }

    #[test]
    fn a_long_line_is_cut_around_its_mark() {
        let line = format!("{}depth: 66 ± 0.5 mm{}", "x".repeat(90), "y".repeat(90));
        let (text, under) = marked(&line, "66 ± 0.5 mm", 60);
        assert!(text.width() <= 60);
        assert!(text.starts_with('…') && text.ends_with('…'));
        assert_eq!(under, "66 ± 0.5 mm");
    }

    #[test]
    fn a_tab_and_a_wide_sign_before_a_mark_do_not_move_it() {
        assert_eq!(marked("a:\t± 幅: 4 mm", "4 mm", 80).1, "4 mm");
    }

    #[test]
    fn an_escape_code_in_the_line_is_spelt_out_and_the_mark_follows() {
        let (text, under) = marked("a: \u{1b}[31mred # 4 mm", "4 mm", 80);
        assert_eq!((text.as_str(), under.as_str()), ("a: \\u{1b}[31mred # 4 mm", "4 mm"));
    }

    #[test]
    fn a_mark_beyond_a_cut_stands_at_the_cut() {
        let line = format!("a: 1 mm{}b", "x".repeat(100));
        let shown = show_line(&line, &[3..7, 107..108], 50, false);
        assert_eq!(shown.marks.last().map(|mark| mark.end), shown.text.len().checked_sub(3));
    }
}
