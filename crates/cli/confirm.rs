//! A declaration judged again: its folder is read, and nothing is written into it.

use crate::args::ConfirmArguments;
use crate::builtin::Host;
use crate::exit::{self, Exit};
use crate::run::{able, rulebook, written};
use crate::{complain, page};
use std::fs;
use std::path::Path;
use sumpwright_core::confirm::{self, ConfirmRequest, ENVELOPE, Own, PublicKey, STATEMENT};
use sumpwright_core::source::Folder;

/// A file of more bytes is not read.
pub(crate) const LARGEST: u64 = 256 << 20;

/// Folders in folders, and files in all; no declaration has as many.
const DEEPEST: usize = 32;
const MOST: usize = 10_000;

/// Judges it again.
pub(crate) fn confirm(asked: &ConfirmArguments) -> Exit {
    let Some(write) = able(&asked.page, |format| format.confirmation) else { return Exit::Fault };
    let given = if asked.rules.is_empty() { None } else { rulebook(&asked.rules) };
    if given.is_none() && !asked.rules.is_empty() {
        return Exit::Fault;
    }
    let key = match asked.key.as_deref().map(key).transpose() {
        Ok(key) => key,
        Err(complaint) => return fault(&complaint),
    };
    let held = match read(&asked.folder) {
        Ok(held) => held,
        Err(complaint) => return fault(&complaint),
    };
    let lies = |name: &str| held.folder.files.get(name);
    let record = match lies(STATEMENT) {
        Some(bytes) => sumpwright_report::read_statement(bytes),
        None => Err("it is not there".to_owned()),
    };
    let envelope = match lies(ENVELOPE) {
        Some(bytes) => sumpwright_report::read_envelope(bytes),
        None => Err(format!("there is no {ENVELOPE}")),
    };
    let found = confirm::confirm(ConfirmRequest {
        name: &asked.folder.to_string_lossy(),
        folder: &held.folder,
        odd: &held.odd,
        record: &record,
        own: Own {
            files: &Host,
            rulebook: given.as_deref(),
            edition: asked.edition.as_deref(),
        },
        key: key.as_ref().map(|key| (key, &envelope)),
        on: asked.on,
        remake: &sumpwright_report::made,
        differences: &sumpwright_report::differences,
    });
    let text = write(&found, &page::options(&asked.page));
    exit::of_confirmation(&found).max(written(&asked.page, &text))
}

fn fault(complaint: &str) -> Exit {
    complain(complaint);
    Exit::Fault
}

fn key(path: &Path) -> Result<PublicKey, String> {
    let text = fs::read_to_string(path)
        .map_err(|error| format!("{} cannot be read: {error}", path.display()))?;
    PublicKey::read(&text).map_err(|why| format!("{}: {why}", path.display()))
}

/// What a folder holds.
#[derive(Debug, Default)]
struct Held {
    folder: Folder,
    /// Things that are not read: name and what they are.
    odd: Vec<(String, String)>,
}

fn read(folder: &Path) -> Result<Held, String> {
    let mut held = Held::default();
    walk(folder, "", DEEPEST, &mut held)
        .map_err(|error| format!("{} cannot be read: {error}", folder.display()))?;
    Ok(held)
}

/// Links are not followed: what they lead to was not handed over.
fn walk(folder: &Path, above: &str, deeper: usize, held: &mut Held) -> std::io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = format!("{above}{}", entry.file_name().to_string_lossy());
        let about = entry.metadata()?;
        let odd = if entry.file_name().to_str().is_none() {
            Some("a name that is no text")
        } else if about.is_symlink() {
            Some("a link")
        } else if held.folder.files.len() + held.odd.len() >= MOST {
            return Err(std::io::Error::other(format!("it holds more than {MOST} files")));
        } else if about.is_dir() && deeper == 0 {
            Some("a folder too deep")
        } else if about.is_dir() {
            walk(&entry.path(), &format!("{name}/"), deeper - 1, held)?;
            continue;
        } else if !about.is_file() {
            Some("no regular file")
        } else if about.len() > LARGEST {
            Some("a file of more than 256 MiB")
        } else {
            None
        };
        match odd {
            Some(what) => held.odd.push((name, what.to_owned())),
            None => {
                held.folder.files.insert(name, fs::read(entry.path())?);
            }
        }
    }
    held.odd.sort();
    Ok(())
}
