//! Formulas and conditions at one set of inputs, on bounds.

use super::{Condition, Formula, Scope, Truth};
use crate::measure::{Bounds, ObjectKind, Unknown};

/// The value of a formula; `object` is the one the rule is read for, if any.
///
/// # Errors
/// Says why there is no value.
pub fn evaluate(
    _formula: &Formula,
    _scope: &dyn Scope,
    _object: Option<(ObjectKind, usize)>,
) -> Result<Bounds, Unknown> {
    Err(Unknown::because("not built"))
}

/// Whether a condition holds.
pub fn judge_condition(
    _condition: &Condition,
    _scope: &dyn Scope,
    _object: Option<(ObjectKind, usize)>,
) -> Truth {
    Truth::Unknown(Unknown::because("not built"))
}
