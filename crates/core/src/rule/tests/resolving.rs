//! Rulebook files to rules: ids, limits, decisions and kinds over several files.

use super::*;
use crate::document::reader::{Findings, read_rulebook};
use crate::document::rulebook::{Decision, RulebookDoc};
use crate::rule::Rulebook;
use crate::rule::resolve::resolve_with;
use crate::source::{Sources, parse};

/// Rulebook files read and resolved together.
pub(super) struct Resolved {
    sources: Sources,
    pub(super) book: Rulebook,
    problems: Vec<Diagnostic>,
}

impl Resolved {
    /// Code, place and words of the one problem that there is.
    pub(super) fn only(&self) -> (&str, &str, String) {
        assert_eq!(self.problems.len(), 1, "{:#?}", self.problems);
        self.at(0)
    }

    fn at(&self, index: usize) -> (&str, &str, String) {
        let problem = &self.problems[index];
        let help = problem.help.as_deref().unwrap_or_default();
        assert!(!help.is_empty(), "{} has no help", problem.message);
        let place = self.sources.slice(problem.primary.span);
        (problem.code.word(), place, format!("{}; {help}", problem.message))
    }

    /// Where the second place of the one problem stands.
    pub(super) fn also(&self) -> &str {
        self.sources.slice(self.problems[0].others[0].span)
    }

    pub(super) fn good(self) -> Rulebook {
        assert!(self.problems.is_empty(), "{:#?}", self.problems);
        self.book
    }
}

/// Files as text; what the documents' own reader finds must be nothing.
pub(super) fn resolved(files: &[String]) -> Resolved {
    let mut sources = Sources::default();
    let mut docs: Vec<RulebookDoc> = Vec::new();
    for (number, text) in files.iter().enumerate() {
        let file = sources.add(&format!("{number}.yaml"), text.clone());
        let mut findings = Findings::default();
        let node = parse(&sources, file, &mut findings.problems).expect("a tree");
        docs.extend(read_rulebook(&node, &mut findings));
        assert!(findings.problems.is_empty(), "{:#?}", findings.problems);
    }
    let mut problems = Vec::new();
    let book = resolve_with(&docs, &NAMES, &mut problems);
    Resolved { sources, book, problems }
}

/// A file of rules; each has an id and the lines that are not the same in all.
pub(super) fn file(head: &str, rules: &[(&str, &str)]) -> String {
    const SAME: &str =
        "title: It is as it should be\nbecause: It must be.\nsource: common practice";
    let rule = |(id, lines): &(&str, &str)| {
        let force = if lines.contains("force:") { "" } else { "force: shall\n" };
        format!("  {id}:\n    {}", format!("{SAME}\n{force}{lines}\n").replace('\n', "\n    "))
    };
    let rules: Vec<String> = rules.iter().map(rule).collect();
    format!("rulebook: 1\n{head}rules:\n{}", rules.join("\n"))
}

/// One rule in one file.
pub(super) fn one(lines: &str) -> Resolved {
    resolved(&[file("", &[("test.rule", lines)])])
}

const GAP: &str = "measure: pickup.gap\nat_least: 8 mm";

#[test]
fn a_rule_is_made_of_its_parts() {
    let book = one(
        "measure: drain.rest / oil.litres\nat_most: 5 %\nwhen: drain.boss is given\ndecision: simple",
    )
    .good();
    let rule = &book.rules[0];
    assert_eq!(rule.doc.id.text, "test.rule");
    assert_eq!(rule.kind, ObjectKind::Drain);
    assert_eq!(rule.measure.to_string(), "drain.rest / oil.litres");
    assert!(rule.at_least.is_none());
    assert_eq!(rule.at_most.as_ref().map(ToString::to_string).as_deref(), Some("5 %"));
    assert_eq!(rule.when.as_ref().map(ToString::to_string).as_deref(), Some("drain.boss is given"));
    assert_eq!(rule.decision, Decision::Simple);
}

