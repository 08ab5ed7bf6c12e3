//! Conditions from text, on top of the formula's parser.
//!
//! ```text
//! condition = clause {" or " clause} ;        clause = test {" and " test} ;
//! test = ["not "] ( name " is given" | name " is " word | formula (" at least "|" at most ") formula
//!      | "(" condition ")" ) ;
//! ```

use super::check::{self, Checked};
use super::names::Names;
use super::parse::{Parsed, Parser};
use super::slip::is_capital;
use super::token::{KEYWORDS, Token, TokenKind, capital};
use super::{Condition, DocumentPath, Test, TestKind};
use crate::document::field::Form;
use crate::source::{Diagnostic, Scalar, nearest};
use std::ops::Range;

/// Words that can stand where else a quantity does.
const BESIDE_QUANTITIES: [(&str, &str); 1] = [("baffles.*.bottom", "floor")];

/// Reads a whole scalar as a condition.
pub(super) fn parse_condition(scalar: &Scalar, names: &Names<'_>) -> Checked<Condition> {
    let mut parser = Parser::new(scalar, names)?;
    parser.of_tests = true;
    let condition = parser.condition()?;
    parser.finish()?;
    Ok(condition)
}

impl<'a> Parser<'a> {
    /// Clauses joined by `or`.
    fn condition(&mut self) -> Checked<Condition> {
        let start = self.next_start();
        let mut clauses = vec![self.clause()?];
        while self.is_word(0, "or") {
            self.skip(1);
            clauses.push(self.clause()?);
        }
        Ok(Condition { clauses, span: self.span(&self.read_since(start)) })
    }

    /// Tests joined by `and`.
    fn clause(&mut self) -> Checked<Vec<Test>> {
        let mut tests = vec![self.test()?];
        while self.is_word(0, "and") {
            self.skip(1);
            tests.push(self.test()?);
        }
        Ok(tests)
    }

    fn test(&mut self) -> Checked<Test> {
        let start = self.next_start();
        let negated = self.is_word(0, "not");
        if negated {
            self.skip(1);
            if let Some(again) = self.peek(0).filter(|_| self.is_word(0, "not")) {
                let problem = self.bad(&again.range, "`not` stands twice");
                return Err(problem.help("leave both out").into());
            }
        }
        let kind = self.test_kind()?;
        Ok(Test { negated, kind, span: self.span(&self.read_since(start)) })
    }

    fn test_kind(&mut self) -> Checked<TestKind> {
        let Some(first) = self.peek(0).cloned() else { return Err(self.value_missing()) };
        match first.kind {
            TokenKind::Open if self.brackets_hold_a_condition() => {
                self.skip(1);
                let inner = self.condition()?;
                self.close(&first.range)?;
                Ok(TestKind::Group(inner))
            }
            TokenKind::Name if self.is_word(1, "is") => self.about_path(&first),
            TokenKind::Name if self.capital_ahead("is") => {
                let word = self.peek(1).map_or("", |word| word.text);
                let place = self.peek(1).map_or(0..0, |word| word.range.clone());
                Err(capital(self.scalar, place, word))
            }
            TokenKind::Name if self.names.measure(first.text).is_none() => {
                // In `facing = down` the sign is wrong, not the name.
                match self.peek(1) {
                    Some(Token { kind: TokenKind::Bad(problem), .. }) => Err(problem.clone()),
                    _ => self.comparison(),
                }
            }
            _ => self.comparison(),
        }
    }

    /// `name is given` or `name is word`.
    fn about_path(&mut self, name: &Token<'_>) -> Checked<TestKind> {
        if KEYWORDS.contains(&name.text) {
            return Err(self.value_missing());
        }
        let path = self.names.path(name.text, self.span(&name.range))?;
        self.skip(2);
        let word = self.word_behind_is()?;
        let test = match word.text {
            "given" => {
                self.skip(1);
                TestKind::Given(path)
            }
            "none" => {
                return Err(self.no_such_word(&word, format!("write `not {} is given`", name.text)));
            }
            _ => {
                let stated = self.stated_word(&path, &word)?;
                TestKind::Is(path, stated)
            }
        };
        match self.peek(0) {
            Some(next @ Token { kind: TokenKind::Name, .. })
                if !KEYWORDS.contains(&next.text) && !is_capital(next.text) =>
            {
                let message = format!("`and` or `or` is missing before `{}`", next.text);
                Err(self.bad(&next.range, message).help("join two tests by `and` or `or`").into())
            }
            _ => Ok(test),
        }
    }

