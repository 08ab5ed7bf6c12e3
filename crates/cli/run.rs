//! One run: what is asked for is found, handed to the library, written, and its exit status decided.

use crate::args::{
    Arguments, Common, ConcedingArguments, ExplainArguments, PageArguments, ProveArguments,
    ReviewArguments, Verb,
};
use crate::builtin::Host;
use crate::disk::Disk;
use crate::exit::{self, Exit};
use crate::project::{self, Project};
use crate::{
    about, builtin, compare, complain, confirm, declare, output, page, progress, screen, select,
    survey,
};
use std::path::Path;
use sumpwright_core::checklist;
use sumpwright_core::concede::{self, ConcedeRequest};
use sumpwright_core::document::field_of_path;
use sumpwright_core::explain::{self, Demo, ExplainRequest, Subject};
use sumpwright_core::prove::{self, ProveRequest};
use sumpwright_core::remark;
use sumpwright_core::remedy;
use sumpwright_core::review::{self, Request, Review};
use sumpwright_core::rule::BUILT_IN;
use sumpwright_core::source::{FileProblem, Files};
use sumpwright_report::Format;

/// A rulebook file of more bytes is refused.
const RULES_LIMIT: u64 = 4 << 20;

/// Does what was asked for.
pub(crate) fn run(arguments: Arguments) -> Exit {
    match arguments.verb {
        Verb::Review(asked) => with_project(&asked.common.page, |project| {
            let rules = if asked.rules.is_empty() { &project.rulebooks } else { &asked.rules };
            match rulebook(rules) {
                Some(rulebook) => judge(&asked, project, &rulebook),
                None => Exit::Fault,
            }
        }),
        Verb::Screen(asked) => with_project(&asked.page, |project| screen::screen(&asked, project)),
        Verb::Measure(asked) => with_project(&asked.page, |project| measure(&asked, project)),
        Verb::Prove(asked) => prove(&asked),
        Verb::Explain(asked) => with_project(&asked.page, |project| explain(&asked, project)),
        Verb::Declare(asked) => declare::declare(&asked),
        Verb::Confirm(asked) => confirm::confirm(&asked),
        Verb::Survey(asked) => survey::survey(&asked),
        Verb::Compare(asked) => {
            with_project(&asked.page, |project| compare::compare(&asked, project))
        }
        Verb::Schema(asked) => about::schema(&asked),
        Verb::Completions(asked) => about::completions(&asked),
        Verb::Man(asked) => about::man(&asked),
    }
}

/// Goes on with the project that bears on this run, or prints what is wrong with its file.
fn with_project(page: &PageArguments, go_on: impl FnOnce(&Project) -> Exit) -> Exit {
    match project::nearest(&Host) {
        Ok(project) => go_on(&project),
        Err(wrong) => {
            let text = (format(page).review)(&wrong, &page::options(page));
            let exit = exit::of_review(&wrong);
            exit.max(written(page, &text, exit))
        }
    }
}

fn judge(asked: &ReviewArguments, project: &Project, rulebook: &[(String, String)]) -> Exit {
    let Some(concessions) = concessions(&asked.conceding, project) else { return Exit::Fault };
    let (on, begins, mends) = (asked.conceding.on, asked.begin_remarks, asked.remedies);
    let Some(lists) = checklists(asked, project) else { return Exit::Fault };
    let asked = &asked.common;
    let (pans, selected) = pans(asked, project);
    let request = Request { files: &Host, pans: &pans, rulebook, drawn: is_drawn(asked) };
    let found = if mends { remedy::review(request) } else { review::review(request) };
    let (paths, longest) = (&concessions, project.concession_days);
    let found = concede::concede(found, ConcedeRequest { files: &Host, paths, on, longest });
    let found = remark::remark(found, &Host);
    let found = checklist::hold(found, &Host, &lists);
    let begun = if begins { begin_remarks(&found) } else { Exit::NothingAgainst };
    let text = (format(&asked.page).review)(&found, &page::options(&asked.page));
    let drawn = found.pans.iter().flat_map(|p| {
        sumpwright_report::drawings(&p.path, p.title.as_deref(), &p.figures, p.coverage.as_ref())
    });
    let drawings = drawings(asked, drawn);
    let exit = selected.max(begun).max(exit::of_review(&found));
    exit.max(written(&asked.page, &text, exit)).max(drawings)
}

