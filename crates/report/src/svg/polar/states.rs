//! The states of the duty in the chart: a sign and a number each.

use super::lines::{Lines, number};
use super::{Chart, LETTER};
use maud::{Markup, html};
use sumpwright_core::coverage::DutyMark;

/// So many states have a number and a row; a duty of more is not read row by row.
pub(super) const NAMED: usize = 16;

/// Signs nearer than this have their numbers apart.
const ROOM: f64 = 15.0;

/// One state of the duty; of a swept one the point that lies nearest to uncovering.
#[derive(Debug, Clone)]
pub(super) struct State<'m> {
    pub(super) number: usize,
    pub(super) mark: &'m DutyMark,
    /// What is left to the line of 10 mm, in radians; negative beyond it, infinite where nothing uncovers it.
    pub(super) left: f64,
    pub(super) look: Look,
    pub(super) is_nearest: bool,
    /// The other points of a swept state.
    others: Vec<&'m DutyMark>,
}

/// How a state looks, so that it is told without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Look {
    Covered,
    /// Beyond the line.
    Uncovered,
    /// Within the line, but the oil that would cover it is kept from the inlet.
    Apart,
    /// Within the line, but nobody knows whether oil is kept from the inlet.
    Unknown,
}

/// The states in the order in which they are written.
pub(super) fn states<'m>(chart: &Chart<'m>) -> Vec<State<'m>> {
    let left = |mark: &DutyMark, to_floor: f64| to_floor - mark.tilt;
    let case = chart.stated;
    let points = chart.map.duty.iter().zip(&case.on_the_ways).zip(&case.kept_apart);
    let mut states: Vec<State<'m>> = Vec::new();
    for ((mark, to_floor), apart) in points {
        let left = left(mark, to_floor.low);
        let look = look(left, *apart);
        match states.iter_mut().find(|known| known.mark.span == mark.span) {
            Some(known) if left < known.left => {
                known.others.push(known.mark);
                (known.mark, known.left) = (mark, left);
                known.look = known.look.graver(look);
            }
            Some(known) => {
                known.others.push(mark);
                known.look = known.look.graver(look);
            }
            None => states.push(State {
                number: states.len() + 1,
                mark,
                left,
                look,
                is_nearest: false,
                others: Vec::new(),
            }),
        }
    }
    let nearest = states.iter_mut().reduce(|a, b| if b.left < a.left { b } else { a });
    if let Some(nearest) = nearest.filter(|state| state.left.is_finite()) {
        nearest.is_nearest = true;
    }
    states
}

/// Written so that what is no number is not called covered.
fn look(left: f64, apart: Option<bool>) -> Look {
    match (left > 0.0, apart) {
        (false, _) => Look::Uncovered,
        (true, Some(true)) => Look::Apart,
        (true, None) => Look::Unknown,
        (true, Some(false)) => Look::Covered,
    }
}

impl Look {
    /// Of two points of a state the one that is worse to have.
    fn graver(self, other: Self) -> Self {
        let weight = |look: Self| match look {
            Self::Covered => 0,
            Self::Unknown => 1,
            Self::Apart => 2,
            Self::Uncovered => 3,
        };
        if weight(other) > weight(self) { other } else { self }
    }
}

/// The signs with their numbers, and the way that is left to the nearest.
pub(super) fn marks(states: &[State<'_>], lines: Lines) -> Markup {
    let mut taken: Vec<[f64; 2]> =
        states.iter().map(|state| lines.place(state.mark.azimuth, state.mark.tilt)).collect();
    let named: Vec<(&State<'_>, [f64; 2])> = states
        .iter()
        .take(NAMED)
        .map(|state| (state, free(lines.place(state.mark.azimuth, state.mark.tilt), &mut taken)))
        .collect();
    html! {
        @for mark in states.iter().flat_map(|state| &state.others) {
            @let [x, y] = lines.place(mark.azimuth, mark.tilt);
            circle class="point" cx=(number(x)) cy=(number(y)) r="1.6" {}
        }
        @for state in states { (left(state, lines)) }
        @for state in states { (sign(state.look, lines.place(state.mark.azimuth, state.mark.tilt))) }
        @for (state, [x, y]) in named {
            text class="halo strong" x=(number(x)) y=(number(y + 0.35 * LETTER)) text-anchor="middle" { (state.number) }
        }
    }
}

/// A place for a number near its sign that no other sign or number has; the first where all are taken.
fn free(sign: [f64; 2], taken: &mut Vec<[f64; 2]>) -> [f64; 2] {
    let places = [16.0, 28.0].iter().flat_map(|far| {
        [2, 6, 1, 3, 5, 7, 0, 4].map(|eighth: u32| {
            let angle = f64::from(eighth) * core::f64::consts::FRAC_PI_4;
            [sign[0] + far * libm::cos(angle), sign[1] - far * libm::sin(angle)]
        })
    });
    let is_free = |place: &[f64; 2]| {
        taken.iter().all(|other| libm::hypot(other[0] - place[0], other[1] - place[1]) >= ROOM)
    };
    let found = { places }.find(is_free).unwrap_or([sign[0], sign[1] - 16.0]);
    taken.push(found);
    found
}

/// A full dot for a state that is covered, a cross in a ring for one that is not, an empty ring where it is not known.
pub(super) fn sign(look: Look, [x, y]: [f64; 2]) -> Markup {
    let (x, y) = (number(x), number(y));
    html! {
        @match look {
            Look::Covered => circle class="state" cx=(x) cy=(y) r="5" {},
            Look::Unknown => circle class="state bare" cx=(x) cy=(y) r="6" {},
            Look::Uncovered | Look::Apart => {
                circle class="state bare" cx=(x) cy=(y) r="7" {}
                path class="state-cross" d=(format!("M{x} {y}m-4 -4l8 8m0 -8l-8 8")) {}
            }
        }
    }
}

/// The way from the nearest state to the line of 10 mm.
fn left(state: &State<'_>, lines: Lines) -> Markup {
    let mark = state.mark;
    let [from_x, from_y] = lines.place(mark.azimuth, mark.tilt);
    let [to_x, to_y] = lines.place(mark.azimuth, mark.tilt + state.left);
    html! {
        // A state that leans nowhere has all ways before it, and the least lean is drawn anyway.
        @if state.is_nearest && mark.tilt > 1e-9 {
            path class="left-over" d=(format!("M{} {}L{} {}", number(from_x), number(from_y), number(to_x), number(to_y))) {}
        }
    }
}
