//! A file of remarks to complete.

use crate::quantity::{Unit, print_in};
use crate::review::{Finding, PanReview};
use crate::verdict::Verdict;

const HEAD: &str = "\
# Remarks on the findings of the pan beside this file. Put your name after `by` and what there is to say after `remark`;
# what stays `none` says nothing. Verdict and value are those of the day: a later review tells what has changed.
remarks: 1
by: none
findings:
";

/// The text of a file of remarks on everything that is told of a pan, with nothing said yet; none where nothing is
/// told.
pub fn begun(pan: &PanReview) -> Option<String> {
    let told = pan.findings.iter().filter(|finding| {
        !matches!(finding.verdict, Verdict::Conforms | Verdict::NotApplicable | Verdict::NotJudged)
    });
    let entries: Vec<String> = told.map(entry).collect();
    (!entries.is_empty()).then(|| format!("{HEAD}{}", entries.concat()))
}

fn entry(finding: &Finding) -> String {
    let object = finding.object.as_ref().map(|object| format!("    object: {object}\n"));
    let value = finding.reading.and_then(|reading| {
        let value = reading.bounds.value()?;
        let unit = Unit::for_value(finding.dimension, value);
        let u = if reading.u_low > reading.u_high { reading.u_low } else { reading.u_high };
        Some(format!("    value: {}\n", print_in(value, u, &unit)))
    });
    format!(
        "  - rule: {}\n{}    verdict: {}\n{}    judgement: none\n    remark: none\n",
        finding.rule,
        object.unwrap_or_default(),
        finding.verdict.words(),
        value.unwrap_or_default()
    )
}
