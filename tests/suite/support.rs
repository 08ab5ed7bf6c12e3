//! What the suites share.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use sumpwright_core::measure::Bounds;
use sumpwright_core::review::{MeasureReading, Measured, PanMeasured, Request, Review};
use sumpwright_core::source::{FileProblem, Files};

/// The folder of the project.
pub(crate) fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

pub(crate) fn read(path: &Path) -> String {
    std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// All Rust files below a folder, sorted.
pub(crate) fn rust_files(folder: &Path) -> Vec<PathBuf> {
    files_with(folder, "rs")
}

/// All files below a folder with an ending, sorted.
pub(crate) fn files_with(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files_with(&path, ending));
        } else if path.extension().is_some_and(|e| e == ending) {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// The project's own files, by paths relative to its root, with some replaced by other texts.
#[derive(Default)]
pub(crate) struct Disk {
    pub(crate) instead: Vec<(String, String)>,
}

impl Files for Disk {
    fn read(&self, path: &str, _root: Option<&str>, limit: u64) -> Result<Vec<u8>, FileProblem> {
        if let Some((_, text)) = self.instead.iter().find(|(p, _)| p == path) {
            return Ok(text.clone().into_bytes());
        }
        let at = root().join(path);
        if at.is_dir() {
            return Err(FileProblem::NotAFile);
        }
        let bytes = std::fs::read(at).map_err(|_| FileProblem::Missing)?;
        let size = bytes.len() as u64;
        if size > limit { Err(FileProblem::TooLarge { size, limit }) } else { Ok(bytes) }
    }

    fn exists(&self, path: &str) -> bool {
        root().join(path).is_file()
    }

    fn built_in(&self) -> Vec<(String, String)> {
        rulebook()
    }
}

/// The project's files, with some added.
pub(crate) struct Shelf(pub(crate) BTreeMap<String, Vec<u8>>);

impl Files for Shelf {
    fn read(&self, path: &str, root: Option<&str>, limit: u64) -> Result<Vec<u8>, FileProblem> {
        self.0.get(path).cloned().map_or_else(|| Disk::default().read(path, root, limit), Ok)
    }

    fn exists(&self, path: &str) -> bool {
        self.0.contains_key(path) || Disk::default().exists(path)
    }
}

/// The shipped rulebook.
pub(crate) fn rulebook() -> Vec<(String, String)> {
    files_with(&root().join("rules"), "yaml")
        .into_iter()
        .map(|path| {
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            (format!("rules/{name}"), read(&path))
        })
        .collect()
}

pub(crate) fn review(disk: &Disk, pans: &[&str]) -> Review {
    let pans: Vec<String> = pans.iter().map(|p| (*p).to_owned()).collect();
    sumpwright_core::review::review(Request {
        files: disk,
        pans: &pans,
        rulebook: &rulebook(),
        drawn: false,
    })
}

pub(crate) fn measure(disk: &Disk, pans: &[&str]) -> Measured {
    let pans: Vec<String> = pans.iter().map(|p| (*p).to_owned()).collect();
    altered(sumpwright_core::review::measure(Request {
        files: disk,
        pans: &pans,
        rulebook: &[],
        drawn: false,
    }))
}

/// Names a measure that the suite is to see otherwise than it reads.
pub(crate) const ALTERS: &str = "SUMPWRIGHT_SUITE_ALTERS";

/// Readings as they are; those of the measure that is named, and of each state, 5 % more: `checks` sees by that whether a test
/// would notice.
fn altered(mut measured: Measured) -> Measured {
    let Ok(name) = std::env::var(ALTERS) else { return measured };
    let more = |bounds: Bounds| Bounds { low: bounds.low * 1.05, high: bounds.high * 1.05 };
    let readings = measured.pans.iter_mut().flat_map(|pan| &mut pan.measures);
    for entry in readings.filter(|entry| entry.spec.name == name) {
        if let Ok(reading) = &mut entry.reading {
            reading.bounds = more(reading.bounds);
        }
        for state in &mut entry.states {
            state.bounds = state.bounds.clone().map(more);
        }
    }
    measured
}

/// The readings of a pan made of four documents.
pub(crate) fn measured(pan: &str, vehicle: &str, oil: &str, duty: &str) -> PanMeasured {
    let files = [("pan", pan), ("v", vehicle), ("o", oil), ("d", duty)];
    let instead = files.map(|(name, text)| (format!("t/p/{name}.yaml"), text.to_owned())).into();
    let measured = measure(&Disk { instead }, &["t/p/pan.yaml"]);
    assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
    measured.pans.into_iter().next().unwrap()
}

/// A measure of the pan (`""`) or of the object of that name.
pub(crate) fn entry<'a>(pan: &'a PanMeasured, name: &str, object: &str) -> &'a MeasureReading {
    let named = |found: &Option<String>| found.as_deref().unwrap_or_default().ends_with(object);
    let found = pan.measures.iter().find(|m| m.spec.name == name && named(&m.object));
    found.unwrap_or_else(|| panic!("{name} is not read for {object}"))
}

pub(crate) fn bounds(pan: &PanMeasured, name: &str, object: &str) -> [f64; 2] {
    let reading = entry(pan, name, object).reading.as_ref();
    let found = reading.unwrap_or_else(|why| panic!("{name}: {}", why.reason)).bounds;
    [found.low, found.high]
}

pub(crate) fn value(pan: &PanMeasured, name: &str, object: &str) -> f64 {
    let [low, high] = bounds(pan, name, object);
    assert!(low >= high, "{name} lies between {low} and {high}");
    low
}
