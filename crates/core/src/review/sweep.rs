//! Every uncertain input moved up and down once: first-order propagation with no code for it in any measure.

use super::baseline::{Baseline, Baselines};
use super::documents::{kind_key, read_scene};
use super::situation::{Seen, Situation};
use super::{Contribution, Reading};
use crate::document::dossier::Dossier;
use crate::document::reader::{Findings, Shift};
use crate::measure::{Bounds, Unknown};
use crate::model::{Memo, Scene};
use crate::quantity::Input;
use crate::source::Span;
use rayon::prelude::*;
use std::sync::{Arc, Mutex, PoisonError};

/// A pan at its stated values, and at two more sets of values for each uncertain input.
#[derive(Debug)]
pub(crate) struct Sweep {
    dossier: Dossier,
    pub(crate) nominal: Situation,
    /// Every input stated in the pan, what it refers to, and its baselines; by path, then place.
    pub(super) inputs: Vec<Input>,
    moved: Vec<Moved>,
    /// With the last digit of each exact input moved; made when it is first asked for.
    by_last_digit: Mutex<Option<Arc<Vec<Moved>>>>,
    /// How many inputs, at least, are moved by one thread.
    piece: usize,
}

#[derive(Debug)]
struct Moved {
    input: usize,
    up: Situation,
    down: Situation,
}

impl Sweep {
    /// Reads everything; nothing where the pan cannot be understood. What `first` reads is read at the stated
    /// values before anything is moved, and then only where it is moved.
    pub(super) fn new(
        dossier: &Dossier,
        memo: &Arc<Memo>,
        first: impl FnOnce(&Situation),
    ) -> Option<Self> {
        Self::beside(dossier, memo, &Baselines::default(), first)
    }

    /// As [`Sweep::new`], beside baselines that were read before.
    pub(super) fn beside(
        dossier: &Dossier,
        memo: &Arc<Memo>,
        baselines: &Baselines,
        first: impl FnOnce(&Situation),
    ) -> Option<Self> {
        let sweep = Self::made(dossier, memo, baselines, |_| 1.0)?;
        sweep.nominal.watched(baselines.is_empty(), first);
        Some(sweep)
    }

    /// As [`Sweep::new`], with the uncertainty of every input multiplied: by 0 it is taken as exact.
    pub(crate) fn with(
        dossier: &Dossier,
        memo: &Arc<Memo>,
        factor: impl Fn(&Input) -> f64,
    ) -> Option<Self> {
        Self::made(dossier, memo, &Baselines::default(), factor)
    }

    fn made(
        dossier: &Dossier,
        memo: &Arc<Memo>,
        known: &Baselines,
        factor: impl Fn(&Input) -> f64,
    ) -> Option<Self> {
        let mut found = Findings::default();
        let own = Arc::new(seen(dossier, "", memo, &mut found)?);
        let mut baselines = Vec::new();
        let mut inputs = found.inputs;
        for part in &dossier.baselines {
            let baseline = match known.get(dossier, part) {
                Some(known) => known.clone(),
                None => Baseline::read(&dossier.of_baseline(part), memo)?,
            };
            baselines.push(baseline.seen);
            inputs.extend(baseline.inputs);
        }
        inputs.sort_by(|a, b| a.path.cmp(&b.path).then(a.span.cmp(&b.span)));
        let mut seen = std::collections::BTreeSet::new();
        inputs.retain(|input| seen.insert(input.span));
        for input in &mut inputs {
            input.u *= factor(input);
        }
        let nominal = Situation { own, baselines };
        let mut sweep = Self {
            dossier: dossier.clone(),
            nominal,
            inputs,
            moved: Vec::new(),
            by_last_digit: Mutex::default(),
            piece: 1,
        };
        // Driven once, here: several rules would each begin to drive it, and moved scenes look at what it found.
        let _ = sweep.nominal.own.scene().map(Scene::drive);
        sweep.moved = sweep.move_all(|input| input.u);
        Some(sweep)
    }

    /// The same, with rules and inputs so many at a time, at least, on one thread.
    #[must_use]
    pub(super) fn in_pieces_of(self, piece: usize) -> Self {
        Self { piece, ..self }
    }

