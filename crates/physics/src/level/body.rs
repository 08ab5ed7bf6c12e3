//! One closed body with what is needed to cut it by a plane quickly: a tree of boxes with stored sums.
#![expect(
    clippy::indexing_slicing,
    reason = "nodes hold positions in the faces and nodes of their own tree"
)]

use crate::mesh::{Mesh, MeshProblem, check, index_of, larger, smaller};
use glam::DVec3;
use uom::si::f64::Volume;
use uom::si::volume::cubic_meter;

/// Faces in a leaf; 4 to 32 make less than a sixth of a difference in time.
const LEAF: usize = 8;

/// A closed body, ready to be cut by planes.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    /// The middle of its box; all coordinates below are from there, or sums of a body far away would cancel.
    middle: DVec3,
    points: Vec<DVec3>,
    faces: Vec<Face>,
    /// In the order of a walk that visits a node before what it holds.
    nodes: Vec<Node>,
    volume: f64,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Face {
    corners: [DVec3; 3],
    /// The vector area.
    area: DVec3,
}

#[derive(Debug, Clone, Copy, Default, PartialEq)]
struct Node {
    middle: DVec3,
    half: DVec3,
    /// Σ N.
    area: DVec3,
    /// Σ N⟨x⟩ᵀ made symmetric: xx, yy, zz, then 2xy, 2yz, 2zx.
    straight: DVec3,
    mixed: DVec3,
    first: u32,
    /// Faces in a leaf; 0 for a node that holds others.
    count: u32,
    /// The next node when this one is done with.
    skip: u32,
}

/// Volume and surface below a plane, in cubic and square metres.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Sums {
    pub(super) volume: f64,
    pub(super) surface: f64,
}

impl Body {
    /// Checks a mesh and builds its tree.
    ///
    /// # Errors
    /// What [`check`] finds: only a closed body has a level.
    pub fn new(mesh: &Mesh) -> Result<Self, MeshProblem> {
        check(mesh)?;
        let [low, high] = mesh.bounds().ok_or(MeshProblem::Empty)?;
        let middle = (low + high) / 2.0;
        let points: Vec<DVec3> = mesh.points.iter().map(|&point| point - middle).collect();
        let unsorted: Vec<Face> = mesh
            .faces
            .iter()
            .map(|&[a, b, c]| {
                let (a, b, c) = (points[a as usize], points[b as usize], points[c as usize]);
                Face { corners: [a, b, c], area: (b - a).cross(c - a) / 2.0 }
            })
            .collect();
        let mut order: Vec<(u64, u32)> = unsorted
            .iter()
            .zip(0..)
            .map(|(Face { corners: [a, b, c], .. }, face)| {
                (curve((*a + *b + *c) / 3.0, high - middle), face)
            })
            .collect();
        order.sort_unstable();
        let faces: Vec<Face> = order.iter().map(|&(_, face)| unsorted[face as usize]).collect();
        let mut nodes = Vec::with_capacity(faces.len() / 2);
        grow(&mut nodes, &faces, 0);
        let volume = mesh.volume().value;
        Ok(Self { middle, points, faces, nodes, volume })
    }

    /// The volume of the whole body.
    pub fn volume(&self) -> Volume {
        Volume::new::<cubic_meter>(self.volume)
    }

    /// The least and greatest height of its points along a unit vector, in metres.
    pub(super) fn extent(&self, up: DVec3) -> [f64; 2] {
        let shift = up.dot(self.middle);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for point in &self.points {
            let height = up.dot(*point);
            low = smaller(height, low);
            high = larger(height, high);
        }
        [low + shift, high + shift]
    }

    /// What lies below the plane up·x = height.
    pub(super) fn below(&self, up: DVec3, height: f64) -> Sums {
        let height = height - up.dot(self.middle);
        let size = up.abs();
        let mut sums = Sums::default();
        let mut at = 0;
        while let Some(node) = self.nodes.get(at) {
            let (middle, half) = (up.dot(node.middle) - height, size.dot(node.half));
            if middle - half >= 0.0 {
                at = node.skip as usize;
            } else if middle + half <= 0.0 {
                node.add_all(up, height, &mut sums);
                at = node.skip as usize;
            } else {
                let first = node.first as usize;
                for face in &self.faces[first..first + node.count as usize] {
                    face.add_part(up, height, &mut sums);
                }
                at += 1;
            }
        }
        sums
    }
}

impl Node {
    /// The node that holds two others.
    fn with(&self, other: &Self) -> Self {
        let low = (self.middle - self.half).min(other.middle - other.half);
        let high = (self.middle + self.half).max(other.middle + other.half);
        Self {
            middle: (low + high) / 2.0,
            half: (high - low) / 2.0,
            area: self.area + other.area,
            straight: self.straight + other.straight,
            mixed: self.mixed + other.mixed,
            ..Self::default()
        }
    }

