//! A mesh of an interior put on the rail: moved, the oil space taken out of a part, the rail's outline found.

use super::look::{LookedOver, odd_interior};
use super::moved;
use super::trouble::{Trouble, place};
use crate::document::pan::{InteriorMesh, MeshOf};
use crate::model::words::{millimetres, outline_words};
use crate::source::Code;
use glam::{DVec2, DVec3};
use sumpwright_physics::mesh::{CutError, Mesh, hollow_below_rail, offset, rail_loops};
use sumpwright_physics::terrain::{Outline, Terrain};

/// How far the rail of a mesh may be from z = 0, in metres: half of what a depth gauge reads.
const RAIL_TOLERANCE: f64 = 5e-5;
/// Corners this near to the height of the rail are on it, in metres: what 32 bits leave of a millimetre far out.
const ON_RAIL: f64 = 1e-5;
/// The middle of the rail may be this far from the origin before it is said, in metres: what a tape misses.
const MIDDLE: f64 = 1e-3;
/// A flat this small beside the largest that looks up is no rail.
const RAIL_SHARE: f64 = 0.03;
/// How level a face is that belongs to a flat: the height of its unit normal.
const LEVEL: f64 = 0.999_999;

/// A mesh of an interior on its rail.
#[derive(Debug, Clone)]
pub(crate) struct Settled {
    /// The body as ground.
    pub(crate) terrain: Terrain,
    /// The rail.
    pub(crate) rail: Outline,
    /// What is wrong though it could be settled.
    pub(crate) troubles: Vec<Trouble>,
    /// What a reader has to know; whole sentences.
    pub(crate) notes: Vec<String>,
}

pub(super) fn settle(doc: &InteriorMesh, looked: &LookedOver) -> Result<Settled, Trouble> {
    let by = moved(doc);
    let mut troubles = looked.troubles(by);
    if let Some(gravest) = troubles.iter().find(|trouble| trouble.is_error()) {
        return Err(gravest.clone());
    }
    let mut mesh = looked.mesh.clone();
    for point in &mut mesh.points {
        *point += by;
    }
    let rail = rail_height(&mesh, doc.of.value)?;
    if rail.abs() > RAIL_TOLERANCE {
        troubles.push(off_the_rail(rail, by));
    }
    for point in &mut mesh.points {
        if (point.z - rail).abs() <= ON_RAIL {
            point.z = 0.0;
        }
    }
    let mut notes = looked.notes.clone();
    let body = match doc.of.value {
        MeshOf::OilSpace => oil_space(mesh, rail)?,
        // Where the rail is elsewhere, that is why no room is closed.
        MeshOf::Part => out_of_part(&mesh, &mut notes)
            .map_err(|trouble| troubles.first().cloned().unwrap_or(trouble))?,
    };
    let body = match doc.surface {
        Some(surface) if surface.value.value.abs() > 0.0 => offset(&body, surface.value),
        Some(_) => body,
        None => {
            notes.push(
                "The surface of the mesh was taken as exact; `surface: 0 ± 0.3 mm` under `mesh` carries the \
                 uncertainty of a scan."
                    .to_owned(),
            );
            body
        }
    };
    troubles.extend(odd_interior(&body));
    let (outline, posts) = rail_outline(&body)?;
    let [low, high] = outline.bounds();
    let middle = (low + high) / 2.0;
    if middle.x.abs() > MIDDLE || middle.y.abs() > MIDDLE {
        troubles.push(off_the_middle(middle, by));
    }
    if posts > 0 {
        notes.push(format!(
            "Inside the rail {posts} posts or walls stand up to it; above it they count as open."
        ));
    }
    let voids = looked.found.pieces.iter().filter(|piece| piece.depth % 2 == 1).count();
    if voids > 0 && doc.of.value == MeshOf::OilSpace {
        notes.push(format!("{voids} bodies within the mesh take room away from the oil."));
    }
    let terrain = Terrain::of_mesh(body);
    if terrain.has_undercuts() {
        notes.push(
            "Below the rail some faces of the mesh look up, so that a place has several depths; what is asked from \
             a depth is answered there, and what cannot be is unknown."
                .to_owned(),
        );
    }
    Ok(Settled { terrain, rail: outline, troubles, notes })
}

/// The flats that look up: height and area of each, from the highest down.
fn flats(mesh: &Mesh) -> Vec<(f64, f64)> {
    let mut faces: Vec<(f64, f64)> = (0..mesh.faces.len())
        .filter_map(|face| mesh.corners(face))
        .filter_map(|[a, b, c]| {
            let across = (b - a).cross(c - a);
            let level = across.z >= LEVEL * across.length() && across.z > 0.0;
            level.then_some(((a.z + b.z + c.z) / 3.0, across.z / 2.0))
        })
        .collect();
    faces.sort_unstable_by(|one, other| other.0.total_cmp(&one.0).then(other.1.total_cmp(&one.1)));
    let mut flats: Vec<(f64, f64)> = Vec::new();
    for (height, area) in faces {
        match flats.last_mut() {
            Some((top, sum)) if *top - height <= ON_RAIL => *sum += area,
            _ => flats.push((height, area)),
        }
    }
    flats
}

/// The height of the rail: of an oil space its largest flat that looks up, of a part the highest large one.
fn rail_height(mesh: &Mesh, of: MeshOf) -> Result<f64, Trouble> {
    let flats = flats(mesh);
    let largest = flats.iter().copied().reduce(|a, b| if b.1 > a.1 { b } else { a });
    let Some((height, area)) = largest else {
        return Err(Trouble::error(
            Code::MeshRail,
            "the mesh has no flat that looks up, so its rail is nowhere",
        )
        .help("its `up` axis may be another: close the mesh by a level lid at the rail, or state `up`"));
    };
    let highest_large = flats.iter().find(|(_, other)| *other >= RAIL_SHARE * area);
    // Where a flat lies in the rail plane there is no doubt.
    let at_rail =
        flats.iter().find(|(z, other)| z.abs() <= RAIL_TOLERANCE && *other >= RAIL_SHARE * area);
    Ok(match of {
        MeshOf::OilSpace => height,
        MeshOf::Part => at_rail.or(highest_large).map_or(height, |(z, _)| *z),
    })
}

