//! Drawings as SVG: readable in print, without colour, in the dark, and read aloud.
//!
//! Every kind of thing has a pattern or line of its own, so that colour only repeats what the pattern says. Lengths are in
//! millimetres; one unit of the drawing is one millimetre.

mod canvas;
pub(crate) mod curve;
mod plan;
pub(crate) mod polar;
mod section;
mod words;

pub(crate) use words::caption;

use canvas::Canvas;
use maud::{Markup, PreEscaped, html};
use sumpwright_core::coverage::CoverageMap;
use sumpwright_core::figure::{Figure, FigureKind};
use sumpwright_core::measure::Unknown;

/// What the drawings look like; for the page that holds them, or inside a drawing that stands alone.
pub(crate) const STYLE: &str = include_str!("drawing.css");

/// The drawings of a pan as files of their own: name and content. A coverage map that there is none of is left out.
///
/// The names begin with that of the pan's file without its ending.
pub fn drawings(
    path: &str,
    title: Option<&str>,
    figures: &[Figure],
    coverage: Option<&Result<CoverageMap, Unknown>>,
) -> Vec<(String, String)> {
    let file = path.rsplit(['/', '\\']).next().unwrap_or(path);
    let stem = file.rsplit_once('.').map_or(file, |(stem, _)| stem);
    let title = title.unwrap_or(path);
    let named =
        |name: &str, drawing: &Markup| (format!("{stem}-{}.svg", word(name)), alone(drawing));
    let figures = figures.iter().map(|figure| named(&figure.name, &inline(figure, ID, title)));
    let charts = coverage.into_iter().flatten().flat_map(polar::charts);
    figures
        .chain(charts.map(|chart| named(chart.name(), &polar::inline(&chart, ID, title))))
        .collect()
}

/// The id of a drawing that stands alone.
const ID: &str = "drawing";

/// A name of a state as part of a file's name: other signs than letters, digits and hyphens become hyphens.
fn word(name: &str) -> String {
    name.chars().map(|c| if c.is_alphanumeric() || c == '-' { c } else { '-' }).collect()
}

/// A drawing to be put into a page. `id` tells it from the others on the page.
pub(crate) fn inline(figure: &Figure, id: &str, pan: &str) -> Markup {
    let drawing = drawn(figure, id);
    let (title, text) = (words::title(figure, pan), caption(figure));
    let [x, y, width, height] = drawing.view();
    let view = format!("{x:.1} {y:.1} {width:.1} {height:.1}");
    html! {
        svg class="drawing" xmlns="http://www.w3.org/2000/svg" viewBox=(view) font-size=(format!("{:.1}", drawing.letter())) role="img"
            aria-labelledby=(format!("{id}-title {id}-text")) {
            title id=(format!("{id}-title")) { (title) }
            desc id=(format!("{id}-text")) { (text) }
            (Canvas::patterns(id))
            (drawing.markup())
        }
    }
}

/// A drawing as a file of its own.
fn alone(drawing: &Markup) -> String {
    let drawing = drawing.clone().into_string();
    // The style goes inside the root element, after its tag.
    let (open, rest) = drawing.split_once('>').unwrap_or((&drawing, ""));
    let style = html! { style { (PreEscaped(STYLE)) } }.into_string();
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{open}>{style}{rest}\n")
}

fn drawn(figure: &Figure, id: &str) -> Canvas {
    match &figure.kind {
        FigureKind::Plan => plan::draw(figure, id),
        FigureKind::Section(kind) => section::draw(figure, kind, id),
    }
}

#[cfg(test)]
mod tests;
