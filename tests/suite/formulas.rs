//! The rule language from outside: rulebooks in, problems at their tokens or verdicts out.

use crate::support::{Disk, read, root};
use proptest::prelude::*;
use sumpwright_core::review::{Finding, Request, Review, review};
use sumpwright_core::verdict::Verdict;

/// A rulebook of one rule with these lines after its title.
fn book(lines: &str) -> String {
    format!(
        "rulebook: 1\nrules:\n  test.rule:\n    title: T\n    force: shall\n    because: B\n    source: common practice\n{}\n",
        lines.lines().map(|l| format!("    {l}")).collect::<Vec<_>>().join("\n")
    )
}

fn judged(text: String, pans: &[&str], disk: &Disk) -> Review {
    let pans: Vec<String> = pans.iter().map(|p| (*p).to_owned()).collect();
    review(Request {
        files: disk,
        pans: &pans,
        rulebook: &[("r.yaml".to_owned(), text)],
        drawn: false,
    })
}

/// What is wrong with a rule: code, the text it stands at, and the whole message with its help.
fn wrong(lines: &str) -> Vec<(String, String, String)> {
    let review = judged(book(lines), &[], &Disk::default());
    review
        .problems
        .iter()
        .map(|p| {
            let help = p.help.clone().unwrap_or_default();
            (
                p.code.word().to_owned(),
                review.sources.slice(p.primary.span).to_owned(),
                format!("{} | {help}", p.message),
            )
        })
        .collect()
}

fn limit(formula: &str) -> String {
    format!("measure: pickup.floor_gap\nat_least: \"{formula}\"")
}

fn when(condition: &str) -> String {
    format!("measure: pickup.floor_gap\nat_least: 8 mm\nwhen: \"{condition}\"")
}

#[test]
fn good_formulas_are_read() {
    for formula in [
        "8 mm",
        "-8 mm",
        "1/4 in",
        "8mm",
        "wall.floor_thickness",
        "-wall.floor_thickness",
        "2 * wall.floor_thickness + 1 mm",
        "(wall.floor_thickness + 1 mm) / 2",
        "min(8 mm, wall.floor_thickness, 3 * wall.side_thickness)",
        "max(3 mm, spread(pickup.floor_gap))",
        "abs(pickup.floor_gap - baseline(pickup.floor_gap))",
        "sqrt(pickup.inlet_area)",
        "pickup.inlet_area / pickup.floor_gap",
        "least(fin.root) + most(fin.root) + sum(fin.height)",
        "oil.litres_at_check / pickup.inlet_area",
        "8 mm ± 0",
    ] {
        let found = wrong(&limit(formula));
        // The last is no formula: numbers of a rule are exact.
        assert_eq!(found.is_empty(), formula != "8 mm ± 0", "{formula}: {found:?}");
    }
}

#[test]
fn every_slip_is_told_at_its_token() {
    for (formula, code, at, said) in [
        ("pickup.floor_gab", "unknown-name", "pickup.floor_gab", "pickup.floor_gap"),
        ("quite_else", "unknown-name", "quite_else", "no measure"),
        ("8", "wrong-formula-dimension", "8", "8 mm"),
        ("8 deg", "wrong-formula-dimension", "8 deg", "an angle"),
        ("8 mm + 2 L", "wrong-formula-dimension", "2 L", "a volume"),
        ("8 mm + 2", "wrong-formula-dimension", "2", "needs a unit"),
        ("sqrt(pickup.floor_gap)", "wrong-formula-dimension", "pickup.floor_gap", "even power"),
        ("8 mm -1 mm", "bad-formula", "-", "blank"),
        ("pickup.floor_gap-wall.floor_thickness", "bad-formula", "-", "write"),
        ("8 mm +", "bad-formula", "+", "missing"),
        ("(8 mm", "bad-formula", "(", "never closed"),
        ("8 mm)", "bad-formula", ")", "closes nothing"),
        ("min(8 mm)", "bad-formula", "min", "two arguments"),
        ("abs(8 mm, 9 mm)", "bad-formula", "abs", "one argument"),
        ("least(pickup.floor_gap)", "bad-formula", "pickup.floor_gap", "min(a, b)"),
        ("mean(pickup.floor_gap)", "unknown-name", "mean", "functions"),
        (
            "baseline(baseline(pickup.floor_gap))",
            "bad-formula",
            "baseline(pickup.floor_gap)",
            "not followed",
        ),
        ("max", "bad-formula", "max", "brackets"),
        ("8 mmm", "bad-formula", "mmm", "mm"),
        ("8 mm at least 3 mm", "bad-formula", "at", "when"),
        ("1e999 mm", "not-finite", "1e999", "large"),
    ] {
        let found = wrong(&limit(formula));
        assert_eq!(found.len(), 1, "{formula}: {found:?}");
        let (found_code, found_at, message) = &found[0];
        assert_eq!((found_code.as_str(), found_at.as_str()), (code, at), "{formula}: {message}");
        assert!(message.contains(said), "{formula}: {message}");
    }
}

