//! The paper: shapes in millimetres, with room round them for words.

use glam::DVec2;
use maud::{Markup, PreEscaped, html};
use std::fmt::Write as _;
use sumpwright_core::figure::Figure;

/// Millimetres in a metre; drawings come in metres.
const MM: f64 = 1000.0;

/// Room round the shapes, in letter heights.
const MARGIN: f64 = 3.2;

/// Letters are as high as this share of the larger side of the drawing.
const LETTER: f64 = 0.036;

/// About how wide a letter is, of its height.
const WIDE: f64 = 0.58;

/// The least room between two words beside each other, in letter heights.
const GAP: f64 = 0.4;

/// A growing drawing.
#[derive(Debug)]
pub(super) struct Canvas {
    id: String,
    body: String,
    /// Height of the letters, in millimetres.
    letter: f64,
    low: DVec2,
    high: DVec2,
    /// The corners of the words so far, on paper.
    words: Vec<[DVec2; 2]>,
}

/// Where a word stands to its point.
#[derive(Debug, Clone, Copy)]
pub(super) enum Side {
    Middle,
    Right,
    Left,
}

impl Canvas {
    /// Paper for a drawing; the letters are as large as it asks for.
    pub(super) fn new(id: &str, figure: &Figure) -> Self {
        let far = DVec2::splat(f64::INFINITY);
        let points = || figure.shapes.iter().flat_map(|shape| &shape.points);
        let low = points().fold(far, |low, point| low.min(*point));
        let size = points().fold(-far, |high, point| high.max(*point)) - low;
        let size = if size.x > size.y { size.x } else { size.y };
        let letter = if size.is_finite() { LETTER * size * MM } else { 10.0 };
        Self {
            id: id.to_owned(),
            body: String::new(),
            letter,
            low: far,
            high: -far,
            words: Vec::new(),
        }
    }

    /// Height of the letters, in millimetres.
    pub(super) fn letter(&self) -> f64 {
        self.letter
    }

    /// A closed or open line of a class; points in metres, y up.
    pub(super) fn line(&mut self, class: &str, points: &[DVec2], closed: bool) {
        let Some(path) = self.path(points, closed) else { return };
        self.push(html! { path class=(class) d=(path) {} });
    }

    /// A closed shape filled with a pattern of this drawing.
    pub(super) fn filled(&mut self, class: &str, pattern: &str, points: &[DVec2]) {
        let Some(path) = self.path(points, true) else { return };
        let fill = format!("url(#{}-{pattern})", self.id);
        self.push(html! {
            path class=(class) d=(path) {}
            path fill=(fill) d=(path) {}
        });
    }

    /// A word at a point in metres, moved by letter heights.
    pub(super) fn word(&mut self, class: &str, at: DVec2, by: DVec2, side: Side, text: &str) {
        if !at.is_finite() {
            return;
        }
        let place = self.moved(at, by);
        let anchor = match side {
            Side::Middle => "middle",
            Side::Right => "start",
            Side::Left => "end",
        };
        let text = crate::visible::visible(text);
        self.words.push(self.room(place, side, &text));
        self.push(html! {
            text class=(class) x=(number(place.x)) y=(number(place.y)) text-anchor=(anchor) { (text) }
        });
    }

    /// A word in the first of some places, moved by letter heights, where it stands in the view and on no other word; in
    /// the first of all where there is none.
    pub(super) fn word_near(
        &mut self,
        class: &str,
        at: DVec2,
        places: &[(f64, f64, Side)],
        text: &str,
    ) {
        let is_free = |&&(x, y, side): &&(f64, f64, Side)| {
            let room = self.room(self.moved(at, DVec2::new(x, y)), side, text);
            // A word that ends where another begins would be read as one with it.
            let gap = DVec2::X * (GAP * self.letter);
            let wide = [room[0] - gap, room[1] + gap];
            self.holds(room) && !self.words.iter().any(|other| overlap(*other, wide))
        };
        let found = places.iter().find(is_free).or(places.first());
        if let Some(&(x, y, side)) = found {
            self.word(class, at, DVec2::new(x, y), side, text);
        }
    }

    /// Keeps words that come later off a shape.
    pub(super) fn keep_clear(&mut self, points: &[DVec2]) {
        let on_paper = || points.iter().map(|point| on_paper(*point));
        if let (Some(low), Some(high)) =
            (on_paper().reduce(DVec2::min), on_paper().reduce(DVec2::max))
        {
            self.words.push([low, high]);
        }
    }

    #[cfg(test)]
    pub(super) fn words(&self) -> &[[DVec2; 2]] {
        &self.words
    }

    fn moved(&self, at: DVec2, by: DVec2) -> DVec2 {
        on_paper(at) + DVec2::new(by.x, -by.y) * self.letter
    }

    /// About the corners of a word on paper.
    fn room(&self, at: DVec2, side: Side, text: &str) -> [DVec2; 2] {
        let width = WIDE * self.letter * text.chars().count() as f64;
        let left = match side {
            Side::Middle => at.x - width / 2.0,
            Side::Right => at.x,
            Side::Left => at.x - width,
        };
        [
            DVec2::new(left, at.y - 0.8 * self.letter),
            DVec2::new(left + width, at.y + 0.2 * self.letter),
        ]
    }

