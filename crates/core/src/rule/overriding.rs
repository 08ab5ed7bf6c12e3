//! A rule with something in place of parts of it.

use super::resolve::{Rule, resolve_one};
use super::strictness::{PartChange, asked_otherwise};
use crate::document::pan::Word;
use crate::document::rulebook::{InsteadDoc, Overridden, Replaced, RuleDoc};
use crate::source::{Code, Diagnostic, Label, Scalar, Span};

/// The rule as it then stands; nothing where what is wrong with that is among the problems.
pub(super) fn overridden(
    rule: &Rule,
    instead: &InsteadDoc,
    problems: &mut Vec<Diagnostic>,
) -> Option<Rule> {
    let stated = stated(instead);
    if stated.is_empty() {
        let whole = instead.span;
        let within =
            |at: Span| at.file == whole.file && whole.start <= at.start && at.end <= whole.end;
        if problems.iter().any(|problem| within(problem.primary.span)) {
            // A key that could not be read has been told; it may be the change that was meant.
            return None;
        }
        let message = format!("nothing of {} is changed", instead.id.text);
        let help =
            "state a limit, `when`, `force` or `decision`, or leave the rule out of `instead`";
        problems.push(Diagnostic::error(Code::BadRule, instead.id.span, message).help(help));
        return None;
    }
    let doc = changed(rule, instead);
    if let (None, None) = (&doc.at_least, &doc.at_most) {
        let message = format!("{} would have no limit left", instead.id.text);
        let at = stated.first().map_or(instead.id.span, |(_, span)| *span);
        let problem = Diagnostic::error(Code::BadRule, at, message);
        problems
            .push(problem.help("to do without the rule, name it under `dropped` with the reason"));
        return None;
    }
    let mut found = Vec::new();
    let new = resolve_one(&doc, rule.decision, &mut found);
    problems.extend(found.into_iter().map(|problem| told_here(problem, instead.id.span)));
    let new = new?;
    let parts = asked_otherwise(rule, &new);
    let idle = stated.iter().filter(|(key, _)| !is_changed(&parts, key));
    for (key, span) in idle {
        // Of a band one limit may stay.
        if instead.is_band
            && key.starts_with("at_")
            && parts.iter().any(|p| p.part.starts_with("at_"))
        {
            continue;
        }
        problems.push(as_before(&rule.doc, key, *span));
        return None;
    }
    Some(new)
}

/// What is stated of what the rule asks, and where.
fn stated(instead: &InsteadDoc) -> Vec<(&'static str, Span)> {
    let at = |replaced: &Replaced| match replaced {
        Replaced::By(scalar) => scalar.span,
        Replaced::TakenAway(span) => *span,
    };
    let mut all = Vec::new();
    all.extend(instead.at_least.as_ref().map(|replaced| ("at_least", at(replaced))));
    all.extend(instead.at_most.as_ref().map(|replaced| ("at_most", at(replaced))));
    all.extend(instead.when.as_ref().map(|replaced| ("when", at(replaced))));
    all.extend(instead.force.map(|word| ("force", word.span)));
    all.extend(instead.decision.map(|word| ("decision", word.span)));
    all
}

/// The document of the changed rule. Its own cases are those stated here; those of the rule below stay with it.
fn changed(rule: &Rule, instead: &InsteadDoc) -> RuleDoc {
    let mut base = rule.doc.clone();
    base.decision = Some(Word {
        value: rule.decision,
        span: rule.doc.decision.map_or(rule.doc.id.span, |word| word.span),
    });
    let mut doc = base.clone();
    put(&mut doc.at_least, instead.at_least.as_ref());
    put(&mut doc.at_most, instead.at_most.as_ref());
    put(&mut doc.when, instead.when.as_ref());
    doc.force = instead.force.unwrap_or(doc.force);
    doc.decision = instead.decision.or(doc.decision);
    doc.pin = instead.pin.clone().or(doc.pin);
    doc.cases.clone_from(&instead.cases);
    let own = |words: &str| instead.equivalent.iter().any(|(own, _)| own.text == words);
    doc.equivalent.retain(|(words, _)| !own(&words.text));
    doc.equivalent.extend(instead.equivalent.iter().cloned());
    let (reason, span) = (instead.reason.clone(), instead.id.span);
    doc.overridden = Some(Box::new(Overridden { base, reason, span }));
    doc
}

fn put(place: &mut Option<Scalar>, replaced: Option<&Replaced>) {
    match replaced {
        Some(Replaced::By(scalar)) => *place = Some(scalar.clone()),
        Some(Replaced::TakenAway(_)) => *place = None,
        None => {}
    }
}

fn is_changed(parts: &[PartChange], key: &str) -> bool {
    parts.iter().any(|part| part.part == key)
}

fn as_before(doc: &RuleDoc, key: &str, span: Span) -> Diagnostic {
    let text = |scalar: &Option<Scalar>| scalar.as_ref().map(|scalar| scalar.text.clone());
    let was = match key {
        "at_least" => text(&doc.at_least),
        "at_most" => text(&doc.at_most),
        "when" => text(&doc.when),
        "force" => Some(doc.force.value.word().to_owned()),
        _ => None,
    };
    let id = &doc.id.text;
    let message = match was {
        Some(was) => format!("this changes nothing: `{key}` of {id} is `{was}`"),
        None if key == "decision" => format!("this changes nothing: {id} is decided so already"),
        None => format!("this changes nothing: {id} has no `{key}`"),
    };
    let problem =
        Diagnostic::error(Code::BadRule, span, message).also(doc.id.span, "the rule below");
    problem.help("leave it out, or write what is to stand instead")
}

/// A problem of the changed rule told where it was changed, since what stands below stood before.
fn told_here(mut problem: Diagnostic, here: Span) -> Diagnostic {
    if problem.primary.span.file == here.file {
        return problem;
    }
    let others = &mut problem.others;
    if let Some(label) = others.iter_mut().find(|label| label.span.file == here.file) {
        std::mem::swap(label, &mut problem.primary);
    } else {
        let label = Label { span: here, text: "as it is changed here".to_owned() };
        others.push(std::mem::replace(&mut problem.primary, label));
    }
    problem
}