#[test]
fn every_slip_of_a_condition_is_told_at_its_token() {
    for (condition, code, at, said) in [
        ("pikcup is given", "unknown-name", "pikcup", "pickup"),
        ("pickup.floor_gap is given", "unknown-name", "pickup.floor_gap", "measure"),
        ("pickup.floor_gap >= 8 mm", "bad-formula", ">=", "at least"),
        ("pickup.floor_gap < 8 mm", "bad-formula", "<", "at most"),
        ("pickup is given AND baffles is given", "bad-formula", "AND", "and"),
        ("pickup is given && baffles is given", "bad-formula", "&&", "and"),
        ("pickup is none", "bad-formula", "none", "not pickup is given"),
        ("pickup.floor_gap", "bad-formula", "pickup.floor_gap", "compared with nothing"),
        ("pickup.floor_gap at least 2 L", "wrong-formula-dimension", "2 L", "a volume"),
        ("not not pickup is given", "bad-formula", "not", "twice"),
        ("wall.floor is thick", "bad-formula", "thick", "quantity"),
    ] {
        let found = wrong(&when(condition));
        assert_eq!(found.len(), 1, "{condition}: {found:?}");
        let (found_code, found_at, message) = &found[0];
        assert_eq!((found_code.as_str(), found_at.as_str()), (code, at), "{condition}: {message}");
        assert!(message.contains(said), "{condition}: {message}");
    }
}

#[test]
fn two_kinds_of_object_are_refused_unless_one_is_brought_to_a_single_reading() {
    let found = wrong("measure: fin.root\nat_least: baffle.opening_area / 1 m");
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!((found[0].0.as_str(), found[0].1.as_str()), ("two-kinds", "baffle.opening_area"));
    assert!(wrong("measure: fin.root\nat_least: least(baffle.opening_area) / 1 m").is_empty());
}

#[test]
fn limits_on_length_and_depth_name_limit_and_actual() {
    let long = format!("8 mm{}", " + 1 mm".repeat(600));
    let found = wrong(&limit(&long));
    assert_eq!(found[0].0, "limit-reached", "{found:?}");
    assert!(
        found[0].2.contains("4096") && found[0].2.contains(&long.len().to_string()),
        "{found:?}"
    );
    let deep = format!("{}8 mm{}", "(".repeat(65), ")".repeat(65));
    let found = wrong(&limit(&deep));
    assert_eq!(found[0].0, "limit-reached", "{found:?}");
    assert!(found[0].2.contains("64") && found[0].2.contains("65"), "{found:?}");
    assert!(wrong(&limit(&format!("{}8 mm{}", "(".repeat(64), ")".repeat(64)))).is_empty());
}

#[test]
fn one_id_in_two_files_is_told_with_both_places() {
    let text = book(&limit("8 mm"));
    let files = [("a.yaml".to_owned(), text.clone()), ("b.yaml".to_owned(), text)];
    let review =
        review(Request { files: &Disk::default(), pans: &[], rulebook: &files, drawn: false });
    assert_eq!(review.problems.len(), 1, "{:?}", review.problems);
    let problem = &review.problems[0];
    assert_eq!(problem.code.word(), "duplicate-rule");
    assert_eq!(review.sources.place(problem.primary.span).path, "b.yaml");
    assert_eq!(review.sources.place(problem.others[0].span).path, "a.yaml");
}

