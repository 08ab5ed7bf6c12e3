//! A tree of boxes round the faces of a mesh: which faces may meet each other, or a ray.

#![expect(
    clippy::indexing_slicing,
    reason = "nodes and faces are numbered by the tree itself, which never gives a number it does not hold"
)]

use super::{Mesh, index_of};
use crate::distance::boxes_apart;
use glam::DVec3;

/// Whether a walk goes on.
pub(crate) type Next = core::ops::ControlFlow<()>;

/// Faces in a leaf, at most.
const LEAF: usize = 8;

/// A box round some faces.
#[derive(Debug, Clone, PartialEq)]
struct Node {
    low: DVec3,
    high: DVec3,
    /// The faces it holds, as a stretch of the tree's order.
    first: u32,
    end: u32,
    /// The number of its second half; its first half is the node after it. Nothing for a leaf.
    second: Option<u32>,
}

/// The tree.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct BoxTree {
    nodes: Vec<Node>,
    order: Vec<u32>,
}

impl BoxTree {
    /// A tree over all faces of a mesh whose corners exist.
    pub(crate) fn new(mesh: &Mesh) -> Self {
        let boxes: Vec<[DVec3; 2]> = (0..mesh.faces.len())
            .map(|face| {
                let [a, b, c] = mesh.corners(face).unwrap_or_default();
                [a.min(b).min(c), a.max(b).max(c)]
            })
            .collect();
        let mut tree = Self { nodes: Vec::new(), order: (0..index_of(mesh.faces.len())).collect() };
        if !boxes.is_empty() {
            tree.split(&boxes, 0, boxes.len());
        }
        tree
    }

    fn split(&mut self, boxes: &[[DVec3; 2]], first: usize, end: usize) {
        let held = &self.order[first..end];
        let around = |[low, high]: [DVec3; 2], &face: &u32| {
            let [l, h] = boxes[face as usize];
            [low.min(l), high.max(h)]
        };
        let nothing = [DVec3::INFINITY, DVec3::NEG_INFINITY];
        let [low, high] = held.iter().fold(nothing, around);
        let here = self.nodes.len();
        self.nodes.push(Node {
            low,
            high,
            first: index_of(first),
            end: index_of(end),
            second: None,
        });
        if end - first <= LEAF {
            return;
        }
        let middle = |face: u32| boxes[face as usize][0] + boxes[face as usize][1];
        let spread = held
            .iter()
            .fold(nothing, |[low, high], &face| [low.min(middle(face)), high.max(middle(face))]);
        let size = spread[1] - spread[0];
        let axis = if size.x >= size.y && size.x >= size.z {
            0
        } else if size.y >= size.z {
            1
        } else {
            2
        };
        let half = (end - first) / 2;
        self.order[first..end].select_nth_unstable_by(half, |&a, &b| {
            middle(a)[axis].total_cmp(&middle(b)[axis]).then(a.cmp(&b))
        });
        self.split(boxes, first, first + half);
        self.nodes[here].second = Some(index_of(self.nodes.len()));
        self.split(boxes, first + half, end);
    }

    fn faces(&self, node: &Node) -> &[u32] {
        &self.order[node.first as usize..node.end as usize]
    }

    /// Every pair of faces, one of each tree, whose leaves' boxes meet.
    pub(crate) fn pairs(&self, other: &Self, mut each: impl FnMut(u32, u32)) {
        let mut always = |one, two| {
            each(one, two);
            Next::Continue(())
        };
        let all_seen = self.pairs_from(other, (0, 0), &mut always).is_continue();
        debug_assert!(all_seen, "nothing asks to stop");
    }

