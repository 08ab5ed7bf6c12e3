//! What a recording says, and every way in which it is refused.

use super::rows::Sample;
use super::*;
use crate::document::log::{Column, Direction, Measured};
use crate::document::{Text, pan::Word};
use crate::quantity::{Given, Missing, Stated, si};
use crate::source::{Code, FileId, FileProblem, Files, Severity, Span};

const HERE: Span = Span { file: FileId(0), start: 0, end: 0 };
const HEADER: &str =
    "time [s],specific force forward [gn],specific force left [gn],specific force up [gn]";

struct One(Vec<u8>);

impl Files for One {
    fn read(&self, _: &str, _: Option<&str>, _: u64) -> Result<Vec<u8>, FileProblem> {
        Ok(self.0.clone())
    }
    fn exists(&self, _: &str) -> bool {
        true
    }
}

fn doc() -> DriveLog {
    DriveLog {
        span: HERE,
        file: Text { text: "drive.csv".to_owned(), span: HERE },
        measures: None,
        columns: Vec::new(),
        sensor: None,
        rest: Given::LeftOut(Missing { path: "log.rest".to_owned(), within: HERE }),
        cutoff: None,
    }
}

/// Ten samples a second: three seconds of rest, then so many of what the row says.
fn drive(header: &str, rest: &str, then: &str) -> String {
    let row = |i: u32, what: &str| format!("{:.1},{what}\n", f64::from(i) / 10.0);
    let rows: String = (0..60).map(|i| row(i, if i < 30 { rest } else { then })).collect();
    format!("{header}\n{rows}")
}

fn look(text: &[u8], doc: &DriveLog) -> (Sources, Vec<Diagnostic>, Option<Log>) {
    let source = One(text.to_vec()).recording("drive.csv", None, 1 << 30).expect("held");
    let (mut sources, mut problems) = (Sources::default(), Vec::new());
    sources.add("duty.yaml", String::new());
    let log = Log::check("drive.csv", doc, source, &mut sources, &mut problems);
    (sources, problems, log)
}

fn samples(text: &str, doc: &DriveLog) -> Vec<Sample> {
    let (_, problems, log) = look(text.as_bytes(), doc);
    assert!(problems.iter().all(|p| p.severity == Severity::Warning), "{problems:#?}");
    let mut all = Vec::new();
    log.expect("sound").samples().expect("opens").read(&mut all, 1 << 20).expect("reads");
    all
}

/// The one error: its code, the line it stands at and what it marks there.
fn refused(text: &[u8], doc: &DriveLog) -> (Code, usize, String, String) {
    let (sources, problems, log) = look(text, doc);
    assert!(log.is_none());
    let error = problems.iter().find(|p| p.severity == Severity::Error).expect("an error");
    let span = error.primary.span;
    let said = format!("{}; {}", error.message, error.help.clone().unwrap_or_default());
    (error.code, sources.place(span).line, sources.slice(span).to_owned(), said)
}

fn close(found: DVec3Like, expected: [f64; 3]) {
    for (a, b) in found.into_iter().zip(expected) {
        assert!((a - b).abs() < 1e-9, "{found:?} {expected:?}");
    }
}
type DVec3Like = [f64; 3];

#[test]
fn a_specific_force_is_read_in_any_unit_and_direction() {
    let plain = samples(&drive(HEADER, "0,0,1", "-0.5,0.2,1"), &doc());
    assert_eq!(plain.len(), 60);
    close(plain[40].motion.expect("known").force.to_array(), [-0.5, 0.2, 1.0]);
    assert_eq!((plain[40].line, plain[40].motion.expect("known").up), (42, None));
    let other = "Time [ms], \"Specific Force rearward [m/s^2]\",note,specific force  right [gn],specific force down [gn]";
    let text = drive(other, "0,at rest,0,-1", "4.903325,stop,-0.2,-1").replace(".0,", "000,");
    let text: String = text
        .lines()
        .filter(|l| l.contains("000,") || l.starts_with("Time"))
        .fold(String::new(), |all, line| all + line + "\n");
    let other = samples(&text, &doc());
    assert!((other[4].time - 4.0).abs() < 1e-12);
    close(other[4].motion.expect("known").force.to_array(), [-0.5, 0.2, 1.0]);
}