    /// Whether the view has this room.
    pub(super) fn holds(&self, [low, high]: [DVec2; 2]) -> bool {
        let [x, y, width, height] = self.view();
        low.x >= x && low.y >= y && high.x <= x + width && high.y <= y + height
    }

    /// A small circle of a radius in letter heights at a point in metres.
    pub(super) fn dot(&mut self, class: &str, at: DVec2, radius: f64) {
        if at.is_finite() {
            let at = on_paper(at);
            self.push(html! {
                circle class=(class) cx=(number(at.x)) cy=(number(at.y)) r=(number(radius * self.letter)) {}
            });
        }
    }

    /// An arrow of some letter heights from a point in metres, in a direction of the paper, its word at the tip.
    pub(super) fn arrow(&mut self, from: DVec2, along: DVec2, letters: f64, word: &str) {
        let unit = self.letter / MM;
        let way = along.normalize_or_zero();
        let (tip, side) = (from + way * (letters * unit), way.perp() * (0.22 * unit));
        let back = tip - way * (0.5 * unit);
        self.line("arrow", &[from, tip], false);
        self.line("arrow", &[back + side, tip, back - side], false);
        let (side, by) = match way.x {
            x if x > 0.7 => (Side::Right, 0.3),
            x if x < -0.7 => (Side::Left, -0.3),
            _ => (Side::Middle, 0.0),
        };
        let lift = if way.y > 0.5 { 0.4 } else { -0.3 };
        self.word("word", tip, DVec2::new(by, lift), side, word);
    }

    /// A bar of a round length at the foot of the drawing.
    pub(super) fn scale_bar(&mut self) {
        let (low, high) = (self.low, self.high);
        let bar = if high.x - low.x > 0.25 { 0.1 } else { 0.02 };
        let start = DVec2::new(low.x, low.y - 1.6 * self.letter / MM);
        let end = start + DVec2::new(bar, 0.0);
        let tick = DVec2::new(0.0, 0.25 * self.letter / MM);
        self.line(
            "arrow",
            &[start + tick, start - tick, start, end, end + tick, end - tick],
            false,
        );
        let text = format!("{:.0} mm", bar * MM);
        self.word("word", end, DVec2::new(0.4, -0.3), Side::Right, &text);
    }

    /// The lowest and highest corner so far, in metres.
    pub(super) fn bounds(&self) -> [DVec2; 2] {
        [self.low, self.high]
    }

    /// x, y, width and height of the view, in millimetres.
    pub(super) fn view(&self) -> [f64; 4] {
        if !(self.low.is_finite() && self.high.is_finite()) {
            return [0.0, 0.0, 1.0, 1.0];
        }
        let top_left =
            on_paper(DVec2::new(self.low.x, self.high.y)) - DVec2::splat(MARGIN * self.letter);
        let size = (self.high - self.low) * MM + DVec2::splat(2.0 * MARGIN * self.letter);
        [top_left.x, top_left.y, size.x, size.y]
    }

    pub(super) fn markup(&self) -> Markup {
        PreEscaped(self.body.clone())
    }

    /// The fillings: level lines for oil, dots for oil among the case's parts, crosses for oil that the inlet cannot
    /// reach, slanted lines for what is solid.
    pub(super) fn patterns(id: &str) -> Markup {
        let pattern = |name: &str, size: f64, inside: Markup| {
            html! {
                pattern id=(format!("{id}-{name}")) patternUnits="userSpaceOnUse"
                    width=(number(size)) height=(number(size)) { (inside) }
            }
        };
        html! {
            defs {
                (pattern("oil", 4.0, html! { path class="oil-line" d="M0 2H4" {} }))
                (pattern("oil-in-case", 5.0, html! { circle class="oil-dot" cx="2.5" cy="2.5" r="0.8" {} }))
                (pattern("oil-apart", 6.0, html! { path class="oil-line" d="M1 1L5 5M5 1L1 5" {} }))
                (pattern("solid", 5.0, html! { path class="solid-line" d="M0 5L5 0" {} }))
            }
        }
    }

    fn path(&mut self, points: &[DVec2], closed: bool) -> Option<String> {
        if points.is_empty() || points.iter().any(|p| !p.is_finite()) {
            return None;
        }
        let mut path = String::new();
        for (place, point) in points.iter().enumerate() {
            self.low = self.low.min(*point);
            self.high = self.high.max(*point);
            let at = on_paper(*point);
            let step = if place == 0 { 'M' } else { 'L' };
            // Writing into a string does not fail.
            let _ = write!(path, "{step}{} {}", number(at.x), number(at.y));
        }
        if closed {
            path.push('Z');
        }
        Some(path)
    }

    fn push(&mut self, markup: Markup) {
        self.body.push_str(&markup.into_string());
    }
}

pub(super) fn overlap(one: [DVec2; 2], other: [DVec2; 2]) -> bool {
    let apart = |a: [f64; 2], b: [f64; 2]| a[1] <= b[0] || b[1] <= a[0];
    let [x, y] = [[one[0].x, one[1].x], [one[0].y, one[1].y]];
    !(apart(x, [other[0].x, other[1].x]) || apart(y, [other[0].y, other[1].y]))
}

/// Metres with y up to millimetres with y down.
fn on_paper(point: DVec2) -> DVec2 {
    DVec2::new(point.x, -point.y) * MM
}

/// A coordinate to a hundredth of a millimetre, without a negative zero.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}
