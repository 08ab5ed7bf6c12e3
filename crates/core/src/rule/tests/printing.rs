//! What is printed is read as the same tree, and prints the same again.

use super::generate::{condition_tree, conditions, lengths, tree};
use super::*;
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..Default::default() })]

    #[test]
    fn a_printed_formula_is_read_as_the_same_tree(text in lengths()) {
        // Too many brackets can make it too long or too deep; that is told elsewhere.
        let Ok(first) = read_formula(&text) else { return Ok(()) };
        let printed = first.to_string();
        let again = read_formula(&printed).map_err(|p| TestCaseError::fail(p.message))?;
        prop_assert_eq!(tree(&again), tree(&first));
        prop_assert_eq!(again.to_string(), printed);
        prop_assert_eq!(again.dimension, first.dimension);
        prop_assert_eq!(again.each.map(|e| e.kind), first.each.map(|e| e.kind));
    }

    #[test]
    fn a_printed_condition_is_read_as_the_same_tree(text in conditions()) {
        let Ok(first) = read_condition(&text) else { return Ok(()) };
        let printed = first.to_string();
        let again = read_condition(&printed).map_err(|p| TestCaseError::fail(p.message))?;
        prop_assert_eq!(condition_tree(&again), condition_tree(&first));
        prop_assert_eq!(again.to_string(), printed);
    }
}

#[test]
fn generated_texts_are_mostly_good() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let good = (0..200)
        .filter(|_| {
            let formula = lengths().new_tree(&mut runner).unwrap().current();
            let condition = conditions().new_tree(&mut runner).unwrap().current();
            read_formula(&formula).is_ok() && read_condition(&condition).is_ok()
        })
        .count();
    assert!(good > 150, "only {good} of 200 pairs can be read");
}

#[test]
fn only_brackets_that_change_the_tree_are_printed() {
    for (text, printed) in [
        ("((8 mm))", "8 mm"),
        ("(pickup.gap * 2) + (wall.side / 3)", "pickup.gap * 2 + wall.side / 3"),
        ("(pickup.gap + wall.side) * 2", "(pickup.gap + wall.side) * 2"),
        ("pickup.gap + (wall.side + 1 mm)", "pickup.gap + (wall.side + 1 mm)"),
        ("pickup.gap * (oil.share * 2)", "pickup.gap * (oil.share * 2)"),
        ("pickup.gap * (-oil.share)", "pickup.gap * -oil.share"),
        ("-(pickup.gap + wall.side)", "-(pickup.gap + wall.side)"),
        ("-(-pickup.gap)", "-(-pickup.gap)"),
        ("-(abs(pickup.gap))", "-abs(pickup.gap)"),
        ("max((pickup.gap), (wall.side))", "max(pickup.gap, wall.side)"),
    ] {
        let read = formula(text);
        assert_eq!(read.to_string(), printed);
        assert_eq!(tree(&formula(printed)), tree(&read));
    }
}
