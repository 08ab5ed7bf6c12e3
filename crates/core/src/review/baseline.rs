//! Baseline pans that pans of a run are held against: each read once with a vehicle, an oil and a duty, however many
//! pans name it so.

use super::situation::Seen;
use super::sweep::seen;
use crate::document::dossier::{Dossier, Part};
use crate::document::reader::Findings;
use crate::measure::Spec;
use crate::model::Memo;
use crate::quantity::Input;
use crate::rule::{Formula, FormulaKind, Function, Rulebook, Scope};
use crate::source::FileId;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The texts of a pan, its vehicle, oil and duty.
pub(super) type Texts = [Option<FileId>; 4];

/// What was read of a baseline.
#[derive(Debug, Clone)]
pub(super) struct Baseline {
    pub(super) seen: Arc<Seen>,
    /// What it states.
    pub(super) inputs: Vec<Input>,
}

/// The baselines of a run.
#[derive(Debug, Default)]
pub(super) struct Baselines(BTreeMap<Texts, Baseline>);

impl Baselines {
    /// Reads the baselines of some pans, and what a rulebook asks of them, with note of what that looks at: nobody else
    /// looks at them yet.
    pub(super) fn of<'d>(
        dossiers: impl Iterator<Item = &'d Dossier>,
        rulebook: &Rulebook,
        memo: &Arc<Memo>,
    ) -> Self {
        let mut named: BTreeMap<Texts, Dossier> = BTreeMap::new();
        for dossier in dossiers {
            for part in &dossier.baselines {
                named.entry(texts(dossier, part)).or_insert_with(|| dossier.of_baseline(part));
            }
        }
        let asked = asked(rulebook);
        let named: Vec<(Texts, Dossier)> = named.into_iter().collect();
        let read = named.into_par_iter().filter_map(|(texts, dossier)| {
            let baseline = Baseline::read(&dossier, memo)?;
            baseline.seen.watched(|seen| read_all(seen, &asked));
            Some((texts, baseline))
        });
        Self(read.collect::<Vec<_>>().into_iter().collect())
    }

    /// Whether there is none.
    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// A baseline of a pan, where it was read before.
    pub(super) fn get(&self, dossier: &Dossier, part: &Part) -> Option<&Baseline> {
        self.0.get(&texts(dossier, part))
    }
}

impl Baseline {
    /// Reads a baseline; nothing where it cannot be understood.
    pub(super) fn read(dossier: &Dossier, memo: &Arc<Memo>) -> Option<Self> {
        let mut found = Findings::default();
        let seen = Arc::new(seen(dossier, "baseline.", memo, &mut found)?);
        Some(Self { seen, inputs: found.inputs })
    }
}

/// The texts that a baseline of a pan is read from.
pub(super) fn texts(dossier: &Dossier, baseline: &Part) -> Texts {
    let file = |part: &Option<Part>| part.as_ref().map(|part| part.file);
    [Some(baseline.file), file(&dossier.vehicle), file(&dossier.oil), file(&dossier.duty)]
}

fn read_all(seen: &Seen, asked: &[&'static Spec]) {
    for spec in asked {
        for object in 0..seen.objects(spec.kind).map_or(0, |objects| objects.len()) {
            let _ = seen.outcome(spec, object);
        }
    }
}

/// The measures that rules ask of baselines.
fn asked(rulebook: &Rulebook) -> Vec<&'static Spec> {
    let mut found = Vec::new();
    for rule in &rulebook.rules {
        let formulas = [Some(&rule.measure), rule.at_least.as_ref(), rule.at_most.as_ref()];
        for formula in formulas.into_iter().flatten() {
            asked_in(formula, false, &mut found);
        }
    }
    found
}

fn asked_in(formula: &Formula, of_baseline: bool, found: &mut Vec<&'static Spec>) {
    match &formula.kind {
        FormulaKind::Number(_) => {}
        FormulaKind::Measure(spec) => {
            if of_baseline && found.iter().all(|known| known.name != spec.name) {
                found.push(spec);
            }
        }
        FormulaKind::Negative(inner) => asked_in(inner, of_baseline, found),
        FormulaKind::Binary(_, left, right) => {
            asked_in(left, of_baseline, found);
            asked_in(right, of_baseline, found);
        }
        FormulaKind::Call(function, arguments) => {
            let within = of_baseline || matches!(function, Function::Baseline | Function::Spread);
            for argument in arguments {
                asked_in(argument, within, found);
            }
        }
    }
}
