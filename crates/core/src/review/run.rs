//! The one entry: the host's files, the pans named and a rulebook become a review.

use super::baseline::{Baselines, texts};
use super::documents::{kind_key, read_scene};
use super::judge::{judge, read_first};
use super::map::coverage_map;
use super::situation::{Seen, Situation};
use super::sweep::Sweep;
use super::{
    BookUsed, Conceding, InputUsed, MeasureReading, Measured, PanMeasured, PanReview, Review,
};
use crate::coverage::CoverageMap;
use crate::document::DocumentKind;
use crate::document::dossier::{Dossier, Library, Part};
use crate::document::project::Project;
use crate::document::reader::{
    Findings, ReadOptions, read_checklist, read_concessions, read_declaration, read_duty,
    read_known, read_oil, read_pan, read_project, read_remarks, read_rulebook, read_vehicle,
};
use crate::document::watched::Parts;
use crate::figure::{Figure, figures};
use crate::measure::{MEASURES, ObjectKind, Spec, Unknown};
use crate::model::{Memo, contained, notes};
use crate::rule::{Rulebook, Scope, assemble};
use crate::source::{
    Code, Diagnostic, Entry, FileId, Files, Key, Node, Scalar, Sources, Value, has_error,
};
use rayon::prelude::*;
use std::collections::BTreeSet;
use std::sync::Arc;

/// What is asked for.
#[derive(Clone, Copy)]
pub struct Request<'a> {
    /// The host's files.
    pub files: &'a dyn Files,
    /// Paths of the pans.
    pub pans: &'a [String],
    /// Path as shown and text of each file of the rulebook.
    pub rulebook: &'a [(String, String)],
    /// Whether drawings are wanted, which take longer than a review does.
    pub drawn: bool,
}

impl std::fmt::Debug for Request<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Request").field("pans", &self.pans).finish_non_exhaustive()
    }
}

/// Judges pans against a rulebook. Bad documents are data: they come back among the problems, and the pans
/// that do not use them are judged all the same.
pub fn review(request: Request<'_>) -> Review {
    review_then(request, |_, _, _, _| {})
}

/// As [`review`], with what a later stage adds to each pan while all that was read of it is at hand.
pub(crate) fn review_then(
    request: Request<'_>,
    then: impl Fn(&Rulebook, &Sources, &Sweep, &mut PanReview) + Sync,
) -> Review {
    let mut run = Run::new(request);
    let rulebook = run.rulebook(request.rulebook);
    let book_stands = !has_error(&run.library.problems);
    let book = BookUsed::of(&rulebook, &run.library.problems);
    let dossiers = run.dossiers(request.pans);
    let mut pans = if book_stands {
        run.judged(&dossiers, &rulebook, request.drawn, then)
    } else {
        Vec::new()
    };
    pans.sort_by(|a, b| a.path.cmp(&b.path));
    let rules = rulebook.rules.len();
    let (sources, problems) = run.finish();
    let (checklists, conceding) = (Vec::new(), Conceding::default());
    Review { sources, pans, problems, rules, book, checklists, conceding, screening: None }
}

/// Reads every measure of pans.
pub fn measure(request: Request<'_>) -> Measured {
    measured(request, |_| None)
}

/// As [`measure`], with the coverage map of each pan.
pub fn measure_with_map(request: Request<'_>) -> Measured {
    measured(request, |sweep| Some(coverage_map(sweep)))
}

type Map = Option<Result<CoverageMap, Unknown>>;

fn measured(request: Request<'_>, map: impl Fn(&Sweep) -> Map + Sync + Copy) -> Measured {
    let mut run = Run::new(request);
    let dossiers = run.dossiers(request.pans);
    let mut pans: Vec<PanMeasured> = dossiers
        .par_iter()
        .filter(|(_, sound)| *sound)
        .filter_map(|(dossier, _)| {
            pan_measured(dossier, &Memo::within(&run.memo), request.drawn, map)
        })
        .collect();
    pans.sort_by(|a, b| a.path.cmp(&b.path));
    let (sources, problems) = run.finish();
    Measured { sources, pans, problems }
}

