//! The space that oil can enter, as a weighted sum of closed bodies, in one or two worlds.
//!
//! Where the case above the rail is described there is one world. Where it is not, nobody knows where oil that
//! stands above the rail goes, so everything is computed twice, closed at the rail and open straight up, and
//! the two answers are the bounds of what is true.

use super::fill::Fill;
use super::once::Once;
use super::outlines;
use super::scene::Scene;
use super::words::{level_words, mesh_words};
use crate::document::pan::{Displaced, InteriorShape};
use crate::quantity::{Given, si};
use crate::reading::Unknown;
use glam::DVec3;
use std::sync::Arc;
use sumpwright_physics::level::{Body, Cut, OilSpace};
use sumpwright_physics::mesh::{Mesh, prism};
use sumpwright_physics::terrain::Outline;
use uom::si::f64::{Length, Volume};

/// How far up the open world reaches, in metres: farther than oil in a pan ever climbs, since a level plane
/// with a fill of litres on a rail of decimetres would need an attitude within a degree of upright to reach it.
const OPEN_HEIGHT: f64 = 20.0;

/// One way to close the oil space above the rail.
#[derive(Debug, Clone)]
pub struct World {
    space: OilSpace,
    /// Tells it from all others.
    number: u64,
    top: Option<Top>,
    pub(super) fill: Once<Result<Fill, Unknown>>,
    /// The number of its vessel.
    pub(super) vessel: Once<Result<u64, Unknown>>,
}

/// The space above the rail in a world that is open there.
#[derive(Debug, Clone)]
pub(super) struct Top {
    pub(super) outline: Outline,
    /// Which share of it oil can fill.
    pub(super) share: f64,
    /// In metres.
    pub(super) height: f64,
}

impl World {
    /// The weighted bodies.
    pub fn space(&self) -> &OilSpace {
        &self.space
    }

    /// What is above the rail; nothing where the world is closed there.
    pub(super) fn top(&self) -> Option<&Top> {
        self.top.as_ref()
    }

    /// A number that tells it from all others.
    pub(super) fn number(&self) -> u64 {
        self.number
    }

    /// Height along `up` of the surface that has `volume` below it.
    ///
    /// # Errors
    /// Says why there is no such surface.
    pub fn level(&self, scene: &Scene, up: DVec3, volume: Volume) -> Result<Length, Unknown> {
        let [x, y, z, volume_bits] = [up.x, up.y, up.z, volume.value].map(f64::to_bits);
        scene
            .memo
            .level(&[self.number, x, y, z, volume_bits], || self.space.level(up, volume, None))
            .map_err(|error| Unknown::because(level_words(&error)))
    }

    /// Volume below the plane at `height` along `up`.
    pub fn below(&self, scene: &Scene, up: DVec3, height: Length) -> Volume {
        self.cut(scene, up, height).volume
    }

    /// Volume below the plane at `height` along `up`, and the surface there.
    pub(super) fn cut(&self, scene: &Scene, up: DVec3, height: Length) -> Cut {
        let [x, y, z, h] = [up.x, up.y, up.z, height.value].map(f64::to_bits);
        scene.memo.cut(&[self.number, x, y, z, h], || self.space.below(up, height))
    }
}

