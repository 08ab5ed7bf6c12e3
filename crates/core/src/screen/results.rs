//! What earlier runs came to, as a text that the host keeps: for each pan everything that was asked of the files, and
//! what counted against it. A text that is broken, cut off, or of another program or rulebook is nothing.

use super::against::{Against, Reached};
use super::asked::{Of, Question, Trace, hex};
use crate::review::LimitSide;
use crate::verdict::Verdict;
use core::fmt::Write as _;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What was kept of pans, by path as shown.
#[derive(Debug, Default)]
pub(super) struct Results(pub(super) BTreeMap<String, Kept>);

/// What was kept of one pan.
#[derive(Debug, Clone)]
pub(super) struct Kept {
    pub(super) trace: Vec<(Arc<Question>, String)>,
    pub(super) against: Vec<Against>,
}

impl Kept {
    pub(super) fn new(trace: Trace, against: Vec<Against>) -> Self {
        let trace = trace.into_iter().map(|(question, answer)| (Arc::new(question), answer));
        Self { trace: trace.collect(), against }
    }
}

const FIRST: &str = "sumpwright results 1";
const NONE: &str = "*";
const VERDICTS: [Verdict; 2] = [Verdict::DoesNotConform, Verdict::Inconclusive];

/// The key of what can be used again: the program and all texts that say how to judge.
pub(super) fn key<'a>(engine: &'a str, texts: impl Iterator<Item = &'a str>) -> String {
    let mut digest = Sha256::new();
    for text in std::iter::once(engine).chain(texts) {
        digest.update(u64::try_from(text.len()).unwrap_or(u64::MAX).to_le_bytes());
        digest.update(text.as_bytes());
    }
    hex(&digest.finalize())
}

impl Results {
    /// Reads what was kept under a key; nothing where anything about it is not as it should be.
    pub(super) fn read(text: &str, key: &str) -> Self {
        whole(text).and_then(|text| read(text, key)).unwrap_or_default()
    }

    /// The text to keep.
    pub(super) fn written(&self, key: &str) -> String {
        let mut out = format!("{FIRST}\nkey {key}\n");
        let mut numbers: BTreeMap<(&Question, &str), usize> = BTreeMap::new();
        let mut pans = String::new();
        for (pan, kept) in &self.0 {
            let asked: Vec<String> = kept
                .trace
                .iter()
                .map(|(question, answer)| {
                    let next = numbers.len();
                    let number = *numbers.entry((question, answer)).or_insert_with(|| {
                        line(&mut out, &asked_fields(question, answer));
                        next
                    });
                    number.to_string()
                })
                .collect();
            line(&mut pans, &["pan", pan, &asked.join(" ")]);
            for against in &kept.against {
                line(&mut pans, &against_fields(against).each_ref().map(String::as_str));
            }
        }
        out.push_str(&pans);
        let end = hex(&Sha256::digest(&out));
        let _ = writeln!(out, "end {end}");
        out
    }
}

/// The text before its last line, if that is the digest of it.
fn whole(text: &str) -> Option<&str> {
    let (before, end) = text.strip_suffix('\n')?.rsplit_once('\n')?;
    let before = text.get(..=before.len())?;
    (end == format!("end {}", hex(&Sha256::digest(before)))).then_some(before)
}

fn read(text: &str, key: &str) -> Option<Results> {
    let mut lines = text.lines();
    if lines.next()? != FIRST || lines.next()?.strip_prefix("key ")? != key {
        return None;
    }
    let mut asked: Vec<(Arc<Question>, String)> = Vec::new();
    let mut results = Results::default();
    let mut pan: Option<String> = None;
    for one in lines {
        let fields: Vec<String> = one.split('\t').map(unescaped).collect::<Option<_>>()?;
        let fields: Vec<&str> = fields.iter().map(String::as_str).collect();
        match fields.as_slice() {
            ["ask", of, answer, limit, root, path] => {
                let of = OFS.iter().find(|(_, word)| word == of)?.0;
                let root = optional(root);
                let limit = limit.parse().ok()?;
                let question = Question { of, path: (*path).to_owned(), root, limit };
                asked.push((Arc::new(question), (*answer).to_owned()));
            }
            ["pan", path, numbers] => {
                let trace = numbers
                    .split(' ')
                    .map(|number| asked.get(number.parse::<usize>().ok()?).cloned())
                    .collect::<Option<Vec<_>>>()?;
                let kept = Kept { trace, against: Vec::new() };
                results.0.insert((*path).to_owned(), kept);
                pan = Some((*path).to_owned());
            }
            ["not", rest @ ..] => {
                let kept = results.0.get_mut(pan.as_ref()?)?;
                kept.against.push(against(rest)?);
            }
            _ => return None,
        }
    }
    Some(results)
}

