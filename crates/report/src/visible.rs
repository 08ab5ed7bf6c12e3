//! Text that others wrote, made safe to print: nothing in it can move the cursor, change a colour, turn
//! the reading direction or pass unseen.

use std::borrow::Cow;

/// One line of text in which every control, bidirectional and invisible character is spelt out as
/// `\u{…}`.
pub fn visible(text: &str) -> Cow<'_, str> {
    if text.chars().all(is_seen) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        if is_seen(c) {
            out.push(c);
        } else {
            spell(c, &mut out);
        }
    }
    Cow::Owned(out)
}

/// As [`visible`], for text that will be wrapped anyway: line ends and tabs are blanks.
pub(crate) fn visible_paragraph(text: &str) -> String {
    let blanks: String =
        text.chars().map(|c| if matches!(c, '\n' | '\r' | '\t') { ' ' } else { c }).collect();
    visible(&blanks).into_owned()
}

/// ASCII only: signs of the trade by their usual stand-in, all else spelt out as `\u{…}`.
pub(crate) fn ascii(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            _ if c.is_ascii() => out.push(c),
            '±' => out.push_str("+/-"),
            '·' | '×' => out.push('*'),
            '²' => out.push_str("^2"),
            '³' => out.push_str("^3"),
            '°' => out.push_str("deg "),
            'µ' | 'μ' => out.push('u'),
            'Ω' => out.push_str("ohm"),
            '−' | '–' | '—' | '‐' | '‑' => out.push('-'),
            '‘' | '’' => out.push('\''),
            '“' | '”' | '„' => out.push('"'),
            '…' => out.push_str("..."),
            '≥' => out.push_str(">="),
            '≤' => out.push_str("<="),
            '≈' => out.push('~'),
            'Ø' | 'ø' => out.push_str("dia."),
            '√' => out.push_str("sqrt"),
            '½' => out.push_str("1/2"),
            '¼' => out.push_str("1/4"),
            '¾' => out.push_str("3/4"),
            '\u{a0}' | '\u{202f}' => out.push(' '),
            _ => spell(c, &mut out),
        }
    }
    out
}

fn spell(c: char, out: &mut String) {
    out.extend(c.escape_unicode());
}

/// Whether a character shows as itself: not a control, a direction, a joiner or a blank without width.
pub(crate) fn is_seen(c: char) -> bool {
    !(c.is_control()
        || matches!(c,
            '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}'
            | '\u{180b}'..='\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}'
            | '\u{ffa0}' | '\u{fff0}'..='\u{fffb}' | '\u{e0000}'..='\u{e0fff}'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_escape_code_is_spelt_out() {
        assert_eq!(visible("\u{1b}[32mconforms\u{7}"), "\\u{1b}[32mconforms\\u{7}");
    }

    #[test]
    fn a_direction_override_and_a_line_end_in_a_name_are_spelt_out() {
        assert_eq!(visible("a\u{202e}b\nc\u{9b}d"), "a\\u{202e}b\\u{a}c\\u{9b}d");
    }

    #[test]
    fn ordinary_signs_stay() {
        assert_eq!(visible("62.4 ± 0.3 mm² · ü"), "62.4 ± 0.3 mm² · ü");
    }

    #[test]
    fn plain_text_is_ascii_whatever_comes_in() {
        assert_eq!(ascii("62.4 ± 0.3 kJ/(kg·K) ü"), "62.4 +/- 0.3 kJ/(kg*K) \\u{fc}");
    }
}
