//! Sections through the inlet, with the oil as it lies in a state.

use super::{Figure, FigureKind, Part, SectionKind, Shape};
use crate::model::{DrawnPart, DrawnSolid, Scene, need};
use crate::quantity::Given;
use crate::reading::{Unknown, Worst};
use glam::{DVec2, DVec3};
use sumpwright_physics::level::Mouth;
use sumpwright_physics::mesh::slice;

/// How many states are drawn beside level ground: those that leave the rim least covered.
const STATES: usize = 3;

/// How far beyond the pan the skid plate is drawn on each side, in metres.
const BESIDE: f64 = 0.04;

/// One situation of the oil to be drawn.
#[derive(Debug)]
struct Lie {
    state: Option<Worst>,
    up: DVec3,
    surface: f64,
    rim_depth: f64,
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
    let level = world.level(scene, up, volume).ok()?;
    let rim_depth = mouth.least_depth(up, level).value;
    Some(Lie { state: None, up, surface: level.value, rim_depth })
}

/// The states with the least rim depth, one entry a state: that of the temperature and world that leave least.
fn worst_states(scene: &Scene, mouth: &Mouth) -> Result<Vec<Lie>, Unknown> {
    let states = scene.in_each_state(|point| {
        let level = point.level()?;
        let up = point.attitude.up;
        Ok((up, level.value, mouth.least_depth(up, level).value))
    })?;
    let mut lies: Vec<Lie> = Vec::new();
    for (at, worlds) in states {
        for (up, surface, rim_depth) in worlds.unwrap_or_default() {
            let lie = Lie { state: Some(at.clone()), up, surface, rim_depth };
            let same = |other: &&mut Lie| other.state.as_ref().is_some_and(|s| s.span == at.span);
            match lies.iter_mut().find(same) {
                Some(other) if rim_depth < other.rim_depth => *other = lie,
                Some(_) => {}
                None => lies.push(lie),
            }
        }
    }
    lies.sort_by(|a, b| a.rim_depth.total_cmp(&b.rim_depth));
    lies.truncate(STATES);
    Ok(lies)
}

/// The plane of a section and how its points come to lie on the paper.
#[derive(Debug, Clone, Copy)]
struct Paper {
    origin: DVec3,
    across: DVec3,
    right: DVec3,
    up: DVec3,
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

    fn place(&self, point: DVec3) -> DVec2 {
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
    let height = lie.surface - lie.up.dot(paper.origin);
    let mut shapes = Vec::new();
    // What holds the oil first, then the oil in it, then what stands in the oil.
    for solid in solids.iter().filter(|s| holds_oil(s)) {
        let oil = if solid.part == DrawnPart::Case { Part::OilInCase } else { Part::Oil };
        for line in paper.lines(solid) {
            let wet = below(&line, height);
            shapes.push(Shape::closed(Part::Solid(solid.part), "", line));
            if wet.len() > 2 {
                shapes.push(Shape::closed(oil, "", wet));
            }
        }
    }
    for solid in solids.iter().filter(|s| !holds_oil(s)) {
        for line in paper.lines(solid) {
            shapes.push(Shape::closed(Part::Solid(solid.part), &solid.name, line));
        }
    }
    shapes.extend(surface(&shapes, height));
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
        }),
        shapes,
        arrows: arrows.into_iter().filter(is_seen).collect(),
    }
}

fn holds_oil(solid: &DrawnSolid) -> bool {
    matches!(solid.part, DrawnPart::Interior | DrawnPart::Case)
}

/// The part of a closed line that lies below a height, closed along that height.
fn below(line: &[DVec2], height: f64) -> Vec<DVec2> {
    let mut kept = Vec::new();
    for (a, b) in line.iter().zip(line.iter().cycle().skip(1)) {
        if a.y <= height {
            kept.push(*a);
        }
        if (a.y <= height) != (b.y <= height) {
            kept.push(a.lerp(*b, (height - a.y) / (b.y - a.y)));
        }
    }
    kept
}

/// The surface as one line as wide as the oil is.
fn surface(shapes: &[Shape], height: f64) -> Option<Shape> {
    let oil = shapes.iter().filter(|s| matches!(s.part, Part::Oil | Part::OilInCase));
    let at_surface = oil.flat_map(|s| &s.points).filter(|p| (p.y - height).abs() < 1e-9);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for point in at_surface {
        low = if point.x < low { point.x } else { low };
        high = if point.x > high { point.x } else { high };
    }
    let line = vec![DVec2::new(low, height), DVec2::new(high, height)];
    (low < high).then(|| Shape::open(Part::Surface, "", line))
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
    let along = paper.across.cross(DVec3::Z);
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
