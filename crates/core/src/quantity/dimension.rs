//! Dimensions at run time: formulas come from YAML and are checked when they are read.

/// Exponents of the base dimensions. Angle is kept apart so that `deg` against a plain number is an
/// error; a temperature *point* (`degC`) is told from a difference (`K`) by `point`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Dimension {
    /// Length.
    pub length: i8,
    /// Mass.
    pub mass: i8,
    /// Time.
    pub time: i8,
    /// Temperature.
    pub temperature: i8,
    /// Angle.
    pub angle: i8,
    /// A point on a scale (a temperature in degC), not a difference.
    pub point: bool,
}

/// Dimensions that have a name of their own and a usual unit: length, mass, time, temperature, angle,
/// point; the name; the unit. The one table for messages and reports.
#[rustfmt::skip]
const NAMED: &[([i8; 5], bool, &str, &str)] = &[
    ([ 0, 0,  0,  0,  0], false, "a plain number", ""),
    ([ 1, 0,  0,  0,  0], false, "a length", "mm"),
    ([ 2, 0,  0,  0,  0], false, "an area", "cm^2"),
    ([ 3, 0,  0,  0,  0], false, "a volume", "L"),
    ([ 0, 0,  0,  0,  1], false, "an angle", "deg"),
    ([ 0, 0,  1,  0,  0], false, "a time", "s"),
    ([ 0, 1,  0,  0,  0], false, "a mass", "kg"),
    ([-3, 1,  0,  0,  0], false, "a density", "kg/m^3"),
    ([ 1, 0, -1,  0,  0], false, "a speed", "m/s"),
    ([ 1, 0, -2,  0,  0], false, "an acceleration", "m/s^2"),
    ([ 1, 1, -2,  0,  0], false, "a force", "N"),
    ([-1, 1, -2,  0,  0], false, "a pressure", "kPa"),
    ([ 0, 1, -2,  0,  0], false, "a stiffness", "N/mm"),
    ([ 3, 0, -1,  0,  0], false, "a volume flow", "L/min"),
    ([ 0, 1, -1,  0,  0], false, "a mass flow", "kg/s"),
    ([ 0, 0,  0,  1,  0], true,  "a temperature", "degC"),
    ([ 0, 0,  0,  1,  0], false, "a temperature difference", "K"),
    ([ 0, 0,  0, -1,  0], false, "an expansion coefficient", "1/K"),
    ([ 2, 0, -1,  0,  0], false, "a kinematic viscosity", "mm^2/s"),
    ([-1, 1, -1,  0,  0], false, "a dynamic viscosity", "Pa·s"),
    ([ 2, 0, -2, -1,  0], false, "a specific heat capacity", "kJ/(kg·K)"),
    ([ 1, 1, -3, -1,  0], false, "a thermal conductivity", "W/(m·K)"),
    ([ 0, 1, -3, -1,  0], false, "a heat transfer coefficient", "W/(m^2·K)"),
    // The same exponents as an energy; descriptions state torques.
    ([ 2, 1, -2,  0,  0], false, "a torque", "N·m"),
    ([ 2, 1, -3,  0,  0], false, "a power", "W"),
    ([ 2, 1, -3, -1,  0], false, "a thermal conductance", "W/K"),
    ([ 0, 0, -1,  0,  0], false, "a frequency", "Hz"),
    ([ 0, 0, -1,  0,  1], false, "a turning speed", "deg/s"),
    ([-1, 0,  0,  0,  0], false, "a number per length", "1/mm"),
    ([ 4, 0,  0,  0,  0], false, "a second moment of area", "cm^4"),
];

impl Dimension {
    /// A plain number.
    pub const NUMBER: Self =
        Self { length: 0, mass: 0, time: 0, temperature: 0, angle: 0, point: false };

    /// Whether it is a plain number.
    pub fn is_number(self) -> bool {
        self == Self::NUMBER
    }

    /// Dimension of a product; none where a temperature point is a factor, or a power grows
    /// beyond what can be meant.
    pub fn times(self, other: Self) -> Option<Self> {
        self.combined(other, 1)
    }

    /// Dimension of a quotient; none as for [`Dimension::times`].
    pub fn over(self, other: Self) -> Option<Self> {
        self.combined(other, -1)
    }

    /// Dimension of a whole power; none as for [`Dimension::times`].
    pub fn power(self, exponent: i8) -> Option<Self> {
        Self::NUMBER.combined(self, exponent)
    }

    /// Dimension of a square root; none where an exponent is odd or for a temperature point.
    pub fn root(self) -> Option<Self> {
        let all = self.exponents();
        if self.point || all.iter().any(|e| e % 2 != 0) {
            return None;
        }
        Some(Self::of(all.map(|e| e / 2), false))
    }

    /// Dimension of a sum. A temperature and a difference give a temperature; two temperatures
    /// cannot be added.
    pub fn plus(self, other: Self) -> Option<Self> {
        let same = self.exponents() == other.exponents();
        (same && !(self.point && other.point))
            .then_some(Self { point: self.point || other.point, ..self })
    }

    /// Dimension of a difference. Two temperatures give a difference; a temperature cannot be taken
    /// from a difference.
    pub fn minus(self, other: Self) -> Option<Self> {
        let same = self.exponents() == other.exponents();
        (same && (self.point || !other.point))
            .then_some(Self { point: self.point && !other.point, ..self })
    }

