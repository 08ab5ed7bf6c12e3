//! Tests: oracle.

use super::*;
use proptest::prelude::*;

/// A value of a document and how it is written.
#[derive(Debug, Clone)]
enum Written {
    Null,
    Text(String),
    List(Vec<Written>),
    Map(Vec<(String, Written)>),
}

fn written() -> impl Strategy<Value = Written> {
    let leaf = prop_oneof![
        Just(Written::Null),
        "[ -~±°é]{0,12}".prop_map(Written::Text),
        prop::sample::select(vec![
            "62.4 ± 0.3 mm",
            "12:30",
            "yes",
            "0x10",
            "1_000",
            "~",
            "null",
            "1e3",
            "- a",
            "a: b",
            "#",
            "it's",
            ""
        ])
        .prop_map(|s| Written::Text(s.to_owned())),
    ];
    leaf.prop_recursive(4, 40, 5, |inner| {
        let key = "[a-z][a-z0-9_ -]{0,6}[a-z]|[ -~]{1,6}";
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..5).prop_map(Written::List),
            prop::collection::btree_map(
                key.prop_filter("no merge key", |k| k != "<<"),
                inner,
                0..5
            )
            .prop_map(|m| Written::Map(m.into_iter().collect())),
        ]
    })
}

fn to_yaml(value: &Written) -> serde_yaml::Value {
    match value {
        Written::Null => serde_yaml::Value::Null,
        Written::Text(text) => serde_yaml::Value::String(text.clone()),
        Written::List(items) => serde_yaml::Value::Sequence(items.iter().map(to_yaml).collect()),
        Written::Map(entries) => serde_yaml::Value::Mapping(
            entries.iter().map(|(k, v)| (k.clone().into(), to_yaml(v))).collect(),
        ),
    }
}

/// Our own writer in flow style, so that the two readers meet texts that no writer of theirs made.
fn flow(value: &Written, out: &mut String) {
    let quoted = |text: &str| format!("'{}'", text.replace('\'', "''"));
    match value {
        Written::Null => out.push('~'),
        Written::Text(text) => out.push_str(&quoted(text)),
        Written::List(items) => {
            out.push('[');
            for item in items {
                flow(item, out);
                out.push_str(", ");
            }
            out.push(']');
        }
        Written::Map(entries) => {
            out.push_str("{ ");
            for (key, value) in entries {
                write!(out, "{}: ", quoted(key)).unwrap();
                flow(value, out);
                out.push_str(",\n  ");
            }
            out.push('}');
        }
    }
}

/// Same shape, same keys in the same order, same texts; numbers and truth values of the oracle are
/// compared as it would print them.
fn same(node: &Node, oracle: &serde_yaml::Value) -> bool {
    use serde_yaml::Value as Y;
    match (&node.value, oracle) {
        (Value::Null, Y::Null) => true,
        (Value::Scalar(s), Y::String(text)) => s.text == *text,
        (Value::Scalar(s), Y::Number(_) | Y::Bool(_)) => s.plain,
        (Value::Sequence(items), Y::Sequence(others)) => {
            items.len() == others.len() && items.iter().zip(others).all(|(a, b)| same(a, b))
        }
        (Value::Mapping(entries), Y::Mapping(others)) => {
            entries.len() == others.len()
                && entries.iter().zip(others).all(|(e, (k, v))| {
                    k.as_str().is_none_or(|k| k == e.key.text) && same(&e.value, v)
                })
        }
        _ => false,
    }
}

