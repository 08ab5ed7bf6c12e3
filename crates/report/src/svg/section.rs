//! A section through the inlet: where the oil is, and whether the inlet is in it.

use super::canvas::{Canvas, Side};
use super::words;
use glam::DVec2;
use sumpwright_core::figure::{Figure, Part, SectionKind, Shape};
use sumpwright_core::model::DrawnPart;

pub(super) fn draw(figure: &Figure, kind: &SectionKind, id: &str) -> Canvas {
    let mut canvas = Canvas::new(id, figure);
    for shape in &figure.shapes {
        draw_shape(&mut canvas, shape);
    }
    for shape in &figure.shapes {
        name(&mut canvas, shape);
    }
    inlet(&mut canvas, figure, kind);
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

fn draw_shape(canvas: &mut Canvas, shape: &Shape) {
    let points = &shape.points;
    match shape.part {
        Part::Solid(DrawnPart::Interior) => canvas.line("wall", points, true),
        Part::Solid(DrawnPart::Case) => canvas.line("case", points, true),
        Part::Solid(DrawnPart::Rotating) => canvas.line("rotating", points, true),
        Part::Solid(_) => canvas.filled("thing", "solid", points),
        Part::Oil => canvas.filled("oil", "oil", points),
        Part::OilInCase => canvas.filled("oil-thin", "oil-in-case", points),
        Part::Surface => canvas.line("surface", points, false),
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
        Part::Solid(_) => {
            canvas.word("word", middle, DVec2::new(0.0, -0.3), Side::Middle, &shape.name);
        }
        Part::Surface => {
            canvas.word(
                "word",
                DVec2::new(high.x, high.y),
                DVec2::new(0.3, -0.3),
                Side::Right,
                "oil surface",
            );
        }
        Part::Skid => {
            canvas.word("word", middle, DVec2::new(0.0, -0.4), Side::Middle, "skid plate");
        }
        _ => {}
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
    let by = DVec2::new(0.5, if wet { 0.3 } else { 0.8 });
    canvas.word("word strong", rim, by, Side::Right, "inlet");
    // In full at the foot of the drawing, where there is room for it.
    let [low, high] = canvas.bounds();
    canvas.word("word strong", DVec2::new(high.x, low.y), DVec2::new(3.0, -1.9), Side::Left, &text);
}
