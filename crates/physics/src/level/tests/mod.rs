//! Levels against closed forms and against a plane that really cuts the mesh.

mod any_body;
mod boxes;
mod clipped;
mod covered;
mod limits;
mod moments;
mod registers;
mod ridden;
mod rounds;

use super::{Body, OilSpace};
use crate::mesh::{Mesh, Solid};
use crate::terrain::{Outline, Terrain, Zone};
use core::f64::consts::PI;
use glam::{DVec2, DVec3};
use std::sync::Arc;
use uom::si::angle::degree;
use uom::si::f64::{Angle, Length, Volume};
use uom::si::length::{meter, millimeter};
use uom::si::volume::liter;

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn litres(value: f64) -> Volume {
    Volume::new::<liter>(value)
}

fn space(meshes: &[(f64, &Mesh)]) -> OilSpace {
    OilSpace {
        parts: meshes
            .iter()
            .map(|&(weight, mesh)| (weight, Arc::new(Body::new(mesh).unwrap())))
            .collect(),
    }
}

fn block(min: [f64; 3], max: [f64; 3]) -> Mesh {
    Solid::Block { min: DVec3::from(min), max: DVec3::from(max) }.mesh().unwrap()
}

/// A box of 0.400 × 0.270 m, floor at z = 0, high enough never to run over.
fn tank() -> OilSpace {
    space(&[(1.0, &block([0., 0., 0.], [0.4, 0.27, 1.0]))])
}

/// Up against gravity with the low end of the box at x = 0.
fn pitched(degrees: f64) -> DVec3 {
    let angle = degrees * PI / 180.0;
    DVec3::new(libm::sin(angle), 0.0, libm::cos(angle))
}

fn close(value: f64, exact: f64, relative: f64) {
    assert!((value / exact - 1.0).abs() <= relative, "{value} for {exact}");
}

/// How fast an error falls when something is made four times as fine: 2 for the second order.
fn order(coarse: f64, fine: f64) -> f64 {
    libm::log2(coarse / fine) / 2.0
}

fn deep_pan() -> Terrain {
    let mm = Length::new::<millimeter>;
    let zone = |x: f64, sizes: [f64; 3], opens_at: f64, floor: f64, draft: f64| Zone {
        outline: Outline::rectangle(DVec2::new(x, 0.0), mm(sizes[0]), mm(sizes[1]), mm(sizes[2]))
            .unwrap(),
        opens_at: mm(opens_at),
        floor: mm(floor),
        slope: None,
        draft: Angle::new::<degree>(draft),
    };
    let zones =
        [zone(0.0, [412., 268., 25.], 0., 42., 4.), zone(0.02, [230., 236., 20.], 42., 118., 6.)];
    Terrain::build(&zones).unwrap()
}
