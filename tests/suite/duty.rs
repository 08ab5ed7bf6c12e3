//! Swept states of the duty, end to end.

use crate::support::{Disk, measure, read, root};
use sumpwright_core::review::{MeasureReading, Measured};

const STOCK: &str = "fixtures/pans/stock-stamped.yaml";
const DUTY: &str = "fixtures/duties/rock-trail.yaml";

fn with_states(states: &str) -> Measured {
    let text = read(&root().join(DUTY));
    let start = text.find("states:").unwrap();
    let end = text.find("strike:").unwrap();
    let text = format!("{}states:\n{states}\n{}", &text[..start], &text[end..]);
    let disk = Disk { instead: vec![(DUTY.to_owned(), text)] };
    let measured = measure(&disk, &[STOCK]);
    assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
    measured
}

fn rim(measured: &Measured) -> &MeasureReading {
    measured.pans[0].measures.iter().find(|m| m.spec.name == "pickup.rim_depth").unwrap()
}

#[test]
fn a_swept_state_reads_as_its_points_written_one_by_one() {
    let swept = with_states("  climb: { climb: { from: 10 deg, to: 30 deg, steps: 5 } }");
    let state = |a: i32| format!("  at-{a}: {{ climb: {a} deg }}\n");
    let singly = with_states(&[10, 15, 20, 25, 30].map(state).concat());
    let (swept, singly) = (rim(&swept), rim(&singly));
    let value = |m: &MeasureReading| m.reading.as_ref().unwrap().bounds.low;
    assert!((value(swept) - value(singly)).abs() <= 0.0);
    let worst = swept.worst.as_ref().unwrap();
    assert_eq!((worst.state.as_str(), worst.point.as_deref()), ("climb", Some("climb 30 deg")));
    assert_eq!(singly.worst.as_ref().unwrap().state, "at-30");
    // One line a state and temperature, however many points.
    assert_eq!(swept.states.len(), 2);
}

#[test]
fn the_worst_point_of_two_ranges_is_named_with_both_values() {
    let measured = with_states(
        "  crawl: { climb: { from: 0 deg, to: 20 deg, steps: 3 }, side_slope: { from: 5 deg, to: 15 deg, steps: 3 }, high: left }",
    );
    let worst = rim(&measured).worst.clone().unwrap();
    assert_eq!(worst.words(), "crawl at climb 20 deg, side slope 15 deg");
}

#[test]
fn a_point_that_cannot_be_judged_leaves_a_bound() {
    // Three first-mode periods at these depths are some 3 s: harder braking does not shorten what lasts 1 s.
    let measured = with_states(
        "  stop: { braking: { from: 0.2 gn, to: 0.6 gn, steps: 3 }, lasts: 1 s }\n  climb: { climb: 10 deg }",
    );
    let rim = rim(&measured);
    assert!(rim.reading.as_ref().unwrap().bounds.low.is_infinite());
    assert!(
        rim.notes.iter().any(|note| note.contains("stop at braking 0.2 gn")),
        "{:?}",
        rim.notes
    );
}
