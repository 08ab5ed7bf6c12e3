//! Computed changes, held to what they say: written into the document, the rule conforms and nothing else turns.

use crate::support::{Disk, review, rulebook};
use sumpwright_core::remedy;
use sumpwright_core::review::{Change, Finding, Remedy, Request, Review};
use sumpwright_core::verdict::Verdict;

const LOW: &str = "fixtures/pans/low-finned.yaml";
const DEEP: &str = "fixtures/pans/deep-cast.yaml";

fn with_remedies(disk: &Disk, pan: &str) -> Review {
    remedy::review(Request {
        files: disk,
        pans: &[pan.to_owned()],
        rulebook: &rulebook(),
        drawn: false,
    })
}

fn written(review: &Review, change: &Change) -> String {
    assert_eq!(review.sources.slice(change.span), change.from);
    let mut text = review.sources.text(change.span.file).to_owned();
    text.replace_range(change.span.start as usize..change.span.end as usize, &change.to);
    text
}

fn findings<'a>(review: &'a Review, pan: &str) -> &'a [Finding] {
    assert!(review.problems.is_empty(), "{:#?}", review.problems);
    &review.pans.iter().find(|p| p.path == pan).expect("the pan was judged").findings
}

fn is_against(verdict: Verdict) -> bool {
    !matches!(verdict, Verdict::Conforms | Verdict::NotApplicable)
}

/// Writes every change that is told as standing alone into the pan, and judges it by the plain review.
fn holds(disk: &Disk, pan: &str) -> Vec<String> {
    let found = with_remedies(disk, pan);
    let before = findings(&found, pan);
    let mut done = Vec::new();
    for finding in before {
        let asked = matches!(finding.verdict, Verdict::DoesNotConform | Verdict::Advisory);
        assert_eq!(finding.computed.is_some(), asked, "{}", finding.rule);
        let Some(Remedy::Change(change)) = &finding.computed else { continue };
        let altered = Disk { instead: vec![(pan.to_owned(), written(&found, change))] };
        let after = review(&altered, &[pan]);
        for now in findings(&after, pan) {
            let was = before
                .iter()
                .find(|was| was.rule == now.rule && was.object == now.object)
                .expect("the same rules are judged");
            if now.rule == finding.rule && now.object == finding.object {
                assert_eq!(now.verdict, Verdict::Conforms, "{}: {change:?}", now.rule);
            } else if is_against(now.verdict) {
                assert!(is_against(was.verdict), "{change:?} turns {}", now.rule);
            }
        }
        done.push(format!("{}: {} {} -> {}", finding.rule, change.path, change.from, change.to));
    }
    done
}

#[test]
fn a_change_that_is_written_into_a_demo_pan_does_what_it_says() {
    let low = holds(&Disk::default(), LOW);
    let root = "fin.root-too-thin: fins.keel.root 2.5 -> 5.0";
    assert!(low.iter().any(|line| line == root), "{low:#?}");
    let deep = holds(&Disk::default(), DEEP);
    let inlet = "pickup.away-from-baseline: pickup.inlet.at.depth 66 -> ";
    assert!(deep.iter().any(|line| line.starts_with(inlet)), "{deep:#?}");
}

/// The same for pans that differ from those shipped: another fin and another inlet, each stated with a width.
#[test]
fn a_change_of_an_altered_pan_does_what_it_says() {
    let shipped = crate::support::read(&crate::support::root().join(LOW));
    for (from, to) in
        [("root: 2.5 mm", "root: 3.1 ± 0.2 mm"), ("depth: 44 ± 0.3 mm", "depth: 47.5 ± 0.4 mm")]
    {
        assert!(shipped.contains(from), "{from}");
        let disk = Disk { instead: vec![(LOW.to_owned(), shipped.replace(from, to))] };
        let done = holds(&disk, LOW);
        assert!(!done.is_empty(), "{to}: nothing was found to change");
    }
}

#[test]
fn a_plain_review_computes_no_change() {
    let found = review(&Disk::default(), &[LOW]);
    assert!(findings(&found, LOW).iter().all(|finding| finding.computed.is_none()));
}
