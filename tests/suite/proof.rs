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
