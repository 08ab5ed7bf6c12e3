use super::*;
use crate::source::{FileId, Scalar, Span};
use proptest::prelude::*;
use std::fmt::Write as _;

/// A plain scalar that begins at byte 100.
fn scalar(text: &str) -> Scalar {
    let end = 100 + u32::try_from(text.len()).unwrap();
    let span = Span { file: FileId(0), start: 100, end };
    Scalar { text: text.to_owned(), span, verbatim_at: Some(100), plain: true }
}

/// A quantity on a line: SI value, unit, last digit, uncertainty; or the refusal, its token, its help.
fn line(text: &str) -> String {
    match parse_quantity(&scalar(text)) {
        Ok(q) => {
            let stated = match &q.uncertainty {
                StatedUncertainty::Nothing => String::new(),
                StatedUncertainty::Standard(u) => format!(" | u {u:.6e}"),
                StatedUncertainty::Instrument(name, range) => {
                    assert_eq!(name, &text[range.clone()]);
                    format!(" | by {name}")
                }
                StatedUncertainty::Assumed => " | assumed".to_owned(),
            };
            assert_eq!(q.unit.symbol, text[q.unit_range.clone()]);
            let number = &text[q.number_range.clone()];
            format!("{number} -> {} [{}] digit {:e}{stated}", q.value, q.unit.symbol, q.last_digit)
        }
        Err(p) => {
            let at = |i: u32| i as usize - 100;
            let token = &text[at(p.primary.span.start)..at(p.primary.span.end)];
            let help = p.help.as_deref().unwrap_or("");
            format!("{:?} at {token:?}: {}; {help}", p.code, p.message)
        }
    }
}

fn lines(texts: &str) -> String {
    let mut out = String::new();
    for text in texts.split('\n').filter(|t| !t.trim().is_empty()) {
        let text = text.strip_suffix('|').unwrap_or(text).trim_start();
        writeln!(out, "{text:32} {}", line(text)).unwrap();
    }
    out
}

