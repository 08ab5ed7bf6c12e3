//! The lowest point of the whole pan, with the roll of its mounts: floors, fins, bosses and plugs.

use super::interior::point;
use super::scene::{Scene, need};
use crate::document::pan::{Drain, FinSet, InteriorShape, PlanAxis};
use crate::quantity::Given;
use crate::reading::Unknown;
use crate::source::Span;
use uom::si::f64::{Angle, Length};

/// A point that hangs down: depth below the rail and place across, in metres, with the value that decides it.
#[derive(Debug, Clone, Copy)]
struct Hanging {
    depth: f64,
    across: f64,
    span: Span,
}

/// What counts as the pan's underside.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Underside {
    /// Floors, fins and drains.
    Whole,
    /// Floors and fins.
    WithoutDrains,
}

/// Depth below the rail of the lowest point when the pan rolls each way about the vehicle's x axis through
/// its origin, and where the value stands that decides it.
///
/// # Formula
/// The largest of depth·cos ρ + |y|·sin ρ over all points of the outer underside.
///
/// # Valid for
/// The outer underside is the inner floor moved down by the floor's thickness; the rounding of the outer
/// corners and the thickness of the side walls are not added.
///
/// # Errors
/// Says what is not stated.
pub fn lowest_below_rail(
    scene: &Scene,
    roll: Angle,
    of: Underside,
) -> Result<(Length, Span), Unknown> {
    let (sine, cosine) = (libm::sin(roll.value), libm::cos(roll.value));
    let reach = |h: &Hanging| h.depth * cosine + h.across.abs() * sine;
    let mut points = vec![lowest_floor(scene, sine, cosine)?];
    points.extend(fin_points(scene)?);
    if of == Underside::Whole {
        points.extend(drain_points(scene)?);
    }
    points
        .into_iter()
        .reduce(|a, b| if reach(&b) > reach(&a) { b } else { a })
        .map(|lowest| (crate::quantity::si(reach(&lowest)), lowest.span))
        .ok_or_else(|| Unknown::because("the pan has no floor"))
}

/// The corner of the outer floor that reaches lowest at a roll of this sine and cosine.
fn lowest_floor(scene: &Scene, sine: f64, cosine: f64) -> Result<Hanging, Unknown> {
    let thickness = need(&need(&scene.pan.wall)?.floor)?.value.value;
    let span = scene.interior()?.depth_span();
    scene.with_terrain(|terrain| {
        let reach = |p: &glam::DVec3| (thickness - p.z) * cosine + p.y.abs() * sine;
        let mut best: Option<(f64, &glam::DVec3)> = None;
        for corner in terrain.floor_faces().iter().flatten() {
            let reached = reach(corner);
            if best.is_none_or(|(farthest, _)| reached > farthest) {
                best = Some((reached, corner));
            }
        }
        best.map(|(_, p)| Hanging { depth: thickness - p.z, across: p.y, span })
            .ok_or_else(|| Unknown::because("the pan has no floor"))
    })
}

fn fin_points(scene: &Scene) -> Result<Vec<Hanging>, Unknown> {
    let sets = match &*scene.pan.fins {
        Given::Stated(sets) => sets,
        Given::Absent(_) => return Ok(Vec::new()),
        Given::LeftOut(missing) => return Err(Unknown::not_stated(missing.clone())),
    };
    let thickness = need(&need(&scene.pan.wall)?.floor)?.value.value;
    let (floor, middle) = deepest_floor(scene)?;
    let mut points = Vec::new();
    for set in &sets.entries {
        let set = &set.value;
        let height = need(&set.height)?;
        let centre = set.at.as_ref().map_or(middle, |at| at.y.value.value);
        for across in fin_sides(set)? {
            points.push(Hanging {
                depth: floor + thickness + height.value.value,
                across: centre + across,
                span: height.span,
            });
        }
    }
    Ok(points)
}

/// The outermost edges of a set across the vehicle, from its middle.
fn fin_sides(set: &FinSet) -> Result<[f64; 2], Unknown> {
    let half = match need(&set.along)?.value {
        PlanAxis::X => {
            let gaps = f64::from(need(&set.count)?.value.saturating_sub(1));
            let tip = need(&set.tip)?.value.value;
            gaps * need(&set.pitch)?.value.value / 2.0 + tip / 2.0
        }
        PlanAxis::Y => need(&set.length)?.value.value / 2.0,
    };
    Ok([-half, half])
}