impl Scene {
    /// The worlds: one with a case, two without.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn worlds(&self) -> Result<&[World], Unknown> {
        self.worlds.get(self, || self.make_worlds()).as_deref().map_err(Clone::clone)
    }

    fn make_worlds(&self) -> Result<Vec<World>, Unknown> {
        let below = self.parts_below()?;
        let Some((top, share, height)) = self.case_top()? else {
            let rail = self.rail()?.clone();
            let mut open = below.clone();
            self.add_top(&mut open, &rail, 1.0, OPEN_HEIGHT, &[OPEN_HEIGHT.to_bits()])?;
            let top = Top { outline: rail, share: 1.0, height: OPEN_HEIGHT };
            return Ok(vec![below.into_world(self, None), open.into_world(self, Some(top))]);
        };
        let mut closed = below;
        let mut key = vec![height.to_bits()];
        if let Given::Stated(vehicle) = self.vehicle.as_ref()
            && let Given::Stated(case) = &*vehicle.case
        {
            outlines::key(&case.outline, &mut key);
        }
        self.add_top(&mut closed, &top, share, height, &key)?;
        Ok(vec![closed.into_world(self, Some(Top { outline: top, share, height }))])
    }

    /// Outline, free share and height (m) of the case above the rail, where it is described.
    fn case_top(&self) -> Result<Option<(Outline, f64, f64)>, Unknown> {
        let Given::Stated(vehicle) = self.vehicle.as_ref() else { return Ok(None) };
        let Given::Stated(case) = &*vehicle.case else { return Ok(None) };
        let rail = self.rail()?;
        let outline = outlines::outline(&case.outline, Some(rail))
            .map_err(|(_, why)| Unknown::because(why))?;
        let share = match &case.free_share {
            Given::Stated(share) => share.value.value,
            Given::Absent(_) => 1.0,
            Given::LeftOut(missing) => return Err(Unknown::not_stated(missing.clone())),
        };
        Ok(Some((outline, share, case.height.value.value)))
    }

    /// The outline of the rail.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn rail(&self) -> Result<&Outline, Unknown> {
        self.rail.get(self, || self.make_rail()).as_ref().map_err(Clone::clone)
    }

    fn make_rail(&self) -> Result<Outline, Unknown> {
        match &self.interior()?.shape {
            InteriorShape::Zones(floor) => {
                outlines::outline(&floor.rail, None).map_err(|(_, why)| Unknown::because(why))
            }
            InteriorShape::Soundings(soundings) => {
                outlines::outline(&soundings.rail, None).map_err(|(_, why)| Unknown::because(why))
            }
            InteriorShape::Mesh(mesh) => match self.settled(mesh)?.as_ref() {
                Ok(settled) => Ok(settled.rail.clone()),
                Err(trouble) => Err(Unknown::because(trouble.message.clone())),
            },
        }
    }

    /// Room for oil below the rail.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn volume_below_rail(&self) -> Result<Volume, Unknown> {
        Ok(self.parts_below()?.into_world(self, None).space.capacity())
    }

    fn displacers(&self) -> Result<impl Iterator<Item = &Displaced>, Unknown> {
        Ok(self.interior()?.displaced.iter().map(|item| &item.value))
    }

    fn parts_below(&self) -> Result<Parts, Unknown> {
        let mut parts = Parts::default();
        let key = self.terrain_key()?;
        self.with_terrain(|terrain| {
            parts.add(self, 1.0, key, || Ok(Some(terrain.mesh().clone())))
        })?;
        for displacer in self.displacers()? {
            let mut key = self.displaced_key(displacer)?;
            key.push(20);
            parts.add(self, -1.0, key, || Ok(self.displaced_halves(displacer)?.below))?;
        }
        Ok(parts)
    }

    /// Adds the space above the rail and takes out what displacers fill of it: there they weigh minus the
    /// case's share, since only that share of their room was counted.
    fn add_top(
        &self,
        parts: &mut Parts,
        outline: &Outline,
        share: f64,
        height: f64,
        key: &[u64],
    ) -> Result<(), Unknown> {
        let mut top_key = vec![30];
        top_key.extend_from_slice(key);
        top_key.extend(outline.points().iter().flat_map(|p| [p.x.to_bits(), p.y.to_bits()]));
        let top = || {
            prism(outline, si(0.0), si(height))
                .map(Some)
                .map_err(|_| Unknown::because("the space above the rail has no height"))
        };
        parts.add(self, share, top_key, top)?;
        for displacer in self.displacers()? {
            let mut key = self.displaced_key(displacer)?;
            key.push(21);
            parts.add(self, -share, key, || Ok(self.displaced_halves(displacer)?.above))?;
        }
        Ok(())
    }
}

/// A mesh as a body that has levels.
///
/// # Errors
/// Says why it bounds none.
pub(crate) fn body_of(mesh: &Mesh) -> Result<Body, Unknown> {
    Body::new(mesh).map_err(|problem| Unknown::because(mesh_words(&problem)))
}

#[derive(Debug, Clone, Default)]
struct Parts {
    bodies: Vec<(f64, Arc<Body>)>,
    key: Vec<u64>,
}

impl Parts {
    /// A body with its weight; nothing where there is no mesh.
    fn add(
        &mut self,
        scene: &Scene,
        weight: f64,
        key: Vec<u64>,
        mesh: impl FnOnce() -> Result<Option<Mesh>, Unknown>,
    ) -> Result<(), Unknown> {
        let body = scene.memo.body(&key, || mesh()?.as_ref().map(body_of).transpose())?;
        if let Some(body) = body {
            self.bodies.push((weight, body));
            self.key.push(weight.to_bits());
            self.key.extend(key);
        }
        Ok(())
    }

    fn into_world(self, scene: &Scene, top: Option<Top>) -> World {
        World {
            space: OilSpace { parts: self.bodies },
            number: scene.memo.number_of(&self.key),
            top,
            fill: Once::default(),
            vessel: Once::default(),
        }
    }
}
