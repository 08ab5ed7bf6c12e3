//! Levels of volumes in bodies, and how a volume that was one pool stands in the basins of another direction.

#![expect(clippy::indexing_slicing, reason = "nodes are numbered by their tree")]

use super::tree::Tree;
use crate::mesh::smaller;

/// Newton needs five or six passes as a rule; a bracket of any size is bisected to nothing in fewer than this.
const PASSES: u32 = 200;

/// Oil in one body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Share {
    pub(super) node: usize,
    pub(super) volume: f64,
}

impl Tree {
    /// The level at which bodies that are one each between two heights hold a volume together.
    ///
    /// Newton's method with the surface as the derivative, kept within the bracket. What is below or above all that
    /// they hold there gives the bracket's end.
    pub(super) fn level(&self, nodes: &[usize], volume: f64, bracket: [f64; 2]) -> f64 {
        let [mut low, mut high] = bracket;
        let digit = 2.0 * f64::EPSILON * (low.abs() + high.abs());
        let mut level = low + (high - low) / 2.0;
        let (mut residual, mut slow) = (f64::INFINITY, 0);
        for _ in 0..PASSES {
            let [held, surface] = self.sum(nodes, level);
            let miss = held - volume;
            if miss > 0.0 {
                high = level;
            } else {
                low = level;
            }
            let step = -miss / surface;
            if step.abs() <= digit || high - low <= digit {
                return level;
            }
            slow = if miss.abs() > 0.5 * residual { slow + 1 } else { 0 };
            residual = miss.abs();
            let next = level + step;
            // Without a surface the step is infinite or none, and the comparison fails.
            level = if slow < 3 && low < next && next < high {
                next
            } else {
                slow = 0;
                low + (high - low) / 2.0
            };
        }
        level
    }

    fn sum(&self, nodes: &[usize], level: f64) -> [f64; 2] {
        nodes.iter().fold([0.0, 0.0], |[volume, surface], &node| {
            let below = self.below(node, level);
            [volume + below[0], surface + below[1]]
        })
    }

    /// How a volume stands that hangs together over these leaves: as high in each, as long as they are apart.
    ///
    /// Climbs from lip to lip. Where a lip leads into a basin that the volume does not wet, what is more than up to
    /// the lip stays in the basin that spills, as more than it holds.
    pub(super) fn stand(&self, leaves: &[usize], volume: f64) -> Vec<Share> {
        // Over one place there is nothing to share out; more than it holds runs over.
        if let [node] = *leaves {
            return vec![Share { node, volume }];
        }
        let mut nodes = leaves.to_vec();
        let mut floor = nodes.iter().map(|&node| self.nodes[node].low).fold(f64::INFINITY, smaller);
        loop {
            let lip = nodes.iter().map(|&node| self.ceiling(node)).fold(f64::INFINITY, smaller);
            let held = self.sum(&nodes, lip)[0];
            let parent = nodes
                .iter()
                .find(|&&node| self.nodes[node].spills <= lip)
                .and_then(|&node| self.nodes[node].parent);
            let Some(parent) = parent.filter(|_| held < volume) else {
                let level = self.level(&nodes, volume, [floor, lip]);
                return self.parts(&nodes, level, volume);
            };
            let (inside, outside): (Vec<usize>, Vec<usize>) =
                nodes.iter().partition(|&&node| self.is_within(node, parent));
            let own = self.sum(&inside, lip)[0];
            let others = self.sum(&outside, lip)[0];
            if self.below(parent, lip)[0] > volume - others
                && inside.len() < self.nodes[parent].children.len()
            {
                let mut parts = self.parts(&nodes, lip, held);
                let excess = volume - own - others;
                if let Some(part) = parts.iter_mut().find(|part| inside.contains(&part.node)) {
                    part.volume += excess;
                }
                return parts;
            }
            nodes = outside;
            nodes.push(parent);
            floor = lip;
        }
    }

    /// The volume below a level in each of several bodies; the largest takes what rounding leaves.
    fn parts(&self, nodes: &[usize], level: f64, volume: f64) -> Vec<Share> {
        let part = |&node: &usize| Share { node, volume: self.below(node, level)[0] };
        let mut parts: Vec<Share> = nodes.iter().map(part).collect();
        let sum: f64 = parts.iter().map(|part| part.volume).sum();
        let largest = (0..parts.len())
            .reduce(|one, other| if parts[other].volume > parts[one].volume { other } else { one });
        if let Some(largest) = largest {
            parts[largest].volume += volume - sum;
        }
        parts
    }
}
