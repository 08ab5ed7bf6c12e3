//! A cursor over one mapping: it hands out values by key, remembers which keys were asked for, and at
//! the end reports those that nobody knows.

use super::instrument::Instrument;
use super::message::{
    cut_off, either, empty, listed, lower_first, no_name, nothing_said, wrong_shape,
};
use super::{Findings, ReadOptions};
use crate::document::DocumentKind;
use crate::document::field::{Field, field, fields};
use crate::document::watched::{Notebook, Parts, Watched};
use crate::quantity::{Given, Missing};
use crate::source::{Code, Diagnostic, Entry, Node, Span, Value, nearest};
use std::collections::{BTreeMap, BTreeSet};

/// What all readers of one document share.
pub(super) struct Context<'a> {
    pub(super) document: DocumentKind,
    pub(super) options: ReadOptions<'a>,
    /// By name.
    pub(super) instruments: BTreeMap<String, Instrument>,
    /// Where the inputs of this document stand.
    pub(super) seen: BTreeSet<Span>,
    pub(super) notebook: Notebook,
    pub(super) out: &'a mut Findings,
}

impl<'a> Context<'a> {
    pub(super) fn new(
        document: DocumentKind,
        options: ReadOptions<'a>,
        out: &'a mut Findings,
    ) -> Self {
        Self {
            document,
            options,
            instruments: BTreeMap::new(),
            seen: BTreeSet::new(),
            notebook: Notebook::default(),
            out,
        }
    }

    pub(super) fn report(&mut self, problem: Diagnostic) {
        self.out.problems.push(problem);
    }

    /// What the shifts of this reading move a value by. At the stated values it is noted where it stands.
    pub(super) fn shift(&mut self, at: Span, path: &str) -> f64 {
        if self.options.shifts.is_empty() {
            self.out.stands.push((at, self.document, Parts::of(self.document, path)));
            return 0.0;
        }
        // A sum of nothing is a negative zero.
        let by: f64 = self.options.shifts.iter().filter(|s| s.at == at).map(|s| s.by).sum();
        0.0 + by
    }

    /// Ranges and geometry are judged at the stated values only: a value that an uncertainty step
    /// moved beyond its range says nothing against the document.
    pub(super) fn checks(&self) -> bool {
        self.options.shifts.is_empty()
    }

    pub(super) fn field(&self, path: &str) -> Option<&'static Field> {
        field(self.document, path)
    }
}

/// A value, its dotted path in the document, what messages call it, and the key it stands under.
pub(super) struct Spot<'n> {
    pub(super) node: &'n Node,
    pub(super) path: String,
    pub(super) name: String,
    pub(super) key: Span,
}

/// What stands under a key.
pub(super) enum Found<'n> {
    LeftOut,
    /// Something that was already reported.
    Unusable,
    Absent(Span),
    Here(Spot<'n>),
}

/// Why a cursor walks over nothing, if it does.
#[derive(Clone, Copy)]
enum Standing {
    Here,
    LeftOut,
    Absent(Span),
    Unusable,
}

/// A cursor over one mapping.
pub(super) struct Cursor<'c, 'o> {
    pub(super) context: &'c mut Context<'o>,
    /// The whole mapping.
    pub(super) span: Span,
    /// The key it stands under; for a document, the key of its kind.
    pub(super) key: Span,
    within: Span,
    path: String,
    name: String,
    entries: &'c [Entry],
    asked: Vec<&'static str>,
    standing: Standing,
}

impl<'c, 'o> Cursor<'c, 'o> {
    /// Over a whole document, whose kind key has been looked at.
    pub(super) fn document(
        context: &'c mut Context<'o>,
        node: &'c Node,
        entries: &'c [Entry],
        key: Span,
    ) -> Self {
        let kind = context.document.key();
        Self {
            context,
            span: node.span,
            key,
            within: key,
            path: String::new(),
            name: kind.to_owned(),
            entries,
            asked: vec![kind],
            standing: Standing::Here,
        }
    }

    /// Over the mapping at a spot; reports anything else, and an empty one.
    pub(super) fn open(context: &'c mut Context<'o>, spot: &'c Spot<'_>) -> Option<Self> {
        let entries = entries(context, spot)?;
        Some(Self {
            context,
            span: spot.node.span,
            key: spot.key,
            within: spot.node.span,
            path: spot.path.clone(),
            name: spot.name.clone(),
            entries,
            asked: Vec::new(),
            standing: Standing::Here,
        })
    }

