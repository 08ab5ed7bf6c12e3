//! Accepted departures: what a concession covers, what it does not, and how every format says so.

use crate::support::{Disk, read, root};
use sumpwright_core::checklist::hold;
use sumpwright_core::concede::{ConcedeRequest, concede};
use sumpwright_core::document::date::Date;
use sumpwright_core::review::{Answer, ConcessionFault, Finding, Request, Review, review};
use sumpwright_core::source::Severity;
use sumpwright_core::verdict::Verdict;

const PAN: &str = "fixtures/pans/low-finned.yaml";
const LIST: &str = "fixtures/concessions.yaml";

/// A rule that the fins of the pan break by far (their root bears 110 MPa), as the shipped one asks it.
const FINS: &str = "  fin.breaks-at-the-strike:
    title: A fin's root bears the stated strike
    force: shall
    measure: fin.root_stress
    at_most: LIMIT
    because: It breaks.
    source: common practice
";

/// A permit that covers it.
const PERMIT: &str = "concessions: 1
accepted:
  old-pattern:
    kind: deviation permit
    pan: pans/low-finned.yaml
    rule: fin.breaks-at-the-strike
    object: fins.keel
    bound: 520 MPa
    reason: The first batch is cast from the old pattern.
    accepted_by: { name: M. Quill, function: design authority, on: 2026-11-02 }
    expires: 2027-01-31
";

fn rule(limit: &str) -> String {
    format!("rulebook: 1\nrules:\n{}", FINS.replace("LIMIT", limit))
}

/// The pan's text, saying in which state it is.
fn pan(state: &str) -> String {
    read(&root().join(PAN)).replacen(
        "title: Low finned pan\n",
        &format!("title: Low finned pan\nobject: {{ state: {state} }}\n"),
        1,
    )
}

/// A review of the pan by one rulebook, with a list of concessions, on a day.
fn judged(book: &str, pan: &str, list: &str, on: Option<&str>) -> Review {
    let disk = Disk { instead: vec![(PAN.into(), pan.into()), (LIST.into(), list.into())] };
    let rulebook = [("own.yaml".to_owned(), book.to_owned())];
    let found =
        review(Request { files: &disk, pans: &[PAN.into()], rulebook: &rulebook, drawn: false });
    let on = on.map(|day| Date::parse(day).unwrap());
    let paths = [LIST.to_owned()];
    concede(found, ConcedeRequest { files: &disk, paths: &paths, on, longest: Some(120) })
}

fn on_a_day(list: &str, on: &str) -> Review {
    judged(&rule("110 MPa"), &pan("as designed"), list, Some(on))
}

fn only(review: &Review) -> &Finding {
    assert_eq!(review.pans.len(), 1, "{:#?}", review.problems);
    assert_eq!(review.pans[0].findings.len(), 1);
    &review.pans[0].findings[0]
}

fn faults(review: &Review) -> Vec<ConcessionFault> {
    review.conceding.findings.iter().map(|finding| finding.fault).collect()
}

fn problems(review: &Review) -> Vec<(&'static str, Severity)> {
    review.problems.iter().map(|problem| (problem.code.word(), problem.severity)).collect()
}

/// What is told when one line of the permit is another.
fn told(from: &str, to: &str) -> Review {
    assert!(PERMIT.contains(from), "{from}");
    on_a_day(&PERMIT.replace(from, to), "2026-11-25")
}

#[test]
fn a_breach_within_the_bound_is_conceded_and_stays_to_be_seen() {
    let review = on_a_day(PERMIT, "2026-11-25");
    let finding = only(&review);
    assert_eq!(finding.verdict, Verdict::Conceded);
    let accepted = finding.acceptance.as_ref().unwrap();
    assert_eq!(
        (accepted.name.as_str(), accepted.without),
        ("old-pattern", Verdict::DoesNotConform)
    );
    assert_eq!(accepted.refused, None);
    assert!(finding.reading.is_some() && !finding.limits.is_empty());
    assert_eq!((faults(&review), problems(&review)), (vec![], vec![]));
}

