//! Rulebooks put together: the files of one, what it builds on, and every change against that.

use super::edition::edition;
use super::overriding::overridden;
use super::resolve::{Rule, Rulebook, resolve};
use super::strictness::{PartChange, Strictness, asked_otherwise, in_words, overall};
use crate::document::Text;
use crate::document::dossier::{Library, Part, folder_from, tidy};
use crate::document::reader::{Findings, read_rulebook};
use crate::document::rulebook::{BuildsOn, InsteadDoc, RulebookDoc};
use crate::source::{Code, Diagnostic, Span, nearest};

/// The word for the rulebook that the host brings along.
pub const BUILT_IN: &str = "built-in";

/// Rulebooks that build on each other more deeply are refused.
const DEEPEST: usize = 16;

/// What a rulebook builds on, and what it changes of it.
#[derive(Debug, Clone)]
pub struct Layer {
    /// What it builds on: `built-in`, or the paths of its files.
    pub base: String,
    /// The edition of that.
    pub edition: String,
    /// Whether that edition is asked for.
    pub pinned: bool,
    /// Where it says so.
    pub span: Span,
    /// Every change, by rule id.
    pub changes: Vec<RuleChange>,
}

/// A rule changed against the rulebook below.
#[derive(Debug, Clone)]
pub struct RuleChange {
    /// Its id.
    pub rule: String,
    /// Its title.
    pub title: String,
    /// Where the change stands.
    pub span: Span,
    /// What is changed.
    pub what: WhatChanged,
}

/// What is changed of a rule.
#[derive(Debug, Clone)]
pub enum WhatChanged {
    /// It asks something else.
    Overridden {
        /// Each part that does.
        parts: Vec<PartChange>,
        /// What that comes to.
        strictness: Strictness,
        /// Why.
        reason: String,
    },
    /// It is new.
    Added,
    /// It does not hold here.
    Dropped {
        /// Why.
        reason: String,
    },
}

impl WhatChanged {
    /// What it comes to: a rule that is added asks more, one that is dropped less.
    pub fn strictness(&self) -> Strictness {
        match self {
            Self::Overridden { strictness, .. } => *strictness,
            Self::Added => Strictness::Stricter,
            Self::Dropped { .. } => Strictness::Looser,
        }
    }
}

/// Reads the files of a rulebook and all that it builds on. What is wrong is among the library's problems.
pub(crate) fn assemble(library: &mut Library<'_>, texts: &[(String, String)]) -> Rulebook {
    let mut parts = Vec::new();
    for (path, text) in texts {
        parts.extend(library.add_text(path, text.clone()));
    }
    let chain = parts.iter().map(|part| tidy(&part.path)).collect();
    book(library, &parts, chain)
}

/// One rulebook; `chain` names what leads to it, itself included.
fn book(library: &mut Library<'_>, parts: &[Part], chain: Vec<String>) -> Rulebook {
    let mut found = Findings::default();
    let read = parts.iter().filter_map(|part| Some((part, read_rulebook(&part.node, &mut found)?)));
    let (parts, docs): (Vec<&Part>, Vec<RulebookDoc>) = read.unzip();
    library.problems.append(&mut found.problems);
    let mut book = resolve(&docs, &mut library.problems);
    for doc in &docs {
        let stated = doc.fixtures.as_ref().map(|text| text.text.as_str());
        let folder = folder_from(library.sources.path(doc.span.file), stated);
        book.folders.insert(doc.span.file, vec![folder]);
    }
    let builds = parts
        .iter()
        .zip(&docs)
        .filter_map(|(part, doc)| doc.builds_on.as_ref().map(|builds_on| (*part, doc, builds_on)));
    let builds: Vec<_> = builds.collect();
    if let [(.., first), (.., second), ..] = builds.as_slice() {
        let message = "two files of one rulebook say what it builds on";
        library.problems.push(
            Diagnostic::error(Code::Contradiction, second.span, message)
                .also(first.span, "said first here")
                .help("say it in one of them, with all that is changed; name several files in one list"),
        );
    }
    if let Some((part, doc, builds_on)) = builds.first()
        && let Some(base) = base(library, part, builds_on, chain)
    {
        let layer = put_upon(&mut book, &base, doc, builds_on, &mut library.problems);
        let below: Vec<String> = base.folders.values().flatten().cloned().collect();
        for folders in book.folders.values_mut() {
            folders.extend(below.iter().cloned());
        }
        book.folders.extend(base.folders);
        book.layers.push(layer);
        book.layers.extend(base.layers);
        book.edition = edition(&book.rules);
    }
    book
}

