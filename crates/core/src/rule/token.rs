//! The tokens of a formula or condition, each with its byte range in the scalar.

use super::{Number, Operator};
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

pub(super) const BLANKS_AND_UNITS: &str = "operators have a blank on both sides and units none inside: `12 L/min` is a quantity, \
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

/// A part of a token, or why it cannot be read.
pub(super) type Read<T> = Result<T, Box<Diagnostic>>;

/// Cuts one token after the other.
pub(super) struct Lexer<'a> {
    pub scalar: &'a Scalar,
    text: &'a str,
    pub at: usize,
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

    pub(super) fn operator_missing(&self, start: usize, name: &str) -> Box<Diagnostic> {
        let place = start..start + name.len();
        let problem = self.bad(place, format!("an operator is missing before `{name}`"));
        problem.help(WRITE_OPERATOR).into()
    }

    pub(super) fn missing_blank(&self, place: Range<usize>) -> Box<Diagnostic> {
        let sign = self.text.get(place.clone()).unwrap_or_default();
        let message = format!("the operator `{sign}` needs a blank on both sides");
        self.bad(place, message).help(BLANKS_AND_UNITS).into()
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

    pub(super) fn rest(&self) -> &'a str {
        self.text.get(self.at..).unwrap_or_default()
    }

    pub(super) fn bad(&self, range: Range<usize>, message: impl Into<String>) -> Diagnostic {
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

/// Bytes of the dotted name at the start; 0 if there is none.
pub(super) fn name_length(text: &str) -> usize {
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
