//! Oil let into basins: what is more than a basin holds runs over its lip, and full neighbours become one.

#![expect(clippy::indexing_slicing, reason = "nodes are numbered by their tree")]

use super::BasinError;
use super::fill::Share;
use super::tree::Tree;
use crate::surface::Surface;
use uom::si::f64::Volume;
use uom::si::volume::cubic_meter;

/// A basin counts as full within this share of what it holds: the rounding of two sums.
const ROUNDING: f64 = 1.0e-12;

/// Which nodes hold oil, and how much. No node that holds oil is within another.
struct Basins<'a> {
    tree: &'a Tree,
    surface: &'a Surface,
    holds: Vec<Option<f64>>,
    capacities: Vec<Option<f64>>,
}

impl Tree {
    /// Lets shares of oil into their basins and waits until nothing runs.
    pub(super) fn settle(
        &self,
        surface: &Surface,
        mut shares: Vec<Share>,
    ) -> Result<Vec<Share>, BasinError> {
        // What holds others comes before what it holds.
        shares.sort_by_key(|share| core::cmp::Reverse(share.node));
        let count = self.nodes.len();
        let mut basins =
            Basins { tree: self, surface, holds: vec![None; count], capacities: vec![None; count] };
        for share in shares {
            basins.pour(share)?;
        }
        let held = basins.holds.iter().enumerate();
        let shares = held.filter_map(|(node, volume)| {
            volume.filter(|volume| *volume > 0.0).map(|volume| Share { node, volume })
        });
        Ok(shares.collect())
    }
}

impl Basins<'_> {
    fn capacity(&mut self, node: usize) -> f64 {
        *self.capacities[node].get_or_insert_with(|| self.tree.capacity(node))
    }

    /// The basin that holds oil and that a node is part of; else the node.
    fn holder(&self, node: usize) -> usize {
        let mut found = node;
        let mut at = Some(node);
        while let Some(here) = at {
            if self.holds[here].is_some() {
                found = here;
            }
            at = self.tree.nodes[here].parent;
        }
        found
    }

    fn is_full(&mut self, node: usize) -> bool {
        let capacity = self.capacity(node);
        self.holds[node].is_some_and(|held| held >= capacity * (1.0 - ROUNDING))
    }

    /// Each pass fills a basin for good or joins several, so that there are at most two for each node.
    fn pour(&mut self, share: Share) -> Result<(), BasinError> {
        let mut node = self.holder(share.node);
        // What ran into it before, from a lip elsewhere, is part of the body that is let in now.
        let inside: f64 = self.holds[self.tree.nodes[node].first..=node]
            .iter_mut()
            .filter_map(Option::take)
            .sum();
        let mut held = inside + share.volume;
        for _ in 0..=2 * self.tree.nodes.len() {
            let capacity = self.capacity(node);
            let Some(parent) = self.tree.nodes[node].parent else {
                self.holds[node] = Some(held);
                if held > capacity * (1.0 + ROUNDING) {
                    let capacity = Volume::new::<cubic_meter>(capacity);
                    return Err(BasinError::TooMuch { capacity });
                }
                return Ok(());
            };
            if held <= capacity {
                self.holds[node] = Some(held);
                return Ok(());
            }
            self.holds[node] = Some(capacity);
            let excess = held - capacity;
            if let Some(entry) = self.next_to(parent) {
                let leaf = self.tree.leaf_below(self.surface, entry);
                node = self.holder(leaf);
                held = self.holds[node].unwrap_or(0.0) + excess;
            } else {
                let children = &self.tree.nodes[parent].children;
                held = children.iter().filter_map(|&child| self.holds[child].take()).sum();
                held += excess;
                node = parent;
            }
        }
        Err(BasinError::DidNotSettle)
    }

    /// Where oil over the lip within a node runs in: the steepest way down into a basin that is not full.
    fn next_to(&mut self, parent: usize) -> Option<usize> {
        let tree = self.tree;
        let lip = tree.nodes[parent].formed;
        let mut found: Option<(usize, f64)> = None;
        for &child in &tree.nodes[parent].children {
            if !self.is_full(child) {
                let entry = tree.nodes[child].entry;
                let drop = lip - self.surface.heights[entry];
                if found.is_none_or(|(_, deepest)| drop > deepest) {
                    found = Some((entry, drop));
                }
            }
        }
        found.map(|(entry, _)| entry)
    }
}
