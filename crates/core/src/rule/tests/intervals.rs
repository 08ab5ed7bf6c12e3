//! Interval arithmetic: what goes in stays in.

use crate::measure::Bounds;
use crate::rule::Operator;
use crate::rule::interval::{
    absolute, combine, half_range, maximum, mean, minimum, negative, square_root, usable,
};
use proptest::prelude::*;

const OPERATORS: [Operator; 4] =
    [Operator::Add, Operator::Subtract, Operator::Multiply, Operator::Divide];

fn smaller(a: f64, b: f64) -> f64 {
    if b < a { b } else { a }
}

fn larger(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

fn apply(operator: Operator, x: f64, y: f64) -> f64 {
    match operator {
        Operator::Add => x + y,
        Operator::Subtract => x - y,
        Operator::Multiply => x * y,
        Operator::Divide => x / y,
    }
}

/// Bounds with a value inside; an end may be at infinity.
fn bounds_with_a_value() -> impl Strategy<Value = (Bounds, f64)> {
    let end = prop_oneof![4 => 0.0..100.0, 1 => Just(0.0), 1 => Just(f64::INFINITY)];
    let value = prop_oneof![4 => -1e3..1e3, 1 => Just(0.0), 1 => -1e-300..1e-300];
    (value, end.clone(), end).prop_map(|(value, below, above)| {
        (Bounds { low: value - below, high: value + above }, value)
    })
}

fn contains(bounds: Bounds, value: f64) -> bool {
    bounds.low <= value && value <= bounds.high
}

// Fundamental theorem of interval arithmetic (R. E. Moore, Interval Analysis, 1966; from memory):
// the result of an operation on intervals holds every result of the operation on members.
proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..Default::default() })]

    #[test]
    fn a_result_of_values_inside_lies_inside(
        (a, x) in bounds_with_a_value(),
        (b, y) in bounds_with_a_value(),
    ) {
        for operator in OPERATORS {
            if let Ok(result) = combine(operator, a, b) {
                prop_assert!(contains(result, apply(operator, x, y)), "{operator:?} {a:?} {b:?} {result:?}");
            }
        }
        prop_assert!(contains(minimum(a, b), smaller(x, y)));
        prop_assert!(contains(maximum(a, b), larger(x, y)));
        prop_assert!(contains(negative(a), -x));
        prop_assert!(contains(absolute(a), x.abs()));
        if let Ok(root) = square_root(a) {
            prop_assert!(contains(root, x.sqrt()));
        }
    }

    #[test]
    fn mean_and_half_range_of_values_inside_lie_inside(
        members in proptest::collection::vec(bounds_with_a_value(), 1..6),
    ) {
        let bounds: Vec<Bounds> = members.iter().map(|m| m.0).collect();
        let values: Vec<f64> = members.iter().map(|m| m.1).collect();
        let sum = values.iter().fold(0.0, |sum, v| sum + v);
        if let Ok(result) = mean(&bounds) {
            prop_assert!(contains(result, sum / values.len() as f64));
        }
        let most = values.iter().copied().reduce(larger).unwrap();
        let least = values.iter().copied().reduce(smaller).unwrap();
        if let Ok(result) = half_range(&bounds) {
            prop_assert!(contains(result, (most - least) / 2.0));
        }
    }

    #[test]
    fn whatever_goes_in_no_nan_comes_out(
        ends in proptest::array::uniform4(any::<f64>()),
    ) {
        let a = Bounds { low: ends[0], high: ends[1] };
        let b = Bounds { low: ends[2], high: ends[3] };
        for operator in OPERATORS {
            if let Ok(result) = combine(operator, a, b) {
                prop_assert!(result.low <= result.high);
            }
        }
    }

    #[test]
    fn exact_values_stay_exact(x in -1e6..1e6, y in 1e-3..1e6) {
        for operator in OPERATORS {
            let result = combine(operator, Bounds::exactly(x), Bounds::exactly(y)).unwrap();
            prop_assert_eq!(result, Bounds::exactly(apply(operator, x, y)));
        }
    }
}

#[test]
fn nothing_known_minus_nothing_known_is_nothing_known() {
    let anything = Bounds { low: f64::NEG_INFINITY, high: f64::INFINITY };
    assert_eq!(combine(Operator::Subtract, anything, anything), Ok(anything));
}

#[test]
fn zero_times_something_unbounded_is_zero() {
    let result = combine(Operator::Multiply, Bounds::exactly(0.0), Bounds::at_least(1.0));
    assert_eq!(result, Ok(Bounds::exactly(0.0)));
}

#[test]
fn an_unbounded_value_over_an_unbounded_divisor_is_not_negative() {
    let result = combine(Operator::Divide, Bounds::at_least(1.0), Bounds::at_least(2.0));
    assert_eq!(result, Ok(Bounds::at_least(0.0)));
}

