//! The verb `screen`: only what is worse than known, for a hook that runs before every commit.

use crate::args::ScreenArguments;
use crate::builtin::Host;
use crate::disk::Disk;
use crate::exit::{self, Exit};
use crate::project::{self, Project};
use crate::run::{complain_of, concessions, format, rulebook, written};
use crate::{compare, complain, output, page, select};
use std::path::Path;
use sumpwright_core::concede::ConcedeRequest;
use sumpwright_core::document::DocumentKind;
use sumpwright_core::review::Review;
use sumpwright_core::screen::{self, Memory, ScreenRequest, Screened, Writing};
use sumpwright_core::source::Files;

/// What the program is made of.
const ENGINE: &str = env!("SUMPWRIGHT_ENGINE");

/// The list where a project names none.
const KNOWN: &str = "known.yaml";

/// The folder beside the project's file in which results are kept, and the file in it.
const KEPT_IN: &str = ".sumpwright";
const KEPT: &str = "results";

/// A file of results of more bytes is not read.
const KEPT_LIMIT: u64 = 256 << 20;

/// Holds pans against what is known.
pub(crate) fn screen(asked: &ScreenArguments, project: &Project) -> Exit {
    let rules = if asked.rules.is_empty() { &project.rulebooks } else { &asked.rules };
    let Some(rulebook) = rulebook(rules) else { return Exit::Fault };
    let Some(concessions) = concessions(&asked.conceding, project) else { return Exit::Fault };
    let Some((pans, names)) = pans(asked, project) else { return Exit::Fault };
    if asked.write_known
        && let Some(pan) = pans.iter().find(|pan| pan.contains(char::is_control))
    {
        complain(&format!("{pan} cannot be listed: its name holds a control character; rename it"));
        return Exit::Fault;
    }
    let path = asked.known.as_ref().or(project.known.as_ref());
    let usual = format!("{}{KNOWN}", project.folder);
    let known = match (asked.write_known, path) {
        (true, path) => Some(path.unwrap_or(&usual)).filter(|path| Host.exists(path)),
        (false, path) => path,
    };
    if !asked.write_known
        && asked.known.is_none()
        && let Some(wrong) = project::without_list(&Host, project)
    {
        return told(asked, &wrong);
    }
    let kept = kept_at(asked, project);
    let before = kept.as_deref().map(remembered).unwrap_or_default();
    let tidying = tidying(asked);
    let conceding = ConcedeRequest {
        files: &Host,
        paths: &concessions,
        on: asked.conceding.on,
        longest: project.concession_days,
    };
    let bearing: Vec<String> = project.file.iter().chain(&concessions).cloned().collect();
    let found = screen::screen(ScreenRequest {
        files: &Host,
        folder: &project.folder,
        pans: &pans,
        names: names.as_deref(),
        bearing: &bearing,
        rulebook: &rulebook,
        known: known.map(String::as_str),
        conceding,
        writing: writing(asked),
        tidying: &tidying,
        memory: kept.as_ref().map(|_| Memory { engine: ENGINE, text: &before }),
    });
    if let (Some(at), Some(text)) = (&kept, &found.memory) {
        output::keep(Path::new(at), text);
    }
    let listed = if asked.write_known || asked.tidy_known {
        write_known(asked, project, path.unwrap_or(&usual), &found)
    } else {
        Exit::NothingAgainst
    };
    told(asked, &found.review).max(listed)
}