    /// How many rules or inputs, at least, are looked at by one thread.
    pub(super) fn piece(&self) -> usize {
        self.piece
    }

    /// Every input stated in the pan, what it refers to, and its baselines; by path, then place.
    pub(crate) fn inputs(&self) -> &[Input] {
        &self.inputs
    }

    /// The pan's title, if it has one.
    pub(crate) fn title(&self) -> Option<String> {
        self.nominal.own.scene().ok()?.title()
    }

    /// The place that stands for the whole pan: the key that says the kind.
    pub(crate) fn whole(&self) -> Span {
        kind_key(self.pan_node())
    }

    /// The input that stands at a place.
    pub(crate) fn input_at(&self, place: Span) -> Option<&Input> {
        self.inputs.iter().find(|input| input.span == place)
    }

    /// The input of a dotted path.
    pub(crate) fn input_of(&self, path: &str) -> Option<&Input> {
        self.inputs.iter().find(|input| input.path == path)
    }

    /// The pan's tree.
    pub(super) fn pan_node(&self) -> &crate::source::Node {
        &self.dossier.pan.node
    }

    /// Situations with every input moved by a step of its own; inputs without a step are left alone.
    fn move_all(&self, step: impl Fn(&Input) -> f64 + Sync) -> Vec<Moved> {
        self.inputs
            .par_iter()
            .enumerate()
            .filter(|(_, input)| step(input) > 0.0)
            .map(|(index, input)| Moved {
                input: index,
                up: self.nominal.moved(Shift { at: input.span, by: step(input) }),
                down: self.nominal.moved(Shift { at: input.span, by: -step(input) }),
            })
            .collect()
    }

    /// The situation with the value at a place moved.
    pub(crate) fn moved_by(&self, at: Span, by: f64) -> Situation {
        self.nominal.moved(Shift { at, by })
    }

    /// A quantity with its standard uncertainty, and what each input adds to it, largest first.
    ///
    /// # Formula
    /// u² = Σ (½(f(x + u) − f(x − u)))², for each bound by itself.
    ///
    /// # Source
    /// JCGM 100, 5.1.2 and note 2 to 5.1.3.
    ///
    /// # Errors
    /// Says why it is not known at the stated values, or when an input moves by its uncertainty.
    pub(crate) fn propagate(
        &self,
        of: impl Fn(&Situation) -> Result<Bounds, Unknown> + Sync,
    ) -> Result<(Reading, Vec<Contribution>), Unknown> {
        self.propagate_times(1.0, of)
    }

    /// As [`Sweep::propagate`], with every standard uncertainty so many times as large as stated: the
    /// effects are proportional to it to first order. At 0 no input is moved.
    ///
    /// # Errors
    /// As for [`Sweep::propagate`].
    pub(crate) fn propagate_times(
        &self,
        factor: f64,
        of: impl Fn(&Situation) -> Result<Bounds, Unknown> + Sync,
    ) -> Result<(Reading, Vec<Contribution>), Unknown> {
        let middle = of(&self.nominal)?;
        let moved: &[Moved] = if factor > 0.0 { &self.moved } else { &[] };
        let effects = self.effects(moved, middle, &of)?;
        let total = |which: fn(&Effect) -> f64| {
            factor * effects.iter().map(|e| which(e) * which(e)).sum::<f64>().sqrt()
        };
        let reading =
            Reading { bounds: middle, u_low: total(|e| e.low), u_high: total(|e| e.high) };
        Ok((reading, self.contributions(&effects, false)))
    }

    /// What one unit of the last digit of every exact input does: who drives a quantity where no uncertainty
    /// is stated at all.
    pub(crate) fn last_digits(
        &self,
        of: impl Fn(&Situation) -> Result<Bounds, Unknown> + Sync,
    ) -> Vec<Contribution> {
        let Ok(middle) = of(&self.nominal) else { return Vec::new() };
        let moved = self.by_last_digit();
        let effects: Vec<Effect> =
            moved.iter().filter_map(|m| self.effect(m, middle, &of).ok()).collect();
        self.contributions(&effects, true)
    }

