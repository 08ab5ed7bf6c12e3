//! What the program says of itself: schemas, completions, manual pages.

use crate::support::{files_with, read, root};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn run(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_sumpwright"));
    command.current_dir(root()).env("LC_ALL", "C.UTF-8").args(arguments).output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn complaint(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn folder(name: &str) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&path);
    path
}

fn names() -> Vec<&'static str> {
    sumpwright_report::SCHEMAS.iter().map(|schema| schema.name).collect()
}

#[test]
fn schema_without_a_name_lists_every_schema() {
    let output = run(&["schema"]);
    assert_eq!(output.status.code(), Some(0));
    let listed: Vec<String> =
        out(&output).lines().map(|l| l.split(' ').next().unwrap().to_owned()).collect();
    assert_eq!(listed, names());
}

#[test]
fn a_schema_is_printed_written_to_a_file_and_with_all_the_others_into_a_folder() {
    let into = folder("schemas");
    let shown = into.to_str().unwrap();
    assert_eq!(run(&["schema", "--folder", shown]).status.code(), Some(0));
    let written = files_with(&into, "json");
    assert_eq!(written.len(), names().len());
    let printed = out(&run(&["schema", "pan"]));
    assert_eq!(printed, read(&into.join("pan.json")));
    let file = into.join("own.json");
    assert_eq!(run(&["schema", "pan", "--output", file.to_str().unwrap()]).status.code(), Some(0));
    assert_eq!(printed, read(&file));
}

#[test]
fn an_unknown_schema_or_verb_is_a_wrong_use_and_the_known_ones_are_named() {
    let schema = run(&["schema", "pna"]);
    assert_eq!(schema.status.code(), Some(2));
    assert!(complaint(&schema).contains("vehicle"), "{}", complaint(&schema));
    let page = run(&["man", "revue"]);
    assert_eq!(page.status.code(), Some(2));
    assert!(complaint(&page).contains("review"), "{}", complaint(&page));
    assert_eq!(run(&["completions", "basic"]).status.code(), Some(2));
    assert_eq!(run(&["schema", "--output", "x.json"]).status.code(), Some(2));
}

#[test]
fn every_shell_gets_completions_that_know_every_verb() {
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let output = run(&["completions", shell]);
        assert_eq!(output.status.code(), Some(0), "{shell}");
        for verb in ["review", "compare", "survey", "schema"] {
            assert!(out(&output).contains(verb), "{shell}: {verb}");
        }
    }
}

#[test]
fn every_verb_has_a_manual_page_with_its_exit_statuses_or_its_use() {
    let into = folder("man");
    assert_eq!(run(&["man", "--folder", into.to_str().unwrap()]).status.code(), Some(0));
    let pages = files_with(&into, "1");
    let help = out(&run(&["--help"]));
    for page in &pages {
        let text = read(page);
        assert!(text.contains(".TH sumpwright"), "{}", page.display());
        let name = page.file_stem().unwrap().to_str().unwrap();
        if let Some(verb) = name.strip_prefix("sumpwright-") {
            assert!(help.contains(verb), "{verb}");
            assert_eq!(text, out(&run(&["man", verb])), "{verb}");
        } else {
            assert_eq!(text, out(&run(&["man"])));
        }
    }
    assert!(pages.len() > 9, "{pages:?}");
    assert!(read(&into.join("sumpwright-review.1")).contains("does not conform"));
}
