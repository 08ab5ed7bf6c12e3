//! The header of a recording: which column holds what, in which unit, and which way its axis points.

use super::rows::{AtLine, Motion};
use crate::document::log::{Column, Direction, DriveLog, Measured};
use crate::quantity::{Dimension, Kind, Unit, parse_unit};
use crate::source::{Code, Diagnostic, FileId, Span, nearest};
use glam::DVec3;
use std::ops::Range;
use uom::si::f64::{Acceleration, Angle, Time};

/// ISO 80000-3 standard gravity, in m/s².
const STANDARD_GRAVITY: f64 = 9.806_65;

/// Every column there can be.
const ALL: [Column; 11] = [
    Column::Time,
    Column::Toward(Direction::Forward),
    Column::Toward(Direction::Rearward),
    Column::Toward(Direction::Left),
    Column::Toward(Direction::Right),
    Column::Toward(Direction::Up),
    Column::Toward(Direction::Down),
    Column::Climb,
    Column::Descent,
    Column::LeftHigh,
    Column::RightHigh,
];

/// What the columns hold.
#[derive(Debug)]
pub(super) struct Header {
    pub(super) measured: Measured,
    time: Cell,
    /// Forward or rearward, left or right, up or down; the last may be missing of accelerations.
    pub(super) axes: Vec<Axis>,
    /// Along and across.
    attitude: Option<[Angled; 2]>,
    /// In the order of the row: the column, and which of the numbers it is.
    order: Vec<(usize, usize)>,
}

/// A column: where it stands in the row and in the header line, and its unit.
#[derive(Debug, Clone)]
struct Cell {
    column: usize,
    unit: Unit,
    range: Range<usize>,
}

/// A column of an axis.
#[derive(Debug)]
pub(super) struct Axis {
    cell: Cell,
    /// What it is called: the way of the sensor that it counts as +.
    pub(super) named: Direction,
    /// The way in the vehicle that it counts as +.
    pub(super) toward: DVec3,
}

impl Axis {
    /// Where its name stands in the header line.
    pub(super) fn range(&self) -> Range<usize> {
        self.cell.range.clone()
    }
}

#[derive(Debug)]
struct Angled {
    cell: Cell,
    sign: f64,
}

/// The cells of a line with their ranges, blanks left out.
pub(super) fn cells(line: &str) -> impl Iterator<Item = (Range<usize>, &str)> {
    let mut start = 0;
    line.split(',').map(move |cell| {
        let at = start;
        start += cell.len() + 1;
        let before = cell.len() - cell.trim_start().len();
        let text = cell.trim();
        (at + before..at + before + text.len(), text)
    })
}

impl Header {
    /// Reads the line of the header, which is the text of `file`.
    pub(super) fn read(
        line: &AtLine,
        file: FileId,
        doc: &DriveLog,
    ) -> Result<Self, Vec<Diagnostic>> {
        let mut reader = Reader { line, file, doc, problems: Vec::new() };
        match reader.header() {
            Some(header) if reader.problems.is_empty() => Ok(header),
            _ => Err(reader.problems),
        }
    }

    /// How many numbers of a row matter: time, the axes, the angles.
    pub(super) fn columns(&self) -> usize {
        self.order.len()
    }

    /// In the order of the row: the column, and which of the numbers it is.
    pub(super) fn wanted(&self) -> impl Iterator<Item = (usize, usize)> + '_ {
        self.order.iter().copied()
    }

    pub(super) fn time_column(&self) -> usize {
        self.time.column
    }

    /// Time in seconds.
    pub(super) fn time(&self, numbers: &[f64]) -> f64 {
        numbers.first().map_or(f64::NAN, |time| self.time.unit.to_si(*time))
    }

    /// What the vehicle did; nothing where no attitude shows both angles.
    pub(super) fn motion(&self, numbers: &[f64]) -> Option<Motion> {
        let mut rest = numbers.iter().skip(1);
        let mut force = DVec3::ZERO;
        for axis in &self.axes {
            force += axis.toward * (axis.cell.unit.to_si(*rest.next()?) / STANDARD_GRAVITY);
        }
        let Some([along, across]) = &self.attitude else {
            return Some(Motion { force, up: None });
        };
        let sine =
            |angle: &Angled, number: f64| angle.sign * libm::sin(angle.cell.unit.to_si(number));
        let (along, across) = (sine(along, *rest.next()?), sine(across, *rest.next()?));
        let upright = 1.0 - along * along - across * across;
        (upright > 0.0).then(|| {
            let up = DVec3::new(along, across, upright.sqrt());
            Motion { force: force + up, up: Some(up) }
        })
    }
}

/// A cell of the header as written.
struct Written<'a> {
    column: usize,
    range: Range<usize>,
    text: &'a str,
    name: String,
    /// The text in its brackets and where it begins.
    unit: Option<(&'a str, usize)>,
}

