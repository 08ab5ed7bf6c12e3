//! Oil at rest in its basins, and what can be asked of it.

#![expect(clippy::indexing_slicing, reason = "nodes are numbered by their tree")]

use super::fill::Share;
use super::vessel::Vessel;
use super::views::View;
use crate::surface::Below;
use core::ops::Range;
use glam::DVec3;
use std::sync::Arc;
use uom::si::f64::{Length, Volume};
use uom::si::length::meter;
use uom::si::volume::cubic_meter;

/// A body of oil at rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pool {
    /// How high it stands, along up from the origin.
    pub level: Length,
    /// Its lowest point.
    pub deepest: DVec3,
    /// How much it holds.
    pub volume: Volume,
}

/// Oil at rest for one direction.
#[derive(Debug, Clone)]
pub struct Settled {
    view: Arc<View>,
    chambers: Vec<Range<usize>>,
    pub(super) shares: Vec<Share>,
    pools: Vec<Pool>,
}

/// The basin that a place is in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Over {
    /// The pool there, by its number; none where the basin is dry.
    pub pool: Option<usize>,
    /// How high it stands; the basin's lowest point where it is dry.
    pub level: Length,
    /// How much it holds.
    pub volume: Volume,
    node: usize,
    leaf: usize,
}

impl Settled {
    pub(super) fn new(vessel: &Vessel, view: Arc<View>, shares: Vec<Share>) -> Self {
        let View { surface, tree } = &*view;
        let pool = |share: &Share| {
            let node = &tree.nodes[share.node];
            let bracket = [node.formed, tree.ceiling(share.node)];
            Pool {
                level: Length::new::<meter>(tree.level(&[share.node], share.volume, bracket)),
                deepest: surface.points[node.birth],
                volume: Volume::new::<cubic_meter>(share.volume),
            }
        };
        let pools = shares.iter().map(pool).collect();
        let chambers = vessel.parts.iter().map(|part| part.faces.clone()).collect();
        Self { view, chambers, shares, pools }
    }

    /// The pools, each basin after those within it.
    pub fn pools(&self) -> &[Pool] {
        &self.pools
    }

    /// The basin that a place is in: the pool that wets the surface straight below it, else that to which oil from
    /// there runs down.
    pub fn over(&self, place: DVec3) -> Over {
        let mut floors = self.chambers.iter().filter_map(|faces| {
            match self.view.surface.below_among(place, faces.clone()) {
                Below::Floor(face) => Some(face),
                Below::Ceiling | Below::Nothing => None,
            }
        });
        let face = floors.next().unwrap_or_else(|| self.view.surface.nearest(place).1);
        let corner = self.view.surface.lowest(face);
        let leaf = self.view.tree.leaf_below(&self.view.surface, corner);
        let wets = |&number: &usize| {
            let within =
                self.view.tree.is_within(self.view.tree.home_of(corner), self.shares[number].node);
            within && self.view.surface.heights[corner] < self.pools[number].level.value
        };
        let holds = |&number: &usize| self.view.tree.is_within(leaf, self.shares[number].node);
        let numbers = || 0..self.shares.len();
        match numbers().find(wets).or_else(|| numbers().find(holds)) {
            Some(number) => Over {
                pool: Some(number),
                level: self.pools[number].level,
                volume: self.pools[number].volume,
                node: self.shares[number].node,
                leaf,
            },
            None => Over {
                pool: None,
                level: Length::new::<meter>(self.view.tree.nodes[leaf].low),
                volume: Volume::new::<cubic_meter>(0.0),
                node: leaf,
                leaf,
            },
        }
    }

    /// What the body round a place holds up to a height, whether or not there is oil in it.
    pub fn body_below(&self, over: &Over, height: Length) -> Volume {
        let body = self.view.tree.body_at(over.leaf, height.value);
        Volume::new::<cubic_meter>(self.view.tree.below(body, height.value)[0])
    }

    /// How much a pump can take from a place's pool until it stands no higher than `height` there. What falls behind
    /// a lip on the way stays. Negative where the pool stands lower: what is short.
    ///
    /// # Formula
    /// V(level) − V(height) in the body round the place, summed from lip to lip; short: V(height) of the body round
    /// the place less all oil in it.
    ///
    /// # Valid for
    /// Oil at rest; nothing flows back into the pool.
    pub fn drawn_to(&self, over: &Over, height: Length) -> Volume {
        let tree = &self.view.tree;
        let (mut node, mut level, to) = (over.node, over.level.value, height.value);
        let volume = |node: usize, level: f64| tree.below(node, level)[0];
        if to > level {
            let body = tree.body_at(node, to);
            let inside = self.shares.iter().filter(|share| tree.is_within(share.node, body));
            let held: f64 = inside.map(|share| share.volume).sum();
            return Volume::new::<cubic_meter>(held - volume(body, to));
        }
        let mut drawn = 0.0;
        while to < tree.nodes[node].formed {
            let formed = tree.nodes[node].formed;
            let child = tree.nodes[node].children.iter().copied();
            let Some(child) = { child }.find(|&child| tree.is_within(over.leaf, child)) else {
                break;
            };
            drawn += volume(node, level) - volume(node, formed);
            (node, level) = (child, formed);
        }
        Volume::new::<cubic_meter>(drawn + volume(node, level) - volume(node, to))
    }
}
