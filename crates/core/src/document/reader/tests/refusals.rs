//! What is refused, with the code and the text it points at.

use super::*;
use crate::source::Code::{self, *};

/// Everything wrong with a text that is read as a document of this kind: code, marked text, message
/// and help.
fn refusals(kind: DocumentKind, text: &str) -> Vec<(Code, String, String)> {
    let (sources, node) = tree(text);
    let mut findings = Findings::default();
    read_as(kind, &node, STATED, &mut findings);
    let all = findings.problems.iter();
    all.map(|p| {
        let help = p.help.clone().unwrap_or_default();
        (p.code, sources.slice(p.primary.span).to_owned(), format!("{} | {help}", p.message))
    })
    .collect()
}

/// A row of a table: the text, then for each problem its code, the marked text, and words that message
/// and help must hold.
type Row = (&'static str, &'static [(Code, &'static str, &'static str)]);

fn check(kind: DocumentKind, before: &str, rows: &[Row]) {
    for (text, expected) in rows {
        let found = refusals(kind, &format!("{before}{text}\n"));
        assert_eq!(found.len(), expected.len(), "{text}: {found:#?}");
        for ((code, slice, said), (want_code, want_slice, words)) in found.iter().zip(*expected) {
            assert_eq!((code, slice.as_str()), (want_code, *want_slice), "{text}: {said}");
            for word in words.split('…') {
                assert!(said.contains(word), "{text}: `{word}` is not in: {said}");
            }
        }
    }
}

#[test]
fn a_file_of_another_kind_or_of_none_is_refused() {
    check(
        DocumentKind::Pan,
        "",
        &[
            (
                "vehicle: 1\ntitle: x",
                &[(WrongKind, "vehicle", "this is a vehicle, and a pan was expected")],
            ),
            ("checklist: 1", &[(WrongKind, "checklist", "this is a checklist")]),
            ("title: x\npan: 1", &[(WrongKind, "pan", "does not stand first…move it to the top")]),
            ("title: x", &[(WrongKind, "title", "pan…vehicle…oil…duty…rulebook")]),
            ("vehicle: ../brindle.yaml", &[(WrongKind, "vehicle", "begin it with `pan: 1`")]),
            ("pan: 2", &[(WrongEdition, "2", "edition 2…edition 1")]),
            ("pan: deep", &[(WrongEdition, "deep", "whole number")]),
            ("pan: { title: x }", &[(WrongEdition, "pan", "whole number")]),
            ("- pan", &[(WrongShape, "", "begins with `pan: 1`…a list")]),
            ("{}", &[(WrongShape, "", "empty")]),
        ],
    );
    check(
        DocumentKind::Oil,
        "",
        &[("pan: 1", &[(WrongKind, "pan", "this is a pan, and an oil was expected")])],
    );
}

#[test]
fn unknown_keys_are_named_with_what_was_meant() {
    check(
        DocumentKind::Pan,
        "pan: 1\n",
        &[
            (
                "wall: { flor: 5 mm }",
                &[(UnknownKey, "flor", "not a key of `wall`…did you mean `floor`?")],
            ),
            ("wal: { floor: 5 mm }", &[(UnknownKey, "wal", "did you mean `wall`?")]),
            (
                "wall: { thread: M6 }",
                &[(UnknownKey, "thread", "stands under…its keys are `floor` and `sides`")],
            ),
            ("wall: { floor: 5 mm, xyzzy: 1 }", &[(UnknownKey, "xyzzy", "its keys are")]),
            (
                "wall: { floor: 5, 3 mm: 1 }",
                &[(MissingUnit, "5", "5 mm"), (UnknownKey, "3 mm", "cut at a comma: quote it")],
            ),
            (
                "material: { yield: 165 MPa }\ncolour: red",
                &[(UnknownKey, "colour", "its keys are")],
            ),
        ],
    );
    check(
        DocumentKind::Rulebook,
        "rulebook: 1\nrules:\n  a.b: { title: t, force: shall, measure: m, because: b, source: s, ",
        &[(
            "at_least: max(3 mm, spread(x)) }",
            &[(
                UnknownKey,
                "spread(x))",
                "cut at a comma: quote it, or write this mapping over several lines",
            )],
        )],
    );
}