    /// What stands under a key. The key counts as known from now on.
    pub(super) fn find(&mut self, key: &'static str) -> Found<'c> {
        let path = self.join(key);
        debug_assert!(self.context.field(&path).is_some(), "a key without a row: {path}");
        if !self.asked.contains(&key) {
            self.asked.push(key);
        }
        match self.standing {
            Standing::Here => {}
            Standing::LeftOut => return Found::LeftOut,
            Standing::Absent(span) => return Found::Absent(span),
            Standing::Unusable => return Found::Unusable,
        }
        let Some(entry) = self.entries.iter().find(|e| e.key.text == key) else {
            return Found::LeftOut;
        };
        if matches!(entry.value.value, Value::Null) {
            self.context.report(nothing_said(&entry.key.text, entry.key.span));
            return Found::Unusable;
        }
        if entry.value.is_none_word() {
            return Found::Absent(entry.value.defined);
        }
        let name = key.to_owned();
        Found::Here(Spot { node: &entry.value, path, name, key: entry.key.span })
    }

    /// A value that may be stated, `none`, or left out.
    pub(super) fn given<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Context<'_>, &Spot<'_>) -> Option<T>,
    ) -> Given<T> {
        match self.find(key) {
            Found::Absent(span) => Given::Absent(span),
            Found::LeftOut | Found::Unusable => self.left_out(key),
            Found::Here(spot) => match read(self.context, &spot) {
                Some(value) => Given::Stated(value),
                None => Given::LeftOut(self.missing(key)),
            },
        }
    }

    /// As [`Cursor::given`], as a part of the document.
    pub(super) fn part<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Context<'_>, &Spot<'_>) -> Option<T>,
    ) -> Watched<Given<T>> {
        let value = self.given(key, read);
        self.watched(key, value)
    }

    /// As [`Cursor::part`], where the part was read before: nothing of it is read again unless something is moved there.
    pub(super) fn part_like<T>(
        &mut self,
        key: &'static str,
        like: Option<&Watched<Given<T>>>,
        read: impl FnOnce(&mut Context<'_>, &Spot<'_>) -> Option<T>,
    ) -> Watched<Given<T>> {
        match like.filter(|_| self.is_still(key)) {
            Some(like) => like.kept(&self.context.notebook),
            None => self.part(key, read),
        }
    }

    /// Whether nothing is moved under a key at the top, which counts as known then.
    pub(super) fn is_still(&mut self, key: &'static str) -> bool {
        let moved = self.context.options.moved;
        let still = !Parts::under(self.context.document, key).meets(moved);
        if still {
            self.asked.push(key);
        }
        still
    }

    /// A value that was read as the part of the document under a key.
    pub(super) fn watched<T>(&self, key: &'static str, value: T) -> Watched<T> {
        let part = Parts::of(self.context.document, &self.join(key));
        Watched::new(value, part, &self.context.notebook)
    }

    /// Where the document notes which of its parts are looked at.
    pub(super) fn notebook(&self) -> Notebook {
        self.context.notebook.clone()
    }

    /// What a key that is not there counts as: `none` where the table marks it optional.
    pub(super) fn left_out<T>(&self, key: &'static str) -> Given<T> {
        match self.context.field(&self.join(key)) {
            Some(row) if row.optional => Given::Absent(self.within),
            _ => Given::LeftOut(self.missing(key)),
        }
    }

    /// A value without which the thing cannot be understood.
    pub(super) fn required<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Context<'_>, &Spot<'_>) -> Option<T>,
    ) -> Option<T> {
        match self.find(key) {
            Found::Here(spot) => read(self.context, &spot),
            Found::Unusable => None,
            Found::LeftOut => {
                self.report_missing(&[key]);
                None
            }
            Found::Absent(span) => {
                let message = format!("`{key}` of `{}` cannot be `none`", self.name);
                let help = self.how_to_get(key);
                self.context.report(Diagnostic::error(Code::WrongShape, span, message).help(help));
                None
            }
        }
    }

    /// A value that has a plain meaning when left out.
    pub(super) fn optional<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Context<'_>, &Spot<'_>) -> Option<T>,
    ) -> Option<T> {
        match self.find(key) {
            Found::Here(spot) => read(self.context, &spot),
            _ => None,
        }
    }

    /// A mapping whose values belong to the thing around it: they are left out, or none, with it.
    pub(super) fn group<T>(
        &mut self,
        key: &'static str,
        read: impl FnOnce(&mut Cursor<'_, '_>) -> T,
    ) -> T {
        let path = self.join(key);
        let found = self.find(key);
        let (mut span, mut at_key, mut entries_here): (_, _, &[Entry]) = (self.span, self.key, &[]);
        let mut within = self.within;
        let standing = match &found {
            Found::LeftOut => Standing::LeftOut,
            Found::Unusable => Standing::Unusable,
            Found::Absent(at) => Standing::Absent(*at),
            Found::Here(spot) => match entries(self.context, spot) {
                None => Standing::Unusable,
                Some(list) => {
                    (span, at_key, entries_here) = (spot.node.span, spot.key, list);
                    within = spot.node.span;
                    Standing::Here
                }
            },
        };
        let mut inner = Cursor {
            context: &mut *self.context,
            span,
            key: at_key,
            within,
            path,
            name: key.to_owned(),
            entries: entries_here,
            asked: Vec::new(),
            standing,
        };
        let value = read(&mut inner);
        inner.finish();
        value
    }

    /// Whether exactly one of the keys is there; reports none of them, and a second.
    pub(super) fn one_of_keys(&mut self, keys: &[&'static str]) -> bool {
        let mut there = self
            .entries
            .iter()
            .filter(|e| keys.contains(&e.key.text.as_str()) && !e.value.is_none_word());
        let (first, second) = (there.next(), there.next());
        if first.is_none() {
            self.report_missing(keys);
        }
        if let (Some(first), Some(second)) = (first, second) {
            let help = format!("keep one of {}", listed(keys));
            self.exclude(&first.key.text, &second.key.text, &help);
        }
        first.is_some() && second.is_none()
    }

    /// Two keys of which only one may stand; the one written later is reported.
    pub(super) fn exclude(&mut self, one: &str, other: &str, help: &str) {
        let (Some(first), Some(second)) = (self.key_span(one), self.key_span(other)) else {
            return;
        };
        let (first, second) = if first < second { (first, second) } else { (second, first) };
        let message = format!("`{one}` and `{other}` exclude each other in `{}`", self.name);
        let problem = Diagnostic::error(Code::Contradiction, second, message)
            .labelled("this as well")
            .also(first, "stated already")
            .help(help);
        self.context.report(problem);
    }

    /// Where a key stands, if it does and is not said to be none.
    pub(super) fn key_span(&self, key: &str) -> Option<Span> {
        let entry = self.entries.iter().find(|e| e.key.text == key && !e.value.is_none_word());
        entry.map(|e| e.key.span)
    }

    /// What messages call this mapping.
    pub(super) fn name(&self) -> &str {
        &self.name
    }

    /// Reports every key that nobody asked for.
    pub(super) fn finish(self) {
        for entry in self.entries {
            let key = &entry.key;
            if self.asked.contains(&key.text.as_str()) {
                continue;
            }
            let message = format!("`{}` is not a key of `{}`", key.text, self.name);
            let help = if let Some(cut) = cut_off(&key.text) {
                cut.to_owned()
            } else if let Some(near) = nearest(&key.text, self.asked.iter().copied()) {
                format!("did you mean `{near}`?")
            } else {
                self.belongs_elsewhere(&key.text)
            };
            let problem = Diagnostic::error(Code::UnknownKey, key.span, message).help(help);
            self.context.report(problem);
        }
    }

    /// What to say of a key that is like none of those known here.
    fn belongs_elsewhere(&self, key: &str) -> String {
        let known = format!("its keys are {}", listed(&self.asked));
        let home = fields(self.context.document)
            .iter()
            .find_map(|row| row.path.rsplit_once('.').filter(|(_, last)| *last == key));
        match home {
            Some((home, _)) => format!("`{key}` stands under `{home}`; here {known}"),
            None => known,
        }
    }

    /// What a reader would have to add.
    pub(super) fn missing(&self, key: &str) -> Missing {
        let path = format!("{}{}", self.context.options.prefix, self.join(key));
        Missing { path, within: self.within }
    }

    fn report_missing(&mut self, keys: &[&'static str]) {
        let message = format!("`{}` lacks {}", self.name, either(keys));
        let help = match keys {
            [key] => self.how_to_get(key),
            _ => String::new(),
        };
        let mut problem = Diagnostic::error(Code::MissingKey, self.key, message);
        if !help.is_empty() {
            problem = problem.help(help);
        }
        self.context.report(problem);
    }

    /// How a person gets what stands under a key.
    fn how_to_get(&self, key: &str) -> String {
        let row = self.context.field(&self.join(key));
        row.map(|row| format!("add `{key}`: {}", lower_first(row.how_to_get))).unwrap_or_default()
    }

    /// The dotted path of a key.
    pub(super) fn path_of(&self, key: &str) -> String {
        self.join(key)
    }

    fn join(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }
}

/// As [`mapping`], for a thing of which every key may be left out.
pub(super) fn keys<T>(
    read: impl FnOnce(&mut Cursor<'_, '_>) -> T,
) -> impl FnOnce(&mut Context<'_>, &Spot<'_>) -> Option<T> {
    mapping(|cursor| Some(read(cursor)))
}

/// Turns a reader of a mapping's keys into a reader of a spot; no key goes by unnoticed.
pub(super) fn mapping<T>(
    read: impl FnOnce(&mut Cursor<'_, '_>) -> Option<T>,
) -> impl FnOnce(&mut Context<'_>, &Spot<'_>) -> Option<T> {
    move |context, spot| {
        let mut cursor = Cursor::open(context, spot)?;
        let value = read(&mut cursor);
        cursor.finish();
        value
    }
}

/// The entries of the mapping at a spot; reports anything else, and an empty one.
pub(super) fn entries<'n>(context: &mut Context<'_>, spot: &Spot<'n>) -> Option<&'n [Entry]> {
    match &spot.node.value {
        Value::Mapping(entries) if !entries.is_empty() => {
            if let Some(nameless) = entries.iter().find(|entry| entry.key.text.is_empty()) {
                context.report(no_name(spot, nameless.key.span));
                return None;
            }
            Some(entries)
        }
        Value::Mapping(_) => {
            context.report(empty(spot));
            None
        }
        _ => {
            context.report(wrong_shape(spot, "a mapping"));
            None
        }
    }
}
