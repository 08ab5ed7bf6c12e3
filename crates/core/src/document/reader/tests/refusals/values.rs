//! Quantities and words that do not fit.

use super::check;
use crate::document::DocumentKind;
use crate::source::Code::{
    BadUncertainty, CannotAssume, Contradiction, MissingUnit, NotAQuantity, NotSupportedYet,
    OutOfRange, UnknownInstrument, UnknownKey, UnknownWord, WrongDimension, WrongShape,
};

#[test]
fn quantities_are_held_against_what_the_field_wants() {
    check(
        DocumentKind::Pan,
        "pan: 1\n",
        &[
            ("wall: { floor: 62.4 }", &[(MissingUnit, "62.4", "write `62.4 mm`")]),
            (
                "wall: { floor: 5 deg }",
                &[(WrongDimension, "deg", "a length…an angle…write it in mm")],
            ),
            ("material: { yield: 165 }", &[(MissingUnit, "165", "write `165 MPa`")]),
            (
                "wall: { floor: 0 mm }",
                &[(OutOfRange, "0", "`floor` must be more than 0, and this is 0")],
            ),
            ("wall: { floor: -3 mm }", &[(OutOfRange, "-3", "more than 0")]),
            (
                "wall: { floor: 5 mm by calipers }\ninstruments: { callipers: 0.05 mm }",
                &[(UnknownInstrument, "calipers", "did you mean `callipers`?")],
            ),
            (
                "wall: { floor: 5 mm by tape }",
                &[(UnknownInstrument, "tape", "instruments: { tape")],
            ),
            (
                "material: { yield: 165 MPa by tape }\ninstruments: { tape: 1 mm }",
                &[(WrongDimension, "tape", "measures a length, and this is a pressure")],
            ),
            (
                "fins: { keel: { root: 6 mm assumed } }",
                &[(CannotAssume, "assumed", "no typical range")],
            ),
            ("fins: { keel: { count: 9.5 } }", &[(NotAQuantity, "9.5", "a whole number")]),
            ("fins: { keel: { count: 0 } }", &[(OutOfRange, "0", "1 or more")]),
            ("instruments: { tape: 1 }", &[(MissingUnit, "1", "1 mm")]),
            ("instruments: { tape: 0 mm }", &[(OutOfRange, "0", "more than 0")]),
            ("instruments: { gauge: 1 degC }", &[(WrongDimension, "degC", "write it in K")]),
            (
                "instruments: { tape: 1 ± 0.1 mm }",
                &[(BadUncertainty, "1 ± 0.1 mm", "no uncertainty of its own")],
            ),
        ],
    );
    check(
        DocumentKind::Vehicle,
        "vehicle: 1\n",
        &[
            (
                "mount: { nose_up: 3 mm }",
                &[(WrongDimension, "mm", "an angle…a length…write it in deg")],
            ),
            (
                "mount: { nose_up: 95 deg }",
                &[(OutOfRange, "95", "between -90 deg and 90 deg…how it is got: A spirit level")],
            ),
            (
                "case: { outline: { circle: 20 mm }, height: 9 mm, free_share: 1.5 }",
                &[(OutOfRange, "1.5", "at most 1…3 of 100 are `0.03` or `3 %`")],
            ),
            ("check: { level: -2 mm }", &[(OutOfRange, "-2", "0 or more…without a sign")]),
            ("check: { level: 10 ± 2 }", &[(MissingUnit, "10 ± 2", "write `10 ± 2 mm`")]),
            (
                "check: { level: 2 mm, oil_at: 313 K }",
                &[(WrongDimension, "K", "a temperature in degC")],
            ),
            ("check: { level: 2 mm, oil_at: -300 degC }", &[(OutOfRange, "-300", "absolute zero")]),
            ("held_up: 0.9", &[(MissingUnit, "0.9", "write `0.9 L`")]),
        ],
    );
    check(
        DocumentKind::Oil,
        "oil: 1\n",
        &[
            (
                "viscosity: { 40 degC: 25 mPa·s }",
                &[(WrongDimension, "mPa·s", "divide it by the density")],
            ),
            ("viscosity: { 40: 30 mm^2/s }", &[(MissingUnit, "40", "write `40 degC`")]),
            ("viscosity: { 40 degC: }", &[(WrongShape, "40 degC", "nothing stands after")]),
            ("viscosity: 30 mm^2/s", &[(WrongShape, "30 mm^2/s", "a mapping")]),
            (
                "viscosity: { 40 degC: 30 mm^2/s, 40.0 degC: 31 mm^2/s }",
                &[(Contradiction, "40.0 degC", "one temperature twice")],
            ),
            (
                "viscosity: { 100 degC: 68 mm^2/s, 40 degC: 30 mm^2/s }",
                &[(Contradiction, "68 mm^2/s", "`viscosity` rises as the oil warms…data sheet")],
            ),
        ],
    );
}

#[test]
fn words_out_of_a_list_are_held_against_it() {
    check(
        DocumentKind::Pan,
        "pan: 1\n",
        &[
            ("pickup: { fixed_to: body }", &[(UnknownWord, "body", "`case` or `pan`")]),
            (
                "pickup: { inlet: { facing: dwon } }",
                &[(UnknownWord, "dwon", "did you mean `down`?")],
            ),
            ("baffles: { a: { sides: seal } }", &[(UnknownWord, "seal", "did you mean `sealed`?")]),
            (
                "baffles: { a: { bottom: flor } }",
                &[(UnknownWord, "flor", "write `floor`, or the depth")],
            ),
            (
                "material: { process: die-casting }",
                &[(UnknownWord, "die-casting", "did you mean `die casting`?")],
            ),
            (
                "material: { process: welding }",
                &[(UnknownWord, "welding", "cannot be `welding`…write `sand casting`")],
            ),
            (
                "check: { level: 2 mm, engine: runing }",
                &[(UnknownWord, "runing", "did you mean `running`?")],
            ),
            (
                "drains: { plug: { axis: up } }",
                &[(UnknownWord, "up", "`down`, `front`, `rear`, `left` or `right`")],
            ),
            ("fins: { keel: { under: side } }", &[(UnknownWord, "side", "`floor`")]),
            ("object: { state: made }", &[(UnknownWord, "made", "`as designed` or `as made`")]),
            (
                "object: { measured: { date: 2026-02-30 } }",
                &[(UnknownWord, "2026-02-30", "year, month and day")],
            ),
            (
                "drains: { plug: { thread: G1/2 } }",
                &[(NotSupportedYet, "G1/2", "pipe and inch threads are not read")],
            ),
            ("drains: { plug: { thread: M14x } }", &[(NotAQuantity, "M14x", "pitch")]),
            (
                "drains: { big plug: { boss: 20 mm } }",
                &[(UnknownKey, "big plug", "cannot be a name")],
            ),
        ],
    );
}
