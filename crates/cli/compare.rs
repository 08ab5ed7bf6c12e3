//! The verb `compare`: a pan beside its baselines, or two rulebooks beside each other, told apart by what the
//! files say they are.

use crate::args::CompareArguments;
use crate::builtin::Host;
use crate::exit::{self, Exit};
use crate::project::Project;
use crate::run::{able, complain_of, rulebook, written};
use crate::{complain, page, select};
use sumpwright_core::compare::{self, BesideRequest, CompareRequest};
use sumpwright_core::document::DocumentKind;
use sumpwright_core::rule::BUILT_IN;
use sumpwright_core::source::Files;

/// A document of more bytes is looked at no further here; who reads it says so.
const LOOKED_AT: u64 = 4 << 20;

/// Compares what was named.
pub(crate) fn compare(asked: &CompareArguments, project: &Project) -> Exit {
    let named: Vec<String> =
        asked.things.iter().filter(|thing| *thing != BUILT_IN).cloned().collect();
    let complaints = select::select(&named).complaints;
    complain_of(&complaints);
    if !complaints.is_empty() {
        return Exit::Fault;
    }
    if let Some(empty) = asked.things.iter().find(|thing| says_nothing(thing)) {
        complain(&format!(
            "{empty} holds no document: begin it with its kind, such as `pan: 1`, or name another file"
        ));
        return Exit::Fault;
    }
    let pans: Vec<String> = asked.things.iter().flat_map(|thing| named_pans(thing)).collect();
    let rulebooks = asked.things.iter().filter(|thing| named_pans(thing).is_empty());
    match (pans.as_slice(), rulebooks.count()) {
        ([], _) => two_rulebooks(asked),
        ([pan, baselines @ ..], 0) => beside(asked, project, pan, baselines),
        ([pan, ..], _) => {
            complain(&format!(
                "{pan} is a pan, and something else named beside it is none: compare a pan with pans, or a \
                 rulebook with a rulebook"
            ));
            Exit::Fault
        }
    }
}

/// The files that are meant, if all of them are pans.
fn named_pans(thing: &str) -> Vec<String> {
    if thing == BUILT_IN {
        return Vec::new();
    }
    let files = select::select(&[thing.to_owned()]).files;
    if files.iter().all(|path| is_pan(path)) { files } else { Vec::new() }
}

/// Whether a file is there and holds nothing.
fn says_nothing(path: &str) -> bool {
    matches!(Host.read(path, None, LOOKED_AT), Ok(text) if text.trim_ascii().is_empty())
}

/// Whether a file says by its first key that it is a pan.
pub(crate) fn is_pan(path: &str) -> bool {
    is_of(path, DocumentKind::Pan)
}

/// Whether a file says by its first key of which kind it is. Looked at line by line, so that a pan that is no YAML is
/// told what is wrong with it as a pan.
pub(crate) fn is_of(path: &str, kind: DocumentKind) -> bool {
    let Ok(Ok(text)) = Host.read(path, None, LOOKED_AT).map(String::from_utf8) else {
        return false;
    };
    let is_said = |line: &&str| !(line.trim().is_empty() || line.starts_with(['#', '%', '-']));
    let key = text.trim_start_matches('\u{feff}').lines().find(is_said);
    key.and_then(|line| line.split_once(':')).is_some_and(|(key, _)| key == kind.key())
}

fn beside(asked: &CompareArguments, project: &Project, pan: &str, baselines: &[String]) -> Exit {
    if !asked.pans.is_empty() {
        complain("--pans is for two rulebooks; name pans after the first one");
        return Exit::Fault;
    }
    let Some(write) = able(&asked.page, |format| format.pans_compared) else { return Exit::Fault };
    let rules = if asked.rules.is_empty() { &project.rulebooks } else { &asked.rules };
    let Some(rulebook) = rulebook(rules) else { return Exit::Fault };
    let rulebook = &rulebook;
    let found = compare::compare_pans(BesideRequest { files: &Host, pan, baselines, rulebook });
    let text = write(&found, &page::options(&asked.page));
    let exit = exit::of_pans_compared(&found);
    exit.max(written(&asked.page, &text, exit))
}

fn two_rulebooks(asked: &CompareArguments) -> Exit {
    let Some(write) = able(&asked.page, |format| format.comparison) else { return Exit::Fault };
    if !asked.rules.is_empty() {
        complain("--rules is for pans; of two rulebooks, name both");
        return Exit::Fault;
    }
    let [old_name, new_name] = asked.things.as_slice() else {
        let found = asked.things.len();
        complain(&format!(
            "compare takes a pan and its baselines, or two rulebooks, the old one first, and found {found}"
        ));
        return Exit::Fault;
    };
    let old = rulebook(std::slice::from_ref(old_name));
    let Some((old, new)) =
        old.and_then(|old| Some((old, rulebook(std::slice::from_ref(new_name))?)))
    else {
        return Exit::Fault;
    };
    let selection = select::select(&asked.pans);
    complain_of(&selection.complaints);
    if !selection.complaints.is_empty() {
        return Exit::Fault;
    }
    let names = [old_name.as_str(), new_name.as_str()];
    let (old, new, pans) = (&old, &new, &selection.files);
    let found = compare::compare(CompareRequest { files: &Host, names, old, new, pans });
    let text = write(&found, &page::options(&asked.page));
    let exit = exit::of_comparison(&found);
    exit.max(written(&asked.page, &text, exit))
}
