//! Reads a list of known findings.

use super::cursor::{Context, Cursor, Spot, mapping};
use super::value::{list, path, scalar, text, word_as_text};
use crate::document::known::{KNOWN_VERDICTS, KnownDoc, KnownFinding, KnownValue};
use crate::quantity::{Given, parse_quantity};
use crate::source::{Code, Diagnostic};

pub(super) fn known(c: &mut Cursor<'_, '_>) -> KnownDoc {
    let each = |context: &mut Context<'_>, spot: &Spot<'_>| mapping(finding)(context, spot);
    let findings = match c.given("findings", |context, spot| list(context, spot, each)) {
        Given::Stated(findings) => findings,
        Given::Absent(_) => Vec::new(),
        Given::LeftOut(_) => {
            if c.key_span("findings").is_none() {
                c.required("findings", text);
            }
            Vec::new()
        }
    };
    each_once(c, &findings);
    KnownDoc { span: c.key, findings }
}

fn finding(c: &mut Cursor<'_, '_>) -> Option<KnownFinding> {
    let pan = c.required("pan", pan);
    let rule = c.required("rule", text);
    let object = c.optional("object", text);
    let at = c.required("at", text);
    let verdict = c.required("verdict", word_as_text(KNOWN_VERDICTS));
    let value = c.optional("value", value);
    Some(KnownFinding {
        pan: pan?,
        rule: rule?,
        object,
        at: at?,
        verdict: verdict?,
        value,
        span: c.span,
    })
}

/// A path that stays in the project's folder.
fn pan(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<crate::document::Text> {
    let written = path(context, spot)?;
    let leaves = |part: &str| part == "..";
    if !written.text.starts_with('/') && !written.text.split('/').any(leaves) {
        return Some(written);
    }
    let message = format!("{:?} leaves the folder of the project", written.text);
    let problem = Diagnostic::error(Code::EscapingReference, written.span, message);
    context.report(problem.help("write the path of the pan from the folder of sumpwright.yaml"));
    None
}

fn value(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<KnownValue> {
    let written = scalar(context, spot, "a quantity")?;
    match parse_quantity(written) {
        Ok(parsed) => Some(KnownValue {
            text: written.text.clone(),
            value: parsed.value,
            last_digit: parsed.last_digit,
            unit: parsed.unit,
            span: spot.node.span,
        }),
        Err(problem) => {
            context.report(*problem);
            None
        }
    }
}

/// Reports an entry that stands twice, which of two values is meant being nobody's guess.
fn each_once(c: &mut Cursor<'_, '_>, findings: &[KnownFinding]) {
    let mut seen = std::collections::BTreeMap::new();
    for finding in findings {
        let object = finding.object.as_ref().map(|object| object.text.as_str());
        let key = (
            finding.pan.text.as_str(),
            finding.rule.text.as_str(),
            object,
            finding.at.text.as_str(),
        );
        let Some(first) = seen.insert(key, finding.span) else { continue };
        seen.insert(key, first);
        let message = format!("this finding of {} stands here twice", finding.rule.text);
        let problem = Diagnostic::error(Code::Contradiction, finding.span, message);
        let help = "keep one of them, or let `sumpwright screen --write-known` write the list anew";
        c.context.report(problem.also(first, "it stands here as well").help(help));
    }
}
