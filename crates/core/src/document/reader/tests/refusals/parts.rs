//! Interiors, places, checks and states that cannot be.

use super::check;
use crate::document::DocumentKind;
use crate::source::Code::{
    BadOutline, BadZone, Contradiction, MissingKey, MissingUnit, OutOfRange, UnknownKey,
    UnknownWord, WrongDimension, WrongShape,
};

#[test]
fn a_key_without_a_name_is_refused_wherever_names_are_free() {
    check(
        DocumentKind::Oil,
        "oil: 1\nviscosity: { \"\": 7 mm^2/s }\n",
        &[("", &[(WrongShape, "\"\"", "in `viscosity` a key has no name")])],
    );
    check(
        DocumentKind::Pan,
        "pan: 1\ndrains: { \"\": { thread: M14x1.5 } }\n",
        &[("", &[(WrongShape, "\"\"", "in `drains` a key has no name…before the colon")])],
    );
}

#[test]
fn an_interior_that_cannot_be_understood_is_refused() {
    check(
        DocumentKind::Pan,
        "pan: 1\ninterior:\n  rail: { rectangle: [40 mm, 40 mm] }\n  ",
        &[
            ("displaced: none", &[(MissingKey, "interior", "lacks `zones`")]),
            ("zones: { a: { depth: 9 mm } }", &[(MissingKey, "a", "`a` lacks `outline`")]),
            (
                "zones: { a: { outline: rail } }",
                &[(MissingKey, "a", "lacks `depth`…a depth gauge")],
            ),
            (
                "zones: { a: { outline: rail, depth: none } }",
                &[(WrongShape, "none", "cannot be `none`")],
            ),
            ("zones: { a: { outline: rial, depth: 9 mm } }", &[(UnknownWord, "rial", "`rail`")]),
            (
                "zones: { a: { outline: rail, depth: 9 mm, draft: 60 deg } }",
                &[(OutOfRange, "60", "below 60 deg")],
            ),
            (
                "zones: { a: { outline: rail, depth: 9 mm, slope: { deeper: forward, by: 2 deg } } }",
                &[(UnknownWord, "forward", "`deeper` cannot be…write `front`")],
            ),
            (
                "zones: { a: { outline: rail, depth: 9 mm, slope: { deeper: front } } }",
                &[(MissingKey, "slope", "lacks `by`")],
            ),
            (
                "zones: { a: { outline: rail, depth: 9 mm, slope: { deeper: front, by: 90 deg } } }",
                &[(OutOfRange, "90", "below 90 deg")],
            ),
            (
                "zones: { a: { outline: { slot: [10 mm, 30 mm], along: y }, depth: 9 mm } }",
                &[(BadOutline, "10 mm", "shorter than it is wide…`along: y`")],
            ),
            (
                "zones: { a: { outline: { circle: 30 mm, along: y }, depth: 9 mm } }",
                &[(Contradiction, "along", "belongs to a `slot`")],
            ),
            (
                "zones: { a: { outline: rail, depth: 9 mm, in: a } }",
                &[(Contradiction, "a", "first zone…`in` out")],
            ),
            (
                "zones: { shelf: { outline: rail, depth: 9 mm }, b: { outline: { circle: 9 mm }, depth: 20 mm, in: shelv } }",
                &[(UnknownWord, "shelv", "did you mean `shelf`?")],
            ),
            (
                "zones: { a: { outline: rail, depth: 9 mm }, b: { outline: rail, depth: 9 mm, in: c }, c: { outline: rail, depth: 9 mm, in: b } }",
                &[(BadZone, "b", "`b` opens in itself")],
            ),
            // A zone that could not be read is no unknown word.
            (
                "zones: { a: { outline: rail, depth: 9 mm }, b: { depth: 12 mm }, c: { outline: rail, depth: 9 mm, in: b } }",
                &[(MissingKey, "b", "outline")],
            ),
            (
                "zones: { a: { outline: { circle: 9 mm, rectangle: [9 mm, 9 mm] }, depth: 9 mm } }",
                &[(Contradiction, "rectangle", "keep one of")],
            ),
            (
                "zones: { a: { outline: { at: { x: 0 mm, y: 0 mm } }, depth: 9 mm } }",
                &[(MissingKey, "outline", "`rectangle`, `circle`, `polygon` or `slot`")],
            ),
            (
                "zones: { a: { outline: { circle: 9 mm, corner: 2 mm }, depth: 9 mm } }",
                &[(Contradiction, "corner", "belongs to a `rectangle`")],
            ),
            (
                "zones: { a: { outline: { rectangle: [9 mm, 20 mm], corner: 5 mm }, depth: 9 mm } }",
                &[(BadOutline, "5 mm", "half of the rectangle's shorter side")],
            ),
            (
                "zones: { a: { outline: { polygon: [{ x: 0 mm, y: 0 mm }, { x: 9 mm, y: 0 mm }] }, depth: 9 mm } }",
                &[(
                    BadOutline,
                    "{ polygon: [{ x: 0 mm, y: 0 mm }, { x: 9 mm, y: 0 mm }] }",
                    "3 corners",
                )],
            ),
        ],
    );
}

#[test]
fn an_interior_in_two_forms_or_in_half_a_form_is_refused() {
    check(
        DocumentKind::Pan,
        "pan: 1\n",
        &[
            (
                "interior: { mesh: { file: a.stl, unit: mm, of: casting } }",
                &[(UnknownWord, "casting", "oil space")],
            ),
            (
                "interior: { mesh: { file: a.stl, unit: mm, of: part, forward: -z } }",
                &[(Contradiction, "-z", "one axis…`up` is z")],
            ),
            (
                "interior: { rail: { circle: 9 mm }, mesh: { file: a.stl, unit: mm, of: part } }",
                &[(Contradiction, "mesh", "exclude each other")],
            ),
            (
                "interior: { soundings: { file: a.csv } }",
                &[(MissingKey, "soundings", "lacks `rail`")],
            ),
            (
                "interior: { soundings: { file: a.csv, rail: { circle: 9 mm } }, mesh: { file: a.stl, unit: mm, of: part } }",
                &[(Contradiction, "mesh", "exclude each other")],
            ),
        ],
    );
}

