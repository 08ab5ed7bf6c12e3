//! A measure over the input that drives it, as a chart: readable without colour, in the dark and aloud.

use crate::scale::Scale;
use maud::{Markup, html};
use std::fmt::Write as _;
use sumpwright_core::explain::{Curve, CurvePoint, PanOnCurve};
use sumpwright_core::measure::Bounds;
use sumpwright_core::review::LimitSide;

/// The whole chart and the frame within it, in the chart's own units.
const SIZE: [f64; 2] = [640.0, 400.0];
const LEFT: f64 = 74.0;
const RIGHT: f64 = 24.0;
const TOP: f64 = 22.0;
const BOTTOM: f64 = 58.0;
/// About how many numbers stand along an axis.
const NUMBERS: f64 = 5.0;
/// Dots nearer than this to each other have their letters side by side.
const TOUCHING: f64 = 16.0;
/// Room left over and under everything drawn, as a share of its height.
const ROOM: f64 = 0.08;

/// The chart. `id` tells it from the others on the page.
pub(crate) fn inline(curve: &Curve, id: &str) -> Markup {
    let chart = Chart::of(curve);
    html! {
        svg class="drawing chart" xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {} {}", SIZE[0], SIZE[1]))
            font-size="13" role="img" aria-labelledby=(format!("{id}-title {id}-text")) {
            title id=(format!("{id}-title")) { (format!("{} over {}", curve.measure, curve.input)) }
            desc id=(format!("{id}-text")) { (caption(curve)) }
            (chart.axes(curve))
            @for (place, side) in curve.sides.iter().enumerate() { (chart.limit(curve, place, *side)) }
            (chart.values(curve))
            @for pan in &curve.pans { (chart.pan(pan)) }
            @for (x, y, letters) in chart.letters(curve) {
                text class="halo strong" x=(format!("{:.1}", x + 8.0)) y=(format!("{:.1}", y - 7.0)) { (letters) }
            }
        }
    }
}

/// What the chart shows, in words.
pub(crate) fn caption(curve: &Curve) -> String {
    let [x, y] = scales(curve);
    let mut text = format!(
        "{} in {} over {}, all else as in {}.",
        curve.measure,
        unit(&y),
        curve.input,
        curve.of
    );
    if !curve.sides.is_empty() {
        text.push_str(" Dashed: the limit; hatched: the side of it that does not conform.");
    }
    for (place, pan) in curve.pans.iter().enumerate() {
        let verdict = pan.verdict.map_or("", |verdict| verdict.words());
        let comma = if verdict.is_empty() { "" } else { ", " };
        // Writing into a string does not fail.
        let _ = write!(
            text,
            " {}: {}, at {}: {}{comma}{verdict}.",
            letter(place),
            pan.name,
            x.value(pan.at, 0.0),
            y.reading(&pan.reading),
        );
    }
    text
}

/// The letter by which a pan is known in the chart.
fn letter(place: usize) -> char {
    u8::try_from(place).ok().and_then(|place| b'A'.checked_add(place)).map_or('+', char::from)
}

fn scales(curve: &Curve) -> [Scale; 2] {
    let largest = finite(curve).map(f64::abs).fold(0.0, |a, b| if b > a { b } else { a });
    let x = Scale::in_unit(&curve.input_unit);
    [x, Scale::of_value(curve.dimension, largest)]
}

fn unit(scale: &Scale) -> String {
    let symbol = scale.symbol();
    if symbol.is_empty() { "parts of 1".to_owned() } else { symbol.to_owned() }
}

/// Every finite number that has to have room in the height.
fn finite(curve: &Curve) -> impl Iterator<Item = f64> {
    let ends = |bounds: Bounds| [bounds.low, bounds.high];
    let point = move |point: &CurvePoint| {
        let limits = point.limits.iter().flatten().copied();
        point.value.into_iter().chain(limits).flat_map(ends).collect::<Vec<f64>>()
    };
    let pans = curve.pans.iter().flat_map(move |pan| {
        let (low, high) = reach(pan);
        [low, high]
    });
    curve.points.iter().flat_map(point).chain(pans).filter(|value| value.is_finite())
}

/// From where to where a pan's reading may lie, with what the decision rule takes off.
fn reach(pan: &PanOnCurve) -> (f64, f64) {
    let guard = pan.guard.unwrap_or(pan.reading.u_high);
    (pan.reading.bounds.low - guard, pan.reading.bounds.high + guard)
}

