//! The files of a folder beside those that were declared.

use super::found::{Authenticity, FileFound, FileState};
use crate::declare::{Listed, sha256};
use crate::source::Folder;
use std::collections::BTreeSet;

/// Files that belong to a folder and cannot be in its list: the list itself, and what is made of it.
pub const STATEMENT: &str = "declaration.json";
/// The bytes to sign.
pub const TO_SIGN: &str = "declaration.to-sign";
/// The signed statement.
pub const ENVELOPE: &str = "declaration.dsse.json";

/// Every file that is not as declared, by name, and the number of those that are.
pub(super) fn files(
    folder: &Folder,
    odd: &[(String, String)],
    listed: &[Listed],
) -> (Vec<FileFound>, usize) {
    let mut found = Vec::new();
    let mut same = 0;
    let mut say = |name: &str, state| found.push(FileFound { name: name.to_owned(), state });
    let mut known: BTreeSet<&str> = BTreeSet::from([STATEMENT, TO_SIGN, ENVELOPE]);
    for file in listed {
        if !known.insert(&file.name) {
            say(&file.name, FileState::NoFile("listed twice".to_owned()));
            continue;
        }
        match (folder.files.get(&file.name), &file.withheld) {
            (Some(bytes), _) if sha256(bytes) == file.sha256 => same += 1,
            (Some(bytes), _) if ends_otherwise(bytes, &file.sha256) => {
                say(&file.name, FileState::LineEndings);
            }
            (Some(_), _) => say(&file.name, FileState::Changed),
            // The reason stands within other sentences.
            (None, Some(because)) => {
                say(&file.name, FileState::Withheld(because.trim_end_matches('.').to_owned()));
            }
            (None, None) if odd.iter().any(|(name, _)| *name == file.name) => {}
            (None, None) => say(&file.name, FileState::Missing),
        }
    }
    for name in folder.files.keys().filter(|name| !known.contains(name.as_str())) {
        say(name, FileState::Extra);
    }
    for (name, what) in odd {
        say(name, FileState::NoFile(what.clone()));
    }
    found.sort_by(|a, b| a.name.cmp(&b.name));
    (found, same)
}

/// A signed statement that is not of the one beside it; where a key was given, that was told already.
pub(super) fn envelope(
    found: &mut Vec<FileFound>,
    why: Option<String>,
    authenticity: &Authenticity,
) {
    let is_told = found.iter().any(|file| file.name == ENVELOPE);
    if let (Some(why), Authenticity::NotAsked, false) = (why, authenticity, is_told) {
        let why = why.trim_start_matches(&format!("{ENVELOPE}: ")).to_owned();
        found.push(FileFound { name: ENVELOPE.to_owned(), state: FileState::NotTheStatement(why) });
        found.sort_by(|a, b| a.name.cmp(&b.name));
    }
}

/// Whether only the ends of lines make the digest another.
fn ends_otherwise(bytes: &[u8], wanted: &str) -> bool {
    let Ok(text) = std::str::from_utf8(bytes) else { return false };
    let short = text.replace("\r\n", "\n");
    [short.replace('\n', "\r\n"), short].iter().any(|text| sha256(text.as_bytes()) == wanted)
}
