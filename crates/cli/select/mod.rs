//! From the paths, folders and patterns of a command line to files, each once, in the order of their
//! names. What matches nothing is named, never passed over.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Component, Path, PathBuf};
use sumpwright_core::remark::{is_remarks, path_of};

/// What a list of paths and patterns came to.
#[derive(Debug, Default)]
pub(crate) struct Selection {
    /// The files, as they are shown, in the order of their names.
    pub(crate) files: Vec<String>,
    /// What could not be used, one sentence each.
    pub(crate) complaints: Vec<String>,
}

/// Finds the files that are meant.
pub(crate) fn select(wanted: &[String]) -> Selection {
    let mut selection = Selection::default();
    let mut found = BTreeSet::new();
    for want in wanted {
        match matches(want) {
            Ok(paths) if paths.is_empty() => {
                selection.complaints.push(format!("nothing matches {want}"));
            }
            Ok(paths) => found.extend(paths.iter().map(|path| shown(path))),
            Err(complaint) => selection.complaints.push(complaint),
        }
    }
    // One file under two names is judged once, under the shorter.
    let mut by_file: BTreeMap<PathBuf, String> = BTreeMap::new();
    for path in found {
        let real = Path::new(&path).canonicalize().unwrap_or_else(|_| PathBuf::from(&path));
        let name = by_file.entry(real).or_insert_with(|| path.clone());
        if path.len() < name.len() {
            *name = path;
        }
    }
    selection.files = by_file.into_values().collect();
    // A shell that spreads `pans/*.yaml` names the remarks on a pan beside the pan: they are read with it, and are no pan.
    let beside: BTreeSet<String> = selection.files.iter().map(|pan| path_of(pan)).collect();
    selection.files.retain(|file| !(is_remarks(file) && beside.contains(file)));
    selection.files.sort();
    selection
}

fn matches(want: &str) -> Result<Vec<PathBuf>, String> {
    let path = Path::new(want);
    if path.is_dir() {
        let within = format!("{}/*.yaml", glob::Pattern::escape(want.trim_end_matches('/')));
        return expand(&within, want);
    }
    if path.exists() {
        return Ok(vec![path.to_owned()]);
    }
    if want.contains(['*', '?', '[']) {
        return expand(want, want);
    }
    Err(format!("there is no file {want}"))
}

fn expand(pattern: &str, want: &str) -> Result<Vec<PathBuf>, String> {
    let paths = glob::glob(pattern).map_err(|error| format!("{want} is no pattern: {error}"))?;
    let mut found = Vec::new();
    for path in paths {
        let path = path.map_err(|error| format!("{want}: {error}"))?;
        // A reviewer's remarks stand beside a pan and are no pan.
        if path.is_file() && !is_remarks(&path.to_string_lossy()) {
            found.push(path);
        }
    }
    match unreadable_name(pattern) {
        None => Ok(found),
        Some(path) => {
            Err(format!("{want} matches {}, whose name is not UTF-8; rename it", path.display()))
        }
    }
}

/// A file that would match, but for a name that is no text: patterns pass over such in silence.
fn unreadable_name(pattern: &str) -> Option<PathBuf> {
    let wanted = glob::Pattern::new(pattern).ok()?;
    // What is above the first name with a sign of a pattern in it is one folder.
    let signs = pattern.find(['*', '?', '['])?;
    let folder = pattern.get(..signs)?.rfind('/').and_then(|end| pattern.get(..end)).unwrap_or(".");
    let deepest = if pattern.contains("**") { usize::MAX } else { pattern.matches('/').count() };
    let options = glob::MatchOptions { require_literal_separator: true, ..Default::default() };
    let mut left = vec![(PathBuf::from(folder), 0)];
    while let Some((folder, depth)) = left.pop() {
        for entry in std::fs::read_dir(&folder).into_iter().flatten().flatten() {
            let path = entry.path();
            let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
            if is_folder && depth < deepest {
                left.push((path, depth + 1));
                continue;
            }
            let name = path.strip_prefix(".").unwrap_or(&path).to_string_lossy();
            if path.to_str().is_none() && wanted.matches_with(&name, options) {
                return Some(path);
            }
        }
    }
    None
}

/// A path as it is shown: relative to the working directory where it lies under it, with forward slashes.
fn shown(path: &Path) -> String {
    let here = std::env::current_dir().unwrap_or_default();
    let path = path.strip_prefix(&here).unwrap_or(path);
    let mut parts = Vec::new();
    let mut lead = String::new();
    for component in path.components() {
        match component {
            Component::CurDir => {}
            Component::RootDir => lead.push('/'),
            Component::Prefix(prefix) => lead.push_str(&prefix.as_os_str().to_string_lossy()),
            Component::ParentDir => parts.push("..".into()),
            Component::Normal(name) => parts.push(name.to_string_lossy()),
        }
    }
    lead + &parts.join("/")
}

#[cfg(test)]
mod tests;
