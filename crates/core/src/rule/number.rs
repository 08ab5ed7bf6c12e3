//! Numbers with their units, as tokens: where one ends, and what is wrong with it.

use super::token::{BLANKS_AND_UNITS, KEYWORDS, Lexer, Read, TokenKind, capital, name_length};
use super::{Function, Number};
use crate::quantity::{Unit, parse_number, parse_unit};
use crate::source::{Code, Diagnostic};
use std::ops::Range;

impl<'a> Lexer<'a> {
    /// The problem with a number that cannot be held: only that keeps what begins with a digit from being
    /// one.
    fn no_number(&self) -> Box<Diagnostic> {
        let rest = self.rest();
        let digits_from = |at: usize| {
            let after = rest.get(at..).unwrap_or_default();
            at + after.find(|c: char| !c.is_ascii_digit()).unwrap_or(after.len())
        };
        let fraction = rest.find('/').filter(|at| {
            rest.get(..*at)
                .is_some_and(|above| !above.contains(|c: char| !" +-0123456789".contains(c)))
        });
        if let Some(line) = fraction {
            let end = digits_from(line + 1);
            let below = rest.get(line + 1..end).unwrap_or_default();
            if below.bytes().all(|digit| digit == b'0') {
                let number = rest.get(..end).unwrap_or_default();
                let message = format!("the fraction `{number}` divides by zero");
                let problem = self.bad(self.at..self.at + end, message);
                return problem.help("write another denominator").into();
            }
            return self.too_large(end);
        }
        let signed = usize::from(rest.starts_with(['+', '-']));
        let mut end = digits_from(signed);
        if rest.get(end..).is_some_and(|after| after.starts_with('.')) {
            end = digits_from(end + 1);
        }
        if let Some(power) = rest.get(end..).and_then(|after| after.strip_prefix(['e', 'E'])) {
            end = digits_from(end + 1 + usize::from(power.starts_with(['+', '-'])));
        }
        self.too_large(end)
    }

    /// The problem with a number of some bytes.
    fn too_large(&self, length: usize) -> Box<Diagnostic> {
        let number = self.rest().get(..length).unwrap_or_default();
        let place = self.scalar.part(self.at..self.at + length);
        Diagnostic::error(
            Code::NotFinite,
            place,
            format!("the number `{number}` is too large to be held"),
        )
        .help("look at its exponent")
        .into()
    }

    /// Reads the number at `at`, with the unit behind it, and moves behind both.
    pub(super) fn number(&mut self) -> Read<TokenKind> {
        let start = self.at;
        let Some((value, length)) = parse_number(self.rest()) else {
            return Err(self.no_number());
        };
        let number = self.rest().get(..length).unwrap_or_default();
        self.at += length;
        let (unit, unit_text) = self.unit()?;
        let value = unit.to_si(value);
        if !value.is_finite() {
            self.at = start;
            return Err(self.too_large(length));
        }
        let written =
            if unit_text.is_empty() { number.into() } else { format!("{number} {unit_text}") };
        Ok(TokenKind::Number(Number { value, unit, written }))
    }

    /// The unit behind a number, and its text; that of a plain number if there is none.
    fn unit(&mut self) -> Read<(Unit, &'a str)> {
        let rest = self.rest();
        let blanks = rest.len() - rest.trim_start().len();
        let word = unit_word(rest.get(blanks..).unwrap_or_default());
        let begins = word.starts_with(|c: char| c.is_alphabetic() || matches!(c, '°' | '%'))
            || word.starts_with("1/");
        if !begins || KEYWORDS.contains(&word) {
            return Ok((Unit::number(), ""));
        }
        let start = self.at + blanks;
        let (unit, length) = match parse_unit(word) {
            Ok(found) => found,
            Err((message, range)) => return Err(self.no_unit(start, word, &message, range)),
        };
        self.at = start + length;
        let behind = word.get(length..).unwrap_or_default();
        if behind.is_empty() {
            return Ok((unit, word));
        }
        let symbol = word.get(..length).unwrap_or_default();
        if behind.starts_with('(') && Function::of_word(symbol).is_some() {
            return Err(self.operator_missing(start, symbol));
        }
        let place = self.at..self.at + behind.chars().next().map_or(0, char::len_utf8);
        if behind.starts_with(['+', '-', '*', '/']) {
            return Err(self.missing_blank(place));
        }
        let problem = self.bad(place, format!("this cannot stand behind the unit in `{word}`"));
        Err(problem.help(BLANKS_AND_UNITS).into())
    }

    /// The problem with a word that stands where a unit would and is none.
    fn no_unit(
        &self,
        start: usize,
        word: &str,
        message: &str,
        range: Range<usize>,
    ) -> Box<Diagnostic> {
        let name = word.get(..name_length(word)).unwrap_or_default();
        let behind = word.get(name.len()..).unwrap_or_default();
        if name.contains('.') || behind.starts_with('(') {
            return self.operator_missing(start, name);
        }
        if let Some((_, below)) = word.split_once("/(")
            && is_unit(below)
        {
            let blank = start + word.len();
            let message = format!("the bracket of the unit `{word}` is not closed");
            let place = start..blank;
            return self.bad(place, message).help("units have no blank inside: `kJ/(kg·K)`").into();
        }
        if KEYWORDS.iter().any(|keyword| keyword.eq_ignore_ascii_case(word)) {
            return capital(self.scalar, start..start + word.len(), word);
        }
        if let Some(at) = word.find(['+', '-', '*', '/'])
            && is_unit(word.get(..at).unwrap_or_default())
            && !goes_on_as_unit(word.get(at..).unwrap_or_default())
        {
            return self.missing_blank(start + at..start + at + 1);
        }
        let place = start + range.start..start + range.end.max(range.start);
        // The reader of units says what is wrong and what to write in one sentence.
        let (title, help) = message.split_once(": ").unwrap_or((message, BLANKS_AND_UNITS));
        self.bad(place, title).help(help).into()
    }
}

/// Whether a unit stands behind a `*` or `/`: then the slip is one of units, not of operators.
fn goes_on_as_unit(text: &str) -> bool {
    let after = text.strip_prefix(['*', '/']).unwrap_or_default();
    let letters = after.find(|c: char| !c.is_alphabetic()).unwrap_or(after.len());
    is_unit(after.get(..letters).unwrap_or_default())
}

/// Whether a whole word is a unit.
pub(super) fn is_unit(word: &str) -> bool {
    parse_unit(word).is_ok_and(|(_, length)| length == word.len())
}

/// The stretch at the start in which a unit can stand: up to a blank, a comma, or a bracket that closes
/// more than it opens.
fn unit_word(text: &str) -> &str {
    let mut open = 0_usize;
    for (i, c) in text.char_indices() {
        match c {
            '(' => open += 1,
            ')' if open == 0 => return text.get(..i).unwrap_or_default(),
            ')' => open -= 1,
            ',' => return text.get(..i).unwrap_or_default(),
            _ if c.is_whitespace() => return text.get(..i).unwrap_or_default(),
            _ => {}
        }
    }
    text
}
