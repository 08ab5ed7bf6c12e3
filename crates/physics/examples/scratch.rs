//! scratch
#![allow(warnings, clippy::all, clippy::pedantic)]
use glam::DVec3;
use std::sync::Arc;
use std::time::Instant;
use std::hint::black_box;
use sumpwright_physics::level::{Body, OilSpace, Rider};
use sumpwright_physics::mesh::Mesh;
use uom::si::f64::*;

fn depth(x: f64, y: f64) -> f64 {
    // sump 230 x 200 at x=20 with ramps of 40 mm
    let dx = ((x - 20.0).abs() - 115.0) / 30.0;
    let dy = (y.abs() - 95.0) / 30.0;
    let d = if dx > dy { dx } else { dy };
    let t = (1.0 - d).clamp(0.0, 1.0);
    42.0 + 70.0 * t * t * (3.0 - 2.0 * t) + 0.6 * libm::sin(x * 0.05) * libm::cos(y * 0.07)
}
fn pan(n: usize, m: usize) -> Mesh {
    let mut points = vec![]; let mut faces = vec![];
    let at = |i: usize, j: usize, top: usize| ((i * (m + 1) + j) * 2 + top) as u32;
    for i in 0..=n { for j in 0..=m {
        let x = -205.0 + 410.0 * i as f64 / n as f64; let y = -135.0 + 270.0 * j as f64 / m as f64;
        points.push(DVec3::new(x, y, -depth(x, y)) * 1e-3);
        points.push(DVec3::new(x, y, 0.0) * 1e-3);
    } }
    for i in 0..n { for j in 0..m {
        let (a, b, c, d) = (at(i,j,1), at(i+1,j,1), at(i+1,j+1,1), at(i,j+1,1));
        faces.push([a,b,c]); faces.push([a,c,d]);
        let (a, b, c, d) = (at(i,j,0), at(i+1,j,0), at(i+1,j+1,0), at(i,j+1,0));
        faces.push([a,c,b]); faces.push([a,d,c]);
    } }
    let mut wall = |a: u32, b: u32| { faces.push([a, b, b+1]); faces.push([a, b+1, a+1]); };
    for i in 0..n { wall(at(i,0,0), at(i+1,0,0)); wall(at(i+1,m,0), at(i,m,0)); }
    for j in 0..m { wall(at(n,j,0), at(n,j+1,0)); wall(at(0,j+1,0), at(0,j,0)); }
    Mesh { points, faces }
}
struct Rng(u64);
impl Rng { fn next(&mut self) -> f64 { self.0 ^= self.0 << 13; self.0 ^= self.0 >> 7; self.0 ^= self.0 << 17; (self.0 >> 11) as f64 / (1u64 << 53) as f64 }
  fn normal(&mut self) -> f64 { (0..12).map(|_| self.next()).sum::<f64>() - 6.0 } }
fn cpu() -> f64 { use std::sync::OnceLock; static S: OnceLock<Instant> = OnceLock::new(); return S.get_or_init(Instant::now).elapsed().as_secs_f64();
    let s = std::fs::read_to_string("/proc/self/schedstat").unwrap();
    s.split(' ').next().unwrap().parse::<f64>().unwrap() * 1e-9
}
fn main() {
    let sizes: Vec<(usize, usize)> = vec![(20,12),(62,40),(195,128),(608,411)];
    let pick = std::env::args().nth(1).and_then(|s| s.parse::<usize>().ok()).unwrap_or(4);
    println!("tris  build_ms check_ms  indep_us  log_us  noisy_us  below_us  err  errlog");
    for &(n, m) in sizes.iter().take(pick) {
        let mesh = pan(n, m);
        let t = cpu(); let body = Body::new(&mesh).unwrap(); let build = cpu() - t;
        let t = cpu(); sumpwright_physics::mesh::check(&mesh).unwrap(); let chk = cpu() - t;
        let space = OilSpace { parts: vec![(1.0, Arc::new(body))] };
        let volume = space.capacity() * 0.25;
        let mut rng = Rng(88172645463325252);
        let count = if n > 300 { 300 } else { 2000 };
        let ups: Vec<DVec3> = (0..count).map(|_| { let a = rng.next() * 6.283; let t = (rng.next()).sqrt() * 0.785;
            DVec3::new(libm::cos(a) * libm::sin(t), libm::sin(a) * libm::sin(t), libm::cos(t)) }).collect();
        let ride = |noise: f64, rng: &mut Rng, count: usize| -> Vec<DVec3> { (0..count).map(|i| { let t = i as f64 * 0.01;
            let a = 0.35 * libm::sin(0.5 * t) + 0.2 * libm::sin(1.3 * t + 1.0); let b = 0.3 * libm::sin(0.37 * t + 0.5) + 0.15 * libm::sin(2.1 * t);
            (DVec3::new(a + noise * rng.normal(), b + noise * rng.normal(), 1.0 + noise * rng.normal())).normalize() }).collect() };
        let log = ride(0.0, &mut rng, count); let noisy = ride(0.02, &mut rng, count);
        let mut best = [1e9; 4];
        let mut out = vec![]; let mut outl = vec![];
        let rep = if cfg!(count) {1} else {15}; for _ in 0..rep {
            let t = cpu(); out = ups.iter().map(|&u| space.level(u, volume, None).unwrap()).collect(); best[0] = f64::min(best[0], cpu() - t);
            if cfg!(count) { eprint!("  cold {count}: "); sumpwright_physics::level::report(); }
            for (k, way) in [(1, &log), (2, &noisy)] {
                let t = cpu(); let mut r = Rider::new(&space, volume); outl = way.iter().map(|&u| r.level(u).unwrap()).collect(); best[k] = f64::min(best[k], cpu() - t);
 if cfg!(count) { eprint!("  way {k}: "); sumpwright_physics::level::report(); }
            }
            let t = cpu(); for (u, h) in ups.iter().zip(&out) { black_box(space.below(*u, *h)); } best[3] = f64::min(best[3], cpu() - t);
        }
        let err = ups.iter().zip(&out).map(|(u, h)| { let c = space.below(*u, *h); ((c.volume - volume) / c.surface).value.abs() }).fold(0.0, f64::max);
        let errl = noisy.iter().zip(&outl).map(|(u, h): (_, &Length)| { let c = space.below(*u, *h); ((c.volume - volume) / c.surface).value.abs() }).fold(0.0, f64::max);
        let c = 1e6 / count as f64;
        println!("{:8} {:7.2} {:7.2}  {:8.2} {:8.2} {:8.2} {:8.2}  {:.1e} {:.1e}", mesh.faces.len(), build * 1e3, chk * 1e3, best[0] * c, best[1] * c, best[2] * c, best[3] * c, err, errl);
    }
    }
