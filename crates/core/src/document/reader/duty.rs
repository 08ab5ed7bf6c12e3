//! Reads a duty.

use super::cursor::{Context, Cursor, Spot, keys, mapping};
use super::instrument::instruments;
use super::quantity::quantity;
use super::value::{count, list, named, text, word};
use crate::document::Text;
use crate::document::duty::{ColdStart, Duty, Side, Slope, State};
use crate::document::pan::Word;
use crate::quantity::{Kind, Stated, si};
use crate::source::{Code, Diagnostic, Value};
use uom::si::f64::{Angle, ThermodynamicTemperature};

const DIRECTIONS: &[(&str, Side)] = &[("left", Side::Left), ("right", Side::Right)];
/// A sweep of more temperatures than this says nothing new and takes long.
const MOST_STEPS: u32 = 100;
const TWO_STATES: &str = "make two states of it";

pub(super) fn duty(c: &mut Cursor<'_, '_>) -> Duty {
    instruments(c);
    let span = c.span;
    let title = c.given("title", text);
    let oil_temperature = c.given("oil_temperature", temperatures);
    let states = c.given("states", named(|context, spot| keys(state)(context, spot)));
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
    let parked_to_drain = c.given("parked_to_drain", keys(parked));
    let altitude = c.given("altitude", quantity);
    let cold_start = c.given("cold_start", keys(cold_start));
    let humps = c.given("humps", quantity);
    Duty {
        span,
        title,
        oil_temperature,
        states,
        strike_force,
        strike_contact,
        air_speed,
        air_at,
        oil_film,
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

fn sweep(c: &mut Cursor<'_, '_>) -> Option<Vec<Temperature>> {
    let from: Option<Temperature> = c.required("from", quantity);
    let to: Option<Temperature> = c.required("to", quantity);
    let steps = c.required("steps", count)?;
    if !(2..=MOST_STEPS).contains(&steps.value) {
        let message =
            format!("`steps` is a whole number from 2 to {MOST_STEPS}, both ends counted");
        c.context.report(Diagnostic::error(Code::OutOfRange, steps.span, message));
        return None;
    }
    let (from, to) = (from?, to?);
    let (start, end) = (from.value.to_si(), to.value.to_si());
    let last = steps.value - 1;
    let step = |i: u32| {
        // Written so that both ends come out exactly.
        let share = f64::from(i) / f64::from(last);
        let value = start * (1.0 - share) + end * share;
        Stated { value: si(value), span: if 2 * i <= last { from.span } else { to.span } }
    };
    Some((0..=last).map(step).collect())
}

fn state(c: &mut Cursor<'_, '_>) -> State {
    let slopes = slopes(c);
    let braking = c.optional("braking", quantity);
    let accelerating = c.optional("accelerating", quantity);
    let cornering = c.optional("cornering", quantity);
    let turn = c.optional("turn", word(DIRECTIONS));
    let flow: Option<Text> = c.optional("flow", text);
    let lasts = c.optional("lasts", quantity);
    c.exclude("braking", "accelerating", TWO_STATES);
    together(c, "cornering", "turn", "say which way it turns: `turn: left` or `turn: right`");
    State {
        span: c.span,
        climb: slopes.climb,
        side_slope: slopes.side_slope,
        high: slopes.high,
        braking,
        accelerating,
        cornering,
        turn,
        flow,
        lasts,
    }
}

/// The attitude alone: nothing drives while it drains.
fn parked(c: &mut Cursor<'_, '_>) -> State {
    let slopes = slopes(c);
    State {
        span: c.span,
        climb: slopes.climb,
        side_slope: slopes.side_slope,
        high: slopes.high,
        braking: None,
        accelerating: None,
        cornering: None,
        turn: None,
        flow: None,
        lasts: None,
    }
}

struct Slopes {
    climb: Option<Slope>,
    side_slope: Option<Stated<Angle>>,
    high: Option<Word<Side>>,
}

fn slopes(c: &mut Cursor<'_, '_>) -> Slopes {
    let climb = c.optional("climb", quantity).map(|angle| Slope { angle, descent: false });
    let descent = c.optional("descent", quantity).map(|angle| Slope { angle, descent: true });
    let side_slope: Option<Stated<Angle>> = c.optional("side_slope", quantity);
    let high = c.optional("high", word(DIRECTIONS));
    c.exclude("climb", "descent", TWO_STATES);
    together(c, "side_slope", "high", "say which side is higher: `high: left` or `high: right`");
    let climb = climb.or(descent);
    if let (Some(climb), Some(side)) = (climb, side_slope) {
        stands_up(c, climb, side);
    }
    Slopes { climb, side_slope, high }
}

/// No attitude shows both angles where sin²θ + sin²φ reaches 1: nothing is left for "up".
fn stands_up(c: &mut Cursor<'_, '_>, climb: Slope, side: Stated<Angle>) {
    let sine = |angle: Stated<Angle>| libm::sin(angle.value.to_si());
    let (along, across) = (sine(climb.angle), sine(side));
    // 45 deg and 45 deg make 1 but for the last digit of the sines.
    if !c.context.checks() || along * along + across * across < 1.0 - 1e-12 {
        return;
    }
    let message = "no attitude shows both angles: the squares of their sines make 1 or more";
    let problem = Diagnostic::error(Code::Contradiction, side.span, message)
        .also(climb.angle.span, "the angle along the vehicle")
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
