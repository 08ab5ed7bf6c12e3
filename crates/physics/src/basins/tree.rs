//! Basins in order, with what each holds at every level.

#![expect(
    clippy::indexing_slicing,
    reason = "nodes, flats and faces are numbered by the lists they index"
)]

use super::BasinError;
use super::flats::{Flats, steepness};
use super::grow::Growth;
use super::seam::Hem;
use super::vessel::Vessel;
use crate::level::Pieces;
use crate::surface::Surface;
use std::collections::BTreeMap;

/// A body of oil between two heights: from where it is one body to where it joins another.
#[derive(Debug, Clone)]
pub(super) struct Node {
    /// The corner it begins at.
    pub(super) birth: usize,
    /// The height of its lowest point.
    pub(super) low: f64,
    /// From this height on it is one body; its lowest point for one that no others join in.
    pub(super) formed: f64,
    /// Its lip: where it joins another; infinite for the last.
    pub(super) spills: f64,
    pub(super) parent: Option<usize>,
    pub(super) children: Vec<usize>,
    /// Where oil that comes over its lip flows in.
    pub(super) entry: usize,
    /// The first node within it: nodes are numbered so that all within it come just before it.
    pub(super) first: usize,
}

/// The join tree of a surface for one direction.
#[derive(Debug, Clone)]
pub(super) struct Tree {
    pub(super) nodes: Vec<Node>,
    flats: Flats,
    home: Vec<usize>,
    under: BTreeMap<usize, usize>,
    /// The faces of each node, their areas times their shares.
    faces: Vec<Pieces>,
    hems: Vec<Vec<Hem>>,
    /// The highest corner of all.
    top: f64,
}

impl Tree {
    pub(super) fn new(vessel: &Vessel, surface: &Surface) -> Result<Self, BasinError> {
        let mut growth = Growth::new(vessel, surface)?;
        let (nodes, numbers) = in_order(&mut growth, surface)?;
        let count = nodes.len();
        let home: Vec<usize> =
            (0..growth.flats.count()).map(|flat| numbers[growth.home(flat)]).collect();
        let mut tree = Self {
            nodes,
            flats: growth.flats,
            home,
            under: growth.under,
            faces: vec![Pieces::default(); count],
            hems: vec![Vec::new(); count],
            top: surface.heights.iter().copied().fold(
                f64::NEG_INFINITY,
                |a, b| {
                    if b > a { b } else { a }
                },
            ),
        };
        let shares = vessel.parts.iter().flat_map(|part| part.faces.clone().map(|_| part.share));
        for (face, share) in (0..surface.faces.len()).zip(shares) {
            let [low, middle, high] = surface.heights_of(face);
            let area = share * surface.area_vector(face).dot(surface.up);
            let home = tree.home_of(surface.lowest(face));
            tree.faces[home].push([low, middle, high, area]);
        }
        for seam in &vessel.seams {
            let home = tree.home_of(seam.lowest(surface));
            tree.hems[home].push(seam.hem(surface));
        }
        Ok(tree)
    }

    /// The node that a corner was taken up in.
    pub(super) fn home_of(&self, corner: usize) -> usize {
        self.home[self.flats.of(corner)]
    }

    /// Whether a node is another or within it.
    pub(super) fn is_within(&self, node: usize, other: usize) -> bool {
        self.nodes[other].first <= node && node <= other
    }

    /// The height that oil can reach in a node: its lip, or the top of all.
    pub(super) fn ceiling(&self, node: usize) -> f64 {
        let spills = self.nodes[node].spills;
        if spills < self.top { spills } else { self.top }
    }

    /// The body that a node is part of at a height: the last above it that is formed by then.
    pub(super) fn body_at(&self, mut node: usize, height: f64) -> usize {
        while let Some(parent) = self.nodes[node].parent
            && self.nodes[parent].formed <= height
        {
            node = parent;
        }
        node
    }

    /// Volume below a level in a node, which must be one body there, and the area of its surface.
    pub(super) fn below(&self, node: usize, level: f64) -> [f64; 2] {
        let first = self.nodes[node].first;
        let mut sums = Pieces::below(&self.faces[first..=node], level);
        for hem in self.hems[first..=node].iter().flatten() {
            let [volume, surface] = hem.below(level);
            sums[0] += volume;
            sums[1] += surface;
        }
        sums
    }

