//! The shipped rulebook against its own cases.

use crate::support::{Disk, rulebook};
use sumpwright_core::prove::{CaseProof, Fate, ProveRequest, prove};

/// Every case of every rule comes out as it says, and every alteration tried is noticed by some case.
#[test]
fn the_shipped_rulebook_holds_against_its_own_cases() {
    let proof = prove(ProveRequest {
        files: &Disk::default(),
        rulebook: &rulebook(),
        progress: &|_, _| (),
    });
    assert!(proof.problems.is_empty(), "{:#?}", proof.problems);
    let mut wrong = Vec::new();
    for rule in &proof.rules {
        if rule.cases.is_empty() {
            wrong.push(format!("{}: no case", rule.id));
        }
        for case in rule.cases.iter().filter(|case| !case.holds()) {
            let place = proof.sources.place(case.span);
            wrong.push(format!(
                "{}:{}: {}: expected {:?}, found {:?}",
                place.path, place.line, rule.id, case.expected, case.outcome
            ));
        }
        for missed in rule.alterations.iter().filter(|a| matches!(a.fate, Fate::Missed(_))) {
            wrong.push(format!("{}: not noticed: {}", rule.id, missed.words));
        }
        for slack in rule.slacks.iter().filter(|slack| slack.within_pin() != Some(true)) {
            wrong.push(format!("{}: not held within its pin: {}", rule.id, slack.written));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
    assert!(proof.is_whole() && proof.score().percent() == 100);
}

/// Alterations made by hand in the text of the rulebook, each at least as large as the rule's pin: file, what stands
/// there, what is put in its place. None may go unnoticed.
const BY_HAND: [(&str, &str, &str); 40] = [
    ("pickup", "at_least: 10 mm\n", "at_least: 10.5 mm\n"),
    ("pickup", "at_least: 10 mm\n", "at_least: 9.5 mm\n"),
    ("pickup", "at_least: 10 mm\n", "at_most: 10 mm\n"),
    ("pickup", "at_least: 8 mm\n", "at_least: 8.1 mm\n"),
    ("pickup", "at_least: 8 mm\n", "at_least: 7.9 mm\n"),
    ("pickup", "at_least: 8 mm\n", "at_least: 8 in\n"),
    ("pickup", "measure: pickup.floor_gap\n", "measure: pickup.rim_depth\n"),
    ("pickup", "at_most: max(3 mm, ", "at_most: max(3.1 mm, "),
    ("pickup", "at_most: max(3 mm, ", "at_most: max(2.9 mm, "),
    ("pickup", "at_least: -max(3 mm, ", "at_least: -max(3.1 mm, "),
    ("pickup", "at_least: -max(3 mm, ", "at_least: -max(2.9 mm, "),
    ("pickup", "- baseline(pickup.floor_gap)\n", "- 12.3 mm\n"),
    ("pickup", "at_least: pickup.inlet_area\n", "at_least: 1.1 * pickup.inlet_area\n"),
    ("pickup", "at_most: 1.2 m/s\n", "at_most: 1.22 m/s\n"),
    ("pickup", "at_most: 1.2 m/s\n", "at_most: 1.18 m/s\n"),
    ("pickup", "at_least: 0.5 * ", "at_least: 0.505 * "),
    ("pickup", "at_least: 0.5 * ", "at_least: 0.495 * "),
    ("oil", "at_least: 0.5 L\n", "at_least: 0.53 L\n"),
    ("oil", "at_least: 0.5 L\n", "at_least: 0.47 L\n"),
    ("baffle", "at_least: 2 * pickup", "at_least: 2.02 * pickup"),
    ("baffle", "at_most: 4 * pickup", "at_most: 3.96 * pickup"),
    ("baffle", "at_most: 0.20\n", "at_most: 0.202\n"),
    ("baffle", "at_least: 0.05\n", "at_least: 0.0495\n"),
    ("baffle", "at_most: 5 mm\n", "at_most: 5.2 mm\n"),
    ("fin", "at_least: fin.process_minimum\n", "at_least: wall.process_minimum\n"),
    ("fin", "material.yield / 1.5\n", "material.yield / 1.52\n"),
    ("fin", "material.yield / 1.5\n", "material.yield / 1.48\n"),
    ("fin", "at_least: 8 mm\n", "at_least: 8.2 mm\n"),
    ("fin", "at_most: fin.root\n", "at_most: fin.height\n"),
    ("drain", "at_most: 0.05\n", "at_most: 0.06\n"),
    ("drain", "at_most: 0.05\n", "at_most: 0.04\n"),
    ("drain", "at_least: 1.5 * ", "at_least: 1.52 * "),
    ("drain", "at_most: pan.lowest_depth\n", "at_most: interior.deepest\n"),
    ("drain", "force: shall\n", "force: should\n"),
    ("clearance", "at_least: 5 mm\n", "at_least: 5.3 mm\n"),
    ("clearance", "when: vehicle.skid is given\n", "when: not vehicle.skid is given\n"),
    ("ground", "- 10 mm\n", "- 10.2 mm\n"),
    ("ground", "- 0.5 deg\n", "- 0.55 deg\n"),
    ("rotating", "at_least: 5 mm\n", "at_least: 4.8 mm\n"),
    ("wall", "at_least: wall.process_minimum\n", "at_least: 3.6 mm\n"),
];

/// Forty more, in rules that the first forty left alone: rule, what stands in it, what is put in its place.
const BY_HAND_TOO: [(&str, &str, &str); 40] = [
    ("air.turns-over-sooner", "0.9 * baseline", "0.92 * baseline"),
    ("baffle.starves-the-inlet", "at_least: 1\n", "at_least: 0.98\n"),
    ("baffle.eats-the-cover", "at_most: pickup.rim_depth", "at_most: pickup.floor_gap"),
    ("baffle.jets-at-the-inlet", "at_most: 1.2 m/s", "at_most: 1.3 m/s"),
    ("neighbour.rigid-too-near", "is rigid", "is rotating"),
    ("neighbour.rigid-too-near", "at_least: 10 mm", "at_least: 9.6 mm"),
    ("neighbour.rotating-too-near", "at_least: 25 mm", "at_least: 25.4 mm"),
    ("neighbour.exhaust-too-near", "at_least: 50 mm", "at_least: 49 mm"),
    ("neighbour.exhaust-too-near", "neighbour.kind is exhaust", "not neighbour.kind is exhaust"),
    ("skid.tight-at-rest", "skid.gap_at_rest", "skid.gap"),
    ("skid.gap-lost", "- 10 mm", "- 9 mm"),
    ("drain.strips", "at_least: 2\n", "at_least: 1.9\n"),
    ("drain.ring-not-seated", "at_least: drain.ring_yield", "at_most: drain.ring_yield"),
    ("drain.seat-dents", "at_most: material.yield", "at_most: drain.ring_yield"),
    ("drain.slow-to-empty", "at_most: 10 min", "at_most: 12 min"),
    ("drain.touched-first", "ground.breakover_angle / 2", "ground.breakover_angle / 1.9"),
    ("drain.no-room-for-a-spanner", "at_least: 0 mm", "at_least: -1 mm"),
    ("drain.runs-onto-the-plate", "at_most: 0 mm", "at_most: 1 mm"),
    ("drain.spanner-meets-a-fin", "drain.spanner / 2", "drain.spanner / 2.2"),
    ("fin.does-not-conduct", "at_least: 0.8", "at_least: 0.82"),
    ("fin.tears-the-floor", "at_most: 1\n", "at_most: 1.1\n"),
    ("fin.floor-breaks-between", "measure: fin.floor_stress", "measure: fin.root_stress"),
    ("fin.too-close-for-air", "0.7 * fin.best_spacing", "0.75 * fin.best_spacing"),
    ("flange.bolts-too-far-apart", "at_most: 2.2", "at_most: 2.3"),
    ("gasket.crushed", "at_most: gasket.crushes_at", "at_least: gasket.crushes_at"),
    (
        "gasket.leaks-between-bolts",
        "measure: gasket.stress_midway",
        "measure: gasket.stress_at_bolt",
    ),
    ("heat.less-than-baseline", "0.9 * baseline", "0.88 * baseline"),
    ("joint.strips-the-case", "at_least: 1.5", "at_least: 1.4"),
    ("joint.bolt-stretches", "0.75 * joint.proof_force", "0.77 * joint.proof_force"),
    ("joint.eats-the-pan", "at_most: 0.15", "at_most: 0.5"),
    ("motion.rings-along", "motion.frequency_along", "motion.frequency_across"),
    ("motion.refills-too-slowly", "at_least: 0 L/min", "at_least: -1 L/min"),
    ("oil.little-to-lose", "oil.fill_margin", "oil.usable_litres"),
    ("oil.expansion-doubtful", "at_most: 1.1 *", "at_most: 1.12 *"),
    ("oil.runs-too-hot", "at_most: 120 degC", "at_most: 122 degC"),
    ("oil.stranded-away-from-inlet", "at_most: 0.1", "at_most: 0.11"),
    ("pickup.draws-a-whirl", "at_least: 0 mm", "at_least: -1 mm"),
    ("pickup.uncovers-soon-after", "at_least: 5 deg", "at_least: 5.3 deg"),
    (
        "suction.cold-start-starves",
        "at_least: suction.cold_start_flow",
        "at_most: suction.cold_start_flow",
    ),
    ("wall.cannot-leave-the-mould", "is die casting", "is stamping"),
];

/// Such as a tired author makes: a number in place of what it comes to in the demo, a formula that says the same of one pan and
/// of no other, a condition that narrows where no fixture stood. Each rule alone, without its pins.
const BY_HAND_SLYLY: [(&str, &str, &str); 26] = [
    ("pickup.away-from-baseline", "max(3 mm, spread(pickup.floor_gap))", "max(3 mm, 12 mm)"),
    ("pickup.away-from-baseline", "at_most: max(3 mm, spread", "at_most: max(3 mm, 2 * spread"),
    ("pickup.uncovers-on-the-drive", "given and duty.log", "given or duty.log"),
    ("pickup.too-near-a-wall", "0.5 * pickup.inlet_diameter", "16 mm"),
    ("pickup.curtain-throttles", "at_least: pickup.inlet_area", "at_least: 8.0425 cm^2"),
    ("drain.strips", "drain.taper at most 0.01", "drain.taper at most 0.1"),
    ("drain.hangs-lowest", "pan.lowest_depth", "interior.deepest + wall.floor_thickness + 8 mm"),
    ("drain.thread-too-short", "at_least: drain.thread_diameter", "at_least: 14 mm"),
    ("drain.boss-too-thin", "1.5 * drain.thread_diameter", "drain.thread_diameter + 7 mm"),
    ("drain.spanner-meets-a-fin", "drain.spanner / 2", "drain.spanner - 31.82 mm"),
    ("drain.cuts-into-the-rail", "flange.thickness", "wall.floor_thickness"),
    ("fin.breaks-at-the-strike", "material.yield / 1.5", "material.yield - 55 MPa"),
    ("fin.floor-breaks-between", "material.yield / 1.5", "material.yield - 55 MPa"),
    ("fin.wider-at-the-tip", "at_most: fin.root", "at_most: 6 mm"),
    ("wall.corner-too-sharp", "wall.side_thickness", "0.9 * wall.floor_thickness"),
    (
        "motion.rings-along",
        "motion.frequency_along / duty.hump_frequency",
        "duty.hump_frequency / motion.frequency_along",
    ),
    (
        "oil.usable-lost",
        "baseline(oil.usable_litres) - 0.1 L",
        "0.906 * baseline(oil.usable_litres)",
    ),
    (
        "oil.less-usable-than-baseline",
        "oil.litres_at_check at least 0.9 * baseline(oil.litres_at_check)",
        "oil.usable_litres at least 0.9 * baseline(oil.usable_litres)",
    ),
    ("oil.expansion-doubtful", "0.9 * oil.expansion_by_density", "0.000663 1/K"),
    (
        "oil.little-to-lose",
        "when: pickup is given",
        "when: pickup is given and not baffles is given",
    ),
    (
        "heat.less-than-baseline",
        "when: baseline is given",
        "when: baseline is given and duty.cooling is given",
    ),
    (
        "air.turns-over-sooner",
        "0.9 * baseline(oil.turnover_time)",
        "baseline(oil.turnover_time) - 1.35 s",
    ),
    (
        "ground.breakover-lost",
        "baseline(ground.breakover_angle) - 0.5 deg",
        "0.9776 * baseline(ground.breakover_angle)",
    ),
    (
        "neighbour.rigid-too-near",
        "when: neighbour.kind is rigid",
        "when: neighbour.kind is rigid and not fins is given or neighbour.kind is rigid and baseline is given",
    ),
    (
        "skid.gap-lost",
        "measure: skid.gap\n    at_least: baseline(skid.gap)",
        "measure: baseline(skid.gap)\n    at_least: skid.gap",
    ),
    ("gasket.squeeze-outside-band", "within: [0.25, 0.3]", "at_least: 0.25"),
];

#[test]
fn sly_alterations_by_hand_are_all_noticed() {
    let whole = rulebook();
    let altered = BY_HAND_SLYLY.map(|(rule, from, to)| {
        let opening = format!("\n  {rule}:\n");
        let found = whole.iter().find(|(_, text)| text.contains(&opening));
        let (name, text) = found.expect("a file that holds the rule");
        let (head, _) = text.split_once("rules:\n").expect("it holds rules");
        let (_, after) = text.split_once(&opening).expect("it holds it");
        let own = after.lines().take_while(|line| line.starts_with("    "));
        let own: Vec<&str> = own.filter(|line| !line.starts_with("    pin:")).collect();
        let own = own.join("\n");
        let (rest, cases) = own.split_once("    cases:").expect("it has cases");
        assert!(rest.contains(from), "{rule} does not hold {from}");
        let rest = rest.replace(from, to);
        let text = format!("{head}rules:{opening}{rest}    cases:{cases}\n");
        (format!("{rule}: {from} → {to}"), name.clone(), text)
    });
    let mut unnoticed = Vec::new();
    for (words, name, text) in altered {
        let rulebook = [(name, text)];
        let files = &Disk::default();
        let proof = prove(ProveRequest { files, rulebook: &rulebook, progress: &|_, _| () });
        // What the reader refuses is noticed by no case.
        assert!(proof.problems.is_empty(), "{words}: {:#?}", proof.problems);
        if proof.rules.iter().flat_map(|rule| &rule.cases).all(CaseProof::holds) {
            unnoticed.push(words);
        }
    }
    assert_eq!(unnoticed, Vec::<String>::new());
}

#[test]
fn forty_alterations_by_hand_are_all_noticed() {
    let whole = rulebook();
    let altered = BY_HAND.map(|(file, from, to)| {
        let name = format!("rules/{file}.yaml");
        let text = &whole.iter().find(|(path, _)| *path == name).expect("a file").1;
        assert!(text.contains(from), "{file} does not hold {from}");
        (format!("{file}: {from} → {to}"), name, text.replacen(from, to, 1))
    });
    assert_eq!(unnoticed(&altered), Vec::<String>::new());
}

#[test]
fn forty_more_alterations_by_hand_are_all_noticed() {
    let whole = rulebook();
    let altered = BY_HAND_TOO.map(|(rule, from, to)| {
        let opening = format!("\n  {rule}:\n");
        let found = whole.iter().find(|(_, text)| text.contains(&opening));
        let (name, text) = found.expect("a file that holds the rule");
        let (before, after) = text.split_once(&opening).expect("it holds it");
        let rest = after.replacen(from, to, 1);
        let end = after.find("    cases:").expect("it has cases");
        let place = after.find(from).unwrap_or_else(|| panic!("{rule} does not hold {from}"));
        assert!(place < end, "{rule} does not hold {from} before its cases");
        (format!("{rule}: {from} → {to}"), name.clone(), format!("{before}{opening}{rest}"))
    });
    assert_eq!(unnoticed(&altered), Vec::<String>::new());
}

/// Which of these altered files (words, path, text) no case notices.
fn unnoticed(altered: &[(String, String, String)]) -> Vec<String> {
    let passes = |(words, name, text): &(String, String, String)| {
        let proof = prove(ProveRequest {
            files: &Disk::default(),
            rulebook: &[(name.clone(), text.clone())],
            progress: &|_, _| (),
        });
        // A case has to notice, or the reader to refuse it: that it is unproven for another reason is not enough.
        let held = proof.rules.iter().flat_map(|rule| &rule.cases).all(CaseProof::holds);
        (proof.problems.is_empty() && held).then(|| words.clone())
    };
    altered.iter().filter_map(passes).collect()
}
