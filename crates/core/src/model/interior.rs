//! The interior of a pan: zones to a terrain, displacers to closed meshes.

use super::mesh::{Settled, Trouble};
use super::outlines;
use super::scene::Scene;
use super::words::terrain_words;
use crate::document::pan::{
    Displaced, Displacer, Facing, Fall, FloorZones, InteriorShape, PlanAxis, SolidForm,
};
use crate::quantity::si;
use crate::reading::Unknown;
use crate::source::Span;
use glam::{DVec2, DVec3};
use std::sync::Arc;
use sumpwright_physics::mesh::{Axis, Halves, Mesh, Solid, split_at_rail};
use sumpwright_physics::terrain::{Outline, Slope, Terrain, TerrainError, Zone};
use uom::si::f64::Length;

/// The rail and the zones as geometry; the place and why where one cannot be made.
pub(super) fn zones(interior: &FloorZones) -> Result<(Outline, Vec<Zone>), (Span, String)> {
    let rail = outlines::outline(&interior.rail, None)?;
    let entries = &interior.zones.entries;
    let outlines = entries
        .iter()
        .map(|item| outlines::outline(&item.value.outline, Some(&rail)))
        .collect::<Result<Vec<Outline>, _>>()?;
    let mut made = Vec::new();
    for (index, (item, outline)) in entries.iter().zip(&outlines).enumerate() {
        let opens_at = parent(interior, index)
            .and_then(|parent| Some((entries.get(parent)?, outlines.get(parent)?)))
            .map_or(si(0.0), |(parent, around)| floor_at(&parent.value, around, middle(outline)));
        made.push(Zone {
            outline: outline.clone(),
            opens_at,
            floor: item.value.depth.value,
            slope: item.value.slope.as_ref().map(slope),
            draft: item.value.draft.map_or(si(0.0), |d| d.value),
        });
    }
    Ok((rail, made))
}

/// Depth of a zone's floor at a place.
fn floor_at(zone: &crate::document::pan::Zone, outline: &Outline, place: DVec2) -> Length {
    let fall = zone.slope.as_ref().map_or(0.0, |fall| {
        let Slope { deeper, by } = slope(fall);
        deeper.dot(place - middle(outline)) * libm::tan(by.value)
    });
    zone.depth.value + si::<Length>(fall)
}

/// The middle of the rectangle around an outline.
fn middle(outline: &Outline) -> DVec2 {
    let [low, high] = outline.bounds();
    (low + high) / 2.0
}

fn slope(fall: &Fall) -> Slope {
    let deeper = match fall.deeper.value {
        Facing::Rear => DVec2::NEG_X,
        Facing::Left => DVec2::Y,
        Facing::Right => DVec2::NEG_Y,
        _ => DVec2::X,
    };
    Slope { deeper, by: fall.by.value }
}

/// The zone at whose floor a zone opens; none for the first, which opens at the rail.
pub(super) fn parent(interior: &FloorZones, index: usize) -> Option<usize> {
    let entries = &interior.zones.entries;
    let parent = match entries.get(index).and_then(|e| e.value.opens_in.as_ref()) {
        Some(name) => entries.iter().position(|e| e.name == name.text),
        None if index > 0 => Some(0),
        None => None,
    };
    parent.filter(|p| *p != index)
}

/// The numbers the terrain is made of.
fn zones_key(interior: &FloorZones) -> Vec<u64> {
    let mut key = Vec::new();
    outlines::key(&interior.rail, &mut key);
    for (index, item) in interior.zones.entries.iter().enumerate() {
        outlines::key(&item.value.outline, &mut key);
        // Where it opens follows from the zone it opens in.
        key.push(parent(interior, index).map_or(u64::MAX, |parent| parent as u64));
        key.push(item.value.depth.value.value.to_bits());
        key.push(item.value.draft.map_or(0.0, |d| d.value.value).to_bits());
        if let Some(slope) = item.value.slope.as_ref().map(slope) {
            key.extend([slope.deeper.x, slope.deeper.y, slope.by.value].map(f64::to_bits));
        }
    }
    key
}

