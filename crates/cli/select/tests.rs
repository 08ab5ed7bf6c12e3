//! Tests of this module.

use super::*;
use crate::scratch::Folder;

fn selected(wanted: &[String]) -> (Vec<String>, Vec<String>) {
    let Selection { files, complaints } = select(wanted);
    let name = |path: &String| path.rsplit('/').next().unwrap().to_owned();
    (files.iter().map(name).collect(), complaints)
}

#[test]
fn a_pattern_a_folder_and_a_path_name_each_file_once_in_order() {
    let folder = Folder::new("select-order");
    for name in ["c.yaml", "a.yaml", "b.yaml", "a.remarks.yaml", "notes.txt", "deeper/d.yaml"] {
        folder.write(name, "");
    }
    let wanted = [folder.path("c.yaml"), folder.path("*.yaml"), folder.path("")];
    assert_eq!(
        selected(&wanted),
        (vec!["a.yaml".into(), "b.yaml".into(), "c.yaml".into()], vec![])
    );
}

/// What a shell makes of `pans/*.yaml` once remarks were begun.
#[test]
fn remarks_named_beside_their_pan_are_no_pan() {
    let folder = Folder::new("select-remarks");
    for name in ["a.yaml", "a.remarks.yaml", "b.remarks.yaml"] {
        folder.write(name, "");
    }
    let spread = ["a.remarks.yaml", "a.yaml"].map(|name| folder.path(name));
    assert_eq!(selected(&spread), (vec!["a.yaml".into()], vec![]));
    // Named without their pan they are told to be none.
    assert_eq!(selected(&[folder.path("b.remarks.yaml")]).0, ["b.remarks.yaml"]);
}

#[test]
fn one_file_under_two_names_is_taken_once_under_the_shorter() {
    let folder = Folder::new("select-twice");
    folder.write("a.yaml", "");
    folder.write("deeper/b.yaml", "");
    let wanted = [folder.path("deeper/../a.yaml"), folder.path("a.yaml")];
    assert_eq!(select(&wanted).files, [folder.path("a.yaml")]);
}

#[test]
fn what_matches_nothing_is_named() {
    let folder = Folder::new("select-nothing");
    folder.write("a.yaml", "");
    let wanted = [folder.path("*.yml"), folder.path("b.yaml"), folder.path("a.yaml")];
    let (files, complaints) = selected(&wanted);
    assert_eq!(files, ["a.yaml"]);
    assert_eq!(
        complaints,
        [format!("nothing matches {}", wanted[0]), format!("there is no file {}", wanted[1]),]
    );
}

#[test]
fn a_folder_without_descriptions_and_a_broken_pattern_are_named() {
    let folder = Folder::new("select-empty");
    let (files, complaints) = selected(&[folder.path(""), folder.path("[a")]);
    assert!(files.is_empty());
    assert_eq!(complaints.len(), 2);
}

#[test]
fn a_file_whose_name_looks_like_a_pattern_is_taken_as_it_is() {
    let folder = Folder::new("select-brackets");
    folder.write("[x]/a.yaml", "");
    folder.write("x/b.yaml", "");
    assert_eq!(selected(&[folder.path("[x]")]).0, ["a.yaml"]);
    assert_eq!(selected(&[folder.path("[x]/a.yaml")]).0, ["a.yaml"]);
}

#[test]
fn a_path_under_the_working_directory_is_shown_from_there() {
    let here = std::env::current_dir().unwrap();
    assert_eq!(shown(&here.join("pans/a.yaml")), "pans/a.yaml");
    assert_eq!(shown(Path::new("./pans/./a.yaml")), "pans/a.yaml");
    assert_eq!(shown(Path::new("../a.yaml")), "../a.yaml");
    assert_eq!(shown(Path::new("/else/a.yaml")), "/else/a.yaml");
}

/// A pattern passes over a name that is no text; what would be judged under another name is never left out in silence.
#[cfg(target_os = "linux")]
#[test]
fn a_name_that_is_no_text_is_told() {
    use std::os::unix::ffi::OsStrExt as _;
    let folder = Folder::new("select-unreadable");
    folder.write("pans/a.yaml", "");
    let bad = |name: &[u8]| {
        let path = PathBuf::from(folder.path("pans")).join(std::ffi::OsStr::from_bytes(name));
        std::fs::write(&path, "").unwrap();
        path
    };
    let other = bad(b"b\xff.csv");
    for pattern in ["pans", "pans/*.yaml", "p*/*.yaml", "**/*.yaml"] {
        assert!(selected(&[folder.path(pattern)]).1.is_empty(), "{pattern}");
    }
    let path = bad(b"b\xff.yaml");
    for pattern in ["pans", "pans/*.yaml", "p*/*.yaml", "**/*.yaml"] {
        let (_, complaints) = selected(&[folder.path(pattern)]);
        assert!(
            complaints.concat().contains("is not UTF-8; rename it"),
            "{pattern} {complaints:?}"
        );
    }
    for pattern in ["pans/a*.yaml", "*.yaml"] {
        let (_, complaints) = selected(&[folder.path(pattern)]);
        assert!(!complaints.concat().contains("UTF-8"), "{pattern} {complaints:?}");
    }
    std::fs::remove_file(path).unwrap();
    std::fs::remove_file(other).unwrap();
}
