//! Rulebook documents to typed rules.

use super::check::{self, Checked};
use super::compose::Layer;
use super::condition::Condition;
use super::edition::edition;
use super::names::Names;
use super::parse::parse_formula;
use super::parse_condition::parse_condition;
use super::{ForEach, Formula, cases, pins};
use crate::document::field::FIELDS;
use crate::document::pan::Word;
use crate::document::rulebook::{Decision, RuleDoc, RulebookDoc};
use crate::measure::{MEASURES, ObjectKind};
use crate::source::{Code, Diagnostic, FileId, Scalar, Span};
use std::collections::BTreeMap;

/// A rule, ready to judge.
#[derive(Debug, Clone)]
pub struct Rule {
    /// Its texts and places.
    pub doc: RuleDoc,
    /// What it is judged for: the pan once, or each object of a kind.
    pub kind: ObjectKind,
    /// What is measured.
    pub measure: Formula,
    /// The lower limit.
    pub at_least: Option<Formula>,
    /// The upper limit.
    pub at_most: Option<Formula>,
    /// When it applies.
    pub when: Option<Condition>,
    /// Its own decision rule, or the book's.
    pub decision: Decision,
    /// What other rulebooks changed of it, in whole sentences.
    pub notes: Vec<String>,
}

/// All rules of a run, by id.
#[derive(Debug, Clone, Default)]
pub struct Rulebook {
    /// The rules.
    pub rules: Vec<Rule>,
    /// The digest of the rules: see `edition.rs`.
    pub edition: String,
    /// What it builds on, the nearest first, with every change against it.
    pub layers: Vec<Layer>,
    /// Where the fixtures of each of its files live: in the first of these folders that has one.
    pub(crate) folders: BTreeMap<FileId, Vec<String>>,
}

/// Makes typed rules of rulebook files that belong together. What cannot be made is among the problems.
pub fn resolve(docs: &[RulebookDoc], problems: &mut Vec<Diagnostic>) -> Rulebook {
    let names = Names { measures: MEASURES, fields: FIELDS };
    resolve_with(docs, &names, problems)
}

/// Makes one typed rule, by a decision rule where it has none of its own.
pub(crate) fn resolve_one(
    doc: &RuleDoc,
    decision: Decision,
    problems: &mut Vec<Diagnostic>,
) -> Option<Rule> {
    let names = Names { measures: MEASURES, fields: FIELDS };
    one_rule(doc, &names, decision, problems)
}

/// As [`resolve`], with other measures and fields: for tests.
pub(super) fn resolve_with(
    docs: &[RulebookDoc],
    names: &Names<'_>,
    problems: &mut Vec<Diagnostic>,
) -> Rulebook {
    let decision = book_decision(docs, problems);
    let mut rules: Vec<Rule> = Vec::new();
    let mut seen: BTreeMap<&str, Span> = BTreeMap::new();
    for doc in docs.iter().flat_map(|book| &book.rules) {
        if let Some(first) = seen.get(doc.id.text.as_str()) {
            let message = format!("the rulebook has two rules of the id {}", doc.id.text);
            problems.push(
                Diagnostic::error(Code::DuplicateRule, doc.id.span, message)
                    .also(*first, "the first of them")
                    .help("give one of them another id"),
            );
            continue;
        }
        seen.insert(&doc.id.text, doc.id.span);
        rules.extend(one_rule(doc, names, decision, problems));
    }
    rules.sort_by(|a, b| a.doc.id.text.cmp(&b.doc.id.text));
    let edition = edition(&rules);
    Rulebook { rules, edition, layers: Vec::new(), folders: BTreeMap::new() }
}

/// The decision rule of the whole book: files that state one have to agree.
fn book_decision(docs: &[RulebookDoc], problems: &mut Vec<Diagnostic>) -> Decision {
    let mut first: Option<Word<Decision>> = None;
    for stated in docs.iter().filter_map(|doc| doc.decision) {
        match first {
            None => first = Some(stated),
            Some(first) if first.value != stated.value => problems.push(
                Diagnostic::error(
                    Code::Contradiction,
                    stated.span,
                    "two files of one rulebook state different decision rules",
                )
                .also(first.span, "stated first here")
                .help("state one for the whole book; a rule may carry its own"),
            ),
            Some(_) => {}
        }
    }
    first.map_or(Decision::Guarded, |word| word.value)
}

