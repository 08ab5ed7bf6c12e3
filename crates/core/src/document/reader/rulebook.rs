//! Reads a rulebook file. Formulas, conditions and pins stay text with a place: the rule stage reads
//! them.

use super::building::{builds_on, changes};
use super::cursor::{Context, Cursor, Spot, entries, mapping};
use super::message::{cut_off, nothing_said, wrong_shape};
use super::quantity::plain_amount;
use super::value::{count, list, scalar, text, texts, unknown_word, word};
use crate::document::Text;
use crate::document::pan::Word;
use crate::document::rulebook::{CaseDoc, Decision, Expected, Force, RuleDoc, RulebookDoc};
use crate::quantity::Kind;
use crate::source::{Code, Diagnostic, Key, Node, Scalar, Value};
use uom::si::f64::Ratio;

pub(super) const FORCES: &[(&str, Force)] = &[("shall", Force::Shall), ("should", Force::Should)];
const TRUTHS: &[(&str, bool)] = &[("true", true), ("false", false)];
const EXPECTED: &[(&str, Expected)] = &[
    ("conforms", Expected::Conforms),
    ("does not conform", Expected::DoesNotConform),
    ("inconclusive", Expected::Inconclusive),
    ("advisory", Expected::Advisory),
    ("not applicable", Expected::NotApplicable),
];

pub(super) fn rulebook(c: &mut Cursor<'_, '_>) -> RulebookDoc {
    let decision = c.optional("decision", decision);
    let fixtures = c.optional("fixtures", text);
    let builds = c.key_span("builds_on").is_some();
    let builds_on = c.optional("builds_on", builds_on);
    let (instead, dropped) = changes(c);
    // A book that builds on another need not add to it.
    let rules = if builds { c.optional("rules", rules) } else { c.required("rules", rules) };
    RulebookDoc {
        span: c.span,
        decision,
        fixtures,
        builds_on,
        instead,
        dropped,
        rules: rules.unwrap_or_default(),
    }
}

