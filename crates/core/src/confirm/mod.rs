//! A declaration judged again from its folder alone: what is the same, what is not, and what cannot be said. What was
//! declared is only compared, and enters no computation; nothing is written.

mod book;
mod files;
mod found;
mod items;
mod known;
mod outcome;
mod signature;

pub use files::{ENVELOPE, STATEMENT, TO_SIGN};
pub use found::{
    Authenticity, Confirmation, FileFound, FileState, Item, ItemOutcome, Outcome, RulebookFound,
};
pub use signature::{Envelope, PAYLOAD_TYPE, PublicKey, to_sign};

use crate::declare::{
    self, Asked, DeclareRequest, Declared, Judging, Package, Record, clauses_of, results_of,
};
use crate::document::date::Date;
use crate::document::dossier::tidy;
use crate::review::{self, Review, without_pans};
use crate::source::{Files, Folder, Sources, has_error};
use std::collections::BTreeMap;

/// What is asked for.
#[derive(Clone, Copy)]
pub struct ConfirmRequest<'a> {
    /// The folder as it was named.
    pub name: &'a str,
    /// What it holds.
    pub folder: &'a Folder,
    /// Things in it that are no regular files, or are too large: name, and what they are.
    pub odd: &'a [(String, String)],
    /// Its statement, as far as it could be read.
    pub record: &'a Result<Record, String>,
    /// What the reader brings along.
    pub own: Own<'a>,
    /// The key that the reader has by another way.
    pub key: Option<&'a PublicKey>,
    /// The signed statement of the folder, as far as it could be read; nothing where there is none.
    pub envelope: Option<&'a Result<Envelope, String>>,
    /// A day to judge concessions by, beside that of issue.
    pub on: Option<Date>,
    /// Makes every file that is made from a package.
    pub remake: &'a dyn Fn(&Package) -> BTreeMap<String, Vec<u8>>,
    /// Where two such files differ, in words.
    pub differences: &'a Differences,
}

/// What lies there and what is made anew, to where they differ.
pub type Differences = dyn Fn(&[u8], &[u8]) -> Vec<String>;

/// The rulebook that the reader means.
#[derive(Clone, Copy)]
pub struct Own<'a> {
    /// The host's files, for what a rulebook builds on.
    pub files: &'a dyn Files,
    /// Path as shown and text of each file of the reader's own rulebook.
    pub rulebook: Option<&'a [(String, String)]>,
    /// The edition that the reader was told.
    pub edition: Option<&'a str>,
}

impl std::fmt::Debug for Own<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Own").field("edition", &self.edition).finish_non_exhaustive()
    }
}

impl std::fmt::Debug for ConfirmRequest<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("ConfirmRequest").field("name", &self.name).finish_non_exhaustive()
    }
}

/// Judges a declaration again.
pub fn confirm(request: ConfirmRequest<'_>) -> Confirmation {
    let authenticity = authenticity(request);
    let record = match request.record {
        Ok(record) => record,
        Err(why) => {
            let nothing = without_pans(Sources::default(), Vec::new());
            return unreadable(request, authenticity, (format!("{STATEMENT}: {why}."), nothing));
        }
    };
    // With a rulebook that cannot be read the reader meant another, and nothing can be held against it.
    if let Some(texts) = request.own.rulebook {
        let (_, read) = review::read_book(request.own.files, texts);
        if has_error(&read.problems) {
            let why =
                "The rulebook that you gave is at fault: mend it, and confirm again.".to_owned();
            return unreadable(request, authenticity, (why, read));
        }
    }
    let (mut files, same_files) = files::files(request.folder, request.odd, &record.files);
    files::envelope(&mut files, not_the_statement(request), &authenticity);
    let again = Again::of(request, record, &files);
    for file in &mut files {
        let is_withheld = matches!(file.state, FileState::Withheld(_));
        if again.judging.is_some() && is_withheld && !again.secret.contains(&file.name) {
            file.state = FileState::Missing;
        }
    }
    let rulebook = book::rulebook(request, record, &again);
    let known = known::known(record, &files, &again.review);
    let rules = items::rules(&record.results, &results_of(&again.review), &known);
    let clauses = items::clauses(&record.clauses, &clauses_of(&again.review), &rules, &known);
    let remade = remade(request, record, &again);
    let by_day = request.on.map(|day| (day.to_string(), on_day(request, record, &again, day)));
    let mut found = Confirmation {
        folder: request.name.to_owned(),
        outcome: Outcome::Confirmed,
        reasons: Vec::new(),
        record: Some(record.clone()),
        authenticity,
        files,
        same_files,
        rulebook,
        clauses,
        rules,
        remade,
        is_made_anew: again.package.is_some(),
        engine: env!("CARGO_PKG_VERSION").to_owned(),
        by_day,
        review: again.review,
    };
    outcome::decide(&mut found, again.refusals);
    found
}

/// The folder's declaration, made anew.
struct Again {
    review: Review,
    refusals: Vec<String>,
    package: Option<Package>,
    judging: Option<Judging>,
    /// What the document that asks for the declaration withholds; a statement can withhold nothing beside it.
    secret: Vec<String>,
}

