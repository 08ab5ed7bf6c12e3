//! Tests: limits.

use super::*;

/// Whether the text is refused by a limit, and by which.
fn limit(text: &str) -> Option<String> {
    let (_, node, problems) = read(text);
    let last = problems.last()?;
    assert_eq!((last.code, node.is_none()), (Code::LimitReached, true), "{}", last.message);
    Some(last.message.clone())
}

fn lines(count: usize, line: impl Fn(usize) -> String) -> String {
    let mut text = String::new();
    for i in 0..count {
        text.push_str(&line(i));
        text.push('\n');
    }
    text
}

#[test]
fn limits_are_exact_and_say_what_was_counted() {
    let nested = |n: usize| format!("{}1{}", "[".repeat(n), "]".repeat(n));
    assert_eq!(limit(&nested(DEPTH)), None);
    assert_eq!(
        limit(&nested(DEPTH + 1)).unwrap(),
        "65 or more mappings and lists one within another, at most 64 are read (depth)"
    );
    let stairs = |n: usize| lines(n, |i| format!("{}a:", " ".repeat(i)));
    assert_eq!(limit(&stairs(DEPTH)), None);
    assert!(limit(&stairs(DEPTH + 1)).unwrap().ends_with("(depth)"));
    let mixed = format!("{}{}x: {}", stairs(40), " ".repeat(40), nested(30));
    assert_eq!(
        limit(&mixed).unwrap(),
        "65 mappings and lists one within another, at most 64 are read (depth)"
    );
    let list = |n: usize| format!("[{}]", vec!["1"; n].join(","));
    assert_eq!(limit(&list(NODES - 1)), None);
    assert!(limit(&list(NODES)).unwrap().starts_with("100001 keys and values"));
    let keys = |n: usize| lines(n, |i| format!("k{i}: 1"));
    assert_eq!(limit(&keys(KEYS)), None);
    assert_eq!(
        limit(&keys(KEYS + 1)).unwrap(),
        "10001 keys in one mapping, at most 10000 are read (keys)"
    );
    let aliases = |n: usize| format!("a: &a 1\nb: [{}]\n", vec!["*a"; n].join(","));
    assert_eq!(limit(&aliases(ALIASES)), None);
    assert_eq!(
        limit(&aliases(ALIASES + 1)).unwrap(),
        "1001 aliases, at most 1000 are read (aliases)"
    );
    let scalar = |n: usize| format!("a: {}\n", "x".repeat(n));
    assert_eq!(limit(&scalar(SCALAR_BYTES)), None);
    assert_eq!(
        limit(&scalar(SCALAR_BYTES + 1)).unwrap(),
        "65537 bytes in one value, at most 65536 are read (scalar bytes)"
    );
    let text = |n: usize| format!("a: 1\n#{}", "x".repeat(n - 6));
    assert_eq!(limit(&text(TEXT_BYTES)), None);
    assert_eq!(
        limit(&text(TEXT_BYTES + 1)).unwrap(),
        "the file is 4194305 bytes long, at most 4194304 are read (text bytes)"
    );
}

#[test]
fn a_rulebook_may_be_longer() {
    let mut sources = Sources::default();
    let file = sources.add("r.yaml", format!("a: 1\n#{}", "x".repeat(TEXT_BYTES)));
    assert!(parse_within(&sources, file, RULEBOOK_BYTES, &mut Vec::new()).is_some());
}

#[test]
fn small_texts_that_would_grow_without_end_are_refused_by_a_limit() {
    // Nine lists of nine aliases each: 9^9 values.
    let mut laughs = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n".to_owned();
    for i in 1..9 {
        let of = vec![format!("*a{}", i - 1); 9].join(", ");
        writeln!(laughs, "a{i}: &a{i} [{of}]").unwrap();
    }
    assert!(limit(&laughs).unwrap().ends_with("(nodes)"));
    // One long text in every place that the other limits leave.
    let long = "x".repeat(SCALAR_BYTES);
    let texts = format!("a: &a {long}\nb: [{}]\n", vec!["*a"; ALIASES].join(", "));
    assert!(limit(&texts).unwrap().ends_with("(expanded bytes)"));
    // Anchors one within another: each would hold a copy of all that is in it.
    let mut anchors = String::new();
    for i in 0..60 {
        write!(anchors, "&b{i} [").unwrap();
    }
    write!(anchors, "{}{}", vec!["1"; 90_000].join(","), "]".repeat(60)).unwrap();
    assert!(limit(&anchors).unwrap().ends_with("(nodes)"));
    // An alias brings its own depth along.
    let deep = format!(
        "a: &a {}1{}\nb: {}*a{}\n",
        "[".repeat(40),
        "]".repeat(40),
        "[".repeat(40),
        "]".repeat(40)
    );
    assert!(limit(&deep).unwrap().ends_with("(depth)"));
    // Merge keys count as aliases do.
    let keys = lines(9_999, |i| format!("  k{i}: 1"));
    let merged = format!("a: &a\n{keys}b:\n  <<: *a\n  x: 1\n  y: 2\n");
    assert!(limit(&merged).unwrap().ends_with("(keys)"));
    assert!(limit(&"[".repeat(TEXT_BYTES)).unwrap().ends_with("(depth)"));
    assert!(limit(&"- ".repeat(TEXT_BYTES / 2)).unwrap().ends_with("(depth)"));
}
