//! The form of a rule's cases; they are not run here.

use crate::document::rulebook::{CaseDoc, Expected, Force, RuleDoc};
use crate::source::{Code, Diagnostic};

/// Checks each case: paths of words, and a verdict that the rule's force can give.
pub(super) fn check(doc: &RuleDoc, problems: &mut Vec<Diagnostic>) {
    for case in &doc.cases {
        paths(case, problems);
        verdict(doc, case, problems);
    }
}

fn paths(case: &CaseDoc, problems: &mut Vec<Diagnostic>) {
    let set = case.set.iter().map(|(path, _)| path);
    for path in set.chain(&case.dropped) {
        if !path.text.split('.').all(is_word) {
            let message = format!("`{}` is no dotted path", path.text);
            problems.push(
                Diagnostic::error(Code::BadCase, path.span, message)
                    .help("write the keys that lead to the value, as in `pickup.inlet.at.depth`"),
            );
        }
    }
    let twice =
        case.dropped.iter().find(|path| case.set.iter().any(|(set, _)| set.text == path.text));
    if let Some(path) = twice {
        let message = format!("`{}` is both set and dropped", path.text);
        let problem = Diagnostic::error(Code::BadCase, path.span, message);
        problems.push(problem.help("keep one of the two"));
    }
}

/// A key, or the temperature that a row of a table stands under: `oil.viscosity.40 degC`.
fn is_word(word: &str) -> bool {
    let row = word.starts_with(|c: char| c.is_ascii_digit() || c == '-') && word.trim() == word;
    let fits =
        |c: char| c.is_alphanumeric() || c == '_' || c == '-' || row && matches!(c, ' ' | '°');
    !word.is_empty() && word.chars().all(fits)
}

fn verdict(doc: &RuleDoc, case: &CaseDoc, problems: &mut Vec<Diagnostic>) {
    let (force, instead) = match (case.expect.value, doc.force.value) {
        (Expected::Advisory, Force::Shall) => ("shall", "does not conform"),
        (Expected::DoesNotConform, Force::Should) => ("should", "advisory"),
        _ => return,
    };
    problems.push(
        Diagnostic::error(
            Code::BadCase,
            case.expect.span,
            format!("a rule of force `{force}` never comes to this verdict"),
        )
        .also(doc.force.span, "the rule's force")
        .help(format!("where the limit is not met, expect `{instead}`")),
    );
}
