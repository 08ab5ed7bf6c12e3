//! A pan and its baselines at one set of values, as formulas and conditions ask for them.

use super::documents::{kind_key, read_scene};
use crate::document::dossier::Dossier;
use crate::document::reader::{Findings, Shift};
use crate::document::watched::Parts;
use crate::document::{DocumentKind, field};
use crate::measure::{Bounds, ObjectKind, Outcome, Spec, Unknown};
use crate::model::{Looked, Scene};
use crate::quantity::{Given, Missing};
use crate::rule::{Scope, Truth};
use crate::source::{Node, Span, Value};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// One pan with everything that was read of it so far.
#[derive(Debug)]
pub(crate) struct Seen {
    held: Held,
    dossier: Dossier,
    outcomes: Mutex<BTreeMap<Asked, (Arc<Outcome>, Looked)>>,
    /// Whether it is written down what a measure looks at; only while nobody else looks at the scene.
    watching: AtomicBool,
    /// The same with one value moved, by its place and the bits of the step, where several pans may ask for it.
    shared: Mutex<BTreeMap<(Span, u64), Arc<Self>>>,
}

/// A measure and an object.
type Asked = (&'static str, usize);

#[derive(Debug)]
enum Held {
    /// At the stated values, with the parts of the documents in which each value is read.
    Stated { scene: Box<Scene>, stands: BTreeMap<Span, Looked> },
    /// With one value moved; the documents are read again only when somebody looks at a part that it stands in.
    Moved { stated: Arc<Seen>, parts: Looked, shift: Shift, scene: OnceLock<Option<Box<Scene>>> },
}

/// A pan and its baselines.
#[derive(Debug, Clone)]
pub(crate) struct Situation {
    pub(crate) own: Arc<Seen>,
    pub(crate) baselines: Vec<Arc<Seen>>,
}

impl Situation {
    /// The same with one value moved; what does not read it is shared.
    pub(super) fn moved(&self, shift: Shift) -> Self {
        let own = match self.own.parts_of(shift.at) {
            Some(parts) => Arc::new(Seen::moved(&self.own, parts, shift)),
            None => Arc::clone(&self.own),
        };
        let moved = |stated: &Arc<Seen>| match stated.parts_of(shift.at) {
            Some(parts) => stated.moved_once(parts, shift),
            None => Arc::clone(stated),
        };
        Self { own, baselines: self.baselines.iter().map(moved).collect() }
    }

    /// Reads what is asked for with note of what every measure looks at, of the pan and of `baselines` too where
    /// these are its own; nobody else may look at them meanwhile.
    pub(super) fn watched(&self, baselines: bool, read: impl FnOnce(&Self)) {
        let baselines = self.baselines.iter().filter(|_| baselines);
        let all = || std::iter::once(&self.own).chain(baselines.clone());
        all().for_each(|seen| seen.watching.store(true, Ordering::Relaxed));
        read(self);
        all().for_each(|seen| seen.watching.store(false, Ordering::Relaxed));
    }
}

impl Seen {
    pub(super) fn new(
        scene: Scene,
        dossier: Dossier,
        stands: Vec<(Span, DocumentKind, Parts)>,
    ) -> Self {
        let mut by_place: BTreeMap<Span, Looked> = BTreeMap::new();
        for (span, document, parts) in stands {
            let known = by_place.entry(span).or_default();
            *known = known.with(&Looked::of(document, parts));
        }
        Self::of(Held::Stated { scene: Box::new(scene), stands: by_place }, dossier)
    }

    fn moved(stated: &Arc<Self>, parts: Looked, shift: Shift) -> Self {
        let (stated, scene) = (Arc::clone(stated), OnceLock::new());
        let dossier = stated.dossier.clone();
        Self::of(Held::Moved { stated, parts, shift, scene }, dossier)
    }

    fn of(held: Held, dossier: Dossier) -> Self {
        let watching = AtomicBool::new(false);
        Self { held, dossier, outcomes: Mutex::default(), watching, shared: Mutex::default() }
    }

    /// As [`Seen::moved`], made once for all who ask.
    fn moved_once(self: &Arc<Self>, parts: Looked, shift: Shift) -> Arc<Self> {
        let mut shared = self.shared.lock().unwrap_or_else(PoisonError::into_inner);
        let key = (shift.at, shift.by.to_bits());
        Arc::clone(shared.entry(key).or_insert_with(|| Arc::new(Self::moved(self, parts, shift))))
    }

    /// Reads what is asked for with note of what every measure looks at; nobody else may look at it meanwhile.
    pub(super) fn watched(&self, read: impl FnOnce(&Self)) {
        self.watching.store(true, Ordering::Relaxed);
        read(self);
        self.watching.store(false, Ordering::Relaxed);
    }

    /// The parts in which the value at a place is read; nothing where none is.
    fn parts_of(&self, place: Span) -> Option<Looked> {
        match &self.held {
            Held::Stated { stands, .. } => stands.get(&place).copied(),
            Held::Moved { stated, .. } => stated.parts_of(place),
        }
    }

    /// The scene.
    ///
    /// # Errors
    /// The documents cannot be read with the value that is moved.
    pub(crate) fn scene(&self) -> Result<&Scene, Unknown> {
        match &self.held {
            Held::Stated { scene, .. } => Ok(scene),
            Held::Moved { stated, shift, scene, parts } => scene
                .get_or_init(|| {
                    let like = stated.scene().ok()?;
                    let aside = &mut Findings::default();
                    let before = Some((like, *parts));
                    let scene = read_scene(&self.dossier, &[*shift], "", before, &like.memo, aside);
                    scene.map(Box::new)
                })
                .as_deref()
                .ok_or_else(|| Unknown::because("the documents cannot be read there")),
        }
    }

    /// What a measure says, read once. Made outside the lock: the same twice costs time and changes nothing.
    pub(crate) fn outcome(&self, measure: &'static Spec, object: usize) -> Arc<Outcome> {
        let key = (measure.name, object);
        if let Some((found, _)) = self.kept(&key) {
            return found;
        }
        let (made, looked) = match self.unmoved(&key) {
            Some(same) => (same, Looked::ALL),
            None => self.read(measure, object),
        };
        let mut outcomes = self.outcomes.lock().unwrap_or_else(PoisonError::into_inner);
        Arc::clone(&outcomes.entry(key).or_insert((made, looked)).0)
    }

    fn read(&self, measure: &'static Spec, object: usize) -> (Arc<Outcome>, Looked) {
        let scene = match self.scene() {
            Ok(scene) => scene,
            Err(unknown) => return (Arc::new(Err(unknown)), Looked::ALL),
        };
        let watched = self.watching.load(Ordering::Relaxed);
        if watched {
            let _ = scene.take_looked();
        }
        let made = Arc::new((measure.read)(scene, object));
        (made, if watched { scene.take_looked() } else { Looked::ALL })
    }

    /// What was read before, and what was looked at for it.
    fn kept(&self, key: &Asked) -> Option<(Arc<Outcome>, Looked)> {
        self.outcomes.lock().unwrap_or_else(PoisonError::into_inner).get(key).cloned()
    }

    /// What was read at the stated values, where it looked at nothing that is moved here.
    fn unmoved(&self, key: &Asked) -> Option<Arc<Outcome>> {
        let Held::Moved { stated, parts, .. } = &self.held else { return None };
        let (outcome, looked) = stated.kept(key)?;
        (!looked.meets(parts)).then_some(outcome)
    }

    fn names(&self, kind: ObjectKind) -> Result<Vec<String>, Unknown> {
        fn of<T>(given: &Given<crate::document::Named<T>>) -> Result<Vec<String>, Unknown> {
            match given {
                Given::Stated(named) => {
                    Ok(named.entries.iter().map(|item| item.name.clone()).collect())
                }
                Given::Absent(_) => Ok(Vec::new()),
                Given::LeftOut(missing) => Err(Unknown::not_stated(missing.clone())),
            }
        }
        let stated = match &self.held {
            Held::Stated { scene, .. } => scene,
            Held::Moved { stated, .. } => return stated.names(kind),
        };
        let pan = &stated.pan;
        match kind {
            ObjectKind::Pan => Ok(vec![String::new()]),
            ObjectKind::Drain => of(&pan.drains),
            ObjectKind::Baffle => of(&pan.baffles),
            ObjectKind::FinSet => of(&pan.fins),
            ObjectKind::Neighbour => match stated.vehicle.as_ref() {
                Given::Stated(vehicle) => of(&vehicle.neighbours),
                Given::Absent(_) => Ok(Vec::new()),
                Given::LeftOut(missing) => Err(Unknown::not_stated(missing.clone())),
            },
        }
    }

    /// The node at a document path: found, or the path of the first step that is not there.
    fn find(&self, path: &str) -> Found<'_> {
        let (document, part, rest) = self.document_of(path);
        let key = match document {
            DocumentKind::Pan => return step(&self.dossier.pan.node, rest, ""),
            kind => kind.key(),
        };
        match part {
            Some(part) if rest.is_empty() => Found::Node(&part.node),
            Some(part) => step(&part.node, rest, &format!("{key}.")),
            None => step(&self.dossier.pan.node, key, ""),
        }
    }

    /// Its path as shown.
    pub(crate) fn path(&self) -> &str {
        &self.dossier.pan.path
    }

    /// Where the value at a document path stands; nothing where none does.
    pub(crate) fn stands(&self, path: &str) -> Option<Span> {
        match self.find(path) {
            Found::Node(node) => Some(node.span),
            Found::Absent | Found::Missing { .. } => None,
        }
    }

    /// The document path of the value that stands at a place.
    pub(crate) fn path_at(&self, span: Span) -> Option<String> {
        let dossier = &self.dossier;
        let parts = [
            ("", Some(&dossier.pan)),
            ("vehicle.", dossier.vehicle.as_ref()),
            ("oil.", dossier.oil.as_ref()),
            ("duty.", dossier.duty.as_ref()),
        ];
        let mut parts = parts.into_iter().filter_map(|(prefix, part)| Some((prefix, part?)));
        parts.find_map(|(prefix, part)| {
            let path = path_within(&part.node, span)?;
            Some(format!("{prefix}{}", path.trim_start_matches('.')))
        })
    }

    fn document_of<'p>(
        &self,
        path: &'p str,
    ) -> (DocumentKind, Option<&crate::document::dossier::Part>, &'p str) {
        let (first, rest) = path.split_once('.').unwrap_or((path, ""));
        match first {
            "vehicle" => (DocumentKind::Vehicle, self.dossier.vehicle.as_ref(), rest),
            "oil" => (DocumentKind::Oil, self.dossier.oil.as_ref(), rest),
            "duty" => (DocumentKind::Duty, self.dossier.duty.as_ref(), rest),
            _ => (DocumentKind::Pan, None, path),
        }
    }

    fn missing(&self, path: &str, at: String, within: Option<&Node>) -> Truth {
        let (document, _, rest) = self.document_of(path);
        if field::field(document, rest).is_some_and(|f| f.optional) {
            return Truth::False;
        }
        let within = within.map_or_else(|| kind_key(&self.dossier.pan.node), kind_key);
        Truth::Unknown(Unknown::not_stated(Missing { path: at, within }))
    }
}