/// A rulebook and pans, read and checked, for a stage that looks more closely than a finding does.
#[derive(Debug)]
pub(crate) struct Opened {
    pub(crate) sources: Sources,
    pub(crate) problems: Vec<Diagnostic>,
    pub(crate) rulebook: Rulebook,
    /// The pans that are sound, in the order of their paths.
    pub(crate) pans: Vec<OpenedPan>,
}

/// One pan, with all its situations.
#[derive(Debug)]
pub(crate) struct OpenedPan {
    pub(crate) path: String,
    pub(crate) title: Option<String>,
    pub(crate) baselines: Vec<String>,
    pub(crate) sweep: Sweep,
}

/// Reads a rulebook and pans without judging.
pub(crate) fn open(request: Request<'_>) -> Opened {
    let mut run = Run::new(request);
    let rulebook = run.rulebook(request.rulebook);
    run.opened(rulebook, request.pans)
}

/// Asks something of one pan, read from files that may differ from the host's; nothing where it is not sound.
pub(crate) fn rejudged<T>(
    files: &dyn Files,
    path: &str,
    ask: impl FnOnce(&Sweep) -> T,
) -> Option<T> {
    let mut run = Run::new(Request { files, pans: &[], rulebook: &[], drawn: false });
    let dossiers = run.dossiers(&[path.to_owned()]);
    let (dossier, _) = dossiers.iter().find(|(_, sound)| *sound)?;
    Some(ask(&Sweep::new(dossier, &run.memo, |_| {})?))
}

/// Reads a rulebook alone: its edition and rules, and what is wrong with it. The edition is empty where it is at fault.
pub fn read_book(files: &dyn Files, rulebook: &[(String, String)]) -> (BookUsed, Review) {
    let mut run = Run::new(Request { files, pans: &[], rulebook, drawn: false });
    let read = run.rulebook(rulebook);
    let book = BookUsed::of(&read, &run.library.problems);
    let (sources, problems) = run.finish();
    (book, without_pans(sources, problems))
}

/// Reads one document by itself as the kind it is meant to be, for what is wrong with it.
pub fn read_alone(files: &dyn Files, path: &str, kind: DocumentKind) -> Review {
    let request = Request { files, pans: &[], rulebook: &[], drawn: false };
    let mut run = Run::new(request);
    if let Some(part) = run.library.named_by_user(path) {
        let mut found = Findings::default();
        let options = ReadOptions { shifts: &[], exact: false, prefix: "", moved: Parts::ALL };
        match kind {
            DocumentKind::Pan => drop(read_pan(&part.node, options, &mut found)),
            DocumentKind::Vehicle => drop(read_vehicle(&part.node, options, &mut found)),
            DocumentKind::Oil => drop(read_oil(&part.node, options, &mut found)),
            DocumentKind::Duty => drop(read_duty(&part.node, options, &mut found)),
            DocumentKind::Rulebook => drop(read_rulebook(&part.node, &mut found)),
            DocumentKind::Project => drop(read_project(&part.node, &mut found)),
            DocumentKind::Checklist => drop(read_checklist(&part.node, &mut found)),
            DocumentKind::Concessions => drop(read_concessions(&part.node, &mut found)),
            DocumentKind::Remarks => drop(read_remarks(&part.node, &mut found)),
            DocumentKind::Declaration => drop(read_declaration(&part.node, &mut found)),
            DocumentKind::KnownFindings => drop(read_known(&part.node, &mut found)),
        }
        run.library.problems.append(&mut found.problems);
    }
    let (sources, problems) = run.finish();
    without_pans(sources, problems)
}

/// A review of documents that are no pans.
pub(crate) fn without_pans(sources: Sources, problems: Vec<Diagnostic>) -> Review {
    Review {
        sources,
        pans: Vec::new(),
        problems,
        rules: 0,
        book: BookUsed::default(),
        conceding: Conceding::default(),
        checklists: Vec::new(),
        screening: None,
    }
}

