//! What to say where a token does not fit: the usual slips, each with what to write instead.

use super::number::is_unit;
use super::parse::{DEEPEST, Parser};
use super::token::{KEYWORDS, Token, TokenKind, WRITE_OPERATOR, capital};
use super::{Function, Operator};
use crate::source::{Code, Diagnostic, nearest};
use std::ops::Range;

type Problem = Box<Diagnostic>;

impl<'a> Parser<'a> {
    /// The problem where a value should begin.
    pub(super) fn value_missing(&self) -> Problem {
        let whole = 0..self.scalar.text.len();
        let problem = match (self.peek(0), self.back(1)) {
            (Some(Token { kind: TokenKind::Bad(problem), .. }), _) => return problem.clone(),
            (Some(found), _) => {
                self.bad(&found.range, format!("a value is missing before `{}`", found.text))
            }
            (None, Some(last)) => {
                self.bad(&last.range, format!("a value is missing behind `{}`", last.text))
            }
            (None, None) => self.bad(&whole, "nothing stands here; a formula is expected"),
        };
        problem.help("a value is a number with its unit, a measure, a function or a bracket").into()
    }

    /// The problem with a token behind a whole formula or test.
    pub(super) fn unexpected(&self) -> Problem {
        let Some(found) = self.peek(0) else { return self.value_missing() };
        let (range, text) = (&found.range, found.text);
        match &found.kind {
            TokenKind::Bad(problem) => problem.clone(),
            TokenKind::Close => {
                let problem = self.bad(range, "this bracket closes nothing");
                problem.help("take it away, or open it where it begins").into()
            }
            TokenKind::Comma => {
                let problem = self.bad(range, "a comma stands only between arguments");
                problem.help("a number has a decimal point, not a comma").into()
            }
            TokenKind::Name if is_capital(text) => capital(self.scalar, range.clone(), text),
            TokenKind::Name if KEYWORDS.contains(&text) => self.misplaced_keyword(found),
            TokenKind::Name if self.is_rest_of_unit(text) => {
                let message = format!("a blank stands inside a unit before `{text}`");
                let help = "units have no blank inside: `N·m`, `kJ/(kg·K)`";
                self.bad(range, message).help(help).into()
            }
            TokenKind::Name if matches!(text, "least" | "most") => self
                .bad(range, format!("`at` is missing before `{text}`"))
                .help(format!("write `at {text}`"))
                .into(),
            TokenKind::Open if self.back(1).is_some_and(is_function) => {
                let problem = self.bad(range, "a blank stands before the bracket of a function");
                problem.help("write `max(a, b)`").into()
            }
            _ => {
                let problem = self.bad(range, format!("an operator is missing before `{text}`"));
                problem.help(WRITE_OPERATOR).into()
            }
        }
    }

    /// The problem with a name that is no measure.
    pub(super) fn unknown_name(&self, name: &Token<'a>) -> Problem {
        let (range, text) = (&name.range, name.text);
        if is_capital(text) {
            return capital(self.scalar, range.clone(), text);
        }
        if KEYWORDS.contains(&text) {
            return self.value_missing();
        }
        if let Some(problem) = self.spread_unit(name) {
            return problem;
        }
        if Function::of_word(text).is_some() {
            let blank = matches!(self.peek(1), Some(Token { kind: TokenKind::Open, .. }));
            let wrong = if blank { "a blank stands behind it" } else { "brackets are missing" };
            let message = format!("`{text}` is a function, and {wrong}");
            return self.bad(range, message).help(format!("write `{text}( )`")).into();
        }
        if let Some(problem) = self.joined_by_hyphen(name) {
            return problem;
        }
        let message = format!("`{text}` is no measure");
        let problem = Diagnostic::error(Code::UnknownName, self.span(range), message);
        Box::new(match self.names.nearest_measure(text) {
            Some(meant) => problem.help(format!("did you mean `{meant}`?")),
            None => problem.help("`explain` lists the measures"),
        })
    }

