//! Drawings of the demo pans against what is known of them in another way.

use crate::support::Disk;
use glam::DVec2;
use sumpwright_core::figure::{Figure, FigureKind, Part, Shape};
use sumpwright_core::model::DrawnPart;
use sumpwright_core::review::{Request, measure};

fn figures(pan: &str) -> Vec<Figure> {
    let disk = Disk::default();
    let pans = [format!("fixtures/pans/{pan}.yaml")];
    let request = Request { files: &disk, pans: &pans, rulebook: &[], drawn: true };
    let mut measured = measure(request);
    measured.pans.remove(0).figures
}

fn area(shape: &Shape) -> f64 {
    let sides = shape.points.iter().zip(shape.points.iter().cycle().skip(1));
    sides.map(|(a, b): (&DVec2, &DVec2)| a.perp_dot(*b) / 2.0).sum::<f64>().abs()
}

// A rectangle of 412 by 268 mm with corners of 25 mm: ab − (4 − π)r², less what the draft takes at a depth of 0.1 mm.
#[test]
fn the_first_line_of_the_plan_is_the_rail() {
    let all = figures("low-finned");
    let plan = all.iter().find(|f| f.kind == FigureKind::Plan).expect("a plan");
    let rail = plan.shapes.iter().find(|s| matches!(s.part, Part::Contour(_))).expect("a line");
    let expected = 0.412 * 0.268 - (4.0 - core::f64::consts::PI) * 0.025 * 0.025;
    assert!((area(rail) - expected).abs() < 2e-4 * expected, "{}", area(rail));
}

#[test]
fn a_section_shows_the_dry_inlet_above_the_surface() {
    let all = figures("low-finned");
    let climb = all.iter().find(|f| f.name == "steep-climb").expect("the worst state is drawn");
    let FigureKind::Section(kind) = &climb.kind else { panic!("a section") };
    assert!((kind.rim_depth + 8.5e-3).abs() < 0.1e-3, "{}", kind.rim_depth);
    let one = |part: Part| climb.shapes.iter().find(|s| s.part == part).expect("it is drawn");
    let surface = one(Part::Surface).points[0].y;
    let rim = one(Part::Inlet).points.iter().fold(f64::MIN, |a, p| a.max(p.y));
    assert!((rim - surface + kind.rim_depth).abs() < 1e-6);
}

// On level ground the rail leans by the mount's 3 deg, and no drawn oil lies above the surface.
#[test]
fn oil_is_drawn_below_the_surface_and_within_the_pan() {
    for figure in figures("deep-cast") {
        let FigureKind::Section(_) = &figure.kind else { continue };
        let of = |wanted: Part| figure.shapes.iter().filter(move |s| s.part == wanted);
        let surface = of(Part::Surface).next().expect("a surface").points[0].y;
        let oil: f64 = of(Part::Oil).map(area).sum();
        let pan: f64 = of(Part::Solid(DrawnPart::Interior)).map(area).sum();
        assert!(oil > 0.0 && oil < pan);
        assert!(of(Part::Oil).flat_map(|s| &s.points).all(|p| p.y <= surface + 1e-12));
    }
}
