//! Ranges of a value: `{ from: 0 deg, to: 30 deg, steps: 7 }`, both ends counted.

use super::cursor::{Context, Cursor, Spot, mapping};
use super::quantity::quantity;
use super::value::count;
use crate::quantity::{Kind, Stated, Unit, si};
use crate::source::{Code, Diagnostic, Value};

/// A sweep of more values than this says nothing new and takes long.
const MOST_STEPS: u32 = 100;

/// One value, or those of a range.
pub(super) struct Range<Q> {
    pub(super) values: Vec<Stated<Q>>,
    /// The unit it is written in, where it was written as a range.
    pub(super) swept: Option<Unit>,
}

impl<Q: Kind> Range<Q> {
    /// One value.
    pub(super) fn alone(value: Stated<Q>) -> Self {
        Self { values: vec![value], swept: None }
    }
}

/// One quantity, or a range of it.
pub(super) fn range<Q: Kind>(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Range<Q>> {
    match &spot.node.value {
        Value::Mapping(_) => {
            let values = mapping(sweep)(context, spot)?;
            let first = values.first().map(|value| value.span);
            let mut inputs = context.out.inputs.iter().rev();
            let unit = inputs.find(|input| Some(input.span) == first).map(|i| i.unit.clone());
            Some(Range { values, swept: Some(unit.unwrap_or_else(|| Unit::of(Q::DIMENSION))) })
        }
        _ => quantity(context, spot).map(Range::alone),
    }
}

/// The values of a range; a moved end moves those between in proportion.
pub(super) fn sweep<Q: Kind>(c: &mut Cursor<'_, '_>) -> Option<Vec<Stated<Q>>> {
    let from: Option<Stated<Q>> = c.required("from", quantity);
    let to: Option<Stated<Q>> = c.required("to", quantity);
    let steps = c.required("steps", count)?;
    if !(2..=MOST_STEPS).contains(&steps.value) {
        let message =
            format!("`steps` is a whole number from 2 to {MOST_STEPS}, both ends counted");
        c.context.report(Diagnostic::error(Code::OutOfRange, steps.span, message));
        return None;
    }
    let (from, to) = (from?, to?);
    let (start, end) = (from.value.to_si(), to.value.to_si());
    // Compared by bits: two ends written alike are one value, and no rounding is at work.
    if c.context.checks() && start.to_bits() == end.to_bits() {
        let message = "both ends of the range are one value";
        let problem = Diagnostic::error(Code::Contradiction, to.span, message)
            .also(from.span, "where it begins")
            .help(format!("write that value alone for `{}`", c.name()));
        c.context.report(problem);
        return None;
    }
    let last = steps.value - 1;
    let step = |i: u32| {
        // Written so that both ends come out exactly.
        let share = f64::from(i) / f64::from(last);
        let value = start * (1.0 - share) + end * share;
        Stated { value: si(value), span: if 2 * i <= last { from.span } else { to.span } }
    };
    Some((0..=last).map(step).collect())
}
