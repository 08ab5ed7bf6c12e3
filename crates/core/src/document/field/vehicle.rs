//! The fields of a vehicle.

use super::{
    COUNT, DEPTH, EXPANSION, FLOW, FORCE, HELD_UP, INSTRUMENT, LIST, MAPPING, NAMED, PLACE,
    PRESSURE, SHARE, SIZE, SLOPE, STIFFNESS, TEMPERATURE, TEXT, TILT, TIME, VOLUME, lengths, rows,
    say, words,
};

rows! { Vehicle;
    "vehicle": COUNT, "The edition of this kind of document: 1.";
    "title": TEXT, say::TITLE, optional();
    "instruments": NAMED, say::INSTRUMENTS, optional();
    "instruments.*": INSTRUMENT, say::INSTRUMENT;
    "wheelbase": SIZE, "A tape from the middle of the front wheel to that of the rear one, or the vehicle's papers.", typical("2000 mm", "4500 mm");

    "mount": MAPPING, "Where the pan hangs in the vehicle, and how it moves there.";
    "mount.pan_origin": MAPPING, "The middle of the rail's bounding rectangle, in the vehicle.";
    "mount.pan_origin.behind_front_axle": PLACE, "A plumb line from the front wheel's middle and one from the rail's middle, and a tape between them on the ground.";
    "mount.pan_origin.left": PLACE, "A tape from the vehicle's middle plane to the middle of the rail, + to the left.", typical("-100 mm", "100 mm");
    "mount.pan_origin.above_ground": SIZE, "A rule from level ground up to the gasket plane, vehicle standing laden.", typical("250 mm", "800 mm");
    "mount.nose_up": TILT, "A spirit level or inclinometer along the rail, vehicle on level ground and laden; + with the front higher.", typical("0 deg", "6 deg");
    "mount.moves": MAPPING, "How far the gearbox moves in its mounts.";
    "mount.moves.down": DEPTH, "A jack under the gearbox and a dial gauge: from rest to where the mount stops it.", typical("3 mm", "15 mm");
    "mount.moves.roll": SLOPE, "An inclinometer on the gearbox while a helper loads the engine against the brake, each way.", typical("1 deg", "5 deg");

    "case": MAPPING, "The space above the rail that oil can enter.";
    "case.outline": MAPPING, "The opening of the case above the rail.";
    "case.outline.rectangle": lengths(2), say::RECTANGLE;
    "case.outline.corner": DEPTH, say::CORNER;
    "case.outline.circle": SIZE, say::CIRCLE;
    "case.outline.polygon": LIST, say::POLYGON;
    "case.outline.polygon.*.x": PLACE, say::X;
    "case.outline.polygon.*.y": PLACE, say::Y;
    "case.outline.slot": lengths(2), say::SLOT;
    "case.outline.along": words(&["x", "y"]), say::SLOT_ALONG;
    "case.outline.at": MAPPING, say::AT;
    "case.outline.at.x": PLACE, say::X;
    "case.outline.at.y": PLACE, say::Y;
    "case.height": SIZE, "A rule from the gasket face up to where the case closes, or to the highest place oil reaches.", typical("40 mm", "150 mm");
    "case.free_share": SHARE, "A jug: the litres between two known heights, divided by outline times the height between them.", typical("0.2", "0.8");
    "case.tensile": PRESSURE, "The alloy's data sheet: the strength at which the metal round the bolts' threads breaks.", typical("150 MPa", "350 MPa");
    "case.expansion": EXPANSION, "The alloy's data sheet: linear expansion of the case.", typical("0.000019 1/K", "0.000027 1/K");

    "rotating": NAMED, "Drums and shafts that the oil must not reach.", optional();
    "rotating.*.box": lengths(3), say::BOX;
    "rotating.*.cylinder": lengths(2), say::CYLINDER;
    "rotating.*.along": words(&["x", "y"]), say::ALONG;
    "rotating.*.at": MAPPING, "The middle of its upper face; of a lying cylinder its middle.";
    "rotating.*.at.x": PLACE, say::X;
    "rotating.*.at.y": PLACE, say::Y;
    "rotating.*.at.depth": DEPTH, say::DEPTH;
    "rotating.*.at.below_rail": DEPTH, say::DEPTH;
    "rotating.*.at.above_rail": DEPTH, say::ABOVE;

    "check": MAPPING, say::CHECK;
    "check.level": DEPTH, say::LEVEL;
    "check.volume": VOLUME, say::FILL;
    "check.at": MAPPING, say::CHECK_AT;
    "check.at.x": PLACE, say::X;
    "check.at.y": PLACE, say::Y;
    "check.oil_at": TEMPERATURE, say::OIL_AT;
    "check.engine": words(&["running", "standing"]), say::ENGINE;
    "held_up": HELD_UP, "A jug: drain at once after stopping the engine and after a night, filled alike both times, and take the difference.", typical("0.5 L", "1.5 L");

    "pump": MAPPING, "What draws the oil.";
    "pump.flow": NAMED, "Its flow at the engine speeds that matter, each with a name.";
    "pump.flow.*": FLOW, "Displacement times speed, less what the maker's manual allows for leakage.", typical("8 L/min", "40 L/min");
    "pump.suction_limit": PRESSURE, "The pump maker's lowest absolute pressure at its inlet.", typical("60 kPa", "95 kPa");
    "pump.at": MAPPING, "The middle of the pump's own inlet, where the line from the pan ends.";
    "pump.at.x": PLACE, say::X;
    "pump.at.y": PLACE, say::Y;
    "pump.at.depth": DEPTH, say::DEPTH;
    "pump.at.below_rail": DEPTH, say::DEPTH;
    "pump.at.above_rail": DEPTH, say::ABOVE;
    "pump.flow_rises_in": TIME, "A stop watch or a recording: from the least of the pump's flows to the largest when the engine is raced.", optional();
    "pump.pressure": PRESSURE, "A gauge at the maker's test port, plus 100 kPa, where the clutches are applied.", optional();

    "skid": MAPPING, "The plate below the pan.";
    "skid.top_face": SIZE, "A rule from the rail down to the plate's upper face, vehicle standing laden.";
    "skid.stiffness": STIFFNESS, "A jack with a scale and a dial gauge under the plate below the pan: force by movement.", typical("200 N/mm", "2000 N/mm");
    "skid.load": FORCE, "Half of the vehicle's weight where it can come down on the plate, or the maker's figure.", typical("4 kN", "15 kN");
    "skid.size": lengths(2), "A tape between the plate's supports: along the vehicle, then across.";
    "skid.thickness": SIZE, "Callipers over the plate's edge.", typical("2 mm", "10 mm");
    "skid.modulus": PRESSURE, "The alloy's data sheet: Young's modulus.", typical("65 GPa", "210 GPa");
    "skid.holes": NAMED, "The plate's holes; `none` for a closed one.";
    "skid.holes.*.circle": SIZE, say::CIRCLE;
    "skid.holes.*.at": MAPPING, "The middle of the hole.";
    "skid.holes.*.at.x": PLACE, say::X;
    "skid.holes.*.at.y": PLACE, say::Y;

    "tyres": MAPPING, "What it rolls on.";
    "tyres.loaded_radius": SIZE, "A rule from level ground up to the middle of a wheel, vehicle standing laden.", typical("280 mm", "500 mm");

    "neighbours": NAMED, "What stands near the pan: cross members, shafts, the exhaust.";
    "neighbours.*.kind": words(&["rigid", "rotating", "exhaust"]), "Look at it: whether it stands still, turns, or is hot.";
    "neighbours.*.box": lengths(3), say::BOX;
    "neighbours.*.cylinder": lengths(2), say::CYLINDER;
    "neighbours.*.along": words(&["x", "y"]), say::ALONG;
    "neighbours.*.at": MAPPING, "The middle of its upper face; of a lying cylinder its middle.";
    "neighbours.*.at.x": PLACE, say::X;
    "neighbours.*.at.y": PLACE, say::Y;
    "neighbours.*.at.depth": DEPTH, say::DEPTH;
    "neighbours.*.at.below_rail": DEPTH, say::DEPTH;
    "neighbours.*.at.above_rail": DEPTH, say::ABOVE;
    "neighbours.*.moves": DEPTH, "A dial gauge while it is pushed towards the pan by hand, and for an exhaust what it grows by when hot: 3 to 6 mm per metre; nothing if left out.", optional();
}
