//! What must hold for any text.

use super::*;
use crate::document::field::fields;
use crate::source::{Entry, Key, Scalar, Value};
use proptest::prelude::*;

const KINDS: [DocumentKind; 10] = DocumentKind::ALL;

/// Keys of all documents, so that the readers go deep, and some that nobody knows.
fn keys() -> Vec<String> {
    let mut keys: Vec<String> = KINDS
        .iter()
        .flat_map(|kind| fields(*kind))
        .flat_map(|row| row.path.split('.'))
        .filter(|word| *word != "*")
        .map(str::to_owned)
        .collect();
    keys.extend(["a", "b", "pickup.low", "15 degC", "3 mm)", "", "é", "1"].map(str::to_owned));
    keys.sort();
    keys.dedup();
    keys
}

fn texts() -> impl Strategy<Value = String> {
    const KNOWN: &[&str] = &[
        "none",
        "rail",
        "floor",
        "1",
        "9",
        "0",
        "40 mm",
        "-3 mm",
        "30 deg",
        "95 deg",
        "0.5 gn",
        "0.5 g",
        "4.5 ± 0.1 L",
        "9 kN assumed",
        "5 mm by tape",
        "40 degC",
        "60 K",
        "M6",
        "true",
        "shall",
        "a",
        "left",
        "x",
        "running",
        "2026-02-30",
        "",
        "conforms",
        "95 %",
    ];
    prop_oneof![
        4 => prop::sample::select(KNOWN).prop_map(str::to_owned),
        1 => any::<String>(),
    ]
}

fn leaf(value: Value) -> Node {
    let span = span_of(0, 3, 7);
    Node { span, defined: span, value }
}

fn scalar(text: String) -> Node {
    let span = span_of(0, 3, 7);
    leaf(Value::Scalar(Scalar { text, span, verbatim_at: Some(3), plain: true }))
}

fn nodes() -> impl Strategy<Value = Node> {
    let leaves = prop_oneof![
        1 => Just(leaf(Value::Null)),
        6 => texts().prop_map(scalar),
    ];
    leaves.prop_recursive(5, 60, 8, |inner| {
        let entry = (prop::sample::select(keys()), inner.clone()).prop_map(|(text, value)| {
            Entry { key: Key { text, span: span_of(0, 0, 2) }, value }
        });
        prop_oneof![
            1 => prop::collection::vec(inner, 0..4).prop_map(|items| leaf(Value::Sequence(items))),
            4 => prop::collection::vec(entry, 0..8).prop_map(|entries| leaf(Value::Mapping(entries))),
        ]
    })
}

/// A tree that says it is of this kind.
fn of_kind(kind: DocumentKind, node: Node) -> Node {
    let Value::Mapping(mut entries) = node.value else { return node };
    let key = Key { text: kind.key().to_owned(), span: span_of(0, 0, 2) };
    entries.insert(0, Entry { key, value: scalar("1".to_owned()) });
    leaf(Value::Mapping(entries))
}

/// Puts `new` in the place of the node that is `at` steps into the tree; whether it came that far.
fn replace(node: &mut Node, at: &mut usize, new: &Node) -> bool {
    if *at == 0 {
        *node = new.clone();
        return true;
    }
    *at -= 1;
    match &mut node.value {
        Value::Mapping(entries) => entries.iter_mut().any(|e| replace(&mut e.value, at, new)),
        Value::Sequence(items) => items.iter_mut().any(|item| replace(item, at, new)),
        _ => false,
    }
}

proptest! {
    #[test]
    fn no_node_put_into_a_good_document_makes_a_reader_panic(
        which in 0..VALID.len(),
        at in 1_usize..60,
        new in nodes(),
    ) {
        let (kind, _, text) = VALID[which];
        let (_, mut node) = tree(text);
        replace(&mut node, &mut at.clone(), &new);
        let kind = KINDS.into_iter().find(|k| k.key() == kind).expect("a kind");
        read_as(kind, &node, STATED, &mut Findings::default());
    }

    #[test]
    fn no_tree_makes_a_reader_panic(node in nodes(), shifted in any::<bool>()) {
        let shifts = [Shift { at: span_of(0, 3, 7), by: 1.0 }];
        let options = ReadOptions { shifts: if shifted { &shifts } else { &[] }, ..STATED };
        for kind in KINDS {
            let mut findings = Findings::default();
            read_as(kind, &node, options, &mut findings);
            read_as(kind, &of_kind(kind, node.clone()), options, &mut findings);
            for problem in &findings.problems {
                prop_assert!(!problem.message.is_empty());
            }
        }
    }
}

#[test]
fn a_shift_moves_exactly_the_value_that_it_names() {
    for (kind, name, text) in VALID {
        let (_, node) = tree(text);
        let mut stated = Findings::default();
        read_any(&node, STATED, &mut stated);
        for (i, input) in stated.inputs.iter().enumerate() {
            let shifts = [Shift { at: input.span, by: 0.5 }];
            let mut moved = Findings::default();
            read_any(&node, ReadOptions { shifts: &shifts, ..STATED }, &mut moved);
            assert!(moved.problems.is_empty(), "{kind}/{name} {}", input.path);
            for (j, (before, after)) in stated.inputs.iter().zip(&moved.inputs).enumerate() {
                assert_eq!(before.path, after.path);
                let by = if i == j { 0.5 } else { 0.0 };
                assert_eq!(after.value.to_bits(), (before.value + by).to_bits(), "{}", after.path);
                assert_eq!(after.u.to_bits(), before.u.to_bits());
            }
        }
    }
}

#[test]
fn exact_takes_every_uncertainty_away_and_nothing_else() {
    for (_, _, text) in VALID {
        let (_, node) = tree(text);
        let (mut stated, mut exact) = (Findings::default(), Findings::default());
        read_any(&node, STATED, &mut stated);
        read_any(&node, ReadOptions { exact: true, ..STATED }, &mut exact);
        for (before, after) in stated.inputs.iter().zip(&exact.inputs) {
            assert_eq!(before.value.to_bits(), after.value.to_bits());
            assert_eq!(after.u.to_bits(), 0.0_f64.to_bits());
        }
    }
}
