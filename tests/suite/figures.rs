//! Drawings of the demo pans against what is known of them in another way.

use crate::support::Disk;
use glam::DVec2;
use sumpwright_core::coverage::FillCase;
use sumpwright_core::figure::{Figure, FigureKind, Part, Shape};
use sumpwright_core::model::DrawnPart;
use sumpwright_core::review::{PanMeasured, Request, measure};

fn drawn(pan: &str) -> PanMeasured {
    let disk = Disk::default();
    let pans = [format!("fixtures/pans/{pan}.yaml")];
    let request = Request { files: &disk, pans: &pans, rulebook: &[], drawn: true };
    let mut measured = measure(request);
    measured.pans.remove(0)
}

fn figures(pan: &str) -> Vec<Figure> {
    drawn(pan).figures
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
    let surface = one(Part::Surface(0)).points[0].y;
    let rim = one(Part::Inlet).points.iter().fold(f64::MIN, |a, p| a.max(p.y));
    assert!((rim - surface + kind.rim_depth).abs() < 1e-6);
}

// On level ground the rail leans by the mount's 3 deg, and no drawn oil lies above the surface.
#[test]
fn oil_is_drawn_below_the_surface_and_within_the_pan() {
    for figure in figures("deep-cast") {
        let FigureKind::Section(_) = &figure.kind else { continue };
        let of = |wanted: Part| figure.shapes.iter().filter(move |s| s.part == wanted);
        let surface = of(Part::Surface(0)).next().expect("a surface").points[0].y;
        let oil: f64 = of(Part::Oil(0)).map(area).sum();
        let pan: f64 = of(Part::Solid(DrawnPart::Interior)).map(area).sum();
        assert!(oil > 0.0 && oil < pan);
        assert!(of(Part::Oil(0)).flat_map(|s| &s.points).all(|p| p.y <= surface + 1e-12));
    }
}

/// What stands behind a word in a text, up to the next quotation mark.
fn after<'t>(text: &'t str, word: &str) -> Vec<&'t str> {
    text.split(word).skip(1).map(|rest| rest.split('"').next().unwrap()).collect()
}

/// The corners of the first path of a class, from the paper back to direction and tilt in degrees: the rings, which are
/// 10 deg apart, say how large a degree is.
fn corners(drawing: &str, class: &str) -> Vec<[f64; 2]> {
    let number = |text: &str| text.parse::<f64>().unwrap();
    let [x, y, degree] = ["cx=\"", "cy=\"", "r=\""].map(|word| {
        let ring = drawing.split("class=\"ring\"").nth(1).unwrap();
        number(after(ring, word)[0])
    });
    let path = after(drawing, &format!("class=\"{class}\" d=\""))[0];
    let corner = |text: &str| {
        let (right, down) = text.split_once(' ').unwrap();
        let place = DVec2::new(number(right) - x, y - number(down));
        let turn = place.to_angle().to_degrees().rem_euclid(360.0);
        [turn, place.length() / (degree / 10.0)]
    };
    path.split(['M', 'L', 'Z']).filter(|text| !text.is_empty()).map(corner).collect()
}

/// The chart's line of 10 mm goes through the map's rays: of the low pan every one lies within the chart.
#[test]
fn the_chart_of_coverage_is_drawn_through_the_map() {
    let pan = drawn("low-finned");
    let map = pan.coverage.clone().unwrap().unwrap();
    let files = sumpwright_report::drawings(&pan.path, None, &[], pan.coverage.as_ref());
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names, ["low-finned-coverage-cold.svg", "low-finned-coverage-hot.svg"]);
    let stated = map.cases.iter().filter(|case| case.fill == FillCase::Stated);
    for ((_, drawing), case) in files.iter().zip(stated) {
        let corners = corners(drawing, "cover");
        assert_eq!(corners.len(), case.rays.len() + 1, "the first closes the line");
        for (corner, ray) in corners.iter().zip(&case.rays) {
            // A hundredth of the chart's unit, of which a degree has two and a half or more.
            assert!((corner[1] - ray.to_floor.low.to_degrees()).abs() < 5e-3, "{corner:?} {ray:?}");
            let off = (corner[0] - ray.azimuth.to_degrees()).abs();
            assert!(!(0.05..359.95).contains(&off), "{corner:?} {ray:?}");
        }
    }
}

/// The sign of a state and its words say what the measure of the rim over the duty says in that state.
#[test]
fn a_state_is_crossed_where_the_rim_has_less_than_10_mm() {
    for (pan, crossed) in [("stock-stamped", 0), ("low-finned", 2)] {
        let pan = drawn(pan);
        let rim = pan.measures.iter().find(|m| m.spec.name == "pickup.rim_depth").unwrap();
        let cold = pan.coverage.as_ref().unwrap().as_ref().unwrap().cases[0].oil_temperature;
        let is_short = |state: &&sumpwright_core::measure::StateValue| {
            let is_cold = (state.at.oil_temperature - cold).abs() < 1e-9;
            is_cold && state.bounds.as_ref().unwrap().low < 0.010
        };
        assert_eq!(rim.states.iter().filter(is_short).count(), crossed);
        let files = sumpwright_report::drawings(&pan.path, None, &[], pan.coverage.as_ref());
        assert_eq!(files[0].1.matches(" too far</text>").count(), crossed, "{}", files[0].1);
    }
}

/// Nose down the pocket of the twin pan keeps its oil from the inlet: it stands higher, and what the drawing says of it
/// is what the measure says. On level ground all of it is one.
#[test]
fn oil_behind_a_ridge_is_drawn_at_its_own_level() {
    let pan = drawn("twin-sump");
    let measure = |name: &str| pan.measures.iter().find(|m| m.spec.name == name).unwrap();
    let stranded = measure("oil.stranded").reading.as_ref().unwrap().bounds.value().unwrap();
    assert!(stranded > 1e-5, "{stranded}");
    let mut most: f64 = 0.0;
    for figure in &pan.figures {
        let FigureKind::Section(kind) = &figure.kind else { continue };
        let apart = |met: bool| {
            let pools =
                kind.pools.iter().filter(move |pool| !pool.at_inlet && (pool.is_met || !met));
            pools.map(|pool| pool.volume).sum::<f64>()
        };
        most = if apart(false) > most { apart(false) } else { most };
        // The pocket lies across the section, and a pool as full as its lip lets it is drawn too.
        assert!((apart(true) - apart(false)).abs() < 1e-6, "{}: {:?}", figure.name, kind.pools);
        for (number, pool) in kind.pools.iter().enumerate().filter(|(_, pool)| pool.is_met) {
            let of = |part: Part| figure.shapes.iter().filter(move |shape| shape.part == part);
            let rim = of(Part::Inlet).flat_map(|s| &s.points).fold(f64::MIN, |a, p| a.max(p.y));
            let surface = of(Part::Surface(number)).next().expect("it is met").points[0].y;
            assert!((surface - rim - kind.rim_depth - pool.higher).abs() < 1e-9, "{}", figure.name);
            assert!(of(Part::Oil(number)).flat_map(|s| &s.points).all(|p| p.y <= surface + 1e-12));
        }
    }
    assert!((most - stranded).abs() < 1e-9, "{most} {stranded}");
    let level = pan.figures.iter().find(|figure| figure.name == "level").unwrap();
    let FigureKind::Section(kind) = &level.kind else { panic!("a section") };
    assert_eq!(kind.pools.len(), 1);
}
