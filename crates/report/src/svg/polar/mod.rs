//! The coverage map as a chart: how far the vehicle may lean in every direction before the inlet uncovers.
//!
//! ```text
//!            oil to the left              Seen from above, front to the right, as the plan is.
//!               ___                       The farther from the middle, the steeper; the direction is that in which
//!             /  |  \                     the oil runs. Within the line of 10 mm the inlet is covered.
//!   rearward |---+---| forward
//!             \_ | _/
//!            oil to the right
//! ```

mod lines;
mod states;
mod words;

pub(crate) use words::{READ_AS, caption, title};

use lines::Lines;
use maud::{Markup, html};
use states::State;
use sumpwright_core::coverage::{CoverageCase, CoverageMap, FillCase, LOOKED_TO};

/// Width of the chart, in its own units.
const WIDTH: f64 = 640.0;
const MIDDLE: [f64; 2] = [320.0, 278.0];
const RADIUS: f64 = 200.0;
/// Height of the letters.
const LETTER: f64 = 16.0;
/// Below the chart and the words under it.
const FOOT: f64 = 532.0;
const ROW: f64 = 21.0;
/// Rings stand this far apart, in degrees.
const RING: f64 = 10.0;
const DEGREES: f64 = 180.0 / core::f64::consts::PI;

/// The map at one oil temperature.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Chart<'m> {
    map: &'m CoverageMap,
    stated: &'m CoverageCase,
    /// The cases with the least and the most oil, where the check is not taken as exact.
    between: Option<[&'m CoverageCase; 2]>,
    /// Whether it is that of the coldest of several temperatures, that of the hottest, or the only one.
    name: &'static str,
}

/// The charts of a map, one a temperature.
pub(crate) fn charts(map: &CoverageMap) -> Vec<Chart<'_>> {
    let of = |fill: FillCase| map.cases.iter().filter(move |case| case.fill == fill);
    let several = of(FillCase::Stated).count() > 1;
    let chart = |(place, stated): (usize, _)| {
        let stated: &CoverageCase = stated;
        let same = |case: &&CoverageCase| {
            case.oil_temperature.to_bits() == stated.oil_temperature.to_bits()
        };
        let [least, most] = [FillCase::Least, FillCase::Most].map(|fill| of(fill).find(same));
        let name = match (several, place) {
            (false, _) => "coverage",
            (true, 0) => "coverage-cold",
            (true, _) => "coverage-hot",
        };
        Chart { map, stated, between: least.zip(most).map(<[_; 2]>::from), name }
    };
    of(FillCase::Stated).enumerate().map(chart).collect()
}

impl Chart<'_> {
    /// A word by which it is told from the other drawings of a pan.
    pub(crate) fn name(&self) -> &'static str {
        self.name
    }

    /// Where the chart ends, in degrees: a ring beyond all that has to be seen, and no farther than was looked.
    fn edge(&self) -> f64 {
        let marks = self.map.duty.iter().map(|mark| mark.tilt);
        let drawn = [Some(self.stated), self.between.map(|[_, most]| most)];
        let rays = drawn.into_iter().flatten().flat_map(|case| &case.rays);
        let tilts = rays.flat_map(|ray| [ray.to_floor.low, ray.to_dry.low]).chain(marks);
        let farthest =
            tilts.filter(|tilt| tilt.is_finite()).fold(0.0, |a, b| if b > a { b } else { a });
        let ring = libm::ceil(farthest * DEGREES / RING + 0.2) * RING;
        ring.clamp(3.0 * RING, LOOKED_TO * DEGREES)
    }
}

/// The chart. `id` tells it from the others on the page.
pub(crate) fn inline(chart: &Chart<'_>, id: &str, pan: &str) -> Markup {
    let lines = Lines { edge: chart.edge() };
    let states = states::states(chart);
    let legend = legend(chart, &states);
    let height = FOOT + ROW * legend.len() as f64 + 8.0;
    html! {
        svg class="drawing polar" xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {WIDTH} {height:.0}"))
            font-size=(LETTER) role="img" aria-labelledby=(format!("{id}-title {id}-text")) {
            title id=(format!("{id}-title")) { (title(chart, pan)) }
            desc id=(format!("{id}-text")) { (caption(chart)) " " (READ_AS) }
            (patterns(id))
            (curves(chart, lines, id))
            (rings(lines))
            (directions())
            text class="strong" x="12" y="22" { (words::heading(chart)) }
            (least(chart, lines))
            (states::marks(&states, lines))
            @for (row, (sample, text, class)) in legend.iter().enumerate() {
                @let y = FOOT + ROW * row as f64;
                (sampled(*sample, y, id))
                text class=(class) x="64" y=(format!("{:.1}", y + 5.0)) { (text) }
            }
        }
    }
}

/// What stands before a row of the legend.
#[derive(Debug, Clone, Copy)]
enum Sample {
    Floor,
    Dry,
    Least,
    State(states::Look),
    Nothing,
}

fn legend(chart: &Chart<'_>, states: &[State<'_>]) -> Vec<(Sample, String, &'static str)> {
    let [floor, dry] = words::curves(chart);
    let mut rows = vec![(Sample::Floor, floor, ""), (Sample::Dry, dry, "")];
    rows.extend(words::least(chart).map(|text| (Sample::Least, text, "strong")));
    for state in states.iter().take(states::NAMED) {
        let class = if state.is_nearest { "strong" } else { "" };
        rows.push((Sample::State(state.look), words::state(state), class));
    }
    if states.len() > states::NAMED {
        let more = crate::said::number_of(states.len() - states::NAMED, "state");
        rows.push((Sample::Nothing, format!("and {more} more, without a number"), ""));
    }
    rows
}

