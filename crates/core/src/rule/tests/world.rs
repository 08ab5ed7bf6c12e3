//! A scope of the tests: what is not put into it is not stated.

use super::*;
use crate::measure::Bounds;
use crate::quantity::Missing;
use crate::rule::{Scope, Truth};
use std::collections::BTreeMap;

/// Readings, objects, baselines and stated paths.
#[derive(Debug, Clone, Default)]
pub(super) struct World {
    pub(super) readings: BTreeMap<(&'static str, usize), Bounds>,
    pub(super) objects: BTreeMap<ObjectKind, Vec<String>>,
    pub(super) baselines: Vec<World>,
    pub(super) given: BTreeMap<String, bool>,
    pub(super) words: BTreeMap<String, String>,
}

impl World {
    pub(super) fn with(mut self, measure: &'static str, object: usize, bounds: Bounds) -> Self {
        self.readings.insert((measure, object), bounds);
        self
    }

    pub(super) fn reads(self, measure: &'static str, value: f64) -> Self {
        self.with(measure, 0, Bounds::exactly(value))
    }

    pub(super) fn has(mut self, kind: ObjectKind, names: &[&str]) -> Self {
        self.objects.insert(kind, names.iter().map(|name| (*name).to_owned()).collect());
        self
    }

    pub(super) fn states(mut self, path: &str, given: bool) -> Self {
        self.given.insert(path.to_owned(), given);
        self
    }

    pub(super) fn says(mut self, path: &str, word: &str) -> Self {
        self.words.insert(path.to_owned(), word.to_owned());
        self
    }

    pub(super) fn beside(mut self, baselines: &[World]) -> Self {
        self.baselines = baselines.to_vec();
        self
    }
}

pub(super) fn missing(path: &str) -> Missing {
    Missing { path: path.to_owned(), within: scalar("").span }
}

fn not_stated(path: &str) -> Unknown {
    Unknown::not_stated(missing(path))
}

impl Scope for World {
    fn reading(&self, measure: &'static Spec, object: usize) -> Result<Bounds, Unknown> {
        let found = self.readings.get(&(measure.name, object)).copied();
        found.ok_or_else(|| not_stated(&format!("{} {object}", measure.name)))
    }

    fn objects(&self, kind: ObjectKind) -> Result<Vec<String>, Unknown> {
        self.objects.get(&kind).cloned().ok_or_else(|| not_stated(kind.family()))
    }

    fn baselines(&self) -> Vec<&dyn Scope> {
        self.baselines.iter().map(|world| world as &dyn Scope).collect()
    }

    fn given(&self, path: &str) -> Truth {
        match self.given.get(path) {
            Some(true) => Truth::True,
            Some(false) => Truth::False,
            None => Truth::Unknown(not_stated(path)),
        }
    }

    fn word(&self, path: &str) -> Result<Option<String>, Missing> {
        if self.given.get(path) == Some(&false) {
            return Ok(None);
        }
        self.words.get(path).cloned().map(Some).ok_or_else(|| missing(path))
    }
}