impl Again {
    fn of(request: ConfirmRequest<'_>, record: &Record, files: &[FileFound]) -> Self {
        let absent: Vec<String> = files
            .iter()
            .filter(|file| matches!(file.state, FileState::Withheld(_)))
            .map(|file| file.name.clone())
            .collect();
        let asked = declare::read(request.folder, &record.source, &absent);
        let Asked { judging, withheld, .. } = match asked {
            Ok(asked) => asked,
            Err(review) => {
                return Self {
                    review: *review,
                    refusals: Vec::new(),
                    package: None,
                    judging: None,
                    secret: Vec::new(),
                };
            }
        };
        let secret: Vec<String> = withheld.into_iter().map(|(path, _)| path).collect();
        if !absent.is_empty() {
            let mut review = declare::judge(request.folder, &judging, false);
            // That what is withheld is not there is no fault of a document.
            review.problems.retain(|problem| {
                let is_of =
                    |path: &String| problem.message.starts_with(&format!("{path} cannot be read"));
                !absent.iter().any(is_of)
            });
            return Self {
                review,
                refusals: Vec::new(),
                package: None,
                judging: Some(judging),
                secret,
            };
        }
        let absolute = |path: &str| format!("/{}", tidy(path));
        let path = record.source.as_str();
        let Declared { review, refusals, package } =
            declare::declare(DeclareRequest { files: request.folder, path, absolute: &absolute });
        let refusals = refusals.into_iter().map(|refusal| refusal.what).collect();
        Self { review, refusals, package, judging: Some(judging), secret }
    }
}

fn authenticity(request: ConfirmRequest<'_>) -> Authenticity {
    let Some(key) = request.key else { return Authenticity::NotAsked };
    let Some(envelope) = request.envelope else {
        return Authenticity::NotSigned(format!("there is no {ENVELOPE}"));
    };
    match (envelope, not_the_statement(request)) {
        (_, Some(why)) => Authenticity::NotSigned(why),
        (Ok(envelope), None) if key.signed(envelope) => Authenticity::Signed(key.hex()),
        _ => Authenticity::NotSigned(format!("no signature in {ENVELOPE} is of it")),
    }
}

/// Why the envelope of the folder does not hold its statement, whoever signed it.
fn not_the_statement(request: ConfirmRequest<'_>) -> Option<String> {
    let envelope = match request.envelope? {
        Ok(envelope) => envelope,
        Err(why) => return Some(format!("{ENVELOPE}: {why}")),
    };
    if envelope.payload_type != PAYLOAD_TYPE {
        return Some(format!("what {ENVELOPE} holds is not of the type of a statement"));
    }
    match request.folder.files.get(STATEMENT) {
        None => Some(format!("there is no {STATEMENT} to hold it against")),
        Some(there) if *there != envelope.payload => {
            Some("another statement is signed than the one in the folder".to_owned())
        }
        Some(_) => None,
    }
}

/// What is made anew and differs from what lies in the folder.
fn remade(
    request: ConfirmRequest<'_>,
    record: &Record,
    again: &Again,
) -> Vec<(String, Vec<String>)> {
    let Some(package) = &again.package else { return Vec::new() };
    let made = (request.remake)(package);
    let same_engine = record.engine == env!("CARGO_PKG_VERSION");
    let lies = |name: &str| request.folder.files.get(name);
    if !same_engine {
        // What one version writes says so, and no other version can have written it.
        let ours = made.iter().filter(|(name, bytes)| lies(name) == Some(bytes));
        let claim = format!("it says to be by version {}, and is by this one", record.engine);
        return ours.map(|(name, _)| (name.clone(), vec![claim.clone()])).collect();
    }
    let differs = made.iter().filter_map(|(name, bytes)| {
        let there = lies(name).filter(|there| *there != bytes)?;
        Some((name.clone(), (request.differences)(there, bytes)))
    });
    differs.collect()
}

/// What stands against the declaration on another day: concessions that have ended, and its own end.
fn on_day(request: ConfirmRequest<'_>, record: &Record, again: &Again, day: Date) -> Vec<String> {
    let mut found = Vec::new();
    let until = record.valid_until.as_deref().and_then(Date::parse);
    if let Some(until) = until.filter(|until| *until < day) {
        found.push(format!("It was valid until {until}."));
    }
    if Date::parse(&record.issued_on).is_some_and(|issued| day < issued) {
        found.push(format!("It is issued only on {}.", record.issued_on));
    }
    let Some(judging) = &again.judging else { return found };
    let then = declare::judge(request.folder, &Judging { on: day, ..judging.clone() }, false);
    found.extend(then.conceding.findings.iter().map(|finding| {
        format!("The concession `{}` no longer covers: {}.", finding.name, finding.message)
    }));
    found
}

/// What is said where nothing could be judged: why, and what is wrong with the documents.
fn unreadable(
    request: ConfirmRequest<'_>,
    authenticity: Authenticity,
    (why, review): (String, Review),
) -> Confirmation {
    Confirmation {
        folder: request.name.to_owned(),
        outcome: Outcome::CannotConfirm,
        reasons: vec![why],
        record: None,
        authenticity,
        files: Vec::new(),
        same_files: 0,
        rulebook: RulebookFound::default(),
        clauses: Vec::new(),
        rules: Vec::new(),
        remade: Vec::new(),
        is_made_anew: false,
        engine: env!("CARGO_PKG_VERSION").to_owned(),
        by_day: None,
        review,
    }
}
