//! Numbers as the grammar has them: `62.4`, `-3e-6`, `1/2`, `1 1/2`.

use super::Refusal;
use crate::source::Code;

/// A number read at the start of a text.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Number {
    /// Its value; infinite where it is too large or a fraction divides by zero.
    pub(super) value: f64,
    /// One unit of the last digit written; for a fraction, one part of the denominator.
    pub(super) last_digit: f64,
    /// Bytes it takes.
    pub(super) length: usize,
    /// Whether any digit of it is not 0.
    significant: bool,
    fraction: bool,
}

/// The longest number of the grammar at the start of `text`.
pub(super) fn read_number(text: &str) -> Option<Number> {
    let unsigned = text.strip_prefix(['+', '-']).unwrap_or(text);
    let sign_length = text.len() - unsigned.len();
    let whole = digits(unsigned);
    if whole.is_empty() {
        return None;
    }
    let mut number = fraction(unsigned, whole).unwrap_or_else(|| decimal(unsigned, whole));
    if text.starts_with('-') {
        number.value = -number.value;
    }
    number.length += sign_length;
    Some(number)
}

/// `1/2`, or `1 1/2`.
fn fraction(text: &str, first: &str) -> Option<Number> {
    let after = text.get(first.len()..)?;
    let (whole, above, after) = if after.starts_with('/') {
        ("0", first, after)
    } else {
        let above = digits(after.strip_prefix(' ')?);
        (first, above, after.get(1 + above.len()..)?)
    };
    let below = digits(after.strip_prefix('/')?);
    if above.is_empty() || below.is_empty() {
        return None;
    }
    let length = text.len() - after.len() + 1 + below.len();
    let [whole_value, above_value, below_value] = [whole, above, below].map(value);
    Some(Number {
        value: if below_value > 0.0 {
            (whole_value * below_value + above_value) / below_value
        } else {
            f64::INFINITY
        },
        last_digit: 1.0 / below_value,
        length,
        significant: nonzero(whole) || nonzero(above),
        fraction: true,
    })
}

/// `62.4`, `3e-6`.
fn decimal(text: &str, whole: &str) -> Number {
    let mut length = whole.len();
    let rest = |length: usize| text.get(length..).unwrap_or("");
    let decimals = rest(length).strip_prefix('.').map_or("", digits);
    if !decimals.is_empty() {
        length += 1 + decimals.len();
    }
    let mut exponent = 0_i64;
    if let Some(after) = rest(length).strip_prefix(['e', 'E']) {
        let unsigned = after.strip_prefix(['+', '-']).unwrap_or(after);
        let power = digits(unsigned);
        if !power.is_empty() {
            let size = power.parse::<i64>().unwrap_or(i64::MAX / 2);
            exponent = if after.starts_with('-') { -size } else { size };
            length += 1 + after.len() - unsigned.len() + power.len();
        }
    }
    let last = exponent.saturating_sub(i64::try_from(decimals.len()).unwrap_or(i64::MAX));
    Number {
        value: value(text.get(..length).unwrap_or("")),
        last_digit: value(&format!("1e{last}")),
        length,
        significant: nonzero(whole) || nonzero(decimals),
        fraction: false,
    }
}

/// Decimal text to the nearest number that can be held.
fn value(text: &str) -> f64 {
    text.parse().unwrap_or(f64::INFINITY)
}

fn digits(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    text.get(..end).unwrap_or("")
}

fn nonzero(digits: &str) -> bool {
    digits.bytes().any(|b| b != b'0')
}

/// The number at the start of a quantity, or what is wrong with it.
pub(super) fn need_number(text: &str) -> Result<Number, Refusal> {
    let Some(number) = read_number(text) else { return Err(no_number(text)) };
    let written = text.get(..number.length).unwrap_or("");
    if let Some(refusal) = bad_tail(text, number) {
        return Err(refusal);
    }
    let range = 0..number.length;
    let below = written.rsplit('/').next().unwrap_or("");
    if number.fraction && !nonzero(below) {
        let message = format!("the fraction `{}` divides by zero", shown(written));
        let help = "write another denominator";
        return Err(Refusal::new(Code::NotAQuantity, range, message, help));
    }
    if !number.value.is_finite() || !number.last_digit.is_finite() {
        let message = format!("the number `{}` is too large to be held", shown(written));
        return Err(Refusal::new(Code::NotFinite, range, message, "look at its exponent"));
    }
    if number.significant && number.value.abs() < f64::MIN_POSITIVE {
        let message = format!("the number `{}` is too small to be held", shown(written));
        return Err(Refusal::new(
            Code::OutOfRange,
            range,
            message,
            "look at its exponent, or write 0",
        ));
    }
    Ok(number)
}

