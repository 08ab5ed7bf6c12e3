//! Rulebook files to typed rules.

use crate::document::reader::{Findings, read_rulebook};
use crate::document::rulebook::Decision;
use crate::measure::ObjectKind;
use crate::rule::{Rulebook, resolve};
use crate::source::{Code, Diagnostic, Sources, parse};

/// The rulebook of some files, and what is wrong with them: code, token and the first other token.
fn resolved(files: &[&str]) -> (Rulebook, Vec<(Code, String, String)>) {
    let (mut sources, mut found) = (Sources::default(), Findings::default());
    let mut docs = Vec::new();
    for (i, text) in files.iter().enumerate() {
        let file = sources.add(&format!("{i}.yaml"), (*text).to_owned());
        let node = parse(&sources, file, &mut found.problems).unwrap();
        docs.extend(read_rulebook(&node, &mut found));
    }
    let book = resolve(&docs, &mut found.problems);
    let told = |p: &Diagnostic| {
        let other = p.others.first().map_or("", |label| sources.slice(label.span));
        (p.code, sources.slice(p.primary.span).to_owned(), other.to_owned())
    };
    let problems = found.problems.iter().map(told).collect();
    (book, problems)
}

/// A file with one rule of these lines.
fn file(id: &str, lines: &str) -> String {
    let lines = lines.split("; ").collect::<Vec<_>>().join("\n    ");
    let rest = "    title: T\n    force: shall\n    because: B\n    source: common practice\n";
    format!("rulebook: 1\nrules:\n  {id}:\n{rest}    {lines}\n")
}

fn one(lines: &str) -> (Rulebook, Vec<(Code, String, String)>) {
    resolved(&[&file("test.rule", lines)])
}

#[test]
fn rules_come_sorted_by_id_whatever_the_order_of_the_files() {
    let lines = "measure: pickup.floor_gap; at_least: 8 mm";
    let files = [file("b.two", lines), file("a.one", lines), file("c.three", lines)];
    let (book, problems) = resolved(&[&files[0], &files[1], &files[2]]);
    assert_eq!(problems, []);
    let ids: Vec<&str> = book.rules.iter().map(|rule| rule.doc.id.text.as_str()).collect();
    assert_eq!(ids, ["a.one", "b.two", "c.three"]);
}

#[test]
fn the_decision_is_the_rules_own_or_the_books_or_guarded() {
    let lines = "measure: pickup.floor_gap; at_least: 8 mm";
    let plain = file("a.one", lines);
    let own = file("b.two", &format!("{lines}; decision: {{ probability: 90 % }}"));
    let simple = format!("{}decision: simple\n", file("c.three", lines));
    let decisions = |files: &[&str]| -> Vec<Decision> {
        resolved(files).0.rules.iter().map(|rule| rule.decision).collect()
    };
    let (guarded, probable) = (Decision::Guarded, Decision::Probability(0.9));
    assert_eq!(decisions(&[&plain, &own]), [guarded, probable]);
    let book = [Decision::Simple, probable, Decision::Simple];
    assert_eq!(decisions(&[&plain, &own, &simple]), book);
    let guarded = format!("{}decision: guarded\n", file("d.four", lines));
    let (_, problems) = resolved(&[&simple, &guarded]);
    let expected = (Code::Contradiction, "guarded".to_owned(), "simple".to_owned());
    assert_eq!(problems, [expected]);
}

#[test]
fn a_rule_is_read_for_the_kind_that_any_of_its_parts_asks_for() {
    for (lines, kind) in [
        ("measure: pickup.floor_gap; at_least: 8 mm", ObjectKind::Pan),
        ("measure: fin.root; at_least: fin.process_minimum", ObjectKind::FinSet),
        ("measure: wall.floor_thickness; at_least: fin.root", ObjectKind::FinSet),
        ("measure: least(fin.root); at_least: 2 mm", ObjectKind::Pan),
        (
            "measure: pickup.floor_gap; at_least: 2 mm; when: drain.residual at most 1 L",
            ObjectKind::Drain,
        ),
        ("measure: drain.residual; at_most: 1 L; when: drain.boss is given", ObjectKind::Drain),
        (
            "measure: drain.residual; at_most: 1 L; when: least(fin.root) at least 1 mm",
            ObjectKind::Drain,
        ),
    ] {
        let (book, problems) = one(lines);
        assert_eq!(problems, [], "{lines}");
        assert_eq!(book.rules[0].kind, kind, "{lines}");
    }
    for (lines, at, other) in [
        (
            "measure: fin.root; at_least: baffle.opening_area / 1 m",
            "baffle.opening_area",
            "fin.root",
        ),
        ("measure: fin.root; at_least: 1 mm; when: drain.boss is given", "drain.boss", "fin.root"),
        (
            "measure: fin.root; at_least: 1 mm; when: drain.residual at most 1 L",
            "drain.residual",
            "fin.root",
        ),
    ] {
        let (book, problems) = one(lines);
        assert_eq!(problems, [(Code::TwoKinds, at.to_owned(), other.to_owned())], "{lines}");
        assert!(book.rules.is_empty());
    }
}

