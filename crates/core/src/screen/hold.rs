//! A review held against what is known: what stays is what is worse or new, and what is known and no more is told.

use super::against::{Against, Paths, Worse};
use super::list::{Line, List, Standing, written};
use super::look::Look;
use super::{ScreenRequest, Writing};
use crate::document::dossier::tidy;
use crate::document::known::KnownFinding;
use crate::review::{Finding, PanReview, Review, Screening, StaleFinding};
use crate::source::{Diagnostic, Sources, nearest};
use crate::verdict::Verdict;
use std::collections::{BTreeMap, BTreeSet};

/// A review while it is held against a list.
pub(super) struct Held<'a> {
    request: &'a ScreenRequest<'a>,
    list: &'a List,
    names: Option<&'a BTreeSet<String>>,
    /// What counts against each pan that could be judged, by its tidy path.
    judged: BTreeMap<String, Vec<Against>>,
    known: usize,
}

impl<'a> Held<'a> {
    pub(super) fn new(
        request: &'a ScreenRequest<'a>,
        list: &'a List,
        names: Option<&'a BTreeSet<String>>,
    ) -> Self {
        Self { request, list, names, judged: BTreeMap::new(), known: 0 }
    }

    /// Takes out what is not told, and adds what has become of the list.
    pub(super) fn hold(&mut self, mut review: Review, looks: &[(&String, Look)]) -> Review {
        let mut looked_at = 0;
        for (pan, look) in looks {
            looked_at += usize::from(!matches!(look, Look::Passed));
            if let Look::Quiet(against) = look {
                self.known += against.len();
                self.judged.insert(tidy(pan), against.clone());
            }
        }
        let Review { sources, pans, .. } = &mut review;
        pans.retain_mut(|pan| self.hold_pan(pan, sources));
        let stale =
            if self.request.writing == Writing::Nothing { self.stale() } else { Vec::new() };
        review.problems.retain(Diagnostic::is_error);
        let list = self.list.path.clone();
        let screening = Screening { looked_at, known: self.known, list, stale };
        review.screening = (!self.list.is_torn).then_some(screening);
        review
    }

    /// Whether anything is told of a pan; of one on which no rule applies, that.
    fn hold_pan(&mut self, pan: &mut PanReview, sources: &Sources) -> bool {
        let mut paths = Paths::new(&pan.path, sources);
        let mut all = Vec::new();
        let nothing = pan.is_of_nothing();
        let path = pan.path.clone();
        pan.findings.retain_mut(|finding| {
            let Some(against) = Against::of(finding, &mut paths) else { return false };
            let told = self.is_told(&path, &against, finding, sources);
            self.known += usize::from(!told);
            all.push(against);
            told
        });
        self.judged.insert(tidy(&path), all);
        (pan.inputs, pan.notes) = (Vec::new(), Vec::new());
        nothing || !pan.findings.is_empty()
    }

    /// Whether a finding is told; it then says why.
    fn is_told(
        &self,
        pan: &str,
        against: &Against,
        finding: &mut Finding,
        sources: &Sources,
    ) -> bool {
        if against.verdict == Verdict::NotJudged {
            return true;
        }
        if self.request.writing == Writing::Everything {
            return self.in_project(pan).is_none();
        }
        let Some(path) = &self.list.path else { return true };
        match self.list.standing(pan, against) {
            Standing::Known => return false,
            Standing::New => {
                let note = match self.list.elsewhere(pan, against) {
                    None => format!("new: it is not in {path}"),
                    Some(entry) => {
                        let (known, now) = (&entry.at.text, &against.at);
                        format!(
                            "new: it was known at {known} and points at {now} ({})",
                            at(sources, entry)
                        )
                    }
                };
                finding.notes.insert(0, note);
            }
            Standing::Worse(worse, number) => {
                let Some(entry) = self.list.entries.get(number) else { return true };
                let note = format!("worse: {} ({})", was(&worse, entry), at(sources, entry));
                finding.notes.insert(0, note);
            }
        }
        true
    }

