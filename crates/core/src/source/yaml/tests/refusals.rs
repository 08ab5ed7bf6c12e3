//! Tests: refusals.

use super::*;

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
fn what_cannot_be_a_description_is_refused_at_its_place() {
    let texts = [
        "",
        "# only a comment\n",
        "\u{feff}",
        "---\n",
        "~",
        "a: 1\nb: 2\na: 3\na: 4\n",
        "{ a: 1, a: 2 }",
        "'a': 1\na: 2",
        "a: 1\n---\nb: 2\n",
        "a: 1\n...\nb: 2\n",
        "%YAML 1.2\n---\na: 1\n",
        "a: *b\n",
        "a: &b [*b]\n",
        "a: &b { c: *b }\n",
        "<<: *b\n",
        "<<: 1\nb: 2\n",
        "a: &n 1\n<<: [*n]\n",
        "a: !!str 1\nb: !own { c: 1 }\nc: ! d\n",
        "? [a]\n: 1\n",
        "? { a: 1 }\n: 2\n",
        ": 1\n",
        "{ [a]: 1 }\n",
    ];
    insta::assert_snapshot!(refusals(&texts), @r##"
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
    "##);
}

#[test]
fn signs_that_stand_where_they_cannot_are_refused_at_their_place() {
    let texts = [
        "a:\n\tb: 1\n",
        "a:\t1\n",
        "a: 1\tmm\n",
        "\ta: 1\n",
        "a: b\0c\n",
        "a: \u{7}\n",
        "a: \"\\u0007\"\n",
        "a: 1\rb: 2\n",
    ];
    insta::assert_snapshot!(refusals(&texts), @r#"
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
    "#);
}

#[test]
fn broken_syntax_is_refused_at_its_place() {
    let texts = [
        "a: b: c\n",
        "a: 1\n b: 2\n",
        "a: { b: 62.4 mm: 3 }\n",
        "x: { a: 1\ny: 2\n",
        "x: [1, 2\ny: 3\n",
        "x: [1, 2",
        "x: { a: 1 ]\n",
        "a: }\n",
        "{ a: 1 }\n}\n",
        "a: 'x\n",
        "a: \"x\n",
        "a: 'x' y\n",
        "a: \"\\q\"\n",
        "a: @x\n",
        "a: `x`\n",
        "a: %x\n",
        "a: & x\n",
        "a: *\n",
        "a:\n  b: 1\n c: 2\n",
        "- a\nb: 1\n",
        "a: 1\n- b\n",
        "a\nb: 1\n",
        "a: [- 1]\n",
        "a: { b: 1, , }\n",
        "a: |x\n  y\n",
        "a: 1\n\u{feff}b: 2\n",
        "a: 'x'#c\n",
        "just text\n",
        "a: {b: c: d}\n",
        "a: [b: c: d]\n",
        "a: {x: 1}y\n",
    ];
    insta::assert_snapshot!(refusals(&texts), @r##"
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

/// Wherever the parser gives up, the marks are why; a text that can be read may hold what looks like them.
#[test]
fn a_merge_that_was_left_unfinished_is_told_as_that() {
    for text in [
        "a: 1\n<<<<<<< HEAD\nb: 2\n=======\nb: 3\n>>>>>>> other\n",
        "a: {\n  b: 1,\n<<<<<<< HEAD\n  c: 2 }\n=======\n  c: 3 }\n>>>>>>> other\n",
    ] {
        let (sources, _, problems) = read(text);
        let [problem] = problems.as_slice() else { panic!("{problems:?}") };
        assert_eq!(problem.message, "a merge was left unfinished here");
        assert_eq!(sources.slice(problem.primary.span), "<<<<<<<");
    }
    assert!(read("a: |\n  <<<<<<< HEAD\n").2.is_empty());
    let (_, _, problems) = read("a: |\n  <<<<<<< HEAD\nb c\n");
    assert!(!problems[0].message.contains("merge"), "{problems:?}");
}
