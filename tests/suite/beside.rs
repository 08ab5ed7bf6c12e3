//! A pan beside its baseline: what is won and lost by the rules alone, with what both share cancelled; and several pans in
//! one table.

use crate::support::{Disk, review, rulebook};
use std::process::{Command, Output};
use sumpwright_core::compare::{
    BesideRequest, MeasureBeside, Outcome, PansCompared, Sides, Way, compare_pans,
};
use sumpwright_core::review::LimitSide;
use sumpwright_core::verdict::Verdict;
use sumpwright_report::{HTML, JSON, MARKDOWN, Options, TEXT};

const STOCK: &str = "fixtures/pans/stock-stamped.yaml";
const DEEP: &str = "fixtures/pans/deep-cast.yaml";
const LOW: &str = "fixtures/pans/low-finned.yaml";
const RETROFIT: &str = "fixtures/pans/drain-retrofit.yaml";
const PAGE: Options = Options { width: 100, colour: false, plain: false, all: false };

fn by(rulebook: &[(String, String)], disk: &Disk, pan: &str, baselines: &[&str]) -> PansCompared {
    let baselines: Vec<String> = baselines.iter().map(|p| (*p).to_owned()).collect();
    compare_pans(BesideRequest { files: disk, pan, baselines: &baselines, rulebook })
}

fn compared(pan: &str, baselines: &[&str]) -> PansCompared {
    by(&rulebook(), &Disk::default(), pan, baselines)
}

fn sides(compared: &PansCompared) -> &Sides {
    compared.sides.as_ref().unwrap_or_else(|| panic!("{:#?}", compared.problems))
}

fn measures(compared: &PansCompared) -> impl Iterator<Item = &MeasureBeside> {
    sides(compared).topics.iter().flat_map(|topic| &topic.measures)
}

fn measure<'c>(compared: &'c PansCompared, name: &str) -> &'c MeasureBeside {
    measures(compared).find(|one| one.spec.name == name).expect(name)
}

/// The demo's story, as the table in the docs has it: two litres more below the inlet, a skid struck.
#[test]
fn the_deep_pan_wins_cover_and_loses_the_skid_gap() {
    let found = compared(DEEP, &[]);
    for (name, outcome) in [
        ("skid.gap", Outcome::Lost),
        ("pickup.rim_depth", Outcome::Won),
        ("oil.usable_litres", Outcome::Won),
        ("oil.share_below_inlet", Outcome::Lost),
        ("pickup.floor_gap", Outcome::Differs),
    ] {
        assert_eq!(measure(&found, name).outcome, outcome, "{name}");
    }
    let verdict = |rule: &str| sides(&found).verdicts.iter().find(|one| one.rule == rule).unwrap();
    assert_eq!(verdict("skid.struck").here, Verdict::DoesNotConform);
    assert_eq!(verdict("skid.struck").there, [Verdict::Conforms]);
}

/// More litres and more depth are no merit in themselves: no rule asks for them, so nothing is said.
#[test]
fn litres_and_depth_are_neither_won_nor_lost() {
    for pan in [DEEP, LOW] {
        let found = compared(pan, &[]);
        for name in ["oil.litres_at_check", "interior.volume", "interior.deepest"] {
            let one = measure(&found, name);
            assert_eq!(
                (one.outcome, one.better.as_ref()),
                (Outcome::Differs, None),
                "{pan}: {name}"
            );
        }
    }
}

#[test]
fn nothing_is_won_or_lost_that_no_rule_asks_for() {
    for pan in [DEEP, LOW, RETROFIT] {
        for one in measures(&compared(pan, &[])) {
            let is_judged = matches!(one.outcome, Outcome::Won | Outcome::Lost);
            assert!(!is_judged || one.better.is_some(), "{pan}: {}", one.spec.name);
        }
        let without = by(&[], &Disk::default(), pan, &[]);
        assert_eq!(sides(&without).count(Outcome::Won) + sides(&without).count(Outcome::Lost), 0);
        assert!(sides(&without).count(Outcome::Differs) > 0);
    }
}

