//! Rulebooks that build on others: nothing that they change goes unsaid, and they are proven as they then stand.

use crate::support::{Disk, read, root};
use sumpwright_core::explain::{Demo, ExplainRequest, Subject, explain};
use sumpwright_core::prove::{Proof, ProveRequest, RuleProof, prove};
use sumpwright_core::review::{Request, Review, review};
use sumpwright_core::verdict::Verdict;
use sumpwright_report::{JSON, Options, TEXT};

const STOCK: &str = "fixtures/pans/stock-stamped.yaml";
const PAGE: Options = Options { width: 100, colour: false, plain: false, all: false };

/// SHA-256 of the canonical text of `tests/proofs/base.yaml`, by `tests/outside/edition.py` (PyYAML 6.0.3, and
/// json and hashlib of Python).
const BASE_EDITION: &str = "36bf92dc21beb14904d9c75a80407b0c1b2f700a08ac31c0426c0e39bfc7cfff";

fn text(name: &str) -> String {
    read(&root().join(format!("tests/proofs/{name}.yaml")))
}

fn named(name: &str, text: String) -> Vec<(String, String)> {
    vec![(format!("tests/proofs/{name}.yaml"), text)]
}

fn judged(disk: &Disk, book: &[(String, String)], pans: &[&str]) -> Review {
    let pans: Vec<String> = pans.iter().map(|p| (*p).to_owned()).collect();
    review(Request { files: disk, pans: &pans, rulebook: book, drawn: false })
}

fn proven(disk: &Disk, book: &[(String, String)]) -> Proof {
    prove(ProveRequest { files: disk, rulebook: book, progress: &|_, _| () })
}

fn rule<'p>(proof: &'p Proof, id: &str) -> &'p RuleProof {
    proof.rules.iter().find(|rule| rule.id == id).expect("the rule is there")
}

#[test]
fn a_review_says_every_change_what_loosens_first() {
    let review = judged(&Disk::default(), &named("ours", text("ours")), &[STOCK]);
    assert!(review.problems.is_empty(), "{:#?}", review.problems);
    assert_eq!(review.rules, 3);
    let page = (TEXT.review)(&review, &PAGE);
    let (head, _) = page.split_once("\n\nfixtures/pans").expect("the pan follows");
    insta::assert_snapshot!("changes_text", head);
    let json: serde_json::Value = serde_json::from_str(&(JSON.review)(&review, &PAGE)).unwrap();
    let book = serde_json::to_string_pretty(&json["rulebook"]).unwrap();
    insta::assert_snapshot!("changes_json", book);
}

/// A change cannot be hidden by choosing another format.
#[test]
fn every_format_says_every_change() {
    let review = judged(&Disk::default(), &named("ours", text("ours")), &[STOCK]);
    for format in sumpwright_report::FORMATS {
        // Wherever its lines are broken.
        let page = (format.review)(&review, &PAGE);
        let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
        for words in ["We drive where", "Our oil carries more dirt", "thin-for-us", BASE_EDITION] {
            assert!(page.contains(words), "{}: {words}", format.name);
        }
    }
}

#[test]
fn a_changed_rule_is_judged_as_changed_and_every_finding_says_so() {
    let review = judged(&Disk::default(), &named("ours", text("ours")), &[STOCK]);
    let findings = &review.pans[0].findings;
    let ids: Vec<&str> = findings.iter().map(|f| f.rule.as_str()).collect();
    assert_eq!(ids, ["pickup.too-close-to-floor", "wall.outside-band", "wall.sides-thin-for-us"]);
    let gap = &findings[0];
    assert_eq!(gap.limits[0].text, "10 mm");
    assert_eq!(review.sources.path(gap.limits[0].span.file), "tests/proofs/ours.yaml");
    assert_eq!(review.sources.path(gap.rule_span.file), "tests/proofs/base.yaml");
    assert_eq!(
        gap.notes[0],
        "This rule is changed against base.yaml, stricter: at_least 10 mm instead of 8 mm. \
         Reason: Our oil carries more dirt."
    );
    // 1.6 mm of floor lie below the base's 3 mm and above ours.
    assert_eq!(findings[1].verdict, Verdict::Conforms);
    assert!(
        findings[1].notes[0]
            .contains("incomparable: at_least 1.5 mm instead of 3 mm (looser); force shall")
    );
    assert!(findings[2].notes.iter().all(|note| !note.contains("changed")));
}

