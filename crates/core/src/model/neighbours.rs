//! Convex bodies round the pan, and how far its own parts stand from each other and from its neighbours.

use super::drains::placed_drain;
use super::interior::{extent, position};
use super::outlines::plan;
use super::scene::{Scene, need};
use crate::document::Item;
use crate::document::pan::{Displacer, Drain, FinSet, FloorZones, PlanAxis, SolidForm};
use crate::document::vehicle::Neighbour;
use crate::quantity::{Given, Missing, si};
use crate::reading::Unknown;
use glam::{DMat3, DVec2, DVec3};
use sumpwright_physics::distance::{Convex, boxes_apart, distance};
use sumpwright_physics::terrain::Terrain;
use uom::si::f64::Length;

/// What the keys of remembered distances begin with.
const DISTANCE: u64 = 100;
/// A distance below which a floor's corner counts as on the floor, in metres.
const ON_FLOOR: f64 = 1e-6;

impl Scene {
    /// A neighbour by its number.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn neighbour(&self, index: usize) -> Result<&Item<Neighbour>, Unknown> {
        need(&self.vehicle()?.neighbours)?
            .entries
            .get(index)
            .ok_or_else(|| Unknown::because("there is no such neighbour"))
    }

    /// Least distance from the pan to a solid while the mounts move down and roll each way; 0 where they touch.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn distance_to(&self, solid: &Displacer) -> Result<Length, Unknown> {
        let wall = need(&self.pan.wall)?;
        let skin = [need(&wall.floor)?.value.value, need(&wall.sides)?.value.value];
        let attached = self.attached()?;
        let mount = self.mount()?;
        let down = optional(&mount.moves_down)?.value;
        let roll = match &*mount.moves_roll {
            Given::Absent(_) => 0.0,
            given => need(given)?.value.value,
        };
        let mut key = vec![DISTANCE];
        key.extend([skin[0], skin[1], down, roll].map(f64::to_bits));
        for part in &attached {
            key_of(part, &mut key);
        }
        key.extend(super::interior::displacer_key(solid));
        key.push(self.terrain_number()?);
        let least = self.memo.number(&key, || {
            let mut parts: Vec<_> = attached.into_iter().map(|part| (part, [0.0; 2])).collect();
            let solid = convex(solid);
            let Some(floor) = self.interior()?.floor_zones() else {
                return self.with_terrain(|terrain| {
                    let round = Round { parts: &parts, ground: Some((terrain, skin)) };
                    Ok(round.least_over_poses(&solid, [down, roll]))
                });
            };
            parts.extend(self.hulls(floor)?.into_iter().map(|hull| (hull, skin)));
            Ok(Round { parts: &parts, ground: None }.least_over_poses(&solid, [down, roll]))
        })?;
        Ok(si(least))
    }

    /// Each zone as the hull of its outline and its floor.
    fn hulls(&self, floor: &FloorZones) -> Result<Vec<Convex>, Unknown> {
        let (_, zones) = super::interior::zones(floor).map_err(|(_, why)| Unknown::because(why))?;
        self.with_terrain(|terrain| {
            let points = &terrain.mesh().points;
            let hull = |zone: &sumpwright_physics::terrain::Zone| {
                let top = zone.outline.points().iter().map(|p| p.extend(-zone.opens_at.value));
                let floor = points.iter().copied().filter(|p| {
                    (p.z + zone.floor.value).abs() < ON_FLOOR
                        && inside(zone.outline.bounds(), p.truncate())
                });
                Convex::Points(top.chain(floor).collect())
            };
            Ok(zones.iter().map(hull).collect())
        })
    }

    /// What stands on the outside: flange, fins, bosses with their plugs.
    fn attached(&self) -> Result<Vec<Convex>, Unknown> {
        let mut parts = self.fin_boxes()?;
        if let Some(flange) = stated(&self.pan.flange)? {
            let width = need(&flange.width)?.value.value;
            let [low, high] = self.rail()?.bounds();
            let low = (low - DVec2::splat(width)).extend(-need(&flange.thickness)?.value.value);
            parts.push(Convex::block(low, (high + DVec2::splat(width)).extend(0.0)));
        }
        if let Some(drains) = stated(&self.pan.drains)? {
            for drain in &drains.entries {
                parts.push(self.plug(drain)?);
            }
        }
        Ok(parts)
    }

    /// Each set of fins as one box below the deepest floor.
    ///
    /// # Errors
    /// Says what is not stated.
    pub(crate) fn fin_boxes(&self) -> Result<Vec<Convex>, Unknown> {
        let Some(sets) = stated(&self.pan.fins)? else { return Ok(Vec::new()) };
        let thickness = need(&need(&self.pan.wall)?.floor)?.value.value;
        let (deepest, middle) = self.deepest_floor()?;
        let top = -deepest - thickness;
        let mut boxes = Vec::new();
        for item in &sets.entries {
            let set = &item.value;
            let half = fin_half(set)?;
            let at = set.at.as_ref().map(|at| plan(Some(at))).or(middle);
            let at = at.ok_or_else(|| {
                Unknown::not_stated(Missing {
                    path: format!("fins.{}.at", item.name),
                    within: item.span,
                })
            })?;
            let height = need(&set.height)?.value.value;
            let corner = |sign: f64, z: f64| (at + half * sign).extend(z);
            boxes.push(Convex::block(corner(-1.0, top - height), corner(1.0, top)));
        }
        Ok(boxes)
    }

    /// How deep the deepest floor is, in metres, and the middle of its zone where there are zones.
    fn deepest_floor(&self) -> Result<(f64, Option<DVec2>), Unknown> {
        let Some(floor) = self.interior()?.floor_zones() else {
            return self.with_terrain(|terrain| Ok((terrain.deepest().value, None)));
        };
        let (_, zones) = super::interior::zones(floor).map_err(|(_, why)| Unknown::because(why))?;
        let deepest = zones.iter().reduce(|a, b| if b.floor > a.floor { b } else { a });
        let deepest = deepest.ok_or_else(|| Unknown::because("the pan has no floor"))?;
        let [low, high] = deepest.outline.bounds();
        Ok((deepest.floor.value, Some((low + high) / 2.0)))
    }

    /// A drain's boss with its plug, from the wall outward.
    ///
    /// # Errors
    /// Says what is not stated.
    pub(crate) fn plug(&self, drain: &Item<Drain>) -> Result<Convex, Unknown> {
        let placed = placed_drain(self, drain)?;
        let reach = need(&drain.value.engaged)?.value + need(&drain.value.head)?.value;
        Ok(Convex::Cylinder {
            middle: placed.middle + placed.axis * (reach.value / 2.0),
            axis: placed.axis,
            half: reach / 2.0,
            radius: need(&drain.value.boss)?.value / 2.0,
        })
    }
}

