//! Reads a file of remarks.

use super::concessions::{day, said_in_earnest};
use super::cursor::{Context, Cursor, Spot, mapping};
use super::value::{list, scalar, text, word_as_text};
use crate::document::Text;
use crate::document::concessions::Day;
use crate::document::field::REMARK_VERDICTS;
use crate::document::remarks::{RemarkDoc, RemarksDoc, ValueThen};
use crate::quantity::{Given, parse_quantity};
use crate::source::{Code, Diagnostic};

pub(super) fn remarks(c: &mut Cursor<'_, '_>) -> RemarksDoc {
    let title = c.optional("title", text);
    let by = c.optional("by", said_in_earnest);
    let on = c.optional("on", day);
    let each = |context: &mut Context<'_>, spot: &Spot<'_>| {
        mapping(|c| remark(c, by.as_ref(), on))(context, spot)
    };
    let remarks = c.required("findings", |context, spot| list(context, spot, each));
    RemarksDoc { span: c.span, title, remarks: remarks.unwrap_or_default() }
}

/// A remark; none where `remark: none` says that there is nothing to say yet.
fn remark(c: &mut Cursor<'_, '_>, by: Option<&Text>, on: Option<Day>) -> Option<RemarkDoc> {
    let rule = c.required("rule", text);
    let object = c.optional("object", text);
    let verdict = c.optional("verdict", word_as_text(REMARK_VERDICTS));
    let value = c.optional("value", value);
    let judgement = c.optional("judgement", said_in_earnest);
    let own = c.optional("by", said_in_earnest);
    let own_day = c.optional("on", day);
    let remark = match c.given("remark", said_in_earnest) {
        Given::Stated(remark) => remark,
        Given::Absent(_) => return None,
        Given::LeftOut(_) => {
            if c.key_span("remark").is_none() {
                c.required("remark", text);
            }
            return None;
        }
    };
    let Some(by) = own.or_else(|| by.cloned()) else {
        let message = "nobody stands for this remark";
        let problem = Diagnostic::error(Code::MissingKey, remark.span, message);
        c.context.report(problem.help("add `by` at the top of the file: the name of the reviewer"));
        return None;
    };
    let on = own_day.or(on);
    Some(RemarkDoc { rule: rule?, object, verdict, value, judgement, remark, by, on })
}

fn value(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<ValueThen> {
    let written = scalar(context, spot, "a quantity")?;
    match parse_quantity(written) {
        Ok(parsed) => Some(ValueThen {
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
