//! The fields of a pan.

use super::{
    CONDUCTIVITY, COUNT, DATE, DEPTH, DRAFT, EXPANSION, FACTOR, HEAT_CAPACITY, INSTRUMENT, LIST,
    MAPPING, MASS, NAMED, NOT_YET, PATH, PLACE, PRESSURE, SHARE, SIZE, TEMPERATURE, TEXT, TEXTS,
    THREAD, TORQUE, VOLUME, lengths, rows, say, words,
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
    "material.metal": words(&["aluminium", "magnesium", "steel", "galvanised steel", "stainless steel"]), "A magnet and a drop of vinegar: steel holds the magnet, magnesium fizzes; else the certificate.";
    "material.tensile": PRESSURE, "The supplier's certificate, or a tensile test: the strength at which it breaks.", typical("150 MPa", "400 MPa");
    "material.modulus": PRESSURE, "The alloy's data sheet: Young's modulus.", typical("40 GPa", "210 GPa");
    "material.conductivity": CONDUCTIVITY, "The alloy's data sheet.", typical("45 W/(m·K)", "170 W/(m·K)");
    "material.expansion": EXPANSION, "The alloy's data sheet: linear expansion.", typical("0.000011 1/K", "0.000027 1/K");
    "material.heat_capacity": HEAT_CAPACITY, "The alloy's data sheet.", typical("0.4 kJ/(kg·K)", "1.1 kJ/(kg·K)");
    "material.emissivity": SHARE, "Look at the outside: bare metal 0.05 to 0.2, painted or dirty 0.8 to 0.95.", typical("0.05", "0.95");
    "mass": MASS, "A scale under the dry pan.", typical("1 kg", "12 kg");

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

    "drains.*.torque": TORQUE, "The maker's manual or the plug maker's sheet: never a guess.";
    "drains.*.torque_factor": FACTOR, say::TORQUE_FACTOR, typical("0.12", "0.30");
    "drains.*.ring": lengths(2), "Callipers on the sealing ring: inner, then outer diameter.";
    "drains.*.ring_yields_at": PRESSURE, "The ring maker's sheet: the stress at which the ring gives and seals.", typical("30 MPa", "70 MPa");
    "drains.*.spanner": SIZE, "Callipers over the socket that turns the plug, at its widest.", typical("15 mm", "40 mm");

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
    "flange.width": SIZE, "Callipers across the rail between its inner and outer edge.", typical("12 mm", "30 mm");
    "flange.bead": FACTOR, "Lay a straight length of rail on two supports and load its middle: by how many times less it sags than a flat strip of its thickness; 1 for a plain rail.", typical("1", "10");
    "flange.bolts": MAPPING, "The pan's bolts.";
    "flange.bolts.count": COUNT, "Count them.";
    "flange.bolts.thread": THREAD, "A thread gauge and callipers on a bolt.";
    "flange.bolts.torque": TORQUE, "The maker's manual.", typical("5 N·m", "15 N·m");
    "flange.bolts.pitch": SIZE, "A tape: the longest way from one bolt to the next along the rail.", typical("30 mm", "110 mm");
    "flange.bolts.torque_factor": FACTOR, say::TORQUE_FACTOR, typical("0.12", "0.30");
    "flange.bolts.class": words(&["4.8", "5.8", "8.8", "10.9", "12.9"]), "The property class on the bolt's head.";
    "flange.bolts.metal": words(&["aluminium", "steel", "zinc-plated steel", "stainless steel"]), "Look at it: a stainless bolt is marked A2 or A4, a plated one is bright or yellow.";
    "flange.bolts.engaged": SIZE, "Count the turns until a bolt is free and multiply by the pitch.", typical("6 mm", "25 mm");
    "flange.bolts.hole": SIZE, "Callipers in a bolt hole of the rail, at its narrowest.", typical("5 mm", "12 mm");
    "flange.gasket": MAPPING, "What seals the pan.";
    "flange.gasket.material": TEXT, "Look at it, or the packet.";
    "flange.gasket.thickness": SIZE, "Callipers on a new one, before it is squeezed.", typical("0.5 mm", "5 mm");
    "flange.gasket.width": SIZE, "Callipers at the narrowest place between hole and edge.", typical("3 mm", "20 mm");
    "flange.gasket.modulus": PRESSURE, "Load a piece of known area and read how far it gives: stress over share of thickness; or the gasket maker's sheet.", typical("2 MPa", "100 MPa");
    "flange.gasket.seats_at": PRESSURE, "The gasket maker's sheet: the least stress at which it seals.";
    "flange.gasket.crushes_at": PRESSURE, "The gasket maker's sheet: the stress that it bears without being crushed.";
    "flange.gasket.clamped": SIZE, "Callipers over the metal limiters, or the depth of the groove: what is left of its thickness; `none` where the bolts alone decide.";

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
