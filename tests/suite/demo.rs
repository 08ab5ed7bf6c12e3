//! The demo world: the story holds, and the numbers agree with an independent column integration.

use crate::support::{Disk, measure, review};
use sumpwright_core::review::{PanMeasured, Review};
use sumpwright_core::verdict::Verdict;

const PANS: [&str; 4] = [
    "fixtures/pans/stock-stamped.yaml",
    "fixtures/pans/deep-cast.yaml",
    "fixtures/pans/low-finned.yaml",
    "fixtures/pans/drain-retrofit.yaml",
];

/// Rules that a pan does not conform to, sorted; an advisory counts with its word.
fn against(review: &Review, pan: &str) -> Vec<String> {
    let pan = review.pans.iter().find(|p| p.path == pan).expect("the pan was judged");
    pan.findings
        .iter()
        .filter(|f| !matches!(f.verdict, Verdict::Conforms | Verdict::NotApplicable))
        .map(|f| match f.verdict {
            Verdict::DoesNotConform => f.rule.clone(),
            other => format!("{} ({})", f.rule, other.words()),
        })
        .collect()
}

#[test]
fn the_story_of_the_four_pans_holds() {
    let review = review(&Disk::default(), &PANS);
    assert!(review.problems.is_empty(), "{:#?}", review.problems);
    assert_eq!(against(&review, PANS[0]), Vec::<String>::new());
    assert_eq!(
        against(&review, PANS[1]),
        [
            "drain.runs-onto-the-plate (advisory)",
            "drain.touched-first (advisory)",
            "oil.buried-below-the-inlet (advisory)",
            "pickup.away-from-baseline",
            "pickup.too-far-from-floor (advisory)",
            "skid.gap-lost (advisory)",
            "skid.struck"
        ]
    );
    assert_eq!(
        against(&review, PANS[2]),
        [
            "air.turns-over-sooner (advisory)",
            "fin.breaks-at-the-strike",
            "fin.root-too-thin",
            "oil.little-to-lose (advisory)",
            "oil.usable-lost (advisory)",
            "pickup.coverage-lost (advisory)",
            "pickup.draws-a-whirl (advisory)",
            "pickup.uncovered",
            "pickup.uncovers-soon-after (advisory)",
            "suction.below-limit (inconclusive)"
        ]
    );
    assert_eq!(
        against(&review, PANS[3]),
        ["drain.leaves-too-much", "drain.runs-onto-the-plate (advisory)"]
    );
}

/// The formulas against whirls lie 80 mm apart here: a finer level would not bring them to one side of the limit.
#[test]
fn what_measuring_better_cannot_settle_is_not_asked_for() {
    let stock = std::fs::read_to_string(crate::support::root().join(PANS[0])).unwrap();
    let bare = stock.replace("anti_vortex: cross", "anti_vortex: none");
    let review = review(&Disk { instead: vec![(PANS[0].to_owned(), bare)] }, &PANS[..1]);
    let whirl = |f: &&sumpwright_core::review::Finding| f.rule == "pickup.draws-a-whirl";
    let finding = review.pans[0].findings.iter().find(whirl).unwrap();
    assert_eq!(finding.verdict, Verdict::Inconclusive);
    assert!(finding.needs.is_empty(), "{:#?}", finding.needs);
    assert!(!finding.contributions.is_empty(), "what moves it is told all the same");
}

#[test]
fn each_pan_is_judged_alone_as_it_is_among_the_others() {
    let all = review(&Disk::default(), &PANS);
    for pan in PANS {
        let alone = review(&Disk::default(), &[pan]);
        assert_eq!(against(&alone, pan), against(&all, pan), "{pan}");
    }
}

fn value(pan: &PanMeasured, name: &str, object: Option<&str>) -> f64 {
    let reading = pan
        .measures
        .iter()
        .find(|m| m.spec.name == name && m.object.as_deref() == object)
        .unwrap_or_else(|| panic!("{name} is not read"));
    let bounds = reading.reading.as_ref().unwrap_or_else(|e| panic!("{name}: {}", e.reason)).bounds;
    bounds.value().unwrap_or_else(|| panic!("{name} is {bounds:?}"))
}