/// The retrofitted pan is the stock one with a drain and 0.2 kg more: every measure of the pan itself is alike to the last
/// bit that is computed, however unsure each of the two is.
#[test]
fn a_drain_alone_changes_nothing_but_the_drain_and_what_stands_near_it() {
    let found = compared(RETROFIT, &[]);
    for one in measures(&found) {
        let alike = matches!(one.outcome, Outcome::Same | Outcome::Unknown);
        let of_drain = one.spec.name.starts_with("drain.")
            || ["neighbour.gap", "heat.time_constant"].contains(&one.spec.name);
        assert!(alike || of_drain, "{}: {:?}", one.spec.name, one.outcome);
    }
    assert!(measure(&found, "pickup.rim_depth").here.as_ref().unwrap().u_low > 1e-3);
    assert!(measures(&found).any(|one| one.outcome == Outcome::OnlyHere));
}

/// Held against the sweep of a review, which has been held against closed forms: `pickup.away-from-baseline` limits the
/// same difference.
#[test]
fn a_difference_is_that_of_the_rule_which_limits_it() {
    for pan in [DEEP, LOW] {
        let found = compared(pan, &[]);
        let ours = measure(&found, "pickup.floor_gap").difference.clone().unwrap();
        let judged = review(&Disk::default(), &[pan]);
        let findings = &judged.pans[0].findings;
        let rule = findings.iter().find(|f| f.rule == "pickup.away-from-baseline").unwrap();
        assert_eq!(Some(ours), rule.reading, "{pan}");
    }
}

/// What both pans share (vehicle, check, temperature) moves both alike, so that the difference is known far better than
/// either; what each has of its own adds up.
#[test]
fn what_both_share_cancels_in_the_difference() {
    let found = compared(DEEP, &[]);
    let rim = measure(&found, "pickup.rim_depth");
    let u = |reading: &Result<sumpwright_core::review::Reading, _>| {
        reading.as_ref().ok().unwrap().u_low
    };
    assert!(u(&rim.difference) < u(&rim.here) / 4.0 && u(&rim.difference) < u(&rim.there) / 4.0);
    // Two floors, each with a gauge of its own and nothing in common: u adds in squares.
    let floor = measure(&found, "wall.floor_thickness");
    let sum = (u(&floor.here).powi(2) + u(&floor.there).powi(2)).sqrt();
    // 1e-9 mm: the half-steps of the sweep round at the last digits of millimetres.
    assert!((u(&floor.difference) - sum).abs() < 1e-12, "{} {sum}", u(&floor.difference));
}

#[test]
fn turned_round_what_was_won_is_lost() {
    let (one, other) = (compared(LOW, &[STOCK]), compared(STOCK, &[LOW]));
    let mut turned = 0;
    for here in measures(&one).filter(|m| m.object.is_none()) {
        let there = measure(&other, here.spec.name);
        // Its rule asks it only of a pan that holds as much as the other or more.
        let is_of_one = here.better.is_some() != there.better.is_some();
        if here.spec.name == "oil.usable_share" && is_of_one {
            continue;
        }
        let wanted = match here.outcome {
            Outcome::Won => Outcome::Lost,
            Outcome::Lost => Outcome::Won,
            Outcome::OnlyHere => Outcome::OnlyThere,
            Outcome::OnlyThere => Outcome::OnlyHere,
            same => same,
        };
        assert_eq!(there.outcome, wanted, "{}", here.spec.name);
        if let (Ok(a), Ok(b)) = (&here.difference, &there.difference) {
            // The same subtraction the other way; only a mean over one pan is between.
            assert!((a.bounds.low + b.bounds.high).abs() <= 0.0 || a.bounds.low.is_infinite());
        }
        turned += usize::from(here.outcome == Outcome::Lost);
    }
    assert!(turned > 5, "{turned}");
}

