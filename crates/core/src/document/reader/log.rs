//! Reads what a duty says of a drive log; the recording itself is read elsewhere.

use super::cursor::Cursor;
use super::quantity::quantity;
use super::value::{path, text, word};
use crate::document::Text;
use crate::document::log::{Column, Direction, DriveLog, Measured};
use crate::document::pan::Word;
use crate::source::{Code, Diagnostic};

const MEASURED: &[(&str, Measured)] =
    &[("specific force", Measured::SpecificForce), ("acceleration", Measured::Acceleration)];

pub(super) fn log(c: &mut Cursor<'_, '_>) -> Option<DriveLog> {
    let span = c.span;
    let file = c.required("file", path);
    let measures = c.optional("measures", word(MEASURED));
    let columns = c.group("columns", columns);
    let sensor = c.group("sensor", sensor);
    let rest = c.given("rest", quantity);
    let cutoff = c.optional("cutoff", quantity);
    let names_axes = columns.iter().any(|(column, _)| matches!(column, Column::Toward(_)));
    if let (true, None, Some(at)) = (names_axes, measures, c.key_span("columns")) {
        let message = "`columns` names axes, and nothing says what they measure";
        let help =
            "add `measures: specific force` (+1 gn upward at rest) or `measures: acceleration`";
        c.context.report(Diagnostic::error(Code::MissingKey, at, message).help(help));
    }
    Some(DriveLog { span, file: file?, measures, columns, sensor, rest, cutoff })
}

fn columns(c: &mut Cursor<'_, '_>) -> Vec<(Column, Text)> {
    let columns = [
        ("time", Column::Time),
        ("forward", Column::Toward(Direction::Forward)),
        ("rearward", Column::Toward(Direction::Rearward)),
        ("left", Column::Toward(Direction::Left)),
        ("right", Column::Toward(Direction::Right)),
        ("up", Column::Toward(Direction::Up)),
        ("down", Column::Toward(Direction::Down)),
        ("climb", Column::Climb),
        ("descent", Column::Descent),
        ("left_high", Column::LeftHigh),
        ("right_high", Column::RightHigh),
    ];
    let read = columns.map(|(key, column)| c.optional(key, text).map(|text| (column, text)));
    for (one, other) in [
        ("forward", "rearward"),
        ("left", "right"),
        ("up", "down"),
        ("climb", "descent"),
        ("left_high", "right_high"),
    ] {
        c.exclude(one, other, "they are one axis: keep the one that the column holds as it stands");
    }
    read.into_iter().flatten().collect()
}

/// Where the sensor's axes point: all three, each its own axis, and not mirrored.
fn sensor(c: &mut Cursor<'_, '_>) -> Option<[Direction; 3]> {
    let keys = ["forward", "left", "up"];
    let read: [Option<Word<Direction>>; 3] = keys.map(|key| c.optional(key, word(Direction::ALL)));
    let lacking: Vec<&str> =
        keys.iter().zip(&read).filter(|(_, word)| word.is_none()).map(|(key, _)| *key).collect();
    if lacking.len() == keys.len() {
        return None;
    }
    let [Some(forward), Some(left), Some(up)] = read else {
        // A word that could not be read has been told.
        if lacking.iter().all(|key| c.key_span(key).is_none()) {
            let message =
                format!("`sensor` does not say where its {} points", lacking.join(" and its "));
            let problem = Diagnostic::error(Code::MissingKey, c.key, message);
            c.context.report(problem.help("write all of `forward`, `left` and `up`"));
        }
        return None;
    };
    let axes = [forward.value, left.value, up.value];
    let [x, y, z] = axes.map(Direction::vector);
    let turned = x.cross(y).dot(z);
    if turned > 0.5 {
        return Some(axes);
    }
    let (message, help) = if turned < -0.5 {
        (
            "these axes make a mirror image: no sensor can be mounted so",
            format!(
                "if its forward points {} and its left {}, its up points {}",
                axes[0].word(),
                axes[1].word(),
                axes[2].opposite().word()
            ),
        )
    } else {
        (
            "two of these axes lie along one line",
            "each axis of the sensor points another way".to_owned(),
        )
    };
    c.context.report(Diagnostic::error(Code::Contradiction, up.span, message).help(help));
    None
}