/// Depth of the deepest floor and the middle of its zone's outline across the vehicle, in metres.
fn deepest_floor(scene: &Scene) -> Result<(f64, f64), Unknown> {
    let InteriorShape::Zones(floor) = &scene.interior()?.shape else {
        return lowest_flat(scene);
    };
    let (_, zones) = super::interior::zones(floor).map_err(|(_, why)| Unknown::because(why))?;
    zones
        .iter()
        .reduce(|a, b| if b.floor > a.floor { b } else { a })
        .map(|zone| zone.outline.bounds())
        .ok_or_else(|| Unknown::because("the pan has no floor"))
        .and_then(|[low, high]| {
            // Of a floor that falls to one side, fins hang as low as from its deepest place.
            let deepest = scene.with_terrain(|terrain| Ok(terrain.deepest()))?;
            Ok((deepest.value, f64::midpoint(low.y, high.y)))
        })
}

/// Floor faces within this of the deepest point, in metres, are one floor: what a casting is uneven by.
const ONE_FLOOR: f64 = 1e-3;

/// Depth of the deepest point and the middle across of the floor that lies about as deep, in metres.
fn lowest_flat(scene: &Scene) -> Result<(f64, f64), Unknown> {
    scene.with_terrain(|terrain| {
        let deepest = terrain.deepest().value;
        let on_floor = |face: &&[glam::DVec3; 3]| face.iter().all(|p| -p.z >= deepest - ONE_FLOOR);
        let across = terrain.floor_faces().iter().filter(on_floor).flatten().map(|corner| corner.y);
        let [low, high] = across.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], y| {
            [if y < low { y } else { low }, if y > high { y } else { high }]
        });
        if low <= high {
            return Ok((deepest, f64::midpoint(low, high)));
        }
        Err(Unknown::because("the deepest place is no floor, so that a set of fins needs its `at`"))
    })
}

/// Depth below the rail of the lowest point of a drain's boss or plug, and where its depth stands.
///
/// # Errors
/// Says what is not stated.
pub fn drain_lowest(scene: &Scene, index: usize) -> Result<(Length, Span), Unknown> {
    let [point, _] = one_drain(&scene.drain(index)?.value)?;
    Ok((crate::quantity::si(point.depth), point.span))
}

impl Scene {
    /// Depth below the rail of the lowest of the pan and the skid plate's upper face, and what decides it.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn belly_depth(&self) -> Result<(Length, Span), Unknown> {
        let pan = lowest_below_rail(self, crate::quantity::si(0.0), Underside::Whole)?;
        let skid = match &*self.vehicle()?.skid {
            Given::Stated(skid) => need(&skid.top_face)?,
            Given::Absent(_) => return Ok(pan),
            Given::LeftOut(missing) => return Err(Unknown::not_stated(missing.clone())),
        };
        // The pan's own value stays the subject: a reader of a pan changes the pan.
        Ok(if skid.value > pan.0 { (skid.value, pan.1) } else { pan })
    }
}

fn drain_points(scene: &Scene) -> Result<Vec<Hanging>, Unknown> {
    let drains = match &*scene.pan.drains {
        Given::Stated(drains) => drains,
        Given::Absent(_) => return Ok(Vec::new()),
        Given::LeftOut(missing) => return Err(Unknown::not_stated(missing.clone())),
    };
    let mut points = Vec::new();
    for drain in &drains.entries {
        points.extend(one_drain(&drain.value)?);
    }
    Ok(points)
}

/// The underside of a boss with its plug: two points across where it lies, its head's rim where it hangs.
fn one_drain(drain: &Drain) -> Result<[Hanging; 2], Unknown> {
    let at_point = need(&drain.at)?;
    let at = point(at_point);
    need(&drain.axis)?;
    let half = need(&drain.boss)?.value.value / 2.0;
    let span = at_point.z.span;
    let below = if Scene::points_down(drain) {
        need(&drain.engaged)?.value.value + need(&drain.head)?.value.value
    } else {
        half
    };
    let across = if Scene::points_down(drain) { half } else { 0.0 };
    Ok([-across, across].map(|a| Hanging { depth: below - at.z, across: at.y + a, span }))
}