#[test]
fn wrong_shapes_say_what_was_expected_and_found() {
    check(
        DocumentKind::Pan,
        "pan: 1\n",
        &[
            (
                "wall: 5 mm",
                &[(WrongShape, "5 mm", "`wall` is a mapping, and this is a single value")],
            ),
            ("wall: [5 mm]", &[(WrongShape, "[5 mm]", "a mapping, and this is a list")]),
            (
                "wall: { floor: [5 mm] }",
                &[(WrongShape, "[5 mm]", "`floor` is a quantity, and this is a list")],
            ),
            ("drains: no", &[(WrongShape, "no", "write `none`")]),
            ("drains: None", &[(WrongShape, "None", "write `none`")]),
            (
                "drains:",
                &[(
                    WrongShape,
                    "drains",
                    "nothing stands after `drains`…write `none`…leave the key out",
                )],
            ),
            ("drains: {}", &[(WrongShape, "{}", "`drains` is empty…write `none`")]),
            ("drains: { plug: }", &[(WrongShape, "plug", "nothing stands after `plug`")]),
            ("baseline: []", &[(WrongShape, "[]", "empty")]),
            ("baseline: {a: b}", &[(WrongShape, "{a: b}", "one text or a list of them")]),
            ("title: ''", &[(WrongShape, "''", "nothing stands after `title`")]),
            (
                "interior: { rail: { rectangle: [412 mm] }, zones: { a: { outline: rail, depth: 9 mm } } }",
                &[(WrongShape, "[412 mm]", "a list of 2 quantities…this has 1")],
            ),
            (
                "interior: { rail: { rectangle: [412,5 mm, 268 mm] }, zones: { a: { outline: rail, depth: 9 mm } } }",
                &[(
                    WrongShape,
                    "[412,5 mm, 268 mm]",
                    "this has 3…a decimal is written with a point",
                )],
            ),
        ],
    );
}

#[test]
fn quantities_are_held_against_what_the_field_wants() {
    check(
        DocumentKind::Pan,
        "pan: 1\n",
        &[
            ("wall: { floor: 62.4 }", &[(MissingUnit, "62.4", "write `62.4 mm`")]),
            (
                "wall: { floor: 5 deg }",
                &[(WrongDimension, "deg", "a length…an angle…write it in mm")],
            ),
            ("material: { yield: 165 }", &[(MissingUnit, "165", "write `165 MPa`")]),
            (
                "wall: { floor: 0 mm }",
                &[(OutOfRange, "0", "`floor` must be more than 0, and this is 0")],
            ),
            ("wall: { floor: -3 mm }", &[(OutOfRange, "-3", "more than 0")]),
            (
                "wall: { floor: 5 mm by calipers }\ninstruments: { callipers: 0.05 mm }",
                &[(UnknownInstrument, "calipers", "did you mean `callipers`?")],
            ),
            (
                "wall: { floor: 5 mm by tape }",
                &[(UnknownInstrument, "tape", "instruments: { tape")],
            ),
            (
                "material: { yield: 165 MPa by tape }\ninstruments: { tape: 1 mm }",
                &[(WrongDimension, "tape", "measures a length, and this is a pressure")],
            ),
            (
                "fins: { keel: { root: 6 mm assumed } }",
                &[(CannotAssume, "assumed", "no typical range")],
            ),
            ("fins: { keel: { count: 9.5 } }", &[(NotAQuantity, "9.5", "a whole number")]),
            ("fins: { keel: { count: 0 } }", &[(OutOfRange, "0", "1 or more")]),
            ("instruments: { tape: 1 }", &[(MissingUnit, "1", "1 mm")]),
            ("instruments: { tape: 0 mm }", &[(OutOfRange, "0", "more than 0")]),
            ("instruments: { gauge: 1 degC }", &[(WrongDimension, "degC", "write it in K")]),
            (
                "instruments: { tape: 1 ± 0.1 mm }",
                &[(BadUncertainty, "1 ± 0.1 mm", "no uncertainty of its own")],
            ),
        ],
    );
    check(
        DocumentKind::Vehicle,
        "vehicle: 1\n",
        &[
            (
                "mount: { nose_up: 3 mm }",
                &[(WrongDimension, "mm", "an angle…a length…write it in deg")],
            ),
            ("mount: { nose_up: 95 deg }", &[(OutOfRange, "95", "between -90 deg and 90 deg")]),
            (
                "case: { outline: { circle: 20 mm }, height: 9 mm, free_share: 1.5 }",
                &[(OutOfRange, "1.5", "at most 1")],
            ),
            ("check: { level: -2 mm }", &[(OutOfRange, "-2", "0 or more")]),
            (
                "check: { level: 2 mm, oil_at: 313 K }",
                &[(WrongDimension, "K", "a temperature in degC")],
            ),
            ("check: { level: 2 mm, oil_at: -300 degC }", &[(OutOfRange, "-300", "absolute zero")]),
            ("held_up: 0.9", &[(MissingUnit, "0.9", "write `0.9 L`")]),
        ],
    );
    check(
        DocumentKind::Oil,
        "oil: 1\n",
        &[
            (
                "viscosity: { 40 degC: 25 mPa·s }",
                &[(WrongDimension, "mPa·s", "divide it by the density")],
            ),
            ("viscosity: { 40: 30 mm^2/s }", &[(MissingUnit, "40", "write `40 degC`")]),
            ("viscosity: { 40 degC: }", &[(WrongShape, "40 degC", "nothing stands after")]),
            ("viscosity: 30 mm^2/s", &[(WrongShape, "30 mm^2/s", "a mapping")]),
            (
                "viscosity: { 40 degC: 30 mm^2/s, 40.0 degC: 31 mm^2/s }",
                &[(Contradiction, "40.0 degC", "one temperature twice")],
            ),
        ],
    );
}

