//! Reads a duty.

use super::cursor::{Context, Cursor, Spot, keys, mapping};
use super::instrument::instruments;
use super::quantity::quantity;
use super::sweep::{Range, range, sweep};
use super::value::{list, named, text, word};
use crate::document::duty::{ColdStart, Duty, Side, Slope, State};
use crate::document::pan::Word;
use crate::document::{Item, Named, Text};
use crate::quantity::{Kind, Stated, print_amount, print_in};
use crate::source::{Code, Diagnostic, Span, Value};
use std::fmt::Write as _;
use uom::si::f64::{Acceleration, Angle, ThermodynamicTemperature};

const DIRECTIONS: &[(&str, Side)] = &[("left", Side::Left), ("right", Side::Right)];
/// Every point is computed at every oil temperature, for every uncertain input: a review of this many takes
/// seconds.
const MOST_POINTS: usize = 2000;
const TWO_STATES: &str = "make two states of it";

pub(super) fn duty(c: &mut Cursor<'_, '_>, like: Option<&Duty>) -> Duty {
    instruments(c);
    let span = c.span;
    let title = c.given("title", text);
    let oil_temperature =
        c.part_like("oil_temperature", like.map(|l| &l.oil_temperature), temperatures);
    let states = c.part_like("states", like.map(|l| &l.states), states);
    let log = c.part_like("log", like.map(|l| &l.log), mapping(super::log::log));
    let (strike_force, strike_contact) = c.group("strike", |strike| {
        (strike.given("force", quantity), strike.given("contact", quantity))
    });
    let (air_speed, air_at, oil_film) = c.group("cooling", |cooling| {
        (
            cooling.given("air_speed", quantity),
            cooling.given("air_at", quantity),
            cooling.given("oil_film", quantity),
        )
    });
    let parked_to_drain =
        c.part_like("parked_to_drain", like.map(|l| &l.parked_to_drain), keys(parked));
    let altitude = c.part_like("altitude", like.map(|l| &l.altitude), quantity);
    let cold_start = c.part_like("cold_start", like.map(|l| &l.cold_start), keys(cold_start));
    let humps = c.part_like("humps", like.map(|l| &l.humps), quantity);
    Duty {
        span,
        notebook: c.notebook(),
        title,
        oil_temperature,
        states,
        log,
        strike_force: c.watched("strike", strike_force),
        strike_contact: c.watched("strike", strike_contact),
        air_speed: c.watched("cooling", air_speed),
        air_at: c.watched("cooling", air_at),
        oil_film: c.watched("cooling", oil_film),
        parked_to_drain,
        altitude,
        cold_start,
        humps,
    }
}

fn cold_start(c: &mut Cursor<'_, '_>) -> ColdStart {
    let oil_temperature = c.given("oil_temperature", quantity);
    let flow = c.optional("flow", text);
    ColdStart { span: c.span, oil_temperature, flow }
}

type Temperature = Stated<ThermodynamicTemperature>;

