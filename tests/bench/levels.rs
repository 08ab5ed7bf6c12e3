//! Oil levels beside general-purpose ways to them, in one run: `cargo bench --bench levels`. `-- alone` leaves the
//! peers out.
//!
//! A pan of 410 × 270 mm with a shelf and a sump under a lid, a quarter full, tilted to 45°, in four finenesses. Times
//! are process CPU time, the least of several repeats; peers run in the Python of `outside` in the target folder, which
//! is made if it is not there. Levels must agree to 1e-9 mm before anything counts.
#![expect(clippy::print_stdout, reason = "a bench prints its figures")]
#![expect(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    reason = "a bench that cannot run must say so"
)]

#[path = "pan.rs"]
mod pan;

use cpu_time::ProcessTime;
use glam::DVec3;
use pan::{Dice, alone, drive, pan};
use std::collections::BTreeMap;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;
use std::time::Instant;
use sumpwright_physics::level::{Body, Mouth, OilSpace, Ray, Rider};
use sumpwright_physics::mesh::Mesh;
use uom::si::f64::{Angle, Length, Volume};
use uom::si::length::millimeter;

/// Cells along and across; attitudes timed; repeats.
const SIZES: [(usize, usize, usize, usize); 4] =
    [(20, 12, 2000, 9), (62, 40, 2000, 7), (195, 128, 1000, 5), (608, 411, 200, 5)];
const PACKAGES: [&str; 8] = [
    "numpy==2.4.6",
    "manifold3d==3.5.4",
    "scipy==1.17.1",
    "trimesh==5.2.0",
    "shapely==2.2.0",
    "mapbox_earcut==2.1.0",
    "networkx==3.6.1",
    "rtree==1.4.1",
];

/// One pan and its attitudes.
struct Case {
    faces: usize,
    space: OilSpace,
    volume: Volume,
    alone: Vec<DVec3>,
    log: Vec<DVec3>,
    noisy: Vec<DVec3>,
    repeats: usize,
}

fn main() {
    println!("load before: {}", load());
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("levels");
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    let cases: Vec<Case> = SIZES.iter().map(|&size| case(size, &folder)).collect();
    let peers =
        if std::env::args().any(|word| word == "alone") { BTreeMap::new() } else { peers(&folder) };
    let own: Vec<Vec<(&str, f64)>> = cases.iter().map(own_times).collect();
    table(&cases, &own, &peers);
    for case in &cases {
        threads(case, 4096.max(200_000 / (case.faces / 1000 + 1)));
    }
    hour(&cases[1]);
    println!("load after: {}", load());
}

/// Builds a pan, says what that cost, and writes it for the peers.
fn case((along, across, count, repeats): (usize, usize, usize, usize), folder: &Path) -> Case {
    let mesh = pan(along, across);
    let build = least(3, || Body::new(&mesh).unwrap());
    let check = least(3, || sumpwright_physics::mesh::check(&mesh).is_ok());
    let faces = mesh.faces.len();
    println!(
        "{faces} triangles: body built in {:.2} ms, {:.2} of it the check of the mesh",
        build * 1e3,
        check * 1e3
    );
    let space = OilSpace { parts: vec![(1.0, Arc::new(Body::new(&mesh).unwrap()))] };
    let volume = space.capacity() * 0.25;
    let mut dice = Dice::new();
    let case = Case {
        faces,
        volume,
        alone: alone(count, &mut dice),
        log: drive(count, 0.0, &mut dice),
        noisy: drive(count, 0.02, &mut dice),
        space,
        repeats,
    };
    write(&case, &mesh, folder);
    case
}

/// In millimetres: a peer welds what is nearer than 1e-8 of its unit.
fn write(case: &Case, mesh: &Mesh, folder: &Path) {
    let file = |kind: &str, bytes: Vec<u8>| {
        std::fs::write(folder.join(format!("{}.{kind}", case.faces)), bytes).unwrap();
    };
    let numbers = |of: &mut dyn Iterator<Item = f64>| of.flat_map(f64::to_le_bytes).collect();
    file("points", numbers(&mut mesh.points.iter().flat_map(|p| (*p * 1e3).to_array())));
    file("faces", mesh.faces.iter().flatten().flat_map(|at| at.to_le_bytes()).collect());
    file("volume", numbers(&mut [case.volume.value * 1e9].into_iter()));
    for (kind, ups) in [("alone", &case.alone), ("log", &case.log)] {
        let levels = ups.iter().map(|&up| {
            let level = case.space.level(up, case.volume, None).unwrap();
            [up.x, up.y, up.z, level.get::<millimeter>()]
        });
        file(kind, numbers(&mut levels.flatten()));
    }
}