/// Where values stand on the paper.
struct Chart {
    x: [f64; 2],
    y: [f64; 2],
    across: Scale,
    up: Scale,
}

impl Chart {
    fn of(curve: &Curve) -> Self {
        let [across, up] = scales(curve);
        let first = curve.points.first().map_or(0.0, |point| point.at);
        let last = curve.points.last().map_or(1.0, |point| point.at);
        let low = finite(curve).fold(f64::INFINITY, |a, b| if b < a { b } else { a });
        let high = finite(curve).fold(f64::NEG_INFINITY, |a, b| if b > a { b } else { a });
        let room = if high > low { ROOM * (high - low) } else { 1e-9 + 0.1 * high.abs() };
        Self { x: [first, last], y: [low - room, high + room], across, up }
    }

    fn at(&self, x: f64, y: f64) -> [f64; 2] {
        let width = SIZE[0] - LEFT - RIGHT;
        let height = SIZE[1] - TOP - BOTTOM;
        [
            LEFT + width * (x - self.x[0]) / (self.x[1] - self.x[0]),
            TOP + height * (1.0 - (y - self.y[0]) / (self.y[1] - self.y[0])),
        ]
    }

    fn axes(&self, curve: &Curve) -> Markup {
        let [left, bottom] = self.at(self.x[0], self.y[0]);
        let [right, top] = self.at(self.x[1], self.y[1]);
        html! {
            @for (value, text) in ticks(self.x, &self.across) {
                @let [x, _] = self.at(value, self.y[0]);
                path class="contour" d=(format!("M{x:.1} {top:.1}V{bottom:.1}")) {}
                text class="small" x=(format!("{x:.1}")) y=(format!("{:.1}", bottom + 18.0)) text-anchor="middle" { (text) }
            }
            @for (value, text) in ticks(self.y, &self.up) {
                @let [_, y] = self.at(self.x[0], value);
                path class="contour" d=(format!("M{left:.1} {y:.1}H{right:.1}")) {}
                text class="small" x=(format!("{:.1}", left - 8.0)) y=(format!("{:.1}", y + 4.0)) text-anchor="end" { (text) }
            }
            path class="frame" d=(format!("M{left:.1} {top:.1}V{bottom:.1}H{right:.1}")) {}
            text x=(format!("{right:.1}")) y=(format!("{:.1}", bottom + 40.0)) text-anchor="end" {
                (format!("{} [{}]", curve.input, unit(&self.across)))
            }
            text x="8" y="14" { (format!("{} [{}]", short(&curve.measure), unit(&self.up))) }
        }
    }

    /// The curve: a line where the reading is one value, a band where it is bounds.
    fn values(&self, curve: &Curve) -> Markup {
        let is_band = curve.points.iter().filter_map(|p| p.value).any(|b| b.value().is_none());
        let mut lines = vec![self.line(curve, |point| point.value.map(|bounds| bounds.low))];
        if is_band {
            lines.push(self.line(curve, |point| point.value.map(|bounds| bounds.high)));
        }
        html! {
            @for line in &lines { path class="curve" d=(line) {} }
        }
    }

    fn limit(&self, curve: &Curve, place: usize, side: LimitSide) -> Markup {
        let end = |bounds: Bounds| match side {
            LimitSide::AtLeast => bounds.high,
            LimitSide::AtMost => bounds.low,
        };
        let value = |point: &CurvePoint| point.limits.get(place).copied().flatten().map(end);
        let line = self.line(curve, value);
        let mark = curve.points.iter().rev().find_map(|p| Some((p.at, value(p)?)));
        let word = match side {
            LimitSide::AtLeast => "at least",
            LimitSide::AtMost => "at most",
        };
        // Short strokes on the side that does not conform.
        let down = match side {
            LimitSide::AtLeast => 7.0,
            LimitSide::AtMost => -7.0,
        };
        let mut strokes = String::new();
        for point in curve.points.iter().step_by(2) {
            if let Some(y) = value(point).filter(|y| y.is_finite()) {
                let [x, y] = self.at(point.at, y);
                let _ = write!(strokes, "M{x:.1} {y:.1}l-5 {down:.0}");
            }
        }
        html! {
            path class="limit" d=(line) {}
            path class="limit-side" d=(strokes) {}
            @if let Some((x, y)) = mark.filter(|(_, y)| y.is_finite()) {
                @let [x, y] = self.at(x, y);
                text class="halo" x=(format!("{x:.1}")) y=(format!("{:.1}", y - 0.7 * down - if down > 0.0 { 2.0 } else { -10.0 })) text-anchor="end" { (word) }
            }
        }
    }

