//! Sections through the inlet, with the oil as it lies in a state.

use super::oil::Oil;
use super::{Figure, FigureKind, Part, SectionKind, Shape};
use crate::model::{AtInlet, DrawnPart, DrawnSolid, Scene, World, need};
use crate::quantity::Given;
use crate::reading::{Unknown, Worst};
use glam::{DVec2, DVec3};
use sumpwright_physics::level::Mouth;
use sumpwright_physics::mesh::slice;
use uom::si::f64::Volume;

/// How many states are drawn beside level ground: those that leave the rim least covered.
const STATES: usize = 3;

/// How far beyond the pan the skid plate is drawn on each side, in metres.
const BESIDE: f64 = 0.04;

/// A state in which so much of the oil or more is kept from the inlet is drawn as well, as a share of all.
const TOLD: f64 = 0.01;

/// One situation of the oil to be drawn.
#[derive(Debug)]
struct Lie {
    state: Option<Worst>,
    up: DVec3,
    oil: AtInlet,
    /// All of it.
    volume: Volume,
    apart_unknown: Option<String>,
    rim_depth: f64,
}

impl Lie {
    /// The oil as it lies in one world; at one level where it cannot be said what keeps it apart.
    fn new(
        scene: &Scene,
        world: &World,
        mouth: &Mouth,
        up: DVec3,
        volume: Volume,
    ) -> Result<Self, Unknown> {
        let level = world.level(scene, up, volume)?;
        let (oil, apart_unknown) = match scene.oil_at_rest(world, mouth, up, volume) {
            Ok(oil) => (oil, None),
            Err(unknown) => (AtInlet::one_level(level, volume), Some(unknown.reason)),
        };
        let rim_depth = mouth.least_depth(up, oil.level).value;
        Ok(Self { state: None, up, oil, volume, apart_unknown, rim_depth })
    }

    fn stranded_share(&self) -> f64 {
        (self.oil.stranded / self.volume).value
    }
}

/// Sections on level ground and in the states that leave the rim least covered; none where something for them is not
/// stated.
pub fn sections(scene: &Scene) -> Vec<Figure> {
    let (Ok(solids), Ok(mouth)) = (scene.drawn_solids(), scene.mouth()) else { return Vec::new() };
    let mut lies: Vec<Lie> = level_ground(scene, &mouth).into_iter().collect();
    lies.extend(worst_states(scene, &mouth).unwrap_or_default());
    lies.iter().map(|lie| section(scene, &solids, &mouth, lie)).collect()
}

fn level_ground(scene: &Scene, mouth: &Mouth) -> Option<Lie> {
    let up = scene.level_up().ok()?;
    let world = scene.worlds().ok()?.first()?;
    let volume = scene.fill(world).ok()?.running;
    Lie::new(scene, world, mouth, up, volume).ok()
}

/// The states with the least rim depth, one entry a state: that of the temperature and world that leave least. The state
/// that keeps most oil from the inlet is among them.
fn worst_states(scene: &Scene, mouth: &Mouth) -> Result<Vec<Lie>, Unknown> {
    let states = scene.in_each_state(|point| {
        Lie::new(scene, point.world, mouth, point.attitude.up, point.volume)
    })?;
    let mut lies: Vec<Lie> = Vec::new();
    for (at, worlds) in states {
        for mut lie in worlds.unwrap_or_default() {
            let same = |other: &&mut Lie| other.state.as_ref().is_some_and(|s| s.span == at.span);
            lie.state = Some(at.clone());
            match lies.iter_mut().find(same) {
                Some(other) if lie.rim_depth < other.rim_depth => *other = lie,
                Some(_) => {}
                None => lies.push(lie),
            }
        }
    }
    lies.sort_by(|a, b| a.rim_depth.total_cmp(&b.rim_depth));
    let rest = lies.split_off(STATES.min(lies.len()));
    let shares = lies.iter().map(Lie::stranded_share);
    let shown = shares.fold(TOLD, |most, share| if share > most { share } else { most });
    let more = rest.into_iter().filter(|lie| lie.stranded_share() > shown);
    lies.extend(more.reduce(|a, b| if b.stranded_share() > a.stranded_share() { b } else { a }));
    Ok(lies)
}

/// The plane of a section and how its points come to lie on the paper.
#[derive(Debug, Clone, Copy)]
pub(super) struct Paper {
    pub(super) origin: DVec3,
    across: DVec3,
    pub(super) right: DVec3,
    pub(super) up: DVec3,
}

impl Paper {
    /// Through the middle of the mouth, along the pan's z and the direction in which the surface leans; along the pan
    /// where it leans nowhere. The surface lies level on the paper, and the front or the left side to the right.
    fn new(origin: DVec3, up: DVec3) -> Self {
        let lean = DVec2::new(up.x, up.y);
        let mut along = if lean.length() > 1e-9 { lean.normalize().extend(0.0) } else { DVec3::X };
        if along.x < -1e-9 || (along.x <= 1e-9 && along.y < 0.0) {
            along = -along;
        }
        let across = along.cross(DVec3::Z);
        Self { origin, across: -across, right: up.cross(across).normalize(), up }
    }

