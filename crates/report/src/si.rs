//! The symbol of a dimension's unit in SI base units: what every number in JSON is in.

use sumpwright_core::quantity::Dimension;

/// `m`, `kg·m^-1·s^-2`, `rad`; `1` for a plain number.
pub(crate) fn symbol(dimension: Dimension) -> String {
    let powers = [
        ("kg", dimension.mass),
        ("m", dimension.length),
        ("s", dimension.time),
        ("K", dimension.temperature),
        ("rad", dimension.angle),
    ];
    let parts: Vec<_> = powers
        .into_iter()
        .filter(|(_, power)| *power != 0)
        .map(|(unit, power)| if power == 1 { unit.to_owned() } else { format!("{unit}^{power}") })
        .collect();
    if parts.is_empty() { "1".to_owned() } else { parts.join("·") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pressure_is_written_in_base_units() {
        let pressure = Dimension { mass: 1, length: -1, time: -2, ..Dimension::default() };
        assert_eq!(symbol(pressure), "kg·m^-1·s^-2");
        assert_eq!(symbol(Dimension::default()), "1");
    }
}