    /// What is known and no more, of the pans that were judged or are gone.
    fn stale(&self) -> Vec<StaleFinding> {
        let mut stale = Vec::new();
        for (pan, against) in &self.judged {
            // Of one that points at another place now it is told that it is new.
            let gone = |(_, entry): &(usize, &KnownFinding)| {
                !against.iter().any(|one| {
                    let is_told = || self.list.standing(pan, one) == Standing::New;
                    List::is_of(entry, one) || List::is_like(entry, one) && is_told()
                })
            };
            for (_, entry) in self.list.on(pan).filter(gone) {
                let message = "it counts against the pan no more".to_owned();
                stale.push(self.stale_finding(pan, entry, message, ""));
            }
        }
        for pan in self.list.pans() {
            let is_meant = self.names.is_none_or(|names| names.contains(pan));
            if !is_meant || self.judged.contains_key(pan) || self.request.files.exists(pan) {
                continue;
            }
            let now = self.renamed(pan).unwrap_or("under another name");
            for (_, entry) in self.list.on(pan) {
                let message = format!("there is no pan {pan}");
                let meant = format!("; where it is {now} now, write that name here instead");
                stale.push(self.stale_finding(pan, entry, message, &meant));
            }
        }
        stale.sort_by_key(|one| one.span);
        stale
    }

    fn stale_finding(
        &self,
        pan: &str,
        entry: &KnownFinding,
        message: String,
        meant: &str,
    ) -> StaleFinding {
        StaleFinding {
            pan: pan.to_owned(),
            rule: entry.rule.text.clone(),
            object: entry.object.as_ref().map(|object| object.text.clone()),
            message,
            span: entry.span,
            // The command stands first, so that it is not broken over two lines and can be copied.
            help: format!("`{}` takes it out{meant}", self.request.tidying),
        }
    }

    /// The pan that one of the list may be now: one of nearly its name, of which the list says nothing.
    fn renamed(&self, pan: &str) -> Option<&str> {
        let unlisted = self.request.pans.iter().filter(|pan| self.list.on(pan).next().is_none());
        let by_name: BTreeMap<&str, &str> = unlisted.map(|pan| (name(pan), pan.as_str())).collect();
        let near = nearest(name(pan), by_name.keys().copied())?;
        by_name.get(near).copied()
    }

    /// The list as it is to be; what it says of pans that were not looked at stays.
    pub(super) fn known(&self) -> String {
        let mut lines = Vec::new();
        for (shown, against) in &self.judged {
            let Some(pan) = self.in_project(shown) else { continue };
            let finished = against.iter().filter(|one| one.verdict != Verdict::NotJudged);
            lines.extend(finished.filter_map(|one| self.line(shown, &pan, one)));
        }
        for pan in self.list.pans() {
            if !self.judged.contains_key(pan) && self.request.files.exists(pan) {
                lines.extend(self.list.on(pan).map(|(_, entry)| Line::as_it_was(entry)));
            }
        }
        written(lines)
    }

    /// The line of a finding; none where it does not become known.
    fn line(&self, shown: &str, pan: &str, against: &Against) -> Option<Line> {
        if self.request.writing == Writing::Everything {
            return Some(Line::of(pan, against));
        }
        match self.list.standing(shown, against) {
            Standing::Known => Some(Line::of(pan, against)),
            Standing::New => None,
            Standing::Worse(_, number) => self.list.entries.get(number).map(Line::as_it_was),
        }
    }

    /// The path of a pan from the project's folder; none outside it.
    fn in_project(&self, pan: &str) -> Option<String> {
        let (pan, folder) = (tidy(pan), tidy(self.request.folder));
        let inside = if folder.is_empty() {
            Some(pan.as_str())
        } else {
            pan.strip_prefix(&folder).and_then(|rest| rest.strip_prefix('/'))
        };
        inside.filter(|path| !path.starts_with("../") && !path.starts_with('/')).map(str::to_owned)
    }
}

/// A file's name without its folder and what it ends with: these are alike for all pans and make no two of them near.
fn name(path: &str) -> &str {
    let file = path.rsplit_once('/').map_or(path, |(_, file)| file);
    file.rsplit_once('.').map_or(file, |(name, _)| name)
}

/// Where an entry stands.
fn at(sources: &Sources, entry: &KnownFinding) -> String {
    let place = sources.place(entry.span);
    format!("{}:{}:{}", place.path, place.line, place.column)
}

/// What was known of a finding that is worse now.
fn was(worse: &Worse, entry: &KnownFinding) -> String {
    let value = entry.value.as_ref().map_or("", |value| value.text.as_str());
    match worse {
        Worse::Verdict => format!("it was known to be {}", entry.verdict.text),
        Worse::Value => format!("it was known with {value}"),
        Worse::NoValue => format!("it was known with {value}, and cannot be computed now"),
    }
}