#[test]
fn several_baselines_are_their_mean() {
    let found = compared(STOCK, &[DEEP, LOW]);
    let gap = measure(&found, "pickup.floor_gap");
    // 52 mm and 10 mm, as the fixtures' depths have it.
    let mean = gap.there.as_ref().unwrap().bounds.value().unwrap();
    assert!((mean - 31e-3).abs() < 1e-12, "{mean}");
    assert!((gap.difference.as_ref().unwrap().bounds.low - (12e-3 - 31e-3)).abs() < 1e-12);
    assert_eq!(sides(&found).baselines.len(), 2);
    assert!(sides(&found).verdicts.iter().all(|one| one.there.len() == 2));
}

/// A rulebook of a rule a line.
fn book(rules: &str) -> Vec<(String, String)> {
    let rest = "title: T; because: B; source: common practice; force: shall";
    let mut text = "rulebook: 1\nrules:\n".to_owned();
    for (line, id) in rules.lines().zip(["a", "b"]) {
        text.push_str(&["  test.rule-", id, ":\n"].concat());
        for key in line.split("; ").chain(rest.split("; ")) {
            text.push_str(&["    ", key, "\n"].concat());
        }
    }
    vec![("tests/proofs/own.yaml".to_owned(), text)]
}

/// The low pan's inlet stands 10 mm off the floor, the stock one's 12 mm.
#[test]
fn the_rules_say_which_way_is_better() {
    let table: &[(&str, Option<Way>, Outcome)] = &[
        ("measure: pickup.floor_gap; at_least: 8 mm", Some(Way::More), Outcome::Lost),
        ("measure: pickup.floor_gap; at_most: 80 mm", Some(Way::Less), Outcome::Won),
        ("measure: pickup.floor_gap; within: [8 mm, 20 mm]", Some(Way::Band), Outcome::Differs),
        ("measure: pickup.floor_gap; within: [11 mm, 20 mm]", Some(Way::Band), Outcome::Lost),
        ("measure: pickup.floor_gap; within: [5 mm, 11 mm]", Some(Way::Band), Outcome::Won),
        (
            "measure: pickup.floor_gap; at_least: 8 mm\nmeasure: pickup.floor_gap; at_most: 9 mm",
            Some(Way::Band),
            Outcome::Won,
        ),
        (
            "measure: pickup.floor_gap / pickup.inlet_diameter; at_least: 0.1",
            None,
            Outcome::Differs,
        ),
        (
            "measure: pickup.floor_gap - baseline(pickup.floor_gap); at_least: 0 mm",
            None,
            Outcome::Differs,
        ),
        ("measure: pickup.rim_depth; at_least: 8 mm", None, Outcome::Differs),
        (
            "measure: pickup.floor_gap; at_least: 8 mm; when: not pickup is given",
            None,
            Outcome::Differs,
        ),
    ];
    for (rules, way, outcome) in table {
        let found = by(&book(rules), &Disk::default(), LOW, &[]);
        assert!(found.problems.is_empty(), "{rules}: {:#?}", found.problems);
        let gap = measure(&found, "pickup.floor_gap");
        assert_eq!(gap.better.as_ref().map(|better| better.way), *way, "{rules}");
        assert_eq!(gap.outcome, *outcome, "{rules}");
    }
}

/// The deep pan's inlet stands 52 mm off the floor, 40 mm more: against a limit of five of its own depths to the shelf, or
/// anything else that grows with the pan, more is not room won.
#[test]
fn more_against_a_limit_that_grew_as_well_is_not_called_won() {
    for (limit, outcome) in [
        ("8 mm", Outcome::Won),
        ("0.1 * interior.deepest", Outcome::Won),
        ("2 * interior.deepest", Outcome::Differs),
    ] {
        let rule = format!("measure: pickup.floor_gap; at_least: {limit}");
        let found = by(&book(&rule), &Disk::default(), DEEP, &[]);
        assert_eq!(measure(&found, "pickup.floor_gap").outcome, outcome, "{limit}");
    }
}

