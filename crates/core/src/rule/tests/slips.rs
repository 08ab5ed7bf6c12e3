//! Slips of the pen, each told at its token with what to write.

use super::{NAMES, scalar};
use crate::rule::parse::parse_formula;
use crate::rule::parse_condition::parse_condition;
use crate::source::Code::{self, BadFormula, UnknownName, WrongFormulaDimension};
use crate::source::Diagnostic;

type Row = (&'static str, Code, &'static str, &'static str);

fn check(rows: &[Row], problem_of: impl Fn(&crate::source::Scalar) -> Option<Box<Diagnostic>>) {
    for (text, code, at, said) in rows {
        let (sources, scalar) = scalar(text);
        let Some(problem) = problem_of(&scalar) else { panic!("{text} is read") };
        let found = sources.slice(problem.primary.span);
        assert_eq!((problem.code, found), (*code, *at), "{text}: {problem:?}");
        let whole = format!("{} | {}", problem.message, problem.help.unwrap_or_default());
        assert!(whole.contains(said), "{text}: {whole}");
    }
}

#[test]
fn slips_in_formulas_are_told_at_the_token() {
    check(
        &[
            ("", BadFormula, "", "a formula is expected"),
            ("pickup.floor_gap -8 mm", BadFormula, "-", "a blank on both sides"),
            ("pickup.floor_gap- 8 mm", BadFormula, "-", "write `pickup.floor_gap - 8 mm`"),
            ("8 mm*2", BadFormula, "*", "a blank on both sides"),
            ("2*8 mm", BadFormula, "*", "a blank on both sides"),
            ("- 8 mm", BadFormula, "-", "a sign stands directly before its value"),
            ("* 8 mm", BadFormula, "*", "a value is missing before `*`"),
            ("8 mm + * 2 mm", BadFormula, "*", "a value is missing before `*`"),
            ("3,5 mm", BadFormula, "3,5", "write `3.5`"),
            ("max(3 mm,5 mm)", BadFormula, ",", "a blank behind it"),
            ("8 mm, 9 mm", BadFormula, ",", "only between arguments"),
            ("10 N m", BadFormula, "m", "no blank inside"),
            ("12 L /min", BadFormula, "/", "`12 L/min` is a quantity"),
            ("12 L/min(1, 2)", BadFormula, "(", "`12 L / min(a, b)` a division"),
            ("5 %", BadFormula, "%", "0.05"),
            ("2 × 3 mm", BadFormula, "×", "write `*`"),
            ("8 mm − 3 mm", BadFormula, "−", "keyboard"),
            ("pickup.floor_gap ^ 2", BadFormula, "^", "a * a"),
            (".5 mm", BadFormula, ".", "0.5"),
            ("1_000 mm", BadFormula, "_", "without a gap"),
            ("max (1, 2)", BadFormula, "max", "a blank stands behind it"),
            ("2 (3 + 4)", BadFormula, "(", "an operator is missing"),
            ("pickup.floor_gap(2)", BadFormula, "(", "an operator is missing"),
            ("2 pickup.floor_gap", BadFormula, "pickup.floor_gap", "an operator is missing"),
            ("max()", BadFormula, ")", "a value is missing before `)`"),
            ("abs(2", BadFormula, "(", "never closed"),
            ("pickup is given", UnknownName, "pickup", "no measure"),
            ("8 mm is given", BadFormula, "is", "under `when`"),
            ("Max(1, 2)", UnknownName, "Max", "did you mean `max`?"),
            (
                "pickup.floor_gap.x",
                UnknownName,
                "pickup.floor_gap.x",
                "did you mean `pickup.floor_gap`?",
            ),
            ("0 + 8 mm", WrongFormulaDimension, "0", "write `0 mm`"),
            ("8 mm - 0", WrongFormulaDimension, "0", "write `0 mm`"),
            ("max(8 mm, -1)", WrongFormulaDimension, "-1", "write `-1 mm`"),
            (
                "min(8 mm, 2 deg)",
                WrongFormulaDimension,
                "2 deg",
                "this is an angle, and should be a length",
            ),
            ("40 degC + 20 degC", WrongFormulaDimension, "20 degC", "may be subtracted"),
            ("20 K - 40 degC", WrongFormulaDimension, "40 degC", "may be subtracted"),
            ("2 * 40 degC", WrongFormulaDimension, "40 degC", "may be subtracted"),
            ("-max(1 degC, 40 degC)", WrongFormulaDimension, "max(1 degC, 40 degC)", "no opposite"),
            ("40 degC - 2 mm", WrongFormulaDimension, "2 mm", "a temperature"),
            ("sqrt(8 L)", WrongFormulaDimension, "8 L", "even power"),
            (
                "spread(baseline(pickup.floor_gap))",
                BadFormula,
                "baseline(pickup.floor_gap)",
                "not followed",
            ),
            (
                "baseline(1 mm + spread(pickup.floor_gap))",
                BadFormula,
                "spread(pickup.floor_gap)",
                "not followed",
            ),
            ("most(pickup.floor_gap)", BadFormula, "pickup.floor_gap", "max(a, b)"),
            ("least(least(fin.root))", BadFormula, "least(fin.root)", "min(a, b)"),
            ("fin.root * drain.residual_share", Code::TwoKinds, "drain.residual_share", "least( )"),
            (
                "sum(fin.root * drain.residual_share)",
                Code::TwoKinds,
                "drain.residual_share",
                "each of the fins",
            ),
        ],
        |scalar| parse_formula(scalar, &NAMES).err(),
    );
}

#[test]
fn slips_in_conditions_are_told_at_the_token() {
    check(
        &[
            ("pickup.floor_gap > 8 mm", BadFormula, ">", "at least"),
            ("pickup.floor_gap <= 8 mm", BadFormula, "<=", "at most"),
            ("pickup.inlet.facing == down", UnknownName, "pickup.inlet.facing", "no measure"),
            ("pickup is given Or wall is given", BadFormula, "Or", "write `or`"),
            ("pickup IS given", BadFormula, "IS", "write `is`"),
            ("NOT pickup is given", BadFormula, "NOT", "write `not`"),
            ("pickup is given || wall is given", BadFormula, "||", "write `or`"),
            ("pickup is given and", BadFormula, "and", "missing behind `and`"),
            ("or pickup is given", BadFormula, "or", "missing before `or`"),
            ("pickup is", BadFormula, "is", "a word is missing"),
            ("(pickup is given", BadFormula, "(", "never closed"),
            ("pickup is given)", BadFormula, ")", "closes nothing"),
            ("pickup.floor_gap at 8 mm", BadFormula, "at", "write `at least` or `at most`"),
            ("pickup.floor_gap least 8 mm", BadFormula, "least", "write `at least`"),
            ("pickup.floor_gap at least 8", WrongFormulaDimension, "8", "write `8 mm`"),
            ("pickup is 8", BadFormula, "8", "compared by `at least`"),
            ("pickup is not given", BadFormula, "not", "`not` before the path"),
            ("pickup.inlet.facing is dwon", BadFormula, "dwon", "did you mean `down`?"),
            ("baffles.front.bottom is deep", BadFormula, "deep", "a quantity stands there"),
            ("drain.bos is given", UnknownName, "drain.bos", "did you mean `drain.boss`?"),
            (
                "drains.plug.bos is given",
                UnknownName,
                "drains.plug.bos",
                "did you mean `drains.plug.boss`?",
            ),
            ("vehicle.skit is given", UnknownName, "vehicle.skit", "did you mean `vehicle.skid`?"),
            (
                "baseline.pikcup is given",
                UnknownName,
                "baseline.pikcup",
                "did you mean `baseline.pickup`?",
            ),
            ("quite_else is given", UnknownName, "quite_else", "a path of the pan"),
            (
                "fin.root at least baffle.opening_area / 1 m",
                Code::TwoKinds,
                "baffle.opening_area",
                "each of the",
            ),
        ],
        |scalar| parse_condition(scalar, &NAMES).err(),
    );
}

#[test]
fn two_kinds_show_both_names() {
    let (sources, scalar) = scalar("fin.root * drain.residual_share");
    let problem = parse_formula(&scalar, &NAMES).unwrap_err();
    assert_eq!(sources.slice(problem.others[0].span), "fin.root");
}

#[test]
fn a_text_that_does_not_stand_letter_by_letter_is_shown_whole() {
    let (sources, mut scalar) = scalar("8 mm + 2 L");
    scalar.verbatim_at = None;
    let problem = parse_formula(&scalar, &NAMES).unwrap_err();
    assert_eq!(sources.slice(problem.primary.span), "8 mm + 2 L");
}