/// The rulebook below; nothing where it cannot be had without error.
fn base(
    library: &mut Library<'_>,
    from: &Part,
    builds_on: &BuildsOn,
    mut chain: Vec<String>,
) -> Option<Rulebook> {
    let before = errors(&library.problems);
    let mut parts: Vec<Part> = Vec::new();
    for name in &builds_on.books {
        let named = if name.text == BUILT_IN {
            built_in(library, name)
        } else {
            library.rulebook_named(from, name).into_iter().collect()
        };
        let ring = named.iter().find(|part| chain.contains(&tidy(&part.path)));
        if let Some(part) = ring {
            let message = format!("{} is one of the rulebooks that build on this one", part.path);
            let problem = Diagnostic::error(Code::CyclicReference, name.span, message);
            library.problems.push(problem.help("name a rulebook that stands by itself"));
            continue;
        }
        if named.iter().any(|part| parts.iter().any(|known| known.file == part.file)) {
            let message = format!("`{}` is named twice", name.text);
            library.problems.push(
                Diagnostic::error(Code::Contradiction, name.span, message)
                    .help("keep one of the two"),
            );
            continue;
        }
        parts.extend(named);
    }
    if chain.len() > DEEPEST {
        let message = format!("more than {DEEPEST} files build on each other");
        let problem = Diagnostic::error(Code::LimitReached, builds_on.span, message);
        library.problems.push(problem.help("put some of them together in one file"));
        return None;
    }
    if errors(&library.problems) > before {
        return None;
    }
    chain.extend(parts.iter().map(|part| tidy(&part.path)));
    let base = book(library, &parts, chain);
    (errors(&library.problems) == before).then_some(base)
}

fn built_in(library: &mut Library<'_>, name: &Text) -> Vec<Part> {
    let parts = library.built_in();
    if parts.is_empty() {
        let message = "no rulebook is built in here";
        let problem = Diagnostic::error(Code::BadReference, name.span, message);
        library.problems.push(problem.help("name the file of a rulebook"));
    }
    parts
}

fn errors(problems: &[Diagnostic]) -> usize {
    problems.iter().filter(|problem| problem.is_error()).count()
}

/// Puts a rulebook's own rules upon those below, which it changes.
fn put_upon(
    book: &mut Rulebook,
    base: &Rulebook,
    doc: &RulebookDoc,
    builds_on: &BuildsOn,
    problems: &mut Vec<Diagnostic>,
) -> Layer {
    let names: Vec<&str> = builds_on.books.iter().map(|name| name.text.as_str()).collect();
    let shown = names.join(", ");
    pinned(builds_on, base, &shown, problems);
    let mut changes = Vec::new();
    let mut rules: Vec<Rule> = Vec::new();
    for rule in std::mem::take(&mut book.rules) {
        if let Some(below) = find(base, &rule.doc.id.text) {
            problems.push(there_already(&rule.doc.id, below, &shown));
            continue;
        }
        changes.push(change(&rule, rule.doc.id.span, WhatChanged::Added));
        rules.push(rule);
    }
    let mut inherited = base.rules.clone();
    for instead in &doc.instead {
        let id = &instead.id;
        let Some(rule) = inherited.iter_mut().find(|rule| rule.doc.id.text == id.text) else {
            problems.push(unknown(id, base, &shown));
            continue;
        };
        if let Some(done) = changed(rule, instead, &shown, problems) {
            changes.push(done);
        }
    }
    for (id, reason) in &doc.dropped {
        let Some(rule) = find(base, &id.text) else {
            problems.push(unknown(id, base, &shown));
            continue;
        };
        if let Some(instead) = doc.instead.iter().find(|instead| instead.id.text == id.text) {
            problems.push(both(id, &instead.id));
            continue;
        }
        inherited.retain(|rule| rule.doc.id.text != id.text);
        let reason = reason.text.clone();
        changes.push(change(rule, id.span, WhatChanged::Dropped { reason }));
    }
    rules.extend(inherited);
    rules.sort_by(|a, b| a.doc.id.text.cmp(&b.doc.id.text));
    book.rules = rules;
    changes.sort_by(|a, b| a.rule.cmp(&b.rule));
    Layer {
        base: shown,
        edition: base.edition.clone(),
        pinned: builds_on.edition.is_some(),
        span: builds_on.span,
        changes,
    }
}