/// µs and offset in mm by peer, kind and size.
fn peers(folder: &Path) -> BTreeMap<(String, String, usize), (f64, f64)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let outside = Path::new(env!("CARGO_TARGET_TMPDIR")).parent().unwrap().join("outside");
    let python = outside.join("bin/python");
    let run = |command: &mut Command| assert!(command.status().unwrap().success(), "{command:?}");
    if !python.exists() {
        run(Command::new("python3").args(["-m", "venv"]).arg(&outside));
    }
    let install = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check"];
    run(Command::new(&python).args(install).args(PACKAGES));
    let told = Command::new(&python)
        .arg(root.join("tests/outside/peers.py"))
        .arg(folder)
        // One thread each, as ours.
        .envs(["OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"].map(|n| (n, "1")))
        .output()
        .unwrap();
    let text = String::from_utf8(told.stdout).unwrap();
    assert!(told.status.success(), "{text}{}", String::from_utf8_lossy(&told.stderr));
    text.lines()
        .map(|line| {
            let words: Vec<&str> = line.split(' ').collect();
            let number = |at: usize| words[at].parse::<f64>().unwrap();
            let key = (words[0].to_owned(), words[1].to_owned(), words[2].parse().unwrap());
            (key, (number(3), number(4)))
        })
        .collect()
}

/// CPU seconds of the quickest run.
fn least<T>(repeats: usize, mut task: impl FnMut() -> T) -> f64 {
    (0..repeats)
        .map(|_| {
            let start = ProcessTime::now();
            black_box(task());
            start.elapsed().as_secs_f64()
        })
        .min_by(f64::total_cmp)
        .unwrap()
}

fn own_times(case: &Case) -> Vec<(&'static str, f64)> {
    let Case { space, volume, alone, log, noisy, repeats, .. } = case;
    let mouth = Mouth {
        centre: DVec3::new(0.02, 0.0, -0.07),
        normal: DVec3::NEG_Z,
        diameter: Length::new::<millimeter>(32.0),
    };
    let heights: Vec<Length> =
        alone.iter().map(|&up| space.level(up, *volume, None).unwrap()).collect();
    let each = |task: &mut dyn FnMut(usize), count: usize| {
        least(*repeats, || (0..count).for_each(&mut *task)) / count as f64 * 1e6
    };
    let ride = |ups: &[DVec3]| {
        let way = || {
            let mut rider = Rider::new(space, *volume);
            ups.iter().map(|&up| rider.level(up).unwrap().value).sum::<f64>()
        };
        least(*repeats, way) / ups.len() as f64 * 1e6
    };
    let need = Length::new::<millimeter>(10.0);
    let few = (20_000_000 / case.faces / 50).clamp(5, 100);
    let ray = |at: usize| {
        let azimuth = 0.1 * at as f64;
        Ray { level: DVec3::Z, toward: DVec3::new(libm::cos(azimuth), libm::sin(azimuth), 0.0) }
    };
    let limit = Angle { value: core::f64::consts::FRAC_PI_3, ..Angle::default() };
    vec![
        (
            "independent attitudes",
            each(
                &mut |at| {
                    let _ = black_box(space.level(alone[at], *volume, None));
                },
                alone.len(),
            ),
        ),
        ("drive log", ride(log)),
        ("drive log, 0.02 gn noise", ride(noisy)),
        (
            "volume below a plane",
            each(
                &mut |at| {
                    black_box(space.below(alone[at], heights[at]));
                },
                alone.len(),
            ),
        ),
        (
            "least volume covering a rim",
            each(
                &mut |at| {
                    black_box(space.least_volume(&mouth, need, alone[at]));
                },
                alone.len(),
            ),
        ),
        (
            "all moments at a known level",
            each(
                &mut |at| {
                    black_box(space.moments(alone[at], heights[at]));
                },
                few,
            ),
        ),
        (
            "steepest tilt on one azimuth, to 60°",
            each(
                &mut |at| {
                    let _ = black_box(space.steepest(&mouth, need, *volume, &ray(at), limit));
                },
                few,
            ),
        ),
    ]
}

type Peers = BTreeMap<(String, String, usize), (f64, f64)>;