/// A project file read by the host's wish, with the texts that its spans point into.
#[derive(Debug)]
pub struct ProjectRead {
    /// The project, as far as it could be read.
    pub project: Option<Project>,
    /// Its text; problems point into it.
    pub read: Review,
}

/// Reads a project file; its patterns are for the host to expand, who may add to the problems.
pub fn read_project_file(files: &dyn Files, path: &str) -> ProjectRead {
    let mut run = Run::new(Request { files, pans: &[], rulebook: &[], drawn: false });
    let part = run.library.named_by_user(path);
    let mut found = Findings::default();
    let project = part.and_then(|part| read_project(&part.node, &mut found));
    run.library.problems.append(&mut found.problems);
    let (sources, problems) = run.finish();
    ProjectRead { project, read: without_pans(sources, problems) }
}

/// As [`open`], with a second rulebook: the pans are opened once.
pub(crate) fn open_with(request: Request<'_>, other: &[(String, String)]) -> (Opened, Rulebook) {
    let mut run = Run::new(request);
    let rulebook = run.rulebook(request.rulebook);
    let other = run.rulebook(other);
    (run.opened(rulebook, request.pans), other)
}

/// A pan and what it is held beside, read and checked.
#[derive(Debug)]
pub(crate) struct Beside {
    pub(crate) sources: Sources,
    pub(crate) problems: Vec<Diagnostic>,
    pub(crate) rulebook: Rulebook,
    /// The pan with its baselines, and each baseline as if it were used in its place; nothing where a document is
    /// at fault.
    pub(crate) sweeps: Option<(Sweep, Vec<Sweep>)>,
}

/// A pan as if its description said this of its baseline.
fn saying_of_baseline(part: &Part, text: &str) -> Part {
    let mut node = Node::clone(&part.node);
    let span = kind_key(&node);
    if let Value::Mapping(entries) = &mut node.value {
        entries.retain(|entry| entry.key.text != "baseline");
        let scalar = Scalar { text: text.to_owned(), span, verbatim_at: None, plain: true };
        let value = Node { span, defined: span, value: Value::Scalar(scalar) };
        entries.push(Entry { key: Key { text: "baseline".to_owned(), span }, value });
    }
    Part { node: Arc::new(node), ..part.clone() }
}

/// Reads a pan beside the baselines named, or beside its own where none is.
pub(crate) fn open_beside(
    files: &dyn Files,
    rulebook: &[(String, String)],
    pan: &str,
    baselines: &[String],
) -> Beside {
    let mut run = Run::new(Request { files, pans: &[], rulebook, drawn: false });
    let rulebook = run.rulebook(rulebook);
    let dossier = run.beside(pan, baselines);
    let sound = !has_error(&run.library.problems);
    let sweeps = dossier.filter(|_| sound).and_then(|dossier| {
        let own = Sweep::new(&dossier, &run.memo, read_all_beside)?;
        let first =
            |stated: &Situation| rulebook.rules.iter().for_each(|rule| read_first(rule, stated));
        let others = dossier.baselines.iter();
        let others = others.map(|part| Sweep::new(&dossier.of_baseline(part), &run.memo, first));
        Some((own, others.collect::<Option<Vec<_>>>()?))
    });
    let (sources, problems) = run.finish();
    Beside { sources, problems, rulebook, sweeps }
}

/// From so many pans for each thread on, a pan is judged by one thread alone.
const PANS_FOR_A_THREAD: usize = 16;

pub(super) struct Run<'a> {
    pub(super) library: Library<'a>,
    memo: Arc<Memo>,
}

impl<'a> Run<'a> {
    fn new(request: Request<'a>) -> Self {
        Self { library: Library::new(request.files), memo: Arc::default() }
    }

    /// A run that goes on from texts read before, with what was computed before.
    pub(super) fn over(library: Library<'a>, memo: Arc<Memo>) -> Self {
        Self { library, memo }
    }

    pub(super) fn rulebook(&mut self, texts: &[(String, String)]) -> Rulebook {
        assemble(&mut self.library, texts)
    }

