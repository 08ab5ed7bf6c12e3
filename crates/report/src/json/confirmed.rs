//! What came of declaring and of confirming, for programs.

use super::wire::{MadeBy, PlaceWire, ProblemWire, made_by, place, problems};
use super::{CONFIRM_SCHEMA, DECLARE_SCHEMA};
use schemars::JsonSchema;
use serde::Serialize;
use sumpwright_core::confirm::{Authenticity, Confirmation, Item};
use sumpwright_core::declare::Declared;

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct DeclaredWire {
    schema: &'static str,
    made_by: MadeBy,
    declared: bool,
    number: Option<String>,
    problems: Vec<ProblemWire>,
    refusals: Vec<RefusalWire>,
    /// Names of the files that were judged with; what is made from them is not among them.
    files: Vec<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct RefusalWire {
    what: String,
    place: PlaceWire,
}

pub(super) fn declared(declared: &Declared) -> DeclaredWire {
    let sources = &declared.review.sources;
    let refusals = declared.refusals.iter();
    let package = declared.package.as_ref();
    DeclaredWire {
        schema: DECLARE_SCHEMA,
        made_by: made_by(),
        declared: package.is_some(),
        number: package.map(|package| package.record.number.clone()),
        problems: problems(sources, &declared.review.problems),
        refusals: refusals
            .map(|refusal| RefusalWire {
                what: refusal.what.clone(),
                place: place(sources, refusal.at),
            })
            .collect(),
        files: package.map_or(Vec::new(), |package| {
            package.record.files.iter().map(|file| file.name.clone()).collect()
        }),
    }
}

#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct ConfirmedWire {
    schema: &'static str,
    made_by: MadeBy,
    folder: String,
    /// `confirmed`, `differs`, `cannot_confirm` or `cannot_confirm_in_whole`.
    outcome: String,
    reasons: Vec<String>,
    number: Option<String>,
    declared_with: Option<String>,
    signature: SignatureWire,
    rulebook: RulebookWire,
    files_as_declared: usize,
    files: Vec<FileWire>,
    clauses: Vec<ItemWire>,
    rules: Vec<ItemWire>,
    remade: Vec<RemadeWire>,
    by_day: Option<DayWire>,
    problems: Vec<ProblemWire>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct SignatureWire {
    /// Whether a key was given.
    asked: bool,
    /// Whether it signed the statement.
    signed: bool,
    key: Option<String>,
    why_not: Option<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct RulebookWire {
    declared: String,
    found: String,
    known: bool,
    wanted: Option<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct FileWire {
    name: String,
    state: String,
    against: bool,
}

#[derive(Debug, Serialize, JsonSchema)]
struct ItemWire {
    pan: String,
    name: String,
    object: Option<String>,
    list: Option<String>,
    declared: Option<String>,
    now: Option<String>,
    /// `same`, `not_reproducible`, `altered` or `different`.
    outcome: String,
    why: String,
}

#[derive(Debug, Serialize, JsonSchema)]
struct RemadeWire {
    name: String,
    differences: Vec<String>,
}

#[derive(Debug, Serialize, JsonSchema)]
struct DayWire {
    day: String,
    against: Vec<String>,
}

pub(super) fn confirmed(found: &Confirmation) -> ConfirmedWire {
    let record = found.record.as_ref();
    let (signed, key, why_not) = match &found.authenticity {
        Authenticity::NotAsked => (false, None, None),
        Authenticity::Signed(key) => (true, Some(key.clone()), None),
        Authenticity::NotSigned(why) => (false, None, Some(why.clone())),
    };
    let files = found.files.iter();
    let remade = found.remade.iter();
    ConfirmedWire {
        schema: CONFIRM_SCHEMA,
        made_by: made_by(),
        folder: found.folder.clone(),
        outcome: found.outcome.words().replace(' ', "_"),
        reasons: found.reasons.clone(),
        number: record.map(|record| record.number.clone()),
        declared_with: record.map(|record| record.engine.clone()),
        signature: SignatureWire {
            asked: found.authenticity != Authenticity::NotAsked,
            signed,
            key,
            why_not,
        },
        rulebook: RulebookWire {
            declared: found.rulebook.declared.clone(),
            found: found.rulebook.found.clone(),
            known: found.rulebook.known_by.is_some(),
            wanted: found.rulebook.wanted.clone(),
        },
        files_as_declared: found.same_files,
        files: files
            .map(|file| FileWire {
                name: file.name.clone(),
                state: file.state.words(),
                against: file.state.is_against(),
            })
            .collect(),
        clauses: found.clauses.iter().map(item).collect(),
        rules: found.rules.iter().map(item).collect(),
        remade: remade
            .map(|(name, differences)| RemadeWire {
                name: name.clone(),
                differences: differences.clone(),
            })
            .collect(),
        by_day: found
            .by_day
            .as_ref()
            .map(|(day, against)| DayWire { day: day.clone(), against: against.clone() }),
        problems: problems(&found.review.sources, &found.review.problems),
    }
}

fn item(item: &Item) -> ItemWire {
    ItemWire {
        pan: item.pan.clone(),
        name: item.name.clone(),
        object: item.object.clone(),
        list: item.list.clone(),
        declared: item.declared.clone(),
        now: item.now.clone(),
        outcome: item.outcome.words().replace(' ', "_"),
        why: item.why.clone(),
    }
}