    /// The token behind `is`, if it is a word.
    fn word_behind_is(&self) -> Checked<Token<'a>> {
        let Some(word) = self.peek(0) else {
            let behind = self.back(1).map_or(0..0, |last| last.range.clone());
            let problem = self.bad(&behind, "a word is missing behind `is`");
            return Err(problem
                .help("write `is given`, or the word that should stand there")
                .into());
        };
        if let TokenKind::Bad(problem) = &word.kind {
            return Err(problem.clone());
        }
        if !matches!(word.kind, TokenKind::Name) || word.text.contains('.') {
            let message = format!("`{}` is not a single word", word.text);
            let help = "quantities are compared by `at least` and `at most`";
            return Err(self.bad(&word.range, message).help(help).into());
        }
        if KEYWORDS.contains(&word.text) {
            let problem =
                self.bad(&word.range, format!("`{}` cannot stand behind `is`", word.text));
            return Err(problem.help("write `not` before the path: `not pickup is given`").into());
        }
        Ok(word.clone())
    }

    /// Takes the word, or the words of one name such as `sand casting`, that can stand at a path.
    fn stated_word(&mut self, path: &DocumentPath, word: &Token<'_>) -> Checked<String> {
        let field = self.names.field(path);
        if field.is_some_and(|field| {
            field.dimension.is_some() && !BESIDE_QUANTITIES.contains(&(field.path, word.text))
        }) {
            let help = "a quantity stands there: ask for `is given`, or compare a measure";
            return Err(self.no_such_word(word, help.to_owned()));
        }
        let Some(Form::Words(known)) = field.map(|field| field.form) else {
            self.skip(1);
            return Ok(word.text.to_owned());
        };
        let stands =
            |name: &&&str| name.split(' ').enumerate().all(|(i, part)| self.is_word(i, part));
        let count = |name: &str| name.split(' ').count();
        if let Some(name) = known.iter().filter(stands).max_by_key(|name| count(name)) {
            self.skip(count(name));
            return Ok((*name).to_owned());
        }
        let help = match nearest(word.text, known.iter().copied()) {
            Some(meant) => format!("did you mean `{meant}`?"),
            None => format!("there can stand {}", known.join(", ")),
        };
        Err(self.no_such_word(word, help))
    }

    fn no_such_word(&self, word: &Token<'_>, help: String) -> Box<Diagnostic> {
        let message = format!("`{}` is no word that can stand there", word.text);
        self.bad(&word.range, message).help(help).into()
    }

    /// `formula at least formula` or `formula at most formula`.
    fn comparison(&mut self) -> Checked<TestKind> {
        let left = self.formula()?;
        if !self.is_word(0, "at") {
            return Err(self.comparison_missing(&left));
        }
        let at = self.peek(0).map_or(0..0, |word| word.range.clone());
        let (least, most) = (self.is_word(1, "least"), self.is_word(1, "most"));
        if !least && !most {
            let problem = self.bad(&at, "`at` stands without `least` or `most`");
            return Err(problem.help("write `at least` or `at most`").into());
        }
        self.skip(2);
        let right = self.formula()?;
        if self.is_word(0, "at") {
            let again = self.peek(0).map_or(0..0, |word| word.range.clone());
            let problem = self.bad(&again, "a second comparison follows the first");
            return Err(problem.help("write two comparisons and join them by `and`").into());
        }
        check::agree(&left.formula, &right.formula)?;
        check::join(left.formula.each, right.formula.each)?;
        Ok(if least {
            TestKind::AtLeast(left.formula, right.formula)
        } else {
            TestKind::AtMost(left.formula, right.formula)
        })
    }

    /// The problem with a formula that nothing is compared with.
    fn comparison_missing(&self, left: &Parsed) -> Box<Diagnostic> {
        let ends = match self.peek(0) {
            None => true,
            Some(next) => {
                matches!(next.kind, TokenKind::Close) || matches!(next.text, "and" | "or")
            }
        };
        if !ends {
            return self.unexpected();
        }
        let text = self.scalar.text.get(left.range.clone()).unwrap_or_default();
        let problem = self.bad(&left.range, format!("`{text}` is compared with nothing"));
        problem.help("write `a at least b` or `a at most b`, or `path is given`").into()
    }

    /// Whether the bracket that opens here holds tests, not a formula: only tests have keywords.
    fn brackets_hold_a_condition(&self) -> bool {
        let mut depth = 0_usize;
        let mut ahead = 0;
        while let Some(token) = self.peek(ahead) {
            match token.kind {
                TokenKind::Open => depth += 1,
                TokenKind::Close if depth == 1 => return false,
                TokenKind::Close => depth -= 1,
                TokenKind::Name if KEYWORDS.contains(&token.text) || is_capital(token.text) => {
                    return true;
                }
                _ => {}
            }
            ahead += 1;
        }
        false
    }

    fn capital_ahead(&self, keyword: &str) -> bool {
        self.peek(1)
            .is_some_and(|next| is_capital(next.text) && next.text.eq_ignore_ascii_case(keyword))
    }

    fn next_start(&self) -> usize {
        self.peek(0).map_or(self.scalar.text.len(), |token| token.range.start)
    }

    /// The bytes from `start` to the end of what was read.
    fn read_since(&self, start: usize) -> Range<usize> {
        start..self.back(1).map_or(start, |last| last.range.end)
    }
}
