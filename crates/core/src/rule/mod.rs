//! Rulebook documents become typed rules: formulas and conditions are parsed, names resolved, dimensions
//! checked, all before any pan is looked at.

mod check;
mod condition;
mod evaluate;
mod formula;
mod resolve;
mod scope;

pub use condition::{Condition, Test};
pub use evaluate::{evaluate, judge_condition};
pub use formula::{Formula, FormulaKind};
pub use resolve::{Rule, Rulebook, resolve};
pub use scope::{Scope, Truth};
