//! Charts: which of them there are, what they draw, and what they say.

use super::*;
use sumpwright_core::coverage::{CoverageRay, DutyMark};
use sumpwright_core::measure::Bounds;
use sumpwright_core::source::{FileId, Span};

fn radians(degrees: f64) -> f64 {
    degrees / DEGREES
}

/// Rays that reach to 40 deg rearward and beyond all that is looked at elsewhere.
fn case(fill: FillCase, kelvin: f64, reach: f64) -> CoverageCase {
    let ray = |i: u32| {
        let azimuth = radians(f64::from(i) * 10.0);
        let is_rearward = (9..=27).contains(&i);
        let tilt = if is_rearward { radians(reach) } else { f64::INFINITY };
        let dry = if is_rearward { radians(reach + 9.0) } else { f64::INFINITY };
        CoverageRay { azimuth, to_floor: Bounds::exactly(tilt), to_dry: Bounds::exactly(dry) }
    };
    CoverageCase {
        fill,
        oil_temperature: kelvin,
        rays: (0..36).map(ray).collect(),
        least: radians(reach),
        least_azimuth: radians(180.0),
        on_the_ways: vec![Bounds::exactly(radians(reach)), Bounds::exactly(f64::INFINITY)],
        kept_apart: vec![Some(false); 2],
    }
}

fn mark(state: &str, at: u32, azimuth: f64, tilt: f64) -> DutyMark {
    let span = Span { file: FileId(0), start: at, end: at + 1 };
    DutyMark { state: state.to_owned(), span, azimuth: radians(azimuth), tilt: radians(tilt) }
}

fn map(cases: Vec<CoverageCase>, climb: f64) -> CoverageMap {
    let duty = vec![mark("steep-<climb>", 0, 180.0, climb), mark("descent", 5, 0.0, 30.0)];
    CoverageMap { cases, duty }
}

fn between(kelvin: f64) -> Vec<CoverageCase> {
    let fills = [(FillCase::Least, 38.0), (FillCase::Stated, 40.0), (FillCase::Most, 42.0)];
    fills.map(|(fill, reach)| case(fill, kelvin, reach)).into()
}

#[test]
fn there_is_a_chart_for_each_temperature() {
    let all = map([between(313.15), between(373.15)].concat(), 30.0);
    let found: Vec<(&str, bool)> =
        charts(&all).iter().map(|chart| (chart.name(), chart.between.is_some())).collect();
    assert_eq!(found, [("coverage-cold", true), ("coverage-hot", true)]);
    let one = map(vec![case(FillCase::Stated, 313.15, 40.0)], 30.0);
    assert_eq!(charts(&one).iter().map(Chart::name).collect::<Vec<_>>(), ["coverage"]);
}

#[test]
fn a_chart_is_drawn_with_names_as_text() {
    let all = map(between(313.15), 30.0);
    let drawn = inline(&charts(&all)[0], "c", "Low <pan>").into_string();
    assert!(!drawn.contains("<climb>") && !drawn.contains("<pan>"));
    insta::assert_snapshot!(drawn.replace("><", ">\n<"));
}

#[test]
fn a_state_beyond_the_line_is_crossed_and_said() {
    let all = map(between(313.15), 43.5);
    let chart = charts(&all)[0];
    let drawn = inline(&chart, "c", "Low pan").into_string();
    assert!(drawn.contains("state-cross"));
    assert!(drawn.contains("1 steep-&lt;climb&gt;: 43.5 deg, 3.5 deg too far"), "{drawn}");
    assert!(caption(&chart).contains("Beyond the line: steep-<climb>."));
}

/// The lines take all oil at one level: a state whose oil is kept from the inlet is crossed within them, and one of which
/// that is not known is called neither.
#[test]
fn oil_that_is_kept_from_the_inlet_covers_no_state() {
    let mut all = map(between(313.15), 30.0);
    all.cases[1].kept_apart = vec![Some(true), None];
    let chart = charts(&all)[0];
    let drawn = inline(&chart, "c", "Twin pan").into_string();
    assert_eq!(drawn.matches("state-cross").count(), 2, "in the chart and in its legend");
    assert!(drawn.contains("2 descent: 30.0 deg, not known what keeps oil apart"));
    assert!(caption(&chart).contains("a ridge or a baffle keeps oil apart: steep-<climb>."));
}

#[test]
fn what_nothing_uncovers_is_said_so() {
    let mut all = map(vec![case(FillCase::Stated, 313.15, 40.0)], 30.0);
    for ray in &mut all.cases[0].rays {
        (ray.to_floor, ray.to_dry) =
            (Bounds::exactly(f64::INFINITY), Bounds::exactly(f64::INFINITY));
    }
    all.cases[0].least = f64::INFINITY;
    all.cases[0].on_the_ways = vec![Bounds::exactly(f64::INFINITY); 2];
    let chart = charts(&all)[0];
    assert!(caption(&chart).contains("in every direction up to 80 deg, as far as is looked"));
    assert!(caption(&chart).contains("No state of the duty comes near the line."));
    let drawn = inline(&chart, "c", "Low pan").into_string();
    assert!(!drawn.contains("NaN") && !drawn.contains("inf"));
}