/// The way from a node to the one at a place, each step with a dot before it.
fn path_within(node: &Node, span: Span) -> Option<String> {
    if node.span == span {
        return Some(String::new());
    }
    match &node.value {
        Value::Mapping(entries) => entries.iter().find_map(|entry| {
            Some(format!(".{}{}", entry.key.text, path_within(&entry.value, span)?))
        }),
        Value::Sequence(items) => items
            .iter()
            .enumerate()
            .find_map(|(place, item)| Some(format!(".{place}{}", path_within(item, span)?))),
        Value::Null | Value::Scalar(_) => None,
    }
}

enum Found<'a> {
    Node(&'a Node),
    Absent,
    Missing { path: String, within: Option<&'a Node> },
}

fn step<'a>(node: &'a Node, path: &str, prefix: &str) -> Found<'a> {
    let mut here = node;
    let mut walked = String::from(prefix);
    for word in path.split('.') {
        if here.is_none_word() {
            return Found::Absent;
        }
        walked.push_str(word);
        match here.get(word) {
            Some(next) => here = next,
            None => return Found::Missing { path: walked, within: Some(here) },
        }
        walked.push('.');
    }
    Found::Node(here)
}

impl Scope for Seen {
    fn reading(&self, measure: &'static Spec, object: usize) -> Result<Bounds, Unknown> {
        match self.outcome(measure, object).as_ref() {
            Ok(sample) => Ok(sample.bounds),
            Err(unknown) => Err(unknown.clone()),
        }
    }

