//! Two rulebooks held beside each other: what asks more or less is computed, and what cannot be is not guessed.

use crate::support::{Disk, read, root};
use sumpwright_core::compare::{CompareRequest, Comparison, RuleFate, compare};
use sumpwright_core::rule::Strictness;
use sumpwright_report::{HTML, JSON, Options, TEXT};

const PANS: [&str; 2] = ["fixtures/pans/drain-retrofit.yaml", "fixtures/pans/stock-stamped.yaml"];
const PAGE: Options = Options { width: 100, colour: false, plain: false, all: false };

fn compared(old: &str, new: &str, pans: &[&str]) -> Comparison {
    let pans: Vec<String> = pans.iter().map(|p| (*p).to_owned()).collect();
    compare(CompareRequest {
        files: &Disk::default(),
        names: ["old.yaml", "new.yaml"],
        old: &[("tests/proofs/old.yaml".to_owned(), old.to_owned())],
        new: &[("tests/proofs/new.yaml".to_owned(), new.to_owned())],
        pans: &pans,
    })
}

/// A rulebook of one rule with these lines after its title.
fn book(lines: &str) -> String {
    let lines: Vec<String> = lines.split("; ").map(|line| format!("    {line}")).collect();
    format!(
        "rulebook: 1\nrules:\n  test.rule:\n    title: T\n    because: B\n    source: common practice\n{}\n",
        lines.join("\n")
    )
}

/// What the second asks beside the first.
fn strictness(old: &str, new: &str) -> Strictness {
    let found = compared(&book(old), &book(new), &[]);
    assert!(found.problems.is_empty(), "{old} / {new}: {:#?}", found.problems);
    match found.rules[0].fate {
        RuleFate::Kept(strictness) => strictness,
        other => panic!("{other:?}"),
    }
}

fn turned(strictness: Strictness) -> Strictness {
    match strictness {
        Strictness::Stricter => Strictness::Looser,
        Strictness::Looser => Strictness::Stricter,
        other => other,
    }
}

const GAP: &str = "force: shall; measure: pickup.floor_gap";
const AREA: &str = "force: shall; measure: baffle.opening_area";
const LITRES: &str = "force: shall; measure: oil.usable_litres";

