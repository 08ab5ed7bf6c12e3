//! The fields of a duty.

use super::{
    ACCELERATION, COUNT, FILM, FORCE, FREQUENCY, Form, INSTRUMENT, Limits, MAPPING, NAMED, PLACE,
    SIZE, SLOPE, SPEED, TEMPERATURE, TEXT, TIME, q, rows, say, words,
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
    "oil_temperature.steps": COUNT, "How many temperatures, both ends counted: 2 or more.";
    "states": NAMED, "The attitudes and manoeuvres that the vehicle is used in.";
    "states.*.climb": SLOPE, "An inclinometer laid along the vehicle.";
    "states.*.descent": SLOPE, "An inclinometer laid along the vehicle.";
    "states.*.side_slope": SLOPE, "An inclinometer laid across the vehicle.";
    "states.*.high": words(&["left", "right"]), "Which side of the vehicle is the higher one.";
    "states.*.braking": ACCELERATION, "An accelerometer (a phone's will do) laid along the vehicle.", typical("0.2 gn", "0.9 gn");
    "states.*.accelerating": ACCELERATION, "An accelerometer (a phone's will do) laid along the vehicle.", typical("0.1 gn", "0.6 gn");
    "states.*.cornering": ACCELERATION, "An accelerometer (a phone's will do) laid across the vehicle.", typical("0.2 gn", "0.8 gn");
    "states.*.turn": words(&["left", "right"]), "Which way it turns.";
    "states.*.flow": TEXT, "Which of the pump's flows it runs at; the largest if left out.";
    "states.*.lasts": TIME, "A stop watch; without end if left out.", typical("2 s", "600 s");
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