impl Scene {
    /// The floor zones.
    ///
    /// # Errors
    /// Says that the interior is described in another way, or what is not stated.
    pub fn floor_zones(&self) -> Result<&FloorZones, Unknown> {
        let interior = self.interior()?;
        interior.floor_zones().ok_or_else(|| {
            Unknown::because(
                "this is computed of floor zones only, and the interior is described in another way; \
                 `sumpwright survey` writes zones that come near it",
            )
            .at(interior.depth_span())
        })
    }

    /// The numbers that floor and walls are made of.
    pub(super) fn terrain_key(&self) -> Result<Vec<u64>, Unknown> {
        match &self.interior()?.shape {
            InteriorShape::Zones(floor) => Ok(zones_key(floor)),
            InteriorShape::Soundings(doc) => Ok(self.soundings_key(doc)),
            InteriorShape::Mesh(mesh) => self.settled_key(mesh),
        }
    }

    /// The terrain of these zones, built once.
    pub(super) fn terrain_of(
        &self,
        floor: &FloorZones,
        zones: &[Zone],
    ) -> Arc<Result<Terrain, TerrainError>> {
        self.memo.terrain(&zones_key(floor), || Terrain::build(zones))
    }

    /// Calls with the terrain.
    ///
    /// # Errors
    /// Says what is not stated, or why it cannot be built.
    pub fn with_terrain<T>(
        &self,
        call: impl FnOnce(&Terrain) -> Result<T, Unknown>,
    ) -> Result<T, Unknown> {
        let cannot = |why: &str| Unknown::because(format!("the interior cannot be built: {why}"));
        match self.ground.get(self, || self.make_ground()).as_ref().map_err(Clone::clone)? {
            Ground::Built(built) => match built.as_ref() {
                Ok(terrain) => call(terrain),
                Err(error) => Err(cannot(&terrain_words(error))),
            },
            Ground::Settled(settled) => match settled.as_ref() {
                Ok(settled) => call(&settled.terrain),
                Err(trouble) => Err(cannot(&trouble.message)),
            },
        }
    }

    fn make_ground(&self) -> Result<Ground, Unknown> {
        Ok(match &self.interior()?.shape {
            InteriorShape::Zones(floor) => {
                let (_, zones) = zones(floor).map_err(|(_, why)| Unknown::because(why))?;
                Ground::Built(self.terrain_of(floor, &zones))
            }
            InteriorShape::Soundings(doc) => {
                let made = self.soundings(doc).map_err(|(_, why)| Unknown::because(why))?;
                Ground::Built(self.sounded(doc, &made))
            }
            InteriorShape::Mesh(mesh) => Ground::Settled(self.settled(mesh)?),
        })
    }

    /// A number that tells floor and walls from all others.
    pub(super) fn terrain_number(&self) -> Result<u64, Unknown> {
        let number = || Ok(self.memo.number_of(&self.terrain_key()?));
        self.terrain.get(self, number).clone()
    }

    /// A number that tells the interior, with all that is displaced in it, from all others.
    pub(super) fn interior_number(&self) -> Result<u64, Unknown> {
        self.interior.get(self, || self.make_interior_number()).clone()
    }

    fn make_interior_number(&self) -> Result<u64, Unknown> {
        let mut key = vec![self.terrain_number()?];
        for item in &self.interior()?.displaced {
            key.extend(self.displaced_key(&item.value)?);
        }
        Ok(self.memo.number_of(&key))
    }
}

/// Floor and walls as geometry, or why there are none.
#[derive(Debug, Clone)]
pub(super) enum Ground {
    /// Of zones or soundings.
    Built(Arc<Result<Terrain, TerrainError>>),
    /// Of a mesh.
    Settled(Arc<Result<Settled, Trouble>>),
}

impl Scene {
    /// The numbers that something displaced is made of.
    pub(super) fn displaced_key(&self, displaced: &Displaced) -> Result<Vec<u64>, Unknown> {
        match displaced {
            Displaced::Solid(solid) => Ok(displacer_key(solid)),
            Displaced::Mesh(mesh) => self.displaced_mesh_key(mesh),
        }
    }