#[test]
fn pins_and_cases_are_checked_for_their_form() {
    let with = |more: &str| wrong(&format!("{}\n{more}", limit("8 mm")));
    for good in ["pin: 0.1 mm", "pin: 1 %", "pin: { 8 mm: 0.1 mm }"] {
        assert!(with(good).is_empty(), "{good}: {:?}", with(good));
    }
    for (bad, code, at) in [
        ("pin: 0.1 deg", "bad-rule", "0.1 deg"),
        ("pin: 0 mm", "bad-rule", "0 mm"),
        ("pin: { 9 mm: 0.1 mm }", "bad-rule", "9 mm"),
        ("cases: [{ fixture: f, expect: advisory }]", "bad-case", "advisory"),
        ("cases: [{ fixture: f, set: { a..b: 1 mm }, expect: conforms }]", "bad-case", "a..b"),
        ("cases: [{ fixture: f, set: { a: 1 mm }, drop: a, expect: conforms }]", "bad-case", "a"),
        ("cases: [{ fixture: f, expect: maybe }]", "unknown-word", "maybe"),
    ] {
        let found = with(bad);
        assert_eq!(found.len(), 1, "{bad}: {found:?}");
        assert_eq!((found[0].0.as_str(), found[0].1.as_str()), (code, at), "{bad}: {found:?}");
    }
}

const STOCK: &str = "fixtures/pans/stock-stamped.yaml";

/// The finding of a one-rule book on the stock pan, with lines of its text replaced.
fn on_stock(lines: &str, changes: &[(&str, &str)]) -> Finding {
    let mut text = read(&root().join(STOCK));
    for (from, to) in changes {
        assert!(text.contains(from), "{from} is not in the fixture");
        text = text.replace(from, to);
    }
    let disk = Disk { instead: vec![(STOCK.to_owned(), text)] };
    let review = judged(book(lines), &[STOCK], &disk);
    assert!(review.problems.is_empty(), "{:#?}", review.problems);
    review.pans[0].findings[0].clone()
}

/// true, false and unknown, as the stock pan's families: pickup is stated, drains are `none`, fins are left out.
#[test]
fn conditions_have_three_truths() {
    let (t, f, u) = ("pickup is given", "drains is given", "fins is given");
    let (yes, no, open) = (Verdict::Conforms, Verdict::NotApplicable, Verdict::Inconclusive);
    for (condition, meant) in [
        (t.to_owned(), yes),
        (f.to_owned(), no),
        (u.to_owned(), open),
        (format!("not {t}"), no),
        (format!("not {f}"), yes),
        (format!("not {u}"), open),
        (format!("{t} and {t}"), yes),
        (format!("{t} and {f}"), no),
        (format!("{t} and {u}"), open),
        (format!("{f} and {u}"), no),
        (format!("{u} and {f}"), no),
        (format!("{u} and {u}"), open),
        (format!("{t} or {u}"), yes),
        (format!("{u} or {t}"), yes),
        (format!("{f} or {u}"), open),
        (format!("{f} or {f}"), no),
        (format!("{f} and {t} or {t}"), yes),
        (format!("{f} and ({t} or {t})"), no),
        (format!("not ({f} or {u})"), open),
        ("pickup.inlet.facing is down".to_owned(), yes),
        ("pickup.inlet.facing is up".to_owned(), no),
        ("pickup.floor_gap at least 11.9 mm and pickup.floor_gap at most 12.1 mm".to_owned(), yes),
        ("pickup.floor_gap at least 13 mm".to_owned(), no),
        ("least(fin.root) at least 1 mm".to_owned(), open),
        ("baseline is given".to_owned(), no),
        ("vehicle.skid is given".to_owned(), yes),
        ("duty.strike is given".to_owned(), yes),
    ] {
        let lines = format!("measure: wall.floor_thickness\nat_least: 1 mm\nwhen: \"{condition}\"");
        let finding = on_stock(&lines, &[("fins: none\n", ""), ("floor: 1.6", "floor: 9.0")]);
        assert_eq!(finding.verdict, meant, "{condition}: {}", finding.reason);
        if meant == Verdict::Inconclusive {
            assert!(
                finding.needs.iter().any(|n| n.path == "fins"),
                "{condition}: {:?}",
                finding.needs
            );
        }
    }
}