    /// The problem with a word before a bracket that is no function.
    pub(super) fn unknown_function(&self, word: &Token<'a>) -> Problem {
        let message = format!("`{}` is no function", word.text);
        if KEYWORDS.contains(&word.text) {
            let problem = self.bad(&word.range, format!("`{}` needs a blank behind it", word.text));
            return problem.help(format!("write `{} (`", word.text)).into();
        }
        if self.names.measure(word.text).is_some() {
            let open = word.range.end..word.range.end + 1;
            let problem = self.bad(&open, "an operator is missing before `(`");
            return problem.help(WRITE_OPERATOR).into();
        }
        let words = Function::ALL.map(Function::word);
        let problem = Diagnostic::error(Code::UnknownName, self.span(&word.range), message);
        Box::new(match nearest(word.text, words) {
            Some(meant) => problem.help(format!("did you mean `{meant}`?")),
            None => problem.help(format!("the functions are {}", words.join(", "))),
        })
    }

    /// A difference written without its blanks: `a-b` or `a- b`.
    fn joined_by_hyphen(&self, name: &Token<'a>) -> Option<Problem> {
        let (start, text) = (name.range.start, name.text);
        let known = |word: &str| self.names.measure(word).is_some();
        let (at, _) = text.match_indices('-').find(|(at, _)| {
            let right = text.get(at + 1..).unwrap_or_default();
            known(text.get(..*at).unwrap_or_default()) && (right.is_empty() || known(right))
        })?;
        let place = start + at..start + at + 1;
        let (left, right) = (text.get(..at)?, text.get(at + 1..)?);
        let help = format!("`{text}` is one name; for a difference write `{left} - {right}`");
        let next = self.peek(1).map_or("…", |next| next.text);
        let help = if right.is_empty() { format!("write `{left} - {next}`") } else { help };
        let problem = self.bad(&place, "the operator `-` needs a blank on both sides");
        Some(problem.help(help).into())
    }

    fn misplaced_keyword(&self, found: &Token<'a>) -> Problem {
        let text = found.text;
        let problem = self.bad(&found.range, format!("`{text}` does not fit here"));
        let help = if self.of_tests {
            "a test is `a at least b`, `a at most b`, `path is given` or `path is word`; `and` and `or` \
             join tests"
        } else {
            "a formula only computes; conditions stand under `when`, as `a at least b`, `path is given` \
             or `path is word`, joined by `and` and `or`"
        };
        problem.help(help).into()
    }

    /// Whether a word behind a quantity is a unit itself.
    fn is_rest_of_unit(&self, word: &str) -> bool {
        self.back(1).is_some_and(has_unit) && is_unit(word)
    }

    /// A unit cut in two by blanks round its sign: `12 L / min`.
    fn spread_unit(&self, name: &Token<'a>) -> Option<Problem> {
        let number = self.back(2).filter(|number| has_unit(number))?;
        let Some(Token { kind: TokenKind::Operator(operator), .. }) = self.back(1) else {
            return None;
        };
        if !matches!(operator, Operator::Multiply | Operator::Divide) || !is_unit(name.text) {
            return None;
        }
        let message = format!("a blank stands inside a unit before `{}`", name.text);
        let help = format!("write `{}{}{}`", number.text, operator.sign(), name.text);
        Some(self.bad(&name.range, message).help(help).into())
    }
}

/// Where brackets first stand too deep, and how deep they get.
pub(super) fn too_deep(tokens: &[Token<'_>]) -> Option<(Range<usize>, usize)> {
    let (mut depth, mut deepest, mut place) = (0_usize, 0_usize, None);
    for token in tokens {
        match token.kind {
            TokenKind::Open => depth += 1,
            TokenKind::Close => depth = depth.saturating_sub(1),
            _ => {}
        }
        if depth > DEEPEST && place.is_none() {
            place = Some(token.range.clone());
        }
        deepest = deepest.max(depth);
    }
    place.map(|place| (place, deepest))
}

fn has_unit(token: &Token<'_>) -> bool {
    matches!(&token.kind, TokenKind::Number(number) if !number.unit.is_bare())
}

fn is_function(token: &Token<'_>) -> bool {
    Function::of_word(token.text).is_some()
}

/// Whether a word is one of the grammar but for its capitals.
pub(super) fn is_capital(word: &str) -> bool {
    !KEYWORDS.contains(&word) && KEYWORDS.iter().any(|keyword| keyword.eq_ignore_ascii_case(word))
}
