//! Prints how long the geometry of a deep pan takes, in microseconds, least and middle of many runs.
#![expect(clippy::print_stdout, reason = "printing is what this example is for")]

use glam::{DVec2, DVec3};
use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;
use sumpwright_physics::basins::{Chamber, Vessel};
use sumpwright_physics::level::{Body, OilSpace};
use sumpwright_physics::terrain::{Outline, OutlineError, Terrain, Zone};
use uom::si::angle::degree;
use uom::si::f64::{Angle, Length, Ratio, Volume};
use uom::si::length::millimeter;
use uom::si::ratio::ratio;
use uom::si::volume::liter;

fn zone(outline: Outline, opens_at: f64, floor: f64, draft: f64) -> Zone {
    Zone {
        outline,
        opens_at: Length::new::<millimeter>(opens_at),
        floor: Length::new::<millimeter>(floor),
        slope: None,
        draft: Angle::new::<degree>(draft),
    }
}

fn rectangle(x: f64, sizes: [f64; 3]) -> Result<Outline, OutlineError> {
    let [long, wide, corner] = sizes.map(Length::new::<millimeter>);
    Outline::rectangle(DVec2::new(x, 0.0), long, wide, corner)
}

/// Runs a task often and prints its least and middle time.
fn time<T>(what: &str, runs: usize, mut task: impl FnMut() -> T) {
    let mut times: Vec<f64> = (0..runs)
        .map(|_| {
            let start = Instant::now();
            black_box(task());
            start.elapsed().as_secs_f64() * 1e6
        })
        .collect();
    times.sort_by(f64::total_cmp);
    let at = |share: usize| times.get(times.len() * share / 100).copied().unwrap_or_default();
    println!("{what:44} least {:9.1}  middle {:9.1}", at(0), at(50));
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let outline =
        |x: f64, sizes: [f64; 3]| rectangle(x, sizes).map_err(|fault| format!("{fault:?}"));
    let rail = outline(0.0, [412.0, 268.0, 25.0])?;
    let sump = outline(0.02, [230.0, 236.0, 20.0])?;
    let zones = [zone(rail.clone(), 0.0, 42.0, 4.0), zone(sump, 42.0, 118.0, 6.0)];
    let Ok(terrain) = Terrain::build(&zones) else { return Err("the pan is refused".into()) };
    let mesh = terrain.mesh();
    println!("deep pan: {} points, {} faces", mesh.points.len(), mesh.faces.len());
    time("outline of the rail", 500, || rectangle(0.0, [412.0, 268.0, 25.0]));
    time("build of the terrain", 500, || Terrain::build(&zones).is_ok());
    let wide = outline(0.02, [230.0, 266.0, 20.0])?;
    let crossing = [zone(rail, 0.0, 60.0, 4.0), zone(wide, 42.0, 118.0, 6.0)];
    time("build with walls that cross", 200, || Terrain::build(&crossing).is_ok());
    time("build of the body", 500, || Body::new(mesh).is_ok());
    let Ok(body) = Body::new(mesh) else { return Err("the mesh is refused".into()) };
    let space = OilSpace { parts: vec![(1.0, Arc::new(body))] };
    let attitudes: Vec<DVec3> = (0..500)
        .map(|at| {
            let angle = f64::from(at) * 2.4;
            let tilt = 0.7 * (f64::from(at) / 500.0).sqrt();
            DVec3::new(tilt * libm::cos(angle), tilt * libm::sin(angle), 1.0).normalize()
        })
        .collect();
    let volume = Volume::new::<liter>(3.0);
    let mut next = attitudes.iter().cycle();
    time("level, attitudes one unlike the other", 5000, || {
        next.next().map(|&up| space.level(up, volume, None).is_ok())
    });
    let near = space.level(DVec3::Z, volume, None).ok();
    let tilted = DVec3::new(0.003, 0.002, 1.0).normalize();
    time("level, from that of a near attitude", 5000, || space.level(tilted, volume, near).is_ok());
    time("cut at a known height", 5000, || {
        next.next().map(|&up| space.below(up, Length::new::<millimeter>(-30.0)))
    });
    let footprint = [(-0.05, -0.04), (0.05, -0.04), (0.05, 0.04), (-0.05, 0.04)];
    let footprint = footprint.map(|(x, y)| DVec2::new(x, y));
    time("ground under a footprint", 1000, || terrain.under(&footprint));
    time("depth at a place", 1000, || terrain.depth_at(footprint[0]));
    time("profile across", 1000, || terrain.profile(DVec2::new(-0.3, 0.01), DVec2::new(0.3, 0.02)));
    basins(&zones)?;
    time("wall from a place", 1000, || terrain.nearest_wall(DVec3::new(0.0, 0.0, -0.05), DVec3::X));
    Ok(())
}

/// Times the basins of the pan with a pocket behind its sump, which keeps its oil nose down.
fn basins(zones: &[Zone; 2]) -> Result<(), Box<dyn std::error::Error>> {
    let pocket = rectangle(-0.15, [90.0, 220.0, 15.0]).map_err(|fault| format!("{fault:?}"))?;
    let zones = [zones[0].clone(), zones[1].clone(), zone(pocket, 42.0, 78.0, 10.0)];
    let Ok(terrain) = Terrain::build(&zones) else { return Err("the pan is refused".into()) };
    let space = terrain.mesh().clone();
    println!("pan with a pocket: {} points, {} faces", space.points.len(), space.faces.len());
    let free_share = Ratio::new::<ratio>(1.0);
    let chamber = Chamber { space, displaced: Vec::new(), dams: Vec::new(), free_share };
    let vessel = Vessel::new(&[chamber], &[])?;
    let nose_down = DVec3::new(-0.45, 0.0, 1.0).normalize();
    time("height above which all oil is one body", 200, || vessel.joined_above(nose_down).is_ok());
    time("basins of one direction", 200, || vessel.basins(nose_down).is_ok());
    let volume = Volume::new::<liter>(4.0);
    println!("pools {}", vessel.turned_with(DVec3::Z, nose_down, volume)?.pools().len());
    time("oil turned nose down", 20, || vessel.turned_with(DVec3::Z, nose_down, volume).is_ok());
    Ok(())
}
