//! The table of units, each with an exact factor and its source. Unit factors occur here and
//! nowhere else.
//!
//! Sources, all from memory: *SI*: the SI brochure (9th edition), prefixes and derived units,
//! with tables 5 and 8 for the units used beside it; *SP 811*: NIST Special Publication 811, appendix B,
//! whose bold factors are exact: inch 0.0254 m, pound 0.453 592 37 kg, standard gravity
//! 9.806 65 m/s², US gallon 231 cubic inches.

use super::{Dimension, parse_unit};

/// A unit as written, reduced to SI: SI value = written × `numerator` / `denominator` + `offset`.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// As written: `mm`, `kJ/(kg·K)`; empty for a plain number.
    pub symbol: String,
    /// Its dimension.
    pub dimension: Dimension,
    /// Factor above the line.
    pub numerator: f64,
    /// Factor below the line.
    pub denominator: f64,
    /// Added after the factor (273.15 for degC), else 0.
    pub offset: f64,
}

/// A row of the table.
#[derive(Debug, Clone, Copy)]
pub(super) struct Row {
    /// How it may be written; the first is how we write it.
    pub(super) symbols: &'static [&'static str],
    dimension: Dimension,
    numerator: f64,
    denominator: f64,
    offset: f64,
}

/// A row from the exponents of length, mass, time, temperature and angle. The factor is a fraction
/// of whole numbers, for `40 / 1e6` is 4e-5 and `40 × 1e-6` is not.
const fn row(
    symbols: &'static [&'static str],
    [length, mass, time, temperature, angle]: [i8; 5],
    numerator: f64,
    denominator: f64,
) -> Row {
    let dimension = Dimension { length, mass, time, temperature, angle, point: false };
    Row { symbols, dimension, numerator, denominator, offset: 0.0 }
}

/// A row of a temperature scale.
const fn scale(
    symbols: &'static [&'static str],
    numerator: f64,
    denominator: f64,
    offset: f64,
) -> Row {
    let plain = row(symbols, [0, 0, 0, 1, 0], numerator, denominator);
    Row { dimension: Dimension { point: true, ..plain.dimension }, offset, ..plain }
}

const LENGTH: [i8; 5] = [1, 0, 0, 0, 0];
const VOLUME: [i8; 5] = [3, 0, 0, 0, 0];
const ANGLE: [i8; 5] = [0, 0, 0, 0, 1];
const TIME: [i8; 5] = [0, 0, 1, 0, 0];
const MASS: [i8; 5] = [0, 1, 0, 0, 0];
const FORCE: [i8; 5] = [1, 1, -2, 0, 0];
const PRESSURE: [i8; 5] = [-1, 1, -2, 0, 0];
const ENERGY: [i8; 5] = [2, 1, -2, 0, 0];
const POWER: [i8; 5] = [2, 1, -3, 0, 0];

