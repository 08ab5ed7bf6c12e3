//! Reads what is said of a mesh file: of the interior, or of a thing that takes up room.

use super::cursor::{Cursor, mapping};
use super::quantity::quantity;
use super::value::{path, word};
use crate::document::pan::{InteriorMesh, MeshAxis, MeshDoc, MeshOf, MeshUnit, Normals};
use crate::quantity::Stated;
use crate::source::{Code, Diagnostic};
use uom::si::f64::Length;

const UNITS: &[(&str, MeshUnit)] = &[
    ("mm", MeshUnit::Millimetre),
    ("cm", MeshUnit::Centimetre),
    ("m", MeshUnit::Metre),
    ("in", MeshUnit::Inch),
    ("ft", MeshUnit::Foot),
    ("µm", MeshUnit::Micrometre),
    ("um", MeshUnit::Micrometre),
];
const OF: &[(&str, MeshOf)] = &[("oil space", MeshOf::OilSpace), ("part", MeshOf::Part)];
const NORMALS: &[(&str, Normals)] = &[("outward", Normals::Outward), ("inward", Normals::Inward)];
const AXES: &[(&str, MeshAxis)] = &[
    ("x", MeshAxis { axis: 0, reversed: false }),
    ("-x", MeshAxis { axis: 0, reversed: true }),
    ("y", MeshAxis { axis: 1, reversed: false }),
    ("-y", MeshAxis { axis: 1, reversed: true }),
    ("z", MeshAxis { axis: 2, reversed: false }),
    ("-z", MeshAxis { axis: 2, reversed: true }),
];

/// A mesh of the interior.
pub(super) fn interior_mesh(c: &mut Cursor<'_, '_>) -> Option<InteriorMesh> {
    let of = c.required("of", word(OF));
    let moved = c.optional("moved", mapping(moved));
    let surface = c.optional("surface", quantity);
    let mesh = mesh_keys(c);
    Some(InteriorMesh { mesh: mesh?, of: of?, moved, surface })
}

/// A mesh of something else.
pub(super) fn mesh_keys(c: &mut Cursor<'_, '_>) -> Option<MeshDoc> {
    let file = c.required("file", path);
    let unit = c.optional("unit", word(UNITS));
    let normals = c.optional("normals", word(NORMALS));
    let weld = c.optional("weld", quantity);
    let forward = c.optional("forward", word(AXES));
    let up = c.optional("up", word(AXES));
    let (ahead, above) = (forward.map_or(0, |w| w.value.axis), up.map_or(2, |w| w.value.axis));
    if let Some(second) = up.or(forward)
        && ahead == above
    {
        let message = "forward and up cannot be one axis of the mesh";
        let problem = Diagnostic::error(Code::Contradiction, second.span, message);
        c.context.report(problem.help("left out, `forward` is x and `up` is z"));
        return None;
    }
    Some(MeshDoc { span: c.span, file: file?, unit, normals, weld, forward, up })
}

fn moved(c: &mut Cursor<'_, '_>) -> Option<[Stated<Length>; 3]> {
    let x = c.required("x", quantity);
    let y = c.required("y", quantity);
    let z = c.required("z", quantity);
    Some([x?, y?, z?])
}
