//! Which pans a run is about, what is known of each from before, and what the others come to.

use super::against::{Against, of_pan};
use super::asked::{Answers, Trace, Traced};
use super::list::{List, Standing};
use super::results::{Kept, Results};
use super::{ScreenRequest, Writing};
use crate::document::dossier::{Library, tidy};
use crate::model::Memo;
use crate::review::Ruled;
use crate::source::has_error;
use crate::verdict::Verdict;
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::sync::{Arc, Mutex, PoisonError};

/// So many pans share what is computed for one of them: baselines above all. More would only fill the memory.
const TOGETHER: usize = 16;

/// What there is to a pan.
#[derive(Debug)]
pub(super) enum Look {
    /// No name bears on it.
    Passed,
    /// It has to be judged in full: something of it is told, or could be.
    Whole,
    /// Nothing of it is told; this counts against it and is known.
    Quiet(Vec<Against>),
}

/// Looks at pans.
pub(super) struct Looker<'a> {
    request: &'a ScreenRequest<'a>,
    ruled: &'a Ruled,
    list: &'a List,
    pub(super) names: Option<BTreeSet<String>>,
    conceded: BTreeSet<&'a str>,
    before: Results,
    answers: Answers<'a>,
    /// What was judged in this run, to be kept.
    judged: Mutex<Results>,
}

impl<'a> Looker<'a> {
    pub(super) fn new(
        request: &'a ScreenRequest<'a>,
        ruled: &'a Ruled,
        list: &'a List,
        (names, conceded): (Option<BTreeSet<String>>, Vec<String>),
        before: Results,
    ) -> Self {
        let same = |pan: &String| conceded.contains(&tidy(pan));
        let mut of: BTreeSet<&str> =
            request.pans.iter().filter(|pan| same(pan)).map(String::as_str).collect();
        // A pan that is called by another path: through a link, or from another folder.
        let strays = conceded.iter().filter(|path| request.pans.iter().all(|p| tidy(p) != **path));
        for path in strays.filter(|path| request.files.exists(path)) {
            let is_it = |pan: &&String| request.files.is_same(pan, path);
            of.extend(request.pans.iter().filter(is_it).map(String::as_str));
        }
        let answers = Answers::new(request.files);
        let judged = Mutex::default();
        Self { request, ruled, list, names, conceded: of, before, answers, judged }
    }

    /// Looks at all pans; what was computed is handed on, so that judging one of them again is quick.
    pub(super) fn look(&self) -> (Vec<(&'a String, Look)>, Arc<Memo>) {
        let pans: Vec<&'a String> = self.request.pans.iter().collect();
        let first: Vec<Option<Look>> = pans.par_iter().map(|pan| self.at_once(pan)).collect();
        let rest: Vec<&'a String> = pans
            .iter()
            .zip(&first)
            .filter(|(_, look)| look.is_none())
            .map(|(pan, _)| *pan)
            .collect();
        let last = Arc::<Memo>::default();
        let judged: Vec<Look> = rest
            .par_chunks(TOGETHER)
            .flat_map_iter(|together| {
                let few = rest.len() <= TOGETHER;
                let memo = if few { Arc::clone(&last) } else { Arc::default() };
                let judge = move |pan: &&'a String| self.judged(pan, &memo);
                together.iter().map(judge).collect::<Vec<Look>>()
            })
            .collect();
        let mut judged = judged.into_iter();
        let looks = first.into_iter().map(|look| look.or_else(|| judged.next()));
        let looks = looks.map(|look| look.unwrap_or(Look::Whole));
        (pans.into_iter().zip(looks).collect(), last)
    }

    /// What can be said of a pan without judging it.
    fn at_once(&self, pan: &str) -> Option<Look> {
        let kept = self.before.0.get(pan).filter(|kept| self.answers.hold(&kept.trace));
        if let Some(names) = &self.names {
            let named = |path: &str| names.contains(&tidy(path));
            let is_meant = match kept {
                Some(kept) => kept.trace.iter().any(|(question, _)| named(&question.path)),
                None => self.discovered(pan).keys().any(|question| named(&question.path)),
            };
            if !is_meant {
                return Some(Look::Passed);
            }
        }
        if !self.ruled.stands() || self.conceded.contains(pan) {
            return Some(Look::Whole);
        }
        kept.map(|kept| self.look_of(pan, kept.against.clone()))
    }

    /// The files that a pan is made from, without judging it.
    fn discovered(&self, pan: &str) -> Trace {
        let traced = Traced::new(self.request.files);
        drop(Library::new(&traced).dossier(pan));
        traced.trace().unwrap_or_default()
    }

    fn judged(&self, pan: &str, memo: &Arc<Memo>) -> Look {
        let traced = Traced::new(self.request.files);
        let review = self.ruled.review(&traced, &[pan.to_owned()], memo);
        let [found] = review.pans.as_slice() else { return Look::Whole };
        let against = of_pan(found, &review.sources);
        let finished = against.iter().all(|one| one.verdict != Verdict::NotJudged);
        if has_error(&review.problems) || !finished || found.is_of_nothing() {
            return Look::Whole;
        }
        if let Some(trace) = traced.trace() {
            let mut judged = self.judged.lock().unwrap_or_else(PoisonError::into_inner);
            judged.0.insert(pan.to_owned(), Kept::new(trace, against.clone()));
        }
        self.look_of(pan, against)
    }

    fn look_of(&self, pan: &str, against: Vec<Against>) -> Look {
        let known = |one| self.list.standing(pan, one) == Standing::Known;
        if self.request.writing == Writing::Everything || against.iter().all(known) {
            Look::Quiet(against)
        } else {
            Look::Whole
        }
    }

    /// The text to keep, of the pans that there are; none where all of it was kept before.
    pub(super) fn memory(&self, key: &str) -> Option<String> {
        let judged = self.judged.lock().unwrap_or_else(PoisonError::into_inner);
        let there: BTreeSet<&str> = self.request.pans.iter().map(String::as_str).collect();
        let gone = self.before.0.keys().filter(|pan| !there.contains(pan.as_str())).count();
        if judged.0.is_empty() && gone == 0 {
            return None;
        }
        let kept = self.before.0.iter().filter(|(pan, _)| there.contains(pan.as_str()));
        let kept = kept.chain(&judged.0).map(|(pan, kept)| (pan.clone(), kept.clone()));
        Some(Results(kept.collect()).written(key))
    }
}
