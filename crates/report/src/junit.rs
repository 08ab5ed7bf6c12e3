//! A review as JUnit XML: a suite a pan, a case a rule on an object, those that pass too.
//!
//! A breach of a `shall` is a failure; an inconclusive `shall` and what was not judged are errors; what does not apply is
//! skipped; a breach of a `should`, and a `should` that is inconclusive, are passing cases with a property that says so.
//! After them a suite for each of the customers' lists.
//! There are no times in it: they would differ from run to run.

use crate::said::{self, unglued};
use crate::scale::Scale;
use crate::{changes, computed, conceded, deciding, place, screening};
use quick_junit::{NonSuccessKind, Property, Report, TestCase, TestCaseStatus, TestSuite};
use sumpwright_core::document::rulebook::Force;
use sumpwright_core::review::{Answer, ChecklistHeld, ClauseHeld, Finding, PanReview, Review};
use sumpwright_core::source::{Diagnostic, Severity, Sources};
use sumpwright_core::verdict::Verdict;

/// Writes a review.
pub(crate) fn review(review: &Review) -> String {
    let mut report = Report::new("sumpwright review");
    let errors: Vec<_> = review.problems.iter().filter(|p| p.is_error()).collect();
    if !errors.is_empty() || review.is_of_nothing() {
        report.add_test_suite(documents(&review.sources, &errors));
    }
    let warnings: Vec<_> =
        review.problems.iter().filter(|p| p.severity == Severity::Warning).collect();
    if !warnings.is_empty() {
        report.add_test_suite(warned(&review.sources, &warnings));
    }
    let changes = changes::lines(&review.book);
    if !changes.is_empty() {
        // Properties alone: a change is no test, and passes or fails nothing.
        let mut suite = TestSuite::new("rulebook");
        for line in changes {
            suite.add_property(Property::new(line.word, shown(&line.placed(&review.sources))));
        }
        report.add_test_suite(suite);
    }
    if !review.conceding.findings.is_empty() {
        report.add_test_suite(concessions(review));
    }
    if review.screening.is_some() {
        report.add_test_suite(screened(review));
    }
    for pan in &review.pans {
        report.add_test_suite(suite(&review.sources, pan));
    }
    for list in &review.checklists {
        report.add_test_suite(checklist(&review.sources, list));
    }
    // Writing into memory fails only where text cannot be written, and it has been made printable.
    report.to_string().map_or_else(|_| String::new(), |text| format!("{}\n", text.trim_end()))
}

/// What is wrong with the documents, an error each; one error where nothing was judged.
fn documents(sources: &Sources, problems: &[&Diagnostic]) -> TestSuite {
    let mut suite = TestSuite::new("documents");
    for problem in problems {
        let at = place::text(sources, problem.primary.span);
        let mut status = TestCaseStatus::non_success(NonSuccessKind::Error);
        let help = problem.help.as_deref().map_or_else(String::new, |help| format!("\n{help}"));
        status
            .set_type(problem.code.word())
            .set_message(shown(&problem.message))
            .set_description(shown(&format!("{at}: {}{help}", problem.message)));
        suite.add_test_case(TestCase::new(shown(&at), status));
    }
    if problems.is_empty() {
        let mut status = TestCaseStatus::non_success(NonSuccessKind::Error);
        status.set_type("nothing judged").set_message("no pan was judged");
        suite.add_test_case(TestCase::new("pans", status));
    }
    suite
}

/// What is against concessions, a failure each.
fn concessions(review: &Review) -> TestSuite {
    let mut suite = TestSuite::new("concessions");
    for finding in &review.conceding.findings {
        let at = place::text(&review.sources, finding.span);
        let said = conceded::finding(finding);
        let mut status = TestCaseStatus::non_success(NonSuccessKind::Failure);
        status
            .set_type(finding.fault.words())
            .set_message(shown(&said))
            .set_description(shown(&format!("{at}: {said}\n{}", finding.help)));
        let name = format!("{} · {}", finding.name, finding.fault.words());
        let mut case = TestCase::new(shown(&name), status);
        case.set_classname(shown(&conceded::about(finding)));
        suite.add_test_case(case);
    }
    suite
}

/// A case that says what was looked at, and a failure for each finding that is known and no more.
fn screened(review: &Review) -> TestSuite {
    let mut suite = TestSuite::new("known findings");
    let said = screening::summary(review).unwrap_or_default();
    let mut looked = TestCase::new("looked at", TestCaseStatus::success());
    looked.add_property(Property::new("summary", shown(&said)));
    suite.add_test_case(looked);
    for finding in screening::stale(review) {
        let at = place::text(&review.sources, finding.span);
        let said = screening::finding(finding);
        let mut status = TestCaseStatus::non_success(NonSuccessKind::Failure);
        status
            .set_type(screening::WORD)
            .set_message(shown(&said))
            .set_description(shown(&format!("{at}: {said}\n{}", finding.help)));
        let mut case = TestCase::new(shown(&screening::about(finding)), status);
        case.set_classname(shown(&finding.pan));
        suite.add_test_case(case);
    }
    suite
}

/// A customer's list: a case a clause on a pan. A clause that must be met and is not shown to be is a failure; an error
/// where it could not be decided.
fn checklist(sources: &Sources, list: &ChecklistHeld) -> TestSuite {
    let mut suite = TestSuite::new(shown(&format!("checklist {}", list.path)));
    suite.add_property(Property::new("title", shown(&list.title)));
    suite.add_property(Property::new("customer", shown(&list.customer)));
    for pan in &list.pans {
        for clause in &pan.clauses {
            let name = shown(said::clause_name(clause));
            let mut case = TestCase::new(name, clause_status(sources, clause));
            case.set_classname(shown(&pan.path));
            let binding = if clause.binding { "binding" } else { "not binding" };
            for (name, value) in [
                ("clause", clause.name.as_str()),
                ("answer", clause.answer.words()),
                ("force", binding),
                ("asked", clause.says.as_str()),
                ("by", &said::answered_by(clause)),
            ] {
                case.add_property(Property::new(name, shown(value)));
            }
            suite.add_test_case(case);
        }
    }
    suite
}