    fn objects(&self, kind: ObjectKind) -> Result<Vec<String>, Unknown> {
        self.names(kind)
    }

    fn baselines(&self) -> Vec<&dyn Scope> {
        Vec::new()
    }

    fn given(&self, path: &str) -> Truth {
        match self.find(path) {
            Found::Node(node) if node.is_none_word() => Truth::False,
            Found::Node(Node { value: Value::Null, .. }) | Found::Absent => Truth::False,
            Found::Node(_) => Truth::True,
            Found::Missing { path: at, within } => self.missing(path, at, within),
        }
    }

    fn word(&self, path: &str) -> Result<Option<String>, Missing> {
        match self.find(path) {
            Found::Node(node) => Ok(node.scalar().map(|s| s.text.clone())),
            Found::Absent => Ok(None),
            Found::Missing { path, within } => {
                let within = within.map_or_else(|| kind_key(&self.dossier.pan.node), kind_key);
                Err(Missing { path, within })
            }
        }
    }
}

impl Scope for Situation {
    fn reading(&self, measure: &'static Spec, object: usize) -> Result<Bounds, Unknown> {
        self.own.reading(measure, object)
    }

    fn objects(&self, kind: ObjectKind) -> Result<Vec<String>, Unknown> {
        self.own.objects(kind)
    }

    fn baselines(&self) -> Vec<&dyn Scope> {
        self.baselines.iter().map(|seen| seen.as_ref() as &dyn Scope).collect()
    }

    fn given(&self, path: &str) -> Truth {
        self.own.given(path)
    }

    fn word(&self, path: &str) -> Result<Option<String>, Missing> {
        self.own.word(path)
    }
}