/// One temperature, a list, or a sweep.
fn temperatures(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Vec<Temperature>> {
    match &spot.node.value {
        Value::Scalar(_) => quantity(context, spot).map(|one| vec![one]),
        Value::Sequence(_) => list(context, spot, quantity),
        _ => mapping(sweep)(context, spot),
    }
}

/// The states by name; a swept one once for each of its points.
fn states(context: &mut Context<'_>, spot: &Spot<'_>) -> Option<Named<State>> {
    let read = named(|context, spot| keys(state)(context, spot))(context, spot)?;
    let mut entries = Vec::new();
    for state in read.entries {
        let points = state.value.count();
        if entries.len().saturating_add(points) > MOST_POINTS {
            let message = format!(
                "with the {points} points of `{}` the duty has more than {MOST_POINTS}",
                state.name
            );
            let problem = Diagnostic::error(Code::LimitReached, state.name_span, message);
            context.report(problem.help(
                "take fewer steps: the product of all ranges of a state counts, and a state that \
                 is not swept counts once",
            ));
            break;
        }
        let Item { name, name_span, span, value } = state;
        entries.extend(value.points().into_iter().map(|value| Item {
            name: name.clone(),
            name_span,
            span,
            value,
        }));
    }
    Some(Named { entries, span: read.span })
}

/// A state as written: what may be swept as the values of its range.
struct Ranges {
    common: State,
    climb: Option<(Range<Angle>, bool)>,
    side_slope: Option<Range<Angle>>,
    braking: Option<Range<Acceleration>>,
    accelerating: Option<Range<Acceleration>>,
    cornering: Option<Range<Acceleration>>,
}

fn state(c: &mut Cursor<'_, '_>) -> Ranges {
    let slopes = slopes(c, range);
    let braking = c.optional("braking", range);
    let accelerating = c.optional("accelerating", range);
    let cornering = c.optional("cornering", range);
    let turn = c.optional("turn", word(DIRECTIONS));
    let flow: Option<Text> = c.optional("flow", text);
    let lasts = c.optional("lasts", quantity);
    c.exclude("braking", "accelerating", TWO_STATES);
    together(c, "cornering", "turn", "say which way it turns: `turn: left` or `turn: right`");
    Ranges {
        common: State { high: slopes.high, turn, flow, lasts, ..at_rest(c.span) },
        climb: slopes.climb,
        side_slope: slopes.side_slope,
        braking,
        accelerating,
        cornering,
    }
}

impl Ranges {
    /// How many points the product of all ranges has.
    fn count(&self) -> usize {
        [
            self.climb.as_ref().map(|(range, _)| range.values.len()),
            self.side_slope.as_ref().map(|range| range.values.len()),
            self.braking.as_ref().map(|range| range.values.len()),
            self.accelerating.as_ref().map(|range| range.values.len()),
            self.cornering.as_ref().map(|range| range.values.len()),
        ]
        .into_iter()
        .flatten()
        .fold(1, usize::saturating_mul)
    }

    /// The product of all ranges, that written last the fastest.
    fn points(self) -> Vec<State> {
        let descent = self.climb.as_ref().is_some_and(|(_, descent)| *descent);
        let along = if descent { "descent" } else { "climb" };
        let climb = self.climb.map(|(range, _)| range);
        let points = vec![self.common];
        let points = crossed(points, climb, along, |state, angle| {
            state.climb = Some(Slope { angle, descent });
        });
        let points = crossed(points, self.side_slope, "side slope", |state, angle| {
            state.side_slope = Some(angle);
        });
        let points = crossed(points, self.braking, "braking", |state, a| state.braking = Some(a));
        let points = crossed(points, self.accelerating, "accelerating", |state, a| {
            state.accelerating = Some(a);
        });
        crossed(points, self.cornering, "cornering", |state, a| state.cornering = Some(a))
    }
}

/// Every point with every value of a range.
fn crossed<Q: Kind>(
    points: Vec<State>,
    range: Option<Range<Q>>,
    name: &str,
    set: impl Fn(&mut State, Stated<Q>),
) -> Vec<State> {
    let Some(range) = range else { return points };
    let mut all = Vec::with_capacity(points.len() * range.values.len());
    for point in points {
        for value in &range.values {
            let mut state = point.clone();
            set(&mut state, *value);
            if let Some(unit) = &range.swept {
                let said = format!("{name} {}", print_in(value.value.to_si(), 0.0, unit));
                state.point = Some(match state.point {
                    Some(before) => format!("{before}, {said}"),
                    None => said,
                });
            }
            all.push(state);
        }
    }
    all
}

fn at_rest(span: Span) -> State {
    State {
        span,
        climb: None,
        side_slope: None,
        high: None,
        braking: None,
        accelerating: None,
        cornering: None,
        turn: None,
        flow: None,
        lasts: None,
        point: None,
    }
}

/// The attitude alone: nothing drives while it drains.
fn parked(c: &mut Cursor<'_, '_>) -> State {
    let alone =
        |context: &mut Context<'_>, spot: &Spot<'_>| quantity(context, spot).map(Range::alone);
    let slopes = slopes(c, alone);
    let first = |range: Range<Angle>| range.values.first().copied();
    State {
        climb: slopes
            .climb
            .and_then(|(range, descent)| Some(Slope { angle: first(range)?, descent })),
        side_slope: slopes.side_slope.and_then(first),
        high: slopes.high,
        ..at_rest(c.span)
    }
}

struct Slopes {
    /// The angles, and whether they lead down.
    climb: Option<(Range<Angle>, bool)>,
    side_slope: Option<Range<Angle>>,
    high: Option<Word<Side>>,
}

fn slopes(
    c: &mut Cursor<'_, '_>,
    read: impl Fn(&mut Context<'_>, &Spot<'_>) -> Option<Range<Angle>>,
) -> Slopes {
    let climb = c.optional("climb", &read).map(|angles| (angles, false));
    let descent = c.optional("descent", &read).map(|angles| (angles, true));
    let side_slope = c.optional("side_slope", &read);
    let high = c.optional("high", word(DIRECTIONS));
    c.exclude("climb", "descent", TWO_STATES);
    together(c, "side_slope", "high", "say which side is higher: `high: left` or `high: right`");
    let climb = climb.or(descent);
    if let (Some((climb, _)), Some(side)) = (&climb, &side_slope) {
        stands_up(c, climb, side);
    }
    Slopes { climb, side_slope, high }
}

/// No attitude shows both angles where sin²θ + sin²φ reaches 1: nothing is left for "up". Of two ranges the first
/// pair that does so is told.
fn stands_up(c: &mut Cursor<'_, '_>, climb: &Range<Angle>, side: &Range<Angle>) {
    if !c.context.checks() {
        return;
    }
    let sine = |angle: &Stated<Angle>| libm::sin(angle.value.to_si());
    // 45 deg and 45 deg make 1 but for the last digit of the sines.
    let lies = |along: &Stated<Angle>, across: &Stated<Angle>| {
        let (along, across) = (sine(along), sine(across));
        along * along + across * across >= 1.0 - 1e-12
    };
    let pairs = climb.values.iter().flat_map(|along| side.values.iter().map(move |s| (along, s)));
    let Some((along, across)) = pairs.into_iter().find(|(along, across)| lies(along, across))
    else {
        return;
    };
    let mut message =
        "no attitude shows both angles: the squares of their sines make 1 or more".to_owned();
    if climb.swept.is_some() || side.swept.is_some() {
        let said = |angle: &Stated<Angle>| print_amount(angle.value.to_si(), 0.0, Angle::DIMENSION);
        let _ = write!(message, ", first with {} along and {} across", said(along), said(across));
    }
    let problem = Diagnostic::error(Code::Contradiction, across.span, message)
        .also(along.span, "the angle along the vehicle")
        .help("state what an inclinometer shows laid along, and laid across, the vehicle");
    c.context.report(problem);
}

/// Two keys that stand together or not at all.
fn together(c: &mut Cursor<'_, '_>, amount: &str, way: &str, help: &str) {
    let (lonely, message) = match (c.key_span(amount), c.key_span(way)) {
        (Some(span), None) => (span, format!("`{amount}` stands without `{way}`")),
        (None, Some(span)) => (span, format!("`{way}` stands without `{amount}`")),
        _ => return,
    };
    let missing_way = c.key_span(way).is_none();
    let problem = Diagnostic::error(Code::MissingKey, lonely, message);
    let help =
        if missing_way { help.to_owned() } else { format!("state `{amount}`, or drop `{way}`") };
    c.context.report(problem.help(help));
}