    /// The direction of the paper in the rail's plane.
    pub(super) fn along(&self) -> DVec3 {
        self.across.cross(DVec3::Z)
    }

    pub(super) fn place(&self, point: DVec3) -> DVec2 {
        let from = point - self.origin;
        DVec2::new(from.dot(self.right), from.dot(self.up))
    }

    fn lines(&self, solid: &DrawnSolid) -> Vec<Vec<DVec2>> {
        let cut = slice(&solid.mesh, self.origin, self.across);
        cut.iter().map(|line| line.iter().map(|&p| self.place(p)).collect()).collect()
    }
}

fn section(scene: &Scene, solids: &[DrawnSolid], mouth: &Mouth, lie: &Lie) -> Figure {
    let paper = Paper::new(mouth.centre, lie.up);
    let oil = Oil { paper: &paper, at_rest: &lie.oil, dams: scene.dam_lines() };
    let (mut shapes, mut surfaces) = (Vec::new(), Vec::new());
    // What holds the oil first, then the oil in it, then what stands in the oil, then the surfaces.
    for solid in solids.iter().filter(|s| holds_oil(s)) {
        for line in paper.lines(solid) {
            let is_surface = |shape: &Shape| matches!(shape.part, Part::Surface(_));
            let (over, wet): (Vec<Shape>, Vec<Shape>) =
                oil.within(solid, &line).into_iter().partition(is_surface);
            shapes.push(Shape::closed(Part::Solid(solid.part), "", line));
            shapes.extend(wet);
            surfaces.extend(over);
        }
    }
    for solid in solids.iter().filter(|s| !holds_oil(s)) {
        for line in paper.lines(solid) {
            shapes.push(Shape::closed(Part::Solid(solid.part), &solid.name, line));
        }
    }
    shapes.extend(surfaces);
    shapes.push(Shape::open(Part::Inlet, "inlet", rim_line(mouth, &paper)));
    shapes.extend(skid(scene, &paper, &shapes));
    let arrow = |word, direction: DVec3| (word, paper.place(paper.origin + direction));
    let is_seen = |(_, v): &(&'static str, DVec2)| v.length() > 0.3;
    let arrows = [arrow("front", DVec3::X), arrow("left", DVec3::Y)];
    Figure {
        name: lie.state.as_ref().map_or_else(|| "level".to_owned(), |s| s.state.clone()),
        kind: FigureKind::Section(SectionKind {
            state: lie.state.clone(),
            rim_depth: lie.rim_depth,
            tilt: libm::acos(lie.up.z.clamp(-1.0, 1.0)),
            case_known: solids.iter().any(|s| s.part == DrawnPart::Case),
            pools: oil.pools(&shapes),
            apart_unknown: lie.apart_unknown.clone(),
        }),
        shapes,
        arrows: arrows.into_iter().filter(is_seen).collect(),
    }
}

fn holds_oil(solid: &DrawnSolid) -> bool {
    matches!(solid.part, DrawnPart::Interior | DrawnPart::Case)
}

/// The mouth in the plane of the paper: the diameter that lies in it.
fn rim_line(mouth: &Mouth, paper: &Paper) -> Vec<DVec2> {
    let radius = mouth.diameter.value / 2.0;
    let in_plane = mouth.normal.cross(paper.across);
    // A mouth that looks out of the paper is seen as its whole width.
    let along = if in_plane.length() > 1e-6 { in_plane.normalize() } else { paper.right };
    [-1.0, 1.0].iter().map(|side| paper.place(mouth.centre + along * (radius * side))).collect()
}

/// The upper face of the skid plate at rest, a little wider than the pan.
fn skid(scene: &Scene, paper: &Paper, shapes: &[Shape]) -> Option<Shape> {
    let Given::Stated(skid) = &*scene.vehicle().ok()?.skid else { return None };
    let depth = need(&skid.top_face).ok()?.value.value;
    let pan = shapes.iter().filter(|s| s.part == Part::Solid(DrawnPart::Interior));
    let along = paper.along();
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    let direction = paper.place(paper.origin + along);
    for point in pan.flat_map(|s| &s.points) {
        let at = point.dot(direction);
        low = if at < low { at } else { low };
        high = if at > high { at } else { high };
    }
    if low >= high {
        return None;
    }
    let foot = paper.origin + DVec3::Z * (-depth - paper.origin.z);
    let ends = [low - BESIDE, high + BESIDE].map(|at| paper.place(foot + along * at));
    Some(Shape::open(Part::Skid, "skid plate", ends.to_vec()))
}