fn written(line: &str) -> Vec<Written<'_>> {
    cells(line)
        .enumerate()
        .map(|(column, (range, text))| {
            // A byte order mark stands before the first name.
            let bare = text.trim_start_matches('\u{feff}').trim_matches('"');
            let bracket = bare.find('[').filter(|_| bare.ends_with(']'));
            let opened = text.find(bare).unwrap_or(0);
            let unit = bracket.and_then(|at| {
                Some((bare.get(at + 1..bare.len() - 1)?, range.start + opened + at + 1))
            });
            let name = plain(bracket.and_then(|at| bare.get(..at)).unwrap_or(bare));
            Written { column, range, text: bare, name, unit }
        })
        .collect()
}

/// A name as it is compared: small letters, single blanks.
fn plain(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

struct Reader<'a> {
    line: &'a AtLine,
    file: FileId,
    doc: &'a DriveLog,
    problems: Vec<Diagnostic>,
}

impl Reader<'_> {
    fn header(&mut self) -> Option<Header> {
        let written = written(&self.line.text);
        let measured = self.measured(&written)?;
        let time = self.need(&written, &[Column::Time], measured, Time::DIMENSION);
        let way = |direction: Direction| {
            [Column::Toward(direction), Column::Toward(direction.opposite())]
        };
        let mut axes = Vec::new();
        for direction in [Direction::Forward, Direction::Left, Direction::Up] {
            let may_lack = measured == Measured::Acceleration && direction == Direction::Up;
            if may_lack && self.find(&written, &way(direction), measured).is_none() {
                continue;
            }
            let found = self.need(&written, &way(direction), measured, Acceleration::DIMENSION);
            if let Some((Column::Toward(named), cell)) = found {
                axes.push(Axis { cell, named, toward: self.in_vehicle(named) });
            }
        }
        let attitude = (measured == Measured::Acceleration).then(|| {
            let along = [Column::Climb, Column::Descent];
            let across = [Column::LeftHigh, Column::RightHigh];
            let along = self.need(&written, &along, measured, Angle::DIMENSION);
            let across = self.need(&written, &across, measured, Angle::DIMENSION);
            Some([along?, across?].map(|(column, cell)| {
                let turned = matches!(column, Column::Descent | Column::RightHigh);
                Angled { cell, sign: if turned { -1.0 } else { 1.0 } }
            }))
        });
        if !self.problems.is_empty() {
            return None;
        }
        let (_, time) = time?;
        let attitude = match attitude {
            Some(attitude) => Some(attitude?),
            None => None,
        };
        let angles = attitude.iter().flatten().map(|angle| angle.cell.column);
        let columns =
            [time.column].into_iter().chain(axes.iter().map(|a| a.cell.column)).chain(angles);
        let mut order: Vec<(usize, usize)> = columns.zip(0..).collect();
        order.sort_unstable();
        Some(Header { measured, time, axes, attitude, order })
    }

    /// What the axes measure: as stated, else as the header says.
    fn measured(&mut self, written: &[Written<'_>]) -> Option<Measured> {
        if let Some(stated) = self.doc.measures {
            return Some(stated.value);
        }
        let says = |what: Measured| {
            let begins = format!("{} ", what.words());
            written.iter().any(|cell| cell.name.starts_with(&begins))
        };
        let both = [Measured::SpecificForce, Measured::Acceleration];
        if let Some(found) = both.into_iter().find(|what| says(*what)) {
            return Some(found);
        }
        let message = "no column of this log is a `specific force` or an `acceleration`";
        let help = if self.line.text.contains(';') && !self.line.text.contains(',') {
            "columns are separated by commas, and a decimal is written with a point"
        } else {
            "name the columns `time [s]`, `specific force forward [gn]`, `specific force left [gn]` and \
             `specific force up [gn]`, or say under `log.columns` which they are"
        };
        let all = self.span(0..self.line.text.len());
        self.problems.push(Diagnostic::error(Code::BadLog, all, message).help(help));
        None
    }

    /// The way in the vehicle of a way of the sensor.
    fn in_vehicle(&self, named: Direction) -> DVec3 {
        let of_sensor = named.vector();
        match self.doc.sensor {
            None => of_sensor,
            Some(axes) => {
                let [x, y, z] = axes.map(Direction::vector);
                x * of_sensor.x + y * of_sensor.y + z * of_sensor.z
            }
        }
    }

    fn stated(&self, column: Column) -> Option<&str> {
        self.doc.columns.iter().find(|(c, _)| *c == column).map(|(_, text)| text.text.as_str())
    }

    /// The cell of one of some columns, and the unit that the duty gives it.
    fn find<'w, 't>(
        &self,
        written: &'w [Written<'t>],
        columns: &[Column],
        measured: Measured,
    ) -> Option<(Column, &'w Written<'t>, Option<String>)> {
        columns.iter().find_map(|column| {
            let Some(stated) = self.stated(*column) else {
                let name = name_of(*column, measured);
                return written.iter().find(|c| c.name == name).map(|cell| (*column, cell, None));
            };
            let whole = written.iter().find(|c| c.text == stated || c.name == plain(stated));
            if let Some(cell) = whole {
                return Some((*column, cell, None));
            }
            let (name, unit) = stated.rsplit_once(" in ")?;
            let cell = written.iter().find(|c| c.name == plain(name) || c.text == name.trim())?;
            Some((*column, cell, Some(unit.trim().to_owned())))
        })
    }

    /// As [`Self::find`]; says what is wrong where it is lacking or its unit does not fit.
    fn need(
        &mut self,
        written: &[Written<'_>],
        columns: &[Column],
        measured: Measured,
        dimension: Dimension,
    ) -> Option<(Column, Cell)> {
        let Some((column, cell, unit)) = self.find(written, columns, measured) else {
            let problem = self.lacking(written, columns, measured, dimension);
            self.problems.push(problem);
            return None;
        };
        match self.unit(cell, unit.as_deref(), dimension) {
            Ok(unit) => {
                Some((column, Cell { column: cell.column, unit, range: cell.range.clone() }))
            }
            Err(problem) => {
                self.problems.push(*problem);
                None
            }
        }
    }

    fn lacking(
        &self,
        written: &[Written<'_>],
        columns: &[Column],
        measured: Measured,
        dimension: Dimension,
    ) -> Diagnostic {
        let stated = self.doc.columns.iter().find(|(c, _)| columns.contains(c));
        if let Some((_, text)) = stated {
            let message = format!("the log has no column `{}`", text.text);
            let names: Vec<&str> = written.iter().map(|cell| cell.text).collect();
            let problem = Diagnostic::error(Code::BadLog, text.span, message);
            return match nearest(&text.text, names.iter().copied()) {
                Some(near) => problem.help(format!("did you mean `{near}`?")),
                None => problem.help(format!("its columns are {}", names.join(", "))),
            };
        }
        let names: Vec<String> = columns.iter().map(|c| name_of(*c, measured)).collect();
        let message = format!("the log lacks a column `{}`", names.join("` or `"));
        // A column that is called by one of our names is meant as it stands.
        let known = |cell: &&Written<'_>| ALL.iter().any(|c| name_of(*c, measured) == cell.name);
        let others: Vec<&str> =
            written.iter().filter(|c| !known(c)).map(|c| c.name.as_str()).collect();
        let near = names.iter().find_map(|name| nearest(name, others.iter().copied()));
        let all = self.span(0..self.line.text.len());
        let first = names.first().map_or("", String::as_str);
        let help = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!(
                "name it `{first} [{}]`, or say under `log.columns` which it is",
                usual(dimension)
            ),
        };
        Diagnostic::error(Code::BadLog, all, message).help(help)
    }

    fn unit(
        &self,
        cell: &Written<'_>,
        stated: Option<&str>,
        dimension: Dimension,
    ) -> Result<Unit, Box<Diagnostic>> {
        let (text, range) = match (stated, cell.unit) {
            (Some(stated), _) => (stated, cell.range.clone()),
            (None, Some((unit, at))) => (unit, at..at + unit.len()),
            (None, None) => ("", cell.range.clone()),
        };
        let span = self.span(range);
        if text.is_empty() {
            let message = format!("the column `{}` has no unit", cell.text);
            let help =
                format!("write `{} [{}]` if that is what it is", cell.name, usual(dimension));
            return Err(Box::new(Diagnostic::error(Code::MissingUnit, span, message).help(help)));
        }
        let refused = |code, message: String, help: String| {
            Box::new(Diagnostic::error(code, span, message).help(help))
        };
        let unit = match parse_unit(text) {
            Ok((unit, length)) if length == text.len() => unit,
            _ => {
                let message = format!("`{text}` is no unit known here");
                let help = format!(
                    "the column `{}` is {}, as in {}",
                    cell.name,
                    dimension.name(),
                    usual(dimension)
                );
                return Err(refused(Code::UnknownUnit, message, help));
            }
        };
        if unit.dimension == dimension {
            return Ok(unit);
        }
        let message = format!(
            "the column `{}` is {}, and `{text}` measures {}",
            cell.name,
            dimension.name(),
            unit.dimension.name()
        );
        let grams = dimension == Acceleration::DIMENSION && text == "g";
        let help = if grams {
            "`g` is the gram; standard gravity is `gn`: write `[gn]`, or `[m/s^2]`".to_owned()
        } else {
            format!("write it in {}", usual(dimension))
        };
        Err(refused(Code::WrongDimension, message, help))
    }

    fn span(&self, range: Range<usize>) -> Span {
        span_in(self.file, &range)
    }
}

/// A place in a text that holds one line.
pub(super) fn span_in(file: FileId, range: &Range<usize>) -> Span {
    let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    Span { file, start: byte(range.start), end: byte(range.end) }
}

fn usual(dimension: Dimension) -> String {
    if dimension == Acceleration::DIMENSION { "gn".to_owned() } else { dimension.usual_symbol() }
}

/// What a column is called in our words.
pub(super) fn name_of(column: Column, measured: Measured) -> String {
    match column {
        Column::Time => "time".to_owned(),
        Column::Toward(direction) => format!("{} {}", measured.words(), direction.word()),
        Column::Climb => "climb".to_owned(),
        Column::Descent => "descent".to_owned(),
        Column::LeftHigh => "side slope left high".to_owned(),
        Column::RightHigh => "side slope right high".to_owned(),
    }
}
