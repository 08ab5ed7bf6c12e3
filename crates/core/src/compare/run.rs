//! The entry: two rulebooks, and perhaps pans to try them on, become a comparison.

use super::{BookCompared, Comparison, PanCompared, VerdictChange, rulebooks};
use crate::document::rulebook::Force;
use crate::review::{BookUsed, OpenedPan, Request, judge, open_with};
use crate::rule::Rulebook;
use crate::source::{Diagnostic, Files, has_error};
use crate::verdict::Verdict;
use rayon::prelude::*;
use std::collections::BTreeMap;

/// What is asked for.
#[derive(Clone, Copy)]
pub struct CompareRequest<'a> {
    /// The host's files.
    pub files: &'a dyn Files,
    /// What each rulebook was named by, the old one first.
    pub names: [&'a str; 2],
    /// Path as shown and text of each file of the old rulebook.
    pub old: &'a [(String, String)],
    /// Of the new one.
    pub new: &'a [(String, String)],
    /// Paths of pans on which both are tried.
    pub pans: &'a [String],
}

impl std::fmt::Debug for CompareRequest<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("CompareRequest")
            .field("names", &self.names)
            .field("pans", &self.pans)
            .finish_non_exhaustive()
    }
}

/// Holds two rulebooks beside each other. Bad documents are data: they come back among the problems.
pub fn compare(request: CompareRequest<'_>) -> Comparison {
    let CompareRequest { files, names, old, new, pans } = request;
    let (opened, other) = open_with(Request { files, pans, rulebook: old, drawn: false }, new);
    let old = opened.rulebook;
    let is_sound = !has_error(&opened.problems);
    let (rules, pans) = if is_sound {
        let tried = opened.pans.par_iter().map(|pan| compared(pan, &old, &other)).collect();
        (rulebooks::rules(&old, &other), tried)
    } else {
        (Vec::new(), Vec::new())
    };
    let [old_name, new_name] = names;
    let problems = opened.problems;
    let (old, new) = (shown(old_name, &old, &problems), shown(new_name, &other, &problems));
    Comparison { sources: opened.sources, problems, old, new, rules, pans }
}

fn shown(name: &str, rulebook: &Rulebook, problems: &[Diagnostic]) -> BookCompared {
    let book = BookUsed::of(rulebook, problems);
    BookCompared { name: name.to_owned(), rules: rulebook.rules.len(), book }
}

/// Rule and object.
type Key = (String, Option<String>);

fn compared(pan: &OpenedPan, old: &Rulebook, new: &Rulebook) -> PanCompared {
    let verdicts = |book: &Rulebook| -> BTreeMap<Key, (Force, Verdict)> {
        let findings = book.rules.par_iter().flat_map_iter(|rule| judge(rule, &pan.sweep));
        let keyed = findings.map(|f| ((f.rule, f.object), (f.force, f.verdict)));
        keyed.collect()
    };
    let (was, is) = (verdicts(old), verdicts(new));
    let mut keys: Vec<&Key> = was.keys().chain(is.keys()).collect();
    keys.sort();
    keys.dedup();
    let mut changes = Vec::new();
    let mut same = 0;
    for key in keys {
        let (from, to) = (was.get(key).copied(), is.get(key).copied());
        let verdict = |one: Option<(Force, Verdict)>| one.map(|(_, verdict)| verdict);
        if verdict(from) == verdict(to) {
            same += 1;
        } else {
            let (rule, object) = key.clone();
            changes.push(VerdictChange { rule, object, from, to });
        }
    }
    PanCompared { path: pan.path.clone(), title: pan.title.clone(), changes, same }
}