/// `guarded`, `simple`, or `{ probability: 95 % }`.
pub(super) fn decision(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Word<Decision>> {
    let span = spot.node.span;
    let value = match &spot.node.value {
        Value::Scalar(written) => match written.text.as_str() {
            "guarded" => Decision::Guarded,
            "simple" => Decision::Simple,
            other => {
                let problem = unknown_word(spot, other, &["guarded", "simple"]);
                context.report(problem);
                return None;
            }
        },
        _ => mapping(|c| c.required("probability", probability))(context, spot)?,
    };
    Some(Word { value, span })
}

/// A share below 1: nothing is ever certain.
fn probability(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Decision> {
    let written = scalar(context, spot, "a share, as in `95 %`")?;
    let share = plain_amount(context, written, &spot.path, &spot.name, Ratio::DIMENSION)?;
    if (0.5..1.0).contains(&share) {
        return Some(Decision::Probability(share));
    }
    let message = "`probability` is a share from 50 % to below 100 %";
    let problem = Diagnostic::error(Code::OutOfRange, written.span, message);
    context.report(problem.help("95 % is usual"));
    None
}

fn rules(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Vec<RuleDoc>> {
    let mut rules = Vec::new();
    for entry in entries(context, spot)? {
        let key = &entry.key;
        if matches!(entry.value.value, Value::Null) {
            context.report(nothing_said(&key.text, key.span));
            continue;
        }
        if !id_is_good(context, key) {
            continue;
        }
        // An id holds a dot, so it cannot be a word of the path.
        let path = format!("{}.*", spot.path);
        let inner = Spot { node: &entry.value, path, name: key.text.clone(), key: key.span };
        let id = Text { text: key.text.clone(), span: key.span };
        rules.extend(mapping(|c| rule(c, id))(context, &inner));
    }
    Some(rules)
}

/// An id is a family, a dot, and what is wrong in words.
pub(super) fn id_is_good(context: &mut Context<'_>, key: &Key) -> bool {
    let word = |text: &str| {
        text.starts_with(|c: char| c.is_ascii_lowercase())
            && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-')
            && !text.ends_with('-')
    };
    let good = key.text.split_once('.').is_some_and(|(family, rest)| word(family) && word(rest));
    if !good {
        let message = format!("`{}` cannot be the id of a rule", key.text);
        let help = "write its family, a dot, and what is wrong in small letters with hyphens, as in \
                    `pickup.too-close-to-floor`";
        let problem = Diagnostic::error(Code::BadRule, key.span, message);
        context.report(problem.help(cut_off(&key.text).unwrap_or(help)));
    }
    good
}

fn rule(c: &mut Cursor<'_, '_>, id: Text) -> Option<RuleDoc> {
    let title = c.required("title", text);
    let force = c.required("force", word(FORCES));
    let measure = c.required("measure", formula);
    let (at_least, at_most) = limits(c);
    let pin = c.optional("pin", pin);
    let when = c.optional("when", formula);
    let because = c.required("because", text);
    let source = c.required("source", text);
    let remedy = c.optional("remedy", text);
    let caution = c.optional("caution", text);
    let since = c.optional("since", count);
    let decision = c.optional("decision", decision);
    let cases = c.optional("cases", cases);
    let equivalent = c.optional("equivalent", reasons);
    // What is missing has been reported; the rest is read on, so that its formulas are looked at too.
    let blank = || Text { text: String::new(), span: c.key };
    let shall = || Word { value: Force::Shall, span: c.key };
    Some(RuleDoc {
        id,
        title: title.unwrap_or_else(blank),
        force: force.unwrap_or_else(shall),
        measure: measure?,
        at_least,
        at_most,
        pin,
        when,
        because: because.unwrap_or_else(blank),
        source: source.unwrap_or_else(blank),
        remedy,
        caution,
        since,
        decision,
        cases: cases.unwrap_or_default(),
        equivalent: equivalent.unwrap_or_default(),
        span: c.span,
        overridden: None,
    })
}

/// `at_least` and `at_most`, or `within` in place of both.
fn limits(c: &mut Cursor<'_, '_>) -> (Option<Scalar>, Option<Scalar>) {
    let at_least = c.optional("at_least", formula);
    let at_most = c.optional("at_most", formula);
    let within = c.optional("within", band);
    let known = ["at_least", "at_most", "within"];
    if known.iter().all(|key| c.key_span(key).is_none()) {
        let message = format!("`{}` has no limit", c.name());
        let problem = Diagnostic::error(Code::BadRule, c.key, message);
        c.context.report(problem.help("state `at_least`, `at_most`, both, or `within`"));
    }
    for key in ["at_least", "at_most"] {
        c.exclude("within", key, "keep `within`, or write `at_least` and `at_most`");
    }
    match within {
        Some((low, high)) => (Some(low), Some(high)),
        None => (at_least, at_most),
    }
}

pub(super) fn band(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<(Scalar, Scalar)> {
    if let Value::Sequence(items) = &spot.node.value
        && let [low, high] = items.as_slice()
        && let (Some(low), Some(high)) = (low.scalar(), high.scalar())
    {
        return Some((low.clone(), high.clone()));
    }
    let message = "`within` is a list of two quantities, the lower and the upper limit";
    let problem = Diagnostic::error(Code::WrongShape, spot.node.span, message);
    context
        .report(problem.help("write `within: [8 mm, 20 mm]`; quote a formula that holds a comma"));
    None
}

pub(super) fn formula(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Scalar> {
    scalar(context, spot, "a formula").cloned()
}

/// One pin for all numbers, or one for each number as written.
pub(super) fn pin(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Node> {
    match &spot.node.value {
        Value::Scalar(_) => Some(spot.node.clone()),
        Value::Mapping(_) => {
            let entries = entries(context, spot)?;
            let empty = entries.iter().find(|e| matches!(e.value.value, Value::Null));
            if let Some(entry) = empty {
                context.report(nothing_said(&entry.key.text, entry.key.span));
                return None;
            }
            Some(spot.node.clone())
        }
        _ => {
            context.report(wrong_shape(spot, "a quantity, a share, or a mapping from numbers"));
            None
        }
    }
}

pub(super) fn cases(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Vec<CaseDoc>> {
    list(context, spot, |context, item| mapping(case)(context, item))
}

fn case(c: &mut Cursor<'_, '_>) -> Option<CaseDoc> {
    let fixture = c.required("fixture", text);
    let exact = c.optional("exact", word(TRUTHS));
    let set = c.optional("set", settings);
    let dropped = c.optional("drop", texts);
    let expect = c.required("expect", word(EXPECTED));
    Some(CaseDoc {
        fixture: fixture?,
        exact: exact.is_some_and(|word| word.value),
        set: set.unwrap_or_default(),
        dropped: dropped.unwrap_or_default(),
        expect: expect?,
        span: c.span,
    })
}

/// Free words, each with a reason.
pub(super) fn reasons(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Vec<(Text, Text)>> {
    let mut read = Vec::new();
    for entry in entries(context, spot)? {
        let key = &entry.key;
        if matches!(entry.value.value, Value::Null) {
            context.report(nothing_said(&key.text, key.span));
            continue;
        }
        let path = format!("{}.*", spot.path);
        let inner = Spot { node: &entry.value, path, name: key.text.clone(), key: key.span };
        let reason = text(context, &inner);
        let words = Text { text: key.text.clone(), span: key.span };
        read.extend(reason.map(|reason| (words, reason)));
    }
    Some(read)
}

fn settings(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Vec<(Text, Node)>> {
    let mut set = Vec::new();
    for entry in entries(context, spot)? {
        let key = &entry.key;
        if matches!(entry.value.value, Value::Null) {
            context.report(nothing_said(&key.text, key.span));
        } else {
            set.push((Text { text: key.text.clone(), span: key.span }, entry.value.clone()));
        }
    }
    Some(set)
}
