//! Rulebook documents become typed rules: formulas and conditions are parsed, names resolved, dimensions
//! checked, all before any pan is looked at.

mod cases;
mod check;
mod compose;
mod condition;
mod edition;
mod evaluate;
mod formula;
mod interval;
mod judge;
mod names;
mod number;
mod order;
mod overriding;
mod parse;
mod parse_condition;
mod pins;
mod resolve;
mod scope;
mod slip;
mod strictness;
#[cfg(test)]
mod tests;
mod token;

pub(crate) use compose::assemble;
pub use compose::{BUILT_IN, Layer, RuleChange, WhatChanged};
pub use condition::{Condition, DocumentPath, Test, TestKind};
pub(crate) use edition::{edition_of_one, hex};
pub use evaluate::{Evaluated, evaluate};
pub use formula::{ForEach, Formula, FormulaKind, Function, Number, Operator};
pub use judge::judge_condition;
pub(crate) use judge::{concrete, judge_test};
pub use order::NEVER_NEGATIVE;
pub(crate) use resolve::resolve_one;
pub use resolve::{Rule, Rulebook, resolve};
pub use scope::{Scope, Truth};
pub use strictness::{PartChange, Strictness, asked_otherwise, in_words, overall, told_otherwise};
