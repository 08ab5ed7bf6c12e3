//! An excerpt of a file with a place marked.

use crate::{place, visible};
use maud::{Markup, html};
use sumpwright_core::source::{Sources, Span};

/// The longest line that is shown whole, in characters; a longer one is cut round its mark.
const LINE: usize = 220;

/// The line on which a place stands, the place marked.
pub(super) fn excerpt(sources: &Sources, span: Span) -> Markup {
    let span = place::clamp(sources, span);
    let text = sources.text(span.file);
    let (start, end) = (span.start as usize, span.end as usize);
    let from = text.get(..start).and_then(|t| t.rfind('\n')).map_or(0, |at| at + 1);
    let to = text.get(start..).and_then(|t| t.find('\n')).map_or(text.len(), |at| start + at);
    let end = end.min(to).max(start);
    let cut = |range: core::ops::Range<usize>| text.get(range).unwrap_or("");
    let before = last(cut(from..start), LINE / 2);
    let after = first(cut(end..to), LINE / 2);
    html! {
        pre {
            span.line-number { (place::start(sources, span).line) }
            code { (shown(&before)) mark { (shown(cut(start..end))) } (shown(&after)) }
        }
    }
}

fn shown(text: &str) -> String {
    visible::visible(&text.replace('\t', "    ")).into_owned()
}

fn last(text: &str, count: usize) -> String {
    let all: Vec<char> = text.trim_start_matches('\u{feff}').chars().collect();
    let skip = all.len().saturating_sub(count);
    let dots = if skip > 0 { "…" } else { "" };
    format!("{dots}{}", all.iter().skip(skip).collect::<String>())
}

fn first(text: &str, count: usize) -> String {
    let dots = if text.chars().count() > count { "…" } else { "" };
    format!("{}{dots}", text.chars().take(count).collect::<String>())
}
