//! Every measure is held against something not written here, and says by which test: the test is there, reads the measure
//! through the whole way, and names the source above itself.

use crate::support::{ALTERS, read, root};
use std::process::Command;
use sumpwright_core::measure::{MEASURES, Spec};

/// What is wrong with a measure's word for its check, given the text of the suite that it names.
fn fault(suite: &str, test: &str, measure: &str, against: &str) -> Option<String> {
    let head = format!("#[test]\nfn {test}() {{\n");
    let Some(at) = suite.find(&head) else { return Some(format!("there is no test {test}")) };
    let above = suite[..at].lines().rev().take_while(|line| line.starts_with("//"));
    let mut above: Vec<&str> = above.map(|line| line.trim_start_matches('/').trim()).collect();
    above.reverse();
    let above = above.join(" ").to_lowercase();
    if against.is_empty() || !above.contains(&against.to_lowercase()) {
        return Some(format!("{test} does not name \"{against}\" above itself"));
    }
    let body = &suite[at + head.len()..];
    let body = &body[..body.find("\n}\n").unwrap_or(body.len())];
    let reads = |line: &&str| !line.trim_start().starts_with("//") && line.contains(measure);
    let is_read = body.lines().filter(reads).any(|line| line.contains(&format!("\"{measure}\"")));
    (!is_read).then(|| format!("{test} does not read {measure}"))
}

#[test]
fn every_measure_names_the_test_that_holds_it_against_something_outside() {
    let mut wrong = Vec::new();
    for spec in MEASURES {
        let (suite, test) = spec.checked_by.split_once("::").unwrap_or(("", ""));
        let path = root().join(format!("tests/suite/{suite}.rs"));
        let found = if path.is_file() {
            fault(&read(&path), test, spec.name, spec.checked_against)
        } else {
            Some(format!("there is no suite {suite}"))
        };
        wrong.extend(found.map(|found| format!("{}: {found}", spec.name)));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Each named test is run again with its measure reading 5 % more than it does, and has to fail.
#[test]
fn every_check_notices_a_measure_that_reads_otherwise() {
    let own = std::env::current_exe().unwrap();
    let passes = |spec: &&Spec| {
        let mut run = Command::new(&own);
        run.args(["--exact", spec.checked_by]).env(ALTERS, spec.name).env("INSTA_UPDATE", "no");
        let said = run.output().unwrap();
        let said = String::from_utf8_lossy(&said.stdout);
        // Run at all, and failed.
        !said.contains("0 passed; 1 failed")
    };
    let threads = std::thread::available_parallelism().map_or(2, usize::from);
    let unnoticed: Vec<&str> = std::thread::scope(|scope| {
        let parts = MEASURES.chunks(MEASURES.len().div_ceil(threads));
        let parts = parts.map(|part| {
            scope
                .spawn(move || part.iter().filter(passes).map(|spec| spec.name).collect::<Vec<_>>())
        });
        let parts: Vec<_> = parts.collect();
        parts.into_iter().flat_map(|part| part.join().unwrap()).collect()
    });
    assert!(unnoticed.is_empty(), "{unnoticed:?}");
}

#[test]
fn a_check_that_is_gone_is_noticed() {
    let suite = "// Continuity, and\n// no more.\n#[test]\nfn flows() {\n    near(value(&pan, \"a.b\"), 1.0);\n}\n";
    let of = |suite: &str| fault(suite, "flows", "a.b", "continuity, and no more");
    assert_eq!(of(suite), None);
    for (from, to) in [
        ("fn flows", "fn runs"),
        ("#[test]\n", ""),
        ("#[test]\n", "#[ignore]\n#[test]\n"),
        ("// Continuity, and\n// no more.\n", ""),
        ("Continuity", "Torricelli"),
        ("a.b", "a.c"),
        ("    near", "    // near"),
    ] {
        assert!(of(&suite.replace(from, to)).is_some(), "{from} -> {to}");
    }
    assert!(fault(suite, "flows", "a.b", "").is_some());
}
