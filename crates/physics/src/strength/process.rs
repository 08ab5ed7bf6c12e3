//! How thin a wall or a fin's root each way of making a pan can be expected to give.
//!
//! All figures are common practice, no source: the lower end of what shops of each trade quote. A maker who
//! proves thinner walls knows better. Where practice has no figure there is none here.

use uom::si::f64::Length;
use uom::si::length::meter;

/// A way of making a pan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Process {
    /// Cast in a sand mould that is broken for each part.
    SandCasting,
    /// Cast by gravity or low pressure in a metal mould.
    PermanentMouldCasting,
    /// Cast in a metal die under high pressure.
    DieCasting,
    /// Drawn from sheet in a press.
    Stamping,
    /// Cut, bent and welded from sheet.
    Fabrication,
    /// Cut from the solid.
    Machining,
}

/// The least wall that the process makes; `None` where common practice has no figure.
///
/// # Source
/// Common practice, no source: lower end of 3.5–5 mm in sand, 3–4 mm in a permanent mould, 1.5–2.5 mm in a die,
/// 1.0–2.0 mm in sheet. Welding takes its figure from the sheet too.
pub fn wall_minimum(process: Process) -> Option<Length> {
    match process {
        Process::SandCasting => Some(millimetres(3.5)),
        Process::PermanentMouldCasting => Some(millimetres(3.0)),
        Process::DieCasting => Some(millimetres(1.5)),
        Process::Stamping | Process::Fabrication => Some(millimetres(1.0)),
        Process::Machining => None,
    }
}

/// The least root of a fin that the process makes; `None` where common practice has no figure, or no fins.
///
/// # Source
/// Common practice, no source: lower end of 5–6 mm in sand, 3–4 mm in a permanent mould, 1.5–2 mm in a die.
pub fn fin_root_minimum(process: Process) -> Option<Length> {
    match process {
        Process::SandCasting => Some(millimetres(5.0)),
        Process::PermanentMouldCasting => Some(millimetres(3.0)),
        Process::DieCasting => Some(millimetres(1.5)),
        Process::Stamping | Process::Fabrication | Process::Machining => None,
    }
}

/// Whether the process can make a fin as part of the wall: a press cannot, since the sheet is as thick
/// everywhere as it was.
pub fn makes_fins(process: Process) -> bool {
    process != Process::Stamping
}

fn millimetres(value: f64) -> Length {
    Length::new::<meter>(value / 1000.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALL: [Process; 6] = [
        Process::SandCasting,
        Process::PermanentMouldCasting,
        Process::DieCasting,
        Process::Stamping,
        Process::Fabrication,
        Process::Machining,
    ];

    #[test]
    fn the_finer_the_mould_the_thinner_the_casting() {
        let casting = [Process::SandCasting, Process::PermanentMouldCasting, Process::DieCasting];
        for table in [wall_minimum, fin_root_minimum] {
            assert!(casting.is_sorted_by(|coarse, fine| table(*coarse) > table(*fine)));
        }
    }

    /// Common practice, no source; typed in a second time, so that a slip in either copy shows.
    #[test]
    fn the_figures_are_those_of_the_trade() {
        let tenths = |length: Option<Length>| length.map(|it| (it.value * 10_000.0).round());
        let walls = ALL.map(|process| tenths(wall_minimum(process)));
        assert_eq!(walls, [Some(35.0), Some(30.0), Some(15.0), Some(10.0), Some(10.0), None]);
        let roots = ALL.map(|process| tenths(fin_root_minimum(process)));
        assert_eq!(roots, [Some(50.0), Some(30.0), Some(15.0), None, None, None]);
    }

    #[test]
    fn a_fin_is_never_thinner_at_its_root_than_the_wall_may_be() {
        for process in ALL {
            if let (Some(root), Some(wall)) = (fin_root_minimum(process), wall_minimum(process)) {
                assert!(root >= wall);
            }
            assert!(makes_fins(process) || fin_root_minimum(process).is_none());
        }
    }
}