#[test]
fn an_acceleration_with_its_attitude_is_a_specific_force() {
    let header = "time [s],acceleration forward [gn],acceleration left [gn],descent [deg],side slope right high [deg]";
    let all = samples(&drive(header, "0,0,0,0", "-0.3,0.1,30,10"), &doc());
    let motion = all[40].motion.expect("known");
    let (x, y) = (-0.5, -libm::sin(10.0_f64 * std::f64::consts::PI / 180.0));
    let up = [x, y, (1.0 - x * x - y * y).sqrt()];
    close(motion.up.expect("recorded").to_array(), up);
    close(motion.force.to_array(), [x - 0.3, y + 0.1, up[2]]);
}

#[test]
fn the_duty_names_columns_and_the_way_the_sensor_looked() {
    let text = |t: &str| Text { text: t.to_owned(), span: HERE };
    let doc = DriveLog {
        measures: Some(Word { value: Measured::SpecificForce, span: HERE }),
        columns: vec![
            (Column::Time, text("t in s")),
            (Column::Toward(Direction::Forward), text("ax in gn")),
            (Column::Toward(Direction::Left), text("ay [gn]")),
            (Column::Toward(Direction::Up), text("AZ in gn")),
        ],
        // Turned half round about its upright axis.
        sensor: Some([Direction::Rearward, Direction::Right, Direction::Up]),
        ..doc()
    };
    let all = samples(&drive("t,ax,ay [gn],az", "0,0,1", "0.5,-0.2,1"), &doc);
    close(all[40].motion.expect("known").force.to_array(), [-0.5, 0.2, 1.0]);
    let (code, _, _, said) = refused(drive("t,ax,bx,az", "0,0,1", "0,0,1").as_bytes(), &doc);
    assert!(code == Code::BadLog && said.contains("ay [gn]"), "{said}");
}

#[test]
fn a_bad_number_is_an_unknown_sample_told_at_its_row() {
    for bad in ["nan", "inf", "-", "0.1.2", "", "1e999", "0,1", "\u{b1}1"] {
        let text =
            drive(HEADER, "0,0,1", "0,0,1").replace("4.0,0,0,1\n", &format!("4.0,0,{bad}\n"));
        let (sources, problems, log) = look(text.as_bytes(), &doc());
        if bad == "0,1" {
            assert!(problems.is_empty(), "this one is whole");
            continue;
        }
        assert_eq!(log.expect("still a log").facts.bad, 1, "{bad}");
        assert_eq!(problems.len(), 1, "{bad}: {problems:#?}");
        assert_eq!(problems[0].severity, Severity::Warning);
        assert_eq!(sources.place(problems[0].primary.span).line, 42, "{bad}");
        assert_eq!(sources.slice(problems[0].primary.span), if bad == "0,1" { "0" } else { bad });
        assert_eq!(samples(&text, &doc()).iter().filter(|s| s.motion.is_none()).count(), 1);
    }
}

#[test]
fn many_bad_rows_are_counted_and_not_all_drawn() {
    let text = drive(HEADER, "0,0,1", "0,0,x");
    let (_, problems, log) = look(text.as_bytes(), &doc());
    assert_eq!(log.expect("still a log").facts.bad, 30);
    assert_eq!(problems.len(), 6);
    assert!(problems[5].message.starts_with("25 more"), "{}", problems[5].message);
}

#[test]
fn time_that_runs_backwards_is_an_error_at_its_cell() {
    let text = drive(HEADER, "0,0,1", "0,0,1").replace("\n4.0,", "\n3.8,");
    assert_eq!(refused(text.as_bytes(), &doc()).0, Code::BadLog);
    let (_, line, cell, said) = refused(text.as_bytes(), &doc());
    assert_eq!((line, cell.as_str()), (42, "3.8"), "{said}");
    assert!(said.contains("backwards"), "{said}");
}

#[test]
fn columns_and_units_are_refused_at_their_cell_of_the_header() {
    let at = |header: &str| {
        let (code, line, cell, said) = refused(drive(header, "0,0,1", "0,0,1").as_bytes(), &doc());
        assert_eq!(line, 1);
        (code, cell, said)
    };
    let (code, cell, said) = at(&HEADER.replace("left [gn]", "left [furlong]"));
    assert_eq!((code, cell.as_str()), (Code::UnknownUnit, "furlong"), "{said}");
    let (code, cell, said) = at(&HEADER.replace("left [gn]", "left [g]"));
    assert_eq!((code, cell.as_str()), (Code::WrongDimension, "g"));
    assert!(said.contains("`gn`"), "{said}");
    let (code, cell, _) = at(&HEADER.replace("time [s]", "time"));
    assert_eq!((code, cell.as_str()), (Code::MissingUnit, "time"));
    let (code, _, said) = at(&HEADER.replace("left [gn]", "lefft [gn]"));
    assert_eq!(code, Code::BadLog);
    assert!(said.contains("lefft"), "{said}");
    let (_, _, said) = at("t;ax;ay;az");
    assert!(said.contains("commas"), "{said}");
    let header = "time [s],acceleration forward [gn],acceleration left [gn],climb [deg]";
    let (_, _, said) = at(header);
    assert!(said.contains("side slope left high"), "{said}");
}