    /// The dossiers, and whether each is sound enough to be judged.
    pub(super) fn dossiers(&mut self, paths: &[String]) -> Vec<(Dossier, bool)> {
        // Read in one order, whatever order they are named in: the order of reading shows in spans and lists.
        let mut paths: Vec<&String> = paths.iter().collect();
        paths.sort();
        let earlier = std::mem::take(&mut self.library.problems);
        let (mut read, mut files) = (Vec::new(), BTreeSet::new());
        for path in paths {
            let dossier = self.library.dossier(path);
            let problems = std::mem::take(&mut self.library.problems);
            read.push((dossier.filter(|dossier| files.insert(dossier.pan.file)), problems));
        }
        self.library.problems = earlier;
        let found = wrong_with_all(read.iter().map(|(dossier, _)| dossier.as_ref()), &self.memo);
        // Told in the order of the pans: what is wrong with one may be that of a document which later ones share.
        let mut dossiers = Vec::new();
        for ((dossier, problems), found) in read.into_iter().zip(found) {
            let before = self.library.problems.len();
            self.library.problems.extend(problems);
            self.tell(found);
            if let Some(dossier) = dossier {
                let sound = !self.troubled(&dossier, before);
                dossiers.push((dossier, sound));
            }
        }
        dossiers
    }

    /// Adds what is not known yet to the problems.
    fn tell(&mut self, found: Vec<Diagnostic>) {
        for problem in found {
            if !self.library.problems.contains(&problem) {
                self.library.problems.push(problem);
            }
        }
    }

    /// A pan with the baselines named in place of its own.
    fn beside(&mut self, pan: &str, baselines: &[String]) -> Option<Dossier> {
        let mut dossier = self.library.dossier(pan)?;
        if !baselines.is_empty() {
            dossier.baselines.clear();
        }
        for path in baselines {
            let other = self.library.dossier(path)?.pan;
            if other.file == dossier.pan.file {
                let message = "a pan cannot be compared with itself";
                let at = kind_key(&other.node);
                self.library.problems.push(Diagnostic::error(Code::CyclicReference, at, message));
            } else if dossier.baselines.iter().all(|known| known.file != other.file) {
                dossier.baselines.push(other);
            }
        }
        if let (Some(path), false) = (baselines.first(), dossier.baselines.is_empty()) {
            dossier.pan = saying_of_baseline(&dossier.pan, path);
        }
        for other in &mut dossier.baselines {
            // Whatever it is held against itself, here it is an original.
            *other = saying_of_baseline(other, "none");
        }
        if dossier.baselines.is_empty() && !has_error(&self.library.problems) {
            let message = "this pan names no baseline, and no other pan was named beside it";
            let at = kind_key(&dossier.pan.node);
            let help = "name one after it, or state `baseline` with the path of the original pan";
            self.library.problems.push(Diagnostic::error(Code::MissingKey, at, message).help(help));
        }
        let found = wrong_with_all(std::iter::once(Some(&dossier)), &self.memo);
        for found in found {
            self.tell(found);
        }
        Some(dossier)
    }

    /// Whether anything a dossier reads has an error, or an error arose while it was looked for.
    fn troubled(&self, dossier: &Dossier, before: usize) -> bool {
        let files: BTreeSet<FileId> = [&dossier.pan]
            .into_iter()
            .chain(dossier.vehicle.as_ref())
            .chain(dossier.oil.as_ref())
            .chain(dossier.duty.as_ref())
            .chain(&dossier.baselines)
            .map(|part: &Part| part.file)
            .collect();
        // A table of depths that several pans name is told of once.
        let without_rows = [&dossier.pan]
            .into_iter()
            .chain(&dossier.baselines)
            .flat_map(|part| part.attached.values())
            .any(|file| file.soundings.as_ref().is_some_and(|table| table.rows.is_empty()));
        without_rows
            || self
                .library
                .problems
                .iter()
                .filter(|p| p.is_error())
                .any(|p| files.contains(&p.primary.span.file))
            || self.library.problems.iter().skip(before).any(Diagnostic::is_error)
    }

