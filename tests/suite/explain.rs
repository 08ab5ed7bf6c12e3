//! Explanations as a user reads them, and what must hold of every one of them.

use crate::support::{Disk, read, review, root, rulebook};
use sumpwright_core::explain::{
    Curve, CurvePoint, Demo, ExplainRequest, Explanation, Subject, explain,
};
use sumpwright_core::measure::MEASURES;
use sumpwright_core::review::Finding;
use sumpwright_core::verdict::Verdict;
use sumpwright_report::{JSON, Options, TEXT, find};

const STOCK: &str = "fixtures/pans/stock-stamped.yaml";
const DEEP: &str = "fixtures/pans/deep-cast.yaml";
const LOW: &str = "fixtures/pans/low-finned.yaml";
const RETROFIT: &str = "fixtures/pans/drain-retrofit.yaml";

/// A rulebook of its own, so that a change of the shipped one moves no place in what is shown here.
const BOOK: &str = "rulebook: 1
fixtures: ../fixtures/pans
rules:
  inlet.away:
    title: The inlet stands where the original pan had it
    force: shall
    when: baseline is given
    measure: pickup.floor_gap - baseline(pickup.floor_gap)
    at_least: -max(3 mm, spread(pickup.floor_gap))
    at_most: max(3 mm, spread(pickup.floor_gap))
    pin: 0.1 mm
    because: Depth that is added under an inlet left where it was holds oil that the pump cannot reach.
    source: common practice
    remedy: Carry the inlet down with the floor.
    caution: A longer pickup must stay fixed and tight.
    since: 1
    cases:
      - { fixture: drain-retrofit, exact: true, set: { pickup.inlet.at.depth: 68.95 mm }, expect: conforms }
      - { fixture: drain-retrofit, exact: true, set: { pickup.inlet.at.depth: 69.05 mm }, expect: does not conform }
      - { fixture: drain-retrofit, drop: pickup, expect: inconclusive }
      - { fixture: drain-retrofit, set: { baseline: none }, expect: not applicable }
  fin.bears:
    title: A fin's root bears the stated strike
    force: shall
    measure: fin.root_stress
    at_most: material.yield / 1.5
    because: A fin that breaks at its root can tear the floor that it stands on.
    source: common practice
  gap.open:
    title: The inlet stands clear of the floor
    force: should
    when: (pickup is given or drains is given) and material.process is stamping
    measure: pickup.floor_gap
    at_least: 11.8 mm
    decision: { probability: 95 % }
    because: A smaller gap throttles the inlet.
    source: common practice
";

fn asked(book: &[(String, String)], name: Option<&str>, pan: Option<&str>) -> Explanation {
    let disk = Disk::default();
    explain(ExplainRequest {
        files: &disk,
        rulebook: book,
        name,
        pan,
        demo: Demo { files: &disk, pan: DEEP, pans: &[] },
        with_curve: false,
    })
}

fn own(name: &str, pan: Option<&str>) -> Explanation {
    asked(&[("rules/own.yaml".to_owned(), BOOK.to_owned())], Some(name), pan)
}

const PAGE: Options = Options { width: 100, colour: false, plain: false, all: false };

fn text(explanation: &Explanation) -> String {
    (TEXT.explanation.expect("text explains"))(explanation, &PAGE)
}

fn json(explanation: &Explanation) -> String {
    (JSON.explanation.expect("JSON explains"))(explanation, &PAGE)
}

#[test]
fn a_rule() {
    let found = own("inlet.away", None);
    insta::assert_snapshot!("rule_text", text(&found));
    insta::assert_snapshot!("rule_json", json(&found));
}

#[test]
fn a_measure() {
    let found = own("pickup.floor_gap", None);
    insta::assert_snapshot!("measure_text", text(&found));
    insta::assert_snapshot!("measure_json", json(&found));
}

#[test]
fn a_rule_on_a_pan_that_conforms() {
    let found = own("fin.bears", Some(DEEP));
    assert_eq!(verdicts(&found), [Verdict::Conforms]);
    insta::assert_snapshot!("conforms_text", text(&found));
    insta::assert_snapshot!("conforms_json", json(&found));
}

#[test]
fn a_rule_on_a_pan_that_does_not_conform() {
    let found = own("inlet.away", Some(DEEP));
    assert_eq!(verdicts(&found), [Verdict::DoesNotConform]);
    insta::assert_snapshot!("does_not_conform_text", text(&found));
    insta::assert_snapshot!("does_not_conform_json", json(&found));
}