/// Whether a place lies within the bounds of an outline: on upright walls the floor's corners lie on the outline itself.
fn inside([low, high]: [DVec2; 2], place: DVec2) -> bool {
    let slack = DVec2::splat(ON_FLOOR);
    place.cmpge(low - slack).all() && place.cmple(high + slack).all()
}

/// Half of a set of fins along and across, in metres.
fn fin_half(set: &FinSet) -> Result<DVec2, Unknown> {
    let gaps = f64::from(need(&set.count)?.value.saturating_sub(1));
    let root = need(&set.root)?.value.value;
    let across = f64::midpoint(gaps * need(&set.pitch)?.value.value, root);
    let along = need(&set.length)?.value.value / 2.0;
    Ok(match need(&set.along)?.value {
        PlanAxis::X => DVec2::new(along, across),
        PlanAxis::Y => DVec2::new(across, along),
    })
}

/// A stated family; none where the description says that there is none.
///
/// # Errors
/// Says that it is not stated.
fn stated<T>(given: &Given<T>) -> Result<Option<&T>, Unknown> {
    match given {
        Given::Absent(_) => Ok(None),
        given => need(given).map(Some),
    }
}

/// A stated length, or nothing where the description says that there is none.
///
/// # Errors
/// Says what is not stated.
pub(crate) fn optional(given: &Given<crate::quantity::Stated<Length>>) -> Result<Length, Unknown> {
    match given {
        Given::Absent(_) => Ok(si(0.0)),
        given => Ok(need(given)?.value),
    }
}

/// A box or cylinder as a convex body.
pub(crate) fn convex(solid: &Displacer) -> Convex {
    match &solid.form {
        SolidForm::Block { .. } => {
            let (corners, low, high) = extent(solid);
            let ends = |z: f64| corners.iter().map(move |p| p.extend(z));
            Convex::Points(ends(low).chain(ends(high)).collect())
        }
        SolidForm::Cylinder { diameter, length, along } => {
            let at = position(solid);
            let half = length.value / 2.0;
            let (axis, middle) = match along.map(|word| word.value) {
                Some(PlanAxis::X) => (DVec3::X, at),
                Some(PlanAxis::Y) => (DVec3::Y, at),
                None => (DVec3::Z, at - DVec3::Z * half.value),
            };
            Convex::Cylinder { middle, axis, half, radius: diameter.value / 2.0 }
        }
    }
}