#[rustfmt::skip]
pub(super) const TABLE: &[Row] = &[
    row(&["m"], LENGTH, 1.0, 1.0),                                    // SI
    row(&["mm"], LENGTH, 1.0, 1e3),                                   // SI
    row(&["cm"], LENGTH, 1.0, 1e2),                                   // SI
    row(&["dm"], LENGTH, 1.0, 1e1),                                   // SI
    row(&["km"], LENGTH, 1e3, 1.0),                                   // SI
    row(&["um", "µm", "μm"], LENGTH, 1.0, 1e6),                       // SI; both code points of the sign
    row(&["in"], LENGTH, 127.0, 5e3),                                 // SP 811: 0.0254 m exactly
    row(&["ft"], LENGTH, 381.0, 1250.0),                              // SP 811: 12 in
    row(&["L", "l"], VOLUME, 1.0, 1e3),                               // SI, table 8: both letters
    row(&["dL", "dl"], VOLUME, 1.0, 1e4),                             // SI
    row(&["cL", "cl"], VOLUME, 1.0, 1e5),                             // SI
    row(&["mL", "ml"], VOLUME, 1.0, 1e6),                             // SI
    row(&["galUS"], VOLUME, 3_785_411_784.0, 1e12),                   // SP 811: 231 in³
    row(&["qtUS"], VOLUME, 946_352_946.0, 1e12),                      // SP 811: a quarter of galUS
    row(&["rad"], ANGLE, 1.0, 1.0),                                   // SI
    row(&["mrad"], ANGLE, 1.0, 1e3),                                  // SI
    row(&["deg", "°"], ANGLE, std::f64::consts::PI, 180.0),           // SI, table 8
    row(&["s"], TIME, 1.0, 1.0),                                      // SI
    row(&["ms"], TIME, 1.0, 1e3),                                     // SI
    row(&["min"], TIME, 60.0, 1.0),                                   // SI, table 8
    row(&["h"], TIME, 3600.0, 1.0),                                   // SI, table 8
    row(&["Hz"], [0, 0, -1, 0, 0], 1.0, 1.0),                         // SI
    row(&["kg"], MASS, 1.0, 1.0),                                     // SI
    row(&["g"], MASS, 1.0, 1e3),                                      // SI: the gram, never gravity
    row(&["t"], MASS, 1e3, 1.0),                                      // SI, table 8
    row(&["lb"], MASS, 45_359_237.0, 1e8),                            // SP 811: 0.453 592 37 kg exactly
    row(&["N"], FORCE, 1.0, 1.0),                                     // SI
    row(&["kN"], FORCE, 1e3, 1.0),                                    // SI
    row(&["lbf"], FORCE, 44_482_216_152_605.0, 1e13),                 // SP 811: lb × standard gravity
    row(&["Pa"], PRESSURE, 1.0, 1.0),                                 // SI
    row(&["mPa"], PRESSURE, 1.0, 1e3),                                // SI; for viscosities in mPa·s
    row(&["kPa"], PRESSURE, 1e3, 1.0),                                // SI
    row(&["MPa"], PRESSURE, 1e6, 1.0),                                // SI
    row(&["GPa"], PRESSURE, 1e9, 1.0),                                // SI
    row(&["bar"], PRESSURE, 1e5, 1.0),                                // SP 811
    row(&["mbar"], PRESSURE, 1e2, 1.0),                               // SP 811
    row(&["psi"], PRESSURE, 44_482_216_152_605.0, 6_451_600_000.0),   // SP 811: lbf/in²
    row(&["J"], ENERGY, 1.0, 1.0),                                    // SI
    row(&["kJ"], ENERGY, 1e3, 1.0),                                   // SI
    row(&["W"], POWER, 1.0, 1.0),                                     // SI
    row(&["kW"], POWER, 1e3, 1.0),                                    // SI
    row(&["gn"], [1, 0, -2, 0, 0], 980_665.0, 1e5),                   // SP 811, ISO 80000-3: 9.806 65 m/s²
    row(&["cSt"], [2, 0, -1, 0, 0], 1.0, 1e6),                        // SP 811: 1 mm²/s, as oil sheets state it
    row(&["K"], [0, 0, 0, 1, 0], 1.0, 1.0),                           // SI
    row(&["%"], [0; 5], 1.0, 1e2),                                    // SI, 5.4.7
    scale(&["degC", "°C"], 1.0, 1.0, 273.15),                         // SI
    scale(&["degF", "°F"], 5.0, 9.0, 45_967.0 / 180.0),               // SP 811: (F + 459.67) / 1.8
];

/// From this many pascals on a pressure is printed in MPa, and from this many newtons a force in kN.
const LARGE_PRESSURE: f64 = 1e6;
const LARGE_FORCE: f64 = 1e3;

impl Unit {
    /// The unit of a plain number.
    pub fn number() -> Self {
        Self {
            symbol: String::new(),
            dimension: Dimension::NUMBER,
            numerator: 1.0,
            denominator: 1.0,
            offset: 0.0,
        }
    }

    /// The unit in which people write a dimension: `mm`, `L`, `deg`, `kPa`; the coherent SI unit where
    /// there is no custom.
    pub fn of(dimension: Dimension) -> Self {
        let symbol = dimension.usual_symbol();
        match parse_unit(&symbol) {
            Ok((unit, _)) => unit,
            Err(_) => Self { symbol, dimension, ..Self::number() },
        }
    }

    /// As [`Unit::of`], with `MPa` and `kN` for what is large.
    pub fn for_value(dimension: Dimension, si: f64) -> Self {
        let usual = Self::of(dimension);
        let large = match usual.symbol.as_str() {
            "kPa" if si.abs() >= LARGE_PRESSURE => "MPa",
            "N" if si.abs() >= LARGE_FORCE => "kN",
            _ => return usual,
        };
        parse_unit(large).map_or(usual, |(unit, _)| unit)
    }

    /// Whether it is the unit of a plain number that was written without one.
    pub fn is_bare(&self) -> bool {
        self.symbol.is_empty()
    }

    /// From a value written in this unit to SI.
    pub fn to_si(&self, written: f64) -> f64 {
        self.difference_to_si(written) + self.offset
    }

    /// From SI to this unit.
    pub fn from_si(&self, si: f64) -> f64 {
        self.difference_from_si(si - self.offset)
    }

    /// From a difference or width in this unit to SI: without the offset of a temperature scale.
    pub fn difference_to_si(&self, written: f64) -> f64 {
        written * self.numerator / self.denominator
    }

