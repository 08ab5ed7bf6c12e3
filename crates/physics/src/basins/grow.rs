//! The join tree of a surface: which bodies of oil there are below each height, and where they become one.
//!
//! Flats are taken up in the order of their heights. One without a lower neighbour begins a body; one with neighbours
//! in several bodies, or a link between two, joins them. A body no deeper than rounding is none.

#![expect(
    clippy::indexing_slicing,
    reason = "flats, bodies and nodes are numbered by the lists they index"
)]

use super::BasinError;
use super::flats::{Flats, steepness};
use super::union::Union;
use super::vessel::{Link, Vessel};
use crate::surface::{Below, Surface};
use std::collections::BTreeMap;

/// A node before the nodes are put in order.
#[derive(Debug, Clone)]
pub(super) struct Raw {
    /// The corner where it begins.
    pub(super) birth: usize,
    pub(super) low: f64,
    /// From this height on it is one body.
    pub(super) formed: f64,
    /// At this height it joins another.
    pub(super) spills: f64,
    pub(super) parent: Option<usize>,
    pub(super) children: Vec<usize>,
    /// Where oil that comes over the lip flows in.
    pub(super) entry: usize,
}

/// The tree as it grows.
pub(super) struct Growth<'a> {
    surface: &'a Surface,
    pub(super) flats: Flats,
    /// Undersides: their flat, and the corner of what lies straight below.
    pub(super) under: BTreeMap<usize, usize>,
    bodies: Union,
    born: Vec<bool>,
    /// The node of each body, by the flat that tells it.
    node_of: Vec<usize>,
    pub(super) nodes: Vec<Raw>,
    /// Nodes that were no deeper than rounding are one with another.
    same: Union,
    /// The node in which each flat was taken up.
    home: Vec<usize>,
    /// The bodies around a flat, each with a way down into it.
    around: Vec<(usize, usize)>,
}

impl<'a> Growth<'a> {
    /// Grows the whole tree.
    pub(super) fn new(vessel: &Vessel, surface: &'a Surface) -> Result<Self, BasinError> {
        let flats = Flats::new(surface);
        let count = flats.count();
        let (under, mut links) = undersides(vessel, surface, &flats)?;
        links.extend(vessel.links(surface));
        let mut growth = Self {
            surface,
            flats,
            under,
            bodies: Union::new(count),
            born: vec![false; count],
            node_of: vec![0; count],
            nodes: Vec::new(),
            same: Union::new(0),
            home: vec![0; count],
            around: Vec::new(),
        };
        let mut order: Vec<(f64, usize)> = (0..count).map(|f| (growth.flats.low(f), f)).collect();
        order.extend(links.iter().enumerate().map(|(number, link)| {
            let ends = link.ends.map(|end| growth.flats.low(growth.flats.of(end)));
            let height = ends.into_iter().fold(link.height, |a, b| if b > a { b } else { a });
            (height, count + number)
        }));
        order.sort_unstable_by(|one, other| one.0.total_cmp(&other.0).then(one.1.cmp(&other.1)));
        for (height, what) in order {
            if what < count {
                growth.take_up(what, height);
            } else {
                growth.join_link(links[what - count], height);
            }
        }
        Ok(growth)
    }

    /// The node of each flat, after all joining.
    pub(super) fn home(&mut self, flat: usize) -> usize {
        self.same.find(self.home[flat])
    }

    /// Whether a node is one of its own.
    pub(super) fn stands(&mut self, node: usize) -> bool {
        self.same.find(node) == node
    }

    /// The height above which all is one body.
    pub(super) fn joined_above(&mut self, surface: &Surface) -> Result<f64, BasinError> {
        let mut found: Option<usize> = None;
        for node in 0..self.nodes.len() {
            if self.stands(node) && self.nodes[node].parent.is_none() {
                if found.is_some() {
                    return Err(BasinError::Apart { at: surface.points[self.nodes[node].birth] });
                }
                found = Some(node);
            }
        }
        found.map(|root| self.nodes[root].formed).ok_or(BasinError::Empty)
    }

    fn take_up(&mut self, flat: usize, height: f64) {
        let mut around = core::mem::take(&mut self.around);
        around.clear();
        for [_, next] in self.flats.ways_down(self.surface, flat) {
            let next_flat = self.flats.of(next);
            if self.born[next_flat] {
                let body = self.bodies.find(next_flat);
                if !around.iter().any(|&(known, _)| known == body) {
                    around.push((body, next));
                }
            }
        }
        self.born[flat] = true;
        let node = match around[..] {
            [] => self.begin(flat, height),
            [(body, _)] => {
                self.bodies.join(flat, body);
                self.same.find(self.node_of[body])
            }
            _ => {
                self.take_steepest(flat, &mut around);
                let node = self.join(height, &around);
                self.bodies.join(flat, around[0].0);
                node
            }
        };
        let body = self.bodies.find(flat);
        self.node_of[body] = node;
        self.home[flat] = node;
        self.around = around;
    }

