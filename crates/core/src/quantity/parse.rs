//! The grammar of a quantity: `62.4 ± 0.3 mm by depth_gauge`.

use super::number::{Number, need_number, read_number, shown};
use super::read_unit::{is_letter, read_unit, two_meanings};
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

/// A statement of uncertainty with the range it stands in.
type Statement = (StatedUncertainty, Range<usize>);

/// A number with, perhaps, a unit of its own.
struct Part {
    number: Number,
    number_range: Range<usize>,
    unit: Option<(Unit, Range<usize>)>,
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
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
            Some((part, range)) => Some((self.half_width(&unit, &part, &range)?, range)),
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
    fn part(&mut self) -> Result<Part, Refusal> {
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

    /// `± 0.3 mm`, with the range from the sign on.
    fn width(&mut self, first: &Part) -> Result<Option<(Part, Range<usize>)>, Refusal> {
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
        let percent = |unit: &Option<(Unit, Range<usize>)>| {
            unit.as_ref().is_some_and(|(u, _)| u.symbol == "%")
        };
        if percent(&part.unit) {
            let share = part.number.value / 100.0;
            let width = (first.number.value * share).abs();
            let unit = first.unit.as_ref().map_or("", |(u, _)| u.symbol.as_str());
            let help = if first.unit.is_none() || percent(&first.unit) {
                "write the width as a number, as in `0.50 ± 0.05`".to_owned()
            } else {
                let value = self.text.get(first.number_range.clone()).unwrap_or("");
                format!(
                    "write the width: `{value} ± {} {unit}` if it is a share of the value",
                    rounded(width)
                )
            };
            let message = "a width in percent can mean two things";
            return Err(Refusal::new(Code::BadUncertainty, range, message, help));
        }
        Ok(Some((part, range)))
    }

    /// The standard uncertainty of a width that is not exceeded in practice: the half-width over √3
    /// (JCGM 100:2008, 4.3.7, from memory).
    fn half_width(
        &self,
        unit: &Unit,
        part: &Part,
        range: &Range<usize>,
    ) -> Result<StatedUncertainty, Refusal> {
        let width = self.size(unit, part, "width")?;
        finite(width / 3.0_f64.sqrt(), range)
    }

    /// An uncertainty in SI units: in its own unit, else in that of the value.
    fn size(&self, unit: &Unit, part: &Part, what: &str) -> Result<f64, Refusal> {
        let Some((own, range)) = &part.unit else {
            return Ok(unit.difference_to_si(part.number.value));
        };
        let (value, said) = (unit.dimension.difference(), own.dimension.difference());
        if value != said {
            let message =
                format!("the {what} is {}, the value {}", said.name(), unit.dimension.name());
            let help = match unit.is_bare() {
                true => "write the unit after the value too".to_owned(),
                false => format!("write the {what} in {}", measured_in(unit)),
            };
            return Err(Refusal::new(Code::WrongDimension, range.clone(), message, help));
        }
        Ok(own.difference_to_si(part.number.value))
    }

    /// The next statement of uncertainty after the value, if one stands there.
    fn statement(
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
            return Ok(Some((self.half_width(unit, &part, &range)?, range)));
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
        if part.unit.as_ref().is_some_and(|(u, _)| u.symbol == "%") {
            return Err(bad("an uncertainty in percent can mean two things".to_owned()));
        }
        let mut size = self.size(unit, &part, "uncertainty")?;
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

    /// Refuses what is left over.
    fn end(&mut self, first: &Part, unit: &Unit) -> Result<(), Refusal> {
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

    fn blanks(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start_matches(' ').len();
    }

    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or("")
    }
}

/// Bytes of a `±` or `+/-`.
fn plus_minus(text: &str) -> Option<usize> {
    ["±", "+/-"].into_iter().find(|sign| text.starts_with(sign)).map(str::len)
}

/// Whether `text` begins with a word of the grammar and not with a longer one.
fn keyword(text: &str, word: &str) -> bool {
    text.strip_prefix(word).is_some_and(|after| {
        !after.starts_with(|c: char| is_letter(c) || matches!(c, '_' | '-' | '^' | '/' | '·' | '*'))
    })
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

fn two_statements(text: &str, first: &Range<usize>, second: Range<usize>) -> Refusal {
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

/// A computed width for a help text, to four digits.
fn rounded(value: f64) -> String {
    super::print::four_digits(value)
}
