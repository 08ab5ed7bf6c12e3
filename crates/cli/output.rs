//! The result to where it was asked: printed, or to a file that is old or new and never half.

use std::collections::BTreeSet;
use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Prints, or writes to a file.
///
/// # Errors
/// Says in one sentence what could not be written. A reader that went away is no error.
pub(crate) fn write(text: &str, file: Option<&Path>) -> Result<(), String> {
    match file {
        Some(path) => write_whole(path, text)
            .map_err(|error| format!("{} cannot be written: {error}", path.display())),
        None => print(text, &mut io::stdout().lock()),
    }
}

/// Writes files into a folder, which is made where it is not there. A name that was written before gets a number.
///
/// # Errors
/// Says in one sentence what could not be written.
pub(crate) fn write_all(
    folder: &Path,
    files: impl Iterator<Item = (String, String)>,
) -> Result<(), String> {
    fs::create_dir_all(folder)
        .map_err(|error| format!("{} cannot be made: {error}", folder.display()))?;
    let mut names = BTreeSet::new();
    for (name, text) in files {
        let mut own = name.clone();
        let mut number = 2;
        while !names.insert(own.clone()) {
            own = format!("{number}-{name}");
            number += 1;
        }
        write(&text, Some(&folder.join(own)))?;
    }
    Ok(())
}

/// Writes files into a folder that is not there yet, all of them or none.
///
/// # Errors
/// Says in one sentence why it was not written: above all that something stands there already.
pub(crate) fn write_folder<'f>(
    folder: &Path,
    files: impl Iterator<Item = (&'f String, &'f Vec<u8>)>,
) -> Result<(), String> {
    if fs::symlink_metadata(folder).is_ok() {
        return Err(exists_already(folder));
    }
    let failed = |error: io::Error| format!("{} cannot be written: {error}", folder.display());
    let growing = beside(folder).map_err(failed)?;
    let written = write_files(&growing, files).and_then(|()| fs::rename(&growing, folder));
    if written.is_err() {
        drop(fs::remove_dir_all(&growing));
    }
    written.map_err(failed)
}

fn write_files<'f>(
    folder: &Path,
    files: impl Iterator<Item = (&'f String, &'f Vec<u8>)>,
) -> io::Result<()> {
    fs::create_dir(folder)?;
    for (name, bytes) in files {
        let path = folder.join(name);
        if let Some(above) = path.parent() {
            fs::create_dir_all(above)?;
        }
        let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
        file.write_all(bytes)?;
        file.sync_all()?;
    }
    Ok(())
}

/// Writes to a file that is not there yet, in whole or not at all.
///
/// # Errors
/// Says in one sentence why it was not written: above all that something stands there already.
pub(crate) fn write_only_new(text: &str, path: &Path) -> Result<(), String> {
    let beside =
        beside(path).map_err(|error| format!("{} cannot be written: {error}", path.display()))?;
    // A link to the finished file, unlike a rename, fails where something stands already.
    let written = write_new(&beside, text).and_then(|()| fs::hard_link(&beside, path));
    drop(fs::remove_file(&beside));
    written.map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => exists_already(path),
        _ => format!("{} cannot be written: {error}", path.display()),
    })
}

/// Why a file is not written over.
pub(crate) fn exists_already(path: &Path) -> String {
    format!(
        "{} exists already and is not written over; take it away first, or name another file",
        path.display()
    )
}

/// Keeps results for later runs, in a folder of their own that version control passes over. Where that cannot be, the
/// next run takes longer, and that is all.
pub(crate) fn keep(path: &Path, text: &str) {
    let Some(folder) = path.parent() else { return };
    let kept = fs::create_dir_all(folder).and_then(|()| {
        let ignoring = folder.join(IGNORING);
        // A full disk leaves an empty one. In a folder that holds anything else it would hide that as well.
        let is_wanted = !fs::metadata(&ignoring).is_ok_and(|there| there.len() > 0);
        if is_wanted && is_for(folder, path)? {
            fs::write(&ignoring, "*\n")?;
        }
        let beside = beside(path)?;
        // It ends with its own digest, so it need not have reached the disk before it takes its place.
        let written = fs::write(&beside, text).and_then(|()| fs::rename(&beside, path));
        if written.is_err() {
            drop(fs::remove_file(&beside));
        }
        written
    });
    drop(kept);
}

/// What makes version control pass over the folder that it stands in.
const IGNORING: &str = ".gitignore";

/// Whether a folder holds a file and nothing else, beside what a run puts next to it.
fn is_for(folder: &Path, file: &Path) -> io::Result<bool> {
    let own = file.file_name().unwrap_or_default().to_string_lossy();
    for entry in fs::read_dir(folder)? {
        let name = entry?.file_name();
        let name = name.to_string_lossy();
        let is_part = name.strip_prefix('.').is_some_and(|rest| rest.starts_with(&*own));
        if name != own && name != IGNORING && !is_part {
            return Ok(false);
        }
    }
    Ok(true)
}