#[test]
fn a_rule_without_a_limit_is_refused_once() {
    let mut sources = Sources::default();
    let id = sources.add("r.yaml", file("", &[("test.rule", GAP)]));
    let mut findings = Findings::default();
    let node = parse(&sources, id, &mut findings.problems).expect("a tree");
    let mut doc = read_rulebook(&node, &mut findings).expect("a rulebook");
    doc.rules[0].at_least = None;
    let mut problems = Vec::new();
    let docs = [doc];
    assert!(resolve_with(&docs, &NAMES, &mut problems).rules.is_empty());
    assert_eq!(problems.len(), 1, "{problems:#?}");
    assert_eq!(problems[0].code, crate::source::Code::BadRule);
    assert_eq!(sources.slice(problems[0].primary.span), "test.rule");
    // A second time it has been said already, as when the reader of the document said it.
    assert!(resolve_with(&docs, &NAMES, &mut problems).rules.is_empty());
    assert_eq!(problems.len(), 1, "{problems:#?}");
}

#[test]
fn rules_of_all_files_come_out_by_id() {
    let files = [file("", &[("b.b", GAP), ("a.c", GAP)]), file("", &[("a.b", GAP), ("c.a", GAP)])];
    let book = resolved(&files).good();
    let ids: Vec<&str> = book.rules.iter().map(|rule| rule.doc.id.text.as_str()).collect();
    assert_eq!(ids, ["a.b", "a.c", "b.b", "c.a"]);
}

#[test]
fn the_kind_of_a_rule_comes_from_any_of_its_parts() {
    for (lines, kind) in [
        (GAP, ObjectKind::Pan),
        ("measure: pickup.gap\nat_least: fin.root", ObjectKind::FinSet),
        ("measure: pickup.gap\nat_most: fin.root", ObjectKind::FinSet),
        ("measure: pickup.gap\nat_least: 8 mm\nwhen: drain.width at least 1 mm", ObjectKind::Drain),
        ("measure: pickup.gap\nat_least: 8 mm\nwhen: not (drain.boss is given)", ObjectKind::Drain),
        ("measure: least(drain.width)\nat_least: 8 mm", ObjectKind::Pan),
    ] {
        assert_eq!(one(lines).good().rules[0].kind, kind, "{lines}");
    }
}

#[test]
fn two_kinds_in_two_parts_are_refused_at_the_second() {
    for (lines, at, before) in [
        ("measure: drain.width\nat_least: fin.root", "fin.root", "drain.width"),
        (
            "measure: drain.width\nat_least: 8 mm\nwhen: fin.root at least 1 mm",
            "fin.root",
            "drain.width",
        ),
        ("measure: fin.root\nat_least: 8 mm\nwhen: drain.boss is given", "drain.boss", "fin.root"),
        (
            "measure: pickup.gap\nat_least: 8 mm\nwhen: drain.boss is given and fin.along is x",
            "fin.along",
            "drain.boss",
        ),
    ] {
        let found = one(lines);
        let (code, place, _) = found.only();
        assert_eq!((code, place), ("two-kinds", at), "{lines}");
        assert_eq!(found.also(), before, "{lines}");
        assert!(found.book.rules.is_empty());
    }
}

#[test]
fn limits_have_the_dimension_of_the_measure() {
    let found = one("measure: pickup.gap\nat_least: 8\nat_most: 2 L");
    assert_eq!(found.problems.len(), 2, "each limit is told");
    let (code, place, words) = found.at(0);
    assert_eq!((code, place), ("wrong-formula-dimension", "8"));
    assert!(words.contains("`8 mm`"), "{words}");
    assert_eq!((found.at(1).0, found.at(1).1), ("wrong-formula-dimension", "2 L"));
}

#[test]
fn everything_that_is_wrong_with_a_rule_is_told_at_once() {
    let found = one(
        "measure: pickup.gab\nat_least: 8 mm +\nat_most: sqrt(wall.side)\nwhen: pickup\npin: 0 mm",
    );
    let places: Vec<&str> = (0..found.problems.len()).map(|i| found.at(i).1).collect();
    assert_eq!(places, ["pickup.gab", "+", "wall.side", "pickup", "0 mm"]);
    assert!(found.book.rules.is_empty());
}

