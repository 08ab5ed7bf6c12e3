//! Tests: mod.

mod limits;
mod oracle;
mod refusals;

use super::*;
use crate::source::Value;
use std::fmt::Write as _;

fn read(text: &str) -> (Sources, Option<Node>, Vec<Diagnostic>) {
    let mut sources = Sources::default();
    let file = sources.add("a.yaml", text.to_owned());
    let mut problems = Vec::new();
    let node = parse(&sources, file, &mut problems);
    (sources, node, problems)
}

/// Every node on a line: what it is and the text under its span, `@` what its `defined` shows.
fn spans(sources: &Sources, node: &Node, out: &mut String) {
    let defined = if node.defined == node.span {
        String::new()
    } else {
        format!(" @ {:?}", sources.slice(node.defined))
    };
    let shape = match &node.value {
        Value::Null => "null",
        Value::Scalar(s) if s.verbatim_at.is_some() => "scalar",
        Value::Scalar(_) => "folded",
        Value::Sequence(_) => "list",
        Value::Mapping(_) => "map",
    };
    writeln!(out, "{shape} {:?}{defined}", sources.slice(node.span)).unwrap();
    match &node.value {
        Value::Sequence(items) => items.iter().for_each(|n| spans(sources, n, out)),
        Value::Mapping(entries) => {
            for entry in entries {
                write!(out, "{:?}: ", sources.slice(entry.key.span)).unwrap();
                spans(sources, &entry.value, out);
            }
        }
        _ => {}
    }
}

fn tree(text: &str) -> String {
    let (sources, node, problems) = read(text);
    let mut out = String::new();
    for p in &problems {
        writeln!(out, "! {}", p.message).unwrap();
    }
    if let Some(node) = node {
        spans(&sources, &node, &mut out);
    }
    out
}

#[test]
fn every_span_is_exact_with_mark_crlf_and_wide_signs() {
    insta::assert_snapshot!(tree("\u{feff}pan: 1\r\nwall:\r\n  floor: 5.0 ± 0.3 mm   # thick\r\n  sides: '4 mm'\r\n\r\n# end\r\nat: { x: \"é\", y: [1, 2] }\r\n"), @r#"
    map "pan: 1\r\nwall:\r\n  floor: 5.0 ± 0.3 mm   # thick\r\n  sides: '4 mm'\r\n\r\n# end\r\nat: { x: \"é\", y: [1, 2] }"
    "pan": scalar "1"
    "wall": map "floor: 5.0 ± 0.3 mm   # thick\r\n  sides: '4 mm'"
    "floor": scalar "5.0 ± 0.3 mm"
    "sides": scalar "'4 mm'"
    "at": map "{ x: \"é\", y: [1, 2] }"
    "x": scalar "\"é\""
    "y": list "[1, 2]"
    scalar "1"
    scalar "2"
    "#);
}

#[test]
fn lists_block_texts_and_values_left_out_have_their_places() {
    insta::assert_snapshot!(tree("a:\n- 1\n- x: 1\n  y: ~\n-\n- - 2\nb: |\n  two\n  lines\n\nc: >-\n  x\n  y\nd: x\n  y\ne: ''\nf: 'it''s'\n\"g h\": {i, j: }\nk: [l: 1]\nm:\n"), @r#"
    map "a:\n- 1\n- x: 1\n  y: ~\n-\n- - 2\nb: |\n  two\n  lines\n\nc: >-\n  x\n  y\nd: x\n  y\ne: ''\nf: 'it''s'\n\"g h\": {i, j: }\nk: [l: 1]\nm:"
    "a": list "- 1\n- x: 1\n  y: ~\n-\n- - 2"
    scalar "1"
    map "x: 1\n  y: ~"
    "x": scalar "1"
    "y": null "~"
    null ""
    list "- 2"
    scalar "2"
    "b": folded "two\n  lines"
    "c": folded "x\n  y"
    "d": folded "x\n  y"
    "e": scalar "''"
    "f": folded "'it''s'"
    "\"g h\"": map "{i, j: }"
    "i": null ""
    "j": null ""
    "k": list "[l: 1]"
    map "l: 1"
    "l": scalar "1"
    "m": null ""
    "#);
}

#[test]
fn aliases_and_merge_keys_show_where_they_stand_and_where_they_were_written() {
    let text = "a: &one { x: 1 mm, y: &y 2 mm }\nb: *one\nc: { <<: *one, x: 3 mm, z: *y }\nd:\n  <<: [{ x: 5 mm }, *one]\n*y : 6\n";
    insta::assert_snapshot!(tree(text), @r#"
    map "a: &one { x: 1 mm, y: &y 2 mm }\nb: *one\nc: { <<: *one, x: 3 mm, z: *y }\nd:\n  <<: [{ x: 5 mm }, *one]\n*y : 6"
    "a": map "{ x: 1 mm, y: &y 2 mm }"
    "x": scalar "1 mm"
    "y": scalar "2 mm"
    "b": map "*one" @ "{ x: 1 mm, y: &y 2 mm }"
    "x": scalar "1 mm"
    "y": scalar "2 mm"
    "c": map "{ <<: *one, x: 3 mm, z: *y }"
    "x": scalar "3 mm"
    "z": scalar "*y" @ "2 mm"
    "y": scalar "*one" @ "2 mm"
    "d": map "<<: [{ x: 5 mm }, *one]"
    "x": scalar "5 mm"
    "y": scalar "*one" @ "2 mm"
    "*y": scalar "6"
    "#);
}
