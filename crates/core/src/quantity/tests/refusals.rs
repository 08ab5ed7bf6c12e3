//! Tests: refusals.

use super::*;

#[test]
fn a_number_is_refused_at_its_token() {
    insta::assert_snapshot!(lines("
        62,4 mm
        1,000.5 mm
        1_000 mm
        .5 mm
        -.5 mm
        5. mm
        1.2.3 mm
        0x1F mm
        nan mm
        -inf
        .inf
        1e999 mm
        1e-999 mm
        1e308 km
        1/0 in
        1/2.5 in
        1.5/2 in
        abc
        - 5 mm
        −5 mm
        mm
        (u 1 mm)
        5 6 mm
        62.4 mm 3
        62.4 +- 0.3 mm
    "), @r#"
    62,4 mm                          NotAQuantity at "62,4": the number `62,4` holds a comma; write a point: `62.4`
    1,000.5 mm                       NotAQuantity at "1,000.5": the number `1,000.5` holds a comma; write the number without commas; the decimal sign is a point
    1_000 mm                         NotAQuantity at "1_000": the number `1_000` holds a `_`; write `1000`
    .5 mm                            NotAQuantity at ".5": the number `.5` begins with a point; write `0.5`
    -.5 mm                           NotAQuantity at "-.5": the number `-.5` begins with a point; write `-0.5`
    5. mm                            NotAQuantity at "5.": no digit follows the point of `5.`; write `5`, or the digits after the point
    1.2.3 mm                         NotAQuantity at "1.2.3": the number `1.2.3` holds two points; write one point
    0x1F mm                          NotAQuantity at "0x1F": the number `0x1F` is hexadecimal; write it in decimal digits
    nan mm                           NotFinite at "nan": `nan` is not a finite number; write the number that was measured, or leave the key out
    -inf                             NotFinite at "-inf": `-inf` is not a finite number; write the number that was measured, or leave the key out
    .inf                             NotFinite at ".inf": `.inf` is not a finite number; write the number that was measured, or leave the key out
    1e999 mm                         NotFinite at "1e999": the number `1e999` is too large to be held; look at its exponent
    1e-999 mm                        OutOfRange at "1e-999": the number `1e-999` is too small to be held; look at its exponent, or write 0
    1e308 km                         NotFinite at "1e308": the number is too large to be held in SI units; look at its exponent
    1/0 in                           NotAQuantity at "1/0": the fraction `1/0` divides by zero; write another denominator
    1/2.5 in                         NotAQuantity at "1/2.5": the fraction `1/2.5` holds a point; a fraction takes whole numbers; or write a decimal number
    1.5/2 in                         NotAQuantity at "1.5/2": the fraction `1.5/2` cannot be read; a fraction is two whole numbers, as in `1/2` or `1 1/2`
    abc                              NotAQuantity at "abc": a number was expected, found `abc`; write a number and its unit, as in `62.4 mm`
    - 5 mm                           NotAQuantity at "-": a number was expected, found `-`; write a number and its unit, as in `62.4 mm`
    −5 mm                            NotAQuantity at "−": a dash that is no minus sign; write the minus sign as `-`
    mm                               NotAQuantity at "mm": a number was expected, found `mm`; write a number and its unit, as in `62.4 mm`
    (u 1 mm)                         NotAQuantity at "(u 1 mm)": a number was expected, found `(u 1 mm)`; write a number and its unit, as in `62.4 mm`
    5 6 mm                           NotAQuantity at "6": a second number `6` follows the first; write one number with one unit, digits not set apart, as in `1450 mm`
    62.4 mm 3                        NotAQuantity at "3": a second number `3` follows the quantity; write one number with one unit, as in `62.4 mm`
    62.4 +- 0.3 mm                   NotAQuantity at "+": a unit was expected, found `+`; write `±` or `+/-`, as in `62.4 ± 0.3 mm`
    "#);
}

#[test]
fn a_unit_is_refused_at_its_token() {
    insta::assert_snapshot!(lines("
        5 xyz
        5 milimeter
        5 Mm
        5 KG
        5 mpa
        5 NM
        10 Nm
        5 gal
        5 rpm
        90 G
        40 C
        40 deg C
        5 mm2
        5 mm^12
        5 mm^0
        5 mm^
        2 kJ/kg·K
        2 kJ/kg K
        2 kJ/(kg·m) K
        10 N m
        9 m/s/s
        12 L / min
        12 L /min
        12 L/ min
        10 N · m
        2 kJ/(kg·K
        5 1/
        5 /min
        5/min
        5 W/(m·degC)
        5 1/degC
        5 degC^2
        1/2\"
        6'
        5 m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9
    "), @r#"
    5 xyz                            UnknownUnit at "xyz": the unit `xyz` is not known; units are written as in `mm`, `L/min`, `N·m`, `kJ/(kg·K)`, `deg`, `degC`
    5 milimeter                      UnknownUnit at "milimeter": the unit `milimeter` is not known; units are written as in `mm`, `L/min`, `N·m`, `kJ/(kg·K)`, `deg`, `degC`
    5 Mm                             UnknownUnit at "Mm": the unit `Mm` is not known; did you mean `mm`?
    5 KG                             UnknownUnit at "KG": the unit `KG` is not known; did you mean `kg`?
    5 mpa                            UnknownUnit at "mpa": the unit `mpa` is not known; did you mean `mPa` or `MPa`?
    5 NM                             UnknownUnit at "NM": the unit `NM` is not known; did you mean `N·m`?
    10 Nm                            UnknownUnit at "Nm": the unit `Nm` is not known; did you mean `N·m`?
    5 gal                            UnknownUnit at "gal": the unit `gal` is not known; did you mean `galUS`, or litres?
    5 rpm                            UnknownUnit at "rpm": the unit `rpm` is not known; did you mean `1/min`?
    90 G                             UnknownUnit at "G": the unit `G` is not known; did you mean `gn` for gravity, `g` for grams?
    40 C                             UnknownUnit at "C": the unit `C` is not known; did you mean `degC`?
    40 deg C                         NotAQuantity at "C": a blank stands in the unit `deg C`; write `degC`
    5 mm2                            UnknownUnit at "mm2": the power of `mm2` lacks its sign; write `mm^2`
    5 mm^12                          UnknownUnit at "mm^12": a power is one digit from 1 to 9, found `mm^12`; write it as in `m^2` or `s^-1`
    5 mm^0                           UnknownUnit at "mm^0": a power is one digit from 1 to 9, found `mm^0`; write it as in `m^2` or `s^-1`
    5 mm^                            UnknownUnit at "mm^": a power is one digit from 1 to 9, found `mm^`; write it as in `m^2` or `s^-1`
    2 kJ/kg·K                        UnknownUnit at "kJ/kg·K": the unit `kJ/kg·K` can mean two things; write `kJ/(kg·K)` if K is below the line, `kJ·K/kg` if it is above
    2 kJ/kg K                        NotAQuantity at "K": the unit `kJ/kg K` can mean two things; write `kJ/(kg·K)` if K is below the line, `kJ·K/kg` if it is above
    2 kJ/(kg·m) K                    NotAQuantity at "K": the unit `kJ/(kg·m) K` can mean two things; write `kJ/(kg·m·K)` if K is below the line, `kJ·K/(kg·m)` if it is above
    10 N m                           NotAQuantity at "m": a blank stands in the unit `N m`; write `N·m`
    9 m/s/s                          UnknownUnit at "m/s/s": the unit `m/s/s` can mean two things; a unit has one `/`: write `m/s^2`
    12 L / min                       NotAQuantity at "/ min": blanks stand round the `/` of the unit; write `12 L/min`
    12 L /min                        NotAQuantity at "/min": blanks stand round the `/` of the unit; write `12 L/min`
    12 L/ min                        UnknownUnit at "L/": the unit `L/` breaks off; write it without blanks, as in `L/min`
    10 N · m                         NotAQuantity at "· m": blanks stand round the `·` of the unit; write `10 N·m`
    2 kJ/(kg·K                       UnknownUnit at "(kg·K": the bracket of `(kg·K` is not closed; write it as in `kJ/(kg·K)`
    5 1/                             UnknownUnit at "1/": the unit `1/` breaks off; write it without blanks, as in `L/min`
    5 /min                           UnknownUnit at "/": nothing stands above the `/` of the unit; write it as in `1/K`
    5/min                            UnknownUnit at "/": nothing stands above the `/` of the unit; write it as in `1/K`
    5 W/(m·degC)                     UnknownUnit at "degC": within a unit a temperature is a difference, so `degC` cannot stand there; write `K`
    5 1/degC                         UnknownUnit at "degC": within a unit a temperature is a difference, so `degC` cannot stand there; write `K`
    5 degC^2                         UnknownUnit at "degC": within a unit a temperature is a difference, so `degC` cannot stand there; write `K`
    1/2"                             UnknownUnit at "\"": inches are written as a word; write `in`
    6'                               UnknownUnit at "'": feet are written as a word; write `ft`
    5 m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9 UnknownUnit at "m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9": the powers in `m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9…` are too high; look at its exponents
    "#);
}

#[test]
fn a_statement_of_uncertainty_is_refused_at_its_token() {
    insta::assert_snapshot!(lines("
        62.4 mm ± 5 %
        62.4 ± 5 %
        50 % ± 5 %
        62.4 mm ± -0.3 mm
        62.4 mm ±
        62.4 mm ± x
        62.4 mm ± 0,3 mm
        62.4 mm ± 1 deg
        40 degC ± 2 mm
        62.4 ± 0.3 ± 0.2 mm
        62.4 ± 0.3 mm by depth_gauge
        62.4 ± 0.3 mm (u 0.2 mm)
        9 kN assumed by gauge
        9 ± 1 kN assumed
        62.4 mm (u -0.2 mm)
        62.4 mm (u 0.2)
        62.4 mm (u 0.2 %)
        62.4 mm (U 0.4 mm)
        62.4 mm (U 0.4 mm at k 0)
        62.4 mm (U 0.4 mm at k -2)
        62.4 mm (U 0.4 mm at 2)
        62.4 mm (u 0.4 mm at k 2)
        62.4 mm (u 0.2 mm
        62.4 mm (v 0.2 mm)
        62.4 mm (0.2 mm)
        62.4 mm (u 0.2 deg)
        62.4 mm by
        62.4 mm by 0.1 mm
    "), @r#"
    62.4 mm ± 5 %                    BadUncertainty at "± 5 %": a width in percent can mean two things; write the width: `62.4 ± 3.12 mm` if it is a share of the value
    62.4 ± 5 %                       BadUncertainty at "± 5 %": a width in percent can mean two things; write the width as a number, as in `0.50 ± 0.05`
    50 % ± 5 %                       BadUncertainty at "± 5 %": a width in percent can mean two things; write the width as a number, as in `0.50 ± 0.05`
    62.4 mm ± -0.3 mm                BadUncertainty at "± -0.3 mm": the width after ± is negative; write it without the sign
    62.4 mm ±                        BadUncertainty at "±": nothing follows the ±; write it as in `62.4 ± 0.3 mm`
    62.4 mm ± x                      BadUncertainty at "x": the width after ±: a number was expected, found `x`; write a number and its unit, as in `62.4 mm`
    62.4 mm ± 0,3 mm                 BadUncertainty at "0,3": the width after ±: the number `0,3` holds a comma; write a point: `0.3`
    62.4 mm ± 1 deg                  WrongDimension at "deg": the width is an angle, the value a length; write the width in mm
    40 degC ± 2 mm                   WrongDimension at "mm": the width is a length, the value a temperature; write the width in K
    62.4 ± 0.3 ± 0.2 mm              BadUncertainty at "± 0.2 mm": a second statement of uncertainty, after `± 0.3`; keep one of the two
    62.4 ± 0.3 mm by depth_gauge     BadUncertainty at "by depth_gauge": a second statement of uncertainty, after `± 0.3 mm`; keep one of the two
    62.4 ± 0.3 mm (u 0.2 mm)         BadUncertainty at "(u 0.2 mm)": a second statement of uncertainty, after `± 0.3 mm`; keep one of the two
    9 kN assumed by gauge            BadUncertainty at "by gauge": a second statement of uncertainty, after `assumed`; keep one of the two
    9 ± 1 kN assumed                 BadUncertainty at "assumed": a second statement of uncertainty, after `± 1 kN`; keep one of the two
    62.4 mm (u -0.2 mm)              BadUncertainty at "(u -0.2 mm)": the uncertainty is negative; write `(u 0.2 mm)`, or `(U 0.4 mm at k 2)`
    62.4 mm (u 0.2)                  BadUncertainty at "(u 0.2)": the uncertainty lacks its unit, the value is in mm; write `(u 0.2 mm)`, or `(U 0.4 mm at k 2)`
    62.4 mm (u 0.2 %)                BadUncertainty at "(u 0.2 %)": an uncertainty in percent can mean two things; write `(u 0.2 mm)`, or `(U 0.4 mm at k 2)`
    62.4 mm (U 0.4 mm)               BadUncertainty at "(U 0.4 mm)": an expanded uncertainty `U` needs its factor k; write `(u 0.2 mm)`, or `(U 0.4 mm at k 2)`
    62.4 mm (U 0.4 mm at k 0)        BadUncertainty at "at k 0": the factor k must be above 0; write it as in `(U 0.4 mm at k 2)`
    62.4 mm (U 0.4 mm at k -2)       BadUncertainty at "at k -2": the factor k must be above 0; write it as in `(U 0.4 mm at k 2)`
    62.4 mm (U 0.4 mm at 2)          BadUncertainty at "at": `at` is followed by `k` and a number; write it as in `(U 0.4 mm at k 2)`
    62.4 mm (u 0.4 mm at k 2)        BadUncertainty at "(u 0.4 mm at k 2)": a standard uncertainty `u` has no factor k; write `(u 0.2 mm)`, or `(U 0.4 mm at k 2)`
    62.4 mm (u 0.2 mm                BadUncertainty at "(u 0.2 mm": `(u 0.2 mm` is no statement of uncertainty; write `(u 0.2 mm)`, or `(U 0.4 mm at k 2)`
    62.4 mm (v 0.2 mm)               BadUncertainty at "(v 0.2 mm)": `(v 0.2 mm)` is no statement of uncertainty; write `(u 0.2 mm)`, or `(U 0.4 mm at k 2)`
    62.4 mm (0.2 mm)                 BadUncertainty at "(0.2 mm)": `(0.2 mm)` is no statement of uncertainty; write `(u 0.2 mm)`, or `(U 0.4 mm at k 2)`
    62.4 mm (u 0.2 deg)              WrongDimension at "deg": the uncertainty is an angle, the value a length; write the uncertainty in mm
    62.4 mm by                       BadUncertainty at "by": `by` is followed by the name of an instrument; name one of `instruments`, as in `by depth_gauge`; a width is written `± 0.1 mm`
    62.4 mm by 0.1 mm                BadUncertainty at "by 0.1 mm": `by` is followed by the name of an instrument; name one of `instruments`, as in `by depth_gauge`; a width is written `± 0.1 mm`
    "#);
}

#[test]
fn what_is_left_over_is_refused_at_its_token() {
    insta::assert_snapshot!(lines("
        62.4 mm roughly
        62.4 mm, 3 mm
        62.4 mm;
        62.4\u{a0}mm
        62.4\tmm
        12:30
        2026-11-25
    "), @r#"
    62.4 mm roughly                  NotAQuantity at "roughly": `roughly` is no part of a quantity; after the unit can stand `± 0.3 mm`, `(u 0.2 mm)`, `by depth_gauge` or `assumed`
    62.4 mm, 3 mm                    NotAQuantity at ", 3 mm": `, 3 mm` follows the quantity; a quantity holds no comma; the decimal sign is a point
    62.4 mm;                         NotAQuantity at ";": `;` is no part of a quantity; after the unit can stand `± 0.3 mm`, `(u 0.2 mm)`, `by depth_gauge` or `assumed`
    62.4 mm                          NotAQuantity at "\u{a0}": a blank of another kind (U+00A0) stands within the quantity; write a plain blank
    62.4	mm                          NotAQuantity at "\t": a blank of another kind (U+0009) stands within the quantity; write a plain blank
    12:30                            NotAQuantity at ":": a unit was expected, found `:`; write it as in `62.4 mm`
    2026-11-25                       NotAQuantity at "-": a unit was expected, found `-`; write it as in `62.4 mm`
    "#);
}