    /// Where a pan's reading stands on the paper.
    fn dot(&self, pan: &PanOnCurve) -> [f64; 2] {
        let inside = |value: f64| value.clamp(self.y[0], self.y[1]);
        let middle = match pan.reading.bounds.value() {
            Some(value) => inside(value),
            None => inside(pan.reading.bounds.low).midpoint(inside(pan.reading.bounds.high)),
        };
        self.at(pan.at, middle)
    }

    fn pan(&self, pan: &PanOnCurve) -> Markup {
        let (low, high) = reach(pan);
        let [x, y] = self.dot(pan);
        let [top, bottom] =
            [high, low].map(|end| self.at(pan.at, end.clamp(self.y[0], self.y[1]))[1]);
        let bar = format!(
            "M{x:.1} {top:.1}V{bottom:.1}M{:.1} {top:.1}h8M{:.1} {bottom:.1}h8",
            x - 4.0,
            x - 4.0
        );
        html! {
            path class="reach" d=(bar) {}
            circle class=(if pan.is_base { "pan-dot base" } else { "pan-dot" })
                cx=(format!("{x:.1}")) cy=(format!("{y:.1}")) r="4.5" {}
        }
    }

    /// The letters of the pans; those that stand on one another share a place.
    fn letters(&self, curve: &Curve) -> Vec<(f64, f64, String)> {
        let mut found: Vec<(f64, f64, String)> = Vec::new();
        for (place, pan) in curve.pans.iter().enumerate() {
            let [x, y] = self.dot(pan);
            let near = |other: &&mut (f64, f64, String)| {
                (other.0 - x).abs() < TOUCHING && (other.1 - y).abs() < TOUCHING
            };
            match found.iter_mut().find(near) {
                Some((_, _, letters)) => {
                    letters.push_str(", ");
                    letters.push(letter(place));
                }
                None => found.push((x, y, letter(place).to_string())),
            }
        }
        found
    }

    /// A line through the points that have a value, broken where one has none.
    fn line(&self, curve: &Curve, value: impl Fn(&CurvePoint) -> Option<f64>) -> String {
        let mut path = String::new();
        let mut broken = true;
        for point in &curve.points {
            match value(point).filter(|value| value.is_finite()) {
                Some(y) => {
                    let [x, y] = self.at(point.at, y);
                    let _ = write!(path, "{}{x:.1} {y:.1}", if broken { 'M' } else { 'L' });
                    broken = false;
                }
                None => broken = true,
            }
        }
        path
    }
}

/// A formula that is too long for a heading is cut.
fn short(formula: &str) -> String {
    const LONGEST: usize = 60;
    if formula.chars().count() <= LONGEST {
        return formula.to_owned();
    }
    format!("{}…", formula.chars().take(LONGEST).collect::<String>())
}

/// Round numbers between two values, each as it is written, in the unit of the scale.
fn ticks([low, high]: [f64; 2], scale: &Scale) -> Vec<(f64, String)> {
    let [from, to] = [low, high].map(|value| scale.in_its_unit(value));
    let raw = (to - from) / NUMBERS;
    let is_good = raw.is_finite() && raw > 0.0;
    if !is_good {
        return Vec::new();
    }
    let power = libm::pow(10.0, libm::floor(libm::log10(raw)));
    let step = [1.0, 2.0, 5.0, 10.0].map(|part| part * power);
    let step = step.into_iter().find(|step| *step >= raw).unwrap_or(raw);
    let digits = libm::ceil(-libm::log10(step * 1.000_001)).clamp(0.0, 9.0);
    let first = libm::ceil(from / step);
    let count = libm::floor(to / step) - first;
    let mut found = Vec::new();
    let mut number = 0.0;
    while number <= count {
        let value = (first + number) * step;
        // A negative zero is nothing to read.
        let value = if value.abs() < step / 2.0 { 0.0 } else { value };
        let share = (value - from) / (to - from);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 9")]
        let places = digits as usize;
        found.push((low + (high - low) * share, format!("{value:.places$}")));
        number += 1.0;
    }
    found
}