/// Writes files of remarks to complete; one that is there is never written over, and is said.
fn begin_remarks(found: &Review) -> Exit {
    let mut exit = Exit::NothingAgainst;
    for pan in &found.pans {
        let path = remark::path_of(&pan.path);
        let Some(text) = remark::begun(pan) else {
            complain(&format!("nothing is told of {}, so no remarks were begun", pan.path));
            continue;
        };
        match output::write_only_new(&text, Path::new(&path)) {
            Ok(()) => complain(&format!("remarks to complete were written to {path}")),
            Err(complaint) => {
                complain(&complaint);
                exit = Exit::Fault;
            }
        }
    }
    exit
}

/// The lists of concessions that are meant; nothing where one of them cannot be found.
pub(crate) fn concessions(asked: &ConcedingArguments, project: &Project) -> Option<Vec<String>> {
    let named =
        if asked.concessions.is_empty() { &project.concessions } else { &asked.concessions };
    let selection = select::select(named);
    complain_of(&selection.complaints);
    selection.complaints.is_empty().then_some(selection.files)
}

/// The customers' lists that are meant; nothing where one cannot be found.
fn checklists(asked: &ReviewArguments, project: &Project) -> Option<Vec<String>> {
    let named = if asked.checklist.is_empty() { &project.checklists } else { &asked.checklist };
    let selection = select::select(named);
    complain_of(&selection.complaints);
    selection.complaints.is_empty().then_some(selection.files)
}

fn measure(asked: &Common, project: &Project) -> Exit {
    let Some(write) = able(&asked.page, |format| format.measured) else { return Exit::Fault };
    let (pans, selected) = pans(asked, project);
    let request = Request { files: &Host, pans: &pans, rulebook: &[], drawn: is_drawn(asked) };
    // The coverage map is long: it is for a program, or for who asks for all.
    let with_map = asked.page.all || asked.page.format == "json";
    let found = if with_map { review::measure_with_map(request) } else { review::measure(request) };
    let text = write(&found, &page::options(&asked.page));
    let drawn = found.pans.iter().flat_map(|p| {
        sumpwright_report::drawings(&p.path, p.title.as_deref(), &p.figures, p.coverage.as_ref())
    });
    let drawings = drawings(asked, drawn);
    let exit = selected.max(exit::of_measured(&found));
    exit.max(written(&asked.page, &text, exit)).max(drawings)
}

/// Whether drawings have to be made.
fn is_drawn(asked: &Common) -> bool {
    asked.figures.is_some() || format(&asked.page).drawn
}

/// Writes the drawings where they were asked for: name and content.
fn drawings(asked: &Common, all: impl Iterator<Item = (String, String)>) -> Exit {
    let Some(folder) = &asked.figures else { return Exit::NothingAgainst };
    match output::write_all(folder, all) {
        Ok(()) => Exit::NothingAgainst,
        Err(complaint) => {
            complain(&complaint);
            Exit::Fault
        }
    }
}

fn prove(asked: &ProveArguments) -> Exit {
    let Some(write) = able(&asked.page, |format| format.proof) else { return Exit::Fault };
    let Some(rulebook) = rulebook(&asked.rules) else { return Exit::Fault };
    let files: &dyn Files = if asked.rules.is_empty() { &builtin::Fixtures } else { &Host };
    let line = progress::Line::new();
    let progress = |done, of| line.show(done, of);
    let proof = prove::prove(ProveRequest { files, rulebook: &rulebook, progress: &progress });
    line.clear();
    let text = write(&proof, &page::options(&asked.page));
    let exit = exit::of_proof(&proof);
    exit.max(written(&asked.page, &text, exit))
}

fn explain(asked: &ExplainArguments, project: &Project) -> Exit {
    let Some(write) = able(&asked.page, |format| format.explanation) else { return Exit::Fault };
    let rules = if asked.rules.is_empty() { &project.rulebooks } else { &asked.rules };
    let Some(rulebook) = rulebook(rules) else { return Exit::Fault };
    let Ok(pan) = asked.pan.as_deref().map(one_pan).transpose() else { return Exit::Fault };
    let found = explain::explain(ExplainRequest {
        files: &Host,
        rulebook: &rulebook,
        name: asked.name.as_deref(),
        pan: pan.as_deref(),
        demo: Demo { files: &builtin::Fixtures, pan: builtin::DEMO_PAN, pans: builtin::DEMO_PANS },
        with_curve: format(&asked.page).drawn,
    });
    if let Subject::Unknown { name, meant } = &found.subject {
        let meant = meant.as_ref().map_or_else(
            || "`explain` without a name lists them all".to_owned(),
            |meant| format!("did you mean {meant}?"),
        );
        let said = stated_as(name)
            .unwrap_or_else(|| format!("there is no rule and no measure {name}; {meant}"));
        complain(&said);
    }
    let text = write(&found, &page::options(&asked.page));
    let exit = exit::of_explanation(&found);
    exit.max(written(&asked.page, &text, exit))
}