#[test]
fn an_id_in_two_files_is_told_at_the_second_with_the_first() {
    let files = [file("", &[("a.b", GAP)]), file("", &[("c.d", GAP), ("a.b", GAP)])];
    let found = resolved(&files);
    let (code, place, words) = found.only();
    assert_eq!((code, place), ("duplicate-rule", "a.b"));
    assert!(words.contains("a.b"));
    let problem = &found.problems[0];
    let path = |span| found.sources.place(span).path;
    assert_eq!(path(problem.primary.span), "1.yaml");
    assert_eq!(path(problem.others[0].span), "0.yaml");
    assert_eq!(found.also(), "a.b");
    assert_eq!(found.book.rules.len(), 2, "the first of them stays");
}

#[test]
fn an_id_is_taken_even_by_a_rule_that_cannot_be_made() {
    let bad = "measure: pickup.gab\nat_least: 8 mm";
    let files = [file("", &[("a.b", bad)]), file("", &[("a.b", GAP)]), file("", &[("a.b", GAP)])];
    let found = resolved(&files);
    let codes: Vec<&str> = (0..3).map(|i| found.at(i).0).collect();
    assert_eq!(codes, ["unknown-name", "duplicate-rule", "duplicate-rule"]);
    for problem in &found.problems[1..] {
        assert_eq!(found.sources.place(problem.others[0].span).path, "0.yaml");
    }
    assert!(found.book.rules.is_empty());
}

#[test]
fn plain_limits_between_which_nothing_lies_are_a_contradiction() {
    for limits in [
        "at_least: 9 mm\nat_most: 8 mm",
        "within: [9 mm, 8 mm]",
        "at_least: -(8 mm)\nat_most: -9 mm",
        "at_least: 1 in\nat_most: 2 cm",
    ] {
        let found = one(&format!("measure: pickup.gap\n{limits}"));
        let (code, _, words) = found.only();
        assert_eq!(code, "contradiction", "{limits}");
        assert!(words.contains("nothing is at least"), "{words}");
        assert!(!found.also().is_empty());
    }
    for limits in [
        "at_least: 8 mm\nat_most: 8 mm",
        "within: [8 mm, 9 mm]",
        "at_least: wall.side\nat_most: 0 mm",
        "at_least: -1 in\nat_most: -2 cm",
    ] {
        one(&format!("measure: pickup.gap\n{limits}")).good();
    }
}

#[test]
fn the_books_decision_holds_for_all_its_files() {
    let files = [file("", &[("a.a", GAP)]), file("decision: simple\n", &[("b.b", GAP)])];
    let book = resolved(&files).good();
    assert!(book.rules.iter().all(|rule| rule.decision == Decision::Simple));
    let silent = resolved(&[file("", &[("a.a", GAP)])]).good();
    assert_eq!(silent.rules[0].decision, Decision::Guarded);
}

#[test]
fn files_that_state_different_decisions_contradict_each_other() {
    let files = [
        file("decision: guarded\n", &[("a.a", GAP)]),
        file("decision: guarded\n", &[("b.b", GAP)]),
        file("decision: { probability: 95 % }\n", &[("c.c", GAP)]),
    ];
    let found = resolved(&files);
    let (code, place, words) = found.only();
    assert_eq!((code, place), ("contradiction", "{ probability: 95 % }"));
    assert!(words.contains("a rule may carry its own"), "{words}");
    assert_eq!(found.also(), "guarded");
    let path = |span| found.sources.place(span).path;
    assert_eq!(path(found.problems[0].others[0].span), "0.yaml");
    resolved(&files[..2]).good();
}

#[test]
fn a_rules_own_decision_wins() {
    let own = format!("{GAP}\ndecision: {{ probability: 80 % }}");
    let files = [file("decision: simple\n", &[("a.a", &own), ("b.b", GAP)])];
    let book = resolved(&files).good();
    let decisions: Vec<Decision> = book.rules.iter().map(|rule| rule.decision).collect();
    assert_eq!(decisions, [Decision::Probability(0.8), Decision::Simple]);
}
