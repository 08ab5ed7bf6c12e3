//! The rulebook that travels with the program, and the fixtures that its cases change.

use crate::disk::Disk;
use std::sync::Arc;
use sumpwright_core::source::{FileProblem, Files, Recording};

macro_rules! embedded {
    ($($name:literal)*) => {
        &[$((concat!("built-in/rules/", $name), include_str!(concat!("../../rules/", $name)))),*]
    };
}

/// Path as shown and text of each file of the rulebook, by name: the one list of them.
const RULES: &[(&str, &str)] = embedded! {
    "air.yaml"
    "baffle.yaml"
    "clearance.yaml"
    "drain.yaml"
    "fin.yaml"
    "flange.yaml"
    "ground.yaml"
    "heat.yaml"
    "joint.yaml"
    "motion.yaml"
    "oil.yaml"
    "pickup.yaml"
    "rotating.yaml"
    "suction.yaml"
    "wall.yaml"
};

macro_rules! fixtures {
    ($($name:literal)*) => {
        &[$((concat!("built-in/fixtures/", $name), include_str!(concat!("../../fixtures/", $name)))),*]
    };
}

/// Path and text of every fixture that the rulebook's cases use.
const FIXTURES: &[(&str, &str)] = fixtures! {
    "duties/quarry-road.yaml"
    "duties/rock-trail.yaml"
    "logs/quarry-road.csv"
    "oils/trail.yaml"
    "pans/deep-cast.yaml"
    "pans/drain-retrofit.yaml"
    "pans/low-finned.yaml"
    "pans/stock-stamped.yaml"
    "pans/twin-sump.yaml"
    "vehicles/brindle.yaml"
};

/// The fixture that has something of every family: it shows what a measure reads.
pub(crate) const DEMO_PAN: &str = "built-in/fixtures/pans/deep-cast.yaml";

/// All pans of the demo.
pub(crate) const DEMO_PANS: &[&str] = &[
    "built-in/fixtures/pans/stock-stamped.yaml",
    "built-in/fixtures/pans/deep-cast.yaml",
    "built-in/fixtures/pans/low-finned.yaml",
    "built-in/fixtures/pans/drain-retrofit.yaml",
    "built-in/fixtures/pans/twin-sump.yaml",
];

/// The embedded fixtures, as if they were files.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Fixtures;

impl Files for Fixtures {
    fn read(&self, path: &str, _root: Option<&str>, _limit: u64) -> Result<Vec<u8>, FileProblem> {
        let found = FIXTURES.iter().find(|(name, _)| *name == path);
        found.map(|(_, text)| text.as_bytes().to_vec()).ok_or(FileProblem::Missing)
    }

    fn exists(&self, path: &str) -> bool {
        FIXTURES.iter().any(|(name, _)| *name == path)
    }
}

/// The files of this machine, and those that travel with the program by their own paths.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Host;

impl Files for Host {
    fn read(&self, path: &str, root: Option<&str>, limit: u64) -> Result<Vec<u8>, FileProblem> {
        match (Fixtures.exists(path), Disk.exists(path)) {
            (true, false) => Fixtures.read(path, root, limit),
            // Neither may pass for the other.
            (true, true) => Err(FileProblem::Refused(
                "a file of this machine has the name of one that is built in; work in another folder".to_owned(),
            )),
            (false, _) => Disk.read(path, root, limit),
        }
    }

    fn exists(&self, path: &str) -> bool {
        Fixtures.exists(path) || Disk.exists(path)
    }

    fn is_same(&self, one: &str, other: &str) -> bool {
        Disk.is_same(one, other)
    }

    fn recording(
        &self,
        path: &str,
        root: Option<&str>,
        limit: u64,
    ) -> Result<Arc<dyn Recording>, FileProblem> {
        if Fixtures.exists(path) {
            return Fixtures.recording(path, root, limit);
        }
        Disk.recording(path, root, limit)
    }

    fn built_in(&self) -> Vec<(String, String)> {
        rulebook()
    }
}

/// The embedded rulebook.
pub(crate) fn rulebook() -> Vec<(String, String)> {
    RULES.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_list_holds_every_rule_file_of_the_folder() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/rules");
        let names = std::fs::read_dir(folder).unwrap();
        let names = names.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned());
        let mut names: Vec<_> =
            names.filter(|name| name != "CHANGES.md" && name != "LANGUAGE.md").collect();
        names.sort();
        let listed: Vec<_> =
            RULES.iter().map(|(path, _)| path.trim_start_matches("built-in/rules/")).collect();
        assert_eq!(listed, names);
    }
}
