//! The pan from above.

use super::{Figure, FigureKind, Part, Shape};
use crate::model::{DrawnPart, DrawnSolid, Scene};
use crate::quantity::Given;
use glam::{DVec2, DVec3};
use sumpwright_physics::mesh::slice;

/// Lines of equal depth, as shares of the greatest depth; the first is the rail, the last the foot of the deepest wall.
const DEPTHS: [f64; 5] = [0.002, 0.25, 0.5, 0.75, 0.98];

/// Corners of a drawn circle.
const CIRCLE: u32 = 48;

/// How long the arrow of a drain is, in metres.
const DRAIN_ARROW: f64 = 0.03;

/// The plan, where there is an interior.
pub fn plan_view(scene: &Scene) -> Option<Figure> {
    let solids = scene.drawn_solids().ok()?;
    let interior = &solids.first()?.mesh;
    let deepest = -interior.bounds()?[0].z;
    let mut shapes = Vec::new();
    for share in DEPTHS {
        let depth = share * deepest;
        // The mesh stands on its rail, so that the first line lies just below it.
        for line in slice(interior, DVec3::new(0.0, 0.0, -depth), DVec3::Z) {
            shapes.push(Shape::closed(Part::Contour(depth), "", flat(&line)));
        }
    }
    for solid in solids.iter().filter(|solid| is_in_plan(solid)) {
        shapes.extend(seen_from_above(solid));
    }
    shapes.extend(inlet(scene));
    for (name, at, axis) in scene.drawn_drains() {
        let tip = at + axis * DRAIN_ARROW;
        shapes.push(Shape::open(Part::Drain, &name, vec![at.truncate(), tip.truncate()]));
    }
    for bolt in scene.drawn_bolts() {
        shapes.push(Shape::open(Part::Bolt, "", vec![bolt]));
    }
    shapes.extend(skid_holes(scene));
    let arrows = vec![("front", DVec2::X), ("left", DVec2::Y)];
    Some(Figure { name: "plan".to_owned(), kind: FigureKind::Plan, shapes, arrows })
}

fn is_in_plan(solid: &DrawnSolid) -> bool {
    matches!(solid.part, DrawnPart::Displaced | DrawnPart::Magnet | DrawnPart::Baffle)
}

/// A solid cut at half its height, which for upright things is what is seen from above.
fn seen_from_above(solid: &DrawnSolid) -> Vec<Shape> {
    let Some([low, high]) = solid.mesh.bounds() else { return Vec::new() };
    slice(&solid.mesh, (low + high) / 2.0, DVec3::Z)
        .iter()
        .map(|line| Shape::closed(Part::Solid(solid.part), &solid.name, flat(line)))
        .collect()
}

fn inlet(scene: &Scene) -> Option<Shape> {
    let mouth = scene.mouth().ok()?;
    let radius = mouth.diameter.value / 2.0;
    let middle = mouth.centre.truncate();
    Some(Shape::closed(Part::Inlet, "inlet", circle(middle, radius)))
}

fn skid_holes(scene: &Scene) -> Vec<Shape> {
    let Ok(vehicle) = scene.vehicle() else { return Vec::new() };
    let Given::Stated(skid) = &*vehicle.skid else { return Vec::new() };
    let Given::Stated(holes) = &skid.holes else { return Vec::new() };
    let drawn = |item: &crate::document::Item<crate::document::vehicle::SkidHole>| {
        let at = item.value.at.stated()?;
        let diameter = item.value.diameter.stated()?.value.value;
        let middle = DVec2::new(at.x.value.value, at.y.value.value);
        Some(Shape::closed(Part::SkidHole, &item.name, circle(middle, diameter / 2.0)))
    };
    holes.entries.iter().filter_map(drawn).collect()
}

fn circle(middle: DVec2, radius: f64) -> Vec<DVec2> {
    let angle = |i: u32| 2.0 * core::f64::consts::PI * f64::from(i) / f64::from(CIRCLE);
    (0..CIRCLE)
        .map(|i| middle + radius * DVec2::new(libm::cos(angle(i)), libm::sin(angle(i))))
        .collect()
}

fn flat(line: &[DVec3]) -> Vec<DVec2> {
    line.iter().map(|p| p.truncate()).collect()
}