/// Puts what is stated instead in place of parts of a rule.
fn changed(
    rule: &mut Rule,
    instead: &InsteadDoc,
    base: &str,
    problems: &mut Vec<Diagnostic>,
) -> Option<RuleChange> {
    let new = overridden(rule, instead, problems)?;
    let parts = asked_otherwise(rule, &new);
    let strictness = overall(&parts);
    let reason = instead.reason.text.clone();
    let note = note(&parts, strictness, base, &reason);
    let notes = rule.notes.iter().cloned().chain([note]).collect();
    *rule = Rule { notes, ..new };
    let what = WhatChanged::Overridden { parts, strictness, reason };
    Some(change(rule, instead.id.span, what))
}

fn change(rule: &Rule, span: Span, what: WhatChanged) -> RuleChange {
    let (id, title) = (rule.doc.id.text.clone(), rule.doc.title.text.clone());
    RuleChange { rule: id, title, span, what }
}

/// What every finding of a changed rule says.
fn note(parts: &[PartChange], strictness: Strictness, base: &str, reason: &str) -> String {
    let parts = in_words(parts);
    let stop = if reason.ends_with(['.', '!', '?']) { "" } else { "." };
    format!(
        "This rule is changed against {base}, {}: {}. Reason: {reason}{stop}",
        strictness.word(),
        parts
    )
}

fn find<'r>(book: &'r Rulebook, id: &str) -> Option<&'r Rule> {
    book.rules.iter().find(|rule| rule.doc.id.text == id)
}

fn pinned(builds_on: &BuildsOn, base: &Rulebook, shown: &str, problems: &mut Vec<Diagnostic>) {
    let Some(asked) = builds_on.edition.as_ref().filter(|asked| asked.text != base.edition) else {
        return;
    };
    let message = format!("{shown} is of another edition: {}", base.edition);
    problems.push(
        Diagnostic::error(Code::WrongEdition, asked.span, message)
            .labelled("the edition asked for")
            .help(
                "look at what changed (`sumpwright compare`), then write the edition that is found",
            ),
    );
}

fn unknown(id: &Text, base: &Rulebook, shown: &str) -> Diagnostic {
    let message = format!("{shown} has no rule {}", id.text);
    let problem = Diagnostic::error(Code::UnknownName, id.span, message);
    match nearest(&id.text, base.rules.iter().map(|rule| rule.doc.id.text.as_str())) {
        Some(near) => problem.help(format!("did you mean `{near}`?")),
        None => {
            problem.help("`sumpwright explain` lists the rules; a new one stands under `rules`")
        }
    }
}

fn both(id: &Text, instead: &Text) -> Diagnostic {
    let (first, second) = if instead.span < id.span { (instead, id) } else { (id, instead) };
    let message = format!("{} is both changed and dropped", id.text);
    Diagnostic::error(Code::Contradiction, second.span, message)
        .also(first.span, "named already")
        .help("keep one of the two")
}

fn there_already(id: &Text, below: &Rule, shown: &str) -> Diagnostic {
    let message = format!("{shown} has a rule {} already", id.text);
    Diagnostic::error(Code::DuplicateRule, id.span, message)
        .also(below.doc.id.span, "that one")
        .help("change it under `instead`, or drop it and give yours another id")
}
