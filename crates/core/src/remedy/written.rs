//! A value as it would be written: in its own unit, to the digits that it has, rounded away from what stands there.

use super::search::Candidate;
use crate::review::Change;
use crate::source::{Sources, Span};

/// The change of the text that a candidate asks for; nothing where the number does not stand there as a decimal.
pub(super) fn change(sources: &Sources, candidate: &Candidate<'_>) -> Option<Change> {
    let input = candidate.input;
    let (at, from) = number(sources.slice(input.span))?;
    let stands: f64 = from.parse().ok()?;
    // What is written may be brought in from elsewhere, or be a table's cell: then it is not this number.
    let differs = input.unit.to_si(stands) - input.value;
    if differs.abs() > 1e-9 * input.value.abs() {
        return None;
    }
    let by = candidate.steps * candidate.step();
    let to = outward(from, stands, input.unit.difference_from_si(by))?;
    let start = input.span.start + u32::try_from(at).ok()?;
    let end = start + u32::try_from(from.len()).ok()?;
    let gone = input.unit.difference_to_si(to.parse::<f64>().ok()? - stands);
    Some(Change {
        path: input.path.clone(),
        span: Span { file: input.span.file, start, end },
        from: from.to_owned(),
        to,
        unit: input.unit.symbol.clone(),
        steps: gone.abs() / candidate.step(),
        of_last_digit: input.u <= 0.0,
    })
}

/// The whole text with the change in it.
pub(super) fn applied(sources: &Sources, change: &Change) -> Option<String> {
    let text = sources.text(change.span.file);
    let before = text.get(..change.span.start as usize)?;
    let after = text.get(change.span.end as usize..)?;
    Some(format!("{before}{}{after}", change.to))
}

/// The decimal number at the start of a scalar, and where it begins; a fraction or a power of ten is none.
fn number(scalar: &str) -> Option<(usize, &str)> {
    let at = scalar.len() - scalar.trim_start_matches(['"', '\'']).len();
    let text = scalar.get(at..)?;
    let sign = usize::from(text.starts_with(['+', '-']));
    let digits = text.get(sign..)?.find(|c: char| !c.is_ascii_digit() && c != '.');
    let end = digits.map_or(text.len(), |digits| digits + sign);
    let rest = text.get(end..)?;
    let more = rest.trim_start().starts_with(|c: char| c.is_ascii_digit());
    if rest.starts_with(['e', 'E', '/']) || more || end == sign {
        return None;
    }
    Some((at, text.get(..end)?))
}

/// The number moved by at least so much, to as many decimals as it has.
fn outward(from: &str, stands: f64, by: f64) -> Option<String> {
    let decimals = from.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let scale = (0..decimals).fold(1.0, |scale, _| scale * 10.0);
    // A rounding error of the search is no reason for another digit.
    let hair = 1e-6;
    let whole = (stands + by) * scale;
    let whole = if by > 0.0 { libm::ceil(whole - hair) } else { libm::floor(whole + hair) };
    let to = format!("{:.decimals$}", whole / scale + 0.0);
    (to != from && by.is_finite()).then_some(to)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_rounded_away_from_what_stands_there() {
        let cases = [
            ("44", 44.0, 13.11, Some("58")),
            ("44.0", 44.0, 13.11, Some("57.2")),
            ("-88", -88.0, 0.2, Some("-87")),
            ("-88.00", -88.0, -0.001, Some("-88.01")),
            ("9", 9.0, -2.5, Some("6")),
            ("0.5", 0.5, -0.5, Some("0.0")),
            ("1", 1.0, f64::NAN, None),
        ];
        for (from, stands, by, to) in cases {
            assert_eq!(outward(from, stands, by).as_deref(), to, "{from} by {by}");
        }
    }

    #[test]
    fn only_a_decimal_number_is_written_otherwise() {
        let cases = [
            ("62.4 ± 0.3 mm", Some((0, "62.4"))),
            ("\"-4 deg\"", Some((1, "-4"))),
            ("9", Some((0, "9"))),
            ("1/2 in", None),
            ("1 1/2 in", None),
            ("1.2e3 Pa", None),
            ("mm", None),
        ];
        for (scalar, found) in cases {
            assert_eq!(number(scalar), found, "{scalar}");
        }
    }
}