/// A customer's list is held against what stands after the concessions: covered, the clause is settled, and says how.
#[test]
fn a_clause_of_a_list_is_conceded_with_its_rule_and_only_while_it_is() {
    let list = "fixtures/list.yaml";
    let text = "checklist: 1\ntitle: Issue C\ncustomer: The workshop\nclauses:\n  fins: { says: \
                The fins bear the strike., rules: fin.breaks-at-the-strike }\n";
    let disk = Disk { instead: vec![(list.into(), text.into())] };
    for (day, verdict, against) in
        [("2026-11-25", Verdict::Conceded, false), ("2027-02-01", Verdict::DoesNotConform, true)]
    {
        let review = hold(on_a_day(PERMIT, day), &disk, &[list.to_owned()]);
        let held = &review.checklists[0];
        assert_eq!(held.pans[0].clauses[0].answer, Answer::Rules(verdict), "{day}");
        assert_eq!(held.is_against(), against, "{day}");
    }
}

#[test]
fn its_first_and_last_day_count_and_the_days_beside_them_do_not() {
    use ConcessionFault::{Expired, NotInForce};
    for (day, verdict, fault) in [
        ("2026-11-01", Verdict::DoesNotConform, vec![NotInForce]),
        ("2026-11-02", Verdict::Conceded, vec![]),
        ("2027-01-31", Verdict::Conceded, vec![]),
        ("2027-02-01", Verdict::DoesNotConform, vec![Expired]),
    ] {
        let review = on_a_day(PERMIT, day);
        assert_eq!((only(&review).verdict, faults(&review)), (verdict, fault), "{day}");
        let accepted = only(&review).acceptance.as_ref().unwrap();
        assert_eq!(accepted.refused.is_none(), verdict == Verdict::Conceded, "{day}");
    }
}

#[test]
fn the_last_30_days_are_warned_of() {
    for (day, warned) in [("2026-12-31", false), ("2027-01-01", true), ("2027-01-31", true)] {
        let found = problems(&on_a_day(PERMIT, day));
        let expected = if warned { vec![("expires-soon", Severity::Warning)] } else { vec![] };
        assert_eq!(found, expected, "{day}");
    }
}

#[test]
fn without_a_day_nothing_is_covered_and_the_day_is_asked_for() {
    let review = judged(&rule("110 MPa"), &pan("as designed"), PERMIT, None);
    assert_eq!(only(&review).verdict, Verdict::DoesNotConform);
    assert_eq!(problems(&review), [("no-date", Severity::Error)]);
    assert!(review.problems[0].help.as_ref().unwrap().contains("--on 2026-11-25"));
}

#[test]
fn a_value_worse_than_the_bound_is_not_covered() {
    let review = told("520 MPa", "300 MPa");
    assert_eq!(only(&review).verdict, Verdict::DoesNotConform);
    assert_eq!(faults(&review), [ConcessionFault::Exceeded]);
    let finding = &review.conceding.findings[0];
    assert_eq!(review.sources.slice(finding.span), "300 MPa");
    assert_eq!(finding.object.as_deref(), Some("fins.keel"));
}

#[test]
fn a_bound_far_beyond_the_value_is_too_wide_and_the_finding_is_covered_all_the_same() {
    // (bound - limit) against twice (value - limit): 495 MPa of 110 MPa leaves room up to 880 MPa.
    for (bound, wide) in [("860 MPa", false), ("900 MPa", true)] {
        let review = told("520 MPa", bound);
        assert_eq!(only(&review).verdict, Verdict::Conceded, "{bound}");
        let expected = if wide { vec![ConcessionFault::TooWide] } else { vec![] };
        assert_eq!(faults(&review), expected, "{bound}");
    }
}

#[test]
fn a_term_longer_than_the_project_allows_is_too_wide() {
    // From 2026-11-02 it is 120 days to 2027-03-02.
    assert_eq!(faults(&told("2027-01-31", "2027-03-02")), []);
    assert_eq!(faults(&told("2027-01-31", "2027-03-03")), [ConcessionFault::TooWide]);
}