    /// What a node holds up to its lip.
    pub(super) fn capacity(&self, node: usize) -> f64 {
        self.below(node, self.ceiling(node))[0]
    }

    /// The leaf that oil let go at a corner runs down to, always by the steepest edge, and straight down from what
    /// hangs over something.
    pub(super) fn leaf_below(&self, surface: &Surface, corner: usize) -> usize {
        let mut flat = self.flats.of(corner);
        for _ in 0..=self.flats.count() {
            let ways = self.flats.ways_down(surface, flat);
            let ways = ways.map(|way| (steepness(surface, way), way[1]));
            let steepest = ways.reduce(|one, other| if other.0 > one.0 { other } else { one });
            let next = steepest.map(|(_, next)| next).or_else(|| self.under.get(&flat).copied());
            match next {
                Some(next) => flat = self.flats.of(next),
                None => break,
            }
        }
        let mut node = self.home[flat];
        // What was no deeper than rounding is part of a body that may have others within.
        while let Some(lowest) = self.nodes[node].children.iter().copied().reduce(|one, other| {
            if self.nodes[other].low < self.nodes[one].low { other } else { one }
        }) {
            node = lowest;
        }
        node
    }

    /// The corners in a node below a level, and the corners that its leaves begin at.
    pub(super) fn wet(&self, surface: &Surface, node: usize, level: f64) -> Vec<usize> {
        let is_wet = |&corner: &usize| {
            surface.is_used(corner)
                && surface.heights[corner] < level
                && self.is_within(self.home_of(corner), node)
        };
        let mut corners: Vec<usize> = (0..surface.points.len()).filter(is_wet).collect();
        let leaves = self.nodes[self.nodes[node].first..=node].iter();
        corners.extend(leaves.filter(|leaf| leaf.children.is_empty()).map(|leaf| leaf.birth));
        corners
    }

    /// The leaves whose lowest place holds one of these corners.
    pub(super) fn leaves_at(&self, corners: &[usize]) -> Vec<usize> {
        let mut is_wet = vec![false; self.flats.count()];
        for &corner in corners {
            is_wet[self.flats.of(corner)] = true;
        }
        let is_leaf = |&number: &usize| {
            let node = &self.nodes[number];
            node.children.is_empty() && is_wet[self.flats.of(node.birth)]
        };
        (0..self.nodes.len()).filter(is_leaf).collect()
    }
}

/// The nodes that stand, each after all within it, and the new number of every old one.
fn in_order(
    growth: &mut Growth<'_>,
    surface: &Surface,
) -> Result<(Vec<Node>, Vec<usize>), BasinError> {
    let mut roots = Vec::new();
    for node in 0..growth.nodes.len() {
        if growth.stands(node) && growth.nodes[node].parent.is_none() {
            roots.push(node);
        }
    }
    let root = match roots[..] {
        [root] => root,
        [] => return Err(BasinError::Empty),
        [_, second, ..] => {
            return Err(BasinError::Apart { at: surface.points[growth.nodes[second].birth] });
        }
    };
    let mut numbers = vec![0; growth.nodes.len()];
    let mut nodes: Vec<Node> = Vec::new();
    let mut open = vec![(root, false, 0)];
    while let Some((old, is_entered, first)) = open.pop() {
        let raw = &growth.nodes[old];
        if !is_entered {
            open.push((old, true, nodes.len()));
            // The first child comes off the stack first, so that it gets the lowest numbers.
            open.extend(raw.children.iter().rev().map(|&child| (child, false, 0)));
            continue;
        }
        numbers[old] = nodes.len();
        nodes.push(Node {
            birth: raw.birth,
            low: raw.low,
            formed: raw.formed,
            spills: raw.spills,
            parent: raw.parent,
            children: raw.children.iter().map(|&child| numbers[child]).collect(),
            entry: raw.entry,
            first,
        });
    }
    for node in &mut nodes {
        node.parent = node.parent.map(|parent| numbers[parent]);
    }
    Ok((nodes, numbers))
}
