//! Terrains against closed forms, level sections and columns, and whatever zones a fuzzer thinks of.

mod compared;
mod faults;
mod fuzz;
mod query;
mod sections;
mod several;
mod single;
mod slopes;
mod soundings;
mod touching;

use super::{Outline, Terrain, Zone};
use crate::mesh::check;
use core::f64::consts::PI;
use glam::DVec2;
use uom::si::angle::degree;
use uom::si::f64::{Angle, Length};
use uom::si::length::millimeter;

fn mm(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

fn tan(degrees: f64) -> f64 {
    libm::tan(degrees * PI / 180.0)
}

fn zone(outline: Outline, opens_at: f64, floor: f64, draft: f64) -> Zone {
    let draft = Angle::new::<degree>(draft);
    Zone { outline, opens_at: mm(opens_at), floor: mm(floor), slope: None, draft }
}

fn rectangle(middle: (f64, f64), x: f64, y: f64, corner: f64) -> Outline {
    let middle = DVec2::new(middle.0, middle.1) / 1e3;
    Outline::rectangle(middle, mm(x), mm(y), mm(corner)).unwrap()
}

fn polygon(points: &[(f64, f64)]) -> Outline {
    let points: Vec<DVec2> = points.iter().map(|&(x, y)| DVec2::new(x, y) / 1e3).collect();
    Outline::polygon(&points).unwrap()
}

/// Builds, checks that the mesh is closed, and gives the volume in cubic millimetres.
fn volume(zones: &[Zone]) -> f64 {
    let terrain = Terrain::build(zones).unwrap();
    assert_eq!(check(terrain.mesh()), Ok(()));
    terrain.mesh().volume().value * 1e9
}

fn close(value: f64, exact: f64, relative: f64) {
    assert!((value / exact - 1.0).abs() <= relative, "{value} for {exact}");
}

/// The volume of a drafted zone by Steiner's formula for a convex outline inset by t: A − P·t + K·t², where K is
/// the sum of tan(turn/2) over the corners, while none of its sides has vanished.
fn frustum(outline: &Outline, height: f64, draft: f64) -> f64 {
    let sides: Vec<DVec2> = outline.edges().map(|[from, to]| (to - from) * 1e3).collect();
    let perimeter: f64 = sides.iter().map(|side| side.length()).sum();
    let corners: f64 = (0..sides.len())
        .map(|at| libm::tan(sides[at].angle_to(sides[(at + 1) % sides.len()]) / 2.0))
        .sum();
    let lean = tan(draft) * height;
    height * (outline.area().value * 1e6 - perimeter * lean / 2.0 + corners * lean * lean / 3.0)
}

/// How fast an error falls when something is made four times as fine: 2 for the second order.
fn order(coarse: f64, fine: f64) -> f64 {
    libm::log2(coarse / fine) / 2.0
}
