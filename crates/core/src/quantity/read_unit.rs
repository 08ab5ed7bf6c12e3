//! The grammar of units: products, powers and one `/`.

use super::number::shown;
use super::unit::TABLE;
use super::{Dimension, Refusal, Unit};
use crate::source::{Code, nearest};
use std::ops::Range;

/// What people write for a unit of the table, and what we would have them write.
#[rustfmt::skip]
const SLIPS: &[(&str, &str)] = &[
    ("Nm", "`N·m`"), ("NM", "`N·m`"), ("nm", "`N·m`"), ("lbft", "`lbf·ft`"), ("ftlb", "`lbf·ft`"), ("lbin", "`lbf·in`"),
    ("C", "`degC`"), ("c", "`degC`"), ("celsius", "`degC`"), ("F", "`degF`"), ("kelvin", "`K`"), ("k", "`K`"),
    ("sec", "`s`"), ("seconds", "`s`"), ("minutes", "`min`"), ("hours", "`h`"), ("hr", "`h`"), ("hrs", "`h`"), ("lbs", "`lb`, or `lbf` for a force"),
    ("gal", "`galUS`, or litres"), ("gallon", "`galUS`, or litres"), ("qt", "`qtUS`, or litres"), ("quart", "`qtUS`, or litres"),
    ("cc", "`mL`"), ("ccm", "`mL`"), ("liter", "`L`"), ("litre", "`L`"), ("liters", "`L`"), ("litres", "`L`"),
    ("inch", "`in`"), ("inches", "`in`"), ("feet", "`ft`"), ("degree", "`deg`"), ("degrees", "`deg`"),
    ("kph", "`km/h`"), ("kmh", "`km/h`"), ("lpm", "`L/min`"), ("rpm", "`1/min`"), ("G", "`gn` for gravity, `g` for grams"), ("gee", "`gn`"),
    ("kgf", "`N` or `kN`"), ("Kg", "`kg`"), ("cP", "`mPa·s`"), ("percent", "`%`"), ("grad", "`deg`"),
];

/// Reads a unit at the start of `text`: the unit and how many bytes it takes.
pub(super) fn read_unit(text: &str) -> Result<(Unit, usize), Refusal> {
    let mut reader = Reader { text, at: 0, temperature: None };
    let above = if text.starts_with("1/") {
        reader.at = 1;
        Unit::number()
    } else {
        reader.product()?
    };
    let unit = if reader.take('/') {
        let below = reader.below()?;
        reader.refuse_more_below()?;
        divided(&above, &below).ok_or_else(|| reader.too_high())?
    } else {
        above
    };
    let symbol = reader.since(0);
    if let Some(range) = reader.temperature.clone().filter(|r| r.len() < symbol.len()) {
        let message = format!(
            "within a unit a temperature is a difference, so `{}` cannot stand there",
            slice(text, &range)
        );
        return Err(Refusal::new(Code::UnknownUnit, range, message, "write `K`"));
    }
    Ok((Unit { symbol: symbol.to_owned(), ..unit }, reader.at))
}

struct Reader<'a> {
    text: &'a str,
    at: usize,
    /// Where the unit of a temperature scale stands: it may only stand alone.
    temperature: Option<Range<usize>>,
}

impl<'a> Reader<'a> {
    fn product(&mut self) -> Result<Unit, Refusal> {
        let mut unit = self.power()?;
        while self.take('·') || self.take('*') {
            let factor = self.power()?;
            unit = multiplied(&unit, &factor).ok_or_else(|| self.too_high())?;
        }
        Ok(unit)
    }

    /// What stands below the line: one power, or a product in brackets.
    fn below(&mut self) -> Result<Unit, Refusal> {
        if !self.take('(') {
            return self.power();
        }
        let start = self.at - 1;
        let unit = self.product()?;
        if self.take(')') {
            return Ok(unit);
        }
        let range = start..self.at;
        let message = format!("the bracket of `{}` is not closed", shown(self.since(start)));
        Err(self.malformed(range, message, "write it as in `kJ/(kg·K)`"))
    }

