//! A declaration judged again: its folder is read, and nothing is written into it.

use crate::args::ConfirmArguments;
use crate::builtin::Host;
use crate::exit::{self, Exit};
use crate::run::{able, rulebook, written};
use crate::{complain, page};
use std::fs;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use sumpwright_core::confirm::{
    self, ConfirmRequest, ENVELOPE, Own, PublicKey, STATEMENT, TO_SIGN,
};
use sumpwright_core::source::Folder;

/// A file of more bytes is not read.
pub(crate) const LARGEST: u64 = 256 << 20;

/// Folders in folders, and files in all; no declaration has as many.
const DEEPEST: usize = 32;
const MOST: usize = 10_000;

/// Bytes of all files together: they are held in memory at once.
const MOST_BYTES: u64 = 1 << 30;

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
    let odd = |name: &str| {
        let found = held.odd.iter().find(|(odd, _)| odd == name)?;
        Some(format!("it is {}, which is not read", found.1))
    };
    let record = match lies(STATEMENT) {
        Some(bytes) => sumpwright_report::read_statement(bytes),
        None => Err(odd(STATEMENT)
            .unwrap_or_else(|| "it is not there; name the folder that was handed over".to_owned())),
    };
    let envelope = lies(ENVELOPE)
        .map(|bytes| sumpwright_report::read_envelope(bytes))
        .or_else(|| odd(ENVELOPE).map(Err));
    let found = confirm::confirm(ConfirmRequest {
        name: &asked.folder.to_string_lossy(),
        folder: &held.folder,
        odd: &held.odd,
        record: &record,
        own: Own { files: &Host, rulebook: given.as_deref(), edition: asked.edition.as_deref() },
        key: key.as_ref(),
        envelope: envelope.as_ref(),
        on: asked.on,
        remake: &sumpwright_report::made,
        differences: &sumpwright_report::differences,
    });
    let text = write(&found, &page::options(&asked.page));
    let exit = exit::of_confirmation(&found);
    exit.max(written(&asked.page, &text, exit))
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

/// What lies in a folder, before anything is read.
#[derive(Debug, Default)]
struct Seen {
    files: Vec<(String, PathBuf)>,
    odd: Vec<(String, String)>,
    bytes: u64,
}

fn read(folder: &Path) -> Result<Held, String> {
    let failed = |error: io::Error| format!("{} cannot be read: {error}", folder.display());
    let mut seen = Seen::default();
    walk(folder, "", DEEPEST, &mut seen).map_err(failed)?;
    let mut held = Held { folder: Folder::default(), odd: seen.odd };
    for (name, path) in seen.files {
        let mut bytes = Vec::new();
        match closed("file", fs::read(path).map(|read| bytes = read)).map_err(failed)? {
            Some(what) => held.odd.push((name, what)),
            None => drop(held.folder.files.insert(name, bytes)),
        }
    }
    held.odd.sort();
    Ok(held)
}

/// Links are not followed: what they lead to was not handed over.
fn walk(folder: &Path, above: &str, deeper: usize, seen: &mut Seen) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = format!("{above}{}", entry.file_name().to_string_lossy());
        let about = entry.metadata()?;
        let odd = if entry.file_name().to_str().is_none() {
            Some("a name that is no text".to_owned())
        } else if about.is_symlink() {
            Some("a link".to_owned())
        } else if seen.files.len() + seen.odd.len() >= MOST {
            return Err(io::Error::other(format!("it holds more than {MOST} files")));
        } else if about.is_dir() && deeper == 0 {
            Some("a folder too deep".to_owned())
        } else if about.is_dir() {
            closed("folder", walk(&entry.path(), &format!("{name}/"), deeper - 1, seen))?
                .or_else(|| is_meant_as_file(&name).then(|| "a folder".to_owned()))
        } else if !about.is_file() {
            Some("no regular file".to_owned())
        } else if about.len() > LARGEST {
            Some("a file of more than 256 MiB".to_owned())
        } else {
            seen.bytes += about.len();
            seen.files.push((name.clone(), entry.path()));
            None
        };
        if seen.bytes > MOST_BYTES {
            return Err(io::Error::other("its files have more than 1 GiB together"));
        }
        seen.odd.extend(odd.map(|what| (name, what)));
    }
    Ok(())
}

/// A folder of such a name stands where a file has to.
fn is_meant_as_file(name: &str) -> bool {
    [STATEMENT, TO_SIGN, ENVELOPE].contains(&name)
}

/// What the reader may not open is told by its name, as all that is not read.
fn closed(what: &str, read: io::Result<()>) -> io::Result<Option<String>> {
    match read {
        Ok(()) => Ok(None),
        Err(error) if error.kind() == ErrorKind::PermissionDenied => {
            Ok(Some(format!("a {what} closed to you")))
        }
        Err(error) => Err(error),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_may_not_be_opened_is_named_and_other_faults_are_faults() {
        let denied = || Err(io::Error::from(ErrorKind::PermissionDenied));
        let told = closed("file", denied()).unwrap();
        assert_eq!(told.as_deref(), Some("a file closed to you"));
        assert!(closed("file", Err(io::Error::other("the disk is gone"))).is_err());
        assert!(closed("folder", Ok(())).unwrap().is_none());
    }
}
