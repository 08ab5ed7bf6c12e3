//! A declaration: what it states, or why it was not made.

use super::page::Page;
use super::pan;
use crate::place;
use crate::said::number_of;
use crate::told::Shown;
use sumpwright_core::declare::{Declared, Listed, Object, Record};

/// Writes what came of declaring.
pub(super) fn write(page: &mut Page, declared: &Declared) {
    page.gap();
    if let Some(package) = &declared.package {
        record(page, &package.record);
        return;
    }
    if declared.refusals.is_empty() {
        page.paragraph(
            "The documents are at fault, so nothing was declared and nothing was written.",
        );
        return;
    }
    for pan in &declared.review.pans {
        pan::write(page, &declared.review, pan, &Shown::whole(&pan.findings));
    }
    page.gap();
    page.heading(&format!(
        "Not declared: {} not shown",
        match declared.refusals.len() {
            1 => "one thing is".to_owned(),
            count => format!("{count} things are"),
        }
    ));
    for refusal in &declared.refusals {
        page.entry(&place::text(&declared.review.sources, refusal.at), &refusal.what);
    }
    page.paragraph(
        "Nothing was written. Mend what does not conform, measure better what is inconclusive, answer each clause \
         by rules, a document or a person's statement, or have a departure accepted under `concessions`.",
    );
}

/// Writes everything that is declared.
pub(super) fn record(page: &mut Page, record: &Record) {
    page.heading(&format!("Declaration of conformity {}", record.number));
    page.paragraph(&record.statement);
    if let Some(old) = &record.supersedes {
        page.row("supersedes", old);
    }
    page.row("issuer", &format!("{}, {}", record.issuer.name, record.issuer.address));
    for object in &record.objects {
        page.row("object", &identity(object));
    }
    if !record.serials.is_empty() {
        page.row("pieces", &record.serials.join(", "));
    }
    page.row("issued", &format!("{}, {}", record.issued_on, record.issued_at));
    page.row("signed by", &format!("{}, {}", record.signatory.name, record.signatory.function));
    page.row(
        "limited to",
        record.limited_to.as_deref().unwrap_or("nothing beside the stated duty"),
    );
    page.row("valid until", record.valid_until.as_deref().unwrap_or("it is superseded"));
    required(page, record);
    supporting(page, record);
}

/// What exactly is declared.
pub(super) fn identity(object: &Object) -> String {
    let mut said = object.name.clone();
    if let Some(number) = &object.part_number {
        said.push_str(", part ");
        said.push_str(number);
    }
    if let Some(revision) = &object.revision {
        said.push_str(", revision ");
        said.push_str(revision);
    }
    format!("{said}, {} ({})", object.state, object.pan)
}

fn required(page: &mut Page, record: &Record) {
    let asked = &record.requirements;
    page.gap();
    page.heading("Requirements");
    page.row(
        "rulebook",
        &format!("{}, edition {}", number_of(asked.rules.len(), "rule"), asked.edition),
    );
    let counted: Vec<String> =
        ["conforms", "conceded", "advisory", "inconclusive", "not applicable"]
            .iter()
            .filter_map(|words| {
                let count = record.results.iter().filter(|r| r.verdict == *words).count();
                (count > 0).then(|| format!("{count} {words}"))
            })
            .collect();
    page.row("came to", &counted.join(", "));
    for result in record
        .results
        .iter()
        .filter(|r| ["conceded", "advisory", "inconclusive"].contains(&&*r.verdict))
    {
        let object = result.object.as_ref().map(|o| format!(" · {o}")).unwrap_or_default();
        page.entry(
            &format!("{}{object}", result.rule),
            &format!("{} on {}", result.verdict, result.pan),
        );
    }
    for list in &asked.concessions {
        page.row("concessions", list);
    }
    for clause in &record.clauses {
        let name = clause.number.as_ref().unwrap_or(&clause.clause);
        let binding = if clause.binding { "" } else { ", not binding" };
        let word = clause.word.as_ref().map(|said| format!(": {said}")).unwrap_or_default();
        page.entry(
            &format!("clause {name}"),
            &format!(
                "“{}” {}{binding} ({} on {}){word}",
                clause.says, clause.answer, clause.list, clause.pan
            ),
        );
    }
}

fn supporting(page: &mut Page, record: &Record) {
    page.gap();
    page.heading("Supporting file");
    if let Some(assessor) = &record.assessed_by {
        let person = &assessor.person;
        page.row(
            "assessed by",
            &format!("{}, {}: {}", person.name, person.function, assessor.competence),
        );
    }
    page.row("judged with", &format!("sumpwright {}", record.engine));
    if let Some(said) = &record.kept_in_line {
        page.row("in making", said);
    }
    if let Some(day) = &record.kept_until {
        page.row("kept until", day);
    }
    for evidence in &record.evidence {
        page.entry(&evidence.path, &evidence.shows);
    }
    // On a terminal the digests are in the way: they stand in the statement and on the page.
    let all = page.options.all;
    let told = |file: &&Listed| all || file.withheld.is_some();
    if !all {
        page.row("files", &format!("{}, listed with --all", record.files.len()));
    }
    for file in record.files.iter().filter(told) {
        let digest = &file.sha256;
        let said = match &file.withheld {
            None => format!("{}, SHA-256 {digest}", file.role.words()),
            Some(because) => format!(
                "WITHHELD: {}. What rests on it cannot be judged again. SHA-256 {digest}",
                because.trim_end_matches('.')
            ),
        };
        page.entry(&file.name, &said);
    }
}