#[test]
fn what_nothing_needs_is_unused_but_only_where_its_rule_was_judged() {
    let unneeded = judged(&rule("900 MPa"), &pan("as designed"), PERMIT, Some("2026-11-25"));
    assert_eq!(only(&unneeded).verdict, Verdict::Conforms);
    assert_eq!(faults(&unneeded), [ConcessionFault::Unused]);
    let other = "rulebook: 1
rules:
  pickup.low:
    title: The inlet stands clear of the floor
    force: shall
    measure: pickup.floor_gap
    at_least: 8 mm
    because: It throttles.
    source: common practice
";
    let elsewhere = judged(other, &pan("as designed"), PERMIT, Some("2026-11-25"));
    assert_eq!((faults(&elsewhere), elsewhere.conceding.elsewhere), (vec![], 1));
    assert_eq!(problems(&elsewhere), []);
}

#[test]
fn an_object_that_is_not_there_is_told_with_the_nearest() {
    let review = told("fins.keel", "fins.kel");
    assert_eq!(only(&review).verdict, Verdict::DoesNotConform);
    assert_eq!(faults(&review), [ConcessionFault::Unused]);
    assert!(review.conceding.findings[0].help.contains("`fins.keel`"));
}

#[test]
fn a_rule_or_a_pan_that_is_not_there_is_a_fault_of_the_list() {
    let rule = told("fin.breaks-at-the-strike", "fin.breaks-at-a-strike");
    assert_eq!(problems(&rule), [("unknown-name", Severity::Error)]);
    assert!(rule.problems[0].help.as_ref().unwrap().contains("`fin.breaks-at-the-strike`"));
    let pan = told("pans/low-finned.yaml", "pans/low-fined.yaml");
    assert_eq!(problems(&pan), [("bad-reference", Severity::Error)]);
    assert!(pan.problems[0].help.as_ref().unwrap().contains("fixtures/pans/low-finned.yaml"));
    // One that is there and was not asked for is left alone.
    let other = told("pans/low-finned.yaml", "pans/deep-cast.yaml");
    assert_eq!((problems(&other), other.conceding.elsewhere), (vec![], 1));
}

#[test]
fn a_bound_of_another_dimension_is_a_fault_of_the_list() {
    let review = told("520 MPa", "520 mm");
    assert_eq!(problems(&review), [("wrong-dimension", Severity::Error)]);
    assert_eq!(only(&review).verdict, Verdict::DoesNotConform);
}

#[test]
fn a_permit_is_for_a_pan_as_designed_and_a_concession_for_one_as_made() {
    let concession = PERMIT.replace("deviation permit", "concession");
    for (state, list, covered) in [
        ("as designed", PERMIT, true),
        ("as made", PERMIT, false),
        ("as designed", &*concession, false),
        ("as made", &*concession, true),
    ] {
        let review = judged(&rule("110 MPa"), &pan(state), list, Some("2026-11-25"));
        let verdict = if covered { Verdict::Conceded } else { Verdict::DoesNotConform };
        let expected = if covered { vec![] } else { vec![ConcessionFault::WrongKind] };
        assert_eq!((only(&review).verdict, faults(&review)), (verdict, expected), "{state}");
    }
    let unstated = judged(&rule("110 MPa"), &read(&root().join(PAN)), PERMIT, Some("2026-11-25"));
    assert_eq!(faults(&unstated), [ConcessionFault::WrongKind]);
    assert!(unstated.conceding.findings[0].help.contains("object: { state: as designed }"));
}

#[test]
fn one_for_all_of_several_objects_is_too_wide() {
    let two = pan("as designed").replacen(
        "fins: { keel: { ",
        "fins: { spur: { under: floor, along: x, count: 2, pitch: 18 mm, height: 5 mm, root: 6 mm, tip: 4 mm, \
         length: 40 mm, at: { x: 0 mm, y: 0 mm } }, keel: { ",
        1,
    );
    assert!(two.contains("spur"));
    let list = PERMIT.replace("    object: fins.keel\n", "");
    let review = judged(&rule("110 MPa"), &two, &list, Some("2026-11-25"));
    let verdicts: Vec<Verdict> = review.pans[0].findings.iter().map(|f| f.verdict).collect();
    assert!(verdicts.contains(&Verdict::Conceded), "{verdicts:?}");
    assert_eq!(faults(&review), [ConcessionFault::TooWide]);
    assert!(review.conceding.findings[0].help.contains("`object: fins.keel`"));
}

