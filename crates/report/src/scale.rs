//! Readings, limits and margins of one rule in one unit: that in which the rule's author wrote the limit.

use crate::deciding::deciding;
use sumpwright_core::measure::Bounds;
use sumpwright_core::quantity::{Dimension, Unit, parse_quantity, print_in, print_pair_in};
use sumpwright_core::review::{Finding, LimitReading, Reading};
use sumpwright_core::source::Scalar;

/// The unit of values and that of differences between them (another for temperatures only).
#[derive(Debug)]
pub(crate) struct Scale {
    unit: Unit,
    difference: Unit,
}

impl Scale {
    /// The unit of the deciding limit where that is a plain quantity, else the usual one.
    pub(crate) fn of_finding(finding: &Finding) -> Self {
        let limit = deciding(finding);
        if let Some(unit) = limit.and_then(written_unit)
            && unit.dimension == finding.dimension
            && !unit.symbol.is_empty()
        {
            return Self::of_unit(unit);
        }
        let size = limit.and_then(|limit| limit.value).or(finding.reading);
        Self::of_value(finding.dimension, size.map_or(0.0, |reading| reading.bounds.high))
    }

    /// A unit that somebody wrote.
    pub(crate) fn in_unit(unit: &Unit) -> Self {
        Self::of_unit(unit.clone())
    }

    /// The unit; empty for a plain number.
    pub(crate) fn symbol(&self) -> &str {
        &self.unit.symbol
    }

    /// A value in the unit.
    pub(crate) fn in_its_unit(&self, si: f64) -> f64 {
        self.unit.from_si(si)
    }

    /// The usual unit for a value of this size.
    pub(crate) fn of_value(dimension: Dimension, si: f64) -> Self {
        Self::of_unit(Unit::for_value(dimension, si))
    }

    fn of_unit(unit: Unit) -> Self {
        let difference = if unit.dimension.point {
            Unit::of(Dimension { point: false, ..unit.dimension })
        } else {
            unit.clone()
        };
        Self { unit, difference }
    }

    /// A value, with the digits that an uncertainty deserves.
    pub(crate) fn value(&self, si: f64, u: f64) -> String {
        print_in(si, u, &self.unit)
    }

    /// A difference of two values, with the digits that an uncertainty deserves.
    pub(crate) fn difference(&self, si: f64, u: f64) -> String {
        print_in(si, u, &self.difference)
    }

    /// A size without a sign, with two digits.
    pub(crate) fn size(&self, si: f64) -> String {
        self.difference(si.abs(), si.abs())
    }

    /// A value beside another that it is held against: they never print alike unless they are equal.
    pub(crate) fn against(&self, value: f64, other: f64, u: f64) -> String {
        print_pair_in(value, other, u, &self.unit).0
    }

    /// A reading in full: `23.0 mm (u 2.6 mm)`, or the bounds that it is known to lie between.
    pub(crate) fn reading(&self, reading: &Reading) -> String {
        in_words(reading.bounds, &|value, is_low| {
            let u = if is_low { reading.u_low } else { reading.u_high };
            self.with_u(self.value(value, u), u)
        })
    }

    /// A printed value followed by its standard uncertainty, where it has one.
    pub(crate) fn with_u(&self, printed: String, u: f64) -> String {
        if u > 0.0 { format!("{printed} (u {})", self.size(u)) } else { printed }
    }

    /// Bounds in words, without uncertainty.
    pub(crate) fn bounds(&self, bounds: Bounds, u: f64) -> String {
        in_words(bounds, &|value, _| self.value(value, u))
    }
}

/// Whether a limit is a plain quantity: it is then said as its author wrote it.
pub(crate) fn is_plain(limit: &LimitReading) -> bool {
    written_unit(limit).is_some()
}

fn written_unit(limit: &LimitReading) -> Option<Unit> {
    let text = limit.text.clone();
    let scalar = Scalar { text, span: limit.span, verbatim_at: None, plain: true };
    parse_quantity(&scalar).ok().map(|quantity| quantity.unit)
}

fn in_words(bounds: Bounds, print: &dyn Fn(f64, bool) -> String) -> String {
    match (bounds.value(), bounds.low.is_finite(), bounds.high.is_finite()) {
        (Some(value), true, _) => print(value, true),
        (_, true, true) => {
            format!("between {} and {}", print(bounds.low, true), print(bounds.high, false))
        }
        (_, false, true) => format!("at most {}", print(bounds.high, false)),
        (_, true, false) => format!("at least {}", print(bounds.low, true)),
        (_, false, false) => "not known".to_owned(),
    }
}

/// The uncertainty that decides how many digits a reading deserves: the larger of its two.
pub(crate) fn coarser(reading: &Reading) -> f64 {
    if reading.u_low > reading.u_high { reading.u_low } else { reading.u_high }
}
