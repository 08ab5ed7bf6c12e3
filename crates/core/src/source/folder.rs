//! A folder held in memory, read as if it lay on a disk.

use super::files::{FileProblem, Files};
use std::collections::BTreeMap;

/// The part of its paths under which a folder keeps the rulebook that a program brings along.
pub const BUILT_IN_FOLDER: &str = "built-in/rules/";

/// Files by their paths, which use forward slashes and have no dots in them.
#[derive(Debug, Clone, Default)]
pub struct Folder {
    /// The files.
    pub files: BTreeMap<String, Vec<u8>>,
}

impl Files for Folder {
    fn read(&self, path: &str, root: Option<&str>, limit: u64) -> Result<Vec<u8>, FileProblem> {
        let outside = |root: &str| {
            !root.is_empty() && root != "." && !path.starts_with(&format!("{root}/"))
        };
        if path.starts_with('/') || path.starts_with("..") || root.is_some_and(outside) {
            return Err(FileProblem::OutsideRoot);
        }
        let bytes = self.files.get(path).ok_or(FileProblem::Missing)?;
        let size = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
        if size > limit { Err(FileProblem::TooLarge { size, limit }) } else { Ok(bytes.clone()) }
    }

    fn exists(&self, path: &str) -> bool {
        self.files.contains_key(path)
    }

    fn built_in(&self) -> Vec<(String, String)> {
        let kept = self.files.iter().filter(|(path, _)| path.starts_with(BUILT_IN_FOLDER));
        kept.map(|(path, bytes)| (path.clone(), String::from_utf8_lossy(bytes).into_owned())).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_reads_its_own_files_and_nothing_above_the_root() {
        let mut folder = Folder::default();
        folder.files.insert("inputs/a.yaml".to_owned(), b"pan: 1".to_vec());
        folder.files.insert("built-in/rules/x.yaml".to_owned(), b"rulebook: 1".to_vec());
        assert_eq!(folder.read("inputs/a.yaml", Some("inputs"), 6), Ok(b"pan: 1".to_vec()));
        assert_eq!(folder.read("inputs/a.yaml", None, 5), Err(FileProblem::TooLarge { size: 6, limit: 5 }));
        assert_eq!(folder.read("inputs/a.yaml", Some("other"), 9), Err(FileProblem::OutsideRoot));
        assert_eq!(folder.read("../a.yaml", None, 9), Err(FileProblem::OutsideRoot));
        assert_eq!(folder.read("inputs/b.yaml", None, 9), Err(FileProblem::Missing));
        assert_eq!(folder.built_in(), [("built-in/rules/x.yaml".to_owned(), "rulebook: 1".to_owned())]);
    }
}
