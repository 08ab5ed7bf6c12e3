//! The pan from above.

use super::canvas::{Canvas, Side};
use super::words;
use glam::DVec2;
use sumpwright_core::figure::{Figure, Part, Shape};
use sumpwright_core::model::DrawnPart;

pub(super) fn draw(figure: &Figure, id: &str) -> Canvas {
    let mut canvas = Canvas::new(id, figure);
    let mut depths: Vec<f64> = Vec::new();
    for shape in &figure.shapes {
        draw_shape(&mut canvas, shape, &mut depths);
    }
    let [low, high] = canvas.bounds();
    // So high that the word beside the arrow stands clear of the rail.
    let lift = 0.9 * canvas.letter() / 1000.0;
    for (word, direction) in &figure.arrows {
        let from = DVec2::new(low.x, high.y + lift);
        canvas.arrow(from, *direction, 1.4, word);
    }
    canvas.scale_bar();
    canvas
}

fn draw_shape(canvas: &mut Canvas, shape: &Shape, depths: &mut Vec<f64>) {
    let middle = middle(&shape.points);
    match shape.part {
        Part::Contour(depth) => contour(canvas, shape, depth, depths),
        Part::Solid(part) => {
            let class = match part {
                DrawnPart::Baffle => "baffle",
                DrawnPart::Magnet => "magnet",
                _ => "hidden",
            };
            canvas.line(class, &shape.points, true);
            let low = shape.points.iter().copied().reduce(|a, b| if b.y < a.y { b } else { a });
            let at = DVec2::new(middle.x, low.unwrap_or(middle).y);
            let name = words::thing(part, &shape.name);
            let places =
                [(0.0, 0.3, Side::Middle), (0.0, -1.0, Side::Middle), (0.0, 1.5, Side::Middle)];
            canvas.word_near("word", at, &places, &name);
        }
        Part::Inlet => {
            canvas.line("inlet", &shape.points, true);
            canvas.word("word strong", middle, DVec2::new(0.0, -0.3), Side::Middle, "inlet");
            // What comes later is named beside it, for nothing in the drawing matters more.
            canvas.keep_clear(&shape.points);
        }
        Part::Drain => drain(canvas, shape),
        Part::Bolt => canvas.dot("bolt", middle, 0.25),
        Part::SkidHole => {
            canvas.line("skid-hole", &shape.points, true);
            let text = format!("skid hole {}", shape.name);
            let places = [
                (0.0, 2.0, Side::Middle),
                (0.0, -2.6, Side::Middle),
                (0.0, 3.2, Side::Middle),
                (0.0, -4.0, Side::Middle),
            ];
            canvas.word_near("word", middle, &places, &text);
        }
        Part::Oil(_) | Part::OilInCase(_) | Part::Surface(_) | Part::Skid => {}
    }
}

/// A line of equal depth, with its depth where it is the first of that depth.
fn contour(canvas: &mut Canvas, shape: &Shape, depth: f64, depths: &mut Vec<f64>) {
    let is_rail = depths.is_empty();
    canvas.line(if is_rail { "rail" } else { "contour" }, &shape.points, true);
    if depths.iter().any(|known| known.to_bits() == depth.to_bits()) {
        return;
    }
    depths.push(depth);
    let lowest = shape.points.iter().copied().reduce(|a, b| if b.y < a.y { b } else { a });
    if let Some(at) = lowest.filter(|_| !is_rail) {
        let place = DVec2::new(middle(&shape.points).x, at.y);
        let text = format!("{:.0}", depth * 1000.0);
        let by = DVec2::new(depths.len() as f64 * 2.2 - 6.0, -0.3);
        canvas.word("small", place, by, Side::Middle, &text);
    }
}

fn drain(canvas: &mut Canvas, shape: &Shape) {
    let [from, to] = [0, 1].map(|i| shape.points.get(i).copied().unwrap_or_default());
    canvas.dot("drain", from, 0.45);
    if from.distance(to) > 1e-6 {
        canvas.arrow(from, to - from, 2.0, &format!("drain {}", shape.name));
    } else {
        let text = format!("drain {}", shape.name);
        let places = [
            (0.0, 0.8, Side::Middle),
            (0.0, -1.6, Side::Middle),
            (0.8, -0.3, Side::Right),
            (-0.8, -0.3, Side::Left),
            (0.0, 2.2, Side::Middle),
            (0.0, -3.0, Side::Middle),
        ];
        canvas.word_near("word", from, &places, &text);
    }
}

fn middle(points: &[DVec2]) -> DVec2 {
    let low = points.iter().copied().reduce(DVec2::min).unwrap_or_default();
    let high = points.iter().copied().reduce(DVec2::max).unwrap_or_default();
    (low + high) / 2.0
}
