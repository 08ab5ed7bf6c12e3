//! What stands behind a quantity and is no part of it: says what it was probably meant to be.

use super::number::shown;
use super::parse::{Part, Reader};
use super::read_unit::{read_unit, two_meanings};
use super::{Refusal, Unit};
use crate::source::Code;

impl Reader<'_> {
    /// Refuses what is left over.
    pub(super) fn end(&mut self, first: &Part, unit: &Unit) -> Result<(), Refusal> {
        self.blanks();
        let rest = self.rest();
        if rest.is_empty() {
            return Ok(());
        }
        let range = self.at..self.text.len();
        let found = rest.trim_end();
        let refuse = |message: String, help: String| {
            Err(Refusal::new(
                Code::NotAQuantity,
                range.start..range.start + found.len(),
                message,
                help,
            ))
        };
        let sign = rest.chars().next().filter(|c| matches!(c, '/' | '·' | '*'));
        if let (Some(sign), Some(_)) = (sign, &first.unit) {
            let joined: String = format!("{}{}", unit.symbol, rest.replace(' ', ""));
            let number = self.text.get(first.number_range.clone()).unwrap_or("");
            let message = format!("blanks stand round the `{sign}` of the unit");
            return refuse(message, format!("write `{}`", shown(&format!("{number} {joined}"))));
        }
        if rest.starts_with(',') {
            let help = "a quantity holds no comma; the decimal sign is a point";
            return refuse(format!("`{}` follows the quantity", shown(found)), help.to_owned());
        }
        let next = rest.split(' ').next().unwrap_or("");
        let is_unit = read_unit(next).is_ok_and(|(_, length)| length == next.len());
        if is_unit && !unit.is_bare() {
            let both = format!("{} {next}", unit.symbol);
            return match unit.symbol.split_once('/') {
                Some((above, below)) => refuse(
                    format!("the unit `{}` can mean two things", shown(&both)),
                    two_meanings(above, below, next),
                ),
                None => refuse(
                    format!("a blank stands in the unit `{}`", shown(&both)),
                    format!("write `{}·{next}`", unit.symbol),
                ),
            };
        }
        if matches!(next, "C" | "F") && unit.symbol == "deg" {
            return refuse(
                format!("a blank stands in the unit `deg {next}`"),
                format!("write `deg{next}`"),
            );
        }
        if next.starts_with(|c: char| c.is_ascii_digit()) {
            let help = "write one number with one unit, as in `62.4 mm`";
            return refuse(
                format!("a second number `{}` follows the quantity", shown(found)),
                help.to_owned(),
            );
        }
        let help =
            "after the unit can stand `± 0.3 mm`, `(u 0.2 mm)`, `by depth_gauge` or `assumed`";
        refuse(format!("`{}` is no part of a quantity", shown(found)), help.to_owned())
    }
}