/// A rule; every part is read, so that all that is wrong is told at once.
fn one_rule(
    doc: &RuleDoc,
    names: &Names<'_>,
    decision: Decision,
    problems: &mut Vec<Diagnostic>,
) -> Option<Rule> {
    let before = problems.len();
    let measure = keep(parse_formula(&doc.measure, names), problems);
    let mut limit = |scalar: &Option<Scalar>| {
        scalar.as_ref().and_then(|s| keep(parse_formula(s, names), problems))
    };
    let (at_least, at_most) = (limit(&doc.at_least), limit(&doc.at_most));
    let when = doc.when.as_ref().and_then(|s| keep(parse_condition(s, names), problems));
    let limits: Vec<&Formula> = at_least.iter().chain(&at_most).collect();
    if let Some(measure) = &measure {
        for limit in &limits {
            keep(check::agree(measure, limit), problems);
        }
    }
    no_limit(doc, before, problems);
    crossed(at_least.as_ref(), at_most.as_ref(), problems);
    let each = measure.iter().chain(limits.iter().copied()).map(|formula| formula.each);
    let each = keep(one_kind(each, when.as_ref()), problems).flatten();
    pins::check(doc, &limits, measure.as_ref(), when.as_ref(), problems);
    cases::check(doc, problems);
    if problems.len() > before || limits.is_empty() {
        return None;
    }
    Some(Rule {
        kind: each.map_or(ObjectKind::Pan, |each| each.kind),
        measure: measure?,
        at_least,
        at_most,
        when,
        decision: doc.decision.map_or(decision, |word| word.value),
        notes: Vec::new(),
        doc: doc.clone(),
    })
}

fn keep<T>(checked: Checked<T>, problems: &mut Vec<Diagnostic>) -> Option<T> {
    checked.map_err(|problem| problems.push(*problem)).ok()
}

/// The one kind of object that a rule is read for.
fn one_kind(
    formulas: impl Iterator<Item = Option<ForEach>>,
    when: Option<&Condition>,
) -> Checked<Option<ForEach>> {
    let mut each = None;
    for next in formulas {
        each = check::join(each, next)?;
    }
    let Some(when) = when else { return Ok(each) };
    let of_paths = when.paths().into_iter().filter_map(|path| path.each);
    for next in when.formula_kinds().into_iter().chain(of_paths) {
        each = check::join(each, Some(next))?;
    }
    Ok(each)
}

/// A rule that asks for nothing, unless the reader of the document has said why it has no limit.
fn no_limit(doc: &RuleDoc, before: usize, problems: &mut Vec<Diagnostic>) {
    let (id, whole) = (doc.id.span, doc.span);
    let mut said = problems.iter().take(before).map(|problem| problem.primary.span);
    let said = said.any(|span| {
        span == id || span.file == whole.file && whole.start <= span.start && span.end <= whole.end
    });
    if doc.at_least.is_none() && doc.at_most.is_none() && !said {
        let message = format!("`{}` has no limit", doc.id.text);
        let problem = Diagnostic::error(Code::BadRule, id, message);
        problems.push(problem.help("state `at_least`, `at_most`, both, or `within`"));
    }
}

/// Two plain limits between which nothing lies.
fn crossed(at_least: Option<&Formula>, at_most: Option<&Formula>, problems: &mut Vec<Diagnostic>) {
    let (Some(least), Some(most)) = (at_least, at_most) else { return };
    if let (Some(low), Some(high)) = (least.plain_value(), most.plain_value())
        && low > high
        && least.dimension == most.dimension
    {
        problems.push(
            Diagnostic::error(
                Code::Contradiction,
                most.span,
                format!("nothing is at least {least} and at most {most}"),
            )
            .also(least.span, "the lower limit")
            .help("exchange them, or leave one out"),
        );
    }
}
