//! A section through the inlet: where the oil is, and whether the inlet is in it.

use super::canvas::{Canvas, Side};
use super::words;
use glam::DVec2;
use sumpwright_core::figure::{Figure, Part, SectionKind, Shape};
use sumpwright_core::model::DrawnPart;

/// Where the name of a thing stands to its middle.
const ROUND: [(f64, f64, Side); 7] = [
    (0.0, -0.3, Side::Middle),
    (0.0, 0.9, Side::Middle),
    (0.0, -1.5, Side::Middle),
    (-0.6, -0.3, Side::Left),
    (0.6, -0.3, Side::Right),
    (-2.2, 0.9, Side::Left),
    (2.2, -1.5, Side::Right),
];

pub(super) fn draw(figure: &Figure, kind: &SectionKind, id: &str) -> Canvas {
    let mut canvas = Canvas::new(id, figure);
    for shape in &figure.shapes {
        draw_shape(&mut canvas, shape, kind);
    }
    // What is most worth reading is written first, and has its place first.
    inlet(&mut canvas, figure, kind);
    for number in 0..kind.pools.len() {
        name_pool(&mut canvas, figure, kind, number);
    }
    for shape in &figure.shapes {
        name(&mut canvas, shape);
    }
    let [low, high] = canvas.bounds();
    // Of front and left the one that lies more in the paper.
    let seen = figure.arrows.iter().reduce(|a, b| if b.1.length() > a.1.length() { b } else { a });
    if let Some((word, direction)) = seen {
        let corner = DVec2::new(low.x + (high.x - low.x) * 0.06, high.y);
        canvas.arrow(corner, *direction, 1.8, word);
    }
    canvas.scale_bar();
    canvas
}

/// Whether a pool is kept from the inlet.
fn is_apart(kind: &SectionKind, number: usize) -> bool {
    kind.pools.get(number).is_some_and(|pool| !pool.at_inlet)
}

fn draw_shape(canvas: &mut Canvas, shape: &Shape, kind: &SectionKind) {
    let points = &shape.points;
    match shape.part {
        Part::Solid(DrawnPart::Interior) => canvas.line("wall", points, true),
        Part::Solid(DrawnPart::Case) => canvas.line("case", points, true),
        Part::Solid(DrawnPart::Rotating) => canvas.line("rotating", points, true),
        Part::Solid(_) => canvas.filled("thing", "solid", points),
        Part::Oil(pool) | Part::OilInCase(pool) if is_apart(kind, pool) => {
            canvas.filled("oil-thin", "oil-apart", points);
        }
        Part::Oil(_) => canvas.filled("oil", "oil", points),
        Part::OilInCase(_) => canvas.filled("oil-thin", "oil-in-case", points),
        Part::Surface(_) => canvas.line("surface", points, false),
        Part::Skid => canvas.line("skid", points, false),
        Part::Inlet | Part::Contour(_) | Part::Drain | Part::Bolt | Part::SkidHole => {}
    }
}

fn name(canvas: &mut Canvas, shape: &Shape) {
    let low = shape.points.iter().copied().reduce(DVec2::min).unwrap_or_default();
    let high = shape.points.iter().copied().reduce(DVec2::max).unwrap_or_default();
    let middle = (low + high) / 2.0;
    match shape.part {
        Part::Solid(DrawnPart::Case) => {
            let top = shape.points.iter().copied().reduce(|a, b| if b.y > a.y { b } else { a });
            canvas.word("word", top.unwrap_or(high), DVec2::new(0.3, 0.3), Side::Right, "case");
        }
        Part::Solid(DrawnPart::Interior) => {}
        Part::Solid(part) => {
            let name = words::thing(part, &shape.name);
            canvas.word_near("word", middle, &ROUND, &name);
        }
        Part::Skid => {
            canvas.word("word", middle, DVec2::new(0.0, -0.4), Side::Middle, "skid plate");
        }
        _ => {}
    }
}

/// What a pool is, at the widest stretch of its surface.
fn name_pool(canvas: &mut Canvas, figure: &Figure, kind: &SectionKind, number: usize) {
    let width = |shape: &Shape| {
        let x = |place: usize| shape.points.get(place).map_or(0.0, |point| point.x);
        x(1) - x(0)
    };
    let stretches = figure.shapes.iter().filter(|shape| shape.part == Part::Surface(number));
    let high = stretches.clone().flat_map(|shape| &shape.points).copied().reduce(DVec2::max);
    let widest = stretches.reduce(|a, b| if width(b) > width(a) { b } else { a });
    let (Some(widest), Some(high)) = (widest, high) else { return };
    if is_apart(kind, number) {
        let low = widest.points.iter().copied().reduce(DVec2::min).unwrap_or(high);
        let high = widest.points.iter().copied().reduce(DVec2::max).unwrap_or(high);
        let middle = (low + high) / 2.0;
        let text = words::apart(kind, number);
        let places =
            [(0.0, 0.4, Side::Middle), (0.0, 1.6, Side::Middle), (0.0, -1.2, Side::Middle)];
        canvas.word_near("word strong", middle, &places, &text);
    } else {
        let places = [(0.3, -0.3, Side::Right), (0.0, 0.5, Side::Left), (0.0, 1.7, Side::Left)];
        canvas.word_near("word", high, &places, words::surface(kind));
    }
}

/// The mouth, and the way from its highest point to the surface.
fn inlet(canvas: &mut Canvas, figure: &Figure, kind: &SectionKind) {
    let of = |part: Part| figure.shapes.iter().find(|shape| shape.part == part);
    let Some(mouth) = of(Part::Inlet) else { return };
    let wet = kind.rim_depth >= 0.0;
    canvas.line(if wet { "mouth" } else { "mouth dry" }, &mouth.points, false);
    let highest = mouth.points.iter().copied().reduce(|a, b| if b.y > a.y { b } else { a });
    let Some(rim) = highest else { return };
    let surface = DVec2::new(rim.x, rim.y + kind.rim_depth);
    canvas.line("measure", &[rim, surface], false);
    canvas.dot("rim", rim, 0.18);
    let text = words::rim(kind.rim_depth);
    canvas.word_near(
        "word strong",
        rim,
        &[(0.5, if wet { 0.3 } else { 0.8 }, Side::Right)],
        "inlet",
    );
    // In full at the foot of the drawing, under the scale, where there is room for it.
    let [low, high] = canvas.bounds();
    canvas.word("word strong", DVec2::new(high.x, low.y), DVec2::new(3.0, -3.0), Side::Left, &text);
}
