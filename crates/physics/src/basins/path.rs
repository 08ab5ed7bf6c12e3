//! Oil carried from one direction to another: where it stays behind and what runs over.

#![expect(clippy::indexing_slicing, reason = "nodes are numbered by their tree")]

use super::BasinError;
use super::fill::Share;
use super::pools::Settled;
use super::tree::Tree;
use super::vessel::Vessel;
use crate::surface::Surface;
use glam::DVec3;
use uom::si::f64::Volume;

/// The fewest steps of a path, and the most.
const STEPS: [u32; 2] = [4, 1024];
/// Steps are short enough when half as long ones move no pool by more than this share of all oil.
const SETTLED: f64 = 1.0e-9;

impl Vessel {
    /// How a volume stands after the vessel was turned slowly from one direction to another about one axis, having
    /// stood at one level all over at the first.
    ///
    /// # Formula
    /// At each step every pool is let into the basins whose lowest place it wetted, at one level as long as it hangs
    /// together; what is more than a basin holds runs over its lip by the steepest way; full neighbours become one.
    /// The steps are halved until no pool moves by more than a billionth of all oil.
    ///
    /// # Valid for
    /// Two directions that are not opposite; oil that is always at rest but for what runs over.
    ///
    /// # Errors
    /// More oil than space, a negative volume, a direction that is not of length one, a surface that crosses itself, or
    /// a path on which the steps do not settle.
    ///
    /// # Source
    /// Fill-spill-merge (Barnes, Callaghan and Wickert 2021, Earth Surface Dynamics 9, from memory), on a surface
    /// instead of a grid; tested against the closed form of a ridge.
    pub fn turned_with(
        &self,
        from: DVec3,
        to: DVec3,
        volume: Volume,
    ) -> Result<Settled, BasinError> {
        if !(volume.value >= 0.0 && volume.value.is_finite()) {
            return Err(BasinError::NotAVolume(volume));
        }
        if from == to {
            return self.in_steps(from, to, volume.value, 0);
        }
        let mut steps = STEPS[0];
        let mut last = self.in_steps(from, to, volume.value, steps)?;
        while steps < STEPS[1] {
            steps *= 2;
            let next = self.in_steps(from, to, volume.value, steps)?;
            if is_same(&last.shares, &next.shares, SETTLED * volume.value) {
                return Ok(next);
            }
            last = next;
        }
        Err(BasinError::DidNotSettle)
    }

    pub(super) fn in_steps(
        &self,
        from: DVec3,
        to: DVec3,
        volume: f64,
        steps: u32,
    ) -> Result<Settled, BasinError> {
        let mut surface = self.turned(from)?;
        let mut tree = Tree::new(self, &surface)?;
        let leaves: Vec<usize> =
            (0..tree.nodes.len()).filter(|&node| tree.nodes[node].children.is_empty()).collect();
        let mut shares = tree.settle(&surface, tree.stand(&leaves, volume))?;
        for step in 1..=steps {
            let pools = wetted(&tree, &surface, &shares);
            let share = f64::from(step) / f64::from(steps);
            surface.turn(if step == steps { to } else { between(from, to, share) })?;
            tree = Tree::new(self, &surface)?;
            let dropped = pools.iter().flat_map(|pool| dropped(&tree, &surface, pool)).collect();
            shares = tree.settle(&surface, dropped)?;
        }
        Ok(Settled::new(self, surface, tree, shares))
    }
}

/// A pool on its way to another direction.
struct Pool {
    corners: Vec<usize>,
    volume: f64,
}

fn wetted(tree: &Tree, surface: &Surface, shares: &[Share]) -> Vec<Pool> {
    let pool = |share: &Share| {
        let bracket = [tree.nodes[share.node].formed, tree.ceiling(share.node)];
        let level = tree.level(&[share.node], share.volume, bracket);
        Pool { corners: tree.wet(surface, share.node, level), volume: share.volume }
    };
    shares.iter().map(pool).collect()
}

/// A pool in the basins of another direction: over the lowest places that it wetted, else where it runs down to.
fn dropped(tree: &Tree, surface: &Surface, pool: &Pool) -> Vec<Share> {
    let leaves = tree.leaves_at(&pool.corners);
    if !leaves.is_empty() {
        return tree.stand(&leaves, pool.volume);
    }
    let lowest = pool.corners.iter().copied().reduce(|one, other| {
        if surface.heights[other] < surface.heights[one] { other } else { one }
    });
    lowest
        .map(|corner| Share { node: tree.leaf_below(surface, corner), volume: pool.volume })
        .into_iter()
        .collect()
}

/// The direction a share of the way round from one to another, about the axis square to both.
fn between(from: DVec3, to: DVec3, share: f64) -> DVec3 {
    let cross = from.cross(to);
    let angle = libm::atan2(cross.length(), from.dot(to));
    let Some(aside) = (to - from * from.dot(to)).try_normalize() else { return to };
    (from * libm::cos(angle * share) + aside * libm::sin(angle * share)).normalize()
}

fn is_same(one: &[Share], other: &[Share], within: f64) -> bool {
    let volume = |shares: &[Share], node: usize| -> f64 {
        shares.iter().filter(|share| share.node == node).map(|share| share.volume).sum()
    };
    one.iter().chain(other).all(|share| {
        (volume(one, share.node) - volume(other, share.node)).abs() <= within
    })
}