#[test]
fn the_decision_rule_of_a_rule_wins_over_that_of_the_book() {
    // The gap is 12 mm with u = 0.3/√3 twice over in the fixture, so 11.9 is inside the guard band.
    let lines =
        |decision: &str| format!("measure: pickup.floor_gap\nat_least: 11.9 mm\n{decision}");
    let verdict = |decision: &str| on_stock(&lines(decision), &[]).verdict;
    assert_eq!(verdict(""), Verdict::Inconclusive);
    assert_eq!(verdict("decision: simple"), Verdict::Conforms);
    assert_eq!(verdict("decision: { probability: 55 % }"), Verdict::Conforms);
    assert_eq!(verdict("decision: { probability: 95 % }"), Verdict::Inconclusive);
}

#[test]
fn what_measure_and_limit_share_cancels() {
    // The same measure on both sides: no uncertainty is left, however large that of each.
    let finding = on_stock("measure: pickup.floor_gap\nat_least: pickup.floor_gap", &[]);
    assert_eq!(finding.verdict, Verdict::Conforms);
    assert!(finding.reading.unwrap().u_low > 1e-4);
    assert!(finding.limits[0].margin.unwrap().u_low < 1e-15);
}

#[test]
fn a_baseline_is_the_mean_and_a_spread_half_the_range_from_three_on() {
    let retrofit = "fixtures/pans/drain-retrofit.yaml";
    let with = |baselines: &str, measure: &str| {
        let text = read(&root().join(retrofit));
        let text = text.replace("baseline: stock-stamped.yaml", &format!("baseline: {baselines}"));
        let disk = Disk { instead: vec![(retrofit.to_owned(), text)] };
        let lines = format!("measure: {measure}\nat_least: -9 m");
        let review = judged(book(&lines), &[retrofit], &disk);
        assert!(review.problems.is_empty(), "{:#?}", review.problems);
        let finding = review.pans[0].findings[0].clone();
        finding.reading.map(|r| r.bounds.low * 1e3).ok_or(finding.reason)
    };
    let close = |found: Result<f64, String>, meant: f64| {
        let found = found.unwrap();
        assert!((found - meant).abs() < 1e-9, "{found} is not {meant}");
    };
    // Floor gaps: stock 12, low finned 10, deep cast 52 mm.
    let three = "[stock-stamped.yaml, low-finned.yaml, deep-cast.yaml]";
    close(with("stock-stamped.yaml", "baseline(pickup.floor_gap)"), 12.0);
    close(with(three, "baseline(pickup.floor_gap)"), 74.0 / 3.0);
    close(with(three, "spread(pickup.floor_gap)"), 21.0);
    close(with("[stock-stamped.yaml, deep-cast.yaml]", "spread(pickup.floor_gap)"), 0.0);
    assert!(with("none", "baseline(pickup.floor_gap)").unwrap_err().contains("no baseline"));
    // The stock pan says that it has no drain of that name.
    assert!(with("stock-stamped.yaml", "baseline(fin.height)").is_err());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_formula_upsets_the_reader(text in "[a-z0-9 ().,+*/<>=&%_µ°-]{0,60}") {
        for lines in [limit(&text), when(&text)] {
            for (_, at, _) in wrong(&lines) {
                prop_assert!(at.len() <= 400);
            }
        }
    }

    // Interval arithmetic seen from outside: a formula of exact readings is an exact reading, by ordinary arithmetic.
    #[test]
    fn arithmetic_is_arithmetic(a in 0.5f64..50.0, b in 0.5f64..50.0, c in 0.5f64..50.0) {
        let formula = format!("({a:?} mm + {b:?} mm) * {c:?} - min({a:?} mm, {b:?} mm) / {c:?}");
        let finding = on_stock(&format!("measure: \"{formula} + 0 * pickup.floor_gap\"\nat_least: -9 km"), &[]);
        let meant = ((a + b) * c - if a < b { a } else { b } / c) * 1e-3;
        let found = finding.reading.unwrap().bounds;
        prop_assert!((found.low - meant).abs() <= 1e-12 * (meant.abs() + 1.0));
        prop_assert!((found.high - meant).abs() <= 1e-12 * (meant.abs() + 1.0));
    }
}