    fn power(&mut self) -> Result<Unit, Refusal> {
        let start = self.at;
        let length = self.rest().find(|c| !is_letter(c)).unwrap_or(self.rest().len());
        self.at += length;
        let symbol = self.since(start).to_owned();
        if symbol.is_empty() {
            return Err(self.no_symbol());
        }
        let exponent = self.exponent(start)?;
        let row = TABLE.iter().find(|r| r.symbols.contains(&symbol.as_str()));
        let Some(row) = row else { return Err(unknown(&symbol, start)) };
        let unit = Unit::of_row(row, &symbol);
        if unit.dimension.point {
            self.temperature = Some(start..start + length);
            return Ok(unit);
        }
        raised(&unit, exponent).ok_or_else(|| self.too_high())
    }

    /// `^2`, `^-1`, `²`, `³`; 1 where none stands.
    fn exponent(&mut self, start: usize) -> Result<i8, Refusal> {
        if self.take('²') {
            return Ok(2);
        }
        if self.take('³') {
            return Ok(3);
        }
        let symbol = self.since(start).to_owned();
        let digits = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
        if !self.take('^') {
            let bare = digits(self.rest());
            let range = start..self.at + bare;
            return match self.rest().get(..bare).unwrap_or("") {
                "" => Ok(1),
                power => Err(self.malformed(
                    range,
                    format!("the power of `{}` lacks its sign", shown(&format!("{symbol}{power}"))),
                    format!("write `{symbol}^{power}`"),
                )),
            };
        }
        let negative = self.take('-');
        let count = digits(self.rest());
        let power = self.rest().get(..count).and_then(|d| d.parse::<i8>().ok()).unwrap_or(0);
        self.at += count;
        if count != 1 || power == 0 {
            let range = start..self.at;
            let message =
                format!("a power is one digit from 1 to 9, found `{}`", shown(self.since(start)));
            return Err(self.malformed(range, message, "write it as in `m^2` or `s^-1`"));
        }
        Ok(if negative { -power } else { power })
    }

    /// `kJ/kg·K` and `m/s/s` can each mean two things.
    fn refuse_more_below(&self) -> Result<(), Refusal> {
        let Some(sign) = self.rest().chars().next().filter(|c| matches!(c, '·' | '*' | '/'))
        else {
            return Ok(());
        };
        let end = |(_, c): &(usize, char)| !is_letter(*c) && !matches!(c, '^' | '²' | '³');
        let after = self.rest().char_indices().skip(1).find(end);
        let length = after.map_or(self.rest().len(), |(i, _)| i);
        let next = self.rest().get(sign.len_utf8()..length).unwrap_or("").to_owned();
        let before = self.since(0).to_owned();
        let range = 0..self.at + length;
        if next.is_empty() {
            return Err(self.malformed(
                range,
                format!("`{sign}` ends the unit `{before}`"),
                "leave it out",
            ));
        }
        let (above, below_text) = before.split_once('/').unwrap_or((&before, ""));
        let help = match sign {
            '/' if below_text == next => format!("a unit has one `/`: write `{above}/{next}^2`"),
            '/' => format!("a unit has one `/`: {}", two_meanings(above, below_text, &next)),
            _ => two_meanings(above, below_text, &next),
        };
        let found = format!("{before}{sign}{next}");
        Err(self.malformed(
            range,
            format!("the unit `{}` can mean two things", shown(&found)),
            help,
        ))
    }

    fn no_symbol(&self) -> Refusal {
        let found = self.rest().chars().next();
        let range = self.at..self.at + found.map_or(0, char::len_utf8);
        let before = self.since(0);
        match found {
            Some('"' | '\u{2033}' | '\u{201d}') => {
                self.malformed(range, "inches are written as a word".to_owned(), "write `in`")
            }
            Some('\'' | '\u{2032}' | '\u{2019}') => {
                self.malformed(range, "feet are written as a word".to_owned(), "write `ft`")
            }
            Some('+') if before.is_empty() => Refusal::new(
                Code::NotAQuantity,
                range,
                "a unit was expected, found `+`".to_owned(),
                "write `±` or `+/-`, as in `62.4 ± 0.3 mm`",
            ),
            Some('/') if before.is_empty() => self.malformed(
                range,
                "nothing stands above the `/` of the unit".to_owned(),
                "write it as in `1/K`",
            ),
            Some(c) if before.is_empty() => Refusal::new(
                Code::NotAQuantity,
                range,
                format!("a unit was expected, found `{c}`"),
                "write it as in `62.4 mm`",
            ),
            Some(' ') | None => self.malformed(
                0..self.at,
                format!("the unit `{}` breaks off", shown(before)),
                "write it without blanks, as in `L/min`",
            ),
            Some(c) => self.malformed(
                range,
                format!("a unit was expected after `{}`, found `{c}`", shown(before)),
                "write it as in `kJ/(kg·K)`",
            ),
        }
    }

