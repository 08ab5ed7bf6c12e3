//! The grammar of a quantity: `62.4 ± 0.3 mm by depth_gauge`.

use super::number::{Number, need_number, read_number, shown};
use super::read_unit::{is_letter, read_unit};
use super::uncertainty::{half_width, two_statements};
use super::{Refusal, Unit};
use crate::source::{Code, Diagnostic, Scalar};
use std::ops::Range;

/// How a quantity states its uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub enum StatedUncertainty {
    /// Nothing stated: taken as exact.
    Nothing,
    /// Standard uncertainty in SI base units (from `±` half-width/√3, `u`, or `U at k`).
    Standard(f64),
    /// `by name`: that instrument's half-width; the range of the name in the text.
    Instrument(String, Range<usize>),
    /// `assumed`: the typical range of the field decides.
    Assumed,
}

/// A quantity as written, not yet held against what the field wants.
#[derive(Debug, Clone, PartialEq)]
pub struct ParsedQuantity {
    /// Value in SI base units.
    pub value: f64,
    /// Unit as written; symbol empty for a bare number.
    pub unit: Unit,
    /// Range of the unit in the text; empty for a bare number.
    pub unit_range: Range<usize>,
    /// Range of the number in the text.
    pub number_range: Range<usize>,
    /// One unit of the last digit written, in SI base units.
    pub last_digit: f64,
    /// What is said of its uncertainty.
    pub uncertainty: StatedUncertainty,
}

/// Reads a whole scalar as a quantity. Does not check the dimension.
///
/// # Errors
/// One diagnostic at the token that does not fit.
pub fn parse_quantity(scalar: &Scalar) -> Result<ParsedQuantity, Box<Diagnostic>> {
    let reader = Reader { text: &scalar.text, at: 0 };
    reader.quantity().map_err(|refusal| Box::new(refusal.diagnostic(scalar)))
}

/// Reads a number of the grammar at the start of `text`: its value and how many bytes it takes.
/// Takes the longest stretch that is a number, so `3,5` gives 3; nothing where it is not finite.
pub fn parse_number(text: &str) -> Option<(f64, usize)> {
    let number = read_number(text)?;
    number.value.is_finite().then_some((number.value, number.length))
}

/// Reads a unit of the grammar at the start of `text`: the unit and how many bytes it takes.
/// What follows without being part of a unit is left to the caller; an empty text is refused.
///
/// # Errors
/// A sentence that says what does not fit and what to write, and the range it stands in.
pub fn parse_unit(text: &str) -> Result<(Unit, usize), (String, Range<usize>)> {
    if text.is_empty() {
        return Err(("a unit was expected".to_owned(), 0..0));
    }
    read_unit(text).map_err(|r| (format!("{}: {}", r.message, r.help), r.range))
}

/// A number with, perhaps, a unit of its own.
pub(super) struct Part {
    pub(super) number: Number,
    pub(super) number_range: Range<usize>,
    pub(super) unit: Option<(Unit, Range<usize>)>,
}

pub(super) struct Reader<'a> {
    pub(super) text: &'a str,
    pub(super) at: usize,
}

impl<'a> Reader<'a> {
    fn quantity(mut self) -> Result<ParsedQuantity, Refusal> {
        self.refuse_odd_blanks()?;
        self.blanks();
        let first = self.part()?;
        let width = self.width(&first)?;
        let (unit, unit_range) = match (&first.unit, &width) {
            (Some((unit, range)), _) => (unit.clone(), range.clone()),
            (None, Some((Part { unit: Some((unit, range)), .. }, _))) => {
                (unit.clone(), range.clone())
            }
            (None, _) => (Unit::number(), first.number_range.end..first.number_range.end),
        };
        let mut statement = match width {
            Some((part, range)) => Some((half_width(&unit, &part, &range)?, range)),
            None => None,
        };
        while let Some(next) = self.statement(&unit, &first, statement.as_ref())? {
            if let Some((_, before)) = &statement {
                return Err(two_statements(self.text, before, next.1));
            }
            statement = Some(next);
        }
        self.end(&first, &unit)?;
        let value = unit.to_si(first.number.value);
        if !value.is_finite() {
            let message = "the number is too large to be held in SI units";
            return Err(Refusal::new(
                Code::NotFinite,
                first.number_range,
                message,
                "look at its exponent",
            ));
        }
        Ok(ParsedQuantity {
            value,
            last_digit: unit.difference_to_si(first.number.last_digit),
            unit,
            unit_range,
            number_range: first.number_range,
            uncertainty: statement.map_or(StatedUncertainty::Nothing, |(s, _)| s),
        })
    }

    /// A number, and its unit if one stands behind it.
    pub(super) fn part(&mut self) -> Result<Part, Refusal> {
        let start = self.at;
        let number = need_number(self.rest()).map_err(|r| r.shifted(start))?;
        self.at += number.length;
        let number_range = start..self.at;
        let before_blanks = self.at;
        self.blanks();
        let next = self.rest();
        let none = next.is_empty()
            || plus_minus(next).is_some()
            || next.starts_with(['(', ')', ',', ';', '#'])
            || keyword(next, "at")
            || keyword(next, "by")
            || keyword(next, "assumed");
        if none {
            self.at = before_blanks;
            return Ok(Part { number, number_range, unit: None });
        }
        let start = self.at;
        if next.starts_with(|c: char| c.is_ascii_digit()) && !next.starts_with("1/") {
            let found = next.split(' ').next().unwrap_or("");
            let message = format!("a second number `{}` follows the first", shown(found));
            let help = "write one number with one unit, digits not set apart, as in `1450 mm`";
            let range = start..start + found.len();
            return Err(Refusal::new(Code::NotAQuantity, range, message, help));
        }
        let (unit, length) = read_unit(next).map_err(|r| r.shifted(start))?;
        self.at += length;
        Ok(Part { number, number_range, unit: Some((unit, start..self.at)) })
    }

    /// A no-break space looks like a blank and is none; a tab or line break belongs to no quantity.
    fn refuse_odd_blanks(&self) -> Result<(), Refusal> {
        let odd = self
            .text
            .char_indices()
            .find(|(_, c)| (c.is_whitespace() || *c == '\u{200b}') && *c != ' ');
        let Some((start, found)) = odd else { return Ok(()) };
        let message = match found {
            '\n' => "a line break stands within the quantity".to_owned(),
            _ => format!(
                "a blank of another kind (U+{:04X}) stands within the quantity",
                u32::from(found)
            ),
        };
        let range = start..start + found.len_utf8();
        Err(Refusal::new(Code::NotAQuantity, range, message, "write a plain blank"))
    }

    pub(super) fn blanks(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start_matches(' ').len();
    }

    pub(super) fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or("")
    }
}

/// Bytes of a `±` or `+/-`.
pub(super) fn plus_minus(text: &str) -> Option<usize> {
    ["±", "+/-"].into_iter().find(|sign| text.starts_with(sign)).map(str::len)
}

/// Whether `text` begins with a word of the grammar and not with a longer one.
pub(super) fn keyword(text: &str, word: &str) -> bool {
    text.strip_prefix(word).is_some_and(|after| {
        !after.starts_with(|c: char| is_letter(c) || matches!(c, '_' | '-' | '^' | '/' | '·' | '*'))
    })
}
