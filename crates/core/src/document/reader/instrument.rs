//! What things were measured with: `instruments`, and `by depth_gauge`.

use super::cursor::{Context, Cursor, Found, Spot, entries};
use super::value::{name_is_good, scalar};
use crate::quantity::{Dimension, StatedUncertainty, parse_quantity};
use crate::source::{Code, Diagnostic, Span, nearest};

/// Names looked through for the one that was meant: enough for any toolbox.
const NAMES_COMPARED: usize = 100;

/// What was measured with: it does not miss by more than its half-width in practice.
pub(super) struct Instrument {
    half_width: f64,
    dimension: Dimension,
}

/// The standard uncertainty of what was read off an instrument: half-width/√3 (JCGM 100:2008, 4.3.7).
pub(super) fn by_instrument(
    context: &Context<'_>,
    name: &str,
    span: Span,
    measured: Dimension,
) -> Result<f64, Diagnostic> {
    let Some(found) = context.instruments.get(name) else {
        let message = format!("`{name}` is not listed under `instruments`");
        let problem = Diagnostic::error(Code::UnknownInstrument, span, message);
        let near =
            nearest(name, context.instruments.keys().take(NAMES_COMPARED).map(String::as_str));
        return Err(problem.help(match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("list it with its half-width: `instruments: {{ {name}: 0.1 mm }}`"),
        }));
    };
    if found.dimension != measured.difference() {
        let message = format!(
            "`{name}` measures {}, and this is {}",
            found.dimension.name(),
            measured.name()
        );
        return Err(Diagnostic::error(Code::WrongDimension, span, message));
    }
    Ok(found.half_width / 3.0_f64.sqrt())
}

/// Reads `instruments`, before anything that may name one.
pub(super) fn instruments(cursor: &mut Cursor<'_, '_>) {
    let Found::Here(spot) = cursor.find("instruments") else { return };
    let Some(entries) = entries(cursor.context, &spot) else { return };
    for entry in entries {
        let name = entry.key.text.clone();
        if !name_is_good(cursor.context, &entry.key) {
            continue;
        }
        let path = format!("{}.{name}", spot.path);
        let spot = Spot { node: &entry.value, path, name, key: entry.key.span };
        if let Some(instrument) = instrument(cursor.context, &spot) {
            cursor.context.instruments.insert(spot.name, instrument);
        }
    }
}

fn instrument(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Instrument> {
    let written = scalar(context, spot, "a quantity")?;
    let name = &spot.name;
    let parsed = match parse_quantity(written) {
        Ok(parsed) => parsed,
        Err(problem) => {
            context.report(*problem);
            return None;
        }
    };
    let unit = written.part(parsed.unit_range.clone());
    let problem = if parsed.unit.symbol.is_empty() {
        let message = format!("the half-width of `{name}` has no unit");
        Diagnostic::error(Code::MissingUnit, written.span, message)
            .help(format!("write `{} mm` if that is what it is", written.text))
    } else if parsed.unit.dimension.point {
        let message = format!("the half-width of `{name}` is a difference of temperature");
        Diagnostic::error(Code::WrongDimension, unit, message).help("write it in K")
    } else if parsed.uncertainty != StatedUncertainty::Nothing {
        let message = format!("the half-width of `{name}` has no uncertainty of its own");
        Diagnostic::error(Code::BadUncertainty, written.span, message)
            .help("write number and unit alone")
    } else if parsed.value > 0.0 {
        let dimension = parsed.unit.dimension;
        return Some(Instrument { half_width: parsed.value, dimension });
    } else {
        let message = format!("the half-width of `{name}` must be more than 0");
        Diagnostic::error(Code::OutOfRange, written.part(parsed.number_range), message)
    };
    context.report(problem);
    None
}