#[test]
fn a_rule_that_is_inconclusive() {
    let found = own("gap.open", Some(STOCK));
    assert_eq!(verdicts(&found), [Verdict::Inconclusive]);
    insta::assert_snapshot!("inconclusive_text", text(&found));
    insta::assert_snapshot!("inconclusive_json", json(&found));
}

#[test]
fn a_rule_that_is_not_applicable() {
    let found = own("inlet.away", Some(STOCK));
    assert_eq!(verdicts(&found), [Verdict::NotApplicable]);
    insta::assert_snapshot!("not_applicable_text", text(&found));
    insta::assert_snapshot!("not_applicable_json", json(&found));
}

#[test]
fn the_list_of_all_has_a_line_for_each_rule_and_each_measure() {
    let book = rulebook();
    let listed = text(&asked(&book, None, None));
    let judged = review(&Disk::default(), &[STOCK]);
    let mut ids: Vec<&str> = judged.pans[0].findings.iter().map(|f| f.rule.as_str()).collect();
    ids.dedup();
    for spec in MEASURES {
        assert!(listed.contains(&format!("  {} ", spec.name)), "{}", spec.name);
    }
    let rules = listed.lines().take_while(|line| *line != "Measures");
    let rules = rules.filter(|line| line.contains(" shall ") || line.contains(" should "));
    assert!(rules.count() >= ids.len(), "{listed}");
}

fn chains(explanation: &Explanation) -> &[sumpwright_core::explain::Chain] {
    let Subject::Rule(rule) = &explanation.subject else { panic!("no rule: {explanation:?}") };
    &rule.on_pan.as_ref().expect("the pan was read").chains
}

fn verdicts(explanation: &Explanation) -> Vec<Verdict> {
    chains(explanation).iter().map(|chain| chain.finding.verdict).collect()
}

/// What is explained is what was judged, and the inputs that are named make up the whole uncertainty:
/// u² = Σ effect² (JCGM 100:2008, 5.1.2, from memory).
#[test]
fn every_rule_on_every_pan_is_explained_as_it_is_judged() {
    let book = rulebook();
    for pan in [STOCK, DEEP, LOW, RETROFIT] {
        let judged = review(&Disk::default(), &[pan]);
        let findings = &judged.pans[0].findings;
        let mut ids: Vec<&str> = findings.iter().map(|f| f.rule.as_str()).collect();
        ids.dedup();
        for id in ids {
            let found = asked(&book, Some(id), Some(pan));
            assert!(found.problems.is_empty(), "{id}: {:#?}", found.problems);
            let of = |f: &&Finding| f.rule == id;
            let meant: Vec<Verdict> = findings.iter().filter(of).map(|f| f.verdict).collect();
            assert_eq!(verdicts(&found), meant, "{id} on {pan}");
            for chain in chains(&found) {
                all_of_the_uncertainty_is_named(id, chain);
                assert!(text(&found).contains(chain.finding.verdict.words()), "{id} on {pan}");
            }
        }
    }
}

fn all_of_the_uncertainty_is_named(id: &str, chain: &sumpwright_core::explain::Chain) {
    let margins = || chain.finding.limits.iter().filter_map(|limit| limit.margin);
    if margins().count() == 0 || chain.finding.limits.len() > 1 {
        return;
    }
    let named = chain.moved_by.iter().map(|moved| moved.effect * moved.effect).sum::<f64>();
    for margin in margins() {
        let u = if margin.u_low > margin.u_high { margin.u_low } else { margin.u_high };
        if margin.bounds.low < margin.bounds.high {
            // Of two bounds each input is told by what it does to the one that it moves more.
            let both = (margin.u_low * margin.u_low + margin.u_high * margin.u_high).sqrt();
            assert!(named.sqrt() >= u * (1.0 - 1e-9) && named.sqrt() <= both, "{id}");
            continue;
        }
        assert!((named.sqrt() - u).abs() <= 1e-9 * u + 1e-15, "{id}: {} is not {u}", named.sqrt());
    }
}

