//! Tests of this module.

use super::*;
use sumpwright_core::document::rulebook::{Decision, Force};
use sumpwright_core::quantity::Dimension;
use sumpwright_core::review::{
    Answer, BookUsed, ClauseHeld, Conceding, ConcessionFault, ConcessionFinding, PanHeld,
};
use sumpwright_core::source::{Code, Diagnostic, FileId, Sources, Span};

const NOWHERE: Span = Span { file: FileId(0), start: 0, end: 0 };

fn finding(verdict: Verdict, force: Force) -> Finding {
    Finding {
        rule: String::new(),
        title: String::new(),
        force,
        object: None,
        verdict,
        measure: String::new(),
        dimension: Dimension::default(),
        reading: None,
        limits: Vec::new(),
        decision: Decision::Guarded,
        subject: NOWHERE,
        driver: None,
        contributions: Vec::new(),
        worst: None,
        states: Vec::new(),
        reason: String::new(),
        needs: Vec::new(),
        notes: Vec::new(),
        because: String::new(),
        source: String::new(),
        remedy: None,
        computed: None,
        caution: None,
        rule_span: NOWHERE,
        acceptance: None,
        remarks: Vec::new(),
    }
}

fn outcome(verdicts: &[(Verdict, Force)], problems: Vec<Diagnostic>) -> u8 {
    let pans = vec![PanReview {
        path: String::new(),
        title: None,
        baselines: Vec::new(),
        findings: verdicts.iter().map(|(verdict, force)| finding(*verdict, *force)).collect(),
        inputs: Vec::new(),
        notes: Vec::new(),
        figures: Vec::new(),
        coverage: None,
    }];
    of_review(&Review {
        sources: Sources::default(),
        pans,
        problems,
        rules: 1,
        book: BookUsed::default(),
        checklists: Vec::new(),
        conceding: Conceding::default(),
        screening: None,
    })
    .code()
}

#[test]
fn each_verdict_has_its_status_and_the_larger_number_wins() {
    use Force::{Shall, Should};
    use Verdict::{
        Advisory, Conceded, Conforms, DoesNotConform, Inconclusive, NotApplicable, NotJudged,
    };
    for (verdicts, expected) in [
        (vec![(Conforms, Shall)], 0),
        (vec![(Conforms, Shall), (NotApplicable, Shall)], 0),
        (vec![(Advisory, Should)], 0),
        (vec![(Conceded, Shall), (Conforms, Shall)], 0),
        (vec![(Conceded, Shall), (DoesNotConform, Shall)], 1),
        (vec![(Inconclusive, Should), (Conforms, Shall)], 0),
        (vec![(Inconclusive, Shall), (Conforms, Shall)], 1),
        (vec![(DoesNotConform, Shall), (Conforms, Shall)], 1),
        (vec![(NotApplicable, Shall), (NotApplicable, Should)], 3),
        (vec![], 3),
        (vec![(NotJudged, Should), (DoesNotConform, Shall)], 3),
    ] {
        assert_eq!(outcome(&verdicts, Vec::new()), expected, "{verdicts:?}");
    }
}

#[test]
fn a_faulty_document_outweighs_findings_but_not_an_unfinished_judgement() {
    let error = || vec![Diagnostic::error(Code::Unreadable, NOWHERE, "")];
    assert_eq!(outcome(&[(Verdict::DoesNotConform, Force::Shall)], error()), 2);
    assert_eq!(outcome(&[], error()), 2);
    assert_eq!(outcome(&[(Verdict::NotJudged, Force::Shall)], error()), 3);
    let warning = vec![Diagnostic::warning(Code::OutOfRange, NOWHERE, "")];
    assert_eq!(outcome(&[(Verdict::Conforms, Force::Shall)], warning), 0);
}

#[test]
fn no_pan_at_all_is_never_a_pass() {
    let (sources, rules) = (Sources::default(), 1);
    let none = Review {
        sources,
        pans: Vec::new(),
        problems: Vec::new(),
        rules,
        book: BookUsed::default(),
        checklists: Vec::new(),
        conceding: Conceding::default(),
        screening: None,
    };
    assert_eq!(of_review(&none).code(), 2);
}

/// A review that finds nothing against a pan, held against a list of one clause.
fn with_clause(binding: bool, answer: Answer) -> u8 {
    let clause = ClauseHeld {
        name: String::new(),
        number: None,
        says: String::new(),
        binding,
        span: NOWHERE,
        answer,
        rules: Vec::new(),
        evidence: None,
        statement: None,
    };
    let held = PanHeld { path: String::new(), clauses: vec![clause] };
    let list = ChecklistHeld {
        path: String::new(),
        title: String::new(),
        customer: String::new(),
        pans: vec![held],
    };
    let pan = PanReview {
        path: String::new(),
        title: None,
        baselines: Vec::new(),
        findings: vec![finding(Verdict::Conforms, Force::Shall)],
        inputs: Vec::new(),
        notes: Vec::new(),
        figures: Vec::new(),
        coverage: None,
    };
    of_review(&Review {
        sources: Sources::default(),
        pans: vec![pan],
        problems: Vec::new(),
        rules: 1,
        book: BookUsed::default(),
        checklists: vec![list],
        conceding: Conceding::default(),
        screening: None,
    })
    .code()
}

#[test]
fn only_a_binding_clause_that_is_not_shown_counts_against() {
    for answer in [
        Answer::Evidence,
        Answer::Statement,
        Answer::Rules(Verdict::NotApplicable),
        Answer::Rules(Verdict::Conceded),
    ] {
        assert_eq!(with_clause(true, answer), 0, "{answer:?}");
    }
    for verdict in [Verdict::Inconclusive, Verdict::Advisory, Verdict::DoesNotConform] {
        assert_eq!(with_clause(true, Answer::Rules(verdict)), 1, "{verdict:?}");
    }
    assert_eq!(with_clause(true, Answer::Unanswered), 1);
    assert_eq!(with_clause(false, Answer::Unanswered), 0);
}

#[test]
fn something_against_a_concession_is_against_the_review() {
    let mut review = Review {
        sources: Sources::default(),
        pans: vec![PanReview {
            path: String::new(),
            title: None,
            baselines: Vec::new(),
            findings: vec![finding(Verdict::Conforms, Force::Shall)],
            inputs: Vec::new(),
            notes: Vec::new(),
            figures: Vec::new(),
            coverage: None,
        }],
        problems: Vec::new(),
        rules: 1,
        book: BookUsed::default(),
        checklists: Vec::new(),
        conceding: Conceding::default(),
        screening: None,
    };
    assert_eq!(of_review(&review).code(), 0);
    review.conceding.findings.push(ConcessionFinding {
        fault: ConcessionFault::Unused,
        name: String::new(),
        pan: String::new(),
        rule: String::new(),
        object: None,
        message: String::new(),
        span: NOWHERE,
        other: None,
        help: String::new(),
    });
    assert_eq!(of_review(&review).code(), 1);
}