#[test]
fn limits_fit_the_measure_and_each_other() {
    for (lines, code, at, other) in [
        (
            "measure: pickup.floor_gap; at_least: 8 L",
            Code::WrongFormulaDimension,
            "8 L",
            "pickup.floor_gap",
        ),
        (
            "measure: pickup.floor_gap; at_most: 0",
            Code::WrongFormulaDimension,
            "0",
            "pickup.floor_gap",
        ),
        (
            "measure: drain.residual_share; at_most: 5 mm",
            Code::WrongFormulaDimension,
            "5 mm",
            "drain.residual_share",
        ),
        ("measure: pickup.floor_gap; within: [9 mm, 8 mm]", Code::Contradiction, "8 mm", "9 mm"),
        (
            "measure: pickup.floor_gap; at_least: -1 mm; at_most: -2 mm",
            Code::Contradiction,
            "-2 mm",
            "-1 mm",
        ),
        ("measure: pickup.floor_gap", Code::BadRule, "test.rule", ""),
    ] {
        let (book, problems) = one(lines);
        assert_eq!(problems, [(code, at.to_owned(), other.to_owned())], "{lines}");
        assert!(book.rules.is_empty(), "{lines}");
    }
    for good in [
        "measure: pickup.floor_gap; within: [8 mm, 8 mm]",
        "measure: drain.residual_share; at_most: 0",
        "measure: pickup.floor_gap; at_least: 9 mm; at_most: pickup.floor_gap",
    ] {
        assert_eq!(one(good).1, [], "{good}");
    }
}

#[test]
fn a_rule_without_a_limit_is_refused_even_if_no_reader_said_so() {
    let text = file("test.rule", "measure: pickup.floor_gap; at_least: 8 mm");
    let (mut sources, mut found) = (Sources::default(), Findings::default());
    let id = sources.add("r.yaml", text);
    let node = parse(&sources, id, &mut found.problems).unwrap();
    let mut doc = read_rulebook(&node, &mut found).unwrap();
    doc.rules[0].at_least = None;
    let book = resolve(&[doc], &mut found.problems);
    assert!(book.rules.is_empty());
    assert_eq!(found.problems.len(), 1);
    assert_eq!(found.problems[0].code, Code::BadRule);
    assert_eq!(sources.slice(found.problems[0].primary.span), "test.rule");
}

#[test]
fn a_pin_fits_every_number() {
    let with = |pin: &str| {
        let lines = "measure: pickup.floor_gap / 2; at_least: 1 mm; at_most: max(3 mm, 8 mm)";
        one(&format!("{lines}; pin: {pin}")).1
    };
    let all = "{ 1 mm: 0.1 mm, 3 mm: 1 %, 8 mm: 5 %, 2: 0.1 }";
    for good in ["0.1 mm", "1 %", all] {
        assert_eq!(with(good), [], "{good}");
    }
    for (bad, at, other) in [
        ("0.1 L", "0.1 L", ""),
        ("0 %", "0 %", ""),
        ("-1 mm", "-1 mm", ""),
        ("0.1 ± 0.01 mm", "0.1 ± 0.01 mm", ""),
        ("{ 1 mm: 1 %, 3 mm: 1 %, 8 mm: 1 % }", "{ 1 mm: 1 %, 3 mm: 1 %, 8 mm: 1 % }", "2"),
        ("{ 1 mm: 1 %, 3 mm: 1 %, 8 mm: 1 %, 2: 1 mm }", "1 mm", ""),
        ("{ 1 mm: 1 %, 3 mm: 1 %, 8 mm: 1 %, 2: 1 %, 9 mm: 1 % }", "9 mm", ""),
    ] {
        let expected = (Code::BadRule, at.to_owned(), other.to_owned());
        assert_eq!(with(bad), [expected], "{bad}");
    }
    let of_nothing = one("measure: pickup.floor_gap; at_least: 0 mm; pin: 1 %").1;
    assert_eq!(of_nothing, [(Code::BadRule, "1 %".to_owned(), String::new())]);
}

#[test]
fn all_that_is_wrong_with_a_rule_is_told_at_once() {
    let (_, problems) = one("measure: pickup.floor_gab; at_least: 8 mmm; when: pikcup is given");
    let codes: Vec<Code> = problems.iter().map(|p| p.0).collect();
    assert_eq!(codes, [Code::UnknownName, Code::BadFormula, Code::UnknownName]);
}
