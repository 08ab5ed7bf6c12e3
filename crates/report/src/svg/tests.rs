//! Drawings: their words, and names that stay text.

use super::*;
use glam::DVec2;
use sumpwright_core::figure::{Part, PoolDrawn, SectionKind, Shape};
use sumpwright_core::model::DrawnPart;

fn shape(part: Part, name: &str, points: &[(f64, f64)]) -> Shape {
    let points = points.iter().map(|&(x, y)| DVec2::new(x, y)).collect();
    Shape { part, name: name.to_owned(), closed: true, points }
}

fn pool(at_inlet: bool, volume: f64) -> PoolDrawn {
    PoolDrawn { volume, higher: if at_inlet { 0.0 } else { 0.0123 }, at_inlet, is_met: true }
}

fn section(rim_depth: f64) -> Figure {
    Figure {
        name: "steep-climb".to_owned(),
        kind: FigureKind::Section(SectionKind {
            state: None,
            rim_depth,
            tilt: 0.4,
            case_known: false,
            pools: vec![pool(true, 2.5e-3)],
            apart_unknown: None,
        }),
        shapes: vec![
            shape(
                Part::Solid(DrawnPart::Interior),
                "",
                &[(0.0, 0.0), (0.2, 0.0), (0.2, 0.1), (0.0, 0.1)],
            ),
            shape(Part::Oil(0), "", &[(0.0, 0.0), (0.2, 0.0), (0.2, 0.03), (0.0, 0.03)]),
            shape(Part::Solid(DrawnPart::Displaced), "<b>filter</b>", &[(0.05, 0.05), (0.1, 0.08)]),
            shape(Part::Inlet, "inlet", &[(0.08, 0.02), (0.11, 0.02)]),
        ],
        arrows: vec![("front", DVec2::X)],
    }
}

#[test]
fn a_drawing_says_in_words_whether_the_inlet_is_dry() {
    let dry = alone(&inline(&section(-0.0085), ID, "Low pan"));
    assert!(dry.contains("inlet DRY: rim 8.5 mm above the surface"), "{dry}");
    let wet = alone(&inline(&section(0.0231), ID, "Low pan"));
    assert!(wet.contains("23.1 mm under the surface"), "{wet}");
}

#[test]
fn a_name_is_text_and_never_markup() {
    let drawing = alone(&inline(&section(0.01), ID, "<script>"));
    assert!(!drawing.contains("<b>") && !drawing.contains("<script>"));
    assert!(drawing.contains("&lt;b&gt;filter&lt;/b&gt;"));
}

#[test]
fn a_drawing_alone_is_whole() {
    insta::assert_snapshot!(alone(&inline(&section(-0.0085), ID, "Low pan")));
}

#[test]
fn oil_out_of_reach_is_marked_and_told() {
    let mut twin = section(0.0231);
    let FigureKind::Section(kind) = &mut twin.kind else { panic!("a section") };
    kind.pools.push(pool(false, 0.43e-3));
    twin.shapes.push(shape(Part::Oil(1), "", &[(0.15, 0.04), (0.2, 0.04), (0.2, 0.06)]));
    twin.shapes.push(shape(Part::Surface(1), "", &[(0.15, 0.06), (0.2, 0.06)]));
    let drawing = alone(&inline(&twin, ID, "Twin pan"));
    assert!(drawing.contains("oil-apart)"), "{drawing}");
    assert!(drawing.contains("out of reach: 0.430 L"), "{drawing}");
    assert!(
        caption(&twin).contains("2.500 L of 2.930 L lie in the inlet's pool, 0.430 L elsewhere.")
    );
    assert!(caption(&twin).contains("0.430 L stand 12.3 mm higher"), "{}", caption(&twin));
}

/// Two words in one place are set apart, and one that the view would cut stands inside it.
#[test]
fn words_stand_apart_and_in_the_view() {
    let mut crowded = section(0.0231);
    crowded.shapes.push(shape(Part::Surface(0), "", &[(0.0, 0.03), (0.2, 0.03)]));
    for name in ["filter", "magnet", "plate"] {
        let corners = [(0.08, 0.019), (0.11, 0.023)];
        crowded.shapes.push(shape(Part::Solid(DrawnPart::Displaced), name, &corners));
    }
    let canvas = drawn(&crowded, "d");
    let words = canvas.words();
    for (place, one) in words.iter().enumerate() {
        assert!(canvas.holds(*one), "{one:?}");
        for other in &words[place + 1..] {
            assert!(!canvas::overlap(*one, *other), "{one:?} {other:?}");
        }
    }
}

/// The words beside the arrows stand clear above the rail, whatever the size of the pan.
#[test]
fn the_directions_stand_clear_of_the_rail() {
    let corners = [(-0.185, -0.12), (0.185, -0.12), (0.185, 0.12), (-0.185, 0.12)];
    let seen = Figure {
        name: "plan".to_owned(),
        kind: FigureKind::Plan,
        shapes: vec![shape(Part::Contour(0.0), "", &corners)],
        arrows: vec![("front", DVec2::X), ("left", DVec2::Y)],
    };
    let canvas = drawn(&seen, "d");
    // The two first words are theirs; the third is that of the scale.
    for word in canvas.words().iter().take(2) {
        assert!(word[1].y < -120.0, "{word:?}");
    }
    assert_eq!(canvas.words().len(), 3);
}

/// A drain below the inlet, over a hole of the skid plate, is named beside the inlet.
#[test]
fn no_name_stands_on_the_inlet_seen_from_above() {
    let square = |half: f64, x: f64, y: f64| {
        [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]
    };
    let corners = [(-0.18, -0.125), (0.18, -0.125), (0.18, 0.125), (-0.18, 0.125)];
    let seen = Figure {
        name: "plan".to_owned(),
        kind: FigureKind::Plan,
        shapes: vec![
            shape(Part::Contour(0.0), "", &corners),
            shape(Part::Inlet, "", &square(0.015, 0.04, 0.01)),
            shape(Part::Drain, "plug", &[(0.03, -0.005), (0.03, -0.005)]),
            shape(Part::SkidHole, "drain", &square(0.02, 0.02, 0.0)),
        ],
        arrows: Vec::new(),
    };
    let canvas = drawn(&seen, "d");
    let [own, inlet, others @ ..] = canvas.words() else { panic!("{:?}", canvas.words()) };
    assert_eq!(others.len(), 3, "the drain, the hole and the scale");
    for (place, one) in others.iter().enumerate() {
        for other in [own, inlet].into_iter().chain(&others[place + 1..]) {
            assert!(!canvas::overlap(*one, *other), "{one:?} {other:?}");
        }
    }
}

#[test]
fn oil_in_the_case_is_told_from_oil_in_the_pan() {
    let mut leaning = section(0.0231);
    assert!(!caption(&leaning).contains("Dotted"));
    leaning.shapes.push(shape(Part::OilInCase(0), "", &[(0.0, 0.1), (0.1, 0.1), (0.0, 0.13)]));
    assert!(caption(&leaning).contains("Dotted: oil among the parts of the case."));
}