    pub(super) fn judged(
        &self,
        dossiers: &[(Dossier, bool)],
        rulebook: &Rulebook,
        drawn: bool,
        then: impl Fn(&Rulebook, &Sources, &Sweep, &mut PanReview) + Sync,
    ) -> Vec<PanReview> {
        let sound: Vec<&Dossier> =
            dossiers.iter().filter(|(_, sound)| *sound).map(|(dossier, _)| dossier).collect();
        let baselines = Baselines::of(sound.iter().copied(), rulebook, &self.memo);
        // Where every thread has many pans to itself, none has to take part in the pan of another.
        let is_many = sound.len() >= PANS_FOR_A_THREAD * rayon::current_num_threads();
        let piece = if is_many { usize::MAX } else { 1 };
        sound
            .par_iter()
            .filter_map(|dossier| {
                let memo = Memo::within(&self.memo);
                let sweep = swept(dossier, rulebook, &memo, &baselines)?.in_pieces_of(piece);
                let mut pan = pan_review(dossier, &sweep, rulebook, drawn);
                then(rulebook, &self.library.sources, &sweep, &mut pan);
                Some(pan)
            })
            .collect()
    }

    fn opened(mut self, rulebook: Rulebook, paths: &[String]) -> Opened {
        let dossiers = self.dossiers(paths);
        let mut pans: Vec<OpenedPan> = dossiers
            .iter()
            .filter(|(_, sound)| *sound)
            .filter_map(|(dossier, _)| {
                let sweep = Sweep::new(dossier, &self.memo, |_| {})?;
                Some(OpenedPan {
                    path: dossier.pan.path.clone(),
                    title: sweep.title(),
                    baselines: dossier.baselines.iter().map(|b| b.path.clone()).collect(),
                    sweep,
                })
            })
            .collect();
        pans.sort_by(|a, b| a.path.cmp(&b.path));
        let (sources, problems) = self.finish();
        Opened { sources, problems, rulebook, pans }
    }

    pub(super) fn finish(self) -> (Sources, Vec<Diagnostic>) {
        let mut problems = self.library.problems;
        problems.sort_by(|a, b| {
            (a.primary.span, a.code, &a.message).cmp(&(b.primary.span, b.code, &b.message))
        });
        problems.dedup();
        (self.library.sources, problems)
    }
}

/// What is wrong with dossiers and with their baselines, each of which is looked at once.
fn wrong_with_all<'d>(
    dossiers: impl Iterator<Item = Option<&'d Dossier>>,
    run: &Arc<Memo>,
) -> Vec<Vec<Diagnostic>> {
    let mut known = BTreeSet::new();
    let mut asked = |dossier: &Dossier| {
        let mut asked = vec![(dossier.clone(), "")];
        for part in &dossier.baselines {
            if known.insert(texts(dossier, part)) {
                asked.push((dossier.of_baseline(part), "baseline."));
            }
        }
        asked
    };
    let asked: Vec<_> =
        dossiers.map(|dossier| dossier.map(&mut asked).unwrap_or_default()).collect();
    let all = |asked: &Vec<(Dossier, &str)>| {
        asked.iter().flat_map(|(dossier, prefix)| wrong_with(dossier, prefix, run)).collect()
    };
    asked.par_iter().map(all).collect()
}

/// Reads a dossier for what is wrong with it.
fn wrong_with(dossier: &Dossier, prefix: &str, run: &Arc<Memo>) -> Vec<Diagnostic> {
    let mut found = Findings::default();
    let scene = read_scene(dossier, &[], prefix, None, &Memo::within(run), &mut found);
    if let Some(scene) = scene
        && !has_error(&found.problems)
    {
        found.problems.extend(contained(&scene));
    }
    found.problems
}

fn swept(
    dossier: &Dossier,
    rulebook: &Rulebook,
    memo: &Arc<Memo>,
    baselines: &Baselines,
) -> Option<Sweep> {
    let first =
        |stated: &Situation| rulebook.rules.iter().for_each(|rule| read_first(rule, stated));
    Sweep::beside(dossier, memo, baselines, first)
}

