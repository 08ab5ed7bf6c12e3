//! How long a review of one demo pan takes from a cold start to its exit, beside the start of the program alone, in
//! one run: `cargo bench --bench cold`. Other work on the machine shows in both.
#![expect(clippy::print_stdout, reason = "a bench prints its figures")]
#![expect(clippy::unwrap_used, reason = "a bench that cannot run must say so")]

use std::process::{Command, Stdio};
use std::time::Instant;

const RUNS: usize = 21;

fn main() {
    let pans = ["stock-stamped", "deep-cast", "low-finned", "drain-retrofit"];
    let alone = median(&["--version"]);
    println!("start of the program alone: median {:.1} ms of {RUNS} runs", alone * 1e3);
    for pan in pans {
        let path = format!("fixtures/pans/{pan}.yaml");
        let review = median(&["review", &path]);
        println!(
            "review of {pan}: median {:.1} ms, {:.0} times the start alone",
            review * 1e3,
            review / alone
        );
    }
}

fn median(arguments: &[&str]) -> f64 {
    let mut times: Vec<f64> = (0..RUNS).map(|_| once(arguments)).collect();
    times.sort_by(f64::total_cmp);
    times.get(RUNS / 2).copied().unwrap_or(f64::NAN)
}

fn once(arguments: &[&str]) -> f64 {
    let start = Instant::now();
    Command::new(env!("CARGO_BIN_EXE_sumpwright"))
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .stdout(Stdio::null())
        .status()
        .unwrap();
    start.elapsed().as_secs_f64()
}