#[test]
fn the_edition_is_a_digest_of_what_the_rules_say_and_of_nothing_else() {
    let edition = |text: String| {
        let review = judged(&Disk::default(), &named("base", text), &[]);
        assert!(review.problems.is_empty(), "{:#?}", review.problems);
        review.book.edition
    };
    let base = text("base");
    assert_eq!(edition(base.clone()), BASE_EDITION);
    let remarks = base.replace("    force: shall\n", "    force: shall   # as agreed\n\n");
    let quoted = base
        .replace("title: The inlet stands clear", "title: \"The inlet stands clear")
        .replace("clear of the floor\n", "clear of the floor\"\n");
    let written_out =
        base.replace("    within: [3 mm, 8 mm]\n", "    at_most: 8 mm\n    at_least: 3 mm\n");
    for same in [remarks, quoted, written_out] {
        assert_ne!(same, base);
        assert_eq!(edition(same), BASE_EDITION);
    }
    for (from, to) in [
        ("at_least: 8 mm", "at_least: 8.0 mm"),
        ("force: shall", "force: should"),
        ("decision: guarded", "decision: simple"),
        ("pin: 1 %", "pin: 2 %"),
        ("Raise the inlet.", "Lower the floor."),
        ("69.95 mm", "69.96 mm"),
        ("since: 1", "since: 2"),
    ] {
        let other = base.replacen(from, to, 1);
        assert_ne!(other, base, "{from}");
        let other = other.replace("expect: does not conform", "expect: inconclusive");
        assert_ne!(edition(other), BASE_EDITION, "{from}");
    }
}

#[test]
fn a_pinned_edition_is_held_and_the_one_that_is_found_is_named() {
    let pinned = |edition: &str| {
        let to = format!("builds_on: {{ book: base.yaml, edition: {edition} }}");
        named("ours", text("ours").replace("builds_on: { book: base.yaml }", &to))
    };
    let good = judged(&Disk::default(), &pinned(BASE_EDITION), &[STOCK]);
    assert!(good.problems.is_empty() && good.book.layers[0].pinned, "{:#?}", good.problems);
    assert!(!(TEXT.review)(&good, &PAGE).contains("not pinned"));
    // A limit below is loosened after it was pinned.
    let loosened = text("base").replace("at_least: 8 mm", "at_least: 6 mm");
    let disk = Disk { instead: vec![("tests/proofs/base.yaml".to_owned(), loosened)] };
    let bad = judged(&disk, &pinned(BASE_EDITION), &[STOCK]);
    let [problem] = bad.problems.as_slice() else { panic!("{:#?}", bad.problems) };
    assert_eq!(problem.code.word(), "wrong-edition");
    assert_eq!(bad.sources.slice(problem.primary.span), BASE_EDITION);
    assert!(problem.message.contains("base.yaml is of another edition: "), "{}", problem.message);
    assert!(bad.pans.is_empty() && bad.book.layers.is_empty());
}

#[test]
fn the_rules_below_keep_their_own_decision_rule() {
    let book = "rulebook: 1\ndecision: simple\nbuilds_on: { book: base.yaml }\n";
    let review = judged(&Disk::default(), &named("simple", book.to_owned()), &[STOCK]);
    assert!(review.problems.is_empty(), "{:#?}", review.problems);
    let gap = review.pans[0].findings.iter().find(|f| f.rule.starts_with("pickup.")).unwrap();
    assert_eq!(gap.decision, sumpwright_core::document::rulebook::Decision::Guarded);
}

/// A supplier builds on a customer's rulebook, which builds on the base: what either changes is said.
#[test]
fn every_layer_of_a_chain_is_said() {
    let mine = "rulebook: 1\nbuilds_on: { book: ours.yaml }\ninstead:\n  \
                pickup.too-close-to-floor: { at_least: 9 mm, reason: Ours is cleaner. }\n";
    let review = judged(&Disk::default(), &named("mine", mine.to_owned()), &[STOCK]);
    assert!(review.problems.is_empty(), "{:#?}", review.problems);
    let layers: Vec<(&str, usize)> =
        review.book.layers.iter().map(|l| (l.base.as_str(), l.changes.len())).collect();
    assert_eq!(layers, [("ours.yaml", 1), ("base.yaml", 4)]);
    assert_eq!(review.book.layers[1].edition, BASE_EDITION);
    let gap = &review.pans[0].findings[0];
    assert!(gap.notes[0].contains("against base.yaml, stricter: at_least 10 mm instead of 8 mm"));
    assert!(gap.notes[1].contains("against ours.yaml, looser: at_least 9 mm instead of 10 mm"));
    assert_eq!(gap.limits[0].text, "9 mm");
}

