//! What a quantity states of its uncertainty: `± 0.3 mm`, `(u 0.2 mm)`, `(U 0.4 mm at k 2)`, `by name`,
//! `assumed`.

use super::number::{read_number, shown};
use super::parse::{Part, Reader, StatedUncertainty, keyword, plus_minus};
use super::print::four_digits;
use super::{Refusal, Unit};
use crate::source::Code;
use std::ops::Range;

/// A statement of uncertainty with the range it stands in.
type Statement = (StatedUncertainty, Range<usize>);

impl Reader<'_> {
    /// `± 0.3 mm`, with the range from the sign on.
    pub(super) fn width(&mut self, first: &Part) -> Result<Option<(Part, Range<usize>)>, Refusal> {
        self.blanks();
        let start = self.at;
        let Some(sign) = plus_minus(self.rest()) else { return Ok(None) };
        self.at += sign;
        self.blanks();
        if self.rest().is_empty() {
            let help = "write it as in `62.4 ± 0.3 mm`";
            let range = start..start + sign;
            return Err(Refusal::new(Code::BadUncertainty, range, "nothing follows the ±", help));
        }
        if self.rest().starts_with('-') {
            let message = "the width after ± is negative";
            return Err(Refusal::new(
                Code::BadUncertainty,
                start..self.text.len(),
                message,
                "write it without the sign",
            ));
        }
        let part = self.part().map_err(|r| uncertain(r, "the width after ±"))?;
        let range = start..self.at;
        if is_percent(&part) {
            return Err(self.percent(first, &part, range));
        }
        Ok(Some((part, range)))
    }

    /// `± 5 %` can be a share of the value or hundredths of 1.
    fn percent(&self, first: &Part, part: &Part, range: Range<usize>) -> Refusal {
        let help = match &first.unit {
            Some((unit, _)) if !is_percent(first) => {
                let value = self.text.get(first.number_range.clone()).unwrap_or("");
                let width = four_digits((first.number.value * part.number.value / 100.0).abs());
                let symbol = &unit.symbol;
                format!(
                    "write the width: `{value} ± {width} {symbol}` if it is a share of the value"
                )
            }
            _ => "write the width as a number, as in `0.50 ± 0.05`".to_owned(),
        };
        let message = "a width in percent can mean two things";
        Refusal::new(Code::BadUncertainty, range, message, help)
    }

    /// The next statement of uncertainty after the value, if one stands there.
    pub(super) fn statement(
        &mut self,
        unit: &Unit,
        first: &Part,
        before: Option<&Statement>,
    ) -> Result<Option<Statement>, Refusal> {
        self.blanks();
        let start = self.at;
        let rest = self.rest();
        if plus_minus(rest).is_some() {
            // The unit of `62.4 ± 0.3 ± 0.2 mm` is not known yet, so it is refused unread.
            if let Some((_, before)) = before {
                return Err(two_statements(self.text, before, start..self.text.len()));
            }
            let Some((part, range)) = self.width(first)? else { return Ok(None) };
            return Ok(Some((half_width(unit, &part, &range)?, range)));
        }
        if rest.starts_with('(') {
            let stated = self.bracketed(unit)?;
            return Ok(Some((stated, start..self.at)));
        }
        if keyword(rest, "assumed") {
            self.at += "assumed".len();
            return Ok(Some((StatedUncertainty::Assumed, start..self.at)));
        }
        if keyword(rest, "by") {
            self.at += "by".len();
            self.blanks();
            let (name, range) = self.name(start)?;
            return Ok(Some((StatedUncertainty::Instrument(name, range), start..self.at)));
        }
        Ok(None)
    }

    /// `(u 0.2 mm)` or `(U 0.4 mm at k 2)`.
    fn bracketed(&mut self, unit: &Unit) -> Result<StatedUncertainty, Refusal> {
        let start = self.at;
        let help = "write `(u 0.2 mm)`, or `(U 0.4 mm at k 2)`";
        let whole = start..start + self.rest().find(')').map_or(self.rest().len(), |i| i + 1);
        let bad =
            |message: String| Refusal::new(Code::BadUncertainty, whole.clone(), message, help);
        let shown_whole = shown(self.text.get(whole.clone()).unwrap_or(""));
        self.at += 1;
        self.blanks();
        let expanded = keyword(self.rest(), "U");
        if !expanded && !keyword(self.rest(), "u") {
            return Err(bad(format!("`{shown_whole}` is no statement of uncertainty")));
        }
        self.at += 1;
        self.blanks();
        let negative = self.rest().starts_with('-');
        let part = self.part().map_err(|r| uncertain(r, "the uncertainty"))?;
        if negative {
            return Err(bad("the uncertainty is negative".to_owned()));
        }
        if part.unit.is_none() && !unit.is_bare() {
            return Err(bad(format!(
                "the uncertainty lacks its unit, the value is in {}",
                measured_in(unit)
            )));
        }
        if is_percent(&part) {
            return Err(bad("an uncertainty in percent can mean two things".to_owned()));
        }
        let mut size = size(unit, &part, "uncertainty")?;
        self.blanks();
        match (expanded, self.coverage()?) {
            (true, Some(k)) => size /= k,
            (true, None) => {
                return Err(bad("an expanded uncertainty `U` needs its factor k".to_owned()));
            }
            (false, Some(_)) => {
                return Err(bad("a standard uncertainty `u` has no factor k".to_owned()));
            }
            (false, None) => {}
        }
        self.blanks();
        if !self.rest().starts_with(')') {
            return Err(bad(format!("`{shown_whole}` is no statement of uncertainty")));
        }
        self.at += 1;
        finite(size, &(start..self.at))
    }

    /// `at k 2`.
    fn coverage(&mut self) -> Result<Option<f64>, Refusal> {
        if !keyword(self.rest(), "at") {
            return Ok(None);
        }
        let start = self.at;
        let help = "write it as in `(U 0.4 mm at k 2)`";
        self.at += "at".len();
        self.blanks();
        let named = keyword(self.rest(), "k");
        if named {
            self.at += 1;
            self.blanks();
        }
        let number = read_number(self.rest()).filter(|_| named);
        self.at += number.map_or(0, |n| n.length);
        let written = self.text.get(start..self.at).unwrap_or("").trim_end();
        let range = start..start + written.len();
        match number {
            Some(n) if n.value.is_finite() && n.value > 0.0 => Ok(Some(n.value)),
            Some(_) => {
                Err(Refusal::new(Code::BadUncertainty, range, "the factor k must be above 0", help))
            }
            None => Err(Refusal::new(
                Code::BadUncertainty,
                range,
                "`at` is followed by `k` and a number",
                help,
            )),
        }
    }

    /// The name of an instrument.
    fn name(&mut self, by: usize) -> Result<(String, Range<usize>), Refusal> {
        let start = self.at;
        let length = word(self.rest());
        self.at += length;
        if length > 0 {
            return Ok((self.text.get(start..self.at).unwrap_or("").to_owned(), start..self.at));
        }
        let help =
            "name one of `instruments`, as in `by depth_gauge`; a width is written `± 0.1 mm`";
        Err(Refusal::new(
            Code::BadUncertainty,
            by..self.text.len(),
            "`by` is followed by the name of an instrument",
            help,
        ))
    }
}