/// Adds the numbers that a body is made of.
fn key_of(body: &Convex, key: &mut Vec<u64>) {
    let numbers = |p: &DVec3| [p.x, p.y, p.z].map(f64::to_bits);
    match body {
        Convex::Points(points) => key.extend(points.iter().flat_map(numbers)),
        Convex::Cylinder { middle, axis, half, radius } => {
            key.extend([middle, axis].into_iter().flat_map(numbers));
            key.extend([half.value, radius.value].map(f64::to_bits));
        }
    }
}

/// What a neighbour may come near: convex parts, and the surface of an interior that is none, each with the metal on its
/// floor and its sides.
struct Round<'a> {
    parts: &'a [(Convex, [f64; 2])],
    ground: Option<(&'a Terrain, [f64; 2])>,
}

impl Round<'_> {
    /// The least distance over the ends of what the mounts allow: down or not, rolled each way or not.
    fn least_over_poses(&self, other: &Convex, [down, roll]: [f64; 2]) -> f64 {
        let drops = if down > 0.0 { vec![0.0, down] } else { vec![0.0] };
        let turns = if roll > 0.0 { vec![-roll, 0.0, roll] } else { vec![0.0] };
        let boxes: Vec<[DVec3; 2]> = self.parts.iter().map(|(part, _)| part.bounds()).collect();
        let mut least = f64::INFINITY;
        for drop in &drops {
            for turn in &turns {
                // The neighbour moves against the pan: the same distance, with less to turn.
                let there = moved(other, *drop, -*turn);
                let round = there.bounds();
                for ((part, skin), bounds) in self.parts.iter().zip(&boxes) {
                    // The boxes round both tell at once that most parts are farther off.
                    if boxes_apart(*bounds, round).value - thicker(*skin) < least {
                        least = nearer(least, apart(part, skin, &there));
                    }
                }
                if let Some((terrain, skin)) = self.ground {
                    least = nearer(least, apart_from_ground(terrain, skin, &there, least));
                }
            }
        }
        least
    }
}

/// Distance from the metal round an interior of any shape, where that is less than what is known already.
fn apart_from_ground(terrain: &Terrain, skin: [f64; 2], other: &Convex, known: f64) -> f64 {
    let [low, high] = other.bounds();
    // Boxes and bars hold the middle of the box round them.
    if terrain.holds((low + high) / 2.0) {
        return 0.0;
    }
    let mut least = known;
    terrain.faces_near([low, high], known + thicker(skin), |corners| {
        least = nearer(least, apart(&Convex::Points(corners.to_vec()), &skin, other));
        least + thicker(skin)
    });
    least
}

fn thicker([floor, sides]: [f64; 2]) -> f64 {
    if sides > floor { sides } else { floor }
}

/// A body raised by `up` and turned about the x axis through the origin.
fn moved(body: &Convex, up: f64, turn: f64) -> Convex {
    let turned = DMat3::from_cols(
        DVec3::X,
        DVec3::new(0.0, libm::cos(turn), libm::sin(turn)),
        DVec3::new(0.0, -libm::sin(turn), libm::cos(turn)),
    );
    match body {
        Convex::Points(points) => {
            Convex::Points(points.iter().map(|p| turned * (*p + DVec3::Z * up)).collect())
        }
        Convex::Cylinder { middle, axis, half, radius } => Convex::Cylinder {
            middle: turned * (*middle + DVec3::Z * up),
            axis: turned * *axis,
            half: *half,
            radius: *radius,
        },
    }
}

/// Distance from the metal round a part; 0 where they touch.
fn apart(part: &Convex, skin: &[f64; 2], other: &Convex) -> f64 {
    let Some((length, towards)) = distance(part, other) else { return 0.0 };
    let [floor, side] = *skin;
    let metal = if towards.z < -core::f64::consts::FRAC_1_SQRT_2 { floor } else { side };
    let left = length.value - metal;
    if left > 0.0 { left } else { 0.0 }
}

fn nearer(one: f64, other: f64) -> f64 {
    if other < one { other } else { one }
}
