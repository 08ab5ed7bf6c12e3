//! Logs: kinds, levels and places.

use crate::samples;
use serde_json::Value;

fn log(review: &sumpwright_core::review::Review) -> Value {
    serde_json::from_str(&super::review(review)).expect("it is JSON")
}

#[test]
fn every_verdict_has_its_kind_and_level() {
    insta::assert_snapshot!(super::review(&samples::every_verdict()));
}

#[test]
fn broken_documents_make_the_run_unsuccessful() {
    let log = log(&samples::broken());
    let invocation = log.pointer("/runs/0/invocations/0").expect("there is one");
    assert_eq!(invocation.pointer("/executionSuccessful"), Some(&Value::Bool(false)));
    let told = invocation.pointer("/toolConfigurationNotifications").and_then(Value::as_array);
    assert!(told.is_some_and(|told| !told.is_empty()));
}

#[test]
fn only_a_breach_has_a_level() {
    let log = log(&samples::every_verdict());
    for result in log.pointer("/runs/0/results").and_then(Value::as_array).expect("a list") {
        let is_fail = result.pointer("/kind").and_then(Value::as_str) == Some("fail");
        let is_none = result.pointer("/level").and_then(Value::as_str) == Some("none");
        assert_ne!(is_fail, is_none);
    }
}

#[test]
fn a_path_with_blanks_and_signs_is_a_uri() {
    assert_eq!(super::place::uri("a pan/größe#1.yaml"), "a%20pan/gr%C3%B6%C3%9Fe%231.yaml");
}

/// The standard asks that the index leads to the descriptor of the same id, and that only a failure has a level.
#[test]
fn a_clause_is_a_result_of_a_rule_of_its_own() {
    let log = log(&samples::against_a_list());
    let of = |value: &Value, path: &str| value.pointer(path).cloned().unwrap_or_default();
    let mut kinds = Vec::new();
    for result in log.pointer("/runs/0/results").and_then(Value::as_array).expect("a list") {
        let index = of(result, "/ruleIndex").as_u64().expect("an index");
        let rule = of(&log, &format!("/runs/0/tool/driver/rules/{index}/id"));
        assert_eq!(rule, of(result, "/ruleId"));
        if let Some(name) = rule.as_str().and_then(|id| id.strip_prefix("checklist.<workshop>.")) {
            let word = |path| of(result, path).as_str().unwrap_or("").to_owned();
            kinds.push(format!("{name}: {} {}", word("/kind"), word("/level")));
        }
    }
    insta::assert_snapshot!(kinds.join("\n"), @r"
    floor: pass none
    fins: informational none
    inlet: fail error
    paint: informational none
    marking: informational none
    colour: open none
    badge: notApplicable none
    level: open none
    ");
}
