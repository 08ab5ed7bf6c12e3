//! A recorded drive from the file to the verdict, by the real program and by the library.
#![expect(
    clippy::format_push_string,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rows of a table of some hundred lines, counted by small whole numbers"
)]

use crate::support::{Disk, measure, read, root};
use std::process::{Command, Output};
use sumpwright_core::review::{MeasureReading, Measured};

const STOCK: &str = "fixtures/pans/stock-stamped.yaml";
const LOG: &str = "fixtures/logs/quarry-road.csv";
const HEADER: &str =
    "time [s],specific force forward [gn],specific force left [gn],specific force up [gn]\n";

/// The stock pan along a log, with what the duty says of it.
fn along(csv: &str, said: &str) -> Disk {
    let pan = read(&root().join(STOCK)).replace("rock-trail", "logged");
    let duty = format!(
        "duty: 1\noil_temperature: [40 degC, 100 degC]\nstates: {{ climb: {{ climb: 30 deg }} }}\n\
         log: {{ file: ../logs/drive.csv{said} }}\nstrike: none\nparked_to_drain: none\n"
    );
    let texts = [
        (STOCK, pan.as_str()),
        ("fixtures/duties/logged.yaml", &duty),
        ("fixtures/logs/drive.csv", csv),
    ];
    Disk { instead: texts.map(|(path, text)| (path.to_owned(), text.to_owned())).into() }
}

fn looked_at(csv: &str, said: &str) -> Measured {
    let measured = measure(&along(csv, said), &[STOCK]);
    let errors =
        measured.problems.iter().filter(|p| p.severity == sumpwright_core::source::Severity::Error);
    assert_eq!(errors.count(), 0, "{:#?}", measured.problems);
    measured
}

fn reading<'a>(measured: &'a Measured, name: &str) -> &'a MeasureReading {
    measured.pans[0].measures.iter().find(|m| m.spec.name == name).unwrap()
}

fn bounds(measured: &Measured, name: &str) -> [f64; 2] {
    let bounds = reading(measured, name).reading.as_ref().unwrap().bounds;
    [bounds.low, bounds.high]
}

/// Twenty samples a second; each stretch is so long at a climb in degrees, level at first.
fn climbs(stretches: &[(f64, f64)]) -> String {
    let mut text = HEADER.to_owned();
    let mut row = 0;
    for (lasts, climb) in stretches {
        for _ in 0..(lasts * 20.0).round() as usize {
            let (x, z) = climb.to_radians().sin_cos();
            text += &format!("{:.2},{x:.9},0,{z:.9}\n", f64::from(row) / 20.0);
            row += 1;
        }
    }
    text
}

#[test]
fn a_long_climb_in_a_log_is_the_climb_of_a_state() {
    let measured = looked_at(&climbs(&[(4.0, 0.0), (20.0, 30.0), (4.0, 0.0)]), "");
    let log = bounds(&measured, "pickup.log_least_rim_depth");
    let state = bounds(&measured, "pickup.rim_depth");
    // The states' worst is the climb at the coldest oil, as the log is judged; sines to nine digits.
    assert!((log[0] - state[0]).abs() < 1e-8, "{log:?} {state:?}");
    let u = |name: &str| reading(&measured, name).reading.as_ref().unwrap().u_low;
    let (log, state) = (u("pickup.log_least_rim_depth"), u("pickup.rim_depth"));
    assert!(log > 0.0 && (log / state - 1.0).abs() < 1e-3, "{log} {state}");
}

#[test]
fn the_time_uncovered_is_that_of_the_climb_and_the_longest_spell_one_of_two() {
    // At 60 deg the stock inlet stands out, on the level it lies 52 mm deep; the low-pass reaches over half a second.
    let csv = climbs(&[(4.0, 0.0), (6.0, 60.0), (6.0, 0.0), (3.0, 60.0), (4.0, 0.0)]);
    let measured = looked_at(&csv, "");
    let [time, most] = bounds(&measured, "pickup.log_time_uncovered");
    let [spell, _] = bounds(&measured, "pickup.log_longest_spell");
    assert!((time - 9.0).abs() < 1.0 && (most - time).abs() <= 0.0, "{time}");
    assert!((spell - 6.0).abs() < 0.5, "{spell}");
    // Raw there is no low-pass: the two climbs to within a sample each.
    let notes = reading(&measured, "pickup.log_time_uncovered").notes.join(" ");
    assert!(notes.contains("uncovered for 9.0 s"), "{notes}");
}

/// Samples that shake about a climb with no mean: raw they uncover, low-passed they do not.
#[test]
fn what_is_too_fast_for_the_oil_is_told_raw_and_not_judged() {
    let mut text = HEADER.to_owned();
    for i in 0..600 {
        let x = if i < 60 { 0.0 } else { [1.6, -1.6][i % 2] };
        text += &format!("{:.2},{x},0,1\n", f64::from(u32::try_from(i).unwrap()) / 20.0);
    }
    let measured = looked_at(&text, "");
    assert!(bounds(&measured, "pickup.log_time_uncovered")[1] <= 0.0);
    assert!(bounds(&measured, "pickup.log_least_rim_depth")[0] > 0.045);
    let notes = reading(&measured, "pickup.log_least_rim_depth").notes.join(" ");
    assert!(
        !notes.contains("uncovered for 0.0 s:") && notes.contains("Under the raw motion"),
        "{notes}"
    );
}

