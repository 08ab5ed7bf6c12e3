//! Reviewers' remarks: what stands in the file beside each pan is set beside the findings that it is about. No verdict
//! changes; what no longer fits is said aloud.

mod begin;

pub use begin::begun;

use crate::document::dossier::Library;
use crate::document::reader::{Findings, read_remarks};
use crate::document::remarks::{REMARKS, RemarkDoc};
use crate::quantity::print_in;
use crate::review::{Finding, PanReview, Remark, Review};
use crate::source::{Code, Diagnostic, Files, nearest};

/// The path of the file of remarks that belongs to a pan.
pub fn path_of(pan: &str) -> String {
    let stem = pan.strip_suffix(".yaml").or_else(|| pan.strip_suffix(".yml")).unwrap_or(pan);
    format!("{stem}{REMARKS}.yaml")
}

/// Whether a path is that of a file of remarks.
pub fn is_remarks(path: &str) -> bool {
    path.strip_suffix(".yaml").is_some_and(|stem| stem.ends_with(REMARKS))
}

/// Sets the remarks beside the findings of every pan that has a file of them.
pub fn remark(mut review: Review, files: &dyn Files) -> Review {
    let mut library = Library::over(files, std::mem::take(&mut review.sources));
    for pan in &mut review.pans {
        let path = path_of(&pan.path);
        if !files.exists(&path) {
            continue;
        }
        let Some(part) = library.named_by_user(&path) else { continue };
        let mut found = Findings::default();
        let doc = read_remarks(&part.node, &mut found);
        for remark in doc.into_iter().flat_map(|doc| doc.remarks) {
            found.problems.extend(set_beside(pan, &remark));
        }
        library.problems.append(&mut found.problems);
    }
    review.sources = library.sources;
    review.problems.append(&mut library.problems);
    review.problems.sort_by(|a, b| {
        (a.primary.span, a.code, &a.message).cmp(&(b.primary.span, b.code, &b.message))
    });
    review
}

/// Puts a remark to its finding; a warning where there is none, or where it is not the same any more.
fn set_beside(pan: &mut PanReview, doc: &RemarkDoc) -> Option<Diagnostic> {
    let object = doc.object.as_ref().map(|object| object.text.as_str());
    let found = pan
        .findings
        .iter_mut()
        .find(|finding| finding.rule == doc.rule.text && finding.object.as_deref() == object);
    let Some(finding) = found else { return Some(without_finding(pan, doc)) };
    let changed = changed(finding, doc);
    finding.remarks.push(Remark {
        text: doc.remark.text.clone(),
        judgement: doc.judgement.as_ref().map(|text| text.text.clone()),
        by: doc.by.text.clone(),
        on: doc.on.map(|on| on.date),
        span: doc.remark.span,
        changed: changed.clone(),
    });
    changed.map(|changed| {
        let message = format!("since this remark on {} was made, {changed}", doc.rule.text);
        let span = doc.value.as_ref().map_or(doc.rule.span, |value| value.span);
        let span = match &doc.verdict {
            Some(verdict) if changed.contains("verdict") => verdict.span,
            _ => span,
        };
        Diagnostic::warning(Code::RemarkOutdated, span, message)
            .help("look at the finding again, and write down what it is now")
    })
}

fn without_finding(pan: &PanReview, doc: &RemarkDoc) -> Diagnostic {
    let id = &doc.rule.text;
    let of_rule = || pan.findings.iter().filter(|finding| finding.rule == *id);
    let help = "take it out, or put it to the finding that it is about";
    if of_rule().next().is_none() {
        let message = format!("this remark belongs to no finding: there is none of {id}");
        let near = nearest(id, pan.findings.iter().map(|finding| finding.rule.as_str()));
        let help = near.map_or(help.to_owned(), |near| format!("did you mean `{near}`?"));
        return Diagnostic::warning(Code::RemarkOutdated, doc.rule.span, message).help(help);
    }
    let objects: Vec<&str> = of_rule().filter_map(|finding| finding.object.as_deref()).collect();
    let message = match &doc.object {
        Some(object) => {
            format!("this remark belongs to no finding: {id} has none on {}", object.text)
        }
        None => format!("this remark belongs to no finding: {id} is judged for each object"),
    };
    let span = doc.object.as_ref().map_or(doc.rule.span, |object| object.span);
    let help = if objects.is_empty() {
        "take `object` out: the rule is judged for the pan".to_owned()
    } else {
        format!("its objects are {}", objects.join(", "))
    };
    Diagnostic::warning(Code::RemarkOutdated, span, message).help(help)
}

/// What is not as it was when a remark was made.
fn changed(finding: &Finding, doc: &RemarkDoc) -> Option<String> {
    let now = finding.verdict.words();
    if let Some(verdict) = doc.verdict.as_ref().filter(|verdict| verdict.text != now) {
        return Some(format!("the verdict has changed from `{}` to `{now}`", verdict.text));
    }
    let then = doc.value.as_ref()?;
    let value = finding.reading.and_then(|reading| reading.bounds.value());
    let Some(value) = value.filter(|_| then.unit.dimension == finding.dimension) else {
        return Some(format!("the value of {} is no more", then.text));
    };
    // It is written with so many digits: within half a unit of the last it is the same.
    let same = (value - then.value).abs() <= 0.5 * then.last_digit * (1.0 + 1e-9);
    // Two digits of an uncertainty are shown: of this one, down to the last digit written.
    let u = 20.0 * then.last_digit;
    (!same).then(|| {
        format!("the value has changed from {} to {}", then.text, print_in(value, u, &then.unit))
    })
}
