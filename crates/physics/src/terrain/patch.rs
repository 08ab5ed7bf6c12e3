//! The plane pieces of a zone, its walls and its floor, and where the pieces of two zones cross.
#![expect(
    clippy::indexing_slicing,
    reason = "walls hold positions in the points of their own inset"
)]

use super::arrange::{NEAR, Net};
use super::inset::{InsetStops, inset};
use super::outline::{bounds, is_inside};
use super::{Zone, ZoneFault};
use crate::mesh::{index_of, larger, smaller};
use glam::DVec2;
use uom::si::f64::Length;
use uom::si::length::meter;

/// A plane piece of ground over a polygon in plan; depths in metres, positive downward.
#[derive(Debug)]
pub(super) struct Patch {
    polygon: Vec<DVec2>,
    bounds: [DVec2; 2],
    anchor: DVec2,
    depth: f64,
    /// How fast it deepens, for each metre of plan.
    pub(super) gradient: DVec2,
    least: f64,
    greatest: f64,
}

impl Patch {
    /// The depth of its plane, kept within the depths between which the patch lies.
    pub(super) fn depth_at(&self, point: DVec2) -> f64 {
        let depth = self.depth + self.gradient.dot(point - self.anchor);
        smaller(larger(depth, self.least), self.greatest)
    }

    fn is_over(&self, point: DVec2) -> bool {
        point.cmpge(self.bounds[0]).all()
            && point.cmple(self.bounds[1]).all()
            && is_inside(&self.polygon, point)
    }

    /// The pieces of a line within the polygon, as pairs of places along it.
    fn pieces(&self, origin: DVec2, direction: DVec2) -> Vec<[f64; 2]> {
        let mut crossings = Vec::new();
        let Some(&last) = self.polygon.last() else { return Vec::new() };
        let mut from = last;
        for &to in &self.polygon {
            let (side_from, side_to) =
                (direction.perp_dot(from - origin), direction.perp_dot(to - origin));
            if (side_from >= 0.0) != (side_to >= 0.0) {
                let point = from + (to - from) * (side_from / (side_from - side_to));
                crossings.push((point - origin).dot(direction));
            }
            from = to;
        }
        crossings.sort_unstable_by(f64::total_cmp);
        crossings.chunks_exact(2).map(|pair| [pair[0], pair[1]]).collect()
    }
}

/// The pieces of one zone.
#[derive(Debug)]
pub(super) struct Ground {
    pub(super) patches: Vec<Patch>,
    bounds: [DVec2; 2],
    opens_at: f64,
    floor: f64,
    /// Its corners, and the lines between them as positions in these.
    points: Vec<DVec2>,
    lines: Vec<[u32; 2]>,
    /// The patches that reach into each of the strips of equal width across y.
    rows: Vec<Vec<u32>>,
}

/// Patches for each strip, about; the long walls are in all of them.
const PATCHES_A_ROW: usize = 4;

impl Ground {
    pub(super) fn of(zone: &Zone) -> Result<Self, ZoneFault> {
        let (opens_at, floor, draft) = (zone.opens_at.value, zone.floor.value, zone.draft.value);
        if !(opens_at >= 0.0 && floor.is_finite() && floor - opens_at > NEAR) {
            return Err(ZoneFault::FloorNotDeeper { opens_at: zone.opens_at, floor: zone.floor });
        }
        if !(0.0..core::f64::consts::FRAC_PI_2).contains(&draft) {
            return Err(ZoneFault::DraftOutOfRange { draft: zone.draft });
        }
        let outline = zone.outline.points();
        let lean = libm::tan(draft);
        let distance = (floor - opens_at) * lean;
        if distance <= NEAR {
            return Ok(Self::upright(outline, opens_at, floor));
        }
        let depth = |inset: f64| Length::new::<meter>(opens_at + inset / lean);
        let plan = inset(outline, distance).map_err(|stop| match stop {
            InsetStops::WallsMeet(inset) => ZoneFault::WallsMeet { depth: depth(inset) },
            InsetStops::Splits(inset, near) => ZoneFault::InsetSplits { depth: depth(inset), near },
        })?;
        let point = |at: u32| plan.points[at as usize];
        let mut ground = Self::empty(outline, opens_at, floor);
        for wall in &plan.walls {
            let (from, to) = (point(wall[0]), point(wall[1]));
            let polygon = wall.iter().map(|&at| point(at)).collect();
            let gradient = (to - from).normalize_or_zero().perp() / lean;
            ground.add(polygon, from, gradient);
        }
        ground.add_floor(plan.floor.iter().map(|&at| point(at)).collect());
        ground.lines.extend(&plan.mitres);
        ground.lines.extend(around(&plan.floor));
        ground.points = plan.points;
        Ok(ground.sort_into_rows())
    }

