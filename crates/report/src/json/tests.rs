//! Tests of this module.

use super::{measured, review};
use crate::samples;
use serde_json::Value;
use sumpwright_core::measure::Bounds;
use sumpwright_core::review::{BookUsed, Conceding, Reading, Review};
use sumpwright_core::source::Sources;

#[test]
fn every_verdict_as_json() {
    insta::assert_snapshot!(review(&samples::every_verdict()));
}

#[test]
fn readings_as_json() {
    insta::assert_snapshot!(measured(&samples::readings()));
}

#[test]
fn documents_that_cannot_be_used_are_still_valid_json() {
    insta::assert_snapshot!(review(&samples::broken()));
}

#[test]
fn text_that_could_act_on_a_terminal_is_escaped_and_comes_back_unchanged() {
    let evil = "a\u{1b}[31m\u{202e}\u{9b}\n\u{e0041}\"";
    let mut sources = Sources::default();
    sources.add(evil, String::new());
    let text = review(&Review {
        sources,
        pans: Vec::new(),
        problems: Vec::new(),
        rules: 0,
        book: BookUsed::default(),
        checklists: Vec::new(),
        conceding: Conceding::default(),
        screening: None,
    });
    assert!(text.chars().all(|c| c == '\n' || crate::visible::is_seen(c)), "{text}");
    let value: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(value["files"][0], Value::String(evil.to_owned()));
}

#[test]
fn a_number_that_is_none_is_null_and_a_negative_zero_is_zero() {
    let mut sample = samples::every_verdict();
    let findings = sample.pans.first_mut().map(|pan| &mut pan.findings).unwrap();
    let finding = findings.last_mut().unwrap();
    finding.reading =
        Some(Reading { bounds: Bounds::at_least(-0.0), u_low: f64::NAN, u_high: 0.0 });
    let text = review(&sample);
    let value: Value = serde_json::from_str(&text).unwrap();
    let findings = value["pans"][0]["findings"].as_array().unwrap();
    let reading = &findings.last().unwrap()["reading"];
    assert_eq!(reading["kind"], "at least");
    assert_eq!(reading["low"].to_string(), "0.0");
    assert_eq!(reading["u_low"], Value::Null);
    assert_eq!(reading["high"], Value::Null);
    assert_eq!(reading["value"], Value::Null);
}

#[test]
fn a_number_comes_back_to_the_last_bit() {
    let mut sample = samples::every_verdict();
    let finding = sample.pans.first_mut().and_then(|pan| pan.findings.last_mut()).unwrap();
    let value = 0.1 + 0.2;
    finding.reading = Some(samples::exactly(value, 0.0));
    let json: Value = serde_json::from_str(&review(&sample)).unwrap();
    let findings = json["pans"][0]["findings"].as_array().unwrap();
    let back = findings.last().unwrap()["reading"]["value"].as_f64().unwrap();
    assert_eq!(back.to_bits(), value.to_bits());
}
