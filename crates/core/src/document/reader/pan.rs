//! Reads a pan; its interior is in `interior`, what is built into it in `fittings`.

use super::cursor::{Cursor, keys, mapping};
use super::fittings::{baffle, drain, fin_set, flange, pickup};
use super::instrument::instruments;
use super::interior::interior;
use super::quantity::quantity;
use super::shape::{check, displacer};
use super::value::{count, date, named, path, text, texts, word};
use crate::document::Text;
use crate::document::object::{Measured, ObjectDoc, Stage};
use crate::document::pan::{Material, Metal, Pan, Process, Wall};

const PROCESSES: &[(&str, Process)] = &[
    ("sand casting", Process::SandCasting),
    ("permanent mould casting", Process::PermanentMould),
    ("die casting", Process::DieCasting),
    ("stamping", Process::Stamping),
    ("fabrication", Process::Fabrication),
    ("machining", Process::Machining),
];
const METALS: &[(&str, Metal)] = &[
    ("aluminium", Metal::Aluminium),
    ("magnesium", Metal::Magnesium),
    ("steel", Metal::Steel),
    ("galvanised steel", Metal::ZincOnSteel),
    ("stainless steel", Metal::StainlessSteel),
];
const STAGES: &[(&str, Stage)] = &[("as designed", Stage::AsDesigned), ("as made", Stage::AsMade)];

pub(super) fn pan(c: &mut Cursor<'_, '_>, like: Option<&Pan>) -> Pan {
    instruments(c);
    Pan {
        span: c.span,
        notebook: c.notebook(),
        title: c.given("title", text),
        object: c.given("object", keys(object)),
        vehicle: c.given("vehicle", path),
        oil: c.given("oil", path),
        duty: c.given("duty", path),
        baseline: baseline(c),
        material: c.part_like("material", like.map(|l| &l.material), keys(material)),
        mass: c.part_like("mass", like.map(|l| &l.mass), quantity),
        interior: c.part_like("interior", like.map(|l| &l.interior), mapping(interior)),
        wall: c.part_like("wall", like.map(|l| &l.wall), keys(wall)),
        pickup: c.part_like("pickup", like.map(|l| &l.pickup), keys(pickup)),
        baffles: c.part_like(
            "baffles",
            like.map(|l| &l.baffles),
            named(|context, spot| keys(baffle)(context, spot)),
        ),
        drains: c.part_like(
            "drains",
            like.map(|l| &l.drains),
            named(|context, spot| keys(drain)(context, spot)),
        ),
        fins: c.part_like(
            "fins",
            like.map(|l| &l.fins),
            named(|context, spot| keys(fin_set)(context, spot)),
        ),
        flange: c.part_like("flange", like.map(|l| &l.flange), keys(flange)),
        magnet: c.part_like("magnet", like.map(|l| &l.magnet), mapping(displacer)),
        check: c.part_like("check", like.map(|l| &l.check), mapping(check)),
    }
}

fn baseline(c: &mut Cursor<'_, '_>) -> Vec<Text> {
    c.optional("baseline", texts).unwrap_or_default()
}

fn object(c: &mut Cursor<'_, '_>) -> ObjectDoc {
    ObjectDoc {
        span: c.span,
        name: c.optional("name", text),
        revision: c.optional("revision", text),
        part_number: c.optional("part_number", text),
        state: c.optional("state", word(STAGES)),
        samples: c.optional("samples", count),
        measured: c.optional("measured", keys(measured)),
    }
}

fn measured(c: &mut Cursor<'_, '_>) -> Measured {
    Measured {
        by: c.optional("by", text),
        date: c.optional("date", date),
        with: c.optional("with", texts).unwrap_or_default(),
    }
}

fn material(c: &mut Cursor<'_, '_>) -> Material {
    Material {
        span: c.span,
        alloy: c.given("alloy", text),
        process: c.given("process", word(PROCESSES)),
        yield_strength: c.given("yield", quantity),
        metal: c.given("metal", word(METALS)),
        tensile: c.given("tensile", quantity),
        modulus: c.given("modulus", quantity),
        conductivity: c.given("conductivity", quantity),
        expansion: c.given("expansion", quantity),
        heat_capacity: c.given("heat_capacity", quantity),
        emissivity: c.given("emissivity", quantity),
    }
}

fn wall(c: &mut Cursor<'_, '_>) -> Wall {
    let floor = c.part("floor", quantity);
    let sides = c.part("sides", quantity);
    Wall { span: c.span, floor, sides }
}
