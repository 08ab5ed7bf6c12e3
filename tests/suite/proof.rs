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

/// As many again, of the families that the first do not touch.
const BY_HAND_ELSEWHERE: [(&str, &str, &str); 40] = [
    ("air", "0.9 * baseline", "0.91 * baseline"),
    ("air", "0.9 * baseline", "0.89 * baseline"),
    ("clearance", "at_least: 10 mm\n", "at_least: 10.2 mm\n"),
    ("clearance", "at_least: 25 mm\n", "at_least: 25.3 mm\n"),
    ("clearance", "at_least: 25 mm\n", "at_least: 24.7 mm\n"),
    ("clearance", "at_least: 50 mm\n", "at_least: 50.3 mm\n"),
    ("clearance", "at_least: 50 mm\n", "at_least: 49.7 mm\n"),
    ("clearance", "baseline(skid.gap) - 10 mm", "baseline(skid.gap) - 10.2 mm"),
    ("drain", "at_most: 10 min\n", "at_most: 10.2 min\n"),
    ("drain", "at_most: 10 min\n", "at_most: 9.8 min\n"),
    ("drain", "ground.breakover_angle / 2\n", "ground.breakover_angle / 2.05\n"),
    ("drain", "at_least: 2 * drain.thread_diameter", "at_least: 2.02 * drain.thread_diameter"),
    ("drain", "drain.spanner / 2\n", "drain.spanner / 2.03\n"),
    ("fin", "at_least: 0.8\n", "at_least: 0.81\n"),
    ("fin", "at_least: 0.8\n", "at_least: 0.79\n"),
    ("fin", "at_most: 1\n", "at_most: 1.01\n"),
    ("fin", "0.7 * fin.best_spacing", "0.71 * fin.best_spacing"),
    ("flange", "at_most: 2.2\n", "at_most: 2.23\n"),
    ("flange", "at_most: 2.2\n", "at_most: 2.17\n"),
    ("flange", "at_most: gasket.crushes_at\n", "at_most: gasket.seats_at\n"),
    ("flange", "at_least: gasket.seats_at\n", "at_most: gasket.seats_at\n"),
    ("flange", "within: [0.25,", "within: [0.255,"),
    ("flange", "within: [0.25,", "within: [0.245,"),
    ("heat", "0.9 * baseline", "0.91 * baseline"),
    ("heat", "0.9 * baseline", "0.89 * baseline"),
    ("joint", "at_least: 1.5\n", "at_least: 1.52\n"),
    ("joint", "at_least: 1.5\n", "at_least: 1.48\n"),
    ("joint", "0.75 * joint.proof_force", "0.76 * joint.proof_force"),
    ("joint", "at_most: joint.hole_room\n", "at_least: joint.hole_room\n"),
    ("motion", "at_least: 0.25\n", "at_least: 0.256\n"),
    ("motion", "at_least: 0.25\n", "at_least: 0.244\n"),
    ("motion", "at_least: 0 L/min\n", "at_least: 0.5 L/min\n"),
    ("oil", "within: [4.5 mm^2/s", "within: [4.6 mm^2/s"),
    ("oil", "at_most: 120 degC\n", "at_most: 121 degC\n"),
    ("oil", "at_most: 120 degC\n", "at_most: 119 degC\n"),
    ("suction", "at_most: 1.2 m/s\n", "at_most: 1.22 m/s\n"),
    ("suction", "at_least: suction.limit\n", "at_most: suction.limit\n"),
    ("suction", "0.9 * baseline", "0.89 * baseline"),
    ("wall", "at_least: 1 deg\n", "at_least: 1.06 deg\n"),
    ("wall", "at_least: wall.side_thickness\n", "at_least: wall.floor_thickness\n"),
];

#[test]
fn forty_alterations_by_hand_are_all_noticed() {
    assert_eq!(unnoticed(&BY_HAND), Vec::<String>::new());
}

#[test]
fn forty_alterations_of_other_families_are_all_noticed() {
    assert_eq!(unnoticed(&BY_HAND_ELSEWHERE), Vec::<String>::new());
}

/// The alterations that no case notices and that the reader does not refuse.
fn unnoticed(alterations: &[(&str, &str, &str)]) -> Vec<String> {
    let whole = rulebook();
    let mut unnoticed = Vec::new();
    for (file, from, to) in alterations {
        let name = format!("rules/{file}.yaml");
        let texts: Vec<(String, String)> =
            whole.iter().filter(|(path, _)| *path == name).cloned().collect();
        let text = &texts.first().expect("a file of the rulebook").1;
        assert!(text.contains(*from), "{file} does not hold {from}");
        let altered = vec![(name, text.replacen(*from, to, 1))];
        let proof = prove(ProveRequest {
            files: &Disk::default(),
            rulebook: &altered,
            progress: &|_, _| (),
        });
        // A case has to notice, or the reader to refuse it: that it is unproven for another reason is not enough.
        let held = proof.rules.iter().flat_map(|rule| &rule.cases).all(CaseProof::holds);
        if proof.problems.is_empty() && held {
            unnoticed.push(format!("{file}: {from} → {to}"));
        }
    }
    unnoticed
}