#[test]
fn what_cannot_be_decided_is_covered_only_where_the_entry_says_so() {
    let book = "rulebook: 1
rules:
  pickup.uncovers:
    title: The inlet stays under oil
    force: shall
    measure: pickup.rim_depth
    at_least: -8 mm
    because: It draws air.
    source: common practice
";
    let list = PERMIT
        .replace("    object: fins.keel\n", "")
        .replace("fin.breaks-at-the-strike", "pickup.uncovers")
        .replace("520 MPa", "-18 mm");
    let plain = judged(book, &pan("as designed"), &list, Some("2026-11-25"));
    assert_eq!(only(&plain).verdict, Verdict::Inconclusive);
    assert!(only(&plain).acceptance.as_ref().unwrap().refused.is_some());
    let also = list.replace("    bound:", "    also: inconclusive\n    bound:");
    let review = judged(book, &pan("as designed"), &also, Some("2026-11-25"));
    assert_eq!(only(&review).verdict, Verdict::Conceded);
    assert_eq!(only(&review).acceptance.as_ref().unwrap().without, Verdict::Inconclusive);
    // -8.5 mm is within -9 mm, and not with its uncertainty.
    let tight = also.replace("-18 mm", "-9 mm");
    let review = judged(book, &pan("as designed"), &tight, Some("2026-11-25"));
    assert_eq!(only(&review).verdict, Verdict::Inconclusive);
}

#[test]
fn a_second_entry_for_the_same_finding_is_unused() {
    let second = PERMIT.split_once("accepted:\n").unwrap().1.replace("old-pattern", "again");
    let review = on_a_day(&format!("{PERMIT}{second}"), "2026-11-25");
    assert_eq!(only(&review).verdict, Verdict::Conceded);
    assert_eq!(faults(&review), [ConcessionFault::Unused]);
    assert!(review.conceding.findings[0].message.contains("`old-pattern`"));
}

#[test]
fn every_format_marks_what_is_conceded_and_counts_it_alike() {
    let options =
        sumpwright_report::Options { width: 100, colour: false, plain: false, all: false };
    let covered = on_a_day(PERMIT, "2026-11-25");
    let expired = on_a_day(PERMIT, "2027-02-01");
    let of = |name: &str, review: &Review| {
        let format = sumpwright_report::find(name).unwrap();
        (format.review)(review, &options)
    };
    for format in sumpwright_report::FORMATS {
        let (good, bad) = (of(format.name, &covered), of(format.name, &expired));
        for text in [&good, &bad] {
            let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
            for said in ["old-pattern", "M. Quill", "cast from the old pattern", "2027-01-31"] {
                assert!(text.contains(said), "{}: {said}", format.name);
            }
        }
        assert!(good.contains("conceded"), "{}", format.name);
        assert!(bad.contains("expired"), "{}", format.name);
    }
    let json: serde_json::Value = serde_json::from_str(&of("json", &covered)).unwrap();
    assert_eq!(json["counts"]["conceded"], 1);
    assert_eq!(json["pans"][0]["findings"][0]["concession"]["status"], "accepted");
    let sarif: serde_json::Value = serde_json::from_str(&of("sarif", &covered)).unwrap();
    let result = &sarif["runs"][0]["results"][0];
    assert_eq!((&result["kind"], &result["level"]), (&"fail".into(), &"error".into()));
    assert_eq!(result["suppressions"][0]["status"], "accepted");
    assert_eq!(sarif["runs"][0]["properties"]["counts"], json["counts"]);
    let late: serde_json::Value = serde_json::from_str(&of("sarif", &expired)).unwrap();
    let results = late["runs"][0]["results"].as_array().unwrap();
    assert_eq!(results[0]["suppressions"][0]["status"], "rejected");
    assert_eq!(results[1]["ruleId"], "concession.expired");
    assert_eq!(results[1]["suppressions"], serde_json::json!([]));
    let junit = of("junit", &covered);
    assert!(junit.contains("failures=\"0\"") && junit.contains("name=\"concession\""), "{junit}");
    assert!(of("junit", &expired).contains("failures=\"2\""));
}