fn print(text: &str, out: &mut impl Write) -> Result<(), String> {
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(format!("the result cannot be printed: {error}"))
        }
        _ => Ok(()),
    }
}

/// Writes beside the file and puts the new one in its place.
fn write_whole(path: &Path, text: &str) -> io::Result<()> {
    // Putting a file in the place of a device or a folder would destroy more than an old result.
    if fs::metadata(path).is_ok_and(|there| !there.is_file()) {
        return Err(io::Error::other("it is not a regular file"));
    }
    let beside = beside(path)?;
    let written = write_new(&beside, text).and_then(|()| fs::rename(&beside, path));
    if written.is_err() {
        drop(fs::remove_file(&beside));
    }
    written
}

fn write_new(path: &Path, text: &str) -> io::Result<()> {
    let mut file: File = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(text.as_bytes())?;
    file.sync_all()
}

/// A name in the same folder, so that the last step is one rename.
fn beside(path: &Path) -> io::Result<PathBuf> {
    let name = path.file_name().ok_or_else(|| io::Error::other("it names no file"))?;
    let mut own = std::ffi::OsString::from(".");
    own.push(name);
    own.push(format!(".{}.part", std::process::id()));
    Ok(path.with_file_name(own))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scratch::Folder;

    struct Pipe(ErrorKind);

    impl Write for Pipe {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(io::Error::from(self.0))
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn a_reader_that_went_away_is_no_error_and_a_full_disk_is() {
        assert_eq!(print("text", &mut Pipe(ErrorKind::BrokenPipe)), Ok(()));
        assert!(print("text", &mut Pipe(ErrorKind::StorageFull)).is_err());
    }

    #[test]
    fn a_file_is_replaced_in_whole_and_nothing_is_left_beside_it() {
        let folder = Folder::new("output-replace");
        folder.write("review.txt", "old");
        let path = PathBuf::from(folder.path("review.txt"));
        assert_eq!(write("new", Some(&path)), Ok(()));
        assert_eq!(fs::read_to_string(&path).unwrap(), "new");
        assert_eq!(folder.names(), ["review.txt"]);
    }

    #[test]
    fn two_files_of_one_name_are_both_written() {
        let folder = Folder::new("output-all");
        let file = |text: &str| ("a.svg".to_owned(), text.to_owned());
        let into = PathBuf::from(folder.path("figures"));
        assert_eq!(write_all(&into, [file("1"), file("2")].into_iter()), Ok(()));
        assert_eq!(fs::read_to_string(into.join("2-a.svg")).unwrap(), "2");
    }

    #[test]
    fn a_folder_is_never_replaced_and_a_folder_that_is_missing_is_named() {
        let folder = Folder::new("output-refused");
        let own = PathBuf::from(folder.path(""));
        assert!(write("new", Some(&own)).is_err());
        let missing = PathBuf::from(folder.path("missing/review.txt"));
        assert!(write("new", Some(&missing)).unwrap_err().contains("missing/review.txt"));
        assert!(folder.names().is_empty());
    }

    #[test]
    fn a_folder_is_written_whole_and_over_none_that_is_there() {
        let folder = Folder::new("output-folder");
        let into = PathBuf::from(folder.path("declared"));
        let file = ("a/b.txt".to_owned(), b"text".to_vec());
        assert_eq!(write_folder(&into, [(&file.0, &file.1)].into_iter()), Ok(()));
        assert_eq!(fs::read(into.join("a/b.txt")).unwrap(), b"text");
        assert!(write_folder(&into, [].into_iter()).unwrap_err().contains("exists already"));
        // A name that cannot be written leaves nothing behind.
        let bad = ("a".to_owned(), Vec::new());
        let other = PathBuf::from(folder.path("other"));
        assert!(write_folder(&other, [(&bad.0, &bad.1), (&file.0, &file.1)].into_iter()).is_err());
        assert_eq!(folder.names(), ["declared"]);
    }

    #[test]
    fn results_are_kept_out_of_version_control_and_nothing_else_is() {
        let folder = Folder::new("output-keep");
        folder.write("pan.yaml", "pan: 1");
        keep(Path::new(&folder.path("results")), "text");
        assert_eq!(folder.names(), ["pan.yaml", "results"]);
        // A disk that was full when the folder was made has left it empty.
        folder.write("own/.gitignore", "");
        for _ in 0..2 {
            keep(Path::new(&folder.path("own/results")), "text");
            assert_eq!(fs::read_to_string(folder.path("own/.gitignore")).unwrap(), "*\n");
        }
    }

    #[cfg(unix)]
    #[test]
    fn a_device_is_never_replaced() {
        assert!(write("new", Some(Path::new("/dev/null"))).unwrap_err().contains("regular"));
    }
}
