use super::*;
use crate::source::Value;
use proptest::prelude::*;
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
    let defined = match node.defined == node.span {
        true => String::new(),
        false => format!(" @ {:?}", sources.slice(node.defined)),
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

/// The problems of a text, a line each: code, the text at its place, message, other places, help.
fn refusals(texts: &[&str]) -> String {
    let mut out = String::new();
    for text in texts {
        let (sources, node, problems) = read(text);
        let tree = if node.is_some() { "" } else { ", no tree" };
        writeln!(out, "{text:?}{tree}").unwrap();
        for p in &problems {
            let at = |span| format!("{:?} ({})", sources.slice(span), span.start);
            write!(out, "  {} at {}: {}", p.code.word(), at(p.primary.span), p.message).unwrap();
            for other in &p.others {
                write!(out, " | {} {}", at(other.span), other.text).unwrap();
            }
            writeln!(out, " | {}", p.help.as_deref().unwrap_or("")).unwrap();
        }
    }
    out
}

#[test]
fn what_is_no_yaml_is_refused_at_its_place() {
    insta::assert_snapshot!(refusals(&[
        "", "# only a comment\n", "\u{feff}", "---\n", "~",
        "a: 1\nb: 2\na: 3\na: 4\n", "{ a: 1, a: 2 }", "'a': 1\na: 2",
        "a: 1\n---\nb: 2\n", "a: 1\n...\nb: 2\n", "%YAML 1.2\n---\na: 1\n",
        "a: *b\n", "a: &b [*b]\n", "a: &b { c: *b }\n", "<<: *b\n", "<<: 1\nb: 2\n", "a: &n 1\n<<: [*n]\n",
        "a: !!str 1\nb: !own { c: 1 }\nc: ! d\n",
        "? [a]\n: 1\n", "? { a: 1 }\n: 2\n", ": 1\n", "{ [a]: 1 }\n",
        "a:\n\tb: 1\n", "a:\t1\n", "a: 1\tmm\n", "\ta: 1\n", "a: b\0c\n", "a: \u{7}\n", "a: \"\\u0007\"\n", "a: 1\rb: 2\n",
        "a: b: c\n", "a: 1\n b: 2\n", "a: { b: 62.4 mm: 3 }\n", "x: { a: 1\ny: 2\n", "x: [1, 2\ny: 3\n", "x: [1, 2", "x: { a: 1 ]\n",
        "a: }\n", "{ a: 1 }\n}\n", "a: 'x\n", "a: \"x\n", "a: 'x' y\n", "a: \"\\q\"\n", "a: @x\n", "a: `x`\n", "a: %x\n", "a: & x\n", "a: *\n",
        "a:\n  b: 1\n c: 2\n", "- a\nb: 1\n", "a: 1\n- b\n", "a\nb: 1\n", "a: [- 1]\n", "a: { b: 1, , }\n", "a: |x\n  y\n", "a: 1\n\u{feff}b: 2\n",
        "a: 'x'#c\n", "just text\n", "a: {b: c: d}\n", "a: [b: c: d]\n", "a: {x: 1}y\n",
    ]), @r##"
    "", no tree
      empty-file at "" (0): the file holds no document | begin with the kind of document it is, such as `pan: 1`, and its title
    "# only a comment\n", no tree
      empty-file at "" (0): the file holds no document | begin with the kind of document it is, such as `pan: 1`, and its title
    "\u{feff}", no tree
      empty-file at "" (0): the file holds no document | begin with the kind of document it is, such as `pan: 1`, and its title
    "---\n", no tree
      empty-file at "" (0): the file holds no document | begin with the kind of document it is, such as `pan: 1`, and its title
    "~", no tree
      empty-file at "" (0): the file holds no document | begin with the kind of document it is, such as `pan: 1`, and its title
    "a: 1\nb: 2\na: 3\na: 4\n"
      duplicate-key at "a" (10): the key `a` stands twice in one mapping | "a" (0) first here | delete one of them, or give it another name
      duplicate-key at "a" (15): the key `a` stands twice in one mapping | "a" (0) first here | delete one of them, or give it another name
    "{ a: 1, a: 2 }"
      duplicate-key at "a" (8): the key `a` stands twice in one mapping | "a" (2) first here | delete one of them, or give it another name
    "'a': 1\na: 2"
      duplicate-key at "a" (7): the key `a` stands twice in one mapping | "'a'" (0) first here | delete one of them, or give it another name
    "a: 1\n---\nb: 2\n"
      yaml-syntax at "---" (5): a second document begins here; the first is a mapping | keep one document in a file: move what follows into a file of its own
    "a: 1\n...\nb: 2\n"
      yaml-syntax at "" (9): a second document begins here; the first is a mapping | keep one document in a file: move what follows into a file of its own
    "%YAML 1.2\n---\na: 1\n", no tree
      yaml-syntax at "%" (0): a line that begins with `%` is not read | delete it
    "a: *b\n", no tree
      yaml-syntax at "*b" (3): nothing before this is anchored as `&b` | write `&b` before the value it stands for, further up, or quote this text
    "a: &b [*b]\n", no tree
      yaml-syntax at "*b" (7): the alias stands within the value it names, which would never end | write the value out
    "a: &b { c: *b }\n", no tree
      yaml-syntax at "*b" (11): the alias stands within the value it names, which would never end | write the value out
    "<<: *b\n", no tree
      yaml-syntax at "*b" (4): nothing before this is anchored as `&b` | write `&b` before the value it stands for, further up, or quote this text
    "<<: 1\nb: 2\n"
      wrong-shape at "1" (4): `<<` takes a mapping or a list of mappings, found a single value | name an anchored mapping: `<<: *name`
    "a: &n 1\n<<: [*n]\n"
      wrong-shape at "*n" (13): `<<` takes a mapping or a list of mappings, found a single value | name an anchored mapping: `<<: *name`
    "a: !!str 1\nb: !own { c: 1 }\nc: ! d\n"
      yaml-syntax at "!!str" (3): the tag `!!str` is not read | delete it: every value is read as what its place asks for; text that begins with `!` is quoted
      yaml-syntax at "!own" (14): the tag `!own` is not read | delete it: every value is read as what its place asks for; text that begins with `!` is quoted
      yaml-syntax at "!" (31): the tag `!` is not read | delete it: every value is read as what its place asks for; text that begins with `!` is quoted
    "? [a]\n: 1\n", no tree
      yaml-syntax at "[a]" (2): a key must be a single text, found a list | give the value a name before the colon, and quote a name that begins with a bracket
    "? { a: 1 }\n: 2\n", no tree
      yaml-syntax at "{ a: 1 }" (2): a key must be a single text, found a mapping | give the value a name before the colon, and quote a name that begins with a bracket
    ": 1\n", no tree
      yaml-syntax at "" (1): a key must be a single text, found nothing | give the value a name before the colon, and quote a name that begins with a bracket
    "{ [a]: 1 }\n", no tree
      yaml-syntax at "[a]" (2): a key must be a single text, found a list | give the value a name before the colon, and quote a name that begins with a bracket
    "a:\n\tb: 1\n", no tree
      yaml-syntax at "\t" (3): a tab stands where only blanks may | replace the tab with blanks
    "a:\t1\n"
    "a: 1\tmm\n"
    "\ta: 1\n", no tree
      yaml-syntax at "\t" (0): a tab stands where only blanks may | replace the tab with blanks
    "a: b\0c\n", no tree
      not-text at "\0" (4): the file holds a NUL, so it is not a text | delete it; save the file as UTF-8 text with LF or CRLF line ends
    "a: \u{7}\n", no tree
      yaml-syntax at "\u{7}" (3): the control character U+0007 | delete it; save the file as UTF-8 text with LF or CRLF line ends
    "a: \"\\u0007\"\n"
      yaml-syntax at "\"\\u0007\"" (3): the text holds the control character U+0007 | leave the escape out
    "a: 1\rb: 2\n", no tree
      yaml-syntax at "\r" (4): a carriage return without a line feed after it | delete it; save the file as UTF-8 text with LF or CRLF line ends
    "a: b: c\n", no tree
      yaml-syntax at ":" (4): a second colon stands in one line | quote the value that holds `: `, or begin a mapping on the next line
    "a: 1\n b: 2\n", no tree
      yaml-syntax at ":" (7): this line goes on with the value above it, so it cannot hold a colon | "1\n b" (3) read as one value over several lines | begin it in the same column as the key it belongs beside
    "a: { b: 62.4 mm: 3 }\n", no tree
      yaml-syntax at ":" (15): a comma or a closing bracket was expected before `:` | "{" (3) this `{` is still open there | quote the value, or write this mapping over several lines
    "x: { a: 1\ny: 2\n", no tree
      yaml-syntax at ":" (11): a comma or a closing bracket was expected before `:` | "{" (3) this `{` is still open there | quote the value, or write this mapping over several lines
    "x: [1, 2\ny: 3\n", no tree
      yaml-syntax at ":" (10): a comma or a closing bracket was expected before `:` | "[" (3) this `[` is still open there | quote the value, or write this mapping over several lines
    "x: [1, 2", no tree
      yaml-syntax at "[" (3): this `[` is never closed | close it; a list or mapping that grows is easier to read over several lines
    "x: { a: 1 ]\n", no tree
      yaml-syntax at "{" (3): `]` closes what `{` opened | close each bracket with its own kind
    "a: }\n", no tree
      yaml-syntax at "}" (3): `}` closes nothing | delete it, or quote the value it belongs to
    "{ a: 1 }\n}\n", no tree
      yaml-syntax at "}" (9): `}` closes nothing | delete it, or quote the value it belongs to
    "a: 'x\n", no tree
      yaml-syntax at "'" (3): this quotation mark is never closed | close it; within '…' a ' is written twice
    "a: \"x\n", no tree
      yaml-syntax at "\"" (3): this quotation mark is never closed | close it; within '…' a ' is written twice
    "a: 'x' y\n", no tree
      yaml-syntax at "y" (7): `y` follows a closing quotation mark | put the whole value within the quotation marks
    "a: \"\\q\"\n", no tree
      yaml-syntax at "\"" (3): an escape within "…" that means nothing | write the path with forward slashes, or the text within '…'
    "a: @x\n", no tree
      yaml-syntax at "@" (3): a value cannot begin with `@` | quote the value
    "a: `x`\n", no tree
      yaml-syntax at "`" (3): a value cannot begin with a backtick | quote the value
    "a: %x\n", no tree
      yaml-syntax at "%" (3): a value cannot begin with `%` | quote the value
    "a: & x\n", no tree
      yaml-syntax at "&" (3): an anchor or alias without a name | quote a value that begins with `&` or `*`
    "a: *\n", no tree
      yaml-syntax at "*" (3): an anchor or alias without a name | quote a value that begins with `&` or `*`
    "a:\n  b: 1\n c: 2\n", no tree
      yaml-syntax at "c" (11): this does not line up with what stands above it | begin every key of one mapping, and every dash of one list, in the same column
    "- a\nb: 1\n", no tree
      yaml-syntax at "b" (4): this does not line up with what stands above it | begin every key of one mapping, and every dash of one list, in the same column
    "a: 1\n- b\n", no tree
      yaml-syntax at "b" (7): this does not line up with what stands above it | begin every key of one mapping, and every dash of one list, in the same column
    "a\nb: 1\n", no tree
      yaml-syntax at ":" (3): this line goes on with the value above it, so it cannot hold a colon | "a\nb" (0) read as one value over several lines | begin it in the same column as the key it belongs beside
    "a: [- 1]\n", no tree
      yaml-syntax at "-" (4): a dash cannot begin an item between brackets | "[" (3) this `[` is still open there | quote the value, or write this mapping over several lines
    "a: { b: 1, , }\n", no tree
      yaml-syntax at "," (11): a comma or a closing bracket was expected before `,` | "{" (3) this `{` is still open there | quote the value, or write this mapping over several lines
    "a: |x\n  y\n", no tree
      yaml-syntax at "|" (3): after `|` or `>` the text begins on the next line | begin the text below, or quote a value that begins with `|` or `>`
    "a: 1\n\u{feff}b: 2\n", no tree
      yaml-syntax at "\u{feff}" (5): a byte order mark stands within the text | delete it
    "a: 'x'#c\n", no tree
      yaml-syntax at "#" (6): a comment stands within a value | put a blank before the `#`, or quote the value
    "just text\n"
    "a: {b: c: d}\n", no tree
      yaml-syntax at ":" (8): a comma or a closing bracket was expected before `:` | "{" (3) this `{` is still open there | quote the value, or write this mapping over several lines
    "a: [b: c: d]\n", no tree
      yaml-syntax at ":" (8): a comma or a closing bracket was expected before `:` | "[" (3) this `[` is still open there | quote the value, or write this mapping over several lines
    "a: {x: 1}y\n", no tree
      yaml-syntax at "y" (9): this does not line up with what stands above it | begin every key of one mapping, and every dash of one list, in the same column
    "##);
}

/// Whether the text is refused by a limit, and by which.
fn limit(text: &str) -> Option<String> {
    let (_, node, problems) = read(text);
    let last = problems.last()?;
    assert_eq!((last.code, node.is_none()), (Code::LimitReached, true), "{}", last.message);
    Some(last.message.clone())
}

#[test]
fn limits_are_exact_and_say_what_was_counted() {
    let nested = |n: usize| format!("{}1{}", "[".repeat(n), "]".repeat(n));
    assert_eq!(limit(&nested(DEPTH)), None);
    assert_eq!(
        limit(&nested(DEPTH + 1)).unwrap(),
        "65 or more mappings and lists one within another, at most 64 are read (depth)"
    );
    let stairs = |n: usize| (0..n).map(|i| format!("{}a:\n", " ".repeat(i))).collect::<String>();
    assert_eq!(limit(&stairs(DEPTH)), None);
    assert!(limit(&stairs(DEPTH + 1)).unwrap().ends_with("(depth)"));
    let mixed = format!("{}{}", stairs(40), format!("{}x: {}", " ".repeat(40), nested(30)));
    assert_eq!(
        limit(&mixed).unwrap(),
        "65 mappings and lists one within another, at most 64 are read (depth)"
    );
    let list = |n: usize| format!("[{}]", vec!["1"; n].join(","));
    assert_eq!(limit(&list(NODES - 1)), None);
    assert!(limit(&list(NODES)).unwrap().starts_with("100001 keys and values"));
    let keys = |n: usize| (0..n).map(|i| format!("k{i}: 1\n")).collect::<String>();
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
    let keys: String = (0..9_999).map(|i| format!("  k{i}: 1\n")).collect();
    let merged = format!("a: &a\n{keys}b:\n  <<: *a\n  x: 1\n  y: 2\n");
    assert!(limit(&merged).unwrap().ends_with("(keys)"));
    assert!(limit(&"[".repeat(TEXT_BYTES)).unwrap().ends_with("(depth)"));
    assert!(limit(&"- ".repeat(TEXT_BYTES / 2)).unwrap().ends_with("(depth)"));
}

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
            prop::collection::btree_map(key, inner, 0..5)
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