#[test]
fn a_changed_rule_is_proven_by_its_own_cases_and_by_those_below_that_still_hold() {
    let proof = proven(&Disk::default(), &named("ours", text("ours")));
    assert!(proof.problems.is_empty(), "{:#?}", proof.problems);
    let gap = rule(&proof, "pickup.too-close-to-floor");
    // Below: 8.05 mm conformed, 8.1 ± 0.3 mm was inconclusive and 8.4 ± 0.3 mm conformed; none does at 10 mm.
    assert_eq!((gap.cases.len(), gap.replaced, gap.lacks_own_cases), (4 + 3, 3, false));
    assert!(gap.is_whole(), "{gap:#?}");
    let slack = &gap.slacks[0];
    assert!((slack.low.unwrap() - 9.95e-3).abs() < 1e-6, "{slack:?}");
    let band = rule(&proof, "wall.outside-band");
    assert!(band.lacks_own_cases && !band.is_whole());
    assert!((TEXT.proof.unwrap())(&proof, &PAGE).contains("it needs cases of its own"));
}

/// The base's cases prove the base by its own limits: a change above makes none of them false, and one that is false
/// below is still told.
#[test]
fn a_case_that_fails_below_is_told_above() {
    let broken = text("base")
        .replace("drop: pickup, expect: inconclusive", "drop: pickup, expect: conforms");
    let disk = Disk { instead: vec![("tests/proofs/base.yaml".to_owned(), broken)] };
    let proof = proven(&disk, &named("ours", text("ours")));
    let failing: Vec<_> =
        proof.rules.iter().flat_map(|r| &r.cases).filter(|c| !c.holds()).collect();
    assert_eq!(failing.len(), 1);
    assert_eq!(proof.sources.path(failing[0].span.file), "tests/proofs/base.yaml");
}

#[test]
fn a_rule_without_cases_of_its_own_gets_suggestions_that_close_it_when_pasted() {
    let book = "rulebook: 1\nbuilds_on: { book: base.yaml }\ninstead:\n  pickup.too-close-to-floor:\n    \
                at_least: 9 mm\n    reason: Ours is dirtier.\n    cases:\n";
    let bare = book.replace("    cases:\n", "");
    let proof = proven(&Disk::default(), &named("bare", bare));
    let open = rule(&proof, "pickup.too-close-to-floor");
    let mut pasted = book.to_owned();
    let mut added: Vec<&str> = Vec::new();
    for alteration in &open.alterations {
        use sumpwright_core::prove::{Fate, Suggestion};
        if let Fate::Missed(Suggestion::Case(case)) = &alteration.fate
            && !added.contains(&case.as_str())
        {
            added.push(case);
            pasted.extend(["      ", case, "\n"]);
        }
    }
    assert!(!added.is_empty() && open.lacks_own_cases);
    let closed = proven(&Disk::default(), &named("bare", pasted));
    let rule = rule(&closed, "pickup.too-close-to-floor");
    assert!(rule.is_whole(), "{added:#?}\n{rule:#?}");
}

/// What `explain` says of a number's slack is what `prove` finds.
#[test]
fn an_explanation_shows_the_slack_that_the_proof_finds() {
    let disk = Disk::default();
    for (name, id) in [("ours", "pickup.too-close-to-floor"), ("loose", "pickup.loose-limit")] {
        let book = named(name, text(name));
        let proof = proven(&disk, &book);
        let meant = &rule(&proof, id).slacks[0];
        let found = explain(ExplainRequest {
            files: &disk,
            rulebook: &book,
            name: Some(id),
            pan: None,
            demo: Demo { files: &disk, pan: STOCK, pans: &[] },
            with_curve: false,
        });
        let Subject::Rule(explained) = &found.subject else { panic!("{:#?}", found.problems) };
        let slack = explained.pins[0].slack.as_ref().expect("it was looked into");
        assert_eq!((slack.low, slack.high), (meant.low, meant.high));
        assert_eq!(explained.cases.failed, 0);
        let page = (TEXT.explanation.unwrap())(&found, &PAGE);
        assert!(page.contains("before one notices"), "{page}");
        assert_eq!(page.contains("which is too much"), name == "loose", "{page}");
    }
}

#[test]
fn two_files_may_not_both_say_what_the_rulebook_builds_on() {
    let builds = "rulebook: 1\nbuilds_on: { book: base.yaml }\n".to_owned();
    let book = [named("one", builds.clone()), named("two", builds)].concat();
    let review = judged(&Disk::default(), &book, &[]);
    let [problem] = review.problems.as_slice() else { panic!("{:#?}", review.problems) };
    assert_eq!(problem.code.word(), "contradiction");
    assert_eq!(review.sources.path(problem.primary.span.file), "tests/proofs/two.yaml");
}