#[test]
fn a_place_needs_one_height_and_both_coordinates() {
    check(
        DocumentKind::Pan,
        "pan: 1\nmagnet: ",
        &[
            (
                "{ cylinder: [20 mm, 6 mm], at: { x: 0 mm, y: 0 mm } }",
                &[(MissingKey, "at", "`depth`, `below_rail` or `above_rail`")],
            ),
            (
                "{ cylinder: [20 mm, 6 mm], at: { x: 0 mm, depth: 9 mm } }",
                &[(MissingKey, "at", "lacks `y`")],
            ),
            (
                "{ cylinder: [20 mm, 6 mm], at: { x: 0 mm, y: 0 mm, depth: 9 mm, above_rail: 2 mm } }",
                &[(Contradiction, "above_rail", "exclude each other")],
            ),
            ("{ cylinder: [20 mm, 6 mm] }", &[(MissingKey, "magnet", "lacks `at`")]),
            (
                "{ box: [9 mm, 9 mm, 9 mm], along: x, at: { x: 0 mm, y: 0 mm, depth: 9 mm } }",
                &[(Contradiction, "along", "belongs to a `cylinder`")],
            ),
            (
                "{ at: { x: 0 mm, y: 0 mm, depth: 9 mm } }",
                &[(MissingKey, "magnet", "`box` or `cylinder`")],
            ),
        ],
    );
}

#[test]
fn a_check_is_by_level_or_by_volume() {
    check(
        DocumentKind::Vehicle,
        "vehicle: 1\ncheck: ",
        &[
            ("{ oil_at: 40 degC }", &[(MissingKey, "check", "`level` or `volume`")]),
            ("{ level: none, oil_at: 40 degC }", &[(MissingKey, "check", "`level` or `volume`")]),
            ("{ level: 9 mm, volume: 4 L }", &[(Contradiction, "volume", "keep one of")]),
            (
                "{ volume: 4 L, at: { x: 0 mm, y: 0 mm } }",
                &[(Contradiction, "at", "belongs to a `level`")],
            ),
        ],
    );
}

#[test]
fn states_that_cannot_be_are_refused() {
    check(
        DocumentKind::Duty,
        "duty: 1\nstates: { s: ",
        &[
            ("{ climb: 90 deg } }", &[(OutOfRange, "90", "below 90 deg")]),
            ("{ descent: 120 deg } }", &[(OutOfRange, "120", "below 90 deg")]),
            ("{ climb: -5 deg } }", &[(OutOfRange, "-5", "from 0 deg")]),
            (
                "{ climb: 5 deg, descent: 5 deg } }",
                &[(Contradiction, "descent", "make two states")],
            ),
            (
                "{ side_slope: 5 deg } }",
                &[(MissingKey, "side_slope", "stands without `high`…`high: left`")],
            ),
            ("{ high: left } }", &[(MissingKey, "high", "stands without `side_slope`")]),
            (
                "{ high: left, side_slope: none } }",
                &[(MissingKey, "high", "stands without `side_slope`")],
            ),
            ("{ cornering: 0.5 gn } }", &[(MissingKey, "cornering", "stands without `turn`")]),
            ("{ turn: left } }", &[(MissingKey, "turn", "stands without `cornering`")]),
            (
                "{ braking: 0.5 gn, accelerating: 0.1 gn } }",
                &[(Contradiction, "accelerating", "exclude")],
            ),
            (
                "{ climb: 45 deg, side_slope: 45 deg, high: left } }",
                &[(Contradiction, "45 deg", "squares of their sines")],
            ),
            (
                "{ climb: 60 deg, side_slope: 60 deg, high: left } }",
                &[(Contradiction, "60 deg", "inclinometer")],
            ),
            ("{ braking: 0.5 g } }", &[(WrongDimension, "g", "`g` is the gram…`gn`")]),
            ("{ braking: 0.5 } }", &[(MissingUnit, "0.5", "write `0.5 gn`")]),
            ("{ climb: 58 % } }", &[(WrongDimension, "%", "30.1 deg")]),
            ("{ lasts: 0 s } }", &[(OutOfRange, "0", "more than 0")]),
            ("{} }", &[(WrongShape, "{}", "empty")]),
            ("none }", &[(WrongShape, "none", "a mapping")]),
        ],
    );
    check(
        DocumentKind::Duty,
        "duty: 1\n",
        &[
            ("states: {}", &[(WrongShape, "{}", "`states` is empty")]),
            ("oil_temperature: []", &[(WrongShape, "[]", "empty")]),
            ("oil_temperature: [40 degC, -300 degC]", &[(OutOfRange, "-300", "absolute zero")]),
            ("oil_temperature: [40 degC, 60 K]", &[(WrongDimension, "K", "degC")]),
            (
                "oil_temperature: { from: 20 degC, to: 90 degC, steps: 1 }",
                &[(OutOfRange, "1", "from 2")],
            ),
            (
                "oil_temperature: { from: 20 degC, steps: 3 }",
                &[(MissingKey, "oil_temperature", "lacks `to`")],
            ),
            (
                "parked_to_drain: { braking: 0.1 gn }",
                &[(UnknownKey, "braking", "not a key of `parked_to_drain`")],
            ),
        ],
    );
}
