//! A low-pass that shifts nothing in time: the weighted mean over a bell round each moment.

use uom::si::f64::{Frequency, Time};
use uom::si::time::second;

/// The bell is cut off at so many of its spreads, beyond which lies 6e-5 of its area.
const REACH: f64 = 4.0;
/// Places of the table within the reach: between them a straight line is right within 2e-6 of the top.
const PLACES: usize = 1024;

/// A Gaussian low-pass.
#[derive(Debug, Clone, PartialEq)]
pub struct LowPass {
    spread: f64,
    table: Vec<f64>,
}

impl LowPass {
    /// The low-pass that lets through 1/√2 of the amplitude (half the power, −3 dB) at a frequency.
    ///
    /// # Formula
    /// w(t) = exp(−t²/(2s²)) with s = √(ln 2)/(2π f); its response is exp(−2π²s²f²), real and positive, so that
    /// nothing is shifted and nothing rings.
    ///
    /// # Valid for
    /// A frequency above 0; samples closer than half of its period.
    ///
    /// # Source
    /// The Fourier transform of a Gaussian; the same bell as the Gaussian profile filter of ISO 16610-21 (from
    /// memory), which states the frequency of half the amplitude, √2 times this one.
    pub fn new(cutoff: Frequency) -> Self {
        let spread = core::f64::consts::LN_2.sqrt() / (core::f64::consts::TAU * cutoff.value);
        let place = |i: usize| {
            let x = REACH * i as f64 / PLACES as f64;
            libm::exp(-x * x / 2.0)
        };
        Self { spread, table: (0..=PLACES).map(place).collect() }
    }

    /// The standard deviation of the bell.
    pub fn spread(&self) -> Time {
        Time::new::<second>(self.spread)
    }

    /// How far to each side it looks.
    pub fn reach(&self) -> Time {
        Time::new::<second>(REACH * self.spread)
    }

    /// The weight of what lies so far away, 1 at no distance and 0 beyond the reach.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "the place is not negative, and beyond the table there is nothing"
    )]
    pub fn weight(&self, distance: Time) -> f64 {
        let place = distance.value.abs() / self.spread / REACH * PLACES as f64;
        let low = place as usize;
        match (self.table.get(low), self.table.get(low + 1)) {
            (Some(here), Some(next)) => here + (next - here) * (place - low as f64),
            _ => 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::frequency::hertz;

    fn response(low_pass: &LowPass, frequency: f64) -> f64 {
        let step = low_pass.spread / 50.0;
        let (mut through, mut all) = (0.0, 0.0);
        for i in -250..=250 {
            let t = f64::from(i) * step;
            let weight = low_pass.weight(Time::new::<second>(t));
            through += weight * libm::cos(core::f64::consts::TAU * frequency * t);
            all += weight;
        }
        through / all
    }

    // The Fourier transform of a Gaussian: 1/√2 at the cut-off, 1/2 at √2 of it, 1/4 at twice. The bell is cut off at
    // four spreads, which costs 1e-4.
    #[test]
    fn half_the_power_passes_at_the_cut_off() {
        let low_pass = LowPass::new(Frequency::new::<hertz>(0.8));
        for (frequency, expected) in [
            (0.0, 1.0),
            (0.8, core::f64::consts::FRAC_1_SQRT_2),
            (0.8 * core::f64::consts::SQRT_2, 0.5),
            (1.6, 0.25),
        ] {
            let found = response(&low_pass, frequency);
            assert!((found - expected).abs() < 2e-4, "{frequency} Hz: {found}");
        }
    }

    // ISO 16610-21, from memory: s(x) = exp(−π(x/(αλ))²)/(αλ), half the amplitude at the wavelength λ, with
    // α = √(ln 2/π) = 0.4697.
    #[test]
    fn the_bell_is_that_of_the_gaussian_profile_filter() {
        let low_pass = LowPass::new(Frequency::new::<hertz>(2.0));
        let wavelength = 1.0 / (2.0 * core::f64::consts::SQRT_2);
        for share in [0.1, 0.3, 0.5] {
            let x = share * wavelength;
            let ratio: f64 = x / (0.4697 * wavelength);
            let published = libm::exp(-core::f64::consts::PI * ratio * ratio);
            let found = low_pass.weight(Time::new::<second>(x));
            assert!((found - published).abs() < 2e-4, "{share}: {found} {published}");
        }
    }

    #[test]
    fn beyond_its_reach_nothing_counts() {
        let low_pass = LowPass::new(Frequency::new::<hertz>(1.0));
        assert!(low_pass.weight(low_pass.reach() * 1.001).abs() <= 0.0);
        assert!((low_pass.weight(Time::new::<second>(0.0)) - 1.0).abs() <= 0.0);
    }
}
