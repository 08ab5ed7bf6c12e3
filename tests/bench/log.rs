//! One hour of driving at 100 samples a second along a pan of some 10 000 faces, from a cold start to the exit, reading
//! included: `cargo bench --bench log`. The pan and the log are made here; the processor's time is printed beside the
//! clock's, since other work on the machine shows in the clock alone.
#![expect(clippy::print_stdout, reason = "a bench prints its figures")]
#![expect(clippy::unwrap_used, reason = "a bench that cannot run must say so")]

use std::fmt::Write as _;
use std::process::{Command, Stdio};
use std::time::Instant;

/// Corners of each of the two outlines: each zone takes some four faces a corner.
const CORNERS: u32 = 1250;
const SAMPLES: u32 = 360_000;
const RUNS: usize = 5;

fn main() {
    let folder = std::path::PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("bench-log");
    std::fs::create_dir_all(folder.join("pans")).unwrap();
    let write = |name: &str, text: &str| std::fs::write(folder.join(name), text).unwrap();
    write("pans/round.yaml", &pan());
    write("vehicle.yaml", VEHICLE);
    write("duty.yaml", "duty: 1\noil_temperature: 40 degC\nlog: { file: drive.csv }\n");
    write("rules.yaml", RULES);
    for (name, noise) in [("0.02 gn", 0.02), ("0.2 gn", 0.2)] {
        write("drive.csv", &drive(noise));
        let mut times: Vec<f64> = (0..RUNS)
            .map(|_| {
                let start = Instant::now();
                let status = Command::new(env!("CARGO_BIN_EXE_sumpwright"))
                    .args(["review", "pans/round.yaml", "--rules", "rules.yaml"])
                    .current_dir(&folder)
                    .stdout(Stdio::null())
                    .status()
                    .unwrap();
                assert_eq!(status.code(), Some(0), "the bench's pan must be judged");
                start.elapsed().as_secs_f64()
            })
            .collect();
        times.sort_by(f64::total_cmp);
        let median = times.get(RUNS / 2).copied().unwrap_or(f64::NAN);
        println!(
            "{SAMPLES} samples with {name} of noise: median {median:.2} s of {RUNS} runs, {times:.2?}"
        );
    }
}

const VEHICLE: &str = "vehicle: 1\nmount: { nose_up: 2 deg }\ncase: { outline: { rectangle: [380 mm, 240 mm] }, \
    height: 80 mm, free_share: 0.5 }\ncheck: { level: 12 mm, at: { x: 0 mm, y: 0 mm }, oil_at: 40 degC, engine: running }\n";

const RULES: &str = "rulebook: 1\nrules:\n  pickup.uncovers-on-the-drive:\n    title: Covered along the drive\n    \
    force: shall\n    measure: pickup.log_least_rim_depth\n    at_least: 0 mm\n    because: A bench.\n    source: \
    common practice\n";

fn pan() -> String {
    let polygon = |across: f64| {
        let mut text = String::from("{ polygon: [");
        for i in 0..CORNERS {
            let turn = core::f64::consts::TAU * f64::from(i) / f64::from(CORNERS);
            let (x, y) = (across * libm_cos(turn), 0.65 * across * libm_sin(turn));
            write!(text, "{{ x: {x:.6} mm, y: {y:.6} mm }}, ").unwrap();
        }
        text.truncate(text.len() - 2);
        text + "] }"
    };
    format!(
        "pan: 1\nvehicle: ../vehicle.yaml\noil: none\nduty: ../duty.yaml\ninterior:\n  rail: {}\n  zones:\n    shelf: {{ \
         outline: rail, depth: 42 mm }}\n    sump: {{ outline: {}, depth: 78 mm }}\npickup: {{ inlet: {{ circle: 32 mm, at: \
         {{ x: 25 mm, y: 10 mm, depth: 66 mm }}, facing: down }} }}\n",
        polygon(205.0),
        polygon(115.0)
    )
}

#[expect(
    clippy::disallowed_methods,
    reason = "the bench's pan need not be the same to the last digit everywhere"
)]
fn libm_cos(x: f64) -> f64 {
    x.cos()
}

#[expect(
    clippy::disallowed_methods,
    reason = "the bench's pan need not be the same to the last digit everywhere"
)]
fn libm_sin(x: f64) -> f64 {
    x.sin()
}

/// Bends, climbs and stops of some seconds, with noise from a fixed sequence.
fn drive(noise: f64) -> String {
    let mut text = String::from(
        "time [s],specific force forward [gn],specific force left [gn],specific force up [gn]\n",
    );
    let mut seed = 1_u64;
    let mut random = move || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        f64::from(u32::try_from(seed >> 40).unwrap()) / f64::from(1_u32 << 24) - 0.5
    };
    for i in 0..SAMPLES {
        let time = f64::from(i) / 100.0;
        let still = time < 3.0;
        let wave = |period: f64, height: f64| {
            if still { 0.0 } else { height * libm_sin(core::f64::consts::TAU * time / period) }
        };
        let (x, y) = (wave(37.0, 0.25) + wave(7.0, 0.15), wave(11.0, 0.2) + wave(53.0, 0.1));
        let mut shake = || if still { 0.0 } else { noise * 3.46 * random() };
        let (x, y, z) = (x + shake(), y + shake(), 1.0 + shake());
        writeln!(text, "{time:.2},{x:.4},{y:.4},{z:.4}").unwrap();
    }
    text
}
