//! The decision rules. Every comparison asks to be shown inside: what is not a number is never inside.

use crate::document::rulebook::Decision;

/// How far inside a limit a reading lies: not negative is inside. Bounds and their standard uncertainties in
/// one SI unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Margin {
    /// The least it can be.
    pub low: f64,
    /// The most it can be.
    pub high: f64,
    /// Standard uncertainty of `low`.
    pub u_low: f64,
    /// Standard uncertainty of `high`.
    pub u_high: f64,
}

/// Where margins stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Shown to be inside every limit.
    Inside,
    /// Shown to be outside one.
    Outside,
    /// Neither is shown.
    Between,
}

/// Factor on the standard uncertainty for one-sided 95 %: the 0.95 quantile of the normal distribution.
///
/// # Source
/// ISO 14253-1 idea, from memory; JCGM 106, 8.3.2 (guarded acceptance), from memory.
const GUARD_95: f64 = 1.645;

/// The factor by which a decision rule multiplies the standard uncertainty before it is taken off.
pub fn guard_factor(decision: Decision) -> f64 {
    match decision {
        Decision::Guarded => GUARD_95,
        Decision::Simple => 0.0,
        Decision::Probability(p) => normal_quantile(p),
    }
}

/// Whether readings with these margins (one a limit, all from one reading) are inside.
///
/// For a probability of conformity and two limits the probability is of lying between both.
pub fn decide(decision: Decision, margins: &[Margin]) -> Standing {
    if let (Decision::Probability(p), [first, second]) = (decision, margins) {
        return decide_band(p, *first, *second);
    }
    let factor = guard_factor(decision);
    let inside = |m: &Margin| m.low - factor * m.u_low >= 0.0;
    let outside = |m: &Margin| m.high + factor * m.u_high < 0.0;
    if !margins.is_empty() && margins.iter().all(inside) {
        Standing::Inside
    } else if margins.iter().any(outside) {
        Standing::Outside
    } else {
        Standing::Between
    }
}

/// JCGM 106, clause 7: p_c = Φ((T_U − y)/u) − Φ((T_L − y)/u), from memory.
fn decide_band(p: f64, first: Margin, second: Margin) -> Standing {
    let least =
        share_above_zero(first.low, first.u_low) + share_above_zero(second.low, second.u_low) - 1.0;
    let most = share_above_zero(first.high, first.u_high)
        + share_above_zero(second.high, second.u_high)
        - 1.0;
    if least >= p {
        Standing::Inside
    } else if most < 1.0 - p {
        Standing::Outside
    } else {
        Standing::Between
    }
}

/// Probability that a normal quantity with this mean and standard uncertainty is not negative.
fn share_above_zero(mean: f64, u: f64) -> f64 {
    if u > 0.0 {
        0.5 * libm::erfc(-mean / u / core::f64::consts::SQRT_2)
    } else if mean >= 0.0 {
        1.0
    } else {
        0.0
    }
}

/// The quantile of the standard normal distribution, by bisection on the distribution itself: exact to
/// rounding, and needed once a run.
fn normal_quantile(p: f64) -> f64 {
    let (mut low, mut high) = (-40.0_f64, 40.0_f64);
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if share_above_zero(middle, 1.0) < p {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn margin(value: f64, u: f64) -> Margin {
        Margin { low: value, high: value, u_low: u, u_high: u }
    }

    fn close(a: f64, b: f64, by: f64) {
        assert!((a - b).abs() <= by, "{a} is not {b} within {by}");
    }

    // JCGM 106 examples (figures from memory, they reproduce): burst pressure 509.7 kPa, u 8.6 kPa, least
    // 490 kPa: 0.99; breakdown voltage −5.47 V, u 0.05 V, most −5.40 V: 0.92.
    #[test]
    fn the_probability_of_conformity_meets_the_worked_examples() {
        close(share_above_zero(509.7 - 490.0, 8.6), 0.99, 0.005);
        close(share_above_zero(-5.40 + 5.47, 0.05), 0.92, 0.005);
    }

    // JCGM 106: 10.15 mm, u 0.10 mm, tolerance 10.0 ± 0.3 mm.
    #[test]
    fn a_band_asks_for_both_sides_at_once() {
        let (low, high) = (margin(0.45, 0.10), margin(0.15, 0.10));
        let p = share_above_zero(0.45, 0.10) + share_above_zero(0.15, 0.10) - 1.0;
        assert_eq!(decide(Decision::Probability(p - 1e-9), &[low, high]), Standing::Inside);
        assert_eq!(decide(Decision::Probability(p + 1e-9), &[low, high]), Standing::Between);
    }

    // The one-sided 95 % factor of tables of the normal distribution.
    #[test]
    fn the_quantile_for_95_percent_is_1_645() {
        close(normal_quantile(0.95), 1.644_854, 1e-6);
        close(normal_quantile(0.5), 0.0, 1e-12);
    }

    #[test]
    fn guarded_acceptance_takes_1_645_u_off_on_both_sides() {
        for (value, standing) in [
            (1.646, Standing::Inside),
            (1.644, Standing::Between),
            (-1.644, Standing::Between),
            (-1.646, Standing::Outside),
        ] {
            assert_eq!(decide(Decision::Guarded, &[margin(value, 1.0)]), standing, "{value}");
        }
    }

    #[test]
    fn a_limit_itself_is_inside_when_everything_is_exact() {
        assert_eq!(decide(Decision::Guarded, &[margin(0.0, 0.0)]), Standing::Inside);
        assert_eq!(decide(Decision::Simple, &[margin(0.0, 5.0)]), Standing::Inside);
    }

    #[test]
    fn what_is_not_a_number_is_neither_inside_nor_outside() {
        assert_eq!(decide(Decision::Guarded, &[margin(f64::NAN, 0.0)]), Standing::Between);
        assert_eq!(decide(Decision::Guarded, &[margin(1.0, f64::NAN)]), Standing::Between);
        assert_eq!(decide(Decision::Simple, &[]), Standing::Between);
    }

    #[test]
    fn a_bound_decides_only_from_its_safe_side() {
        let at_most = Margin { low: f64::NEG_INFINITY, high: -3.0, u_low: 0.0, u_high: 1.0 };
        assert_eq!(decide(Decision::Guarded, &[at_most]), Standing::Outside);
        let at_most = Margin { high: 3.0, ..at_most };
        assert_eq!(decide(Decision::Guarded, &[at_most]), Standing::Between);
        let at_least = Margin { low: 3.0, high: f64::INFINITY, u_low: 1.0, u_high: 0.0 };
        assert_eq!(decide(Decision::Guarded, &[at_least]), Standing::Inside);
    }
}
