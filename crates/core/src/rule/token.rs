//! The tokens of a formula or condition, each with its byte range in the scalar.

use super::{Function, Number, Operator};
use crate::quantity::{Unit, parse_number, parse_unit};
use crate::source::{Code, Diagnostic, Scalar};
use std::ops::Range;

/// A token.
#[derive(Debug, Clone)]
pub(super) struct Token<'a> {
    /// What it is.
    pub kind: TokenKind,
    /// As written.
    pub text: &'a str,
    /// Its bytes in the text of the scalar.
    pub range: Range<usize>,
}

/// The kinds of token.
#[derive(Debug, Clone)]
pub(super) enum TokenKind {
    /// A number with its unit.
    Number(Number),
    /// A dotted name, a function or a word of the grammar.
    Name,
    /// `(`.
    Open,
    /// `)`.
    Close,
    /// `,`.
    Comma,
    /// An operator with its blanks.
    Operator(Operator),
    /// A minus that belongs to what follows.
    Sign,
    /// What cannot be read; the last token.
    Bad(Box<Diagnostic>),
}

/// The words that stand for themselves in a condition.
pub(super) const KEYWORDS: [&str; 5] = ["and", "or", "not", "is", "at"];

const BLANKS_AND_UNITS: &str = "operators have a blank on both sides and units none inside: `12 L/min` is a quantity, \
     `12 L / min(a, b)` a division";

pub(super) const WRITE_OPERATOR: &str = "write `+`, `-`, `*` or `/` with a blank on both sides";

/// Cuts a text into tokens, up to the first thing that cannot be read.
pub(super) fn tokens(scalar: &Scalar) -> Vec<Token<'_>> {
    let mut lexer = Lexer { scalar, text: &scalar.text, at: 0, tokens: Vec::new() };
    while lexer.skip_blanks() {
        let start = lexer.at;
        let kind = match lexer.next_kind() {
            Ok(kind) => kind,
            Err(problem) => {
                lexer.at = lexer.text.len();
                TokenKind::Bad(problem)
            }
        };
        let range = start..lexer.at;
        let text = lexer.text.get(range.clone()).unwrap_or_default();
        lexer.tokens.push(Token { kind, text, range });
    }
    lexer.tokens
}

type Read<T> = Result<T, Box<Diagnostic>>;

struct Lexer<'a> {
    scalar: &'a Scalar,
    text: &'a str,
    at: usize,
    tokens: Vec<Token<'a>>,
}

impl<'a> Lexer<'a> {
    /// Moves on to the next token; whether there is one.
    fn skip_blanks(&mut self) -> bool {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
        self.at < self.text.len()
    }

    /// Reads the token at `at` and moves behind it.
    fn next_kind(&mut self) -> Read<TokenKind> {
        let Some(first) = self.rest().chars().next() else {
            return Err(self
                .bad(self.at..self.at, "nothing stands here")
                .help("write a value")
                .into());
        };
        match first {
            '(' => Ok(self.take(first, TokenKind::Open)),
            ')' => Ok(self.take(first, TokenKind::Close)),
            ',' => self.comma(),
            '+' => self.operator(first, Operator::Add),
            '-' => self.operator(first, Operator::Subtract),
            '*' => self.operator(first, Operator::Multiply),
            '/' => self.operator(first, Operator::Divide),
            '0'..='9' => self.number(),
            _ if first.is_alphabetic() => Ok(self.name()),
            _ => Err(self.strange(first)),
        }
    }

    fn take(&mut self, first: char, kind: TokenKind) -> TokenKind {
        self.at += first.len_utf8();
        kind
    }

    fn name(&mut self) -> TokenKind {
        self.at += name_length(self.rest());
        TokenKind::Name
    }