#[test]
fn what_is_unknown_leaves_a_bound_and_is_counted() {
    let whole = climbs(&[(4.0, 0.0), (10.0, 30.0)]);
    let least = bounds(&looked_at(&whole, ""), "pickup.log_least_rim_depth");
    // A bad number, a gap of two seconds, and a free fall.
    let bad = whole.replacen("\n8.00,0.5", "\n8.00,x", 1);
    let gap: String = whole
        .split_inclusive('\n')
        .filter(|l| !l.starts_with("9.") && !l.starts_with("10."))
        .collect();
    let fall = whole.replacen("\n8.00,0.500000000,0,0.866025404", "\n8.00,0.01,0,0.01", 1);
    for (csv, unknown) in [(bad, 0.05), (gap, 2.05), (fall, 0.0)] {
        let measured = looked_at(&csv, "");
        let [low, high] = bounds(&measured, "pickup.log_least_rim_depth");
        if unknown > 0.0 {
            assert!(low.is_infinite(), "unknown is not a pass");
            let [known, most] = bounds(&measured, "pickup.log_time_uncovered");
            assert!((most - known - unknown).abs() < 1e-6, "{known} {most}");
            let notes = reading(&measured, "pickup.log_time_uncovered").notes.join(" ");
            assert!(notes.contains("Nothing is known of"), "{notes}");
        }
        assert!((high - least[1]).abs() < 2e-3, "{high} {least:?}");
    }
}

#[test]
fn a_log_that_is_too_slow_for_what_the_oil_follows_is_unknown() {
    let csv: String =
        HEADER.to_owned() + &(0..40).map(|i| format!("{i},0,0,1\n")).collect::<Vec<_>>().concat();
    let measured = looked_at(&csv, ", rest: 5 s");
    let unknown = reading(&measured, "pickup.log_least_rim_depth").reading.as_ref().unwrap_err();
    assert!(unknown.reason.contains("samples a second"), "{}", unknown.reason);
}

fn program(arguments: &[&str], threads: &str) -> Output {
    Command::new(env!("CARGO_BIN_EXE_sumpwright"))
        .current_dir(root())
        .env("LC_ALL", "C.UTF-8")
        .env("RAYON_NUM_THREADS", threads)
        .args(arguments)
        .output()
        .unwrap()
}

/// A folder with the demo's documents, the stock pan along a changed log.
fn folder(name: &str, change: impl Fn(&str) -> String) -> String {
    let base = std::path::PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("log-{name}"));
    let _ = std::fs::remove_dir_all(&base);
    for path in ["vehicles/brindle.yaml", "oils/trail.yaml", "duties/quarry-road.yaml"] {
        let to = base.join(path);
        std::fs::create_dir_all(to.parent().unwrap()).unwrap();
        std::fs::copy(root().join("fixtures").join(path), to).unwrap();
    }
    std::fs::create_dir_all(base.join("logs")).unwrap();
    std::fs::create_dir_all(base.join("pans")).unwrap();
    std::fs::write(base.join("logs/quarry-road.csv"), change(&read(&root().join(LOG)))).unwrap();
    let pan = base.join("pans/stock.yaml");
    std::fs::write(&pan, read(&root().join(STOCK)).replace("rock-trail", "quarry-road")).unwrap();
    pan.to_str().unwrap().to_owned()
}

#[test]
fn the_program_judges_the_drive_and_says_the_same_on_any_number_of_threads() {
    let pan = folder("sound", str::to_owned);
    let one = program(&["review", &pan, "--all"], "1");
    let said = String::from_utf8(one.stdout.clone()).unwrap();
    assert_eq!(one.status.code(), Some(0), "{said}");
    assert!(said.contains("pickup.uncovers-on-the-drive"), "{said}");
    assert!(one.stderr.is_empty(), "no progress where nobody looks on");
    assert_eq!(one.stdout, program(&["review", &pan, "--all"], "3").stdout);
    let json = |threads| program(&["measure", &pan, "--format", "json"], threads).stdout;
    assert_eq!(json("1"), json("2"));
}

#[test]
fn every_fault_of_a_log_ends_with_2_at_its_row_or_is_a_warning_told_at_it() {
    type Change = fn(&str) -> String;
    let cases: [(&str, Change, i32, &str); 6] = [
        ("nan", |t| t.replace("\n20.0,", "\n20.0,nan,"), 1, "quarry-road.csv:203:6"),
        ("backwards", |t| t.replace("\n20.0,", "\n19.0,"), 2, "quarry-road.csv:203:1"),
        ("reversed", |t| t.replace("force up", "force down"), 2, "quarry-road.csv:2:63"),
        ("unit", |t| t.replace("up [gn]", "up [gg]"), 2, "quarry-road.csv:2:82"),
        ("column", |t| t.replace("time", "clock"), 2, "quarry-road.csv:2:1"),
        ("empty", |_| String::new(), 2, "quarry-road.yaml:9:14"),
    ];
    for (name, change, code, place) in cases {
        let pan = folder(name, change);
        let output = program(&["review", &pan], "2");
        let said = String::from_utf8_lossy(&output.stdout).into_owned();
        assert_eq!(output.status.code(), Some(code), "{name}: {said}");
        assert!(said.contains(place), "{name}: {said}");
        assert!(!String::from_utf8_lossy(&output.stderr).contains("panicked"));
    }
}

#[test]
fn a_bad_number_makes_the_rule_inconclusive_and_never_a_pass() {
    let pan = folder("inconclusive", |t| t.replace("\n20.0,", "\n20.0,-,"));
    let output = program(&["review", &pan, "--format", "json"], "2");
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let findings = json["pans"][0]["findings"].as_array().unwrap();
    let rule = findings.iter().find(|f| f["rule"] == "pickup.uncovers-on-the-drive").unwrap();
    assert_eq!(rule["verdict"], "inconclusive", "{rule:#}");
}
