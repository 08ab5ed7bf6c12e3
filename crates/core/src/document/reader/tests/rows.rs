//! The table of fields and the readers say the same.

use super::*;
use crate::document::field::{Form, fields};
use crate::source::Value;
use std::collections::BTreeSet;

#[test]
fn every_valid_document_is_read_without_a_word() {
    for (kind, name, text) in VALID {
        let (_, node) = tree(text);
        let mut findings = Findings::default();
        let found = read_any(&node, STATED, &mut findings);
        assert_eq!(found.map(DocumentKind::key), Some(*kind), "{name}");
        assert!(findings.problems.is_empty(), "{kind}/{name}: {:#?}", findings.problems);
    }
}

/// The documents together use every row, and none of their keys is unknown to the readers (the test
/// above), so every row is asked for. That every key asked for has a row with the same words and
/// dimension is asserted where it is asked for.
#[test]
fn every_row_is_used_by_a_valid_document() {
    let mut unused = Vec::new();
    for kind in [
        "pan",
        "vehicle",
        "oil",
        "duty",
        "rulebook",
        "project",
        "checklist",
        "concessions",
        "remarks",
    ] {
        let mut used = BTreeSet::new();
        for (_, _, text) in VALID.iter().filter(|(k, ..)| *k == kind) {
            let (_, node) = tree(text);
            paths(&node, "", &mut used);
        }
        let document = KINDS.into_iter().find(|k| k.key() == kind).expect("a kind");
        for row in fields(document) {
            if matches!(row.form, Form::NotYet | Form::TableKey) {
                continue;
            }
            if !used.iter().any(|path| fits(row.path, path)) {
                unused.push(format!("{kind}: {}", row.path));
            }
        }
    }
    assert!(unused.is_empty(), "{unused:#?}");
}

const KINDS: [DocumentKind; 10] = DocumentKind::ALL;

fn paths(node: &Node, at: &str, used: &mut BTreeSet<String>) {
    let below = |word: &str| if at.is_empty() { word.to_owned() } else { format!("{at}.{word}") };
    used.insert(at.to_owned());
    match &node.value {
        Value::Mapping(entries) => {
            for entry in entries {
                paths(&entry.value, &below(&entry.key.text.replace('.', "_")), used);
            }
        }
        Value::Sequence(items) => {
            for (i, item) in items.iter().enumerate() {
                paths(item, &below(&i.to_string()), used);
            }
        }
        _ => {}
    }
}

fn fits(pattern: &str, path: &str) -> bool {
    let (pattern, path): (Vec<_>, Vec<_>) =
        (pattern.split('.').collect(), path.split('.').collect());
    pattern.len() == path.len() && pattern.iter().zip(path).all(|(p, word)| *p == "*" || *p == word)
}