fn state(pan: &PanMeasured, name: &str, state: &str) -> f64 {
    let reading = pan.measures.iter().find(|m| m.spec.name == name).unwrap();
    reading
        .states
        .iter()
        .filter(|s| s.at.state == state)
        .map(|s| s.bounds.as_ref().unwrap().value().unwrap())
        .reduce(|a, b| if b < a { b } else { a })
        .unwrap_or_else(|| panic!("no state {state}"))
}

/// Figures of an independent column integration, good to about 0.2 mm and 0.02 L.
#[test]
fn the_numbers_agree_with_a_column_integration() {
    let measured = measure(&Disk::default(), &PANS);
    assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
    let pan = |index: usize| measured.pans.iter().find(|p| p.path == PANS[index]).unwrap();
    let (stock, deep, low, retrofit) = (pan(0), pan(1), pan(2), pan(3));
    let near = |what: &str, found: f64, meant: f64, by: f64| {
        assert!((found - meant).abs() <= by, "{what}: {found} is not {meant} within {by}");
    };
    for (what, pan, litres) in [("stock", stock, 4.50), ("deep", deep, 6.49), ("low", low, 2.75)] {
        near(what, value(pan, "oil.litres_at_check", None) * 1e3, litres, 0.02);
    }
    for (what, pan, litres) in [("stock", stock, 1.07), ("deep", deep, 1.43), ("low", low, -0.3)] {
        near(what, value(pan, "oil.usable_litres", None) * 1e3, litres, 0.03);
    }
    // "About": the reference does not say where on the rim it cut.
    for (what, pan, litres) in [("stock", stock, 0.6), ("deep", deep, 2.6), ("low", low, 0.5)] {
        near(what, value(pan, "oil.litres_below_inlet", None) * 1e3, litres, 0.1);
    }
    for (name, of) in [
        ("steep-climb", [23.0, 24.3, -8.5]),
        ("steep-descent", [49.0, 49.1, 21.8]),
        ("shelf-road", [40.1, 40.1, 16.9]),
        ("corner-of-a-climb", [29.2, 29.6, 2.4]),
        ("firm-stop", [51.8, 51.8, 25.0]),
        ("stop-downhill", [45.7, 45.8, 16.8]),
    ] {
        for (pan, meant) in [stock, deep, low].into_iter().zip(of) {
            near(name, state(pan, "pickup.rim_depth", name) * 1e3, meant, 0.25);
        }
    }
    for (pan, gap) in [(stock, 41.7), (deep, -7.7), (low, 42.7), (retrofit, 41.7)] {
        near("skid gap", value(pan, "skid.gap", None) * 1e3, gap, 0.2);
    }
    for (pan, gap) in [(stock, 12.0), (deep, 52.0), (low, 10.0), (retrofit, 12.0)] {
        near("floor gap", value(pan, "pickup.floor_gap", None) * 1e3, gap, 1e-9);
    }
    near("deep fin", value(deep, "fin.root_stress", Some("fins.keel")) / 1e6, 55.6, 0.05);
    near("low fin", value(low, "fin.root_stress", Some("fins.keel")) / 1e6, 495.0, 0.5);
    near("deep drain", value(deep, "drain.residual_share", Some("drains.plug")), 0.017, 0.001);
    near(
        "retrofit drain",
        value(retrofit, "drain.residual_share", Some("drains.welded")),
        0.34,
        0.003,
    );
    near("baffle", value(deep, "baffle.opening_area", Some("baffles.front")) * 1e6, 1763.88, 0.01);
}