/// What the span of a node shows must be what the node is; children lie within their parents
/// unless an alias brought them in.
fn check_spans(sources: &Sources, node: &Node) -> Result<(), TestCaseError> {
    let text = sources.text(node.span.file);
    let (start, end) = (node.defined.start as usize, node.defined.end as usize);
    let source = text.get(start..end);
    prop_assert!(source.is_some(), "{}..{} in {:?}", start, end, text);
    let source = source.unwrap_or_default();
    prop_assert_eq!(source, source.trim_end_matches(['\n', '\r']), "blank lines at the end");
    let within = |inner: Span| node.defined.start <= inner.start && inner.end <= node.defined.end;
    match &node.value {
        Value::Null => prop_assert!(matches!(source, "" | "~" | "null" | "Null" | "NULL")),
        Value::Scalar(s) => {
            prop_assert_eq!(s.span, node.defined);
            if let Some(at) = s.verbatim_at {
                prop_assert_eq!(&text[at as usize..at as usize + s.text.len()], &s.text);
                prop_assert!(at as usize >= start && at as usize + s.text.trim_end().len() <= end);
            }
            if s.plain && !s.text.contains(['\n', ' ']) {
                prop_assert_eq!(source, &s.text);
            }
        }
        Value::Sequence(items) => {
            prop_assert!(source.starts_with(['[', '-']), "{:?}", source);
            prop_assert_eq!(
                source.starts_with('['),
                source.ends_with(']') && source.starts_with('[')
            );
            for item in items {
                prop_assert!(within(item.span), "{:?}", source);
                check_spans(sources, item)?;
            }
        }
        Value::Mapping(entries) => {
            for entry in entries {
                if entry.value.span == entry.value.defined {
                    prop_assert!(
                        within(entry.key.span) && within(entry.value.span),
                        "{:?}",
                        source
                    );
                }
                check_spans(sources, &entry.value)?;
            }
        }
    }
    Ok(())
}

fn check_any(text: &str) -> Result<(), TestCaseError> {
    let (sources, node, problems) = read(text);
    prop_assert!(node.is_some() || !problems.is_empty(), "refused without a word");
    for p in &problems {
        for span in p.others.iter().map(|l| l.span).chain([p.primary.span]) {
            let range = span.start as usize..span.end as usize;
            prop_assert!(text.get(range).is_some(), "{:?} of {:?}", p, text);
        }
        prop_assert!(p.help.is_some() && !p.message.ends_with('.'));
    }
    match node {
        Some(node) => check_spans(&sources, &node),
        None => Ok(()),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..Default::default() })]

    #[test]
    fn what_another_library_writes_is_read_as_it_reads_it(value in written()) {
        let oracle = to_yaml(&value);
        let text = serde_yaml::to_string(&oracle).map_err(|e| TestCaseError::fail(e.to_string()))?;
        let (sources, node, problems) = read(&text);
        match node {
            Some(node) => {
                prop_assert!(problems.is_empty(), "{:?} in {:?}", problems, text);
                prop_assert!(same(&node, &oracle), "{:?}", text);
                check_spans(&sources, &node)?;
            }
            None => prop_assert!(oracle.is_null(), "{:?} in {:?}", problems, text),
        }
    }

    #[test]
    fn flow_style_is_read_as_another_library_reads_it(value in written()) {
        let mut text = String::new();
        flow(&value, &mut text);
        let oracle: serde_yaml::Value =
            serde_yaml::from_str(&text).map_err(|e| TestCaseError::fail(format!("{e}: {text}")))?;
        let (_, node, problems) = read(&text);
        match node {
            Some(node) => prop_assert!(problems.is_empty() && same(&node, &oracle), "{:?}", text),
            None => prop_assert!(oracle.is_null(), "{:?} in {:?}", problems, text),
        }
    }

    #[test]
    fn no_text_makes_the_reader_panic_or_point_outside(text in "\\PC{0,40}") {
        check_any(&text)?;
    }

    #[test]
    fn no_text_of_yamls_own_signs_makes_the_reader_panic(
        parts in prop::collection::vec(prop::sample::select(vec![
            "a", "b", ": ", ":", "\n", "\n  ", "\r\n", "- ", "-", "[", "]", "{", "}", ", ", "&a ", "*a", "<<: ", "!t ", "|\n", ">-\n  ",
            "'", "\"", "\\", "# c", "? ", "~", "---\n", "...\n", "\t", " ", "%", "@", "é", "±", "\u{feff}", "\u{85}", "\u{2028}", "1 mm",
        ]), 0..24),
    ) {
        check_any(&parts.concat())?;
    }
}
