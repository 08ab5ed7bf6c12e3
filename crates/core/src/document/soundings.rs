//! A table of depths: CSV whose header names columns and units, each number with its place in the text.

use crate::quantity::{Kind, Unit, parse_number, parse_unit, si};
use crate::source::{Code, Diagnostic, FileId, Sources, Span, nearest};
use csv::{ByteRecord, ReaderBuilder};
use std::collections::BTreeMap;
use uom::si::f64::Length;

/// Largest table, in bytes: what follows is for depths that a person has taken.
pub const TABLE_LIMIT: usize = 4 * 1024 * 1024;
/// Most rows: more depths than anybody takes, and still computed in seconds.
pub const MOST_ROWS: usize = 20_000;
/// Problems told of one table; of the others only how many there are.
const MOST_TOLD: usize = 50;
const COLUMNS: [&str; 4] = ["x", "y", "depth", "line"];
const EXAMPLE: &str = "the first row names columns and units: `x [mm],y [mm],depth [mm]`";

/// A depth at a place.
#[derive(Debug, Clone, PartialEq)]
pub struct SoundingRow {
    /// Forward.
    pub x: Length,
    /// To the left.
    pub y: Length,
    /// Below the rail.
    pub depth: Length,
    /// The line that it belongs to, as a number for its name.
    pub line: Option<usize>,
    /// Where place and depth stand.
    pub span: Span,
    /// Where the depth stands.
    pub depth_span: Span,
}

/// The rows of a table, in their order; without any where something is wrong with it, which has been said.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SoundingTable {
    /// The rows.
    pub rows: Vec<SoundingRow>,
}

impl SoundingTable {
    /// The positions of rows between which a line runs: each row of a line and the one before it in that line.
    pub fn lines(&self) -> Vec<[usize; 2]> {
        let mut last: BTreeMap<usize, usize> = BTreeMap::new();
        let mut lines = Vec::new();
        for (position, row) in self.rows.iter().enumerate() {
            if let Some(before) = row.line.and_then(|line| last.insert(line, position)) {
                lines.push([before, position]);
            }
        }
        lines
    }
}

/// Reads a table; everything that is wrong with it is pushed, and then it comes back empty.
pub fn read_soundings(
    sources: &Sources,
    file: FileId,
    problems: &mut Vec<Diagnostic>,
) -> SoundingTable {
    let text = sources.text(file);
    let mut reader = Reader { text, file, told: Vec::new(), untold: 0, commas: None };
    let table = reader.table();
    reader.tell_of_commas();
    if reader.told.is_empty() {
        return table;
    }
    if reader.untold > 0
        && let Some(last) = reader.told.pop()
    {
        let more = format!("and {} more like this in this table", reader.untold);
        reader.told.push(last.help(more));
    }
    problems.append(&mut reader.told);
    SoundingTable::default()
}

/// Where the columns stand, with the unit of each.
struct Header {
    x: (usize, Unit),
    y: (usize, Unit),
    depth: (usize, Unit),
    line: Option<usize>,
    width: usize,
}

struct Reader<'a> {
    text: &'a str,
    file: FileId,
    told: Vec<Diagnostic>,
    untold: usize,
    /// The first value with a decimal comma, and how many there are.
    commas: Option<(Span, usize)>,
}

