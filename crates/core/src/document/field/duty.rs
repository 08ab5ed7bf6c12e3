//! The fields of a duty.

use super::{
    ACCELERATION, COUNT, FILM, FORCE, FREQUENCY, Form, INSTRUMENT, Limits, MAPPING, NAMED, PATH,
    PLACE, SIZE, SLOPE, SPEED, TEMPERATURE, TEXT, TIME, q, quantity, rows, say, swept, words,
};
use crate::quantity::Kind;

const DIRECTIONS: &[&str] = &["forward", "rearward", "left", "right", "up", "down"];

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
    "log": MAPPING, "A recorded drive: accelerations over time from a logger or a phone fixed to the vehicle.", optional();
    "log.file": PATH, "The recording as CSV: a header that names columns and units, then a row a sample.";
    "log.measures": words(&["specific force", "acceleration"]), "The logger's manual: one that shows +1 gn upward at rest measures specific force; one that shows 0 measures acceleration.";
    "log.columns": MAPPING, "Which columns of the file hold what, where its header does not say so in our words.";
    "log.columns.time": TEXT, "The column's name in the header, and ` in ` with its unit if the header gives none.";
    "log.columns.forward": TEXT, "The column's name in the header, and ` in ` with its unit if the header gives none.";
    "log.columns.rearward": TEXT, "The column's name in the header, and ` in ` with its unit if the header gives none.";
    "log.columns.left": TEXT, "The column's name in the header, and ` in ` with its unit if the header gives none.";
    "log.columns.right": TEXT, "The column's name in the header, and ` in ` with its unit if the header gives none.";
    "log.columns.up": TEXT, "The column's name in the header, and ` in ` with its unit if the header gives none.";
    "log.columns.down": TEXT, "The column's name in the header, and ` in ` with its unit if the header gives none.";
    "log.columns.climb": TEXT, "The column of the angle along the vehicle, + uphill.";
    "log.columns.descent": TEXT, "The column of the angle along the vehicle, + downhill.";
    "log.columns.left_high": TEXT, "The column of the angle across the vehicle, + with the left side high.";
    "log.columns.right_high": TEXT, "The column of the angle across the vehicle, + with the right side high.";
    "log.sensor": MAPPING, "How the sensor was mounted, where it did not look the vehicle's way.";
    "log.sensor.forward": words(DIRECTIONS), "Where the sensor's forward points in the vehicle.";
    "log.sensor.left": words(DIRECTIONS), "Where the sensor's left points in the vehicle.";
    "log.sensor.up": words(DIRECTIONS), "Where the sensor's up points in the vehicle.";
    "log.rest": TIME, "How long the vehicle stands still at the start, by which signs and units are checked; 2 s if left out.";
    "log.cutoff": quantity(q::Frequency::DIMENSION, Limits::Positive), "The frequency above which the oil does not follow; if left out, the first sloshing frequency of a box as long as the rail with the oil of the check in it.";
    "strike": MAPPING, "What the fins must bear.";
    "strike.force": FORCE, "From the customer's specification, or the weight that comes down on one stone.", typical("0.5 kN", "5 kN");
    "strike.contact": SIZE, "From the customer's specification, or the width of the mark a stone leaves.", typical("10 mm", "40 mm");
    "cooling": MAPPING, "What carries heat away from the pan.";
    "cooling.air_speed": SPEED, "A hand-held wind gauge under the moving vehicle, or a third of its speed.", typical("0.5 m/s", "15 m/s");
    "cooling.air_at": TEMPERATURE, "A thermometer in the shade under the vehicle.";
    "cooling.oil_film": FILM, "From a cooling test with a gauge in the oil and one on the pan: heat over area and difference of temperature; else assumed.", typical("50 W/(m^2·K)", "150 W/(m^2·K)");
    "parked_to_drain": MAPPING, "How the vehicle stands while it drains.";
    "parked_to_drain.climb": SLOPE, "An inclinometer laid along the vehicle where it is drained.";
    "parked_to_drain.descent": SLOPE, "An inclinometer laid along the vehicle where it is drained.";
    "parked_to_drain.side_slope": SLOPE, "An inclinometer laid across the vehicle where it is drained.";
    "parked_to_drain.high": words(&["left", "right"]), "Which side of the vehicle is the higher one.";
    "altitude": PLACE, "A map: the highest place on the way.";
    "cold_start": MAPPING, "The coldest oil that the pump has to draw.";
    "cold_start.oil_temperature": TEMPERATURE, "The coldest morning the vehicle is started on.";
    "cold_start.flow": TEXT, "Which of the pump's flows it starts at; the largest if left out.";
    "humps": FREQUENCY, "Speed over the distance from hump to hump of the track, or the peak of an accelerometer's record (a phone's will do).", typical("1 Hz", "2 Hz");
}