#[test]
fn a_difference_within_its_uncertainty_is_not_told_apart() {
    let deep = crate::support::read(&crate::support::root().join(DEEP));
    // 0.5 mm less of floor, with a half-width of 0.3 mm: u = 0.3/√3 = 0.173 mm here and none that is large there.
    for (floor, outcome) in
        [("1.9 ± 0.3 mm", Outcome::Won), ("1.7 ± 0.3 mm", Outcome::NotToldApart)]
    {
        let text = deep.replace("floor: 5.0 ± 0.3 mm", &format!("floor: {floor}"));
        assert_ne!(text, deep);
        let disk = Disk { instead: vec![(DEEP.to_owned(), text)] };
        let rule = book("measure: wall.floor_thickness; at_least: 1 mm");
        let found = by(&rule, &disk, DEEP, &[]);
        assert_eq!(measure(&found, "wall.floor_thickness").outcome, outcome, "{floor}");
    }
}

#[test]
fn topics_are_sorted_by_how_surely_their_measures_differ() {
    let found = compared(DEEP, &[]);
    for topic in &sides(&found).topics {
        let sure: Vec<f64> = topic
            .measures
            .iter()
            .filter(|one| matches!(one.outcome, Outcome::Won | Outcome::Lost | Outcome::Differs))
            .filter_map(|one| {
                let d = one.difference.as_ref().ok()?;
                let value = d.bounds.value()?;
                Some(value.abs() / d.u_low)
            })
            .collect();
        // Those that are multiples of one another are equally sure but for rounding.
        assert!(
            sure.windows(2).all(|pair| pair[0] * (1.0 + 1e-6) >= pair[1]),
            "{}: {sure:?}",
            topic.name
        );
    }
}

#[test]
fn what_cannot_be_compared_is_said_at_its_place() {
    let alone = compared(STOCK, &[]);
    assert!(alone.has_error() && alone.sides.is_none());
    assert_eq!(alone.sources.slice(alone.problems[0].primary.span), "pan");
    let itself = compared(DEEP, &[DEEP]);
    assert!(itself.problems[0].message.contains("itself"));
    let broken = compared("fixtures/documents/invalid/pan/several-at-once.yaml", &[STOCK]);
    assert!(broken.problems.len() > 1 && broken.sides.is_none());
}

#[test]
fn a_pan_beside_its_baseline_reads_well() {
    insta::assert_snapshot!(
        "beside_retrofit",
        (TEXT.pans_compared.unwrap())(&compared(RETROFIT, &[]), &PAGE)
    );
    let low = compared(LOW, &[]);
    insta::assert_snapshot!("beside_low", (TEXT.pans_compared.unwrap())(&low, &PAGE));
    insta::assert_snapshot!("beside_low_markdown", (MARKDOWN.pans_compared.unwrap())(&low, &PAGE));
    let page = (HTML.pans_compared.unwrap())(&low, &PAGE);
    assert!(page.contains("<h1>Low finned pan beside Stock stamped pan</h1>"));
    for one in measures(&low).filter(|one| one.outcome != Outcome::Unknown) {
        assert!(page.contains(one.spec.name), "{}", one.spec.name);
    }
}

#[test]
fn every_format_tells_the_same_outcomes() {
    let low = compared(LOW, &[]);
    let json: serde_json::Value =
        serde_json::from_str(&(JSON.pans_compared.unwrap())(&low, &PAGE)).unwrap();
    let listed = json["topics"].as_array().unwrap().iter();
    let listed: Vec<&serde_json::Value> =
        listed.flat_map(|topic| topic["measures"].as_array().unwrap()).collect();
    for outcome in Outcome::ALL {
        let count = listed.iter().filter(|one| one["outcome"] == outcome.words()).count();
        assert_eq!(count, sides(&low).count(outcome), "{}", outcome.words());
    }
    let again = (JSON.pans_compared.unwrap())(&compared(LOW, &[]), &PAGE);
    assert_eq!(again, (JSON.pans_compared.unwrap())(&low, &PAGE));
}

fn run(arguments: &[&str]) -> Output {
    let mut command = Command::new(env!("CARGO_BIN_EXE_sumpwright"));
    command.current_dir(crate::support::root()).env("LC_ALL", "C.UTF-8").args(arguments);
    command.output().unwrap()
}

