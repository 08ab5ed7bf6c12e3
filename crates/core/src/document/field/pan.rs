//! The fields of a pan.

use super::{
    COUNT, DATE, DEPTH, DRAFT, FLOW, INSTRUMENT, LIST, MAPPING, NAMED, NOT_YET, PATH, PLACE,
    PRESSURE, SIZE, TEMPERATURE, TEXT, TEXTS, THREAD, TORQUE, VISCOSITY, VOLUME, lengths, rows,
    say, words,
};

rows! { Pan;
    "pan": COUNT, "The edition of this kind of document: 1.";
    "title": TEXT, say::TITLE, optional();
    "object": MAPPING, "Which thing exactly is described.", optional();
    "object.name": TEXT, "What its maker or owner calls it.", optional();
    "object.revision": TEXT, "The revision of drawing or model.", optional();
    "object.part_number": TEXT, "The number cast, stamped or written on it.", optional();
    "object.state": words(&["as designed", "as made"]), "Whether the values come from the drawing or from a made piece.", optional();
    "object.samples": COUNT, "How many pieces were measured.", optional();
    "object.measured": MAPPING, "Who measured it, when and with what.", optional();
    "object.measured.by": TEXT, "The name of whoever measured.", optional();
    "object.measured.date": DATE, "The day it was measured.", optional();
    "object.measured.with": TEXTS, "What it was measured with.", optional();
    "vehicle": PATH, "The file of the vehicle it is bolted to.";
    "oil": PATH, "The file of the oil in it.";
    "duty": PATH, "The file of the states it must live in.";
    "baseline": TEXTS, "The file or files of the original pan it is held against.", optional();
    "instruments": NAMED, say::INSTRUMENTS, optional();
    "instruments.*": INSTRUMENT, say::INSTRUMENT;

    "material": MAPPING, "What the pan is made of, and how.";
    "material.alloy": TEXT, "The designation cast on it, or the supplier's certificate.";
    "material.process": words(&["sand casting", "permanent mould casting", "die casting", "stamping", "fabrication", "machining"]), "Look at it: the skin of a casting, the drawn radii of a stamping, the seams of a weldment.";
    "material.yield": PRESSURE, "The supplier's certificate, or a tensile test on a piece of the same melt or sheet.", typical("100 MPa", "260 MPa");

    "interior": MAPPING, "The room for oil inside the pan.";
    "interior.mesh": NOT_YET, "A mesh of the interior from a scan or a drawing program.";
    "interior.soundings": NOT_YET, "Depths taken with a depth gauge through a grid.";
    "interior.rail": MAPPING, "The inner edge of the rail, where the pan opens.";
    "interior.rail.rectangle": lengths(2), say::RECTANGLE;
    "interior.rail.corner": DEPTH, say::CORNER;
    "interior.rail.circle": SIZE, say::CIRCLE;
    "interior.rail.polygon": LIST, say::POLYGON;
    "interior.rail.polygon.*.x": PLACE, say::X;
    "interior.rail.polygon.*.y": PLACE, say::Y;
    "interior.rail.slot": NOT_YET, say::SLOT_LATER;
    "interior.rail.along": NOT_YET, say::SLOT_LATER;
    "interior.rail.at": MAPPING, say::AT;
    "interior.rail.at.x": PLACE, say::X;
    "interior.rail.at.y": PLACE, say::Y;
    "interior.zones": NAMED, "The flat floors of the pan, each with the outline where it opens.";
    "interior.zones.*.outline": MAPPING, "Its outline where it opens: at the rail for the first, at the surrounding zone's floor for the others.";
    "interior.zones.*.outline.rectangle": lengths(2), say::RECTANGLE;
    "interior.zones.*.outline.corner": DEPTH, say::CORNER;
    "interior.zones.*.outline.circle": SIZE, say::CIRCLE;
    "interior.zones.*.outline.polygon": LIST, say::POLYGON;
    "interior.zones.*.outline.polygon.*.x": PLACE, say::X;
    "interior.zones.*.outline.polygon.*.y": PLACE, say::Y;
    "interior.zones.*.outline.slot": NOT_YET, say::SLOT_LATER;
    "interior.zones.*.outline.along": NOT_YET, say::SLOT_LATER;
    "interior.zones.*.outline.at": MAPPING, say::AT;
    "interior.zones.*.outline.at.x": PLACE, say::X;
    "interior.zones.*.outline.at.y": PLACE, say::Y;
    "interior.zones.*.depth": SIZE, "A depth gauge from a straight edge across the rail down to this floor.";
    "interior.zones.*.draft": DRAFT, "An angle gauge against the wall, or the width above and below and the depth between them.", typical("0 deg", "12 deg");
    "interior.zones.*.in": TEXT, "The zone at whose floor it opens; the first zone if left out.";
    "interior.zones.*.slope": NOT_YET, "A floor that falls to one side.";
    "interior.displaced": NAMED, "What stands in the oil and takes up room: the filter, a block.", optional();
    "interior.displaced.*.box": lengths(3), say::BOX;
    "interior.displaced.*.cylinder": lengths(2), say::CYLINDER;
    "interior.displaced.*.along": words(&["x", "y"]), say::ALONG;
    "interior.displaced.*.at": MAPPING, "The middle of its upper face; of a lying cylinder its middle.";
    "interior.displaced.*.at.x": PLACE, say::X;
    "interior.displaced.*.at.y": PLACE, say::Y;
    "interior.displaced.*.at.depth": DEPTH, say::DEPTH;
    "interior.displaced.*.at.below_rail": DEPTH, say::DEPTH;
    "interior.displaced.*.at.above_rail": DEPTH, say::ABOVE;

    "wall": MAPPING, "How thick the pan is.";
    "wall.floor": SIZE, "Callipers through the drain hole, or an ultrasonic gauge: the thinnest of several places.", typical("1 mm", "8 mm");
    "wall.sides": SIZE, "Callipers over the rail's inner edge, or an ultrasonic gauge: the thinnest of several places.", typical("1 mm", "8 mm");

    "pickup": MAPPING, "Where the pump draws its oil.";
    "pickup.fixed_to": words(&["case", "pan"]), "Look at it: whether the inlet comes off with the pan.";
    "pickup.inlet": MAPPING, "The mouth of the filter or the tube: the bore at its mouth.";
    "pickup.inlet.circle": SIZE, "Callipers across the bore at its mouth.";
    "pickup.inlet.at": MAPPING, "The middle of the mouth, from the case's gasket face where the inlet is fixed to the case.";
    "pickup.inlet.at.x": PLACE, say::X;
    "pickup.inlet.at.y": PLACE, say::Y;
    "pickup.inlet.at.depth": DEPTH, "A depth gauge from the case's gasket face down to the mouth, with a new gasket allowed for.";
    "pickup.inlet.at.below_rail": DEPTH, "A depth gauge from the case's gasket face down to the mouth, with a new gasket allowed for.";
    "pickup.inlet.at.above_rail": DEPTH, say::ABOVE;
    "pickup.inlet.facing": words(&["down", "up", "front", "rear", "left", "right"]), "Which way the mouth looks; down if left out.";
    "pickup.anti_vortex": words(&["plate", "cross"]), "Look at the mouth: a plate that covers it or a cross in it keeps the oil from whirling; `none` if there is neither.";
    "pickup.line": MAPPING, "The way from the mouth to the pump.";
    "pickup.line.length": SIZE, "A wire through the line from mouth to pump, then a tape.", typical("80 mm", "400 mm");
    "pickup.line.bore": SIZE, "Callipers or drill shanks at its narrowest place.", typical("15 mm", "40 mm");
    "pickup.line.fittings": NAMED, "What bends the flow on the way, each with a name; `none` for a straight line.";
    "pickup.line.fittings.*": words(&["bend", "long bend", "half bend", "mitre"]), "Look at it: the middle radius of a `bend` is about its bore, that of a `long bend` half as much again; a `half bend` turns 45 degrees, a `mitre` has no radius.";
    "pickup.filter": MAPPING, "What the filter takes of the pressure.";
    "pickup.filter.drop": PRESSURE, "The filter maker's curve.", typical("0.5 kPa", "10 kPa");
    "pickup.filter.at_flow": FLOW, "The flow at which the filter maker gives the drop.";
    "pickup.filter.at_viscosity": VISCOSITY, "The viscosity at which the filter maker gives the drop.";

    "baffles": NAMED, "Upright sheets that hold the oil.";
    "baffles.*.from": MAPPING, "One end, in plan.";
    "baffles.*.from.x": PLACE, say::X;
    "baffles.*.from.y": PLACE, say::Y;
    "baffles.*.to": MAPPING, "The other end, in plan.";
    "baffles.*.to.x": PLACE, say::X;
    "baffles.*.to.y": PLACE, say::Y;
    "baffles.*.top": DEPTH, "A depth gauge from a straight edge across the rail down to its upper edge.";
    "baffles.*.bottom": DEPTH, "The word `floor`, or a depth gauge down to its lower edge.";
    "baffles.*.thickness": SIZE, "Callipers over the upper edge.", typical("1 mm", "5 mm");
    "baffles.*.sides": words(&["sealed", "open"]), "A feeler gauge at its ends: whether oil passes between it and the wall.";
    "baffles.*.openings": NAMED, "Its holes and slots; `none` for a closed one.";
    "baffles.*.openings.*.circle": SIZE, say::CIRCLE;
    "baffles.*.openings.*.slot": lengths(2), "Callipers: overall length with the round ends, then width.";
    "baffles.*.openings.*.rectangle": lengths(2), "Callipers: along the baffle, then its height.";
    "baffles.*.openings.*.at": MAPPING, "The middle of the opening.";
    "baffles.*.openings.*.at.along": PLACE, "A tape from the middle of the baffle, + towards `to`.";
    "baffles.*.openings.*.at.depth": DEPTH, say::DEPTH;

    "drains": NAMED, "The drain plugs.";
    "drains.*.thread": THREAD, "A thread gauge and callipers on the plug.";
    "drains.*.at": MAPPING, "The middle of the opening.";
    "drains.*.at.x": PLACE, say::X;
    "drains.*.at.y": PLACE, say::Y;
    "drains.*.at.depth": DEPTH, "A depth gauge from the rail to the upper edge of the bore, plus half of the bore.";
    "drains.*.at.below_rail": DEPTH, "A depth gauge from the rail to the upper edge of the bore, plus half of the bore.";
    "drains.*.at.above_rail": DEPTH, say::ABOVE;
    "drains.*.axis": words(&["down", "front", "rear", "left", "right"]), "Which way the plug comes out.";
    "drains.*.engaged": SIZE, "Count the turns until the plug is free and multiply by the pitch.";
    "drains.*.boss": SIZE, "Callipers over the boss.";
    "drains.*.head": DEPTH, "A rule from the boss's face to the top of the tightened plug's head.";

    "fins": NAMED, "Sets of fins on the outside.";
    "fins.*.under": words(&["floor"]), "Which face they stand on.";
    "fins.*.along": words(&["x", "y"]), "Which way they run: x along the rail, y across it.";
    "fins.*.count": COUNT, "Count them.";
    "fins.*.pitch": SIZE, "A tape over all fins, from the first one's face to the last one's same face, divided by their number less one.";
    "fins.*.height": SIZE, "A depth gauge between two fins, from their tips to the floor.";
    "fins.*.root": SIZE, "Callipers at the foot, above the fillet.";
    "fins.*.tip": SIZE, "Callipers at the tip.";
    "fins.*.length": SIZE, "A tape along a fin.";
    "fins.*.at": MAPPING, "The middle of the set; that of the deepest zone's outline if left out.";
    "fins.*.at.x": PLACE, say::X;
    "fins.*.at.y": PLACE, say::Y;

    "flange": MAPPING, "What bolts the pan to the case.";
    "flange.thickness": SIZE, "Callipers over the rail beside a bolt hole.", typical("1.5 mm", "14 mm");
    "flange.bolts": MAPPING, "The pan's bolts.";
    "flange.bolts.count": COUNT, "Count them.";
    "flange.bolts.thread": THREAD, "A thread gauge and callipers on a bolt.";
    "flange.bolts.torque": TORQUE, "The maker's manual.", typical("5 N·m", "15 N·m");
    "flange.gasket": MAPPING, "What seals the pan.";
    "flange.gasket.material": TEXT, "Look at it, or the packet.";
    "flange.gasket.thickness": SIZE, "Callipers on a new one, before it is squeezed.", typical("0.5 mm", "5 mm");
    "flange.gasket.width": SIZE, "Callipers at the narrowest place between hole and edge.", typical("3 mm", "20 mm");

    "magnet": MAPPING, "What catches the wear in the oil.";
    "magnet.box": lengths(3), say::BOX;
    "magnet.cylinder": lengths(2), say::CYLINDER;
    "magnet.along": words(&["x", "y"]), say::ALONG;
    "magnet.at": MAPPING, "The middle of its upper face.";
    "magnet.at.x": PLACE, say::X;
    "magnet.at.y": PLACE, say::Y;
    "magnet.at.depth": DEPTH, say::DEPTH;
    "magnet.at.below_rail": DEPTH, say::DEPTH;
    "magnet.at.above_rail": DEPTH, say::ABOVE;

    "check": MAPPING, "How the level of this pan is checked, where it differs from the vehicle's.", optional();
    "check.level": DEPTH, say::LEVEL;
    "check.volume": VOLUME, say::FILL;
    "check.at": MAPPING, say::CHECK_AT;
    "check.at.x": PLACE, say::X;
    "check.at.y": PLACE, say::Y;
    "check.oil_at": TEMPERATURE, say::OIL_AT;
    "check.engine": words(&["running", "standing"]), say::ENGINE;
}
