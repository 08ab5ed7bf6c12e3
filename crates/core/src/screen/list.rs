//! The list of known findings: read, looked up, held against what there is now, and written.

use super::against::{Against, Worse};
use super::{ScreenRequest, Writing};
use crate::concede::rules_elsewhere;
use crate::document::dossier::{Library, beside, tidy};
use crate::document::known::KnownFinding;
use crate::document::reader::{Findings, read_known};
use crate::review::Ruled;
use crate::source::{Code, Diagnostic, Files, nearest};
use core::fmt::Write as _;
use std::collections::BTreeMap;

/// What is known.
#[derive(Debug, Default)]
pub(super) struct List {
    /// Its path as shown; none where there is no list.
    pub(super) path: Option<String>,
    pub(super) entries: Vec<KnownFinding>,
    /// There is a list, and nothing of it could be read: nothing can be said to be new.
    pub(super) is_torn: bool,
    /// The number of the entry of a pan, rule, object and path.
    by: BTreeMap<Identity, usize>,
}

/// Pan as shown, rule, object, path in the description.
type Identity = (String, String, Option<String>, String);

/// What is known of a finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Standing {
    /// It, or worse.
    Known,
    /// Nothing.
    New,
    /// Less than this; the number of the entry.
    Worse(Worse, usize),
}

impl List {
    /// Reads the list. What is wrong with it is among the problems of the rulebook that it is held against, unless it
    /// is to be written anew.
    pub(super) fn read(request: &ScreenRequest<'_>, path: &str, ruled: &mut Ruled) -> Self {
        let ScreenRequest { files, folder, writing, .. } = *request;
        let anew = writing == Writing::Everything;
        let mut library = Library::over(files, std::mem::take(&mut ruled.sources));
        let mut found = Findings::default();
        let doc =
            library.list_named_by_user(path).and_then(|part| read_known(&part.node, &mut found));
        ruled.sources = library.sources;
        if !anew {
            ruled.problems.append(&mut library.problems);
            ruled.problems.append(&mut found.problems);
        }
        let is_torn = doc.is_none() && !anew;
        let entries = doc.map(|doc| doc.findings).unwrap_or_default();
        let mut list = Self { path: Some(path.to_owned()), entries, is_torn, by: BTreeMap::new() };
        for (number, entry) in list.entries.iter().enumerate() {
            let object = entry.object.as_ref().map(|object| object.text.clone());
            let identity = (
                beside(folder, &entry.pan.text),
                entry.rule.text.clone(),
                object,
                entry.at.text.clone(),
            );
            list.by.insert(identity, number);
        }
        if ruled.stands() && !anew {
            list.check(files, ruled);
        }
        list
    }

    /// Every entry is of a rule that there is, and its value of what that measures.
    fn check(&self, files: &dyn Files, ruled: &mut Ruled) {
        let mut elsewhere = None;
        for entry in &self.entries {
            let id = entry.rule.text.as_str();
            let rule = ruled.rulebook.rules.iter().find(|rule| rule.doc.id.text == id);
            if let Some(rule) = rule {
                let asked = rule.measure.dimension;
                if let Some(value) = &entry.value
                    && value.unit.dimension != asked
                {
                    let (asked, is) = (asked.name(), value.unit.dimension.name());
                    let message = format!("{id} measures {asked}, and this value is {is}");
                    let problem = Diagnostic::error(Code::WrongDimension, value.span, message);
                    ruled.problems.push(problem);
                }
                continue;
            }
            let elsewhere = elsewhere.get_or_insert_with(|| rules_elsewhere(&ruled.book, files));
            if elsewhere.contains(id) {
                continue;
            }
            let message = format!("there is no rule {id}");
            let ids = ruled.book.ids.iter().chain(elsewhere.iter()).map(String::as_str);
            let help = match nearest(id, ids) {
                Some(near) => format!("did you mean `{near}`?"),
                None => "`sumpwright explain` lists the ids of all rules".to_owned(),
            };
            let problem = Diagnostic::error(Code::UnknownName, entry.rule.span, message);
            ruled.problems.push(problem.help(help));
        }
    }

    /// What is known of a finding on a pan, by the path as shown.
    pub(super) fn standing(&self, pan: &str, against: &Against) -> Standing {
        let Some((number, entry)) = self.entry(pan, against) else { return Standing::New };
        match against.worse_than(entry) {
            Some(worse) => Standing::Worse(worse, number),
            None => Standing::Known,
        }
    }

    fn entry(&self, pan: &str, against: &Against) -> Option<(usize, &KnownFinding)> {
        let Against { rule, object, at, .. } = against;
        let identity = (tidy(pan), rule.clone(), object.clone(), at.clone());
        let number = *self.by.get(&identity)?;
        Some((number, self.entries.get(number)?))
    }

    /// The entries on a pan, with their numbers, in the order of rule and object.
    pub(super) fn on<'a>(
        &'a self,
        pan: &str,
    ) -> impl Iterator<Item = (usize, &'a KnownFinding)> + use<'a> {
        let first = (tidy(pan), String::new(), None, String::new());
        let pan = first.0.clone();
        let of_pan = self.by.range(first..).take_while(move |((of, ..), _)| *of == pan);
        of_pan.filter_map(|(_, number)| Some((*number, self.entries.get(*number)?)))
    }

    /// The pans that are named, as shown.
    pub(super) fn pans(&self) -> impl Iterator<Item = &str> {
        let mut pans: Vec<&str> = self.by.keys().map(|(pan, ..)| pan.as_str()).collect();
        pans.dedup();
        pans.into_iter()
    }

    /// The entry of the same rule and object at another place.
    pub(super) fn elsewhere(&self, pan: &str, against: &Against) -> Option<&KnownFinding> {
        self.on(pan).map(|(_, entry)| entry).find(|entry| Self::is_like(entry, against))
    }

    /// Whether a finding is the one that an entry is of.
    pub(super) fn is_of(entry: &KnownFinding, against: &Against) -> bool {
        Self::is_like(entry, against) && entry.at.text == against.at
    }

    /// Whether a finding is on the rule and the object that an entry is on.
    pub(super) fn is_like(entry: &KnownFinding, against: &Against) -> bool {
        let object = entry.object.as_ref().map(|object| object.text.as_str());
        entry.rule.text == against.rule && object == against.object.as_deref()
    }
}

