//! The one entry: a name, a rulebook and perhaps a pan become an explanation.

use super::{Everything, Explanation, Subject, curve, measure, on_pan, rule};
use crate::measure::{MEASURES, Spec, find};
use crate::prove::held_by_cases;
use crate::review::{BookUsed, Opened, Request, open};
use crate::source::{Diagnostic, Files, nearest};

/// What is asked for.
#[derive(Clone, Copy)]
pub struct ExplainRequest<'a> {
    /// The host's files, in which the pan lives.
    pub files: &'a dyn Files,
    /// Path as shown and text of each file of the rulebook.
    pub rulebook: &'a [(String, String)],
    /// The id of a rule or the name of a measure; everything, if left out.
    pub name: Option<&'a str>,
    /// Path of the pan on which it is explained.
    pub pan: Option<&'a str>,
    /// The pan that shows what a measure reads where none is named.
    pub demo: Demo<'a>,
    /// Whether the measure is wanted as a curve over the input that drives it.
    pub with_curve: bool,
}

/// Pans that the host brings along.
#[derive(Clone, Copy)]
pub struct Demo<'a> {
    /// The files in which they live.
    pub files: &'a dyn Files,
    /// The path of the one that has something of everything.
    pub pan: &'a str,
    /// The paths of all, for a curve.
    pub pans: &'a [&'a str],
}

impl std::fmt::Debug for ExplainRequest<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("ExplainRequest")
            .field("name", &self.name)
            .field("pan", &self.pan)
            .finish_non_exhaustive()
    }
}

impl std::fmt::Debug for Demo<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Demo").field("pan", &self.pan).finish_non_exhaustive()
    }
}

/// Explains a rule or a measure. A rule goes before a measure of the same name.
pub fn explain(request: ExplainRequest<'_>) -> Explanation {
    let spec = request.name.and_then(find);
    let (files, pan) = match (request.pan, spec) {
        (None, Some(_)) => (request.demo.files, Some(request.demo.pan)),
        (pan, _) => (request.files, pan),
    };
    let pans: Vec<String> = pan.map(str::to_owned).into_iter().collect();
    let mut opened = open(Request { files, pans: &pans, rulebook: request.rulebook, drawn: false });
    let mut subject = subject(&request, spec, &opened);
    if request.with_curve {
        draw(&request, &mut subject, &opened);
    }
    let book = &opened.rulebook;
    if let (Subject::Rule(explained), None) = (&mut subject, request.pan)
        && let Some(rule) = book.rules.iter().find(|rule| rule.doc.id.text == explained.line.id)
    {
        let sources = std::mem::take(&mut opened.sources);
        let (sources, held) = held_by_cases(request.files, sources, book, rule);
        opened.sources = sources;
        rule::with_slack(explained, held);
    }
    let book = BookUsed::of(&opened.rulebook, &opened.problems);
    Explanation { sources: opened.sources, problems: opened.problems, subject, book }
}

/// The curve on the pan named, or with the pans that the host brings along.
fn draw(request: &ExplainRequest<'_>, subject: &mut Subject, opened: &Opened) {
    let demo = request.pan.is_none().then(|| {
        let pans: Vec<String> = request.demo.pans.iter().map(|&pan| pan.to_owned()).collect();
        let files = request.demo.files;
        open(Request { files, pans: &pans, rulebook: request.rulebook, drawn: false })
    });
    let pans = &demo.as_ref().unwrap_or(opened).pans;
    match subject {
        Subject::Rule(explained) => {
            let id = &explained.line.id;
            let rule = opened.rulebook.rules.iter().find(|rule| rule.doc.id.text == *id);
            explained.curve = rule.and_then(|rule| curve::of_rule(rule, pans));
        }
        Subject::Measure(explained) => explained.curve = curve::of_measure(explained.spec, pans),
        Subject::Everything(_) | Subject::Unknown { .. } | Subject::Nothing => {}
    }
}

fn subject(request: &ExplainRequest<'_>, spec: Option<&'static Spec>, opened: &Opened) -> Subject {
    let rules = &opened.rulebook.rules;
    let Some(name) = request.name else {
        return Subject::Everything(Everything {
            rules: rules.iter().map(rule::line).collect(),
            measures: measures(),
        });
    };
    if let Some(found) = rules.iter().find(|rule| rule.doc.id.text == name) {
        let mut explained = rule::explained(found, &opened.sources);
        let pan = opened.pans.first().filter(|_| request.pan.is_some());
        explained.on_pan = pan.map(|pan| on_pan::on_pan(found, pan));
        return Subject::Rule(Box::new(explained));
    }
    if let Some(spec) = spec {
        let is_demo = request.pan.is_none();
        let pan = opened.pans.first();
        return Subject::Measure(Box::new(measure::explained(spec, rules, pan, is_demo)));
    }
    if opened.problems.iter().any(Diagnostic::is_error) {
        // The rule may be one of those that cannot be read.
        return Subject::Nothing;
    }
    let ids = rules.iter().map(|rule| rule.doc.id.text.as_str());
    let known = ids.chain(MEASURES.iter().map(|spec| spec.name));
    let meant = nearest(name, known).map(str::to_owned);
    Subject::Unknown { name: name.to_owned(), meant }
}

/// All measures by name.
fn measures() -> Vec<&'static Spec> {
    let mut all: Vec<&'static Spec> = MEASURES.iter().collect();
    all.sort_by_key(|spec| spec.name);
    all
}