const OFS: [(Of, &str); 3] = [(Of::Bytes, "bytes"), (Of::Stream, "stream"), (Of::Being, "being")];

fn asked_fields<'a>(question: &'a Question, answer: &'a str) -> [String; 6] {
    let of = OFS.iter().find(|(of, _)| *of == question.of).map_or("", |(_, word)| word);
    let root = question.root.as_ref().map_or_else(|| NONE.to_owned(), |root| starless(root));
    [
        "ask".to_owned(),
        of.to_owned(),
        answer.to_owned(),
        question.limit.to_string(),
        root,
        question.path.clone(),
    ]
}

fn against_fields(against: &Against) -> [String; 8] {
    let Against { rule, object, at, verdict, value, limits } = against;
    let limits: Vec<String> = limits
        .iter()
        .map(|(side, limit)| {
            let side = if *side == LimitSide::AtLeast { "least" } else { "most" };
            format!("{side} {:016x}", limit.to_bits())
        })
        .collect();
    let text = value.as_ref().map_or(NONE, |value| &value.text);
    let bits = value.as_ref().map_or_else(String::new, |v| format!("{:016x}", v.si.to_bits()));
    [
        "not".to_owned(),
        rule.clone(),
        object.as_ref().map_or_else(|| NONE.to_owned(), |object| starless(object)),
        at.clone(),
        verdict.words().to_owned(),
        text.to_owned(),
        bits,
        limits.join(","),
    ]
}

fn against(fields: &[&str]) -> Option<Against> {
    let [rule, object, at, verdict, text, bits, limits] = *fields else { return None };
    let number = |bits: &str| u64::from_str_radix(bits, 16).ok().map(f64::from_bits);
    let limit = |one: &str| {
        let (side, bits) = one.split_once(' ')?;
        let side = match side {
            "least" => LimitSide::AtLeast,
            "most" => LimitSide::AtMost,
            _ => return None,
        };
        Some((side, number(bits)?))
    };
    let value = match optional(text) {
        Some(text) => Some(Reached { si: number(bits)?, text }),
        None => None,
    };
    let limits = limits.split(',').filter(|one| !one.is_empty());
    Some(Against {
        rule: rule.to_owned(),
        object: optional(object),
        at: at.to_owned(),
        verdict: VERDICTS.into_iter().find(|known| known.words() == verdict)?,
        value,
        limits: limits.map(limit).collect::<Option<_>>()?,
    })
}

/// A text that cannot be taken for that of nothing.
fn starless(text: &str) -> String {
    if text.starts_with(NONE) { format!("{NONE}{text}") } else { text.to_owned() }
}

fn optional(text: &str) -> Option<String> {
    if text == NONE { None } else { Some(text.strip_prefix(NONE).unwrap_or(text).to_owned()) }
}

/// One line of fields between tabs, in which no field holds a tab or a line's end.
fn line<T: AsRef<str>>(out: &mut String, fields: &[T]) {
    for (number, field) in fields.iter().enumerate() {
        if number > 0 {
            out.push('\t');
        }
        for c in field.as_ref().chars() {
            if c == '%' || c.is_control() {
                let _ = write!(out, "%{:02x}.", u32::from(c));
            } else {
                out.push(c);
            }
        }
    }
    out.push('\n');
}

fn unescaped(field: &str) -> Option<String> {
    let mut parts = field.split('%');
    let mut out = parts.next()?.to_owned();
    for part in parts {
        let (code, rest) = part.split_once('.')?;
        out.push(char::from_u32(u32::from_str_radix(code, 16).ok()?)?);
        out.push_str(rest);
    }
    Some(out)
}
