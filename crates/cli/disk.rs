//! The files of this machine, as the library wants them lent: regular files only, of a limited size,
//! and under the root after every link is resolved.

use crate::progress;
use std::fs::{File, Metadata};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use sumpwright_core::source::{FileProblem, Files, Recording};

/// The disk; paths are relative to the working directory.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Disk;

impl Files for Disk {
    fn read(&self, path: &str, root: Option<&str>, limit: u64) -> Result<Vec<u8>, FileProblem> {
        let (file, _) = opened(path, root, limit)?;
        let mut bytes = Vec::new();
        let mut within = file.take(limit.saturating_add(1));
        let size = within.read_to_end(&mut bytes).map_err(|error| problem(&error))?;
        // It may have grown since.
        let size = u64::try_from(size).unwrap_or(u64::MAX);
        if size > limit { Err(FileProblem::TooLarge { size, limit }) } else { Ok(bytes) }
    }

    fn exists(&self, path: &str) -> bool {
        Path::new(path).is_file()
    }

    fn is_same(&self, one: &str, other: &str) -> bool {
        let real = |path: &str| Path::new(path).canonicalize();
        one == other || matches!((real(one), real(other)), (Ok(one), Ok(other)) if one == other)
    }

    fn recording(
        &self,
        path: &str,
        root: Option<&str>,
        limit: u64,
    ) -> Result<Arc<dyn Recording>, FileProblem> {
        let (file, real) = opened(path, root, limit)?;
        let size = file.metadata().map_err(|error| problem(&error))?.len();
        Ok(Arc::new(OnDisk { real, size, line: progress::Line::new() }))
    }
}

/// A recording, opened anew each time it is read.
#[derive(Debug)]
struct OnDisk {
    real: PathBuf,
    size: u64,
    line: progress::Line,
}

impl Recording for OnDisk {
    fn open(&self) -> Result<Box<dyn Read + Send>, FileProblem> {
        // No more than was there when it was first looked at, or a file that grows would never end.
        let file = File::open(&self.real).map_err(|error| problem(&error))?;
        Ok(Box::new(file.take(self.size)))
    }

    fn worked_through(&self, bytes: Option<u64>) {
        match bytes {
            Some(bytes) => self.line.show_share(bytes, self.size),
            None => self.line.clear(),
        }
    }
}

/// A regular file of at most `limit` bytes, under the root after every link is resolved, with its own path.
fn opened(path: &str, root: Option<&str>, limit: u64) -> Result<(File, PathBuf), FileProblem> {
    let real = Path::new(path).canonicalize().map_err(|error| problem(&error))?;
    if let Some(root) = root {
        let root = if root.is_empty() { "." } else { root };
        let root = Path::new(root).canonicalize().map_err(|error| problem(&error))?;
        if !real.starts_with(root) {
            return Err(FileProblem::OutsideRoot);
        }
    }
    // Looked at before it is opened: opening a pipe would wait for a writer.
    check(&real.metadata().map_err(|error| problem(&error))?, limit)?;
    let file = File::open(&real).map_err(|error| problem(&error))?;
    check(&file.metadata().map_err(|error| problem(&error))?, limit)?;
    Ok((file, real))
}

fn check(metadata: &Metadata, limit: u64) -> Result<(), FileProblem> {
    if !metadata.is_file() {
        return Err(FileProblem::NotAFile);
    }
    let size = metadata.len();
    if size > limit { Err(FileProblem::TooLarge { size, limit }) } else { Ok(()) }
}

fn problem(error: &std::io::Error) -> FileProblem {
    match error.kind() {
        ErrorKind::NotFound => FileProblem::Missing,
        _ => FileProblem::Refused(error.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scratch::Folder;

    #[test]
    fn a_regular_file_is_read_and_other_things_are_named() {
        let folder = Folder::new("disk-kinds");
        folder.write("a.yaml", "pan: 1\n");
        let read = |name: &str, limit| Disk.read(&folder.path(name), None, limit);
        assert_eq!(read("a.yaml", 100), Ok(b"pan: 1\n".to_vec()));
        assert_eq!(read("b.yaml", 100), Err(FileProblem::Missing));
        assert_eq!(read("", 100), Err(FileProblem::NotAFile));
        assert_eq!(read("a.yaml", 6), Err(FileProblem::TooLarge { size: 7, limit: 6 }));
        assert_eq!(read("a.yaml", 7), Ok(b"pan: 1\n".to_vec()));
    }

    #[cfg(unix)]
    #[test]
    fn a_link_out_of_the_root_and_a_loop_are_refused() {
        let folder = Folder::new("disk-links");
        folder.write("secret.yaml", "pan: 1\n");
        folder.write("root/a.yaml", "pan: 1\n");
        let link = |to: &str, at: &str| std::os::unix::fs::symlink(to, folder.path(at)).unwrap();
        link("../secret.yaml", "root/out.yaml");
        link("loop.yaml", "root/loop.yaml");
        link("a.yaml", "root/in.yaml");
        let root = folder.path("root");
        let read = |name: &str| Disk.read(&folder.path(name), Some(&root), 100);
        assert!(read("root/a.yaml").is_ok());
        assert!(read("root/in.yaml").is_ok());
        assert_eq!(read("root/out.yaml"), Err(FileProblem::OutsideRoot));
        assert_eq!(read("root/../secret.yaml"), Err(FileProblem::OutsideRoot));
        assert!(matches!(read("root/loop.yaml"), Err(FileProblem::Refused(_))));
    }

    #[cfg(unix)]
    #[test]
    fn a_device_is_no_file() {
        assert_eq!(Disk.read("/dev/zero", None, 100), Err(FileProblem::NotAFile));
    }
}