#[test]
fn quantities_are_read() {
    insta::assert_snapshot!(lines("
        62.4 mm
        62.4mm
        1/2 in
        1 1/2in
        -20 mm
        5e3 mm
        12 L/min
        2.1 kJ/(kg·K)
        2.1kJ/(kg*K)
        30 mm^2/s
        30 mm²/s
        0.00072 1/K
        2 1/K
        10 N·m
        0.6 gn
        40 degC
        40 °C
        104 degF
        60 K
        0.50
        95 %
        5 µm
        62.4 ± 0.3 mm
        62.4±0.3mm
        62.4 +/- 0.3 mm
        62.4+/-0.3mm
        62.4 mm ± 0.3
        62.4 mm ± 0.3 mm
        62.4 mm ± 300 um
        62.4 ± 0 mm
        0.50 ± 0.05
        40 ± 2 degC
        40 degC ± 2 K
        40 degC ± 2 degC
        104 degF ± 9 degF
        1 1/2 ± 1/16 in
        62.4 mm (u 0.2 mm)
        62.4 mm (u 200 um)
        62.4 mm(u 0.2mm)
        62.4 mm (U 0.4 mm at k 2)
        0.5 (u 0.02)
        62.4 mm by depth_gauge
        42 mm by shop.depth-gauge_2
        9 kN assumed
        165 MPa assumed
        0.5 assumed
    "), @r#"
    62.4 mm                          62.4 -> 0.0624 [mm] digit 1e-4
    62.4mm                           62.4 -> 0.0624 [mm] digit 1e-4
    1/2 in                           1/2 -> 0.0127 [in] digit 1.27e-2
    1 1/2in                          1 1/2 -> 0.0381 [in] digit 1.27e-2
    -20 mm                           -20 -> -0.02 [mm] digit 1e-3
    5e3 mm                           5e3 -> 5 [mm] digit 1e0
    12 L/min                         12 -> 0.0002 [L/min] digit 1.6666666666666667e-5
    2.1 kJ/(kg·K)                    2.1 -> 2100 [kJ/(kg·K)] digit 1e2
    2.1kJ/(kg*K)                     2.1 -> 2100 [kJ/(kg*K)] digit 1e2
    30 mm^2/s                        30 -> 0.00003 [mm^2/s] digit 1e-6
    30 mm²/s                         30 -> 0.00003 [mm²/s] digit 1e-6
    0.00072 1/K                      0.00072 -> 0.00072 [1/K] digit 1e-5
    2 1/K                            2 -> 2 [1/K] digit 1e0
    10 N·m                           10 -> 10 [N·m] digit 1e0
    0.6 gn                           0.6 -> 5.88399 [gn] digit 9.80665e-1
    40 degC                          40 -> 313.15 [degC] digit 1e0
    40 °C                            40 -> 313.15 [°C] digit 1e0
    104 degF                         104 -> 313.15000000000003 [degF] digit 5.555555555555556e-1
    60 K                             60 -> 60 [K] digit 1e0
    0.50                             0.50 -> 0.5 [] digit 1e-2
    95 %                             95 -> 0.95 [%] digit 1e-2
    5 µm                             5 -> 0.000005 [µm] digit 1e-6
    62.4 ± 0.3 mm                    62.4 -> 0.0624 [mm] digit 1e-4 | u 1.732051e-4
    62.4±0.3mm                       62.4 -> 0.0624 [mm] digit 1e-4 | u 1.732051e-4
    62.4 +/- 0.3 mm                  62.4 -> 0.0624 [mm] digit 1e-4 | u 1.732051e-4
    62.4+/-0.3mm                     62.4 -> 0.0624 [mm] digit 1e-4 | u 1.732051e-4
    62.4 mm ± 0.3                    62.4 -> 0.0624 [mm] digit 1e-4 | u 1.732051e-4
    62.4 mm ± 0.3 mm                 62.4 -> 0.0624 [mm] digit 1e-4 | u 1.732051e-4
    62.4 mm ± 300 um                 62.4 -> 0.0624 [mm] digit 1e-4 | u 1.732051e-4
    62.4 ± 0 mm                      62.4 -> 0.0624 [mm] digit 1e-4 | u 0.000000e0
    0.50 ± 0.05                      0.50 -> 0.5 [] digit 1e-2 | u 2.886751e-2
    40 ± 2 degC                      40 -> 313.15 [degC] digit 1e0 | u 1.154701e0
    40 degC ± 2 K                    40 -> 313.15 [degC] digit 1e0 | u 1.154701e0
    40 degC ± 2 degC                 40 -> 313.15 [degC] digit 1e0 | u 1.154701e0
    104 degF ± 9 degF                104 -> 313.15000000000003 [degF] digit 5.555555555555556e-1 | u 2.886751e0
    1 1/2 ± 1/16 in                  1 1/2 -> 0.0381 [in] digit 1.27e-2 | u 9.165436e-4
    62.4 mm (u 0.2 mm)               62.4 -> 0.0624 [mm] digit 1e-4 | u 2.000000e-4
    62.4 mm (u 200 um)               62.4 -> 0.0624 [mm] digit 1e-4 | u 2.000000e-4
    62.4 mm(u 0.2mm)                 62.4 -> 0.0624 [mm] digit 1e-4 | u 2.000000e-4
    62.4 mm (U 0.4 mm at k 2)        62.4 -> 0.0624 [mm] digit 1e-4 | u 2.000000e-4
    0.5 (u 0.02)                     0.5 -> 0.5 [] digit 1e-1 | u 2.000000e-2
    62.4 mm by depth_gauge           62.4 -> 0.0624 [mm] digit 1e-4 | by depth_gauge
    42 mm by shop.depth-gauge_2      42 -> 0.042 [mm] digit 1e-3 | by shop.depth-gauge_2
    9 kN assumed                     9 -> 9000 [kN] digit 1e3 | assumed
    165 MPa assumed                  165 -> 165000000 [MPa] digit 1e6 | assumed
    0.5 assumed                      0.5 -> 0.5 [] digit 1e-1 | assumed
    "#);
}

#[test]
fn what_is_no_quantity_is_refused_at_the_token() {
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
        62.4 mm roughly
        62.4 mm, 3 mm
        62.4 mm;
        62.4\u{a0}mm
        62.4\tmm
        12:30
        2026-11-25
        5 m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9
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
    62.4 mm roughly                  NotAQuantity at "roughly": `roughly` is no part of a quantity; after the unit can stand `± 0.3 mm`, `(u 0.2 mm)`, `by depth_gauge` or `assumed`
    62.4 mm, 3 mm                    NotAQuantity at ", 3 mm": `, 3 mm` follows the quantity; a quantity holds no comma; the decimal sign is a point
    62.4 mm;                         NotAQuantity at ";": `;` is no part of a quantity; after the unit can stand `± 0.3 mm`, `(u 0.2 mm)`, `by depth_gauge` or `assumed`
    62.4 mm                          NotAQuantity at "\u{a0}": a blank of another kind (U+00A0) stands within the quantity; write a plain blank
    62.4	mm                          NotAQuantity at "\t": a blank of another kind (U+0009) stands within the quantity; write a plain blank
    12:30                            NotAQuantity at ":": a unit was expected, found `:`; write it as in `62.4 mm`
    2026-11-25                       NotAQuantity at "-": a unit was expected, found `-`; write it as in `62.4 mm`
    5 m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9 UnknownUnit at "m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9": the powers in `m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9·m^9…` are too high; look at its exponents
    "#);
}

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

/// Any unit of the grammar, from a few symbols.
fn units() -> impl Strategy<Value = String> {
    let symbols = prop::sample::select(vec!["mm", "in", "L", "deg", "kN", "psi", "K", "%", "cSt"]);
    let power = (symbols, prop::sample::select(vec!["", "^2", "³", "^-1"]));
    let power = power.prop_map(|(s, p)| format!("{s}{p}"));
    let below = prop::collection::vec(power.clone(), 1..3);
    (prop::collection::vec(power, 1..3), prop::option::of(below)).prop_map(|(above, below)| {
        let above = above.join("·");
        match below {
            None => above,
            Some(one) if one.len() == 1 => format!("{above}/{}", one.join("")),
            Some(many) => format!("{above}/({})", many.join("*")),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 512, failure_persistence: None, ..Default::default() })]

    #[test]
    fn what_is_printed_is_read_as_the_same_value(
        written in prop::num::f64::NORMAL.prop_filter("of a usual size", |v| (1e-4..1e6).contains(&v.abs())),
        unit in units(),
    ) {
        let (unit, length) = parse_unit(&unit).map_err(|e| TestCaseError::fail(e.0))?;
        prop_assert_eq!(length, unit.symbol.len());
        let si = unit.to_si(written);
        let text = print_in(si, 0.0, &unit);
        let read = parse_quantity(&scalar(&text)).map_err(|e| TestCaseError::fail(e.message))?;
        // Four significant digits at least: half a unit of the fourth.
        prop_assert!((read.value - si).abs() <= 0.5e-3 * si.abs() * (1.0 + 1e-9), "{}", text);
        prop_assert_eq!(read.unit.dimension, unit.dimension);
        let u = si.abs() / 37.0;
        let text = print_in(si, u, &unit);
        let read = parse_quantity(&scalar(&text)).map_err(|e| TestCaseError::fail(e.message))?;
        prop_assert!((read.value - si).abs() <= 0.051 * u, "{}", text);
    }

    #[test]
    fn pairs_differ_whenever_their_values_do(a in -1.0e3..1.0e3_f64, ulps in 1_u64..1_000_000) {
        let b = f64::from_bits(a.to_bits() + ulps);
        let (x, y) = print_pair(a, b, 0.0, Dimension::NUMBER);
        prop_assert_ne!(x, y);
    }

    #[test]
    fn no_text_makes_the_readers_panic_or_point_outside(text in "\\PC{0,24}") {
        check_any(&text)?;
    }

    #[test]
    fn no_text_of_the_grammars_signs_makes_the_readers_panic(
        parts in prop::collection::vec(prop::sample::select(vec![
            "1", "62.4", "1/2", " ", " ", "±", "+/-", "mm", "degC", "kJ/(kg·K)", "/", "·", "*", "^", "²",
            "(", ")", "u", "U", "at k", "by", "assumed", "%", ",", ".", "e", "-", "+", "0", "é", "\u{a0}",
        ]), 0..12),
    ) {
        check_any(&parts.concat())?;
    }
}

fn check_any(text: &str) -> Result<(), TestCaseError> {
    match parse_quantity(&scalar(text)) {
        Ok(q) => {
            prop_assert!(q.value.is_finite() && q.last_digit.is_finite());
            prop_assert!(parse_number(&text[q.number_range.clone()]).is_some());
            prop_assert_eq!(&text[q.unit_range.clone()], q.unit.symbol);
        }
        Err(p) => {
            let (start, end) =
                (p.primary.span.start as usize - 100, p.primary.span.end as usize - 100);
            prop_assert!(text.get(start..end).is_some(), "{}..{} in {:?}", start, end, text);
            prop_assert!(!p.message.ends_with('.') && p.help.is_some());
        }
    }
    if let Some((value, length)) = parse_number(text) {
        prop_assert!(value.is_finite() && text.is_char_boundary(length));
    }
    match parse_unit(text) {
        Ok((unit, length)) => prop_assert_eq!(&text[..length], unit.symbol),
        Err((_, range)) => prop_assert!(text.get(range).is_some()),
    }
    Ok(())
}