#[test]
fn the_program_tells_pans_from_rulebooks_and_refuses_to_mix_them() {
    assert_eq!(run(&["compare", DEEP]).status.code(), Some(0));
    assert_eq!(run(&["compare", DEEP, STOCK, "--format", "html"]).status.code(), Some(0));
    assert_eq!(run(&["compare", "built-in", "tests/proofs/ours.yaml"]).status.code(), Some(0));
    for (arguments, words) in [
        (vec!["compare", DEEP, "built-in"], "is a pan"),
        (vec!["compare", DEEP, "rules"], "is a pan"),
        (vec!["compare", "no-such.yaml"], "no file"),
        (vec!["compare", DEEP, "--format", "sarif"], "for a review only"),
        (vec!["compare", DEEP, "--pans", STOCK], "--pans"),
        (vec!["compare", "built-in", "tests/proofs/ours.yaml", "--rules", "rules"], "--rules"),
        (vec!["compare", "built-in"], "found 1"),
    ] {
        let output = run(&arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let said = String::from_utf8(output.stderr).unwrap();
        assert!(said.contains(words), "{arguments:?}: {said}");
    }
    // A pan that is no YAML is told what is wrong with it as a pan.
    let broken = run(&["compare", "fixtures/documents/invalid/pan/tab-indentation.yaml"]);
    assert_eq!(broken.status.code(), Some(2));
    assert!(String::from_utf8(broken.stdout).unwrap().contains("a tab stands"));
}

#[test]
fn several_pans_open_with_a_table_of_what_is_not_met_everywhere() {
    let all = review(&Disk::default(), &[STOCK, DEEP, LOW, RETROFIT]);
    let text = (TEXT.review)(&all, &PAGE);
    let table: String = text
        .split("fixtures/pans/deep-cast.yaml · Deep cast pan\n  baseline")
        .next()
        .unwrap()
        .to_owned();
    insta::assert_snapshot!("across_pans", table);
    // Of a rule on several things the gravest; every rule that is told somewhere stands in the table.
    for finding in all.pans.iter().flat_map(|pan| &pan.findings) {
        let told = !matches!(finding.verdict, Verdict::Conforms | Verdict::NotApplicable);
        assert!(!told || table.contains(&finding.rule), "{}", finding.rule);
    }
    let every = (TEXT.review)(&all, &Options { all: true, ..PAGE });
    let head = every.split("\nmet: conforms").next().unwrap();
    for finding in &all.pans[0].findings {
        assert!(head.contains(&finding.rule), "{}", finding.rule);
    }
    let markdown = (MARKDOWN.review)(&all, &PAGE);
    assert!(
        markdown.contains("## Across the pans") && markdown.contains("| `skid.struck` | NOT MET |")
    );
    let html = (HTML.review)(&all, &PAGE);
    assert!(html.contains("Rules that are not met everywhere"));
    let one = review(&Disk::default(), &[LOW]);
    for format in [TEXT, MARKDOWN, HTML] {
        assert!(!(format.review)(&one, &PAGE).contains("Across the pans"), "{}", format.name);
    }
}

#[test]
fn the_table_keeps_to_the_width_of_the_page() {
    let all = review(&Disk::default(), &[STOCK, DEEP, LOW, RETROFIT]);
    for width in [40, 60, 80] {
        let text = (TEXT.review)(&all, &Options { width, all: true, ..PAGE });
        let table = text.split("\nmet: conforms").next().unwrap();
        let widest = table.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= width, "{width}: {widest}");
    }
}

#[test]
fn the_sides_of_a_limit_have_words_of_their_own() {
    // What is better is told by the side of the limit: at least, more; at most, less.
    let found = compared(DEEP, &[]);
    let judged = review(&Disk::default(), &[DEEP]);
    for finding in &judged.pans[0].findings {
        let Some(one) = measures(&found).find(|m| m.spec.name == finding.measure) else { continue };
        let (Some(better), [limit]) = (&one.better, finding.limits.as_slice()) else { continue };
        if better.by == [finding.rule.clone()] {
            let way = if limit.side == LimitSide::AtLeast { Way::More } else { Way::Less };
            assert_eq!(better.way, way, "{}", finding.rule);
        }
    }
}
