//! Formulas from text, by recursive descent over the tokens.
//!
//! ```text
//! formula = term { (" + "|" - ") term } ;     term = signed { (" * "|" / ") signed } ;
//! signed  = ["-"] atom ;
//! atom    = number [" " unit] | name | function "(" formula {", " formula} ")" | "(" formula ")" ;
//! ```

use super::check::{self, Checked};
use super::names::Names;
use super::slip::too_deep;
use super::token::{Token, TokenKind, tokens};
use super::{Formula, FormulaKind, Function, Operator};
use crate::measure::Spec;
use crate::quantity::Dimension;
use crate::source::{Code, Diagnostic, Scalar, Span};
use std::ops::Range;

/// Bytes of one formula or condition; the longest that anybody would read is a tenth of it. It also bounds
/// how many operators follow each other, and with that how deep the tree of a long sum is.
pub(super) const LONGEST: usize = 4096;

/// Brackets within brackets; it bounds the recursion of the parser.
pub(super) const DEEPEST: usize = 64;

/// Reads a whole scalar as a formula.
pub(super) fn parse_formula(scalar: &Scalar, names: &Names<'_>) -> Checked<Formula> {
    let mut parser = Parser::new(scalar, names)?;
    let formula = parser.formula()?.formula;
    parser.finish()?;
    Ok(formula)
}

/// A formula and the bytes it takes, brackets round it included.
pub(super) struct Parsed {
    pub formula: Formula,
    pub range: Range<usize>,
}

/// Reads tokens one after the other.
pub(super) struct Parser<'a> {
    pub scalar: &'a Scalar,
    pub names: &'a Names<'a>,
    /// Whether a condition is read, where keywords are at home.
    pub of_tests: bool,
    tokens: Vec<Token<'a>>,
    at: usize,
}

impl<'a> Parser<'a> {
    /// A parser at the beginning of a text within the limits.
    pub(super) fn new(scalar: &'a Scalar, names: &'a Names<'a>) -> Checked<Self> {
        let length = scalar.text.len();
        if length > LONGEST {
            let message = format!("the formula is {length} bytes long; the limit is {LONGEST}");
            let problem = Diagnostic::error(Code::LimitReached, scalar.span, message);
            return Err(problem.help("split the rule into several").into());
        }
        let tokens = tokens(scalar);
        if let Some((place, depth)) = too_deep(&tokens) {
            let message = format!("brackets stand {depth} deep; the limit is {DEEPEST}");
            let problem = Diagnostic::error(Code::LimitReached, scalar.part(place), message);
            return Err(problem.help("write the formula with fewer brackets").into());
        }
        Ok(Self { scalar, names, of_tests: false, tokens, at: 0 })
    }

    /// Terms joined by `+` and `-`.
    pub(super) fn formula(&mut self) -> Checked<Parsed> {
        let mut left = self.term()?;
        while let Some(operator @ (Operator::Add | Operator::Subtract)) = self.operator() {
            self.at += 1;
            let right = self.term()?;
            left = self.binary(operator, left, right)?;
        }
        Ok(left)
    }

    /// Signed atoms joined by `*` and `/`.
    fn term(&mut self) -> Checked<Parsed> {
        let mut left = self.signed()?;
        while let Some(operator @ (Operator::Multiply | Operator::Divide)) = self.operator() {
            self.at += 1;
            let right = self.signed()?;
            left = self.binary(operator, left, right)?;
        }
        Ok(left)
    }

    fn signed(&mut self) -> Checked<Parsed> {
        let Some(Token { kind: TokenKind::Sign, range, .. }) = self.peek(0) else {
            return self.atom();
        };
        let start = range.start;
        self.at += 1;
        let inner = self.atom()?;
        let range = start..inner.range.end;
        let formula = check::negative(inner.formula, self.scalar.part(range.clone()))?;
        Ok(Parsed { formula, range })
    }

    fn atom(&mut self) -> Checked<Parsed> {
        let Some(token) = self.peek(0).cloned() else { return Err(self.value_missing()) };
        match token.kind {
            TokenKind::Number(number) => {
                self.at += 1;
                let dimension = number.unit.dimension;
                Ok(self.leaf(FormulaKind::Number(number), dimension, token.range))
            }
            TokenKind::Open => self.brackets(token.range),
            TokenKind::Name if self.opens_behind(&token) => self.call(&token),
            TokenKind::Name => {
                let spec = self.measure(&token)?;
                self.at += 1;
                let mut leaf = self.leaf(FormulaKind::Measure(spec), spec.dimension, token.range);
                leaf.formula.each = check::each(spec, leaf.formula.span);
                Ok(leaf)
            }
            TokenKind::Bad(problem) => Err(problem),
            _ => Err(self.value_missing()),
        }
    }

