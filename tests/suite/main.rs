//! The integration tests, one suite a module.
#![expect(
    clippy::disallowed_methods,
    reason = "a test compares within a bound far above the last digits in which platforms differ"
)]
#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test that cannot go on must fail"
)]

mod about;
mod basins;
mod beside;
mod catalogue;
mod checklist;
mod cli;
mod compare;
mod compose;
mod conceded;
mod corpus;
mod coverage;
mod declare;
mod demo;
mod duty;
mod explain;
mod figures;
mod formulas;
mod handing_over;
mod holes;
mod language;
mod log;
mod measured;
mod meshes;
mod proof;
mod published;
mod remarks;
mod remedies;
mod same;
mod soundings;
mod support;
mod survey;
mod tidy;
mod totals;