#[test]
fn a_divisor_that_may_be_zero_gives_no_value() {
    for divisor in [Bounds::exactly(0.0), Bounds::between(-1.0, 1.0), Bounds::at_most(0.0)] {
        let reason = combine(Operator::Divide, Bounds::exactly(1.0), divisor).unwrap_err();
        assert_eq!(reason.reason, "the divisor is, or may be, 0");
    }
}

#[test]
fn a_product_too_large_for_a_number_gives_no_value() {
    let large = Bounds::exactly(1e200);
    assert!(combine(Operator::Multiply, large, large).is_err());
    assert!(square_root(Bounds::between(-1.0, 4.0)).is_err());
}

#[test]
fn a_divisor_beside_zero_divides_to_its_far_side() {
    let one = Bounds::exactly(1.0);
    let divided = |low: f64, high: f64| combine(Operator::Divide, one, Bounds { low, high });
    assert_eq!(divided(0.5, 2.0), Ok(Bounds::between(0.5, 2.0)));
    assert_eq!(divided(-2.0, -0.5), Ok(Bounds::between(-2.0, -0.5)));
    assert_eq!(divided(0.5, f64::INFINITY), Ok(Bounds::between(0.0, 2.0)));
    assert_eq!(divided(f64::NEG_INFINITY, -0.5), Ok(Bounds::between(-2.0, 0.0)));
    for (low, high) in [(0.0, 1.0), (-1.0, 0.0), (-0.0, -0.0), (f64::NEG_INFINITY, f64::INFINITY)] {
        assert!(divided(low, high).is_err(), "{low} {high}");
    }
}

#[test]
fn signs_of_factors_choose_the_corners() {
    let product = |a: (f64, f64), b: (f64, f64)| {
        let of = |ends: (f64, f64)| Bounds { low: ends.0, high: ends.1 };
        let found = combine(Operator::Multiply, of(a), of(b)).unwrap();
        (found.low, found.high)
    };
    // Worked by hand, one for each case of signs.
    assert_eq!(product((2.0, 3.0), (4.0, 5.0)), (8.0, 15.0));
    assert_eq!(product((-3.0, -2.0), (4.0, 5.0)), (-15.0, -8.0));
    assert_eq!(product((-3.0, -2.0), (-5.0, -4.0)), (8.0, 15.0));
    assert_eq!(product((-2.0, 3.0), (4.0, 5.0)), (-10.0, 15.0));
    assert_eq!(product((-2.0, 3.0), (-5.0, 4.0)), (-15.0, 12.0));
}

#[test]
fn a_factor_that_may_be_zero_leaves_the_other_open_where_it_was() {
    let share = Bounds::between(0.0, 1.0);
    for open in [Bounds::at_most(5.0), Bounds::at_least(-5.0)] {
        assert_eq!(combine(Operator::Multiply, share, open), Ok(open));
        assert_eq!(combine(Operator::Multiply, open, share), Ok(open));
    }
    let divided = combine(Operator::Divide, Bounds::at_most(6.0), Bounds::at_least(2.0));
    assert_eq!(divided, Ok(Bounds::at_most(3.0)));
}

#[test]
fn functions_of_bounds_open_on_one_side_stay_open_there() {
    let (from, to) = (Bounds::at_least(-2.0), Bounds::at_most(3.0));
    assert_eq!(absolute(from), Bounds::at_least(0.0));
    assert_eq!(absolute(to), Bounds::at_least(0.0));
    assert_eq!(absolute(Bounds::at_most(-3.0)), Bounds::at_least(3.0));
    assert_eq!(negative(from), Bounds::at_most(2.0));
    assert_eq!(minimum(from, to), Bounds::at_most(3.0));
    assert_eq!(maximum(from, to), Bounds::at_least(-2.0));
    assert_eq!(square_root(Bounds::at_least(4.0)), Ok(Bounds::at_least(2.0)));
    assert_eq!(mean(&[from, Bounds::exactly(4.0)]), Ok(Bounds::at_least(1.0)));
    assert_eq!(half_range(&[from, Bounds::exactly(4.0)]), Ok(Bounds::at_least(0.0)));
}

#[test]
fn nothing_has_no_mean_and_no_range() {
    assert!(mean(&[]).is_err());
    assert!(half_range(&[]).is_err());
}

#[test]
fn what_is_no_number_is_refused_by_everything_that_can_refuse() {
    let nan = Bounds { low: f64::NAN, high: f64::NAN };
    for bad in [nan, Bounds { low: 1.0, high: 0.0 }, Bounds::exactly(f64::INFINITY)] {
        assert!(usable(bad).is_err());
        assert!(square_root(bad).is_err());
        for operator in OPERATORS {
            assert!(combine(operator, bad, Bounds::exactly(1.0)).is_err());
            assert!(combine(operator, Bounds::exactly(1.0), bad).is_err());
        }
        assert!(mean(&[Bounds::exactly(1.0), bad]).is_err());
    }
}
