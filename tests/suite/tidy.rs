//! What must not be there: an absence cannot be seen in code, so a test holds it.

use crate::support::{read, root, rust_files};

/// Stages of the core, in the one order in which they may know each other.
const STAGES: [&str; 22] = [
    "source",
    "quantity",
    "mesh_file",
    "document",
    "reading",
    "model",
    "coverage",
    "figure",
    "measure",
    "rule",
    "verdict",
    "review",
    "remedy",
    "concede",
    "remark",
    "checklist",
    "declare",
    "compare",
    "confirm",
    "prove",
    "explain",
    "survey",
];

#[test]
fn no_stage_of_the_core_uses_a_later_one() {
    let source = root().join("crates/core/src");
    let mut wrong = Vec::new();
    for path in rust_files(&source) {
        let inside = path.strip_prefix(&source).unwrap();
        let first = inside.iter().next().unwrap().to_str().unwrap().trim_end_matches(".rs");
        let Some(own) = STAGES.iter().position(|s| *s == first) else { continue };
        for (number, line) in read(&path).lines().enumerate() {
            for used in line.split("crate::").skip(1) {
                let word: String =
                    used.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
                let Some(other) = STAGES.iter().position(|s| *s == word) else { continue };
                if other > own {
                    wrong.push(format!("{}:{}: {first} uses {word}", path.display(), number + 1));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn nothing_climbs_two_modules_at_once() {
    let mut wrong = Vec::new();
    for path in rust_files(&root().join("crates")) {
        if read(&path).contains("super::super") {
            wrong.push(path.display().to_string());
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Each crate and the words that may not stand in it.
#[test]
fn no_crate_does_what_another_is_for() {
    let absent = [
        ("crates/physics/src", vec!["std::fs", "std::env", "serde", "miette", "Span", "println!"]),
        (
            "crates/core/src",
            vec!["std::fs", "std::env", "serde::", "serde_json", "miette", "println!"],
        ),
        ("crates/report/src", vec!["std::fs", "std::env", "println!"]),
    ];
    let mut wrong = Vec::new();
    for (folder, words) in absent {
        for path in rust_files(&root().join(folder)) {
            let text = read(&path);
            // Tests may use the oracle and what they like.
            let code = text.split("#[cfg(test)]").next().unwrap();
            for (number, line) in code.lines().enumerate() {
                if line.trim_start().starts_with("//") {
                    continue;
                }
                for word in &words {
                    if line.contains(word) {
                        wrong.push(format!("{}:{}: {word}", path.display(), number + 1));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_source_file_says_what_it_is_for() {
    let mut wrong = Vec::new();
    for path in rust_files(&root().join("crates")) {
        if !read(&path).starts_with("//!") {
            wrong.push(path.display().to_string());
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_measure_file_is_registered() {
    let folder = root().join("crates/core/src/measure");
    let registry = read(&folder.join("mod.rs"));
    for path in rust_files(&folder) {
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        if ["mod", "spec"].contains(&name.as_str()) {
            continue;
        }
        assert!(registry.contains(&format!("    {name},\n")), "{name} is not registered");
    }
}

#[test]
fn measures_are_sorted_by_name_and_say_all_that_is_asked() {
    let names: Vec<&str> = sumpwright_core::measure::MEASURES.iter().map(|m| m.name).collect();
    let mut unique = names.clone();
    unique.sort_unstable();
    unique.dedup();
    assert_eq!(unique.len(), names.len(), "two measures have one name");
    for measure in sumpwright_core::measure::MEASURES {
        for (what, text) in [
            ("meaning", measure.meaning),
            ("formula", measure.formula),
            ("source", measure.source),
            ("range", measure.range),
        ] {
            assert!(!text.is_empty(), "{} has no {what}", measure.name);
        }
    }
}

#[test]
fn the_visible_top_level_is_what_it_is_meant_to_be() {
    let mut found: Vec<String> = std::fs::read_dir(root())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| !name.starts_with('.') && name != "target")
        .collect();
    found.sort();
    let mut meant = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE-MIT",
        "LICENSE-APACHE",
        "crates",
        "rules",
        "fixtures",
        "tests",
        "clippy.toml",
        "rustfmt.toml",
    ];
    meant.sort_unstable();
    assert_eq!(found, meant);
}