fn sampled(sample: Sample, y: f64, id: &str) -> Markup {
    let line = |class: &str| html! { path class=(class) d=(format!("M14 {y:.1}H52")) {} };
    let band = |pattern: &str| {
        html! {
            path fill=(format!("url(#{id}-{pattern})")) d=(format!("M14 {:.1}h38v12h-38Z", y - 6.0)) {}
        }
    };
    html! {
        @match sample {
            Sample::Floor => { (band("between")) (line("cover")) }
            Sample::Dry => { (band("between-dry")) (line("bare")) }
            Sample::Least => { (line("least")) circle class="rim" cx="52" cy=(format!("{y:.1}")) r="4" {} }
            Sample::State(look) => (states::sign(look, [33.0, y])),
            Sample::Nothing => {}
        }
    }
}

/// Hatched and dotted, so that the bands are told apart without colour.
fn patterns(id: &str) -> Markup {
    html! {
        defs {
            pattern id=(format!("{id}-between")) patternUnits="userSpaceOnUse" width="5" height="5" {
                path class="solid-line" d="M0 5L5 0" {}
            }
            pattern id=(format!("{id}-between-dry")) patternUnits="userSpaceOnUse" width="5" height="5" {
                circle class="oil-dot" cx="2.5" cy="2.5" r="0.7" {}
            }
        }
    }
}

fn curves(chart: &Chart<'_>, lines: Lines, id: &str) -> Markup {
    let floor = lines::floor;
    let inside = chart.between.map_or(chart.stated, |[least, _]| least);
    html! {
        path class="oil" d=(lines.closed(inside, floor)) {}
        @if let Some([least, most]) = chart.between {
            path fill=(format!("url(#{id}-between-dry)")) fill-rule="evenodd"
                d=(lines.closed(least, lines::dry) + &lines.closed(most, lines::dry)) {}
            path fill=(format!("url(#{id}-between)")) fill-rule="evenodd"
                d=(lines.closed(least, floor) + &lines.closed(most, floor)) {}
            path class="contour" d=(lines.open(least, floor)) {}
            path class="contour" d=(lines.open(most, floor)) {}
        }
        path class="bare" d=(lines.open(chart.stated, lines::dry)) {}
        path class="cover" d=(lines.open(chart.stated, floor)) {}
    }
}

fn rings(lines: Lines) -> Markup {
    let count = (1_u32..).take_while(|i| f64::from(*i) * RING <= lines.edge + 0.5);
    let [x, y] = MIDDLE;
    // On the diagonal, where no direction has its word.
    let slant = core::f64::consts::FRAC_PI_4;
    html! {
        @for i in count {
            @let degrees = f64::from(i) * RING;
            @let [at_x, at_y] = lines.place(slant, degrees / DEGREES);
            circle class="ring" cx=(x) cy=(y) r=(lines::number(lines.radius(degrees / DEGREES))) {}
            text class="small" x=(format!("{at_x:.1}")) y=(format!("{:.1}", at_y + 5.0)) text-anchor="middle" {
                (format!("{degrees:.0}")) @if degrees + 0.5 > lines.edge { " deg" }
            }
        }
        path class="ring" d=(format!("M{:.1} {y}H{:.1}M{x} {:.1}V{:.1}", x - RADIUS, x + RADIUS, y - RADIUS, y + RADIUS)) {}
    }
}

/// What each side means: where the oil runs, and what makes it run there.
fn directions() -> Markup {
    let [x, y] = MIDDLE;
    let left = x - RADIUS - 8.0;
    let right = x + RADIUS + 8.0;
    let beside = |at: f64, anchor: &str, words: [&str; 3]| {
        html! {
            @for (row, word) in words.iter().enumerate() {
                text class=(if row == 0 { "strong" } else { "small" }) x=(at) y=(y - 12.0 + 18.0 * row as f64)
                    text-anchor=(anchor) { (word) }
            }
        }
    };
    let over = |y: f64, strong: &str, words: &str| {
        html! {
            text x=(x) y=(y) text-anchor="middle" {
                tspan class="strong" { (strong) } tspan class="small" { (words) }
            }
        }
    };
    html! {
        (beside(right, "start", ["oil forward", "descent,", "braking"]))
        (beside(left, "end", ["oil rearward", "climb,", "accelerating"]))
        (over(y - RADIUS - 14.0, "oil to the left", ": right side high, turning right"))
        (over(y + RADIUS + 24.0, "oil to the right", ": left side high, turning left"))
    }
}

/// The least lean, from the middle to the line of 10 mm.
fn least(chart: &Chart<'_>, lines: Lines) -> Markup {
    let case = chart.stated;
    let [x, y] = MIDDLE;
    let is_drawn = case.least > 0.0 && case.least.is_finite();
    html! {
        @if is_drawn {
            @let [to_x, to_y] = lines.place(case.least_azimuth, case.least);
            path class="least" d=(format!("M{x} {y}L{} {}", lines::number(to_x), lines::number(to_y))) {}
            circle class="rim" cx=(lines::number(to_x)) cy=(lines::number(to_y)) r="4" {}
        }
    }
}

#[cfg(test)]
mod tests;