    fn comma(&mut self) -> Read<TokenKind> {
        let after = self.rest().get(1..).unwrap_or_default();
        if after.is_empty() || after.starts_with(char::is_whitespace) {
            return Ok(self.take(',', TokenKind::Comma));
        }
        let digits = after.len() - after.trim_start_matches(|c: char| c.is_ascii_digit()).len();
        let number = self.tokens.last().filter(|last| {
            let digit_at_end = last.text.ends_with(|c: char| c.is_ascii_digit());
            let bare = matches!(&last.kind, TokenKind::Number(number) if number.unit.is_bare());
            bare && last.range.end == self.at && digit_at_end
        });
        if let (Some(number), 1..) = (number, digits) {
            let range = number.range.start..self.at + 1 + digits;
            let written = self.text.get(range.clone()).unwrap_or_default();
            let point = written.replace(',', ".");
            return Err(Box::new(
                self.bad(range, format!("`{written}` has a decimal comma")).help(format!(
                    "write `{point}`; between arguments a comma has a blank behind it"
                )),
            ));
        }
        let problem = self.bad(self.at..self.at + 1, "a comma needs a blank behind it");
        Err(Box::new(problem.help("write `max(a, b)`")))
    }

    fn operator(&mut self, sign: char, operator: Operator) -> Read<TokenKind> {
        let here = self.at..self.at + 1;
        let next = self.rest().chars().nth(1);
        if self.wants_operand() {
            return match (sign, next) {
                ('+' | '-', Some('0'..='9')) => self.number(),
                ('-', Some('(')) => Ok(self.take(sign, TokenKind::Sign)),
                ('-', Some(c)) if c.is_alphabetic() => Ok(self.take(sign, TokenKind::Sign)),
                ('+', Some(c)) if c == '(' || c.is_alphabetic() => {
                    let problem = self.bad(here, "only a number has a sign `+`");
                    Err(problem.help("leave it out").into())
                }
                ('+' | '-', _) => {
                    let problem =
                        self.bad(here, format!("the sign `{sign}` stands before no value"));
                    Err(problem.help("a sign stands directly before its value: `-3 mm`").into())
                }
                _ => {
                    let problem = self.bad(here, format!("a value is missing before `{sign}`"));
                    Err(problem.help("an operator stands between two values").into())
                }
            };
        }
        let before = self.text.get(..self.at).unwrap_or_default();
        let blank_before = before.ends_with(char::is_whitespace);
        if blank_before && next.is_none_or(char::is_whitespace) {
            return Ok(self.take(sign, TokenKind::Operator(operator)));
        }
        Err(self.missing_blank(here))
    }

    /// Whether the next token begins a value: then a minus is its sign.
    fn wants_operand(&self) -> bool {
        let mut backward = self.tokens.iter().rev();
        match backward.next() {
            None => true,
            Some(last) => match last.kind {
                TokenKind::Open | TokenKind::Comma | TokenKind::Operator(_) | TokenKind::Sign => {
                    true
                }
                TokenKind::Name => match last.text {
                    "and" | "or" | "not" => true,
                    "least" | "most" => backward.next().is_some_and(|word| word.text == "at"),
                    _ => false,
                },
                _ => false,
            },
        }
    }

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

    fn number(&mut self) -> Read<TokenKind> {
        let start = self.at;
        let Some((value, length)) = parse_number(self.rest()) else {
            return Err(self.no_number());
        };
        self.at += length;
        let number = self.text.get(start..self.at).unwrap_or_default();
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
            Err((message, range)) => return Err(self.no_unit(start, word, message, range)),
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
        message: String,
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
            return self.capital(start..start + word.len(), word);
        }
        if let Some(at) = word.find(['+', '-', '*', '/'])
            && is_unit(word.get(..at).unwrap_or_default())
            && !goes_on_as_unit(word.get(at..).unwrap_or_default())
        {
            return self.missing_blank(start + at..start + at + 1);
        }
        let place = start + range.start..start + range.end.max(range.start);
        self.bad(place, message).help(BLANKS_AND_UNITS).into()
    }

    fn operator_missing(&self, start: usize, name: &str) -> Box<Diagnostic> {
        let place = start..start + name.len();
        let problem = self.bad(place, format!("an operator is missing before `{name}`"));
        problem.help(WRITE_OPERATOR).into()
    }

    fn missing_blank(&self, place: Range<usize>) -> Box<Diagnostic> {
        let sign = self.text.get(place.clone()).unwrap_or_default();
        let message = format!("the operator `{sign}` needs a blank on both sides");
        self.bad(place, message).help(BLANKS_AND_UNITS).into()
    }

    /// The problem with a keyword in capitals.
    fn capital(&self, place: Range<usize>, word: &str) -> Box<Diagnostic> {
        capital(self.scalar, place, word)
    }

    /// The problem with a character that begins no token.
    fn strange(&self, first: char) -> Box<Diagnostic> {
        let rest = self.rest();
        let known = SLIPS.iter().find(|(slip, _, _)| rest.starts_with(slip));
        let (length, found, help) = match known {
            Some((slip, found, help)) => (slip.len(), *found, *help),
            None => (first.len_utf8(), "does not belong in a formula", "leave it out"),
        };
        let place = self.at..self.at + length;
        let written = self.text.get(place.clone()).unwrap_or_default();
        self.bad(place, format!("`{}` {found}", written.escape_debug())).help(help).into()
    }

    fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn bad(&self, range: Range<usize>, message: impl Into<String>) -> Diagnostic {
        Diagnostic::error(Code::BadFormula, self.scalar.part(range), message)
    }
}