/// The pans that may have to be judged, and the names that narrow them; nothing where the use was at fault.
fn pans(asked: &ScreenArguments, project: &Project) -> Option<(Vec<String>, Option<Vec<String>>)> {
    let selection = select::select(&project.pans);
    complain_of(&selection.complaints);
    if !selection.complaints.is_empty() {
        return None;
    }
    let mut pans = selection.files;
    if asked.names.is_empty() {
        if pans.is_empty() {
            complain("name a pan, or name them under `pans` in a sumpwright.yaml");
            return None;
        }
        return Some((pans, None));
    }
    let mut names = Vec::new();
    for name in &asked.names {
        if Path::new(name).is_dir() {
            let within = select::select(std::slice::from_ref(name));
            complain_of(&within.complaints);
            names.extend(within.files);
        } else {
            names.push(name.clone());
        }
    }
    let names: Vec<String> = names.iter().map(|name| project.spelled(name)).collect();
    // What says that it is a pan is judged though the project does not name it.
    let more = names.iter().filter(|name| !pans.contains(name) && compare::is_pan(name));
    let mut more: Vec<String> = more.cloned().collect();
    pans.append(&mut more);
    pans.sort();
    pans.dedup();
    Some((pans, Some(names)))
}

/// Writes the list, over no file that is something else.
fn write_known(asked: &ScreenArguments, project: &Project, path: &str, found: &Screened) -> Exit {
    let Some(text) = &found.known else {
        complain(&format!("{path} was not written: what is at fault has to be mended first"));
        return Exit::Fault;
    };
    if Host.exists(path) && !compare::is_of(path, DocumentKind::KnownFindings) {
        complain(&format!("{path} is no list of known findings and is not written over"));
        return Exit::Fault;
    }
    if let Err(complaint) = output::write(text, Some(Path::new(path))) {
        complain(&complaint);
        return Exit::Fault;
    }
    if !asked.page.quiet {
        let count = text.lines().filter(|line| line.starts_with("  - {")).count();
        let named = if asked.known.is_some() || project.known.is_some() {
            String::new()
        } else {
            format!("; name it in your sumpwright.yaml with `known_findings: {KNOWN}`")
        };
        let word = if count == 1 { "known finding" } else { "known findings" };
        complain(&format!("{path} now lists {count} {word}{named}"));
    }
    Exit::NothingAgainst
}

fn writing(asked: &ScreenArguments) -> Writing {
    match (asked.write_known, asked.tidy_known) {
        (true, _) => Writing::Everything,
        (false, true) => Writing::Tidied,
        (false, false) => Writing::Nothing,
    }
}

/// The command that takes out of the list, as it was read, what is no more.
fn tidying(asked: &ScreenArguments) -> String {
    let known = asked.known.iter().map(|known| format!(" --known {known}"));
    let rules = asked.rules.iter().map(|rules| format!(" --rules {rules}"));
    let conceding = &asked.conceding;
    let paths = conceding.concessions.iter().map(|path| format!(" --concessions {path}"));
    // Without the day it would end as an error where something is conceded.
    let on = conceding.on.iter().map(|on| format!(" --on {on}"));
    let more: String = known.chain(rules).chain(paths).chain(on).collect();
    format!("sumpwright screen --tidy-known{more}")
}

/// Prints what is told; as text, nothing where nothing is against it.
fn told(asked: &ScreenArguments, review: &Review) -> Exit {
    let exit = exit::of_review(review);
    let page = &asked.page;
    let silent = page.format == sumpwright_report::TEXT.name && !page.all && page.output.is_none();
    if silent && exit == Exit::NothingAgainst {
        return exit;
    }
    let text = (format(page).review)(review, &page::options(page));
    exit.max(written(page, &text, exit))
}

/// Where results are kept; nowhere without a project, unless a folder is named.
fn kept_at(asked: &ScreenArguments, project: &Project) -> Option<String> {
    if asked.no_cache {
        return None;
    }
    let beside_project = || project.file.as_ref().map(|_| format!("{}{KEPT_IN}", project.folder));
    let named = asked.cache.as_ref().map(|folder| folder.to_string_lossy().into_owned());
    named.or_else(beside_project).map(|folder| format!("{folder}/{KEPT}"))
}

/// What was kept; whatever is wrong with the file, it is as if there were none.
fn remembered(path: &str) -> String {
    let read = Disk.read(path, None, KEPT_LIMIT).ok().map(String::from_utf8);
    read.and_then(Result::ok).unwrap_or_default()
}