/// What is measured, an old limit, a new one, and what the new one asks.
const TABLE: &[(&str, &str, &str, Strictness)] = &[
    (GAP, "at_least: 8 mm", "at_least: 8 mm", Strictness::Same),
    (GAP, "at_least: 8 mm", "at_least: 0.8 cm", Strictness::Same),
    (GAP, "at_least: 8 mm", "at_least: 9 mm", Strictness::Stricter),
    (GAP, "at_most: 8 mm", "at_most: 9 mm", Strictness::Looser),
    (GAP, "at_least: -3 mm", "at_least: -4 mm", Strictness::Looser),
    (GAP, "within: [8 mm, 20 mm]", "within: [9 mm, 19 mm]", Strictness::Stricter),
    (GAP, "within: [8 mm, 20 mm]", "within: [9 mm, 20 mm]", Strictness::Stricter),
    (GAP, "within: [8 mm, 20 mm]", "within: [9 mm, 21 mm]", Strictness::Incomparable),
    (GAP, "within: [8 mm, 20 mm]", "at_least: 8 mm", Strictness::Looser),
    (GAP, "at_least: 8 mm", "at_most: 8 mm", Strictness::Incomparable),
    // Formulas that differ in constants.
    (
        GAP,
        "at_least: baseline(pickup.floor_gap) - 3 mm",
        "at_least: baseline(pickup.floor_gap) - 2 mm",
        Strictness::Stricter,
    ),
    (
        GAP,
        "at_least: -max(3 mm, spread(pickup.floor_gap))",
        "at_least: -max(2 mm, spread(pickup.floor_gap))",
        Strictness::Stricter,
    ),
    (
        GAP,
        "at_most: min(9 mm, wall.floor_thickness)",
        "at_most: min(8 mm, wall.floor_thickness)",
        Strictness::Stricter,
    ),
    (
        AREA,
        "at_least: 2 * pickup.inlet_area",
        "at_least: 2.5 * pickup.inlet_area",
        Strictness::Stricter,
    ),
    (AREA, "at_most: pickup.inlet_area * 4", "at_most: pickup.inlet_area * 5", Strictness::Looser),
    (
        AREA,
        "at_least: pickup.inlet_area / 2",
        "at_least: pickup.inlet_area / 3",
        Strictness::Looser,
    ),
    (
        GAP,
        "at_least: sqrt(4 * pickup.inlet_area)",
        "at_least: sqrt(5 * pickup.inlet_area)",
        Strictness::Stricter,
    ),
    // A factor whose sign is not known: usable litres can be less than none.
    (
        LITRES,
        "at_least: 2 * oil.usable_litres",
        "at_least: 3 * oil.usable_litres",
        Strictness::Incomparable,
    ),
    (GAP, "at_least: 8 mm", "at_least: wall.floor_thickness", Strictness::Incomparable),
    (
        GAP,
        "at_least: 8 mm - 2 * pickup.rim_depth",
        "at_least: 8 mm - 3 * pickup.rim_depth",
        Strictness::Incomparable,
    ),
    (
        GAP,
        "at_least: 2 mm - 2 * wall.floor_thickness",
        "at_least: 3 mm - 1.5 * wall.floor_thickness",
        Strictness::Stricter,
    ),
    (
        GAP,
        "at_least: 2 mm + 2 * wall.floor_thickness",
        "at_least: 3 mm + 1.5 * wall.floor_thickness",
        Strictness::Incomparable,
    ),
    // Conditions: a rule that applies more often asks more.
    (GAP, "at_least: 8 mm", "at_least: 8 mm; when: pickup is given", Strictness::Looser),
    (
        GAP,
        "at_least: 8 mm; when: pickup is given",
        "at_least: 8 mm; when: pickup is given or drains is given",
        Strictness::Stricter,
    ),
    (
        GAP,
        "at_least: 8 mm; when: pickup is given",
        "at_least: 8 mm; when: drains is given",
        Strictness::Incomparable,
    ),
    (
        GAP,
        "at_least: 8 mm; when: pickup is given and drains is given",
        "at_least: 8 mm; when: drains is given and pickup is given",
        Strictness::Same,
    ),
    (
        GAP,
        "at_least: 8 mm; when: not (pickup is given and drains is given)",
        "at_least: 8 mm; when: not pickup is given or not drains is given",
        Strictness::Same,
    ),
    (
        GAP,
        "at_least: 8 mm; when: pickup is given",
        "at_least: 9 mm; when: pickup is given and drains is given",
        Strictness::Incomparable,
    ),
    // How it is decided.
    (GAP, "at_least: 8 mm", "at_least: 8 mm; decision: simple", Strictness::Looser),
    (
        GAP,
        "at_least: 8 mm",
        "at_least: 8 mm; decision: { probability: 99 % }",
        Strictness::Stricter,
    ),
    (GAP, "at_least: 8 mm", "at_least: 8 mm; decision: { probability: 80 % }", Strictness::Looser),
    (
        GAP,
        "within: [8 mm, 9 mm]",
        "within: [8 mm, 9 mm]; decision: { probability: 95 % }",
        Strictness::Stricter,
    ),
    (
        GAP,
        "within: [8 mm, 9 mm]",
        "within: [8 mm, 9 mm]; decision: { probability: 92 % }",
        Strictness::Incomparable,
    ),
    (
        GAP,
        "within: [8 mm, 9 mm]",
        "within: [8 mm, 9 mm]; decision: { probability: 90 % }",
        Strictness::Looser,
    ),
];

#[test]
fn stricter_and_looser_are_computed_where_they_can_be() {
    use Strictness::{Incomparable, Stricter};
    for (measure, old, new, meant) in TABLE {
        let (old, new) = (format!("{measure}; {old}"), format!("{measure}; {new}"));
        assert_eq!(strictness(&old, &new), *meant, "{old} / {new}");
        assert_eq!(strictness(&new, &old), turned(*meant), "{new} / {old}");
    }
    let old = "force: should; measure: pickup.floor_gap; at_least: 8 mm";
    assert_eq!(strictness(old, &old.replace("should", "shall")), Stricter);
    assert_eq!(strictness(old, &old.replace("floor_gap", "rim_depth")), Incomparable);
    assert_eq!(strictness(old, &old.replace("should", "shall").replace('8', "7")), Incomparable);
}

