//! What it all comes to.

use super::found::{Authenticity, Confirmation, Item, ItemOutcome, Outcome};
use crate::source::has_error;

/// Puts together what it all comes to.
pub(super) fn decide(found: &mut Confirmation, refusals: Vec<String>) {
    let mut differs = Vec::new();
    let mut cannot = Vec::new();
    match &found.authenticity {
        Authenticity::NotSigned(why) => {
            differs.push(format!("It is not signed by the key given: {why}."));
        }
        Authenticity::NotAsked | Authenticity::Signed(_) => {}
    }
    let against = found.files.iter().filter(|file| file.state.is_against()).count();
    if against > 0 {
        differs.push(count(against, "file is not as declared", "files are not as declared"));
    }
    if found.rulebook.known_by.is_none() {
        differs.push(if found.rulebook.found.is_empty() {
            "The rulebook in the folder cannot be read.".to_owned()
        } else if found.rulebook.given {
            "The rulebook is not the one that you gave.".to_owned()
        } else {
            "The rulebook is not the one built into this program: if you mean another, give it with `--rules`, or its \
             edition with `--edition`."
                .to_owned()
        });
    }
    for (items, one, many) in [
        (
            &found.clauses,
            "clause does not come out as declared",
            "clauses do not come out as declared",
        ),
        (
            &found.rules,
            "verdict or value does not come out as declared",
            "verdicts or values do not come out as declared",
        ),
    ] {
        let bad =
            |item: &&Item| matches!(item.outcome, ItemOutcome::Different | ItemOutcome::Altered);
        let bad = items.iter().filter(bad).count();
        if bad > 0 {
            differs.push(count(bad, one, many));
        }
    }
    if !found.remade.is_empty() {
        differs.push(count(
            found.remade.len(),
            "file made anew is not the one in the folder",
            "files made anew are not those in the folder",
        ));
    }
    differs
        .extend(refusals.into_iter().map(|what| format!("It could not be declared now: {what}.")));
    if let Some((day, what)) = found.by_day.as_ref().filter(|(_, what)| !what.is_empty()) {
        differs.push(format!("On {day} it does not stand: {}", what.join(" ")));
    }
    let fault = has_error(&found.review.problems);
    let withheld = found.files.iter().any(|file| !file.state.is_against());
    if fault {
        cannot.push("A document in it is at fault.".to_owned());
    }
    let open =
        found.rules.iter().filter(|item| item.outcome == ItemOutcome::NotReproducible).count();
    found.outcome = if !differs.is_empty() {
        Outcome::Differs
    } else if !cannot.is_empty() {
        Outcome::CannotConfirm
    } else if withheld {
        let open =
            count(open, "verdict rests on what is withheld", "verdicts rest on what is withheld");
        cannot.push(format!(
            "{open} If the issuer lets you have it by another way, lay it in its place and confirm again."
        ));
        Outcome::NotInWhole
    } else {
        Outcome::Confirmed
    };
    found.reasons = differs.into_iter().chain(cannot).collect();
}

fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}.", if number == 1 { one } else { many })
}