#[test]
fn words_out_of_a_list_are_held_against_it() {
    check(
        DocumentKind::Pan,
        "pan: 1\n",
        &[
            ("pickup: { fixed_to: body }", &[(UnknownWord, "body", "`case` or `pan`")]),
            (
                "pickup: { inlet: { facing: dwon } }",
                &[(UnknownWord, "dwon", "did you mean `down`?")],
            ),
            ("baffles: { a: { sides: seal } }", &[(UnknownWord, "seal", "did you mean `sealed`?")]),
            (
                "baffles: { a: { bottom: flor } }",
                &[(UnknownWord, "flor", "write `floor`, or the depth")],
            ),
            (
                "material: { process: die-casting }",
                &[(UnknownWord, "die-casting", "did you mean `die casting`?")],
            ),
            (
                "material: { process: welding }",
                &[(UnknownWord, "welding", "cannot be `welding`…write `sand casting`")],
            ),
            (
                "check: { level: 2 mm, engine: runing }",
                &[(UnknownWord, "runing", "did you mean `running`?")],
            ),
            (
                "drains: { plug: { axis: up } }",
                &[(UnknownWord, "up", "`down`, `front`, `rear`, `left` or `right`")],
            ),
            ("fins: { keel: { under: side } }", &[(UnknownWord, "side", "`floor`")]),
            ("object: { state: made }", &[(UnknownWord, "made", "`as designed` or `as made`")]),
            (
                "object: { measured: { date: 2026-02-30 } }",
                &[(UnknownWord, "2026-02-30", "year, month and day")],
            ),
            (
                "drains: { plug: { thread: 1/2 NPT } }",
                &[(NotSupportedYet, "1/2 NPT", "pipe and inch threads are not read")],
            ),
            ("drains: { plug: { thread: M14x } }", &[(NotAQuantity, "M14x", "pitch")]),
            (
                "drains: { big plug: { boss: 20 mm } }",
                &[(UnknownKey, "big plug", "cannot be a name")],
            ),
        ],
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
                "zones: { a: { outline: rail, depth: 9 mm, slope: { deeper: front, by: 2 deg } } }",
                &[(NotSupportedYet, "slope", "not read by this version yet")],
            ),
            (
                "zones: { a: { outline: { slot: [30 mm, 10 mm], along: y }, depth: 9 mm } }",
                &[(NotSupportedYet, "slot", "polygon")],
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
                &[(MissingKey, "outline", "`rectangle`, `circle` or `polygon`")],
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
    check(
        DocumentKind::Pan,
        "pan: 1\n",
        &[
            (
                "interior: { mesh: { file: a.stl, unit: mm, of: oil space } }",
                &[(NotSupportedYet, "mesh", "`rail` and `zones`")],
            ),
            (
                "interior: { soundings: { file: a.csv } }",
                &[(NotSupportedYet, "soundings", "`rail` and `zones`")],
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

#[test]
fn a_rule_that_lacks_a_part_says_which() {
    let whole = "title: t, force: shall, measure: m, at_least: 8 mm, because: b, source: s";
    for part in ["title: t", "force: shall", "measure: m", "because: b", "source: s"] {
        let rest = whole.replace(part, "").replace(", ,", ",");
        let rest = rest.trim_matches([',', ' ']);
        let text = format!("rulebook: 1\nrules: {{ pickup.low: {{ {rest} }} }}\n");
        let found = refusals(DocumentKind::Rulebook, &text);
        let key = part.split(':').next().expect("a key");
        assert_eq!(found.len(), 1, "{part}: {found:#?}");
        assert_eq!((found[0].0, found[0].1.as_str()), (MissingKey, "pickup.low"));
        assert!(found[0].2.contains(&format!("`pickup.low` lacks `{key}`")), "{}", found[0].2);
    }
}

#[test]
fn a_rule_that_is_not_formed_as_it_should_be_is_refused() {
    check(
        DocumentKind::Rulebook,
        "rulebook: 1\nrules:\n  pickup.low:\n    title: t\n    force: shall\n    measure: m\n    because: b\n    source: s\n    ",
        &[
            ("pin: 1 %", &[(BadRule, "pickup.low", "no limit…`within`")]),
            (
                "within: [8 mm, 9 mm]\n    at_least: 8 mm",
                &[(Contradiction, "at_least", "exclude each other")],
            ),
            ("within: [8 mm]", &[(WrongShape, "[8 mm]", "two quantities")]),
            ("at_least:", &[(WrongShape, "at_least", "nothing stands")]),
            ("at_least: 8 mm\n    pins: 1 %", &[(UnknownKey, "pins", "did you mean `pin`?")]),
            ("at_least: 8 mm\n    pin: [1 %]", &[(WrongShape, "[1 %]", "a mapping from numbers")]),
            ("at_least: 8 mm\n    since: one", &[(NotAQuantity, "one", "whole number")]),
            (
                "at_least: 8 mm\n    decision: strict",
                &[(UnknownWord, "strict", "`guarded` or `simple`")],
            ),
            (
                "at_least: 8 mm\n    decision: { probability: 100 % }",
                &[(OutOfRange, "100 %", "below 100 %")],
            ),
            (
                "at_least: 8 mm\n    decision: { probability: 95 mm }",
                &[(WrongDimension, "mm", "a plain number")],
            ),
            (
                "at_least: 8 mm\n    cases: [{ fixture: f, expect: conform }]",
                &[(UnknownWord, "conform", "did you mean `conforms`?")],
            ),
            (
                "at_least: 8 mm\n    cases: [{ fixture: f }]",
                &[(MissingKey, "{ fixture: f }", "lacks `expect`")],
            ),
            (
                "at_least: 8 mm\n    cases: [{ fixture: f, exact: yes, expect: conforms }]",
                &[(UnknownWord, "yes", "`true` or `false`")],
            ),
            (
                "at_least: 8 mm\n    cases: [{ fixture: f, set: { wall.floor: }, expect: conforms }]",
                &[(WrongShape, "wall.floor", "nothing stands")],
            ),
        ],
    );
    check(
        DocumentKind::Rulebook,
        "rulebook: 1\n",
        &[
            ("decision: guarded", &[(MissingKey, "rulebook", "lacks `rules`")]),
            ("rules: { R001: { title: t } }", &[(BadRule, "R001", "cannot be the id of a rule")]),
            ("rules: { pickup.: { title: t } }", &[(BadRule, "pickup.", "cannot be the id")]),
            (
                "rules: { Pickup.Low: { title: t } }",
                &[(BadRule, "Pickup.Low", "small letters with hyphens")],
            ),
            ("rules: { pickup.low: none }", &[(WrongShape, "none", "a mapping")]),
        ],
    );
}

#[test]
fn all_that_is_wrong_is_said_at_once_from_top_to_bottom() {
    let found = refusals(
        DocumentKind::Pan,
        "pan: 1\nfin: none\npickup: { fixed_to: csae }\nwall: { floor: 5, sides: -1 mm }\n",
    );
    let codes: Vec<_> = found.iter().map(|(code, slice, _)| (*code, slice.as_str())).collect();
    assert_eq!(
        codes,
        [(UnknownKey, "fin"), (UnknownWord, "csae"), (MissingUnit, "5"), (OutOfRange, "-1")]
    );
}