/// The standard uncertainty of a width that is not exceeded in practice: the half-width over √3
/// (JCGM 100:2008, 4.3.7, from memory).
pub(super) fn half_width(
    unit: &Unit,
    part: &Part,
    range: &Range<usize>,
) -> Result<StatedUncertainty, Refusal> {
    let width = size(unit, part, "width")?;
    finite(width / 3.0_f64.sqrt(), range)
}

/// An uncertainty in SI units: in its own unit, else in that of the value.
fn size(unit: &Unit, part: &Part, what: &str) -> Result<f64, Refusal> {
    let Some((own, range)) = &part.unit else {
        return Ok(unit.difference_to_si(part.number.value));
    };
    let (value, said) = (unit.dimension.difference(), own.dimension.difference());
    if value == said {
        return Ok(own.difference_to_si(part.number.value));
    }
    let message = format!("the {what} is {}, the value {}", said.name(), unit.dimension.name());
    let help = if unit.is_bare() {
        "write the unit after the value too".to_owned()
    } else {
        format!("write the {what} in {}", measured_in(unit))
    };
    Err(Refusal::new(Code::WrongDimension, range.clone(), message, help))
}

fn is_percent(part: &Part) -> bool {
    part.unit.as_ref().is_some_and(|(unit, _)| unit.symbol == "%")
}

/// Bytes of the name at the start of `text`: words joined by points.
fn word(text: &str) -> usize {
    let mut length = 0;
    let mut expects_letter = true;
    for (i, c) in text.char_indices() {
        let fits = match c {
            _ if expects_letter => c.is_ascii_alphabetic(),
            '.' => true,
            _ => c.is_ascii_alphanumeric() || matches!(c, '_' | '-'),
        };
        if !fits {
            break;
        }
        expects_letter = c == '.';
        if !expects_letter {
            length = i + 1;
        }
    }
    length
}

/// What is wrong with a number of a statement of uncertainty is a fault of the statement.
fn uncertain(refusal: Refusal, what: &str) -> Refusal {
    if refusal.code != Code::NotAQuantity {
        return refusal;
    }
    Refusal {
        code: Code::BadUncertainty,
        message: format!("{what}: {}", refusal.message),
        ..refusal
    }
}

pub(super) fn two_statements(text: &str, first: &Range<usize>, second: Range<usize>) -> Refusal {
    let said = shown(text.get(first.clone()).unwrap_or("").trim());
    let message = format!("a second statement of uncertainty, after `{said}`");
    Refusal::new(Code::BadUncertainty, second, message, "keep one of the two")
}

fn finite(u: f64, range: &Range<usize>) -> Result<StatedUncertainty, Refusal> {
    if u.is_finite() {
        return Ok(StatedUncertainty::Standard(u));
    }
    let message = "the uncertainty is too large to be held";
    Err(Refusal::new(Code::NotFinite, range.clone(), message, "look at its exponent"))
}

/// The unit in which an uncertainty of values in `unit` is written.
fn measured_in(unit: &Unit) -> String {
    if unit.dimension.point { "K".to_owned() } else { unit.symbol.clone() }
}