    /// Puts the steepest way down into each body in the place of any.
    fn take_steepest(&mut self, flat: usize, around: &mut [(usize, usize)]) {
        let mut steepest = vec![f64::NEG_INFINITY; around.len()];
        for way in self.flats.ways_down(self.surface, flat) {
            let body = self.bodies.find(self.flats.of(way[1]));
            let steep = steepness(self.surface, way);
            for (known, most) in around.iter_mut().zip(&mut steepest) {
                if known.0 == body && steep > *most {
                    (known.1, *most) = (way[1], steep);
                }
            }
        }
    }

    fn begin(&mut self, flat: usize, height: f64) -> usize {
        let birth = self.flats.corners(flat)[0];
        self.nodes.push(Raw {
            birth,
            low: height,
            formed: height,
            spills: f64::INFINITY,
            parent: None,
            children: Vec::new(),
            entry: birth,
        });
        self.same.add()
    }

    fn join_link(&mut self, link: Link, height: f64) {
        let ends = link.ends.map(|end| (self.bodies.find(self.flats.of(end)), end));
        if ends[0].0 != ends[1].0 {
            let node = self.join(height, &ends);
            let body = self.bodies.find(ends[0].0);
            self.node_of[body] = node;
        }
    }

    /// Joins bodies at a height, each with where oil flows into it; the node of what they become.
    fn join(&mut self, height: f64, parts: &[(usize, usize)]) -> usize {
        let mut nodes: Vec<(usize, usize)> = Vec::new();
        for &(body, entry) in parts {
            nodes.push((self.same.find(self.node_of[body]), entry));
            self.bodies.join(body, parts[0].0);
        }
        let tolerance = self.surface.tolerance;
        let is_deep = |nodes: &[Raw], node: usize| height - nodes[node].low > tolerance;
        let deep: Vec<(usize, usize)> =
            nodes.iter().copied().filter(|&(node, _)| is_deep(&self.nodes, node)).collect();
        let node = match deep[..] {
            [] => nodes.iter().map(|&(node, _)| node).fold(nodes[0].0, |lowest, node| {
                if self.nodes[node].low < self.nodes[lowest].low { node } else { lowest }
            }),
            [(only, _)] => only,
            _ => self.unite(height, &deep),
        };
        for &(other, _) in &nodes {
            if other != node && !is_deep(&self.nodes, other) {
                self.same.join(other, node);
            }
        }
        node
    }

    fn unite(&mut self, height: f64, parts: &[(usize, usize)]) -> usize {
        let number = self.nodes.len();
        let lowest = parts.iter().map(|&(node, _)| node).fold(parts[0].0, |lowest, node| {
            if self.nodes[node].low < self.nodes[lowest].low { node } else { lowest }
        });
        let (birth, low) = (self.nodes[lowest].birth, self.nodes[lowest].low);
        for &(node, entry) in parts {
            let child = &mut self.nodes[node];
            (child.spills, child.parent, child.entry) = (height, Some(number), entry);
        }
        self.nodes.push(Raw {
            birth,
            low,
            formed: height,
            spills: f64::INFINITY,
            parent: None,
            children: parts.iter().map(|&(node, _)| node).collect(),
            entry: birth,
        });
        self.same.add()
    }
}

/// The flats that hang into oil, each with what lies straight below it; the way down is nowhere higher than the flat.
fn undersides(
    vessel: &Vessel,
    surface: &Surface,
    flats: &Flats,
) -> Result<(BTreeMap<usize, usize>, Vec<Link>), BasinError> {
    let mut is_pit = vec![false; surface.points.len()];
    let pits = (0..flats.count()).filter(|&f| flats.ways_down(surface, f).next().is_none());
    let pits: Vec<usize> = pits.collect();
    for &corner in pits.iter().flat_map(|&flat| flats.corners(flat)) {
        is_pit[corner] = true;
    }
    let mut opening = surface.openings(&is_pit);
    for (corner, part) in vessel.seams.iter().flat_map(|seam| seam.opening(surface)) {
        opening[corner] += part;
    }
    let (mut under, mut links) = (BTreeMap::new(), Vec::new());
    for flat in pits {
        let whole: f64 = flats.corners(flat).iter().map(|&corner| opening[corner]).sum();
        if whole >= 0.0 {
            continue;
        }
        let tip = flats.corners(flat)[0];
        let start = surface.points[tip];
        let Below::Floor(face) = surface.below_among(start, vessel.faces_round(tip)) else {
            return Err(BasinError::NoFloor { under: start });
        };
        let floor = surface.lowest(face);
        under.insert(flat, floor);
        links.push(Link { height: surface.heights[tip], ends: [tip, floor] });
    }
    Ok((under, links))
}
