//! The plane pieces of a zone, its walls and its floor, and where the pieces of two zones cross.
#![expect(
    clippy::indexing_slicing,
    reason = "walls hold positions in the points of their own inset"
)]

use super::arrange::{NEAR, Net};
use super::inset::InsetStops;
use super::layer::Layer;
use super::outline::{bounds, is_inside};
use super::wall::Walls;
use super::{Zone, ZoneFault};
use crate::mesh::{index_of, larger, smaller};
use glam::DVec2;
use uom::si::f64::Length;
use uom::si::length::meter;

/// A plane piece of ground over a polygon in plan; depths in metres, positive downward.
#[derive(Debug)]
pub(super) struct Patch {
    polygon: Vec<DVec2>,
    pub(super) bounds: [DVec2; 2],
    plane: Plane,
    least: f64,
    greatest: f64,
}

/// A plane: its depth at one place and how fast it deepens, for each metre of plan.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane {
    pub(super) anchor: DVec2,
    pub(super) depth: f64,
    pub(super) gradient: DVec2,
}

impl Plane {
    /// That of a zone's floor: its depth is stated at the middle of the outline.
    fn of(zone: &Zone) -> Result<Self, ZoneFault> {
        let [low, high] = zone.outline.bounds();
        let gradient = match &zone.slope {
            None => DVec2::ZERO,
            Some(slope) if (0.0..core::f64::consts::FRAC_PI_2).contains(&slope.by.value) => {
                slope.deeper.normalize_or_zero() * libm::tan(slope.by.value)
            }
            Some(slope) => return Err(ZoneFault::SlopeOutOfRange { by: slope.by }),
        };
        Ok(Self { anchor: (low + high) / 2.0, depth: zone.floor.value, gradient })
    }

    fn is_level(&self) -> bool {
        self.gradient == DVec2::ZERO
    }

    pub(super) fn depth_at(&self, point: DVec2) -> f64 {
        self.depth + self.gradient.dot(point - self.anchor)
    }

    /// The piece of it over a polygon, between two depths.
    pub(super) fn patch(self, polygon: Vec<DVec2>, [least, greatest]: [f64; 2]) -> Patch {
        Patch { bounds: bounds(&polygon), polygon, plane: self, least, greatest }
    }
}

impl Patch {
    /// The depth of its plane, kept within the depths between which the patch lies.
    pub(super) fn depth_at(&self, point: DVec2) -> f64 {
        smaller(larger(self.plane.depth_at(point), self.least), self.greatest)
    }

    /// How fast it deepens, for each metre of plan.
    pub(super) fn gradient(&self) -> DVec2 {
        self.plane.gradient
    }

