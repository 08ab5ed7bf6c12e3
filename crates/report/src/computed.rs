//! A computed change in words, the same in every format.

use crate::place;
use sumpwright_core::review::{Change, Finding, Remedy};
use sumpwright_core::source::Sources;

/// The word that stands before it.
pub(crate) const WORD: &str = "change";

/// What the search for a change came to, one paragraph each; nothing where none was asked for.
pub(crate) fn paragraphs(sources: &Sources, finding: &Finding) -> Vec<String> {
    match &finding.computed {
        None => Vec::new(),
        Some(Remedy::Change(change)) => vec![format!(
            "{}. A computed change to consider, not an instruction: with it alone this rule conforms and no \
             other turns for the worse.",
            one(sources, change)
        )],
        Some(Remedy::AtACost(all)) => {
            let told = |costly: &sumpwright_core::review::Costly| {
                format!(
                    "{}. A computed change: with it alone this rule conforms, at the cost of {}.",
                    one(sources, &costly.change),
                    costly.turned.join(", ")
                )
            };
            all.iter().map(told).collect()
        }
        Some(Remedy::NotFound { tried, outside }) => {
            let looked = match tried {
                0 => "none reaches the limit".to_owned(),
                1 => "the 1 that reaches the limit makes no sound description, or still falls short, when it is \
                      written"
                    .to_owned(),
                more => format!(
                    "the {more} that reach the limit make no sound description, or still fall short, when they \
                     are written"
                ),
            };
            let outside = outside.as_ref().map_or_else(String::new, |path| {
                format!(" What moves it most outside the pan is {path}.")
            });
            vec![format!("No single value of the pan was found to do it: {looked}.{outside}")]
        }
    }
}

fn one(sources: &Sources, change: &Change) -> String {
    let Change { path, from, to, unit, steps, .. } = change;
    let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
    let at = place::text(sources, change.span);
    // One figure after the point says how large a change is; a whole number is one of digits.
    let steps = if change.of_last_digit {
        format!("{steps:.0} units of its last digit, taken as exact")
    } else {
        format!("{steps:.1} times its standard uncertainty")
    };
    format!("{path}: {from}{unit} → {to}{unit} ({at}; {steps})")
}
