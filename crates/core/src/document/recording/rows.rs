//! Rows of a recording become samples, one by one: what is no number is a sample of which nothing is known.

use super::header::Header;
use crate::source::{FileProblem, Recording};
use glam::DVec3;
use std::io::{BufRead, BufReader, Read};
use std::ops::Range;
use std::sync::Arc;

/// What is read from the file at a time, in bytes.
const PIECE: usize = 1 << 18;
/// A line of more bytes is no row of numbers.
pub(super) const LONGEST_LINE: u64 = 1 << 16;
/// So many bad cells are told one by one.
pub(super) const BAD_CELLS_TOLD: usize = 5;

/// What the vehicle did at one moment, along its own axes x forward, y left, z up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motion {
    /// Specific force in units of standard gravity: acceleration less gravity, +1 upward at rest.
    pub force: DVec3,
    /// Up against gravity alone, where the attitude is recorded.
    pub up: Option<DVec3>,
}

/// One row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sample {
    /// Its line in the file, from 1.
    pub line: usize,
    /// When, in seconds.
    pub time: f64,
    /// What the vehicle did; nothing where a number of the row cannot be read.
    pub motion: Option<Motion>,
}

/// Why a recording cannot be read to its end.
#[derive(Debug, Clone, PartialEq)]
pub enum Stopped {
    /// The system refused.
    File(FileProblem),
    /// Time runs backwards.
    Backwards(AtLine),
    /// A line is too long to be a row of numbers.
    LongLine(AtLine),
    /// There is no header.
    Empty,
}

/// A place in a line of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct AtLine {
    /// The line, from 1.
    pub line: usize,
    /// Its text.
    pub text: String,
    /// What is meant in it.
    pub range: Range<usize>,
}

/// The samples of a recording, in the order of time.
pub struct Samples {
    reader: BufReader<Box<dyn Read + Send>>,
    buffer: Vec<u8>,
    header: Option<Arc<Header>>,
    line: usize,
    /// Bytes read so far.
    pub(super) bytes: u64,
    last_time: f64,
    /// How many cells held no number.
    pub(super) bad: usize,
    /// The first of them.
    pub(super) bad_cells: Vec<AtLine>,
}

impl std::fmt::Debug for Samples {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Samples").field("line", &self.line).finish_non_exhaustive()
    }
}

impl Samples {
    pub(super) fn open(source: &dyn Recording) -> Result<Self, Stopped> {
        let file = source.open().map_err(Stopped::File)?;
        Ok(Self {
            reader: BufReader::with_capacity(PIECE, file),
            buffer: Vec::new(),
            header: None,
            line: 0,
            bytes: 0,
            last_time: f64::NEG_INFINITY,
            bad: 0,
            bad_cells: Vec::new(),
        })
    }

    /// The line of the header: the first that holds something and is no comment.
    pub(super) fn header_line(&mut self) -> Result<AtLine, Stopped> {
        if !self.next_line()? {
            return Err(Stopped::Empty);
        }
        Ok(self.at(0..self.text().len()))
    }

    pub(super) fn read_as(&mut self, header: Arc<Header>) {
        self.header = Some(header);
    }

    /// Adds the next samples, at most so many; fewer only at the end of the recording.
    ///
    /// # Errors
    /// Says why it cannot be read on.
    pub fn read(&mut self, into: &mut Vec<Sample>, count: usize) -> Result<(), Stopped> {
        let Some(header) = self.header.clone() else { return Ok(()) };
        let mut cells = vec![0.0; header.columns()];
        let mut added = 0;
        while added < count && self.next_line()? {
            let sound = self.numbers(&header, &mut cells);
            let time = header.time(&cells);
            if !time.is_finite() {
                continue;
            }
            if time < self.last_time {
                let range = self.cell_range(header.time_column());
                return Err(Stopped::Backwards(self.at(range)));
            }
            self.last_time = time;
            let motion = if sound { header.motion(&cells) } else { None };
            into.push(Sample { line: self.line, time, motion });
            added += 1;
        }
        Ok(())
    }

    /// Bytes worked through so far.
    pub fn bytes(&self) -> u64 {
        self.bytes
    }

    /// The next line that holds something and is no comment; false at the end.
    fn next_line(&mut self) -> Result<bool, Stopped> {
        loop {
            self.buffer.clear();
            let mut within = (&mut self.reader).take(LONGEST_LINE + 1);
            let read = within
                .read_until(b'\n', &mut self.buffer)
                .map_err(|error| Stopped::File(FileProblem::Refused(error.to_string())))?;
            if read == 0 {
                return Ok(false);
            }
            self.line += 1;
            self.bytes += u64::try_from(read).unwrap_or(u64::MAX);
            if self.buffer.len() as u64 > LONGEST_LINE {
                self.buffer.truncate(80);
                let all = self.text().len();
                return Err(Stopped::LongLine(self.at(0..all)));
            }
            let text = self.buffer.trim_ascii();
            let text = if self.line == 1 {
                text.strip_prefix(b"\xef\xbb\xbf").unwrap_or(text)
            } else {
                text
            };
            if !text.is_empty() && !text.starts_with(b"#") {
                return Ok(true);
            }
        }
    }

    /// The numbers of the columns that matter; whether all of them are numbers.
    fn numbers(&mut self, header: &Header, into: &mut [f64]) -> bool {
        into.fill(f64::NAN);
        let mut wanted = header.wanted().peekable();
        let mut start = 0;
        for (index, cell) in self.buffer.split(|byte| *byte == b',').enumerate() {
            let end = start + cell.len();
            while let Some((_, slot)) = wanted.next_if(|(column, _)| *column == index) {
                if let Some(number) = number(cell)
                    && let Some(place) = into.get_mut(slot)
                {
                    *place = number;
                }
            }
            start = end + 1;
        }
        if into.iter().all(|number| number.is_finite()) {
            return true;
        }
        self.bad += 1;
        if self.bad_cells.len() < BAD_CELLS_TOLD {
            let first =
                header.wanted().find(|(_, slot)| into.get(*slot).is_none_or(|n| !n.is_finite()));
            let range = first.map_or(0..0, |(column, _)| self.cell_range(column));
            self.bad_cells.push(self.at(range));
        }
        false
    }

    fn text(&self) -> String {
        let text = String::from_utf8_lossy(&self.buffer);
        text.trim_end_matches(['\n', '\r']).to_owned()
    }

    fn at(&self, range: Range<usize>) -> AtLine {
        AtLine { line: self.line, text: self.text(), range }
    }

    /// Where the cell of a column stands in its line, blanks left out; the end of the line where there is none.
    fn cell_range(&self, column: usize) -> Range<usize> {
        let text = self.text();
        super::header::cells(&text).nth(column).map_or(text.len()..text.len(), |(range, _)| range)
    }
}

/// A finite number in a cell, blanks and quotation marks round it taken off.
fn number(cell: &[u8]) -> Option<f64> {
    let text = std::str::from_utf8(cell.trim_ascii()).ok()?;
    let text = text.strip_prefix('"').and_then(|t| t.strip_suffix('"')).unwrap_or(text);
    text.trim().parse().ok().filter(|number: &f64| number.is_finite())
}