/// Every measure can be read in the demo pan, and says what it is read from and how a person gets that.
#[test]
fn every_measure_says_what_it_reads_and_how_to_get_it() {
    let book = rulebook();
    for spec in MEASURES {
        let found = asked(&book, Some(spec.name), None);
        let Subject::Measure(measure) = &found.subject else {
            panic!("{} is no measure", spec.name)
        };
        let shown = measure.shown_on.as_ref().expect("the demo pan was read");
        assert!(shown.is_demo && !shown.objects.is_empty(), "{}", spec.name);
        for seen in &shown.objects {
            // The demo's duty names no recorded drive.
            let of_a_drive = spec.name.starts_with("pickup.log_");
            assert!(
                seen.reading.reading.is_ok() || of_a_drive,
                "{}: {:?}",
                spec.name,
                seen.reading.reading
            );
            if of_a_drive {
                continue;
            }
            let moves = || seen.reading.contributions.iter().chain(&seen.exact);
            assert!(moves().all(|m| m.how_to_get.ends_with('.')), "{}", spec.name);
            let words = seen.subject.iter().filter(|subject| !subject.how_to_get.is_empty());
            assert!(moves().count() + words.count() > 0, "{} reads nothing", spec.name);
        }
    }
}

#[test]
fn a_test_of_a_condition_carries_its_own_truth() {
    let found = own("gap.open", Some(DEEP));
    let said = text(&found);
    assert_eq!(verdicts(&found), [Verdict::NotApplicable]);
    assert!(said.contains("material.process is stamping: false (sand casting at"), "{said}");
    assert!(said.contains("in it       pickup is given: true"), "{said}");
    assert!(said.contains("not looked at, since the condition is false"), "{said}");
}

#[test]
fn a_value_that_is_left_out_is_named_with_what_to_do() {
    let pan = read(&root().join(STOCK));
    let rest: Vec<&str> = pan.lines().filter(|line| !line.starts_with("pickup:")).collect();
    assert_eq!(rest.len() + 1, pan.lines().count());
    let pan = rest.join("\n") + "\n";
    let disk = Disk { instead: vec![(STOCK.to_owned(), pan)] };
    let book = [("rules/own.yaml".to_owned(), BOOK.to_owned())];
    let demo = Demo { files: &disk, pan: DEEP, pans: &[] };
    let ask = |name| {
        explain(ExplainRequest {
            files: &disk,
            rulebook: &book,
            name: Some(name),
            pan: Some(STOCK),
            demo,
            with_curve: false,
        })
    };
    let rule = ask("gap.open");
    assert_eq!(verdicts(&rule), [Verdict::Inconclusive]);
    assert!(
        text(&rule).contains("pickup is given: unknown, since pickup is not stated"),
        "{}",
        text(&rule)
    );
    let measure = text(&ask("pickup.floor_gap"));
    assert!(measure.contains("pickup: not stated. Where the pump draws its oil."), "{measure}");
}

#[test]
fn an_unknown_name_is_told_with_the_one_that_was_meant() {
    for (name, meant) in [
        ("inlet.awya", Some("inlet.away")),
        ("pickup.flor_gap", Some("pickup.floor_gap")),
        ("something_else_entirely", None),
    ] {
        let found = own(name, None);
        let Subject::Unknown { name: told, meant: found } = &found.subject else {
            panic!("{name} is known")
        };
        assert_eq!((told.as_str(), found.as_deref()), (name, meant));
    }
}

#[test]
fn a_page_keeps_its_width_and_plain_text_is_ascii() {
    for width in [40, 60, 100] {
        for (name, pan) in
            [("inlet.away", Some(DEEP)), ("inlet.away", None), ("pickup.rim_depth", None)]
        {
            let options = Options { width, plain: true, all: true, colour: false };
            let said = (TEXT.explanation.expect("text explains"))(&own(name, pan), &options);
            assert!(said.is_ascii(), "{said}");
            for line in said.lines() {
                assert!(line.len() <= width, "{width}: {line}");
            }
        }
        let listed = (TEXT.explanation.expect("text explains"))(
            &asked(&rulebook(), None, None),
            &Options { width, ..PAGE },
        );
        assert!(listed.lines().all(|line| line.chars().count() <= width), "{listed}");
    }
}