    /// A node wholly below: Σ s(d·⟨x⟩ − h) from the stored sums.
    fn add_all(&self, up: DVec3, height: f64, sums: &mut Sums) {
        let area = up.dot(self.area);
        let mixed = DVec3::new(up.x * up.y, up.y * up.z, up.z * up.x);
        sums.volume += (up * up).dot(self.straight) + mixed.dot(self.mixed) - height * area;
        sums.surface -= area;
    }
}

impl Face {
    fn add_part(&self, up: DVec3, height: f64, sums: &mut Sums) {
        let [first, second, third] = self.corners;
        // Written out: a closure over an array is not always inlined here, and this is the innermost loop.
        let (x, y, z) = (up.dot(first) - height, up.dot(second) - height, up.dot(third) - height);
        let (x, y) = if x > y { (y, x) } else { (x, y) };
        let (y, c) = if y > z { (z, y) } else { (y, z) };
        let (a, b) = if x > y { (y, x) } else { (x, y) };
        if a >= 0.0 {
            return;
        }
        let area = up.dot(self.area);
        let (volume, share) = if c <= 0.0 {
            ((a + b + c) / 3.0, 1.0)
        } else if b >= 0.0 {
            let share = a / (a - b) * (a / (a - c));
            (share * a / 3.0, share)
        } else {
            // The whole less the tip above, multiplied out: every term has one sign, so that a thin film on a
            // tall wall keeps its digits.
            let whole = (c - a) * (c - b);
            let volume = (a * b * (a + b) - c * (a * a + a * b + b * b)) / (3.0 * whole);
            (volume, (a * b - c * (a + b)) / whole)
        };
        sums.volume += area * volume;
        sums.surface -= area * share;
    }
}

/// Where a place lies along a curve that runs through the box in ever smaller halves of x, y and z in turn: faces
/// that are near on it are near in space, and sorting by it is several times quicker than by splitting in space.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "each share lies between 0 and 1"
)]
fn curve(place: DVec3, half: DVec3) -> u64 {
    let size = larger(larger(half.x, half.y), half.z);
    let cells = ((place / size + 1.0) * 0.5 * f64::from(1_u32 << 20))
        .clamp(DVec3::ZERO, DVec3::splat(1_048_575.0));
    let spread = |cell: f64| {
        // Two zero bits after each bit of the cell.
        let bits = cell as u64;
        let bits = (bits | (bits << 32)) & 0x001f_0000_0000_ffff;
        let bits = (bits | (bits << 16)) & 0x001f_0000_ff00_00ff;
        let bits = (bits | (bits << 8)) & 0x100f_00f0_0f00_f00f;
        let bits = (bits | (bits << 4)) & 0x10c3_0c30_c30c_30c3;
        (bits | (bits << 2)) & 0x1249_2492_4924_9249
    };
    (spread(cells.x) << 2) | (spread(cells.y) << 1) | spread(cells.z)
}

/// Adds the tree over sorted faces to the nodes.
fn grow(nodes: &mut Vec<Node>, faces: &[Face], first: usize) {
    let at = nodes.len();
    if faces.len() <= LEAF {
        nodes.push(sum(faces, first));
    } else {
        nodes.push(Node::default());
        let half = faces.len() / 2;
        grow(nodes, &faces[..half], first);
        let upper = nodes.len();
        grow(nodes, &faces[half..], first + half);
        nodes[at] = nodes[at + 1].with(&nodes[upper]);
    }
    nodes[at].skip = index_of(nodes.len());
}

fn sum(faces: &[Face], first: usize) -> Node {
    let start = faces.first().map_or(DVec3::ZERO, |face| face.corners[0]);
    let (mut low, mut high) = (start, start);
    let (mut area, mut straight, mut mixed) = (DVec3::ZERO, DVec3::ZERO, DVec3::ZERO);
    for Face { corners: [a, b, c], area: n } in faces {
        low = low.min(a.min(*b).min(*c));
        high = high.max(a.max(*b).max(*c));
        let mean = (*a + *b + *c) / 3.0;
        area += *n;
        straight += *n * mean;
        mixed += DVec3::new(
            n.x * mean.y + n.y * mean.x,
            n.y * mean.z + n.z * mean.y,
            n.z * mean.x + n.x * mean.z,
        );
    }
    Node {
        middle: (low + high) / 2.0,
        half: (high - low) / 2.0,
        area,
        straight,
        mixed,
        first: index_of(first),
        count: index_of(faces.len()),
        skip: 0,
    }
}