/// How a person gets a value that is stated in a document, by its path there; none where no document has it.
fn stated_as(path: &str) -> Option<String> {
    let row = field_of_path(path)?;
    let usual = row.typical.map(|(low, high)| format!(" Usually {low} to {high}."));
    let (key, how, usual) = (row.document.key(), row.how_to_get, usual.unwrap_or_default());
    Some(format!(
        "{path} is a value stated in a document `{key}`, no rule and no measure. {how}{usual}"
    ))
}

/// The one pan that is meant; the complaint has been made where it is not one.
fn one_pan(wanted: &str) -> Result<String, Exit> {
    let selection = select::select(&[wanted.to_owned()]);
    complain_of(&selection.complaints);
    match (selection.complaints.is_empty(), selection.files.as_slice()) {
        (true, [pan]) => Ok(pan.clone()),
        (true, pans) => {
            complain(&format!("{wanted} names {} pans; name one", pans.len()));
            Err(Exit::Fault)
        }
        (false, _) => Err(Exit::Fault),
    }
}

/// The format by its name, which the parser of arguments has checked; text for any other.
pub(crate) fn format(asked: &PageArguments) -> &'static Format {
    sumpwright_report::find(&asked.format).unwrap_or(&sumpwright_report::TEXT)
}

/// What writes this in the format asked for; complains where the format has no place for it.
pub(crate) fn able<T>(asked: &PageArguments, writer: impl Fn(&Format) -> Option<T>) -> Option<T> {
    let found = writer(format(asked));
    if found.is_none() {
        let able: Vec<&str> = sumpwright_report::FORMATS
            .iter()
            .filter(|format| writer(format).is_some())
            .map(|format| format.name)
            .collect();
        complain(&format!(
            "the format {} is for a review only; this can be written as {}",
            asked.format,
            able.join(" or ")
        ));
    }
    found
}

/// The pans named, or those of the project where none is named.
fn pans(asked: &Common, project: &Project) -> (Vec<String>, Exit) {
    let wanted = if asked.pans.is_empty() { &project.pans } else { &asked.pans };
    if wanted.is_empty() {
        complain("name a pan, or name them under `pans` in a sumpwright.yaml");
        return (Vec::new(), Exit::Fault);
    }
    let selection = select::select(wanted);
    complain_of(&selection.complaints);
    let exit = if selection.complaints.is_empty() { Exit::NothingAgainst } else { Exit::Fault };
    (selection.files, exit)
}

/// The rulebook to judge by; nothing where it cannot be had in whole, since judging by a part of it would
/// say more than is known.
pub(crate) fn rulebook(wanted: &[String]) -> Option<Vec<(String, String)>> {
    if wanted.is_empty() {
        return Some(builtin::rulebook());
    }
    let (built_in, wanted): (Vec<String>, Vec<String>) =
        wanted.iter().cloned().partition(|name| name == BUILT_IN);
    let selection = select::select(&wanted);
    let mut complaints = selection.complaints;
    let mut rulebook = if built_in.is_empty() { Vec::new() } else { builtin::rulebook() };
    for path in selection.files {
        match Disk.read(&path, None, RULES_LIMIT).map(String::from_utf8) {
            Ok(Ok(text)) => rulebook.push((path, text)),
            Ok(Err(_)) => complaints.push(format!("{path} is not UTF-8 text")),
            Err(problem) => complaints.push(format!("{path} cannot be read: {}", words(&problem))),
        }
    }
    complain_of(&complaints);
    complaints.is_empty().then_some(rulebook)
}

pub(crate) fn complain_of(complaints: &[String]) {
    for complaint in complaints {
        complain(complaint);
    }
}

fn words(problem: &FileProblem) -> String {
    match problem {
        FileProblem::NotAFile => "it is not a regular file".to_owned(),
        FileProblem::TooLarge { size, limit } => format!("it has {size} bytes, of {limit} allowed"),
        FileProblem::Refused(why) => why.clone(),
        _ => "there is no such file".to_owned(),
    }
}

/// Prints or writes a result that comes to an exit; one that nothing is against is not printed to who wants it quiet.
pub(crate) fn written(asked: &PageArguments, text: &str, exit: Exit) -> Exit {
    if asked.quiet && asked.output.is_none() && exit == Exit::NothingAgainst {
        return exit;
    }
    match output::write(text, asked.output.as_deref()) {
        Ok(()) => Exit::NothingAgainst,
        Err(complaint) => {
            complain(&complaint);
            Exit::Fault
        }
    }
}