    fn upright(outline: &[DVec2], opens_at: f64, floor: f64) -> Self {
        let mut ground = Self::empty(outline, opens_at, floor);
        ground.patches.push(Patch {
            polygon: outline.to_vec(),
            bounds: bounds(outline),
            anchor: outline[0],
            depth: floor,
            gradient: DVec2::ZERO,
            least: floor,
            greatest: floor,
        });
        ground.sort_into_rows()
    }

    fn empty(outline: &[DVec2], opens_at: f64, floor: f64) -> Self {
        let rim: Vec<u32> = (0..index_of(outline.len())).collect();
        Self {
            patches: Vec::with_capacity(outline.len() + 1),
            bounds: bounds(outline),
            opens_at,
            floor,
            points: outline.to_vec(),
            lines: around(&rim).collect(),
            rows: Vec::new(),
        }
    }

    fn add(&mut self, polygon: Vec<DVec2>, anchor: DVec2, gradient: DVec2) {
        self.patches.push(Patch {
            bounds: bounds(&polygon),
            polygon,
            anchor,
            depth: self.opens_at,
            gradient,
            least: self.opens_at,
            greatest: self.floor,
        });
    }

    fn add_floor(&mut self, polygon: Vec<DVec2>) {
        self.patches.push(Patch {
            bounds: bounds(&polygon),
            anchor: polygon[0],
            polygon,
            depth: self.floor,
            gradient: DVec2::ZERO,
            least: self.floor,
            greatest: self.floor,
        });
    }

    /// The patch over a point, if the zone is there.
    pub(super) fn patch_over(&self, point: DVec2) -> Option<&Patch> {
        if point.cmplt(self.bounds[0]).any() || point.cmpgt(self.bounds[1]).any() {
            return None;
        }
        let candidates = self.rows.get(self.row(point.y))?;
        candidates.iter().map(|&at| &self.patches[at as usize]).find(|patch| patch.is_over(point))
    }

    fn sort_into_rows(mut self) -> Self {
        self.rows = vec![Vec::new(); self.patches.len() / PATCHES_A_ROW + 1];
        // From the back, because the floor is last and by far the largest.
        for (at, patch) in self.patches.iter().enumerate().rev() {
            for row in self.row(patch.bounds[0].y)..=self.row(patch.bounds[1].y) {
                self.rows[row].push(index_of(at));
            }
        }
        self
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a number below zero or none becomes 0, one too large the last row"
    )]
    fn row(&self, y: f64) -> usize {
        let share = (y - self.bounds[0].y) / (self.bounds[1].y - self.bounds[0].y);
        let row = (share * self.rows.len() as f64) as usize;
        if row < self.rows.len() { row } else { self.rows.len() - 1 }
    }

    /// Draws the zone's own lines.
    pub(super) fn draw(&self, net: &mut Net) {
        net.add_lines(&self.points, &self.lines);
    }

    /// Draws where this zone's ground and another's are equally deep.
    pub(super) fn draw_crossings(&self, other: &Self, net: &mut Net) {
        if apart(self.bounds, other.bounds) || !self.overlaps_in_depth(other) {
            return;
        }
        for one in self.patches.iter().filter(|patch| !apart(patch.bounds, other.bounds)) {
            for two in &other.patches {
                let alike = one.least < two.greatest && two.least < one.greatest;
                if alike && !apart(one.bounds, two.bounds) {
                    draw_crossing(one, two, net);
                }
            }
        }
    }

    fn overlaps_in_depth(&self, other: &Self) -> bool {
        self.opens_at < other.floor && other.opens_at < self.floor
    }
}

/// The lines from each of some positions to the next, and from the last to the first.
fn around(positions: &[u32]) -> impl Iterator<Item = [u32; 2]> + '_ {
    let next = positions.iter().cycle().skip(1);
    positions.iter().zip(next).map(|(&from, &to)| [from, to])
}

fn apart(one: [DVec2; 2], other: [DVec2; 2]) -> bool {
    one[0].cmpgt(other[1]).any() || other[0].cmpgt(one[1]).any()
}

fn draw_crossing(one: &Patch, two: &Patch, net: &mut Net) {
    let slope = one.gradient - two.gradient;
    let square = slope.length_squared();
    // Planes that lean alike either never meet or are one; neither makes an edge.
    if square <= 1e-24 * (one.gradient.length_squared() + two.gradient.length_squared()) {
        return;
    }
    let middle = (one.bounds[0].max(two.bounds[0]) + one.bounds[1].min(two.bounds[1])) / 2.0;
    let plane = |patch: &Patch| patch.depth + patch.gradient.dot(middle - patch.anchor);
    let origin = middle - slope * ((plane(one) - plane(two)) / square);
    let direction = slope.perp() / square.sqrt();
    for [start, end] in one.pieces(origin, direction) {
        for [from, to] in two.pieces(origin, direction) {
            let (from, to) = (larger(start, from), smaller(end, to));
            if to - from > NEAR {
                net.add(origin + direction * from, origin + direction * to);
            }
        }
    }
}
