//! One way through a recording for everything that can be wrong with it: columns, units, time, and, where the
//! vehicle stands still at the start, the signs of its axes.

use super::header::{Header, name_of, span_in};
use super::rows::{AtLine, LONGEST_LINE, Sample, Samples, Stopped};
use crate::document::log::{Column, DriveLog, Measured};
use crate::quantity::Given;
use crate::source::{Code, Diagnostic, FileProblem, Recording, Sources, Span};
use glam::DVec3;
use std::sync::Arc;

/// How long the vehicle stands still at the start where nothing is said, in seconds.
const REST: f64 = 2.0;
/// A sensor at rest reads gravity within this, in gn: phones are off by some 0.03, and an engine shakes.
const GRAVITY_WITHIN: f64 = 0.1;
/// A vehicle that stands still reads the same within this (standard deviation), in gn.
const STEADY: f64 = 0.15;
/// At rest up reads at least this, in gn: a vehicle parked on a slope of 45°.
const MOSTLY_UP: f64 = 0.7;
/// More samples a second show nothing more of oil, and a filter over them takes long.
const MOST_A_SECOND: f64 = 5000.0;
/// Rows read at a time.
const PIECE: usize = 4096;

/// What was found on the way through a recording.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Facts {
    /// Rows with a time.
    pub rows: usize,
    /// Time of the first row, in seconds.
    pub first: f64,
    /// Time of the last row, in seconds.
    pub last: f64,
    /// Rows with a number that cannot be read.
    pub bad: usize,
    /// The header's line: what stands for the whole recording.
    pub header: Span,
    /// Whether the signs were checked at rest.
    pub rested: bool,
}

impl Facts {
    /// How long it lasts, in seconds.
    pub fn lasts(&self) -> f64 {
        self.last - self.first
    }

    /// Time from one row to the next, on the mean, in seconds.
    pub fn step(&self) -> f64 {
        let steps = self.rows.saturating_sub(1);
        if steps == 0 { f64::INFINITY } else { self.lasts() / steps as f64 }
    }
}

/// Sums over the samples at rest.
#[derive(Debug, Default)]
struct Rest {
    count: f64,
    sum: DVec3,
    squares: DVec3,
}

pub(super) fn check(
    path: &str,
    doc: &DriveLog,
    source: &dyn Recording,
    sources: &mut Sources,
    problems: &mut Vec<Diagnostic>,
) -> Option<(Header, Facts)> {
    let stopped = |stopped: &Stopped, sources: &mut Sources| told(stopped, path, doc, sources);
    let opened = Samples::open(source).and_then(|mut samples| {
        let line = samples.header_line()?;
        Ok((samples, line))
    });
    let (mut samples, line) = match opened {
        Ok(opened) => opened,
        Err(why) => {
            problems.push(stopped(&why, sources));
            return None;
        }
    };
    let file = sources.add_part(path, line.text.clone(), line.line - 1);
    let header = match Header::read(&line, file, doc) {
        Ok(header) => Arc::new(header),
        Err(found) => {
            problems.extend(found);
            return None;
        }
    };
    samples.read_as(Arc::clone(&header));
    let mut walk = Walk::new(doc, span_in(file, &line.range));
    if let Err(why) = walk.through(&mut samples) {
        problems.push(stopped(&why, sources));
        return None;
    }
    for cell in &samples.bad_cells {
        problems.push(bad_cell(cell, path, sources));
    }
    if let Some(more @ 1..) = samples.bad.checked_sub(samples.bad_cells.len()) {
        let message = format!("{more} more rows of this log hold a number that cannot be read");
        problems.push(Diagnostic::warning(Code::BadLog, walk.facts.header, message));
    }
    walk.facts.bad = samples.bad;
    let wrong = walk.wrong(doc, &header, file);
    let sound = wrong.is_empty();
    problems.extend(wrong);
    drop(samples);
    sound.then_some((Arc::into_inner(header)?, walk.facts))
}

/// What is gathered on the way.
struct Walk {
    facts: Facts,
    rest: Rest,
    /// How long the vehicle is to stand still.
    still: Option<f64>,
}

impl Walk {
    fn new(doc: &DriveLog, header: Span) -> Self {
        let still = match &doc.rest {
            Given::Stated(time) => Some(time.value.value),
            Given::LeftOut(_) => Some(REST),
            Given::Absent(_) => None,
        };
        let facts =
            Facts { rows: 0, first: 0.0, last: 0.0, bad: 0, header, rested: still.is_some() };
        Self { facts, rest: Rest::default(), still }
    }