#[test]
fn a_vehicle_at_rest_tells_which_axis_looks_turned() {
    let at = |rest: &str| {
        let (code, _, cell, said) = refused(drive(HEADER, rest, "0,0,1").as_bytes(), &doc());
        assert_eq!(code, Code::BadLog, "{said}");
        (cell, said)
    };
    let (cell, said) = at("0,0,-1");
    assert_eq!(cell, "specific force up [gn]");
    assert!(said.contains("turned round") && said.contains("specific force down"), "{said}");
    let (cell, said) = at("-1,0,0");
    assert_eq!(cell, "specific force forward [gn]");
    assert!(said.contains("looks like the upright one") && said.contains("rearward"), "{said}");
    assert!(at("0,0,9.80665").1.contains("[m/s^2]"));
    assert!(at("0,0,0.102").1.contains("acceleration"));
    assert!(at("0.6,0.6,0.53").1.contains("askew"));
    assert!(at("0,0,1.4").1.contains("1.40 gn"));
    // A vehicle parked on a slope of 20 deg stands still as well.
    let (_, problems, log) = look(drive(HEADER, "0.342,0,0.940", "0,0,1").as_bytes(), &doc());
    assert!(log.is_some(), "{problems:#?}");
}

#[test]
fn gravity_in_an_acceleration_is_noticed() {
    let header = "time [s],acceleration forward [gn],acceleration left [gn],acceleration up [gn],climb [deg],side slope left high [deg]";
    let (_, _, cell, said) = refused(drive(header, "0,0,1,0,0", "0,0,1,0,0").as_bytes(), &doc());
    assert_eq!(cell, "acceleration up [gn]");
    assert!(said.contains("gravity is in it"), "{said}");
}

#[test]
fn a_vehicle_that_never_stands_still_is_asked_to_and_may_say_no() {
    let header = format!("{HEADER}\n");
    let row = |i: i32| {
        format!("{:.1},{},0,1\n", f64::from(i) / 10.0, if i % 2 == 0 { 0.3 } else { -0.3 })
    };
    let shaken = (0..60).map(row).collect::<Vec<String>>().concat();
    let text = header + &shaken;
    let (_, _, _, said) = refused(text.as_bytes(), &doc());
    assert!(said.contains("does not stand still") && said.contains("rest: none"), "{said}");
    let unchecked = DriveLog { rest: Given::Absent(HERE), ..doc() };
    assert!(!look(text.as_bytes(), &unchecked).2.expect("taken as it is").facts.rested);
    let long = DriveLog { rest: Given::Stated(Stated { value: si(20.0), span: HERE }), ..doc() };
    let text = drive(HEADER, "0,0,1", "0,0,1");
    assert!(refused(text.as_bytes(), &long).3.contains("20 s"));
}

#[test]
fn what_is_no_log_at_all_is_refused_without_a_panic() {
    let empty: &[u8] = b"";
    for text in [
        empty,
        b"\n\n",
        b"# nothing\n",
        b"\xef\xbb\xbf",
        b"\xff\xfe\x00",
        b",,,,",
        b"[",
        b"time [s]",
    ] {
        refused(text, &doc());
    }
    assert!(refused(HEADER.as_bytes(), &doc()).3.contains("no drive"));
    let endless = format!("{HEADER}\n{}", "1".repeat(200_000));
    assert_eq!(refused(endless.as_bytes(), &doc()).0, Code::LimitReached);
    let row = |i: i32| format!("{},0,0,1\n", f64::from(i) * 1e-5);
    let fast = (0..200).map(row).collect::<Vec<String>>().concat();
    let (code, ..) = refused(format!("{HEADER}\n{fast}").as_bytes(), &doc());
    assert_eq!(code, Code::LimitReached);
}

proptest::proptest! {
    #[test]
    fn no_bytes_make_a_reader_panic(bytes in proptest::collection::vec(proptest::num::u8::ANY, 0..400)) {
        look(&bytes, &doc());
        let mut behind = HEADER.as_bytes().to_vec();
        behind.push(b'\n');
        behind.extend(&bytes);
        look(&behind, &doc());
    }
}