/// Words alone are told apart from what is asked.
#[test]
fn a_rule_in_other_words_asks_the_same() {
    let old = book("force: shall; measure: pickup.floor_gap; at_least: 8 mm; remedy: R");
    let new = old.replace("title: T", "title: U").replace("    remedy: R\n", "    pin: 1 mm\n");
    let found = compared(&old, &new, &[]);
    assert_eq!(found.rules[0].fate, RuleFate::Kept(Strictness::Same));
    assert_eq!(found.rules[0].reworded, ["title", "remedy", "pin"]);
    let same = compared(&old, &old, &[]);
    assert!(same.rules[0].reworded.is_empty());
    assert_eq!(same.old.book.edition, same.new.book.edition);
}

/// What is called stricter or looser must show so in verdicts: limits moved over the pans of the demo.
#[test]
fn nothing_passes_a_stricter_rule_that_did_not_pass_before() {
    use sumpwright_core::verdict::Verdict;
    let rule = |limit: f64| {
        book(&format!("force: shall; measure: pickup.floor_gap; at_least: {limit} mm"))
    };
    for (old, new) in [(8.0, 13.0), (11.8, 12.2), (5.0, 6.0), (12.5, 11.5)] {
        let found = compared(&rule(old), &rule(new), &PANS);
        let is_stricter = found.rules[0].fate == RuleFate::Kept(Strictness::Stricter);
        assert_eq!(is_stricter, new > old);
        for change in found.pans.iter().flat_map(|pan| &pan.changes) {
            let (from, to) = (change.from.unwrap().1, change.to.unwrap().1);
            let gained = from != Verdict::Conforms && to == Verdict::Conforms;
            assert!(!(is_stricter && gained), "{old} → {new}: {from:?} → {to:?}");
        }
    }
}

#[test]
fn a_rulebook_beside_the_one_that_it_builds_on() {
    let file = |name: &str| {
        let path = format!("tests/proofs/{name}.yaml");
        let text = read(&root().join(&path));
        vec![(path, text)]
    };
    let found = compare(CompareRequest {
        files: &Disk::default(),
        names: ["tests/proofs/base.yaml", "tests/proofs/ours.yaml"],
        old: &file("base"),
        new: &file("ours"),
        pans: &PANS.map(str::to_owned),
    });
    assert!(found.problems.is_empty(), "{:#?}", found.problems);
    assert_eq!(found.new.book.layers[0].edition, found.old.book.edition);
    insta::assert_snapshot!("rulebooks_text", (TEXT.comparison.unwrap())(&found, &PAGE));
    // What both build on is read for both, and is one file.
    let page = (HTML.comparison.unwrap())(&found, &PAGE);
    let (_, made) = page.split_once("Made from").expect("the files are listed");
    for file in found.sources.files() {
        let row = format!("<th scope=\"row\">{}</th>", found.sources.path(file));
        assert_eq!(made.matches(&row).count(), 1, "{row}");
    }
    insta::assert_snapshot!("rulebooks_json", (JSON.comparison.unwrap())(&found, &PAGE));
    let plain = Options { plain: true, width: 40, ..PAGE };
    let narrow = (TEXT.comparison.unwrap())(&found, &plain);
    assert!(narrow.is_ascii(), "{narrow}");
}

#[test]
fn with_a_fault_in_either_nothing_is_compared() {
    let good = book("force: shall; measure: pickup.floor_gap; at_least: 8 mm");
    let found = compared(&good, &good.replace("8 mm", "8 L"), &PANS);
    assert!(found.has_error() && found.rules.is_empty() && found.pans.is_empty());
    assert!(found.new.book.edition.is_empty());
    let page = (TEXT.comparison.unwrap())(&found, &PAGE);
    assert!(page.contains("nothing was compared"), "{page}");
}

/// The list of measures that cannot be negative has no name that is no measure, and none that is negative on a pan of
/// the demo.
#[test]
fn measures_taken_as_never_negative_are_not() {
    use sumpwright_core::measure::find;
    use sumpwright_core::review::{Request, measure};
    let pans: Vec<String> = ["deep-cast", "drain-retrofit", "low-finned", "stock-stamped"]
        .map(|name| format!("fixtures/pans/{name}.yaml"))
        .into();
    let read =
        measure(Request { files: &Disk::default(), pans: &pans, rulebook: &[], drawn: false });
    for name in sumpwright_core::rule::NEVER_NEGATIVE {
        assert!(find(name).is_some(), "{name}");
        let all = read.pans.iter().flat_map(|pan| &pan.measures).filter(|m| m.spec.name == name);
        for reading in all.filter_map(|m| m.reading.as_ref().ok()) {
            assert!(reading.bounds.low >= 0.0, "{name}: {reading:?}");
        }
    }
}