fn pan_review(dossier: &Dossier, sweep: &Sweep, rulebook: &Rulebook, drawn: bool) -> PanReview {
    let rules = rulebook.rules.par_iter().with_min_len(sweep.piece());
    let findings = rules.flat_map_iter(|rule| judge(rule, sweep)).collect();
    PanReview {
        path: dossier.pan.path.clone(),
        title: sweep.title(),
        baselines: dossier.baselines.iter().map(|b| b.path.clone()).collect(),
        findings,
        inputs: inputs_used(sweep),
        notes: sweep.nominal.own.scene().map_or_else(|_| Vec::new(), notes),
        figures: drawings(sweep, drawn),
        coverage: drawn.then(|| coverage_map(sweep)),
    }
}

fn drawings(sweep: &Sweep, drawn: bool) -> Vec<Figure> {
    match sweep.nominal.own.scene() {
        Ok(scene) if drawn => figures(scene),
        _ => Vec::new(),
    }
}

fn pan_measured(
    dossier: &Dossier,
    memo: &Arc<Memo>,
    drawn: bool,
    map: impl Fn(&Sweep) -> Map,
) -> Option<PanMeasured> {
    let sweep = Sweep::new(dossier, memo, read_all)?;
    let measures = MEASURES.par_iter().flat_map_iter(|spec| readings(spec, &sweep)).collect();
    Some(PanMeasured {
        path: dossier.pan.path.clone(),
        title: sweep.title(),
        measures,
        inputs: inputs_used(&sweep),
        notes: sweep.nominal.own.scene().map_or_else(|_| Vec::new(), notes),
        coverage: map(&sweep).or_else(|| drawn.then(|| coverage_map(&sweep))),
        figures: drawings(&sweep, drawn),
    })
}

/// Reads every measure on every object.
fn read_all(stated: &Situation) {
    read_all_of(&stated.own);
}

/// The same, of the baselines too.
fn read_all_beside(stated: &Situation) {
    std::iter::once(&stated.own).chain(&stated.baselines).for_each(|seen| read_all_of(seen));
}

fn read_all_of(seen: &Seen) {
    for spec in MEASURES {
        let objects = seen.objects(spec.kind).map_or(0, |objects| objects.len());
        for object in 0..objects {
            let _ = seen.outcome(spec, object);
        }
    }
}

fn inputs_used(sweep: &Sweep) -> Vec<InputUsed> {
    sweep
        .inputs
        .iter()
        .map(|input| InputUsed {
            path: input.path.clone(),
            span: input.span,
            value: input.value,
            u: input.u,
            unit: input.unit.clone(),
            assumed: input.assumed,
            how_to_get: input.how_to_get,
        })
        .collect()
}

/// A measure on every object it is read for; one entry without an object where the family is left out.
pub(crate) fn readings(spec: &'static Spec, sweep: &Sweep) -> Vec<MeasureReading> {
    let blank = |object: Option<String>| MeasureReading {
        spec,
        object,
        reading: Err(Unknown::because("")),
        subject: None,
        contributions: Vec::new(),
        worst: None,
        states: Vec::new(),
        notes: Vec::new(),
    };
    let objects = match sweep.nominal.objects(spec.kind) {
        Ok(objects) => objects,
        Err(unknown) => return vec![MeasureReading { reading: Err(unknown), ..blank(None) }],
    };
    objects
        .into_iter()
        .enumerate()
        .map(|(index, name)| {
            let object =
                (spec.kind != ObjectKind::Pan).then(|| format!("{}.{name}", spec.kind.family()));
            let mut entry = blank(object);
            if let Ok(sample) = sweep.nominal.own.outcome(spec, index).as_ref() {
                entry.subject = Some(sample.subject);
                entry.worst.clone_from(&sample.worst);
                entry.states.clone_from(&sample.states);
                entry.notes.clone_from(&sample.notes);
            }
            match sweep.propagate(|situation| situation.reading(spec, index)) {
                Ok((reading, contributions)) => {
                    entry.reading = Ok(reading);
                    entry.contributions = contributions;
                }
                Err(unknown) => entry.reading = Err(unknown),
            }
            entry
        })
        .collect()
}