    /// Something displaced as closed meshes, parted by the rail.
    pub(super) fn displaced_halves(&self, displaced: &Displaced) -> Result<Halves, Unknown> {
        match displaced {
            Displaced::Solid(solid) => displacer_halves(solid),
            Displaced::Mesh(mesh) => split_at_rail(&self.placed_mesh(mesh)?).map_err(|error| {
                Unknown::because(format!(
                    "the mesh {} cannot be cut at the rail: {error:?}",
                    mesh.mesh.file.text
                ))
            }),
        }
    }
}

/// A displacer as one closed mesh.
pub(super) fn whole(displacer: &Displacer) -> Option<Mesh> {
    solid(displacer).mesh().ok()
}

/// A displacer as closed meshes, parted by the rail.
pub(super) fn displacer_halves(displacer: &Displacer) -> Result<Halves, Unknown> {
    let halves = solid(displacer).split_at_rail();
    halves.map_err(|error| Unknown::because(format!("{error:?} is no size of a solid")))
}

/// The solid of a displacer that is described by its sizes.
pub(super) fn solid(displacer: &Displacer) -> Solid {
    let at = position(displacer);
    match &displacer.form {
        SolidForm::Block { x, y, z } => {
            let half = DVec3::new(x.value.value / 2.0, y.value.value / 2.0, 0.0);
            Solid::Block { min: at - half - DVec3::Z * z.value.value, max: at + half }
        }
        SolidForm::Cylinder { diameter, length, along } => {
            let (axis, middle) = match along.map(|axis| axis.value) {
                Some(PlanAxis::X) => (Axis::X, at),
                Some(PlanAxis::Y) => (Axis::Y, at),
                // A standing cylinder is placed by its upper face.
                None => (Axis::Z, at - DVec3::Z * (length.value.value / 2.0)),
            };
            Solid::Cylinder { middle, along: axis, diameter: diameter.value, length: length.value }
        }
    }
}

/// The numbers a displacer is made of.
pub(super) fn displacer_key(displacer: &Displacer) -> Vec<u64> {
    let at = position(displacer);
    let mut key = vec![at.x.to_bits(), at.y.to_bits(), at.z.to_bits()];
    match &displacer.form {
        SolidForm::Block { x, y, z } => {
            key.extend([x, y, z].map(|l| l.value.value.to_bits()));
            key.push(10);
        }
        SolidForm::Cylinder { diameter, length, along } => {
            key.extend([diameter, length].map(|l| l.value.value.to_bits()));
            key.push(match along.map(|a| a.value) {
                None => 11,
                Some(PlanAxis::X) => 12,
                Some(PlanAxis::Y) => 13,
            });
        }
    }
    key
}

/// The stated place of a displacer: middle of its upper face, or of a lying cylinder.
pub(super) fn position(displacer: &Displacer) -> DVec3 {
    point(&displacer.at)
}

/// A place in the pan, in metres.
pub(super) fn point(at: &crate::document::pan::PanPoint) -> DVec3 {
    DVec3::new(at.x.value.value, at.y.value.value, at.z.value.value)
}

/// The displacer's shadow in plan (convex) and its lowest and highest z, in metres.
pub(super) fn extent(displacer: &Displacer) -> (Vec<DVec2>, f64, f64) {
    let at = position(displacer);
    let rectangle = |x: f64, y: f64| {
        [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
            .map(|(i, j)| DVec2::new(at.x + i * x / 2.0, at.y + j * y / 2.0))
            .to_vec()
    };
    match &displacer.form {
        SolidForm::Block { x, y, z } => {
            (rectangle(x.value.value, y.value.value), at.z - z.value.value, at.z)
        }
        SolidForm::Cylinder { diameter, length, along: None } => {
            let circle = Outline::circle(DVec2::new(at.x, at.y), diameter.value)
                .map_or_else(|_| Vec::new(), |o| o.points().to_vec());
            (circle, at.z - length.value.value, at.z)
        }
        SolidForm::Cylinder { diameter, length, along: Some(axis) } => {
            let (d, l) = (diameter.value.value, length.value.value);
            let plan = match axis.value {
                PlanAxis::X => rectangle(l, d),
                PlanAxis::Y => rectangle(d, l),
            };
            (plan, at.z - d / 2.0, at.z + d / 2.0)
        }
    }
}
