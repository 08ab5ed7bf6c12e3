//! A reviewer's remarks: kept beside the pan, they come out in the next review, and what no longer fits is said.

use crate::support::{Shelf, root};
use std::collections::BTreeMap;
use sumpwright_core::remark::{begun, path_of, remark};
use sumpwright_core::review::{Request, Review, review};
use sumpwright_core::source::Severity;

const PAN: &str = "fixtures/pans/low-finned.yaml";

const BOOK: &str = "rulebook: 1
rules:
  fin.breaks-at-the-strike:
    title: A fin's root bears the stated strike
    force: shall
    measure: fin.root_stress
    at_most: 110 MPa
    because: It breaks.
    source: common practice
  pickup.low:
    title: The inlet stands clear of the floor
    force: shall
    measure: pickup.floor_gap
    at_least: 2 mm
    because: It throttles.
    source: common practice
";

const REMARKS: &str = "remarks: 1
by: R. Tarn
on: 2026-11-20
findings:
  - rule: fin.breaks-at-the-strike
    object: fins.keel
    verdict: does not conform
    value: 495.0 MPa
    judgement: to be mended
    remark: The root has to be 5 mm at least.
";

fn with(remarks: Option<&str>) -> Review {
    let texts = remarks.map(|text| (path_of(PAN), text.as_bytes().to_vec()));
    let shelf = Shelf(texts.into_iter().collect::<BTreeMap<_, _>>());
    let rulebook = [("own.yaml".to_owned(), BOOK.to_owned())];
    let request = Request { files: &shelf, pans: &[PAN.into()], rulebook: &rulebook, drawn: false };
    remark(review(request), &shelf)
}

fn warned(review: &Review) -> Vec<(&'static str, String)> {
    assert!(review.problems.iter().all(|problem| problem.severity == Severity::Warning));
    let told = |p: &sumpwright_core::source::Diagnostic| (p.code.word(), p.message.clone());
    review.problems.iter().map(told).collect()
}

#[test]
fn a_remark_comes_out_with_its_finding_in_every_format() {
    let review = with(Some(REMARKS));
    let finding = &review.pans[0].findings[0];
    assert_eq!(finding.remarks.len(), 1, "{:#?}", review.problems);
    assert_eq!((finding.remarks[0].changed.as_deref(), warned(&review)), (None, vec![]));
    let options =
        sumpwright_report::Options { width: 100, colour: false, plain: false, all: false };
    for format in sumpwright_report::FORMATS {
        let text = (format.review)(&review, &options);
        for said in ["to be mended", "The root has to be 5 mm at least", "R. Tarn", "2026-11-20"] {
            assert!(text.contains(said), "{}: {said}", format.name);
        }
    }
}

#[test]
fn a_changed_value_or_verdict_is_said_and_the_remark_stays() {
    for (from, to, said) in [
        ("495.0 MPa", "480.0 MPa", "from 480.0 MPa to 495.0 MPa"),
        ("495.0 MPa", "495 mm", "the value of 495 mm is no more"),
        ("does not conform", "inconclusive", "from `inconclusive` to `does not conform`"),
    ] {
        let review = with(Some(&REMARKS.replace(from, to)));
        let finding = &review.pans[0].findings[0];
        assert!(finding.remarks[0].changed.as_ref().unwrap().contains(said), "{to}");
        let told = warned(&review);
        assert_eq!(told.len(), 1, "{told:?}");
        assert!(told[0].0 == "remark-outdated" && told[0].1.contains(said), "{told:?}");
    }
}

#[test]
fn a_remark_on_what_conforms_and_a_warning_stand_in_every_format() {
    let on_low = REMARKS
        .replace("fin.breaks-at-the-strike", "pickup.low")
        .replace("    object: fins.keel\n", "")
        .replace("495.0 MPa", "10 mm");
    let review = with(Some(&on_low));
    assert_eq!(warned(&review).len(), 1, "the verdict is another now");
    let options =
        sumpwright_report::Options { width: 100, colour: false, plain: false, all: false };
    for format in sumpwright_report::FORMATS {
        let text = (format.review)(&review, &options);
        assert!(text.contains("The root has to be 5 mm at least"), "{}", format.name);
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let said = "since this remark on pickup.low was made, the verdict has changed";
        assert!(text.contains(said), "{}: {said}", format.name);
    }
}

#[test]
fn a_remark_without_a_finding_is_said_with_what_may_be_meant() {
    for (from, to, help) in [
        ("fin.breaks-at-the-strike", "fin.breaks-at-strike", "`fin.breaks-at-the-strike`"),
        ("fins.keel", "fins.kel", "fins.keel"),
        ("    object: fins.keel\n", "", "fins.keel"),
    ] {
        let review = with(Some(&REMARKS.replace(from, to)));
        assert!(review.pans[0].findings.iter().all(|finding| finding.remarks.is_empty()), "{to}");
        assert_eq!(warned(&review).len(), 1, "{to}");
        assert!(review.problems[0].help.as_ref().unwrap().contains(help), "{to}");
    }
}

#[test]
fn a_file_to_complete_is_read_as_saying_nothing_and_completed_as_it_stands() {
    let text = begun(&with(None).pans[0]).unwrap();
    assert!(!text.contains("pickup.low"), "what conforms is not told:\n{text}");
    let review = with(Some(&text));
    assert_eq!(warned(&review), []);
    assert!(review.pans[0].findings.iter().all(|finding| finding.remarks.is_empty()));
    let completed =
        text.replace("by: none", "by: R. Tarn").replace("remark: none", "remark: Ask the founder.");
    let review = with(Some(&completed));
    assert_eq!((warned(&review), review.pans[0].findings[0].remarks.len()), (vec![], 1));
}

#[test]
fn the_shipped_pans_have_no_remarks() {
    assert!(!root().join(path_of(PAN)).exists());
    assert_eq!(path_of("a/b.yaml"), "a/b.remarks.yaml");
}