impl Line {
    /// The line that an entry is.
    pub(super) fn as_it_was(entry: &KnownFinding) -> Self {
        Self {
            pan: entry.pan.text.clone(),
            rule: entry.rule.text.clone(),
            object: entry.object.as_ref().map(|object| object.text.clone()),
            at: entry.at.text.clone(),
            verdict: entry.verdict.text.clone(),
            value: entry.value.as_ref().map(|value| value.text.clone()),
        }
    }

    /// The line that a finding makes.
    pub(super) fn of(pan: &str, against: &Against) -> Self {
        Self {
            pan: pan.to_owned(),
            rule: against.rule.clone(),
            object: against.object.clone(),
            at: against.at.clone(),
            verdict: against.verdict.words().to_owned(),
            value: against.value.as_ref().map(|value| value.text.clone()),
        }
    }
}

/// A line of the list: pan from the project's folder, rule, object, path, verdict, value.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Line {
    pub(super) pan: String,
    pub(super) rule: String,
    pub(super) object: Option<String>,
    pub(super) at: String,
    pub(super) verdict: String,
    pub(super) value: Option<String>,
}

const HEAD: &str = "\
# What was already known to be against the pans of this repository. `sumpwright screen` tells what is worse or new, and
# what is here and no more. `sumpwright screen --tidy-known` takes that out, `--write-known` writes all of it anew.
known_findings: 1
";

/// The text of a list: the same lines make the same bytes.
pub(super) fn written(mut lines: Vec<Line>) -> String {
    lines.sort();
    lines.dedup();
    let mut out = HEAD.to_owned();
    if lines.is_empty() {
        out.push_str("findings: none\n");
        return out;
    }
    out.push_str("findings:\n");
    for line in &lines {
        let mut parts = vec![("pan", line.pan.as_str()), ("rule", &line.rule)];
        parts.extend(line.object.as_ref().map(|object| ("object", object.as_str())));
        parts.extend([("at", line.at.as_str()), ("verdict", &line.verdict)]);
        parts.extend(line.value.as_ref().map(|value| ("value", value.as_str())));
        let parts: Vec<String> =
            parts.into_iter().map(|(key, value)| format!("{key}: {}", scalar(value))).collect();
        // Writing into a string does not fail.
        let _ = writeln!(out, "  - {{ {} }}", parts.join(", "));
    }
    out
}

/// A text as a value in flow style: plain where every sign is harmless, else in double quotes.
fn scalar(text: &str) -> String {
    let harmless = |c: char| c.is_alphanumeric() || "._/ -+^()·³²±".contains(c);
    let starts = text.starts_with(|c: char| c.is_alphanumeric() || c == '.' || c == '_')
        || text
            .strip_prefix('-')
            .is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
    let word = matches!(text, "none" | "null" | "true" | "false" | "yes" | "no");
    if starts && !word && !text.ends_with(' ') && text.chars().all(harmless) {
        return text.to_owned();
    }
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() || matches!(c, '\u{2028}' | '\u{2029}' | '\u{feff}') => {
                let _ = write!(out, "\\u{:04x}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(pan: &str, value: Option<&str>) -> Line {
        Line {
            pan: pan.to_owned(),
            rule: "wall.too-thin".to_owned(),
            object: None,
            at: "wall.floor".to_owned(),
            verdict: "inconclusive".to_owned(),
            value: value.map(str::to_owned),
        }
    }

    #[test]
    fn the_order_in_which_it_is_found_makes_no_difference() {
        let lines = [line("b.yaml", None), line("a.yaml", Some("-1.25 mm")), line("c.yaml", None)];
        let one = written(lines.to_vec());
        assert_eq!(one, written(lines.iter().rev().chain(&lines).cloned().collect()));
        insta::assert_snapshot!(one);
    }

    #[test]
    fn nothing_known_is_said_and_not_left_out() {
        assert!(written(Vec::new()).ends_with("known_findings: 1\nfindings: none\n"));
    }

    /// What a path can hold comes back through the reader of YAML as it was.
    #[test]
    fn every_path_is_read_again_as_it_was() {
        use crate::source::{Sources, parse};
        for text in [
            "pans/a b.yaml",
            "pans/a: b.yaml",
            "pans/{x}.yaml",
            "pans/#1, 2.yaml",
            "pans/\"q\"\\.yaml",
            "-",
            "none",
            "pans/naïve.yaml",
            "a\u{9}b",
            "pans/[1].yaml",
            "*",
            "'",
            "1.5 mm",
            "-8.5 mm",
            "~",
            "& a ",
        ] {
            let list = written(vec![line(text, None)]);
            let mut sources = Sources::default();
            let file = sources.add("known.yaml", list.clone());
            let mut problems = Vec::new();
            let node = parse(&sources, file, &mut problems).expect("a tree");
            let mut found = Findings::default();
            let doc = read_known(&node, &mut found).expect("a list");
            assert!(problems.is_empty() && found.problems.is_empty(), "{list}{:?}", found.problems);
            assert_eq!(doc.findings[0].pan.text, text, "{list}");
        }
    }
}
