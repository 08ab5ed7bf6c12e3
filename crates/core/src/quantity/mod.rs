//! Numbers with units: what stands in a document becomes an SI value with an uncertainty, and back.
//! Unit factors occur in `unit` and nowhere else.

mod dimension;
mod kind;
mod leftover;
mod number;
mod parse;
mod print;
mod read_unit;
mod refusal;
mod stated;
#[cfg(test)]
mod tests;
mod uncertainty;
mod unit;

use refusal::Refusal;

pub use dimension::Dimension;
pub use kind::{Kind, Stiffness, si};
pub use parse::{ParsedQuantity, StatedUncertainty, parse_number, parse_quantity, parse_unit};
pub use print::{print_amount, print_in, print_pair, print_pair_in, print_standard};
pub use stated::{Given, Input, Missing, Stated};
pub use unit::{Unit, unit_symbols};
