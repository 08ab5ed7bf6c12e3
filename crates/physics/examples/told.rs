//! Reads bodies and attitudes from standard input and prints what the kernel says of the oil in them, for a comparison
//! with something else: `tests/outside/bodies.py`.
//!
//! Numbers apart by blanks, metres and radians: points, faces and attitudes counted; the points; the faces, three
//! positions each; then for each attitude up (3), the share of the body that is filled, the middle of a rim (3), its
//! diameter, the depth it needs and the azimuth of a ray. A line for each attitude: level, volume, middle of the oil
//! (3), surface, its middle (3), its larger and smaller second moment, least volume, steepest tilt up to 60° (nan:
//! none).
#![expect(clippy::print_stdout, reason = "printing is what this example is for")]

use glam::DVec3;
use std::str::{FromStr, SplitWhitespace};
use std::sync::Arc;
use sumpwright_physics::level::{Body, LevelError, Mouth, OilSpace, Ray, Reach};
use sumpwright_physics::mesh::Mesh;
use uom::si::angle::degree;
use uom::si::f64::{Angle, Length};
use uom::si::length::meter;

type Fault = Box<dyn std::error::Error>;

fn main() -> Result<(), Fault> {
    let text = std::io::read_to_string(std::io::stdin())?;
    let mut words = text.split_whitespace();
    let [points, faces, attitudes]: [usize; 3] =
        [next(&mut words)?, next(&mut words)?, next(&mut words)?];
    let mut mesh = Mesh::default();
    for _ in 0..points {
        mesh.points.push(DVec3::new(next(&mut words)?, next(&mut words)?, next(&mut words)?));
    }
    for _ in 0..faces {
        mesh.faces.push([next(&mut words)?, next(&mut words)?, next(&mut words)?]);
    }
    let body = Body::new(&mesh).map_err(|fault| format!("{fault:?}"))?;
    let space = OilSpace { parts: vec![(1.0, Arc::new(body))] };
    for _ in 0..attitudes {
        let mut row = [0.0; 10];
        for cell in &mut row {
            *cell = next(&mut words)?;
        }
        println!("{}", told(&space, row).map_err(|fault| format!("{fault:?}"))?);
    }
    Ok(())
}

fn next<T: FromStr<Err: std::error::Error + 'static>>(
    words: &mut SplitWhitespace<'_>,
) -> Result<T, Fault> {
    Ok(words.next().ok_or("a number is missing")?.parse()?)
}

fn told(space: &OilSpace, row: [f64; 10]) -> Result<String, LevelError> {
    let [x, y, z, share, at_x, at_y, at_z, diameter, need, azimuth] = row;
    let metres = Length::new::<meter>;
    let up = DVec3::new(x, y, z);
    let volume = space.capacity() * share;
    let level = space.level(up, volume, None)?;
    let moments = space.moments(up, level);
    let mouth = Mouth {
        centre: DVec3::new(at_x, at_y, at_z),
        normal: DVec3::NEG_Z,
        diameter: metres(diameter),
    };
    let toward = DVec3::new(libm::cos(azimuth), libm::sin(azimuth), 0.0);
    let ray = Ray { level: DVec3::Z, toward };
    let reach = space.steepest(&mouth, metres(need), volume, &ray, Angle::new::<degree>(60.0))?;
    let tilt = match reach {
        Reach::Until { tilt, .. } => tilt.value,
        _ => f64::NAN,
    };
    let (oil, surface) =
        (moments.centroid.unwrap_or(DVec3::NAN), moments.surface_centroid.unwrap_or(DVec3::NAN));
    let mut cells = vec![level.value, moments.volume.value];
    cells.extend(oil.to_array());
    cells.push(moments.surface.value);
    cells.extend(surface.to_array());
    cells.extend(moments.second.map(|second| second.value));
    cells.extend([space.least_volume(&mouth, metres(need), up).value, tilt]);
    Ok(cells.iter().map(|cell| format!("{cell:?}")).collect::<Vec<String>>().join(" "))
}
