//! A customer's list held against pans: each way to answer a clause, and each way a list is at fault.

use crate::support::{Disk, read, root};
use sumpwright_core::checklist::hold;
use sumpwright_core::review::{Answer, ClauseHeld, Request, Review, review};
use sumpwright_core::verdict::Verdict;
use sumpwright_report::{JSON, MARKDOWN, Options, TEXT};

const STOCK: &str = "fixtures/pans/stock-stamped.yaml";
const LOW: &str = "fixtures/pans/low-finned.yaml";
const LIST: &str = "fixtures/checklists/workshop.yaml";
const PAGE: Options = Options { width: 96, colour: false, plain: false, all: false };

/// The files of the shipped rulebook that the list asks of.
fn rulebook() -> Vec<(String, String)> {
    ["clearance", "drain", "pickup"]
        .map(|name| format!("rules/{name}.yaml"))
        .map(|path| (path.clone(), read(&root().join(path))))
        .into()
}

fn held(pan: &str, list: &str) -> Review {
    let disk = Disk { instead: vec![(LIST.to_owned(), list.to_owned())] };
    let (pans, book) = ([pan.to_owned()], rulebook());
    let request = Request { files: &disk, pans: &pans, rulebook: &book, drawn: false };
    hold(review(request), &disk, &[LIST.to_owned()])
}

fn list() -> String {
    read(&root().join(LIST))
}

/// The list with one part of its text replaced.
fn with(old: &str, new: &str) -> String {
    let text = list();
    assert!(text.contains(old), "{old}");
    text.replace(old, new)
}

fn clause<'r>(review: &'r Review, name: &str) -> &'r ClauseHeld {
    let clauses = &review.checklists[0].pans[0].clauses;
    clauses.iter().find(|clause| clause.name == name).expect("the clause is there")
}

#[test]
fn each_clause_of_the_demo_is_answered_in_its_way() {
    let review = held(STOCK, &list());
    assert!(review.problems.is_empty(), "{:#?}", review.problems);
    let answers = [
        ("clear-of-the-rock", Answer::Rules(Verdict::Conforms)),
        ("oil-at-the-inlet", Answer::Rules(Verdict::Conforms)),
        ("empties", Answer::Rules(Verdict::NotApplicable)),
        ("paint", Answer::Evidence),
        ("marking", Answer::Statement),
        ("colour", Answer::Unanswered),
    ];
    for (name, answer) in answers {
        assert_eq!(clause(&review, name).answer, answer, "{name}");
    }
    assert!(!review.checklists[0].is_against());
    let page = (TEXT.review)(&review, &PAGE);
    let (_, lists) = page.split_once("\nChecklist ").expect("it is told");
    insta::assert_snapshot!("workshop_text", lists);
    let json: serde_json::Value = serde_json::from_str(&(JSON.review)(&review, &PAGE)).unwrap();
    assert_eq!(json["checklists"][0]["pans"][0]["met"], true);
    assert_eq!(json["checklists"][0]["pans"][0]["clauses"][5]["answer"], "unanswered");
    assert!((MARKDOWN.review)(&review, &PAGE).contains("| 6.3 | not binding | unanswered |"));
}

/// The pan that the demo finds fault with does not meet the list, and the list says where.
#[test]
fn the_worst_verdict_of_its_rules_answers_a_clause() {
    let review = held(LOW, &list());
    let uncovered = clause(&review, "oil-at-the-inlet");
    let finding = review.pans[0].findings.iter().find(|f| f.rule == "pickup.uncovered").unwrap();
    assert_ne!(finding.verdict, Verdict::Conforms);
    assert_eq!(uncovered.answer, Answer::Rules(finding.verdict));
    assert!(review.checklists[0].is_against());
}

#[test]
fn a_binding_clause_that_nothing_answers_counts_against() {
    let review = held(STOCK, &with("    binding: false\n", ""));
    assert_eq!(clause(&review, "colour").answer, Answer::Unanswered);
    assert!(clause(&review, "colour").is_against());
    assert!(review.checklists[0].is_against());
}

/// Neither paper nor a word outweighs what was computed.
#[test]
fn a_statement_does_not_outweigh_a_verdict() {
    let said = "rules: pickup.uncovered\n    statement: { words: It is fine., by: R. Example, \
                function: sales, on: 2026-11-02 }\n";
    let review = held(LOW, &with("rules: pickup.uncovered\n", said));
    assert!(clause(&review, "oil-at-the-inlet").statement.is_some());
    assert!(clause(&review, "oil-at-the-inlet").is_against());
}

/// What is wrong with a list is told at its place, and nothing is held against the pans by it.
#[test]
fn a_list_at_fault_is_told_at_its_place() {
    let zeros = "0".repeat(64);
    let text = list();
    let digest = text.split_once("sha256: ").unwrap().1.lines().next().unwrap();
    let rows = [
        (with("rules: pickup.uncovered", "rules: pickup.uncoverd"), "pickup.uncoverd", "no rule"),
        (with("evidence/salt-fog.txt", "evidence/fog.txt"), "evidence/fog.txt", "no such file"),
        (with("evidence/salt-fog.txt", "../../../x.txt"), "../../../x.txt", "leaves the folder"),
        (with(digest, &zeros), &*zeros, "its digest is another"),
        (with("decision: guarded", "decision: simple"), "simple", "another decision rule"),
        (
            with("decision: guarded", &format!("rulebook_edition: {zeros}")),
            &*zeros,
            "another edition",
        ),
    ];
    for (list, at, words) in rows {
        let review = held(STOCK, &list);
        assert!(review.checklists.is_empty(), "{at}");
        let told = review.problems.iter().any(|problem| {
            problem.message.contains(words) && review.sources.slice(problem.primary.span) == at
        });
        assert!(told, "{at}: {:#?}", review.problems);
        assert_eq!(review.pans.len(), 1, "the pan is judged all the same");
    }
}

#[test]
fn a_misspelt_rule_is_told_with_what_was_meant() {
    let review = held(STOCK, &with("rules: pickup.uncovered", "rules: pickup.uncoverd"));
    let help = review.problems[0].help.as_deref();
    assert_eq!(help, Some("did you mean `pickup.uncovered`?"));
}