fn clause_status(sources: &Sources, clause: &ClauseHeld) -> TestCaseStatus {
    let kind = match clause.answer {
        Answer::Rules(Verdict::NotApplicable) => return TestCaseStatus::skipped(),
        _ if !clause.is_against() => return TestCaseStatus::success(),
        Answer::Rules(Verdict::Inconclusive | Verdict::NotJudged) => NonSuccessKind::Error,
        _ => NonSuccessKind::Failure,
    };
    let mut status = TestCaseStatus::non_success(kind);
    let at = place::text(sources, clause.span);
    let by = said::answered_by(clause);
    status
        .set_type(clause.answer.words())
        .set_message(shown(&format!("{}: {}", clause.answer.words(), clause.says)))
        .set_description(shown(&format!("{at}: {by}")));
    status
}

/// What has to be looked at and fails nothing: properties alone.
fn warned(sources: &Sources, warnings: &[&Diagnostic]) -> TestSuite {
    let mut suite = TestSuite::new("warnings");
    for problem in warnings {
        let at = place::text(sources, problem.primary.span);
        suite.add_property(Property::new(
            problem.code.word(),
            shown(&format!("{at}: {}", problem.message)),
        ));
    }
    suite
}

fn suite(sources: &Sources, pan: &PanReview) -> TestSuite {
    let mut suite = TestSuite::new(shown(&pan.path));
    if let Some(title) = &pan.title {
        suite.add_property(Property::new("title", shown(title)));
    }
    for finding in &pan.findings {
        suite.add_test_case(case(sources, pan, finding));
    }
    suite
}

fn case(sources: &Sources, pan: &PanReview, finding: &Finding) -> TestCase {
    let scale = Scale::of_finding(finding);
    let name = match &finding.object {
        Some(object) => format!("{} · {object}", finding.rule),
        None => finding.rule.clone(),
    };
    let mut case = TestCase::new(shown(&name), status(sources, finding, &scale));
    case.set_classname(shown(&pan.path));
    let computed = computed::paragraphs(sources, finding);
    let computed = computed.into_iter().map(|paragraph| (computed::WORD, paragraph));
    for (name, value) in properties(finding, &scale).into_iter().chain(computed) {
        case.add_property(Property::new(name, shown(&value)));
    }
    case
}

fn status(sources: &Sources, finding: &Finding, scale: &Scale) -> TestCaseStatus {
    let shall = finding.force == Force::Shall;
    let kind = match finding.verdict {
        Verdict::DoesNotConform if shall => NonSuccessKind::Failure,
        Verdict::Inconclusive if shall => NonSuccessKind::Error,
        Verdict::NotJudged => NonSuccessKind::Error,
        Verdict::NotApplicable => {
            let mut status = TestCaseStatus::skipped();
            if !finding.reason.is_empty() {
                status.set_message(shown(&finding.reason));
            }
            return status;
        }
        _ => return TestCaseStatus::success(),
    };
    let mut status = TestCaseStatus::non_success(kind);
    let at = place::text(sources, finding.subject);
    let said = said::in_short(finding, scale);
    status
        .set_type(finding.verdict.words())
        .set_message(shown(&format!("{}: {said}", finding.title)))
        .set_description(shown(&format!("{at}: {said}\nwhy: {}", finding.because)));
    status
}

/// Verdict, value, limit and margin, so that a consumer need not read sentences.
fn properties(finding: &Finding, scale: &Scale) -> Vec<(&'static str, String)> {
    let mut all = vec![
        ("verdict", finding.verdict.words().to_owned()),
        ("force", if finding.force == Force::Shall { "shall" } else { "should" }.to_owned()),
        ("measure", finding.measure.clone()),
    ];
    all.extend(said::computed(finding, scale).map(|value| ("value", value)));
    if let Some(limit) = deciding::deciding(finding) {
        all.push(("limit", said::limit(finding, limit, scale)));
        all.extend(limit.margin.map(|m| ("margin", said::margin(&m, limit.side, scale))));
    }
    if let Some(accepted) = &finding.acceptance {
        all.push(match accepted.refused {
            None => ("concession", conceded::told(accepted)),
            Some(_) => ("concession rejected", conceded::told(accepted)),
        });
    }
    all.extend(finding.remarks.iter().map(|remark| ("remark", conceded::remark(remark))));
    all.extend(finding.worst.as_ref().map(|worst| ("state", said::worst(worst))));
    all
}

/// Text without glue, in which nothing is unseen.
fn shown(text: &str) -> String {
    text.split('\n')
        .map(|line| crate::visible::visible(&unglued(line)).into_owned())
        .collect::<Vec<_>>()
        .join("\n")
}

#[cfg(test)]
mod tests {
    use crate::samples;

    #[test]
    fn a_review_is_told_with_what_passes() {
        insta::assert_snapshot!(super::review(&samples::every_verdict()));
    }

    #[test]
    fn a_list_is_a_suite_of_its_own() {
        let all = super::review(&samples::against_a_list());
        let (_, list) = all.split_once("<testsuite name=\"checklist").expect("it is there");
        insta::assert_snapshot!(list);
    }

    #[test]
    fn broken_documents_are_errors() {
        insta::assert_snapshot!(super::review(&samples::broken()));
    }
}