fn off_the_rail(rail: f64, by: DVec3) -> Trouble {
    let to = DVec3::new(by.x, by.y, by.z - rail);
    Trouble::error(
        Code::MeshRail,
        format!(
            "the rail of the mesh, its flat that looks up, is at z {} and not at 0",
            millimetres(rail)
        ),
    )
    .help(format!("add {} under `mesh`, or export it with the rail at z = 0", as_moved(to)))
    .moved(to)
}

fn off_the_middle(middle: DVec2, by: DVec3) -> Trouble {
    let to = DVec3::new(by.x - middle.x, by.y - middle.y, by.z);
    Trouble::warning(
        Code::MeshRail,
        format!(
            "the middle of the rail is at x {}, y {} and not at the origin, from which every place is measured",
            millimetres(middle.x),
            millimetres(middle.y)
        ),
    )
    .help(format!("if the places in this description are meant from the middle of the rail, add {}", as_moved(to)))
    .moved(to)
}

fn as_moved(to: DVec3) -> String {
    format!(
        "`moved: {{ x: {}, y: {}, z: {} }}`",
        millimetres(to.x),
        millimetres(to.y),
        millimetres(to.z)
    )
}

/// A mesh of the oil space ends at its rail.
fn oil_space(mesh: Mesh, rail: f64) -> Result<Mesh, Trouble> {
    let highest = mesh.points.iter().copied().reduce(|a, b| if b.z > a.z { b } else { a });
    match highest {
        Some(top) if top.z > ON_RAIL && top.z > rail + ON_RAIL => Err(Trouble::error(
            Code::MeshRail,
            format!("the mesh reaches {} above its rail, {}", millimetres(top.z - rail), place(top)),
        )
        .help("an oil space ends at the rail: cut the mesh off there; what lies above belongs to `case` of the vehicle")),
        _ => Ok(mesh),
    }
}

fn out_of_part(part: &Mesh, notes: &mut Vec<String>) -> Result<Mesh, Trouble> {
    match hollow_below_rail(part) {
        Ok(hollow) => {
            notes.push(format!(
                "The room for oil, {:.3} L, is the largest hollow of the part that the rail plane closes.",
                hollow.body.volume().value * 1e3
            ));
            if !hollow.others.is_empty() {
                let litres = hollow.others.iter().map(|v| v.value).sum::<f64>() * 1e3;
                notes.push(format!(
                    "{} smaller hollows that open at the rail, {litres:.3} L together, were left out.",
                    hollow.others.len()
                ));
            }
            Ok(hollow.body)
        }
        Err(CutError::NoHollow) => Err(Trouble::error(
            Code::MeshRail,
            "the part and the rail plane close no room between them",
        )
        .help(
            "a hole below the rail joins inside and outside: plug the drain and other openings where the mesh was \
             made, check that the rail is at z = 0, or export the oil space and say `of: oil space`",
        )),
        Err(CutError::Open { at }) => Err(Trouble::error(
            Code::MeshOpen,
            format!("cut at the rail the part is open, at {}", place(at)),
        )),
        Err(CutError::RimTangled { at }) => Err(tangled(at)),
        Err(other) => Err(Trouble::error(Code::MeshRail, format!("it cannot be cut at the rail: {other:?}"))),
    }
}

fn tangled(at: DVec3) -> Trouble {
    Trouble::error(
        Code::MeshRail,
        format!(
            "in the rail plane the edge of the mesh crosses or touches itself, at {}",
            place(at)
        ),
    )
    .help("clean the section at the rail where the mesh was made")
}

/// The outline of the rail and how many posts stand in it.
fn rail_outline(body: &Mesh) -> Result<(Outline, usize), Trouble> {
    let loops = rail_loops(body);
    let area = |line: &Vec<DVec2>| {
        let next = line.iter().cycle().skip(1);
        line.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum::<f64>() / 2.0
    };
    let (outer, posts): (Vec<_>, Vec<_>) = loops.into_iter().partition(|line| area(line) > 0.0);
    match outer.as_slice() {
        [line] => {
            let distinct = without_repeats(line);
            let outline = Outline::polygon(&distinct).map_err(|error| {
                Trouble::error(
                    Code::MeshRail,
                    format!("the line round the rail cannot be used: {}", outline_words(&error)),
                )
            })?;
            Ok((outline, posts.len()))
        }
        [] => {
            Err(Trouble::error(Code::MeshRail, "no face of the mesh lies in the rail plane z = 0")
                .help("close the mesh by a level lid at the rail"))
        }
        several => Err(Trouble::error(
            Code::MeshRail,
            format!("the mesh opens at the rail in {} places, and one is read", several.len()),
        )
        .help("where a wall inside reaches the rail, end it a little below")),
    }
}

/// Corners nearer than a hundredth of a micrometre to the one before are left out.
fn without_repeats(line: &[DVec2]) -> Vec<DVec2> {
    let mut kept: Vec<DVec2> = Vec::with_capacity(line.len());
    for point in line {
        if kept.last().is_none_or(|last| last.distance(*point) > 1e-8) {
            kept.push(*point);
        }
    }
    while kept.len() > 1
        && kept.first().zip(kept.last()).is_some_and(|(a, b)| a.distance(*b) <= 1e-8)
    {
        kept.pop();
    }
    kept
}