    /// Made outside the lock: the same twice costs time and changes nothing.
    fn by_last_digit(&self) -> Arc<Vec<Moved>> {
        let kept = || self.by_last_digit.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(found) = kept().as_ref() {
            return Arc::clone(found);
        }
        let step = |input: &Input| if input.u > 0.0 { 0.0 } else { input.last_digit };
        let made = Arc::new(self.move_all(step));
        Arc::clone(kept().get_or_insert(made))
    }

    fn effects(
        &self,
        moved: &[Moved],
        middle: Bounds,
        of: &(impl Fn(&Situation) -> Result<Bounds, Unknown> + Sync),
    ) -> Result<Vec<Effect>, Unknown> {
        // Collected in the order of the inputs whatever thread made them, so that sums are the same.
        moved.par_iter().with_min_len(self.piece).map(|m| self.effect(m, middle, of)).collect()
    }

    fn effect(
        &self,
        moved: &Moved,
        middle: Bounds,
        of: &impl Fn(&Situation) -> Result<Bounds, Unknown>,
    ) -> Result<Effect, Unknown> {
        let (low, high) = match (of(&moved.up), of(&moved.down)) {
            (Ok(up), Ok(down)) => (half(up.low, down.low), half(up.high, down.high)),
            // Where only one side exists, the step from the stated value to it stands for both.
            (Ok(up), Err(_)) => (step(up.low, middle.low), step(up.high, middle.high)),
            (Err(_), Ok(down)) => (step(middle.low, down.low), step(middle.high, down.high)),
            (Err(why), Err(_)) => {
                let path = self.inputs.get(moved.input).map_or("an input", |i| &i.path);
                return Err(Unknown {
                    reason: format!(
                        "it cannot be computed when {path} moves by its uncertainty: {}",
                        why.reason
                    ),
                    ..why
                });
            }
        };
        // A sum that moves in its last bits alone does not depend on the input.
        let moves = |effect: f64, value: f64| {
            if value.is_finite() && effect.abs() <= NOISE * value.abs() { 0.0 } else { effect }
        };
        Ok(Effect {
            input: moved.input,
            low: moves(low, middle.low),
            high: moves(high, middle.high),
        })
    }

    fn contributions(&self, effects: &[Effect], of_last_digit: bool) -> Vec<Contribution> {
        let mut list: Vec<Contribution> = effects
            .iter()
            .filter_map(|effect| {
                let input = self.inputs.get(effect.input)?;
                let size =
                    if effect.low.abs() >= effect.high.abs() { effect.low } else { effect.high };
                (size.abs() > 0.0).then(|| Contribution {
                    path: input.path.clone(),
                    span: input.span,
                    effect: size,
                    of_last_digit,
                    assumed: input.assumed,
                    how_to_get: input.how_to_get,
                })
            })
            .collect();
        list.sort_by(|a, b| {
            b.effect.abs().total_cmp(&a.effect.abs()).then_with(|| a.path.cmp(&b.path))
        });
        let least = DUST * list.first().map_or(0.0, |most| most.effect.abs());
        list.retain(|one| one.effect.abs() > least);
        list
    }
}

/// What moves a margin by a smaller share of what moves it most is the rounding of its sums, and no reader's business.
const DUST: f64 = 1e-9;

/// What moves a value by a smaller share of itself is the rounding of its sums, and no uncertainty: printed as one, it
/// would have a length told to the size of an atom.
const NOISE: f64 = 1e-12;

/// A pan read at its stated values.
pub(super) fn seen(
    dossier: &Dossier,
    prefix: &str,
    memo: &Arc<Memo>,
    found: &mut Findings,
) -> Option<Seen> {
    let scene = read_scene(dossier, &[], prefix, None, memo, found)?;
    Some(Seen::new(scene, dossier.clone(), std::mem::take(&mut found.stands)))
}

struct Effect {
    input: usize,
    low: f64,
    high: f64,
}

/// Half the way from down to up; nothing for a bound that stays infinite.
fn half(up: f64, down: f64) -> f64 {
    step(up, down) / 2.0
}

fn step(up: f64, down: f64) -> f64 {
    if up.is_infinite() && down.is_infinite() { 0.0 } else { up - down }
}