    fn leaf(&self, kind: FormulaKind, dimension: Dimension, range: Range<usize>) -> Parsed {
        let span = self.scalar.part(range.clone());
        Parsed { formula: Formula { kind, dimension, span, each: None }, range }
    }

    fn brackets(&mut self, open: Range<usize>) -> Checked<Parsed> {
        self.at += 1;
        let inner = self.formula()?;
        let end = self.close(&open)?;
        Ok(Parsed { formula: inner.formula, range: open.start..end })
    }

    fn call(&mut self, word: &Token<'a>) -> Checked<Parsed> {
        let Some(function) = Function::of_word(word.text) else {
            return Err(self.unknown_function(word));
        };
        let open = word.range.end..word.range.end + 1;
        self.at += 2;
        let mut arguments = vec![self.formula()?.formula];
        while matches!(self.peek(0), Some(Token { kind: TokenKind::Comma, .. })) {
            self.at += 1;
            arguments.push(self.formula()?.formula);
        }
        let range = word.range.start..self.close(&open)?;
        let (name, whole) = (self.span(&word.range), self.span(&range));
        let formula = check::call(function, name, arguments, whole)?;
        Ok(Parsed { formula, range })
    }

    /// The bracket that closes the one at `open`; the end of its bytes.
    pub(super) fn close(&mut self, open: &Range<usize>) -> Checked<usize> {
        match self.peek(0) {
            Some(Token { kind: TokenKind::Close, range, .. }) => {
                let end = range.end;
                self.at += 1;
                Ok(end)
            }
            Some(_) => Err(self.unexpected()),
            None => {
                let problem = self.bad(open, "this bracket is never closed");
                Err(problem.help("write `)` where it ends").into())
            }
        }
    }

    fn binary(&self, operator: Operator, left: Parsed, right: Parsed) -> Checked<Parsed> {
        let range = left.range.start..right.range.end;
        let span = self.span(&range);
        let formula = check::binary(operator, left.formula, right.formula, span)?;
        Ok(Parsed { formula, range })
    }

    fn operator(&self) -> Option<Operator> {
        match self.peek(0)?.kind {
            TokenKind::Operator(operator) => Some(operator),
            _ => None,
        }
    }

    fn measure(&self, token: &Token<'a>) -> Checked<&'static Spec> {
        match self.names.measure(token.text) {
            Some(spec) => Ok(spec),
            None => Err(self.unknown_name(token)),
        }
    }

    /// Checks that nothing is left.
    pub(super) fn finish(&self) -> Checked<()> {
        if self.peek(0).is_none() { Ok(()) } else { Err(self.unexpected()) }
    }

    /// The token `ahead` of the next one.
    pub(super) fn peek(&self, ahead: usize) -> Option<&Token<'a>> {
        self.tokens.get(self.at + ahead)
    }

    /// A token before the next one; 1 for the last that was read.
    pub(super) fn back(&self, count: usize) -> Option<&Token<'a>> {
        self.tokens.get(self.at.checked_sub(count)?)
    }

    /// Moves on by some tokens.
    pub(super) fn skip(&mut self, count: usize) {
        self.at += count;
    }

    /// Whether a word stands `ahead` of the next token.
    pub(super) fn is_word(&self, ahead: usize, word: &str) -> bool {
        self.peek(ahead)
            .is_some_and(|token| matches!(token.kind, TokenKind::Name) && token.text == word)
    }

    pub(super) fn span(&self, range: &Range<usize>) -> Span {
        self.scalar.part(range.clone())
    }

    pub(super) fn bad(&self, range: &Range<usize>, message: impl Into<String>) -> Diagnostic {
        Diagnostic::error(Code::BadFormula, self.span(range), message)
    }

    fn opens_behind(&self, word: &Token<'a>) -> bool {
        self.peek(1).is_some_and(|next| {
            matches!(next.kind, TokenKind::Open) && next.range.start == word.range.end
        })
    }
}
