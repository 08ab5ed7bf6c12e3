//! A supplier's declaration: judged, and written into a folder of its own.

use crate::args::DeclareArguments;
use crate::builtin::Host;
use crate::exit::{self, Exit};
use crate::run::{able, written};
use crate::{complain, output, page};
use std::path::Path;
use sumpwright_core::confirm::{ENVELOPE, STATEMENT, TO_SIGN};
use sumpwright_core::declare::{self, DeclareRequest, Declared, Package};
use sumpwright_core::document::dossier::tidy;

/// A signature file of more bytes is none.
const SIGNATURE_LIMIT: u64 = 4096;

/// Declares, or puts a signature beside what was declared.
pub(crate) fn declare(asked: &DeclareArguments) -> Exit {
    if let Some(signature) = &asked.signature {
        return match signed(&asked.declaration, signature, &asked.key_id) {
            Ok(path) => {
                complain(&format!("the signed statement was written to {path}"));
                Exit::NothingAgainst
            }
            Err(complaint) => {
                complain(&complaint);
                Exit::Fault
            }
        };
    }
    let Some(write) = able(&asked.page, |format| format.declared) else { return Exit::Fault };
    let path = asked.declaration.to_string_lossy().replace('\\', "/");
    let found =
        declare::declare(DeclareRequest { files: &Host, path: &path, absolute: &absolute });
    let handed_over = match (&asked.into, &found.package) {
        (Some(folder), Some(package)) => hand_over(package, folder),
        _ => Exit::NothingAgainst,
    };
    let text = write(&found, &page::options(&asked.page));
    hint(asked, &found, handed_over);
    exit::of_declared(&found).max(handed_over).max(written(&asked.page, &text))
}

/// Says what to do next, where a person reads it.
fn hint(asked: &DeclareArguments, found: &Declared, handed_over: Exit) {
    if asked.page.format != "text" || found.package.is_none() || handed_over != Exit::NothingAgainst {
        return;
    }
    match &asked.into {
        None => complain("nothing was written; name a folder with --into"),
        Some(folder) => {
            let folder = folder.display();
            complain(&format!(
                "written to {folder}; sign {folder}/{TO_SIGN} with a tool of yours, then put the signature beside it \
                 with `sumpwright declare {folder} --signature FILE`"
            ));
        }
    }
}

fn hand_over(package: &Package, folder: &Path) -> Exit {
    let made = sumpwright_report::made(package);
    let files = package.folder.files.iter().chain(&made);
    match output::write_folder(folder, files) {
        Ok(()) => Exit::NothingAgainst,
        Err(complaint) => {
            complain(&complaint);
            Exit::Fault
        }
    }
}

/// Wraps the statement of a folder with its signature.
fn signed(folder: &Path, signature: &Path, key_id: &str) -> Result<String, String> {
    let read = |path: &Path, limit: u64| {
        let size = std::fs::metadata(path).map(|found| found.len());
        match size {
            Ok(size) if size <= limit => std::fs::read(path),
            Ok(_) => Err(std::io::Error::other("it is too large")),
            Err(error) => Err(error),
        }
        .map_err(|error| format!("{} cannot be read: {error}", path.display()))
    };
    let statement = read(&folder.join(STATEMENT), crate::confirm::LARGEST)?;
    let bytes = read(signature, SIGNATURE_LIMIT)?;
    let text = sumpwright_report::envelope(&statement, &bytes, key_id)
        .map_err(|why| format!("{}: {why}", signature.display()))?;
    let path = folder.join(ENVELOPE);
    output::write_only_new(&text, &path)?;
    Ok(path.display().to_string())
}

/// The whole path of one that is taken from the working directory, by its words alone.
fn absolute(path: &str) -> String {
    if path.starts_with('/') {
        return tidy(path);
    }
    let working = std::env::current_dir().unwrap_or_default();
    tidy(&format!("{}/{path}", working.to_string_lossy().replace('\\', "/")))
}
