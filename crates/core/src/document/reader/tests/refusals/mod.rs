//! What is refused, with the code and the text it points at.

mod parts;
mod rules;
mod values;

use super::*;
use crate::source::Code::{
    self, MissingUnit, OutOfRange, UnknownKey, UnknownWord, WrongEdition, WrongKind, WrongShape,
};

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
