//! Rulebook documents become typed rules: formulas and conditions are parsed, names resolved, dimensions
//! checked, all before any pan is looked at.

mod cases;
mod check;
mod condition;
mod evaluate;
mod formula;
mod interval;
mod judge;
mod names;
mod number;
mod parse;
mod parse_condition;
mod pins;
mod resolve;
mod scope;
mod slip;
#[cfg(test)]
mod tests;
mod token;

pub use condition::{Condition, DocumentPath, Test, TestKind};
pub use evaluate::{Evaluated, evaluate};
pub use formula::{ForEach, Formula, FormulaKind, Function, Number, Operator};
pub use judge::judge_condition;
pub(crate) use judge::{concrete, judge_test};
pub(crate) use resolve::resolve_one;
pub use resolve::{Rule, Rulebook, resolve};
pub use scope::{Scope, Truth};