    fn through(&mut self, samples: &mut Samples) -> Result<(), Stopped> {
        let mut rows = Vec::with_capacity(PIECE);
        loop {
            rows.clear();
            samples.read(&mut rows, PIECE)?;
            if rows.is_empty() {
                return Ok(());
            }
            for row in &rows {
                self.pass(row);
            }
        }
    }

    fn pass(&mut self, row: &Sample) {
        if self.facts.rows == 0 {
            self.facts.first = row.time;
        }
        self.facts.rows += 1;
        self.facts.last = row.time;
        if let (Some(still), Some(motion)) = (self.still, row.motion)
            && row.time - self.facts.first <= still
        {
            // Of an acceleration with attitude the acceleration alone: nothing at rest.
            let read = motion.force - motion.up.unwrap_or(DVec3::ZERO);
            self.rest.count += 1.0;
            self.rest.sum += read;
            self.rest.squares += read * read;
        }
    }

    fn wrong(
        &self,
        doc: &DriveLog,
        header: &Header,
        file: crate::source::FileId,
    ) -> Vec<Diagnostic> {
        let at = self.facts.header;
        let error = |span, message: String, help: &str| {
            vec![Diagnostic::error(Code::BadLog, span, message).help(help)]
        };
        let lasts = self.facts.lasts();
        if self.facts.rows < 2 || lasts <= 0.0 {
            let message = format!("this log holds {} rows: no drive", self.facts.rows);
            return error(at, message, "below the header stands a row of numbers for each sample");
        }
        if self.facts.step() < 1.0 / MOST_A_SECOND {
            let message = format!("this log has {:.0} samples a second", 1.0 / self.facts.step());
            let problem = Diagnostic::error(Code::LimitReached, at, message);
            return vec![
                problem.help(format!("thin it out to at most {MOST_A_SECOND:.0} a second")),
            ];
        }
        let Some(still) = self.still else { return Vec::new() };
        let span = match &doc.rest {
            Given::Stated(stated) => stated.span,
            _ => at,
        };
        if lasts < still || self.rest.count < 2.0 {
            let message = format!(
                "the log cannot show the vehicle standing still for {still} s: it has {:.0} good samples there",
                self.rest.count
            );
            return error(span, message, NO_REST);
        }
        let mean = self.rest.sum / self.rest.count;
        let spread = (self.rest.squares / self.rest.count - mean * mean).max(DVec3::ZERO);
        let shaken = (spread.x + spread.y + spread.z).sqrt();
        if shaken > STEADY {
            let message = format!(
                "the vehicle does not stand still for the first {still} s: its readings spread by {shaken:.2} gn"
            );
            return error(span, message, NO_REST);
        }
        standing(mean, header, file, at)
    }
}

const NO_REST: &str = "let the log begin with the vehicle at rest and say for how long, as in `rest: 3 s`, so that the \
    signs of its axes can be checked; `rest: none` leaves them unchecked";

/// What a vehicle that stands still says of the signs and units of the axes.
fn standing(
    mean: DVec3,
    header: &Header,
    file: crate::source::FileId,
    at: Span,
) -> Vec<Diagnostic> {
    let error = |span, message: String, help: String| {
        vec![Diagnostic::error(Code::BadLog, span, message).help(help)]
    };
    // Adding 0 turns a negative zero into a zero.
    let reads = |value: f64| format!("{:.2} gn", libm::round(value * 100.0) / 100.0 + 0.0);
    let size = mean.length();
    // The axis of the file that reads most, and what it reads.
    let most = header.axes.iter().map(|axis| (axis, mean.dot(axis.toward)));
    let most = most.reduce(|a, b| if b.1.abs() > a.1.abs() { b } else { a });
    let Some((axis, value)) = most else { return Vec::new() };
    let name = name_of(Column::Toward(axis.named), header.measured);
    let span = span_in(file, &axis.range());
    if header.measured == Measured::Acceleration {
        if size <= GRAVITY_WITHIN {
            return Vec::new();
        }
        if (size - 1.0).abs() <= GRAVITY_WITHIN {
            let message = format!("at rest `{name}` reads {}: gravity is in it", reads(value));
            let help = "that is a specific force: name the columns `specific force …`, or write `measures: \
                        specific force`; the attitude is then not needed";
            return error(span, message, help.to_owned());
        }
        let message =
            format!("at rest `{name}` reads {}, and an acceleration reads 0 there", reads(value));
        return error(span, message, NO_REST.to_owned());
    }
    if size < 0.2 {
        let message = format!(
            "at rest these columns read {}, and a specific force reads 1 gn upward",
            reads(size)
        );
        let help = "what reads 0 at rest is an acceleration: name the columns `acceleration …`, or write `measures: \
                    acceleration`, and record the attitude beside it as `climb [deg]` and `side slope left high [deg]`";
        return error(at, message, help.to_owned());
    }
    if (size - 1.0).abs() > GRAVITY_WITHIN {
        let message =
            format!("at rest these columns read {} in all, and gravity is 1 gn", reads(size));
        let off = |factor: f64| (size / factor - 1.0).abs() <= GRAVITY_WITHIN;
        let help = if off(9.806_65) {
            "they look like m/s^2 under the name of gn: write `[m/s^2]`".to_owned()
        } else if off(1.0 / 9.806_65) {
            "they look like gn under the name of m/s^2: write `[gn]`".to_owned()
        } else {
            NO_REST.to_owned()
        };
        return error(at, message, help);
    }
    if mean.z >= MOSTLY_UP {
        return Vec::new();
    }
    turned(mean, axis.named, &name, span, &reads(value), value)
}

