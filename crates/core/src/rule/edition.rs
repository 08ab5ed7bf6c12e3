//! The edition of a rulebook: a digest of what its rules say.
//!
//! It is the SHA-256 (FIPS 180-4) of this text in UTF-8: the rules as JSON in the canonical form of RFC 8785, an
//! object of the rules by id. Each is an object of its keys as in the file, where every single value is a string
//! as it was written; `within` is written as `at_least` and `at_most`, `decision` is that in force, a pin or a
//! value of a case keeps its shape. `cases`, `equivalent` and `set` stand there even where they are empty, `exact`
//! and `drop` (a list) only where they say something. Remarks, layout, the order of rules and keys, and the files that they are spread over make no difference.

use super::Rule;
use crate::document::Text;
use crate::document::rulebook::{CaseDoc, Decision, RuleDoc};
use crate::source::{Node, Scalar, Value};
use sha2::{Digest, Sha256};

/// The edition, in 64 hexadecimal digits.
pub(super) fn edition(rules: &[Rule]) -> String {
    hex(&Sha256::digest(canonical(rules)))
}

/// Bytes in hexadecimal digits.
pub(crate) fn hex(bytes: &[u8]) -> String {
    let mut text = String::new();
    for byte in bytes {
        for half in [byte >> 4, byte & 15] {
            text.extend(char::from_digit(u32::from(half), 16));
        }
    }
    text
}

/// The same of one rule alone.
pub(crate) fn edition_of_one(rule: &Rule) -> String {
    edition(std::slice::from_ref(rule))
}

/// A value of JSON without numbers.
enum Json {
    Null,
    Text(String),
    List(Vec<Json>),
    Object(Vec<(String, Json)>),
}

/// The text of which the edition is the digest.
pub(super) fn canonical(rules: &[Rule]) -> String {
    let all = rules.iter().map(|rule| (rule.doc.id.text.clone(), of_rule(rule))).collect();
    let mut out = String::new();
    Json::Object(all).write(&mut out);
    out
}

fn of_rule(rule: &Rule) -> Json {
    let doc = &rule.doc;
    let mut keys = vec![
        ("title", of_text(&doc.title)),
        ("force", plain(doc.force.value.word())),
        ("measure", of_scalar(&doc.measure)),
        ("because", of_text(&doc.because)),
        ("source", of_text(&doc.source)),
        ("decision", of_decision(rule.decision)),
        ("cases", Json::List(all_cases(doc).map(of_case).collect())),
        ("equivalent", Json::Object(equivalent(doc))),
    ];
    let formulas = [("at_least", &doc.at_least), ("at_most", &doc.at_most), ("when", &doc.when)];
    keys.extend(formulas.into_iter().filter_map(|(key, s)| Some((key, of_scalar(s.as_ref()?)))));
    let texts = [("remedy", &doc.remedy), ("caution", &doc.caution)];
    keys.extend(texts.into_iter().filter_map(|(key, text)| Some((key, of_text(text.as_ref()?)))));
    keys.extend(doc.pin.as_ref().map(|pin| ("pin", of_node(pin))));
    keys.extend(doc.since.map(|since| ("since", plain(&since.value.to_string()))));
    object(keys)
}

/// The canonical text of what a rule says and of what proves it, under each key.
pub(super) fn words(rule: &Rule) -> Vec<(&'static str, String)> {
    let doc = &rule.doc;
    let optional = |text: &Option<Text>| text.as_ref().map_or(Json::Null, of_text);
    let keys = [
        ("title", of_text(&doc.title)),
        ("because", of_text(&doc.because)),
        ("source", of_text(&doc.source)),
        ("remedy", optional(&doc.remedy)),
        ("caution", optional(&doc.caution)),
        ("since", doc.since.map_or(Json::Null, |since| plain(&since.value.to_string()))),
        ("pin", doc.pin.as_ref().map_or(Json::Null, of_node)),
        ("cases", Json::List(all_cases(doc).map(of_case).collect())),
        ("equivalent", Json::Object(equivalent(doc))),
    ];
    let written = |(key, value): (&'static str, Json)| {
        let mut text = String::new();
        value.write(&mut text);
        (key, text)
    };
    keys.into_iter().map(written).collect()
}