impl Reader<'_> {
    fn tell(&mut self, problem: Diagnostic) {
        if self.told.len() < MOST_TOLD {
            self.told.push(problem);
        } else {
            self.untold += 1;
        }
    }

    fn span(&self, start: usize, end: usize) -> Span {
        let index = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        Span { file: self.file, start: index(start), end: index(end) }
    }

    fn table(&mut self) -> SoundingTable {
        let mut table = SoundingTable::default();
        if self.text.len() > TABLE_LIMIT {
            let message =
                format!("this table has {} bytes, and the limit is {TABLE_LIMIT}", self.text.len());
            self.tell(Diagnostic::error(Code::LimitReached, self.span(0, 0), message));
            return table;
        }
        let text = self.text;
        let body = text.strip_prefix('\u{feff}').unwrap_or(text);
        let shift = text.len() - body.len();
        let delimiter = delimiter(body);
        let mut records = ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(delimiter)
            .comment(Some(b'#'))
            .from_reader(body.as_bytes());
        let mut record = ByteRecord::new();
        let (mut header, mut names) = (None, BTreeMap::new());
        while records.read_byte_record(&mut record).unwrap_or(false) {
            let start = record.position().map_or(0, |at| byte_index(at.byte()));
            let end = byte_index(records.position().byte());
            let cells = cells(body, start, end, delimiter);
            let cells: Vec<Cell<'_>> = cells
                .into_iter()
                .map(|(from, to)| Cell {
                    text: body.get(from..to).unwrap_or("").trim().trim_matches('"').trim(),
                    span: self.cell_span(body, shift, from, to),
                })
                .collect();
            if cells.iter().all(|cell| cell.text.is_empty()) {
                continue;
            }
            let Some(header) = &header else {
                header = self.header(&cells);
                if header.is_none() {
                    return table;
                }
                continue;
            };
            if table.rows.len() == MOST_ROWS {
                let message = format!("this table has more than {MOST_ROWS} rows");
                let at = cells.first().map_or(self.span(0, 0), |cell| cell.span);
                let problem = Diagnostic::error(Code::LimitReached, at, message);
                self.tell(problem.help("thin the soundings out where the floor is flat"));
                return table;
            }
            let row = self.row(header, &cells, &mut names);
            table.rows.extend(row);
        }
        if header.is_none() {
            let message = "this table is empty";
            let problem = Diagnostic::error(Code::EmptyFile, self.span(0, 0), message);
            self.tell(problem.help(EXAMPLE));
        }
        table
    }

    /// The place of what stands in a cell, without blanks and quotation marks around it.
    fn cell_span(&self, body: &str, shift: usize, from: usize, to: usize) -> Span {
        let raw = body.get(from..to).unwrap_or("");
        let blank = |c: char| c.is_whitespace() || c == '"';
        let lead = raw.len() - raw.trim_start_matches(blank).len();
        let inner = raw.trim_matches(blank);
        self.span(shift + from + lead, shift + from + lead + inner.len())
    }

    fn header(&mut self, cells: &[Cell<'_>]) -> Option<Header> {
        let before = self.told.len();
        let mut found: BTreeMap<&str, (usize, Option<Unit>, Span)> = BTreeMap::new();
        for (column, cell) in cells.iter().enumerate() {
            let (name, unit) = match cell.text.split_once('[') {
                Some((name, rest)) => (name.trim(), Some(rest)),
                None => (cell.text, None),
            };
            let Some(known) = COLUMNS.into_iter().find(|known| *known == name) else {
                self.unknown_column(name, cell.span);
                continue;
            };
            if let Some((.., first)) = found.get(known) {
                let message = format!("two columns are named `{known}`");
                let problem = Diagnostic::error(Code::DuplicateKey, cell.span, message);
                self.tell(problem.also(*first, "the first one"));
                continue;
            }
            let unit = if known == "line" { None } else { self.unit(known, unit, cell) };
            found.insert(known, (column, unit, cell.span));
        }
        let all = self.span_of(cells);
        // A table of other columns altogether has been told of each; a missing one is told all the same.
        for wanted in ["x", "y", "depth"] {
            if !found.contains_key(wanted) {
                let message = format!("this table lacks a column `{wanted}`");
                self.tell(Diagnostic::error(Code::MissingKey, all, message).help(EXAMPLE));
            }
        }
        if self.told.len() > before {
            return None;
        }
        let mut column = |name| found.remove(name).and_then(|(at, unit, _)| Some((at, unit?)));
        let (x, y, depth) = (column("x")?, column("y")?, column("depth")?);
        let line = found.get("line").map(|(at, ..)| *at);
        Some(Header { x, y, depth, line, width: cells.len() })
    }

    fn unknown_column(&mut self, name: &str, span: Span) {
        let message = format!("`{name}` is not a column of soundings");
        let lower = name.to_lowercase();
        let help = match nearest(&lower, COLUMNS) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "the columns are `x`, `y`, `depth` and, for points along an edge, `line`; put \
                     remarks in lines that start with #"
                .to_owned(),
        };
        self.tell(Diagnostic::error(Code::UnknownKey, span, message).help(help));
    }

    /// The unit of a column, which is a length.
    fn unit(&mut self, name: &str, rest: Option<&str>, cell: &Cell<'_>) -> Option<Unit> {
        let Some(written) = rest.map(|rest| rest.trim().trim_end_matches(']').trim()) else {
            let message = format!("the column `{name}` has no unit");
            let problem = Diagnostic::error(Code::MissingUnit, cell.span, message);
            self.tell(problem.help(format!("write `{name} [mm]` if that is what it is")));
            return None;
        };
        let start = cell.span.start as usize + cell.text.find('[').map_or(0, |at| at + 1);
        let lead = rest.map_or(0, |rest| rest.len() - rest.trim_start().len());
        let span = self.span(start + lead, start + lead + written.len());
        let (code, message) = match parse_unit(written) {
            Ok((unit, length)) if length == written.len() => {
                if unit.dimension == Length::DIMENSION {
                    return Some(unit);
                }
                let measures = unit.dimension.name();
                (
                    Code::WrongDimension,
                    format!("`{name}` is a length, and `{written}` measures {measures}"),
                )
            }
            Ok(_) => (Code::UnknownUnit, format!("`{written}` is no unit")),
            Err((why, _)) => (Code::UnknownUnit, why),
        };
        self.tell(Diagnostic::error(code, span, message));
        None
    }

    fn span_of(&self, cells: &[Cell<'_>]) -> Span {
        match (cells.first(), cells.last()) {
            (Some(first), Some(last)) => Span { end: last.span.end, ..first.span },
            _ => self.span(0, 0),
        }
    }

    fn row(
        &mut self,
        header: &Header,
        cells: &[Cell<'_>],
        names: &mut BTreeMap<String, usize>,
    ) -> Option<SoundingRow> {
        let span = self.span_of(cells);
        let most = header.width;
        let least = [header.x.0, header.y.0, header.depth.0].into_iter().max().unwrap_or(0) + 1;
        if cells.len() < least || cells.len() > most {
            let message = format!("this row has {} values, and the header {most}", cells.len());
            let mut problem = Diagnostic::error(Code::WrongShape, span, message);
            if cells.len() > most {
                problem = problem.help("a decimal is written with a point, not a comma");
            }
            self.tell(problem);
            return None;
        }
        let x = self.value(&header.x, cells, "x");
        let y = self.value(&header.y, cells, "y");
        let depth = self.value(&header.depth, cells, "depth");
        let depth_span = cells.get(header.depth.0).map_or(span, |cell| cell.span);
        if depth.is_some_and(|depth| depth.value < 0.0) {
            let message = "`depth` must be 0 or more, and this lies above the rail";
            let problem = Diagnostic::error(Code::OutOfRange, depth_span, message);
            self.tell(problem.help("depths are below the rail, without a sign"));
            return None;
        }
        let name = header.line.and_then(|at| cells.get(at)).map_or("", |cell| cell.text);
        let count = names.len();
        let line = (!name.is_empty()).then(|| *names.entry(name.to_owned()).or_insert(count));
        let ends = [header.x.0, header.y.0, header.depth.0].map(|at| cells.get(at));
        let from = ends.iter().flatten().map(|cell| cell.span.start).min().unwrap_or(span.start);
        let to = ends.iter().flatten().map(|cell| cell.span.end).max().unwrap_or(span.end);
        let span = Span { start: from, end: to, ..span };
        Some(SoundingRow { x: x?, y: y?, depth: depth?, line, span, depth_span })
    }

    fn value(&mut self, column: &(usize, Unit), cells: &[Cell<'_>], name: &str) -> Option<Length> {
        let cell = cells.get(column.0)?;
        if let Some((number, _)) = parse_number(cell.text).filter(|_| is_number(cell.text)) {
            let length = column.1.to_si(number);
            if length.is_finite() {
                return Some(si(length));
            }
        }
        if is_number(&cell.text.replacen(',', ".", 1)) {
            let (first, count) = self.commas.unwrap_or((cell.span, 0));
            self.commas = Some((first, count + 1));
            return None;
        }
        let message = if cell.text.is_empty() {
            format!("`{name}` is not stated")
        } else {
            format!("`{}` is not a number, and `{name}` is one", cell.text)
        };
        let help = "write digits with a point; the unit stands in the header; a place that was not sounded \
             has no row";
        self.tell(Diagnostic::error(Code::NotAQuantity, cell.span, message).help(help));
        None
    }

    /// A table that was saved with decimal commas has them everywhere: one fault, and one thing to do.
    fn tell_of_commas(&mut self) {
        let Some((first, count)) = self.commas else { return };
        let others = if count > 1 {
            format!(", as have {} more in this table", count - 1)
        } else {
            String::new()
        };
        let message = format!("this value has a decimal comma{others}");
        self.told.insert(
            0,
            Diagnostic::error(Code::NotAQuantity, first, message)
                .help("a decimal is written with a point: save the table with points, or put one for every comma"),
        );
    }
}

fn is_number(text: &str) -> bool {
    parse_number(text).is_some_and(|(_, length)| length == text.len())
}

/// The text is a few MiB at most, so its places always fit.
fn byte_index(at: u64) -> usize {
    usize::try_from(at).unwrap_or(usize::MAX)
}

#[derive(Clone, Copy)]
struct Cell<'a> {
    text: &'a str,
    span: Span,
}

/// What stands between values: a comma, or what the header has in place of one.
fn delimiter(text: &str) -> u8 {
    let header = text.lines().find(|line| !line.trim().is_empty() && !line.starts_with('#'));
    let header = header.unwrap_or("");
    [b',', b';', b'\t'].into_iter().find(|&sign| header.contains(char::from(sign))).unwrap_or(b',')
}

/// The stretches of a record between its delimiters; those within quotation marks do not count.
fn cells(text: &str, start: usize, end: usize, delimiter: u8) -> Vec<(usize, usize)> {
    let raw = text.get(start..end).unwrap_or("");
    // A record may have blank lines and remarks before it that belong to none.
    let mut quoted = false;
    let mut from = start;
    let mut found = Vec::new();
    let (mut began, mut remark) = (false, false);
    for (at, byte) in raw.bytes().enumerate() {
        match byte {
            b'#' if !began && start + at == from => remark = true,
            b'\n' if remark => (from, remark) = (start + at + 1, false),
            _ if remark => {}
            b'\n' | b'\r' if !quoted && !began => from = start + at + 1,
            b'\n' | b'\r' if !quoted => {
                found.push((from, start + at));
                return found;
            }
            b'"' => (quoted, began) = (!quoted, true),
            sign if sign == delimiter && !quoted => {
                found.push((from, start + at));
                (from, began) = (start + at + 1, true);
            }
            _ => began = true,
        }
    }
    found.push((from, start + raw.len()));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (SoundingTable, Vec<(Code, String, String)>) {
        let mut sources = Sources::default();
        let file = sources.add("depths.csv", text.to_owned());
        let mut problems = Vec::new();
        let table = read_soundings(&sources, file, &mut problems);
        let told = problems
            .iter()
            .map(|problem| {
                let slice = sources.slice(problem.primary.span).to_owned();
                let place = sources.place(problem.primary.span);
                (problem.code, slice, format!("{}:{}", place.line, place.column))
            })
            .collect();
        (table, told)
    }

    fn told(code: Code, at: &str, place: &str) -> (Code, String, String) {
        (code, at.to_owned(), place.to_owned())
    }

    #[test]
    fn columns_stand_in_any_order_and_in_any_unit() {
        let (table, problems) = read(
            "\u{feff}# the shelf\r\ndepth [in], line ,y [cm],\"x [mm]\"\r\n\r\n1/2,edge, -3 ,\"10\"\r\n1,,2,20.5\r\n",
        );
        assert_eq!(problems, []);
        let values: Vec<_> = table
            .rows
            .iter()
            .map(|row| [row.x, row.y, row.depth].map(|length| (length.value * 1e5).round()))
            .collect();
        assert_eq!(values, [[1000.0, -3000.0, 1270.0], [2050.0, 2000.0, 2540.0]]);
        assert_eq!((table.rows[0].line, table.rows[1].line), (Some(0), None));
    }

    #[test]
    fn points_of_one_name_are_joined_in_their_order() {
        let (table, _) = read(
            "x [mm],y [mm],depth [mm],line\n0,0,1,a\n1,0,1,b\n2,0,1,a\n3,0,1,\n4,0,1,b\n5,0,1,a\n",
        );
        assert_eq!(table.lines(), [[0, 2], [1, 4], [2, 5]]);
    }

    #[test]
    fn every_bad_cell_is_told_at_its_row_and_column() {
        let (table, problems) =
            read("x [mm];y [mm];depth [mm]\n0;0;4O\n1;;40\n1;2;-3\n1,5;2;40\n1;2\n1;2;nan\n");
        assert!(table.rows.is_empty());
        assert_eq!(
            problems,
            [
                told(Code::NotAQuantity, "1,5", "5:1"),
                told(Code::NotAQuantity, "4O", "2:5"),
                told(Code::NotAQuantity, "", "3:3"),
                told(Code::OutOfRange, "-3", "4:5"),
                told(Code::WrongShape, "1;2", "6:1"),
                told(Code::NotAQuantity, "nan", "7:5"),
            ]
        );
    }

    #[test]
    fn decimal_commas_are_told_once_for_the_whole_table() {
        let (table, problems) =
            read("x [in];y [in];depth [in];line\n5,118;3,5;1,496;top\n-2;-3,9;1,5;top\n");
        assert!(table.rows.is_empty());
        assert_eq!(problems, [told(Code::NotAQuantity, "5,118", "2:1")]);
    }

    #[test]
    fn a_header_at_fault_is_told_column_by_column() {
        let (_, problems) = read("x [mn],y,deph [mm],depth [kg],x [mm]\n1,2,3,4,5\n");
        assert_eq!(
            problems,
            [
                told(Code::UnknownUnit, "mn", "1:4"),
                told(Code::MissingUnit, "y", "1:8"),
                told(Code::UnknownKey, "deph [mm]", "1:10"),
                told(Code::WrongDimension, "kg", "1:27"),
                told(Code::DuplicateKey, "x [mm]", "1:31"),
            ]
        );
        let (_, problems) = read("x [mm],y [mm]\n1,2\n");
        assert_eq!(problems, [told(Code::MissingKey, "x [mm],y [mm]", "1:1")]);
        assert_eq!(read("\n").1, [told(Code::EmptyFile, "", "1:1")]);
    }

    #[test]
    fn a_table_wrong_from_end_to_end_is_told_of_within_reason() {
        let text = format!("x [mm],y [mm],depth [mm]\n{}", "a,b,c\n".repeat(1000));
        let (table, problems) = read(&text);
        assert_eq!((table.rows.len(), problems.len()), (0, MOST_TOLD));
    }
}