/// What a text is that does not begin with a number.
fn no_number(text: &str) -> Refusal {
    let token = token(text, |c| c == ' ' || c == '(');
    let range = 0..token.len();
    let word = token.trim_start_matches(['+', '-']).trim_start_matches('.').to_ascii_lowercase();
    let bare = token.trim_start_matches(['+', '-']);
    if word.starts_with("nan") || word.starts_with("inf") {
        let message = format!("`{}` is not a finite number", shown(token));
        return Refusal::new(
            Code::NotFinite,
            range,
            message,
            "write the number that was measured, or leave the key out",
        );
    }
    if bare.starts_with('.') && word.starts_with(|c: char| c.is_ascii_digit()) {
        let sign = token.len() - bare.len();
        let message = format!("the number `{}` begins with a point", shown(token));
        let help = format!("write `{}0{}`", token.get(..sign).unwrap_or(""), shown(bare));
        return Refusal::new(Code::NotAQuantity, range, message, help);
    }
    if let Some(rest) = text.strip_prefix(['\u{2212}', '\u{2013}']) {
        let first = text.len() - rest.len();
        let help = "write the minus sign as `-`";
        return Refusal::new(Code::NotAQuantity, 0..first, "a dash that is no minus sign", help);
    }
    if token.is_empty() {
        let message = if text.is_empty() {
            "a number with a unit was expected, found an empty text".to_owned()
        } else {
            format!("a number was expected, found `{}`", shown(text))
        };
        return Refusal::new(
            Code::NotAQuantity,
            0..text.len(),
            message,
            "write a number and its unit, as in `62.4 mm`",
        );
    }
    let message = format!("a number was expected, found `{}`", shown(token));
    Refusal::new(Code::NotAQuantity, range, message, "write a number and its unit, as in `62.4 mm`")
}

/// What cannot follow a number without a blank between: it was meant to belong to it.
fn bad_tail(text: &str, number: Number) -> Option<Refusal> {
    let rest = text.get(number.length..)?;
    let token = token(text, |c| c == ' ' || c == '(' || c == '±');
    let range = 0..if token.len() > number.length { token.len() } else { number.length };
    let mut after = rest.chars();
    let refuse = |message: String, help: String| {
        Some(Refusal::new(Code::NotAQuantity, range.clone(), message, help))
    };
    let (first, second) = (after.next()?, after.next());
    let digit_next = second.is_some_and(|c| c.is_ascii_digit());
    match first {
        ',' => {
            let dots = token.matches([',', '.']).count();
            let help = if digit_next && dots == 1 {
                format!("write a point: `{}`", shown(&token.replace(',', ".")))
            } else {
                "write the number without commas; the decimal sign is a point".to_owned()
            };
            refuse(format!("the number `{}` holds a comma", shown(token)), help)
        }
        '_' => refuse(
            format!("the number `{}` holds a `_`", shown(token)),
            format!("write `{}`", shown(&token.replace('_', ""))),
        ),
        '.' if number.fraction => refuse(
            format!("the fraction `{}` holds a point", shown(token)),
            "a fraction takes whole numbers; or write a decimal number".to_owned(),
        ),
        '.' if digit_next => refuse(
            format!("the number `{}` holds two points", shown(token)),
            "write one point".to_owned(),
        ),
        '.' => refuse(
            format!("no digit follows the point of `{}`", shown(token)),
            format!("write `{}`, or the digits after the point", text.get(..number.length)?),
        ),
        '/' if digit_next => refuse(
            format!("the fraction `{}` cannot be read", shown(token)),
            "a fraction is two whole numbers, as in `1/2` or `1 1/2`".to_owned(),
        ),
        'x' | 'X'
            if text.get(..number.length)?.ends_with('0')
                && second.is_some_and(|c| c.is_ascii_hexdigit()) =>
        {
            refuse(
                format!("the number `{}` is hexadecimal", shown(token)),
                "write it in decimal digits".to_owned(),
            )
        }
        _ => None,
    }
}

/// The text up to the first character that ends it.
fn token(text: &str, ends: impl Fn(char) -> bool) -> &str {
    text.get(..text.find(ends).unwrap_or(text.len())).unwrap_or("")
}

/// A stretch of the author's text as a message shows it: not longer than a line.
pub(super) fn shown(text: &str) -> String {
    const MOST: usize = 40;
    if text.chars().count() <= MOST {
        return text.to_owned();
    }
    let start: String = text.chars().take(MOST - 1).collect();
    format!("{start}…")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_of_the_grammar_are_read_with_their_last_digit() {
        let cases = [
            ("62.4", 62.4, 0.1, 4),
            ("-8", -8.0, 1.0, 2),
            ("+0.50", 0.5, 0.01, 5),
            ("1e3", 1000.0, 1000.0, 3),
            ("6.25E-7 m", 6.25e-7, 1e-9, 7),
            ("1/2 in", 0.5, 0.5, 3),
            ("1 1/2in", 1.5, 0.5, 5),
            ("-1 5/8", -1.625, 0.125, 6),
            ("2 1/K", 2.0, 1.0, 1),
            ("0.00072 1/K", 0.00072, 1e-5, 7),
            ("3,5", 3.0, 1.0, 1),
            ("5em", 5.0, 1.0, 1),
            ("007", 7.0, 1.0, 3),
        ];
        for (text, value, last_digit, length) in cases {
            let number = read_number(text).unwrap();
            let found = (number.value.to_bits(), number.last_digit.to_bits(), number.length);
            assert_eq!(found, (f64::to_bits(value), f64::to_bits(last_digit), length), "{text}");
        }
        for text in ["", "mm", ".5", "-", "nan", "±1"] {
            assert_eq!(read_number(text), None, "{text}");
        }
    }
}