fn table(cases: &[Case], own: &[Vec<(&str, f64)>], peers: &Peers) {
    let sizes: Vec<f64> = cases.iter().map(|case| case.faces as f64).collect();
    let row = |name: &str, cells: Vec<String>| {
        print!("{name:44} ");
        for cell in &cells {
            print!("{cell:>12}");
        }
        println!();
    };
    row(
        "µs, one thread",
        cases.iter().map(|case| case.faces.to_string()).chain(["growth".into()]).collect(),
    );
    for (at, (name, _)) in own[0].iter().enumerate() {
        let times: Vec<f64> = own.iter().map(|times| times[at].1).collect();
        let cells = times.iter().map(|time| format!("{time:.2}"));
        row(name, cells.chain([format!("n^{:.2}", exponent(&sizes, &times))]).collect());
    }
    for (kind, ours, title) in [("alone", 0, "independent"), ("log", 1, "log")] {
        let time = |peer: &str, case: &Case| {
            let key = (peer.to_owned(), kind.to_owned(), case.faces);
            peers.get(&key).copied()
        };
        let names = ["numpy", "sorted", "manifold3d", "trimesh"];
        for peer in names {
            let cells = |of: &dyn Fn((f64, f64), f64) -> String| -> Vec<String> {
                let each = cases.iter().zip(own);
                each.map(|(case, own)| {
                    time(peer, case).map_or_else(|| "-".to_owned(), |found| of(found, own[ours].1))
                })
                .collect()
            };
            row(&format!("{peer}, {title}"), cells(&|(time, _), _| format!("{time:.0}")));
            row("  its level and ours differ by, mm", cells(&|(_, off), _| format!("{off:.1e}")));
            row("  divided by ours", cells(&|(time, _), own| format!("{:.0}", time / own)));
        }
        let fastest = cases.iter().zip(own).map(|(case, own)| {
            let times = names.iter().filter_map(|peer| time(peer, case)).map(|(time, _)| time);
            times
                .min_by(f64::total_cmp)
                .map_or_else(|| "-".to_owned(), |t| format!("{:.0}", t / own[ours].1))
        });
        row(&format!("fastest peer ÷ ours, {title}"), fastest.collect());
    }
}

/// The exponent of the power that fits times over sizes best.
fn exponent(sizes: &[f64], times: &[f64]) -> f64 {
    let log = |values: &[f64]| values.iter().map(|v| libm::log(*v)).collect::<Vec<f64>>();
    let (x, y) = (log(sizes), log(times));
    let mean = |v: &[f64]| v.iter().sum::<f64>() / v.len() as f64;
    let (mx, my) = (mean(&x), mean(&y));
    let top: f64 = x.iter().zip(&y).map(|(x, y)| (x - mx) * (y - my)).sum();
    top / x.iter().map(|x| (x - mx) * (x - mx)).sum::<f64>()
}

/// Wall seconds of a task, and the CPU seconds that others spent meanwhile.
fn wall(threads: usize, task: impl FnOnce() + Send) -> (f64, f64) {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
    let (busy, own, start) = (busy(), ProcessTime::now(), Instant::now());
    pool.install(task);
    let wall = start.elapsed().as_secs_f64();
    (wall, self::busy() - busy - own.elapsed().as_secs_f64())
}

/// CPU seconds that all processes have spent since the machine started, to a hundredth.
fn busy() -> f64 {
    let text = std::fs::read_to_string("/proc/stat").unwrap_or_default();
    let numbers = text.lines().next().unwrap_or_default().split_whitespace().skip(1);
    let ticks: Vec<f64> = numbers.filter_map(|word| word.parse().ok()).collect();
    // User, nice, system, then idle and waiting, then interrupts.
    (ticks.iter().take(3).sum::<f64>() + ticks.iter().skip(5).take(2).sum::<f64>()) / 100.0
}

fn threads(case: &Case, count: usize) {
    let ups = drive(count, 0.02, &mut Dice::new());
    let run = |threads| wall(threads, || drop(black_box(case.space.levels(&ups, case.volume))));
    let (one, others_one) = run(1);
    let (two, others_two) = run(2);
    println!(
        "{} triangles, {count} samples: two threads {:.2} times as fast as one; others used {:.0} % and {:.0} % of a core meanwhile",
        case.faces,
        one / two,
        others_one / one * 100.0,
        others_two / two * 100.0
    );
}

/// One hour at 100 Hz.
fn hour(case: &Case) {
    let ups = drive(360_000, 0.02, &mut Dice::new());
    let cpu = ProcessTime::now();
    let (two, others) = wall(2, || drop(black_box(case.space.levels(&ups, case.volume))));
    println!(
        "{} triangles, 360 000 samples with 0.02 gn noise, two threads: {two:.2} s, {:.2} s of CPU; others used {:.0} % of a core meanwhile",
        case.faces,
        cpu.elapsed().as_secs_f64(),
        others / two * 100.0
    );
}

fn load() -> String {
    std::fs::read_to_string("/proc/loadavg").unwrap_or_default().trim().to_owned()
}
