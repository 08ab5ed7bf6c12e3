//! The fields of an oil.

use super::{
    CONDUCTIVITY, COUNT, EXPANSION, HEAT_CAPACITY, INSTRUMENT, NAMED, PRESSURE, SHARE, TABLE,
    TABLE_KEY, TEXT, q, rows, say, table,
};
use crate::quantity::Kind;

rows! { Oil;
    "oil": COUNT, "The edition of this kind of document: 1.";
    "title": TEXT, say::TITLE, optional();
    "instruments": NAMED, say::INSTRUMENTS, optional();
    "instruments.*": INSTRUMENT, say::INSTRUMENT;
    "density": TABLE, "The oil's data sheet, or a full litre jug on a kitchen scale with a thermometer in it.";
    "density.*": table(q::MassDensity::DIMENSION), "The oil's data sheet, or a full litre jug on a kitchen scale.", typical("820 kg/m^3", "880 kg/m^3");
    "density.*.temperature": TABLE_KEY, "The temperature at which the density holds.";
    "expansion": EXPANSION, "From two densities of the data sheet: their difference, divided by the lower one and by the difference of temperature.", typical("0.00060 1/K", "0.00085 1/K");
    "viscosity": TABLE, "The oil's data sheet: kinematic viscosity at two temperatures.";
    "viscosity.*": table(q::DiffusionCoefficient::DIMENSION), "The oil's data sheet: kinematic viscosity.";
    "viscosity.*.temperature": TABLE_KEY, "The temperature at which the viscosity holds.";
    "heat_capacity": HEAT_CAPACITY, "The oil's data sheet.", typical("1.8 kJ/(kg·K)", "2.3 kJ/(kg·K)");
    "conductivity": CONDUCTIVITY, "The oil's data sheet.", typical("0.12 W/(m·K)", "0.15 W/(m·K)");
    "air_share": SHARE, "A tall jar filled from the running transmission: the fall of the level until it is clear, over the height at first.", optional();
    "bulk_modulus": PRESSURE, "The oil maker, or a table of the kind of oil.", typical("1.3 GPa", "1.7 GPa"), optional();
}