/// Gravity does not lie along the vehicle's up: which axis looks turned.
fn turned(
    mean: DVec3,
    named: crate::document::log::Direction,
    name: &str,
    span: Span,
    reads: &str,
    value: f64,
) -> Vec<Diagnostic> {
    let upward = if value < 0.0 { named.opposite() } else { named };
    let (message, help) = if mean.z <= -MOSTLY_UP {
        (
            format!("at rest `{name}` reads {reads}: this axis looks turned round"),
            format!(
                "a specific force at rest is 1 gn upward. If it is the axis alone, name the column `{}`; if the \
                 sensor hung upside down, say under `log.sensor` where its axes point",
                name.replace(named.word(), named.opposite().word())
            ),
        )
    } else if value.abs() >= MOSTLY_UP {
        (
            format!("at rest `{name}` reads {reads}: this axis looks like the upright one"),
            format!(
                "a specific force at rest is 1 gn upward, so the sensor's {} points up: say under `log.sensor` \
                 where its axes point",
                upward.word()
            ),
        )
    } else {
        (
            format!("at rest gravity does not lie near any axis: `{name}` reads most, {reads}"),
            "the sensor stands askew: turn its readings into the vehicle's axes before they are used here"
                .to_owned(),
        )
    };
    vec![Diagnostic::error(Code::BadLog, span, message).help(help)]
}

fn told(why: &Stopped, path: &str, doc: &DriveLog, sources: &mut Sources) -> Diagnostic {
    let at = |cell: &AtLine, sources: &mut Sources| {
        let file = sources.add_part(path, cell.text.clone(), cell.line - 1);
        span_in(file, &cell.range)
    };
    match why {
        Stopped::File(problem) => {
            let message = format!("{path} cannot be read: {}", file_words(problem));
            Diagnostic::error(Code::BadReference, doc.file.span, message)
        }
        Stopped::Empty => {
            let message = format!("{path} holds no header");
            Diagnostic::error(Code::BadLog, doc.file.span, message)
                .help("its first line names the columns with their units, as in `time [s]`")
        }
        Stopped::Backwards(cell) => {
            let message = "time runs backwards here";
            Diagnostic::error(Code::BadLog, at(cell, sources), message)
                .help("a log is one drive in the order of time; cut it in two where the clock was set back")
        }
        Stopped::LongLine(cell) => {
            let message = format!("a line of more than {LONGEST_LINE} bytes is no row of numbers");
            Diagnostic::error(Code::LimitReached, at(cell, sources), message)
        }
    }
}

pub(super) fn file_words(problem: &FileProblem) -> String {
    match problem {
        FileProblem::Missing => "there is no such file".to_owned(),
        FileProblem::NotAFile => "it is not a regular file".to_owned(),
        FileProblem::TooLarge { size, limit } => {
            format!("it has {size} bytes, and the limit is {limit}")
        }
        FileProblem::OutsideRoot => "it lies outside the root folder".to_owned(),
        FileProblem::Refused(why) => why.clone(),
    }
}

fn bad_cell(cell: &AtLine, path: &str, sources: &mut Sources) -> Diagnostic {
    let file = sources.add_part(path, cell.text.clone(), cell.line - 1);
    let found = cell.text.get(cell.range.clone()).unwrap_or("");
    let message = if found.is_empty() {
        "a number is lacking here: the sample counts as unknown".to_owned()
    } else {
        format!("`{found}` is no number: the sample counts as unknown")
    };
    Diagnostic::warning(Code::BadLog, span_in(file, &cell.range), message)
        .help("where the recording only skipped a beat, leave the row out: short steps are bridged")
}
