//! What stays in the pan when a drain has run dry at the parking attitude.

use super::attitude::attitude;
use super::drains::placed_drain;
use super::oil_space::body_of;
use super::scene::{Scene, need};
use crate::document::pan::Displaced;
use crate::quantity::Given;
use crate::reading::{Bounds, Unknown};
use crate::source::Span;
use glam::DVec3;
use std::sync::Arc;
use sumpwright_physics::drain::{Pool, pools_round_blocks};
use sumpwright_physics::level::OilSpace;
use sumpwright_physics::mesh::Mesh;

/// What stays when a drain has run dry.
#[derive(Debug, Clone)]
pub struct Drained {
    /// All of it, in cubic metres.
    pub stays: Bounds,
    /// Where the drain's place stands: what a reader would change.
    pub subject: Span,
    /// Where it stays; whole sentences.
    pub notes: Vec<String>,
}

impl Scene {
    /// What stays when a drain of the pan has run dry.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn drained(&self, index: usize) -> Result<Drained, Unknown> {
        let drain = self.drain(index)?;
        let subject = need(&drain.value.at)?.span;
        let parked = need(&self.duty()?.parked_to_drain)?;
        let up = attitude(parked, self.nose_up()?).up;
        let outlet = placed_drain(self, drain)?.lowest(up);
        let (stays, mut notes) = self.stays(up, outlet)?;
        if let Given::Stated(_) = &*self.pan.baffles {
            notes.push(
                "A baffle is not taken as a dam: what stays behind one, below its lowest opening, comes on top."
                    .to_owned(),
            );
        }
        Ok(Drained { stays, subject, notes })
    }

    fn stays(&self, up: DVec3, outlet: DVec3) -> Result<(Bounds, Vec<String>), Unknown> {
        let interior = self.interior()?;
        let mut key = vec![self.interior_number()?];
        key.extend([up.x, up.y, up.z, outlet.x, outlet.y, outlet.z].map(f64::to_bits));
        let below = |solid: bool| {
            let some = interior.displaced.iter().filter(|item| is_solid(&item.value) == solid);
            let below = some.map(|item| Ok(self.displaced_halves(&item.value)?.below));
            below.filter_map(Result::transpose).collect::<Result<Vec<Mesh>, Unknown>>()
        };
        self.memo.drained(&key, || {
            self.with_terrain(|terrain| {
                let drained = pools_round_blocks(terrain.mesh(), &below(true)?, up, outlet)
                    .map_err(|error| Unknown::because(error.to_string()))?;
                let (least, most) = drained.stays();
                let own = drained.pools.iter().filter(|p| p.holds_outlet).map(|p| p.volume.value);
                let cut_off = drained.pools.iter().filter(|p| !p.holds_outlet);
                let cut_off = cut_off.map(|p| p.volume.value);
                let note = format!(
                    "Before what hangs in it is taken off, {:.2} L stay in the drain's own pool and {:.2} L \
                     in pools cut off from it.",
                    own.sum::<f64>() * 1e3,
                    cut_off.sum::<f64>() * 1e3
                );
                let least = least.value - most_displaced(&drained.pools, &below(false)?, up)?;
                let least = if least > 0.0 { least } else { 0.0 };
                Ok((Bounds::between(least, most.value), vec![note]))
            })
        })
    }
}

fn is_solid(displaced: &Displaced) -> bool {
    matches!(displaced, Displaced::Solid(_))
}

/// The most that meshes of any shape can take up of pools, in cubic metres: each as if all of it that lies below a
/// pool's level stood in that pool.
fn most_displaced(pools: &[Pool], meshes: &[Mesh], up: DVec3) -> Result<f64, Unknown> {
    let parts = meshes
        .iter()
        .map(|mesh| Ok((1.0, Arc::new(body_of(mesh)?))))
        .collect::<Result<_, Unknown>>()?;
    let space = OilSpace { parts };
    Ok(pools
        .iter()
        .map(|pool| {
            let below = space.below(up, pool.level).volume;
            if below < pool.volume { below.value } else { pool.volume.value }
        })
        .sum())
}