    /// What the difference of two of its values is: itself, but for a temperature.
    #[must_use]
    pub fn difference(self) -> Self {
        Self { point: false, ..self }
    }

    /// In words, with an article: `a length`, `a volume flow`; by its unit where it has no name.
    pub fn name(self) -> String {
        match self.named() {
            Some((.., name, _)) => (*name).to_owned(),
            None => format!("a quantity in {}", self.si_symbol()),
        }
    }

    /// The unit people write it in: `mm`, `L/min`; empty for a plain number.
    pub fn usual_symbol(self) -> String {
        match self.named() {
            Some((.., unit)) => (*unit).to_owned(),
            None => self.si_symbol(),
        }
    }

    /// The coherent SI unit as the grammar of units writes it: `m`, `kg/(m·s^2)`.
    pub fn si_symbol(self) -> String {
        const BASES: [&str; 5] = ["m", "kg", "s", "K", "rad"];
        let side = |sign: i8| -> Vec<String> {
            let powers = BASES.iter().zip(self.exponents());
            powers
                .filter(|(_, e)| e.signum() == sign)
                .map(|(base, e)| match e.unsigned_abs() {
                    1 => (*base).to_owned(),
                    n => format!("{base}^{n}"),
                })
                .collect()
        };
        let (above, below) = (side(1), side(-1));
        let above_text = above.join("·");
        match (above.is_empty(), below.as_slice()) {
            (_, []) => above_text,
            (true, [one]) => format!("1/{one}"),
            (true, many) => format!("1/({})", many.join("·")),
            (false, [one]) => format!("{above_text}/{one}"),
            (false, many) => format!("{above_text}/({})", many.join("·")),
        }
    }

    fn named(self) -> Option<&'static ([i8; 5], bool, &'static str, &'static str)> {
        NAMED.iter().find(|(all, point, ..)| *all == self.exponents() && *point == self.point)
    }

    fn exponents(self) -> [i8; 5] {
        [self.length, self.mass, self.time, self.temperature, self.angle]
    }

    fn of([length, mass, time, temperature, angle]: [i8; 5], point: bool) -> Self {
        Self { length, mass, time, temperature, angle, point }
    }

    /// `self · other^exponent`.
    fn combined(self, other: Self, exponent: i8) -> Option<Self> {
        if self.point || other.point {
            return None;
        }
        let one = |a: i8, b: i8| a.checked_add(b.checked_mul(exponent)?);
        Some(Self {
            length: one(self.length, other.length)?,
            mass: one(self.mass, other.mass)?,
            time: one(self.time, other.time)?,
            temperature: one(self.temperature, other.temperature)?,
            angle: one(self.angle, other.angle)?,
            point: false,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Kind, Unit, parse_unit};

    fn dimension(unit: &str) -> Dimension {
        parse_unit(unit).unwrap().0.dimension
    }

    #[test]
    fn every_named_dimension_has_a_unit_that_measures_it() {
        for (all, point, name, unit) in NAMED {
            let named = Dimension::of(*all, *point);
            assert_eq!(Unit::of(named).dimension, named, "{name} in {unit}");
            if !point {
                let si = named.si_symbol();
                let parsed = if si.is_empty() { Dimension::NUMBER } else { dimension(&si) };
                assert_eq!(parsed, named, "{name} in {si}");
            }
        }
    }

    #[test]
    fn names_are_words() {
        let cases = [
            ("mm", "a length"),
            ("deg", "an angle"),
            ("MPa", "a pressure"),
            ("L/min", "a volume flow"),
            ("N·m", "a torque"),
            ("J", "a torque"),
            ("degC", "a temperature"),
            ("K", "a temperature difference"),
            ("%", "a plain number"),
            ("kg·m^2/K", "a quantity in m^2·kg/K"),
        ];
        for (unit, name) in cases {
            assert_eq!(dimension(unit).name(), name);
        }
    }

    #[test]
    fn dimensions_multiply_divide_and_take_roots() {
        let (m, s, n) = (dimension("m"), dimension("s"), dimension("N"));
        assert_eq!(m.times(m), Some(dimension("m^2")));
        assert_eq!(m.over(s), Some(dimension("m/s")));
        assert_eq!(m.power(-2), Some(dimension("1/m^2")));
        assert_eq!(dimension("m^2/s^2").root(), Some(dimension("m/s")));
        assert_eq!(dimension("m^3").root(), None);
        assert_eq!(n.over(dimension("mm")), Some(crate::quantity::Stiffness::DIMENSION));
        assert_eq!(dimension("m^9").power(9), Some(Dimension { length: 81, ..Dimension::NUMBER }));
        assert_eq!(dimension("m^9").power(100), None);
    }

    #[test]
    fn temperatures_are_points_and_their_differences_are_not() {
        let (point, difference) = (dimension("degC"), dimension("K"));
        assert_eq!(point.minus(point), Some(difference));
        assert_eq!(point.minus(difference), Some(point));
        assert_eq!(point.plus(difference), Some(point));
        assert_eq!(difference.plus(point), Some(point));
        assert_eq!(difference.minus(difference), Some(difference));
        assert_eq!(point.plus(point), None);
        assert_eq!(difference.minus(point), None);
        assert_eq!(point.times(Dimension::NUMBER), None);
        assert_eq!(dimension("mm").plus(dimension("s")), None);
    }
}
