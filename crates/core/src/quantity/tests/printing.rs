//! Tests: printing.

use super::*;

fn dimension(unit: &str) -> Dimension {
    parse_unit(unit).unwrap().0.dimension
}

#[test]
fn values_are_printed_with_the_digits_they_deserve() {
    let cases = [
        (0.0624, 0.0, "mm", "62.4 mm"),
        (0.0045, 0.0, "L", "4.5 L"),
        (0.004_501_234, 0.0, "L", "4.5012 L"),
        (30.0_f64 / 180.0 * std::f64::consts::PI, 0.0, "deg", "30 deg"),
        (110e6, 0.0, "MPa", "110 MPa"),
        (495.3e6, 1.2e6, "Pa", "495.3 MPa"),
        (80e3, 0.0, "Pa", "80 kPa"),
        (9000.0, 0.0, "N", "9 kN"),
        (12e-3 / 60.0, 0.0, "L/min", "12 L/min"),
        (30e-6, 0.0, "mm^2/s", "30 mm^2/s"),
        (600e3, 0.0, "N/mm", "600 N/mm"),
        (852.0, 0.0, "kg/m^3", "852 kg/m^3"),
        (2100.0, 0.0, "J/(kg·K)", "2.1 kJ/(kg·K)"),
        (0.000_72, 0.0, "1/K", "0.00072 1/K"),
        (313.15, 0.0, "degC", "40 degC"),
        (313.15, 1.2, "degC", "40.0 degC"),
        (0.0416, 0.0, "m^2", "416 cm^2"),
        (1.0 / 3.0, 0.0, "%", "0.3333"),
        (0.95, 0.0, "%", "0.95"),
        (0.0230, 0.0026, "mm", "23.0 mm"),
        (0.022_96, 0.000_996, "mm", "23.0 mm"),
        (1.2344, 0.25, "mm", "1230 mm"),
        (-0.0085, 0.0015, "mm", "-8.5 mm"),
        (-0.000_01, 0.0026, "mm", "0.0 mm"),
        (0.0, 0.0, "mm", "0 mm"),
        (2.75, 0.0, "mm", "2750 mm"),
        (123.456_789, 0.0, "mm", "123457 mm"),
        (1e-12, 0.0, "mm", "1e-9 mm"),
        (1e12, 0.0, "mm", "1e15 mm"),
        (3.0, 0.0, "kg·m^2/K", "3 m^2·kg/K"),
    ];
    for (si, u, unit, text) in cases {
        assert_eq!(print_amount(si, u, dimension(unit)), text);
    }
    let inch = parse_unit("in").unwrap().0;
    assert_eq!(print_in(0.0127, 0.0, &inch), "0.5 in");
    assert_eq!(print_in(0.0127, 0.0003, &inch), "0.500 in");
    assert_eq!(print_amount(f64::NAN, 0.0, Dimension::NUMBER), "not a number");
    assert_eq!(print_amount(f64::INFINITY, 0.0, dimension("mm")), "infinite mm");
}

#[test]
fn a_value_with_its_uncertainty_can_be_read_again() {
    assert_eq!(print_standard(0.023, 0.0026, dimension("mm")), "23.0 mm (u 2.6 mm)");
    assert_eq!(print_standard(0.023, 0.0, dimension("mm")), "23 mm");
    assert_eq!(print_standard(313.15, 1.15, dimension("degC")), "40.0 degC (u 1.1 K)");
    assert_eq!(print_standard(0.5, 0.0289, Dimension::NUMBER), "0.500 (u 0.029)");
    let read = parse_quantity(&scalar("23.0 mm (u 2.6 mm)")).unwrap();
    assert_eq!(read.uncertainty, StatedUncertainty::Standard(2.6 / 1000.0));
}

#[test]
fn two_values_that_differ_never_print_alike() {
    let pair = |a, b, u, unit| print_pair(a, b, u, dimension(unit));
    let text = |a: &str, b: &str| (a.to_owned(), b.to_owned());
    assert_eq!(pair(0.005, 0.004_999_99, 0.0, "L"), text("5.00000 L", "4.99999 L"));
    assert_eq!(pair(0.010, 0.009_99, 0.0026, "mm"), text("10.00 mm", "9.99 mm"));
    assert_eq!(pair(0.005, 0.005, 0.0, "L"), text("5 L", "5 L"));
    assert_eq!(pair(110e6, 56e6, 0.0, "Pa"), text("110 MPa", "56 MPa"));
    assert_eq!(pair(0.9e6, 1.1e6, 0.0, "Pa"), text("0.9 MPa", "1.1 MPa"));
}
