//! A pan that is nothing but its readings.

use crate::measure::{Bounds, ObjectKind, Spec, Unknown};
use crate::quantity::Missing;
use crate::rule::{Scope, Truth};
use crate::source::{FileId, Span};
use std::collections::BTreeMap;

#[derive(Debug, Clone, Default)]
pub(super) struct World {
    readings: BTreeMap<(&'static str, usize), Bounds>,
    objects: BTreeMap<ObjectKind, Vec<String>>,
    baselines: Vec<World>,
    truths: BTreeMap<String, Truth>,
    words: BTreeMap<String, String>,
}

impl World {
    pub(super) fn with(self, measure: &'static str, value: f64) -> Self {
        self.between(measure, 0, value, value)
    }

    pub(super) fn between(mut self, measure: &'static str, at: usize, low: f64, high: f64) -> Self {
        self.readings.insert((measure, at), Bounds { low, high });
        self
    }

    /// Objects of a kind, each with its value of one measure, if it can be read.
    pub(super) fn objects(
        mut self,
        kind: ObjectKind,
        measure: &'static str,
        each: &[(&str, Option<f64>)],
    ) -> Self {
        let names = each.iter().map(|(name, _)| (*name).to_owned()).collect();
        self.objects.insert(kind, names);
        for (at, (_, value)) in each.iter().enumerate() {
            if let Some(value) = value {
                self.readings.insert((measure, at), Bounds::exactly(*value));
            }
        }
        self
    }

    pub(super) fn baseline(mut self, baseline: World) -> Self {
        self.baselines.push(baseline);
        self
    }

    pub(super) fn given(mut self, path: &str, truth: Truth) -> Self {
        self.truths.insert(path.to_owned(), truth);
        self
    }

    pub(super) fn word(mut self, path: &str, word: &str) -> Self {
        self.words.insert(path.to_owned(), word.to_owned());
        self
    }
}

pub(super) fn missing(path: &str) -> Missing {
    Missing { path: path.to_owned(), within: Span { file: FileId(0), start: 0, end: 0 } }
}

pub(super) fn unknown(path: &str) -> Truth {
    Truth::Unknown(Unknown::not_stated(missing(path)))
}

impl Scope for World {
    fn reading(&self, measure: &'static Spec, object: usize) -> Result<Bounds, Unknown> {
        let place = (measure.name, object);
        let left_out = || Unknown::not_stated(missing(&format!("{}.{object}", measure.name)));
        self.readings.get(&place).copied().ok_or_else(left_out)
    }

    fn objects(&self, kind: ObjectKind) -> Result<Vec<String>, Unknown> {
        let left_out = || Unknown::not_stated(missing(kind.family()));
        self.objects.get(&kind).cloned().ok_or_else(left_out)
    }

    fn baselines(&self) -> Vec<&dyn Scope> {
        self.baselines.iter().map(|baseline| baseline as &dyn Scope).collect()
    }

    fn given(&self, path: &str) -> Truth {
        self.truths.get(path).cloned().unwrap_or_else(|| unknown(path))
    }

    fn word(&self, path: &str) -> Result<Option<String>, Missing> {
        self.words.get(path).cloned().map(Some).ok_or_else(|| missing(path))
    }
}