/// Text that others wrote cannot move the cursor, change a colour or turn the reading direction.
#[test]
fn hostile_text_is_spelt_out_in_every_format() {
    const HOSTILE: &str = "a\u{1b}[32mconforms\u{202e}b\u{200b}c";
    let mut found = own("inlet.away", Some(DEEP));
    let Subject::Rule(rule) = &mut found.subject else { panic!("it is a rule") };
    for text in [&mut rule.because, &mut rule.source, &mut rule.line.title, &mut rule.line.id] {
        HOSTILE.clone_into(text);
    }
    let on_pan = rule.on_pan.as_mut().unwrap();
    on_pan.title = Some(HOSTILE.to_owned());
    on_pan.path = HOSTILE.to_owned();
    on_pan.chains[0].finding.object = Some(HOSTILE.to_owned());
    for said in [text(&found), json(&found)] {
        assert!(!said.contains(['\u{1b}', '\u{202e}', '\u{200b}']), "{said}");
        assert!(said.contains("[32mconforms"), "{said}");
    }
}

const PANS: &[&str] = &[
    "fixtures/pans/stock-stamped.yaml",
    "fixtures/pans/deep-cast.yaml",
    "fixtures/pans/low-finned.yaml",
    "fixtures/pans/drain-retrofit.yaml",
    "fixtures/pans/twin-sump.yaml",
];

fn drawn(name: &str) -> Explanation {
    let disk = Disk::default();
    explain(ExplainRequest {
        files: &disk,
        rulebook: &rulebook(),
        name: Some(name),
        pan: None,
        demo: Demo { files: &disk, pan: DEEP, pans: PANS },
        with_curve: true,
    })
}

fn curve_of(explained: &Explanation) -> &Curve {
    let curve = match &explained.subject {
        Subject::Rule(rule) => rule.curve.as_ref(),
        Subject::Measure(measure) => measure.curve.as_ref(),
        _ => None,
    };
    curve.expect("it has a curve")
}

/// Statics of a rigid bar: σ = 6 F h / (b t²) falls with the square of the root's thickness, the textbook's cantilever.
#[test]
fn the_curve_of_a_fins_stress_falls_with_the_square_of_its_root() {
    let explained = drawn("fin.breaks-at-the-strike");
    let curve = curve_of(&explained);
    assert_eq!(curve.input, "fins.keel.root");
    assert_eq!(curve.pans.len(), 2);
    let product = |point: &CurvePoint| point.value.unwrap().value().unwrap() * point.at * point.at;
    let first = product(&curve.points[0]);
    for point in &curve.points {
        assert!((product(point) / first - 1.0).abs() < 1e-9, "at {}", point.at);
        // The limit hangs on the material alone.
        assert_eq!(point.limits, curve.points[0].limits);
    }
}

/// The curve goes through its own pan, and every pan stands where its review says.
#[test]
fn a_curve_goes_through_the_reading_of_its_pan() {
    let explained = drawn("pickup.uncovered");
    let curve = curve_of(&explained);
    assert_eq!((curve.input.as_str(), curve.pans.len()), ("pickup.inlet.at.depth", 5));
    let base = curve.pans.iter().find(|pan| pan.is_base).unwrap();
    let (x, y) = (base.at, base.reading.bounds.value().unwrap());
    let after = curve.points.windows(2).find(|pair| pair[0].at <= x && x <= pair[1].at).unwrap();
    let [low, high] = [0, 1].map(|end| after[end].value.unwrap().value().unwrap());
    assert!(low.min(high) - 1e-4 <= y && y <= low.max(high) + 1e-4, "{low} {y} {high}");
    assert!(curve.points.windows(2).all(|pair| pair[0].at < pair[1].at));
}

/// Every rule that is read on some demo pan by an input that can be moved has a curve with a limit on it, and every page
/// is whole.
#[test]
fn rules_are_drawn_with_their_limits() {
    for rule in
        ["drain.leaves-too-much", "skid.struck", "oil.runs-too-hot", "pickup.away-from-baseline"]
    {
        let explained = drawn(rule);
        let curve = curve_of(&explained);
        assert!(!curve.sides.is_empty(), "{rule}");
        let limits = curve.points.iter().flat_map(|point| &point.limits);
        assert!(limits.flatten().count() > 40, "{rule}");
        let options = Options { width: 100, colour: false, plain: false, all: false };
        let write = find("html").and_then(|format| format.explanation).expect("it writes them");
        let page = write(&explained, &options);
        assert!(page.contains("class=\"limit\"") && page.contains("pan-dot base"), "{rule}");
        assert!(!page.contains("NaN") && !page.contains("<script"), "{rule}");
    }
}