/// Its own cases, and then those of the rulebooks below.
fn all_cases(doc: &RuleDoc) -> impl Iterator<Item = &CaseDoc> {
    let below = doc.overridden.iter().flat_map(|below| {
        let cases: Box<dyn Iterator<Item = &CaseDoc>> = Box::new(all_cases(&below.base));
        cases
    });
    doc.cases.iter().chain(below)
}

fn equivalent(doc: &RuleDoc) -> Vec<(String, Json)> {
    doc.equivalent.iter().map(|(words, why)| (words.text.clone(), of_text(why))).collect()
}

fn of_case(case: &CaseDoc) -> Json {
    let mut keys = vec![
        ("fixture", of_text(&case.fixture)),
        ("expect", plain(case.expect.value.words())),
        (
            "set",
            Json::Object(case.set.iter().map(|(p, to)| (p.text.clone(), of_node(to))).collect()),
        ),
    ];
    if case.exact {
        keys.push(("exact", plain("true")));
    }
    if !case.dropped.is_empty() {
        keys.push(("drop", Json::List(case.dropped.iter().map(of_text).collect())));
    }
    object(keys)
}

fn of_decision(decision: Decision) -> Json {
    match decision {
        Decision::Guarded => plain("guarded"),
        Decision::Simple => plain("simple"),
        Decision::Probability(p) => object(vec![("probability", plain(&p.to_string()))]),
    }
}

fn of_node(node: &Node) -> Json {
    match &node.value {
        Value::Null => Json::Null,
        Value::Scalar(scalar) => of_scalar(scalar),
        Value::Sequence(items) => Json::List(items.iter().map(of_node).collect()),
        Value::Mapping(entries) => {
            Json::Object(entries.iter().map(|e| (e.key.text.clone(), of_node(&e.value))).collect())
        }
    }
}

fn of_text(text: &Text) -> Json {
    plain(&text.text)
}

fn of_scalar(scalar: &Scalar) -> Json {
    plain(&scalar.text)
}

fn plain(text: &str) -> Json {
    Json::Text(text.to_owned())
}

fn object(keys: Vec<(&str, Json)>) -> Json {
    Json::Object(keys.into_iter().map(|(key, value)| (key.to_owned(), value)).collect())
}

impl Json {
    /// RFC 8785: no blanks, keys by their UTF-16 code units, only what must be escaped.
    fn write(self, out: &mut String) {
        match self {
            Self::Null => out.push_str("null"),
            Self::Text(text) => quoted(&text, out),
            Self::List(items) => {
                let mut before = '[';
                out.extend(items.is_empty().then_some('['));
                for item in items {
                    out.push(before);
                    item.write(out);
                    before = ',';
                }
                out.push(']');
            }
            Self::Object(mut entries) => {
                entries.sort_by(|(a, _), (b, _)| a.encode_utf16().cmp(b.encode_utf16()));
                let mut before = '{';
                out.extend(entries.is_empty().then_some('{'));
                for (key, value) in entries {
                    out.push(before);
                    quoted(&key, out);
                    out.push(':');
                    value.write(out);
                    before = ',';
                }
                out.push('}');
            }
        }
    }
}

fn quoted(text: &str, out: &mut String) {
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\u{8}' => out.push_str("\\b"),
            '\t' => out.push_str("\\t"),
            '\n' => out.push_str("\\n"),
            '\u{c}' => out.push_str("\\f"),
            '\r' => out.push_str("\\r"),
            c if c < ' ' => out.extend(format!("\\u{:04x}", u32::from(c)).chars()),
            c => out.push(c),
        }
    }
    out.push('"');
}