/// What is often written instead of what the grammar has: the sign, what is wrong with it, what to write.
const SLIPS: [(&str, &str, &str); 22] = [
    (">=", IS_NO_COMPARISON, "write `a at least b`"),
    ("=>", IS_NO_COMPARISON, "write `a at least b`"),
    ("<=", IS_NO_COMPARISON, "write `a at most b`"),
    ("=<", IS_NO_COMPARISON, "write `a at most b`"),
    (">", IS_NO_COMPARISON, "write `a at least b`, which includes the limit"),
    ("<", IS_NO_COMPARISON, "write `a at most b`, which includes the limit"),
    ("≥", IS_NO_COMPARISON, "write `a at least b`"),
    ("≤", IS_NO_COMPARISON, "write `a at most b`"),
    (
        "==",
        IS_NO_COMPARISON,
        "write `path is word` for words; quantities are compared by `at least` and `at most`",
    ),
    ("!=", IS_NO_COMPARISON, "write `not path is word`"),
    (
        "=",
        IS_NO_COMPARISON,
        "write `path is word` for words; quantities are compared by `at least` and `at most`",
    ),
    ("!", "is no word of a condition", "write `not`"),
    ("&&", "is no word of a condition", "write `and`"),
    ("||", "is no word of a condition", "write `or`"),
    ("%", "stands behind no number", "it is a unit and no operator: `5 %` is 0.05"),
    ("^", "is no operator", "write a power as a product: `a * a`"),
    ("×", "is no operator", "write `*`"),
    ("·", "is no operator", "write `*`"),
    ("÷", "is no operator", "write `/`"),
    ("−", "is not the minus of a formula", "write `-`, the hyphen of the keyboard"),
    ("_", "cannot stand inside a number or begin a name", "write the digits without a gap"),
    (
        ".",
        "does not begin a number or end a name",
        "write `0.5`; a dot stands between the words of a name",
    ),
];

const IS_NO_COMPARISON: &str = "is no comparison here";

/// The problem with a keyword in capitals.
pub(super) fn capital(scalar: &Scalar, place: Range<usize>, word: &str) -> Box<Diagnostic> {
    let small = word.to_ascii_lowercase();
    Diagnostic::error(
        Code::BadFormula,
        scalar.part(place),
        format!("`{word}` is written in small letters"),
    )
    .help(format!("write `{small}`"))
    .into()
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

/// Bytes of the dotted name at the start; 0 if there is none.
fn name_length(text: &str) -> usize {
    let mut length = 0;
    let mut starts_word = true;
    let mut characters = text.char_indices().peekable();
    while let Some((_, c)) = characters.next() {
        let in_word = c.is_alphabetic() || c.is_ascii_digit() || c == '_' || c == '-';
        let dot = c == '.' && characters.peek().is_some_and(|(_, next)| next.is_alphabetic());
        if starts_word && !c.is_alphabetic() || !starts_word && !in_word && !dot {
            break;
        }
        starts_word = dot;
        length += c.len_utf8();
    }
    length
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