    /// From a difference or width in SI to this unit.
    pub fn difference_from_si(&self, si: f64) -> f64 {
        si * self.denominator / self.numerator
    }

    /// The next larger and the next smaller unit of its dimension, where the table has them.
    pub(crate) fn neighbours(&self) -> Vec<Self> {
        let size = |unit: &Self| unit.difference_to_si(1.0);
        let own = size(self);
        let others = TABLE
            .iter()
            .filter(|row| row.dimension == self.dimension && !self.is_bare())
            .filter_map(|row| row.symbols.first().map(|symbol| Self::of_row(row, symbol)));
        let others: Vec<Self> = others.collect();
        let larger = others.iter().filter(|unit| size(unit) > own);
        let smaller = others.iter().filter(|unit| size(unit) < own);
        let nearest = larger.min_by(|a, b| size(a).total_cmp(&size(b)));
        let next = smaller.max_by(|a, b| size(a).total_cmp(&size(b)));
        nearest.into_iter().chain(next).cloned().collect()
    }

    /// The unit of a row, under the symbol that was written.
    pub(super) fn of_row(row: &Row, symbol: &str) -> Self {
        Self {
            symbol: symbol.to_owned(),
            dimension: row.dimension,
            numerator: row.numerator,
            denominator: row.denominator,
            offset: row.offset,
        }
    }
}

/// Every symbol that the table knows, with its dimension, in the table's order.
pub fn unit_symbols() -> impl Iterator<Item = (&'static str, Dimension)> {
    TABLE.iter().flat_map(|row| row.symbols.iter().map(|symbol| (*symbol, row.dimension)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Published factors: NIST SP 811, appendix B.8, all from memory; those to 7 digits there are
    /// rounded, so they are held to half a unit of their last digit.
    #[test]
    fn factors_are_those_published() {
        let exact = [
            ("in", 0.0254),
            ("ft", 0.3048),
            ("lb", 0.453_592_37),
            ("gn", 9.806_65),
            ("galUS", 3.785_411_784e-3),
            ("qtUS", 0.946_352_946e-3),
            ("lbf", 4.448_221_615_260_5),
            ("psi", 6_894.757_293_168_361),
            ("km/h", 1.0 / 3.6),
            ("L/min", 1e-3 / 60.0),
            ("mm^2/s", 1e-6),
            ("kJ/(kg·K)", 1e3),
            ("N/mm", 1e3),
            ("cm^4", 1e-8),
            ("g/cm^3", 1e3),
            ("mPa·s", 1e-3),
            ("lbf·in", 0.112_984_829_027_616_67),
        ];
        for (symbol, factor) in exact {
            let unit = parse_unit(symbol).unwrap().0;
            // Two roundings at most, of the product and of the quotient.
            let error = (unit.to_si(1.0) - factor).abs();
            assert!(error <= 2.0 * f64::EPSILON * factor, "{symbol}: {error:e}");
        }
        let rounded = [
            ("psi", 6_894.757, 5e-4),
            ("lbf", 4.448_222, 5e-7),
            ("lbf·ft", 1.355_818, 5e-7),
            ("deg", 0.017_453_29, 5e-9),
        ];
        for (symbol, factor, half_digit) in rounded {
            let unit = parse_unit(symbol).unwrap().0;
            assert!((unit.to_si(1.0) - factor).abs() <= half_digit, "{symbol}");
        }
    }

    #[test]
    fn temperature_scales_meet_where_they_should() {
        let (c, f) = (parse_unit("degC").unwrap().0, parse_unit("degF").unwrap().0);
        // The freezing and boiling points that define the scales, and where the two agree.
        for (celsius, fahrenheit) in [(0.0, 32.0), (100.0, 212.0), (-40.0, -40.0)] {
            assert!((c.to_si(celsius) - f.to_si(fahrenheit)).abs() < 1e-12);
        }
        assert!((f.difference_to_si(9.0) - 5.0).abs() < 1e-15);
    }

    #[test]
    fn no_symbol_stands_twice() {
        let mut all: Vec<&str> = TABLE.iter().flat_map(|r| r.symbols.iter().copied()).collect();
        all.sort_unstable();
        let before = all.len();
        all.dedup();
        assert_eq!(all.len(), before);
    }

    #[test]
    fn large_pressures_and_forces_have_larger_units() {
        let pressure = parse_unit("Pa").unwrap().0.dimension;
        assert_eq!(Unit::for_value(pressure, 80e3).symbol, "kPa");
        assert_eq!(Unit::for_value(pressure, -110e6).symbol, "MPa");
        let force = parse_unit("N").unwrap().0.dimension;
        assert_eq!(Unit::for_value(force, 999.0).symbol, "N");
        assert_eq!(Unit::for_value(force, 9e3).symbol, "kN");
    }
}
