//! Every broken document: each error at its place, all of them at once, and how it reads.

use crate::support::{Disk, files_with, read, root};
use std::fmt::Write;
use std::path::Path;
use sumpwright_core::document::DocumentKind;
use sumpwright_core::review::{Request, Review, read_alone, review};
use sumpwright_core::source::Severity;

/// An expectation at the end of a document: `# expect: code at "text"`.
struct Expected {
    code: String,
    at: Option<String>,
}

fn expectations(text: &str) -> Vec<Expected> {
    text.lines()
        .filter_map(|line| line.strip_prefix("# expect: "))
        .map(|rest| match rest.split_once(" at ") {
            Some((code, at)) => {
                let at = at.trim().trim_start_matches('"').trim_end_matches('"');
                Expected { code: code.to_owned(), at: Some(at.to_owned()) }
            }
            None => Expected { code: rest.trim().to_owned(), at: None },
        })
        .collect()
}

/// The document as a user would meet it: a pan by review, the rest alone.
fn look(path: &Path) -> Review {
    let shown = path.strip_prefix(root()).unwrap().to_str().unwrap().to_owned();
    let disk = Disk::default();
    match path.parent().unwrap().file_name().unwrap().to_str().unwrap() {
        "pan" => review(Request { files: &disk, pans: &[shown], rulebook: &[], drawn: false }),
        "rulebook" => {
            let text = (shown, read(path));
            review(Request { files: &disk, pans: &[], rulebook: &[text], drawn: false })
        }
        kind => {
            let kind = DocumentKind::ALL.into_iter().find(|k| k.key() == kind).expect("a kind");
            read_alone(&disk, &shown, kind)
        }
    }
}

fn invalid() -> Vec<std::path::PathBuf> {
    files_with(&root().join("fixtures/documents/invalid"), "yaml")
        .into_iter()
        .filter(|path| read(path).contains("# expect: "))
        .collect()
}

#[test]
fn every_broken_document_is_told_what_is_wrong_with_it_at_its_place() {
    let mut wrong = Vec::new();
    for path in invalid() {
        let review = look(&path);
        let expected = expectations(&read(&path));
        let mut found: Vec<(String, String, bool)> = review
            .problems
            .iter()
            .filter(|p| p.severity == Severity::Error)
            .map(|p| {
                let slice = review.sources.slice(p.primary.span).to_owned();
                (p.code.word().to_owned(), slice, false)
            })
            .collect();
        let name = path.strip_prefix(root()).unwrap().display().to_string();
        for e in &expected {
            let hit = found.iter_mut().find(|(code, at, used)| {
                !used && *code == e.code && e.at.as_ref().is_none_or(|a| a == at)
            });
            match hit {
                Some(hit) => hit.2 = true,
                None => wrong.push(format!("{name}: not found: {} at {:?}", e.code, e.at)),
            }
        }
        for (code, at, used) in found {
            if !used {
                wrong.push(format!("{name}: not expected: {code} at {at:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn there_are_at_least_forty_broken_documents() {
    assert!(invalid().len() >= 40);
}

/// How every broken document reads to a user, one page a kind: read each before it is accepted.
#[test]
fn every_broken_document_reads_well() {
    let options =
        sumpwright_report::Options { width: 100, colour: false, plain: false, all: false };
    let mut pages: std::collections::BTreeMap<String, String> = std::collections::BTreeMap::new();
    for path in invalid() {
        let kind = path.parent().unwrap().file_name().unwrap().to_str().unwrap().to_owned();
        let name = path.file_name().unwrap().to_str().unwrap();
        let rendered = (sumpwright_report::TEXT.review)(&look(&path), &options);
        let page = pages.entry(kind).or_default();
        writeln!(page, "===== {name}\n{rendered}").unwrap();
    }
    for (kind, page) in pages {
        insta::assert_snapshot!(format!("broken_{kind}"), page);
    }
}
