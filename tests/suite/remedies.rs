//! Computed changes, held to what they say: written into the document, the rule conforms and nothing else turns.

use crate::support::{Disk, review, rulebook};
use proptest::prelude::*;
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

/// By how much a breach misses its limit, and how surely; nothing where there is none.
fn missed(finding: &Finding) -> (f64, f64) {
    if !matches!(finding.verdict, Verdict::DoesNotConform | Verdict::Advisory) {
        return (0.0, f64::INFINITY);
    }
    let margins = finding.limits.iter().filter_map(|limit| limit.margin);
    margins
        .map(|m| (-m.bounds.high, m.u_high))
        .fold((0.0, 0.0), |a, b| if b.0 > a.0 { b } else { a })
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
                let (was, now) = (missed(was), missed(now));
                assert!(
                    now.0 - was.0 <= now.1.max(1e-9 * was.0),
                    "{change:?} worsens {was:?} {now:?}"
                );
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

/// A sump that juts out under the rail on both sides would cover the low pan's inlet, and no one can bolt it on.
#[test]
fn no_change_makes_a_pan_wider_than_its_rail() {
    let found = with_remedies(&Disk::default(), LOW);
    let told = findings(&found, LOW).iter().flat_map(|finding| match &finding.computed {
        Some(Remedy::Change(change)) => vec![change],
        Some(Remedy::AtACost(all)) => all.iter().map(|costly| &costly.change).collect(),
        _ => Vec::new(),
    });
    let told: Vec<&Change> = told.collect();
    assert!(told.iter().any(|change| change.path == "fins.keel.root"));
    for change in told.iter().filter(|change| change.path.contains(".outline.")) {
        let wide: f64 = change.to.parse().unwrap();
        assert!(wide <= 412.0, "{change:?}");
    }
}

/// A plug that hangs too low is no shorter for it in a thread that is too short already: that would be said to cost
/// nothing, and would be torn out.
#[test]
fn no_change_makes_worse_what_is_bad_already() {
    let drain = "at: { x: -88 mm, y: 0 mm, depth: 108 mm }, axis: rear, engaged: 18 mm";
    let below = "at: { x: 20 mm, y: 95 mm, depth: 118 mm }, axis: down, engaged: 12 mm";
    let shipped = crate::support::read(&crate::support::root().join(DEEP));
    assert!(shipped.contains(drain));
    let disk = Disk { instead: vec![(DEEP.to_owned(), shipped.replace(drain, below))] };
    let found = with_remedies(&disk, DEEP);
    let of = |rule: &str| findings(&found, DEEP).iter().find(|one| one.rule == rule).unwrap();
    assert_eq!(of("drain.thread-too-short").verdict, Verdict::Advisory);
    assert_eq!(of("drain.hangs-lowest").verdict, Verdict::DoesNotConform);
    if let Some(Remedy::Change(change)) = &of("drain.hangs-lowest").computed {
        assert_ne!(change.path, "drains.plug.engaged", "{change:?}");
    }
    let Some(Remedy::AtACost(all)) = &of("drain.thread-too-short").computed else {
        panic!("{:?}", of("drain.thread-too-short").computed);
    };
    let cost = "drain.hangs-lowest · drains.plug (does not conform, and farther from its limit)";
    assert!(all[0].turned.iter().any(|one| one == cost), "{all:?}");
    holds(&disk, DEEP);
}

#[test]
fn a_plain_review_computes_no_change() {
    let found = review(&Disk::default(), &[LOW]);
    assert!(findings(&found, LOW).iter().all(|finding| finding.computed.is_none()));
}

/// What is drawn anew in a demo pan: what stands there, from where to where, in millimetres or newton metres.
type Drawn = (&'static str, f64, f64);

const IN_LOW: (&str, &[Drawn]) = (
    LOW,
    &[
        ("depth: 44", 36.0, 50.0),
        ("x: 25", 0.0, 60.0),
        ("root: 2.5", 1.5, 7.0),
        ("height: 22", 6.0, 26.0),
        ("floor: 4.5", 2.0, 6.0),
        ("torque: 10", 3.0, 16.0),
        ("clamped: 2.2", 1.8, 2.5),
    ],
);
const IN_DEEP: (&str, &[Drawn]) = (
    DEEP,
    &[
        ("depth: 66", 55.0, 112.0),
        ("x: 25", 0.0, 60.0),
        ("height: 8", 4.0, 26.0),
        ("engaged: 18", 3.0, 20.0),
        ("boss: 26", 16.0, 34.0),
        ("slot: [66", 20.0, 90.0),
        ("pitch: 84", 60.0, 220.0),
    ],
);
const IN_RETROFIT: (&str, &[Drawn]) = (
    "fixtures/pans/drain-retrofit.yaml",
    &[
        ("depth: 66", 44.0, 74.0),
        ("engaged: 15", 3.0, 18.0),
        ("boss: 24", 16.0, 40.0),
        ("torque: 5", 1.0, 14.0),
        ("hole: 7", 6.1, 7.5),
        ("bore: 28", 12.0, 32.0),
        ("length: 160", 80.0, 900.0),
    ],
);

proptest! {
    // Each judges a pan some twenty times.
    #![proptest_config(ProptestConfig { cases: 9, max_shrink_iters: 0, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_change_of_a_random_pan_does_what_it_says(
        which in 0usize..3,
        shares in prop::array::uniform7(0.0f64..1.0),
    ) {
        let (pan, drawn) = [IN_LOW, IN_DEEP, IN_RETROFIT][which];
        let mut text = crate::support::read(&crate::support::root().join(pan));
        for ((from, low, high), share) in drawn.iter().zip(shares) {
            prop_assert!(text.contains(from), "{from}");
            let (key, _) = from.rsplit_once([' ', '[']).unwrap();
            let gap = &from[key.len()..=key.len()];
            text = text.replacen(from, &format!("{key}{gap}{:.1}", low + share * (high - low)), 1);
        }
        let disk = Disk { instead: vec![(pan.to_owned(), text)] };
        // What does not fit together is no pan.
        prop_assume!(review(&disk, &[pan]).problems.is_empty());
        holds(&disk, pan);
    }
}
