//! American taper pipe threads, 1/8 to 1/2 inch: the sizes that drain plugs use.

use uom::si::f64::Length;
use uom::si::length::meter;

/// One inch in metres, exact.
const INCH: f64 = 0.0254;

/// How much a taper pipe thread grows in diameter over its length.
///
/// # Source
/// ASME B1.20.1: 3/4 inch per foot, seen in public text.
pub const TAPER: f64 = 1.0 / 16.0;

/// A taper pipe thread (NPT).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PipeThread {
    /// D: outer diameter of the pipe.
    pub outside: Length,
    /// n: threads per inch.
    pub per_inch: f64,
}

/// Size as written, pipe's outer diameter in inches, threads per inch: ASME B1.20.1, seen in public text.
const SIZES: [(&str, f64, f64); 4] =
    [("1/8", 0.405, 27.0), ("1/4", 0.540, 18.0), ("3/8", 0.675, 18.0), ("1/2", 0.840, 14.0)];

impl PipeThread {
    /// The thread of a designation such as `1/2-14 NPT` or `1/4 NPT`; none for any other text.
    pub fn named(text: &str) -> Option<Self> {
        let size = text.trim().strip_suffix("NPT")?.trim_end();
        let (size, stated) = match size.split_once('-') {
            Some((size, number)) => (size, Some(number)),
            None => (size, None),
        };
        let (_, outside, per_inch) = *SIZES.iter().find(|(name, ..)| *name == size.trim())?;
        let agrees = stated.is_none_or(|number| number.trim() == format!("{per_inch}"));
        agrees.then(|| Self { outside: inches(outside), per_inch })
    }

    /// The thread of a pipe's outer diameter; none where no size has it.
    pub fn of_outside(outside: Length) -> Option<Self> {
        SIZES
            .iter()
            .find(|(_, size, _)| (inches(*size) - outside).abs() < inches(1e-6))
            .map(|&(_, size, per_inch)| Self { outside: inches(size), per_inch })
    }

    /// The pitch, one inch over the threads in it.
    pub fn pitch(&self) -> Length {
        inches(1.0 / self.per_inch)
    }

    /// E0, the pitch diameter at the small end.
    ///
    /// # Formula
    /// E0 = D − (0.05 D + 1.1)/n, in inches.
    /// # Source
    /// ASME B1.20.1, seen in public text.
    pub fn small_pitch_diameter(&self) -> Length {
        let outside = self.outside.value / INCH;
        inches(outside - (0.05 * outside + 1.1) / self.per_inch)
    }

    /// L2, the length of thread that holds.
    ///
    /// # Formula
    /// L2 = (0.80 D + 6.8)/n, in inches.
    /// # Source
    /// ASME B1.20.1, seen in public text.
    pub fn effective_length(&self) -> Length {
        inches((0.80 * (self.outside.value / INCH) + 6.8) / self.per_inch)
    }

    /// The bore that the small end leaves for the oil.
    ///
    /// # Formula
    /// E0 less the height of the thread, 0.8 of the pitch.
    /// # Source
    /// ASME B1.20.1, from memory.
    pub fn bore(&self) -> Length {
        self.small_pitch_diameter() - 0.8 * self.pitch()
    }
}

fn inches(value: f64) -> Length {
    Length::new::<meter>(value * INCH)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn inch(length: Length) -> f64 {
        length.value / INCH
    }

    // ASME B1.20.1 table 2: E0 and L2 seen in public text; the small minor diameter K0 from memory.
    #[test]
    fn sizes_are_those_of_the_standard() {
        for (name, small, effective, minor) in [
            ("1/8-27 NPT", 0.36351, 0.2639, 0.33388),
            ("1/4-18 NPT", 0.47739, 0.4018, 0.43294),
            ("3/8-18 NPT", 0.61201, 0.4078, 0.56757),
            ("1/2-14 NPT", 0.75843, 0.5337, 0.70129),
        ] {
            let thread = PipeThread::named(name).unwrap();
            assert!((inch(thread.small_pitch_diameter()) - small).abs() < 1.1e-5, "{name}");
            assert!((inch(thread.effective_length()) - effective).abs() < 6e-5, "{name}");
            assert!((inch(thread.bore()) - minor).abs() < 2e-5, "{name}");
            assert_eq!(PipeThread::of_outside(thread.outside), Some(thread));
        }
    }

    #[test]
    fn other_texts_are_none() {
        for text in ["1/2-18 NPT", "NPT", "1/2", "3/4 NPT", "1/2-14 NPTF", "G1/4", "1/2- NPT"] {
            assert_eq!(PipeThread::named(text), None, "{text}");
        }
        assert_eq!(PipeThread::named("1/2 NPT"), PipeThread::named(" 1/2-14NPT "));
    }
}