    pub(super) fn is_over(&self, point: DVec2) -> bool {
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

/// The pieces of one zone: where it has both walls and floor, the shallower of the two is its ground.
#[derive(Debug)]
pub(super) struct Ground {
    /// Walls, and a level floor where they end at one.
    walls: Layer,
    /// A floor that is not level, or of many pieces: it goes on under the walls.
    floor: Layer,
    bounds: [DVec2; 2],
    least: f64,
    greatest: f64,
    /// Its corners, and the lines between them as positions in these.
    points: Vec<DVec2>,
    lines: Vec<[u32; 2]>,
}

impl Ground {
    pub(super) fn of(zone: &Zone) -> Result<Self, ZoneFault> {
        let (opens_at, draft) = (zone.opens_at.value, zone.draft.value);
        let plane = Plane::of(zone)?;
        let [least, greatest] = plane.reach(zone.outline.points());
        if !(opens_at >= 0.0 && greatest.is_finite() && greatest - opens_at > NEAR) {
            let floor = Length::new::<meter>(greatest);
            return Err(ZoneFault::FloorNotDeeper { opens_at: zone.opens_at, floor });
        }
        if least <= NEAR {
            return Err(ZoneFault::FloorAboveRail { depth: Length::new::<meter>(least) });
        }
        if !(0.0..core::f64::consts::FRAC_PI_2).contains(&draft) {
            return Err(ZoneFault::DraftOutOfRange { draft: zone.draft });
        }
        let outline = zone.outline.points();
        let lean = libm::tan(draft);
        if (greatest - opens_at) * lean <= NEAR {
            let floor = vec![plane.patch(outline.to_vec(), [least, greatest])];
            return Ok(Self::of_floor(outline, floor, None));
        }
        let walls = if plane.is_level() {
            Walls::down_to(outline, opens_at, greatest, lean)
        } else {
            Walls::down_past(outline, opens_at, lean, &plane)
        };
        let walls = walls.map_err(|stop| fault(&stop, opens_at, lean))?;
        if plane.is_level() {
            return Ok(Self::level(outline, walls, lean));
        }
        let floor = vec![plane.patch(outline.to_vec(), [least, greatest])];
        Ok(Self::of_floor(outline, floor, Some((walls, lean))))
    }

    /// Walls that end at a level floor.
    fn level(outline: &[DVec2], walls: Walls, lean: f64) -> Self {
        let mut patches = walls.patches(lean);
        let floor: Vec<DVec2> = walls.plan.floor.iter().map(|&at| walls.point(at)).collect();
        let plane = Plane { anchor: floor[0], depth: walls.ends_at, gradient: DVec2::ZERO };
        patches.push(plane.patch(floor, [walls.ends_at; 2]));
        let rim: Vec<u32> = (0..index_of(outline.len())).collect();
        let mut lines: Vec<[u32; 2]> = around(&rim).collect();
        lines.extend(&walls.plan.mitres);
        lines.extend(around(&walls.plan.floor));
        Self {
            bounds: bounds(outline),
            least: walls.opens_at,
            greatest: walls.ends_at,
            walls: Layer::of(patches, bounds(outline)),
            floor: Layer::default(),
            points: walls.plan.points,
            lines,
        }
    }

    /// A floor of any shape under walls that go on past it, or under upright ones.
    pub(super) fn of_floor(
        outline: &[DVec2],
        floor: Vec<Patch>,
        walls: Option<(Walls, f64)>,
    ) -> Self {
        let least = floor.iter().map(|patch| patch.least).fold(f64::INFINITY, smaller);
        let greatest = floor.iter().map(|patch| patch.greatest).fold(0.0, larger);
        let rim: Vec<u32> = (0..index_of(outline.len())).collect();
        let mut ground = Self {
            bounds: bounds(outline),
            least,
            greatest,
            walls: Layer::default(),
            floor: Layer::of(floor, bounds(outline)),
            points: outline.to_vec(),
            lines: around(&rim).collect(),
        };
        if let Some((walls, lean)) = walls {
            ground.least = smaller(least, walls.opens_at);
            ground.walls = Layer::of(walls.patches(lean), ground.bounds);
            // Where the walls end below the floor is no line of the ground; of a mitre, what lies below the floor
            // ends in nothing and is dropped with all loose ends.
            ground.lines.extend(&walls.plan.mitres);
            ground.points = walls.plan.points;
        }
        ground
    }

    /// With more lines between points of their own.
    pub(super) fn with_lines(mut self, points: &[DVec2], lines: &[[u32; 2]]) -> Self {
        let shift = index_of(self.points.len());
        self.points.extend_from_slice(points);
        self.lines.extend(lines.iter().map(|line| line.map(|at| at + shift)));
        self
    }

    /// The patch over a point, if the zone is there.
    pub(super) fn patch_over(&self, point: DVec2) -> Option<&Patch> {
        match (self.walls.over(point), self.floor.over(point)) {
            (Some(wall), Some(floor)) if floor.depth_at(point) < wall.depth_at(point) => {
                Some(floor)
            }
            (Some(wall), _) => Some(wall),
            (None, floor) => floor,
        }
    }

    /// Draws the zone's own lines.
    pub(super) fn draw(&self, net: &mut Net) {
        net.add_lines(&self.points, &self.lines);
        cross(&self.walls.patches, &self.floor.patches, net);
    }

    /// Draws where this zone's ground and another's are equally deep.
    pub(super) fn draw_crossings(&self, other: &Self, net: &mut Net) {
        if apart(self.bounds, other.bounds)
            || self.least >= other.greatest
            || other.least >= self.greatest
        {
            return;
        }
        for one in [&self.walls, &self.floor] {
            for two in [&other.walls, &other.floor] {
                cross(&one.patches, &two.patches, net);
            }
        }
    }
}

/// Draws where the patches of two lists are equally deep.
fn cross(ones: &[Patch], others: &[Patch], net: &mut Net) {
    let Some([low, high]) = around_all(others) else { return };
    for one in ones.iter().filter(|patch| !apart(patch.bounds, [low, high])) {
        for two in others {
            let alike = one.least < two.greatest && two.least < one.greatest;
            if alike && !apart(one.bounds, two.bounds) {
                draw_crossing(one, two, net);
            }
        }
    }
}

fn around_all(patches: &[Patch]) -> Option<[DVec2; 2]> {
    let boxes = patches.iter().map(|patch| patch.bounds);
    boxes.reduce(|one, other| [one[0].min(other[0]), one[1].max(other[1])])
}

pub(super) fn fault(stop: &InsetStops, opens_at: f64, lean: f64) -> ZoneFault {
    let depth = |inset: f64| Length::new::<meter>(opens_at + inset / lean);
    match *stop {
        InsetStops::WallsMeet(inset) => ZoneFault::WallsMeet { depth: depth(inset) },
        InsetStops::Splits(inset, near) => ZoneFault::InsetSplits { depth: depth(inset), near },
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
    let slope = one.gradient() - two.gradient();
    let square = slope.length_squared();
    // Planes that lean alike either never meet or are one; neither makes an edge.
    if square <= 1e-24 * (one.gradient().length_squared() + two.gradient().length_squared()) {
        return;
    }
    let middle = (one.bounds[0].max(two.bounds[0]) + one.bounds[1].min(two.bounds[1])) / 2.0;
    let apart = one.plane.depth_at(middle) - two.plane.depth_at(middle);
    let origin = middle - slope * (apart / square);
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
