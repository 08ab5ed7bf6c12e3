//! Tests: mod.

mod any_text;
mod printing;
mod refusals;

use super::*;
use crate::source::{FileId, Scalar, Span};
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