    fn pairs_from(
        &self,
        other: &Self,
        start: (u32, u32),
        each: &mut impl FnMut(u32, u32) -> Next,
    ) -> Next {
        let mut waiting = vec![start];
        while let Some((a, b)) = waiting.pop() {
            let (Some(one), Some(two)) = (self.nodes.get(a as usize), other.nodes.get(b as usize))
            else {
                continue;
            };
            if one.low.cmpgt(two.high).any() || two.low.cmpgt(one.high).any() {
                continue;
            }
            match (one.second, two.second) {
                (None, None) => {
                    for &face in self.faces(one) {
                        for &against in other.faces(two) {
                            each(face, against)?;
                        }
                    }
                }
                (Some(second), None) => waiting.extend([(second, b), (a + 1, b)]),
                (None, Some(second)) => waiting.extend([(a, second), (a, b + 1)]),
                (Some(mine), Some(its)) => {
                    waiting.extend([(mine, its), (mine, b + 1), (a + 1, its), (a + 1, b + 1)]);
                }
            }
        }
        Next::Continue(())
    }

    /// Every pair of different faces of this tree whose leaves' boxes meet, each pair once, until the answer is to
    /// stop; whether all pairs were seen.
    pub(crate) fn own_pairs(&self, mut each: impl FnMut(u32, u32) -> Next) -> bool {
        self.walk_own_pairs(&mut each).is_continue()
    }

    fn walk_own_pairs(&self, each: &mut impl FnMut(u32, u32) -> Next) -> Next {
        let mut waiting = vec![0_u32];
        while let Some(at) = waiting.pop() {
            let Some(node) = self.nodes.get(at as usize) else { continue };
            let Some(second) = node.second else {
                let held = self.faces(node);
                for (number, &face) in held.iter().enumerate() {
                    for &other in &held[..number] {
                        each(other, face)?;
                    }
                }
                continue;
            };
            waiting.extend([second, at + 1]);
            self.pairs_from(self, (at + 1, second), each)?;
        }
        Next::Continue(())
    }

    /// Every face whose leaf's box a ray meets, within `margin` of it.
    pub(crate) fn along(
        &self,
        from: DVec3,
        direction: DVec3,
        margin: f64,
        mut each: impl FnMut(u32),
    ) {
        let mut waiting = vec![0_u32];
        while let Some(at) = waiting.pop() {
            let Some(node) = self.nodes.get(at as usize) else { continue };
            if !meets(node, from, direction, margin) {
                continue;
            }
            match node.second {
                Some(second) => waiting.extend([second, at + 1]),
                None => self.faces(node).iter().for_each(|&face| each(face)),
            }
        }
    }

    /// Every face whose leaf's box stands nearer to a box than the reach, the nearer half of the tree first; each face
    /// says how far to reach from there on.
    pub(crate) fn near(&self, round: [DVec3; 2], mut reach: f64, mut each: impl FnMut(u32) -> f64) {
        let apart = |at: u32| {
            let node = &self.nodes[at as usize];
            boxes_apart(round, [node.low, node.high]).value
        };
        let mut waiting: Vec<(u32, f64)> = Vec::new();
        if !self.nodes.is_empty() {
            waiting.push((0, apart(0)));
        }
        while let Some((at, off)) = waiting.pop() {
            if off >= reach {
                continue;
            }
            let node = &self.nodes[at as usize];
            let Some(second) = node.second else {
                for &face in self.faces(node) {
                    reach = each(face);
                }
                continue;
            };
            let (one, other) = ((at + 1, apart(at + 1)), (second, apart(second)));
            waiting.extend(if one.1 <= other.1 { [other, one] } else { [one, other] });
        }
    }
}

fn meets(node: &Node, from: DVec3, direction: DVec3, margin: f64) -> bool {
    let (mut enter, mut leave) = (0.0, f64::INFINITY);
    for axis in 0..3 {
        let (low, high) = (node.low[axis] - margin, node.high[axis] + margin);
        if direction[axis].abs() < 1e-300 {
            if from[axis] < low || from[axis] > high {
                return false;
            }
            continue;
        }
        let (one, other) =
            ((low - from[axis]) / direction[axis], (high - from[axis]) / direction[axis]);
        let (near, far) = if one < other { (one, other) } else { (other, one) };
        enter = super::larger(near, enter);
        leave = super::smaller(far, leave);
    }
    // A little room for rounding of the divisions.
    enter <= leave + margin
}