/// Oil that nobody can place above the rail gives an interval, and both its ends are told.
#[test]
fn without_the_case_the_climb_is_an_interval() {
    let vehicle =
        crate::support::read(&crate::support::root().join("fixtures/vehicles/brindle.yaml"));
    let start = vehicle.find("case:").unwrap();
    let end = vehicle.find("rotating:").unwrap();
    let bare = format!("{}{}", &vehicle[..start], &vehicle[end..]);
    let disk = Disk { instead: vec![("fixtures/vehicles/brindle.yaml".to_owned(), bare)] };
    let measured = measure(&disk, &[PANS[0]]);
    assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
    let rim = measured.pans[0].measures.iter().find(|m| m.spec.name == "pickup.rim_depth").unwrap();
    let climb = rim.states.iter().find(|s| s.at.state == "steep-climb").unwrap();
    let bounds = climb.bounds.as_ref().unwrap();
    assert!((bounds.high * 1e3 - 64.7).abs() < 0.3, "{bounds:?}");
    assert!((bounds.low * 1e3 + 1.3).abs() < 0.3, "{bounds:?}");
    let descent = rim.states.iter().find(|s| s.at.state == "firm-stop").unwrap();
    assert!(descent.bounds.as_ref().unwrap().low <= descent.bounds.as_ref().unwrap().high);
}

/// The natural case for "what to measure next": the free share of the case is hardly known.
#[test]
fn an_unmeasured_free_share_makes_the_climb_inconclusive_and_is_named_first() {
    let vehicle =
        crate::support::read(&crate::support::root().join("fixtures/vehicles/brindle.yaml"));
    let vague = vehicle.replace("0.50 ± 0.05", "0.5 ± 0.4");
    assert_ne!(vague, vehicle);
    let disk = Disk { instead: vec![("fixtures/vehicles/brindle.yaml".to_owned(), vague)] };
    let review = review(&disk, &[PANS[0]]);
    let finding = review.pans[0].findings.iter().find(|f| f.rule == "pickup.uncovered").unwrap();
    assert_eq!(finding.verdict, Verdict::Inconclusive);
    assert_eq!(finding.needs[0].path, "vehicle.case.free_share");
    assert_eq!(finding.driver.as_ref().unwrap().path, "vehicle.case.free_share");
}

/// The deep pan refilled with the stock pan's oil uncovers on the climb.
#[test]
fn the_deep_pan_with_the_stock_fill_uncovers_on_the_climb() {
    let pan = crate::support::read(&crate::support::root().join(PANS[1]));
    let refilled = format!("{pan}\ncheck: {{ volume: 4.5 L, oil_at: 40 degC, engine: running }}\n");
    let disk = Disk { instead: vec![(PANS[1].to_owned(), refilled)] };
    let measured = measure(&disk, &[PANS[1]]);
    assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
    let climb = state(&measured.pans[0], "pickup.rim_depth", "steep-climb");
    assert!((climb * 1e3 + 8.8).abs() < 0.25, "{climb}");
}

// JCGM 100, 5.1.2: u² is the sum of the squares of what each independent input adds; a half-width a counts as a/√3
// (4.3.7). By hand for the deep pan's skid gap: plate 2 mm, floor 0.3 mm, sump 0.3 mm each with a sensitivity of 1 (the
// depths times cos 3°), stiffness 100 N/mm with 9000/600² mm per N/mm.
#[test]
fn the_uncertainty_of_the_skid_gap_is_the_root_of_the_sum_of_squares() {
    let measured = measure(&Disk::default(), &[PANS[1]]);
    let gap = measured.pans[0].measures.iter().find(|m| m.spec.name == "skid.gap").unwrap();
    let u = gap.reading.as_ref().unwrap().u_low * 1e3;
    let tilt = 3.0_f64.to_radians().cos();
    let parts = [2.0, 0.3 * tilt, 0.3 * tilt, 100.0 * 9000.0 / 360_000.0];
    let by_hand = parts.iter().map(|a| a * a / 3.0).sum::<f64>().sqrt();
    // Moving the stiffness both ways by its u bends 1/k: the central difference is larger by (u/k)² of itself.
    assert!((u - by_hand).abs() < 0.02, "{u} is not {by_hand}");
}