    fn too_high(&self) -> Refusal {
        let message = format!("the powers in `{}` are too high", shown(self.since(0)));
        self.malformed(0..self.at, message, "look at its exponents")
    }

    #[expect(clippy::unused_self, reason = "reads as one of the reader's answers")]
    fn malformed(&self, range: Range<usize>, message: String, help: impl Into<String>) -> Refusal {
        Refusal::new(Code::UnknownUnit, range, message, help)
    }

    fn take(&mut self, sign: char) -> bool {
        let found = self.rest().starts_with(sign);
        if found {
            self.at += sign.len_utf8();
        }
        found
    }

    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or("")
    }

    fn since(&self, start: usize) -> &'a str {
        self.text.get(start..self.at).unwrap_or("")
    }
}

/// Signs of which symbols are made.
pub(super) fn is_letter(c: char) -> bool {
    c.is_alphabetic() || matches!(c, '°' | '%')
}

fn unknown(symbol: &str, start: usize) -> Refusal {
    let all = || TABLE.iter().filter_map(|r| r.symbols.first().copied());
    let slip =
        SLIPS.iter().find(|(wrong, _)| *wrong == symbol).map(|(_, right)| (*right).to_owned());
    let case = || {
        let same = |known: &&str| known.to_lowercase() == symbol.to_lowercase();
        let found: Vec<String> = all().filter(same).map(|s| format!("`{s}`")).collect();
        (!found.is_empty()).then(|| found.join(" or "))
    };
    let near = || nearest(symbol, all()).map(|s| format!("`{s}`"));
    let help = match slip.or_else(case).or_else(near) {
        Some(known) => format!("did you mean {known}?"),
        None => {
            "units are written as in `mm`, `L/min`, `N·m`, `kJ/(kg·K)`, `deg`, `degC`".to_owned()
        }
    };
    let range = start..start + symbol.len();
    Refusal::new(
        Code::UnknownUnit,
        range,
        format!("the unit `{}` is not known", shown(symbol)),
        help,
    )
}

/// What to write for `above/below·next` or `above/below next`.
pub(super) fn two_meanings(above: &str, below: &str, next: &str) -> String {
    let inner = below.trim_matches(['(', ')']);
    let both = joined(above, next);
    format!(
        "write `{above}/({inner}·{next})` if {next} is below the line, `{both}/{below}` if it is above"
    )
}

/// `above·next`, or `next` alone where above stands only a 1.
fn joined(above: &str, next: &str) -> String {
    if above == "1" { next.to_owned() } else { format!("{above}·{next}") }
}

/// Not a result but a unit without its symbol: that is what was written, and known at the end.
fn made(dimension: Option<Dimension>, numerator: f64, denominator: f64) -> Option<Unit> {
    let fine = numerator.is_normal() && denominator.is_normal();
    let dimension = dimension.filter(|_| fine)?;
    Some(Unit { symbol: String::new(), dimension, numerator, denominator, offset: 0.0 })
}

fn multiplied(a: &Unit, b: &Unit) -> Option<Unit> {
    made(times(a, b), a.numerator * b.numerator, a.denominator * b.denominator)
}

fn divided(a: &Unit, b: &Unit) -> Option<Unit> {
    let below = b.dimension.difference();
    made(
        a.dimension.difference().over(below),
        a.numerator * b.denominator,
        a.denominator * b.numerator,
    )
}

/// A temperature scale in a product is refused at the end, with its place; until then it passes.
fn times(a: &Unit, b: &Unit) -> Option<Dimension> {
    a.dimension.difference().times(b.dimension.difference())
}

/// A unit alone keeps its symbol and what a temperature scale adds.
fn raised(unit: &Unit, exponent: i8) -> Option<Unit> {
    if exponent == 1 {
        return Some(unit.clone());
    }
    let (mut above, mut below) = (1.0, 1.0);
    for _ in 0..exponent.unsigned_abs() {
        above *= unit.numerator;
        below *= unit.denominator;
    }
    let (above, below) = if exponent < 0 { (below, above) } else { (above, below) };
    made(unit.dimension.power(exponent), above, below)
}

fn slice<'a>(text: &'a str, range: &Range<usize>) -> &'a str {
    text.get(range.clone()).unwrap_or("")
}
