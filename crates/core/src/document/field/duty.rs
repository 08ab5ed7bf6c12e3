//! The fields of a duty.

use super::{
    ACCELERATION, COUNT, FORCE, Form, INSTRUMENT, Limits, MAPPING, NAMED, SIZE, SLOPE, TEMPERATURE,
    TEXT, TIME, q, rows, say, swept, words,
};
use crate::quantity::Kind;

rows! { Duty;
    "duty": COUNT, "The edition of this kind of document: 1.";
    "title": TEXT, say::TITLE, optional();
    "instruments": NAMED, say::INSTRUMENTS, optional();
    "instruments.*": INSTRUMENT, say::INSTRUMENT;
    "oil_temperature": (Form::List, Some(q::ThermodynamicTemperature::DIMENSION), Limits::Temperature), "A gauge in the oil, coldest start and hottest climb: one, a list, or a sweep.";
    "oil_temperature.from": TEMPERATURE, "The coldest oil the vehicle is driven with.";
    "oil_temperature.to": TEMPERATURE, "The hottest oil seen on a gauge.";
    "oil_temperature.steps": COUNT, say::STEPS;
    "states": NAMED, "The attitudes and manoeuvres that the vehicle is used in.";
    "states.*.climb": swept(SLOPE), "An inclinometer laid along the vehicle.";
    "states.*.climb.from": SLOPE, "The gentlest climb driven.";
    "states.*.climb.to": SLOPE, "The steepest climb driven.";
    "states.*.climb.steps": COUNT, say::STEPS;
    "states.*.descent": swept(SLOPE), "An inclinometer laid along the vehicle.";
    "states.*.descent.from": SLOPE, "The gentlest descent driven.";
    "states.*.descent.to": SLOPE, "The steepest descent driven.";
    "states.*.descent.steps": COUNT, say::STEPS;
    "states.*.side_slope": swept(SLOPE), "An inclinometer laid across the vehicle.";
    "states.*.side_slope.from": SLOPE, "The gentlest side slope driven.";
    "states.*.side_slope.to": SLOPE, "The steepest side slope driven.";
    "states.*.side_slope.steps": COUNT, say::STEPS;
    "states.*.high": words(&["left", "right"]), "Which side of the vehicle is the higher one.";
    "states.*.braking": swept(ACCELERATION), "An accelerometer (a phone's will do) laid along the vehicle.", typical("0.2 gn", "0.9 gn");
    "states.*.braking.from": ACCELERATION, "The softest braking.";
    "states.*.braking.to": ACCELERATION, "The hardest braking.";
    "states.*.braking.steps": COUNT, say::STEPS;
    "states.*.accelerating": swept(ACCELERATION), "An accelerometer (a phone's will do) laid along the vehicle.", typical("0.1 gn", "0.6 gn");
    "states.*.accelerating.from": ACCELERATION, "The softest acceleration.";
    "states.*.accelerating.to": ACCELERATION, "The hardest acceleration.";
    "states.*.accelerating.steps": COUNT, say::STEPS;
    "states.*.cornering": swept(ACCELERATION), "An accelerometer (a phone's will do) laid across the vehicle.", typical("0.2 gn", "0.8 gn");
    "states.*.cornering.from": ACCELERATION, "The softest bend.";
    "states.*.cornering.to": ACCELERATION, "The hardest bend.";
    "states.*.cornering.steps": COUNT, say::STEPS;
    "states.*.turn": words(&["left", "right"]), "Which way it turns.";
    "states.*.flow": TEXT, "Which of the pump's flows it runs at; the largest if left out.";
    "states.*.lasts": TIME, "A stop watch; without end if left out.", typical("2 s", "600 s");
    "strike": MAPPING, "What the fins must bear.";
    "strike.force": FORCE, "From the customer's specification, or the weight that comes down on one stone.", typical("0.5 kN", "5 kN");
    "strike.contact": SIZE, "From the customer's specification, or the width of the mark a stone leaves.", typical("10 mm", "40 mm");
    "parked_to_drain": MAPPING, "How the vehicle stands while it drains.";
    "parked_to_drain.climb": SLOPE, "An inclinometer laid along the vehicle where it is drained.";
    "parked_to_drain.descent": SLOPE, "An inclinometer laid along the vehicle where it is drained.";
    "parked_to_drain.side_slope": SLOPE, "An inclinometer laid across the vehicle where it is drained.";
    "parked_to_drain.high": words(&["left", "right"]), "Which side of the vehicle is the higher one.";
}
