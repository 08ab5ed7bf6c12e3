//! What came of judging a declaration again.

use super::page::Page;
use super::{compare, declared};
use sumpwright_core::confirm::{Authenticity, Confirmation, Item, ItemOutcome};

/// Columns of the longest outcome, `not reproducible`.
const OUTCOME_COLUMNS: usize = 16;

/// So many differences of a file are told, unless all are asked for.
const TOLD: usize = 4;

/// From so many on, rules that come out otherwise for one reason are told in one line, unless all are asked for.
const MANY: usize = 4;

/// What it does not show, whatever comes out.
const BOUNDS: &str = "Judging again shows that the files come to what is declared of them. It shows neither that a part \
was made as it is described, nor what a document or a person's word is worth, nor that the declaration was not revoked. \
The vehicle maker's instructions come first.";

/// Writes it.
pub(super) fn write(page: &mut Page, found: &Confirmation) {
    page.gap();
    page.heading(&format!("{}: {}", found.outcome.words(), found.folder));
    page.paragraph(&authenticity(&found.authenticity));
    let said = match &found.authenticity {
        Authenticity::NotSigned(why) => why.as_str(),
        Authenticity::NotAsked | Authenticity::Signed(_) => "",
    };
    // Why it is not signed was just said.
    let is_said = |reason: &&String| !said.is_empty() && reason.contains(said);
    for reason in found.reasons.iter().filter(|reason| !is_said(reason)) {
        page.paragraph(reason);
    }
    let Some(record) = &found.record else { return };
    page.gap();
    page.row("declaration", &format!("{}, issued {}", record.number, record.issued_on));
    page.row("issuer", &format!("{}, {}", record.issuer.name, record.issuer.address));
    for object in &record.objects {
        page.row("object", &declared::identity(object));
    }
    rulebook(page, found);
    page.row("program", &program(found));
    files(page, found);
    items(page, "Clauses", &found.clauses, true);
    let all = page.options.all;
    items(page, "Rules", &found.rules, all);
    for (name, differences) in &found.remade {
        page.gap();
        page.heading(&format!("{name} is not what is made of the folder"));
        let told = if all { differences.len() } else { TOLD.min(differences.len()) };
        for difference in differences.iter().take(told) {
            page.row("", difference);
        }
        if told < differences.len() {
            page.row("", "and more, see `--all`");
        }
    }
    if let Some((day, what)) = &found.by_day {
        page.gap();
        page.heading(&format!("On {day}"));
        if what.is_empty() {
            page.paragraph("It still stands.");
        }
        for one in what {
            page.paragraph(one);
        }
    }
    if let Some(beside) = &found.rulebook.beside {
        page.gap();
        page.heading("Your rulebook and the folder's");
        compare::write(page, beside);
        let pans: Vec<String> =
            record.objects.iter().map(|o| format!("{}/{}", found.folder, o.pan)).collect();
        page.paragraph(&format!(
            "What it comes to by yours: `sumpwright review {} --rules YOURS`",
            pans.join(" ")
        ));
    }
    page.gap();
    page.paragraph(BOUNDS);
}

/// Who signed, as far as that is known.
pub(crate) fn authenticity(found: &Authenticity) -> String {
    match found {
        Authenticity::NotAsked => "Not authenticated: no key was given, so anybody may have written this folder. Give the \
             issuer's public key, which you have by another way, with `--key`."
            .to_owned(),
        Authenticity::Signed(key) => format!("Signed by the key given, {key}."),
        Authenticity::NotSigned(why) => format!(
            "Not signed by the key given: {why}. Ask the issuer, by another way than this folder, which key is theirs and \
             whether this is what they signed."
        ),
    }
}

fn program(found: &Confirmation) -> String {
    let declared = found.record.as_ref().map_or("", |record| record.engine.as_str());
    if !found.is_made_anew {
        format!(
            "version {}, declared with {declared}: no file was made anew to be compared",
            found.engine
        )
    } else if declared == found.engine {
        format!(
            "version {declared}, the same as declared: every file made anew is compared byte by byte"
        )
    } else {
        format!(
            "version {}, another than declared ({declared}): verdicts and values are compared",
            found.engine
        )
    }
}

fn rulebook(page: &mut Page, found: &Confirmation) {
    let book = &found.rulebook;
    match (book.known_by, &book.wanted) {
        (Some(by), _) => page.row("rulebook", &format!("edition {}: {by}", book.declared)),
        (None, wanted) => {
            page.row("rulebook", &format!("edition {} is declared", shown(&book.declared)));
            page.row("", &format!("edition {} lies in the folder", shown(&book.found)));
            page.row("", &format!("edition {} is yours", shown(wanted.as_deref().unwrap_or(""))));
        }
    }
}

fn shown(edition: &str) -> &str {
    if edition.is_empty() { "none" } else { edition }
}

fn files(page: &mut Page, found: &Confirmation) {
    page.row("files", &format!("{} as declared", found.same_files));
    if found.files.is_empty() {
        return;
    }
    page.gap();
    page.heading("Files");
    for file in &found.files {
        page.entry(&file.name, &file.state.words());
    }
}

fn items(page: &mut Page, heading: &str, items: &[Item], all: bool) {
    if items.is_empty() {
        return;
    }
    page.gap();
    let same = items.iter().filter(|item| item.outcome == ItemOutcome::Same).count();
    page.heading(&format!("{heading}: {same} of {} the same", items.len()));
    let alike = |item: &Item| {
        let others = items.iter().filter(|other| has_one_reason(item, other));
        if all { 1 } else { others.count() }
    };
    let told = || {
        let told = items.iter().filter(|item| all || item.outcome != ItemOutcome::Same);
        told.filter(|item| alike(item) < MANY)
    };
    let first = |place: usize, item: &Item| {
        alike(item) >= MANY && !items.iter().take(place).any(|before| has_one_reason(item, before))
    };
    for (_, item) in items.iter().enumerate().filter(|(place, item)| first(*place, item)) {
        let said =
            format!("{}, {}: {}; --all lists them", item.outcome.words(), item.pan, item.why);
        page.entry(&format!("{} of them", alike(item)), &said);
    }
    let columns = told().map(|item| name(item).chars().count()).max().unwrap_or(0);
    for item in told() {
        let word = (item.outcome.words(), OUTCOME_COLUMNS);
        page.listed((&name(item), columns), word, &said(item));
    }
}

/// Whether two come out otherwise for one and the same reason, which is not told twice.
fn has_one_reason(one: &Item, other: &Item) -> bool {
    let known = matches!(one.outcome, ItemOutcome::Altered | ItemOutcome::NotReproducible);
    known && (one.outcome, &one.pan, &one.why) == (other.outcome, &other.pan, &other.why)
}

/// A rule with its object; the list of a clause is told by its number alone.
fn name(item: &Item) -> String {
    match &item.object {
        Some(object) => format!("{} · {object}", item.name),
        None => item.name.clone(),
    }
}

fn said(item: &Item) -> String {
    let mut text = match (&item.declared, &item.now) {
        (Some(then), Some(now)) if then == now => format!("{now}, {}", item.pan),
        (Some(then), Some(now)) => format!("declared {then}, now {now}, {}", item.pan),
        (Some(then), None) => format!("declared {then}, {}", item.pan),
        (None, Some(now)) => format!("now {now}, {}", item.pan),
        (None, None) => item.pan.clone(),
    };
    if !item.why.is_empty() {
        text.push_str(": ");
        text.push_str(&item.why);
    }
    text
}
