//! A repository of many pans, and how long `screen` takes in it: from nothing, with nothing changed, with one file
//! changed. `cargo bench --bench fleet`, or with the number of pans after `--`; `-- 1000 FOLDER` leaves the repository
//! there. Wall time, and the time of all processors together: other work on the machine shows in the first.
#![expect(clippy::print_stdout, reason = "a bench prints its figures")]
#![expect(clippy::unwrap_used, reason = "a bench that cannot run must say so")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

/// How often what is quick is done; the median is printed.
const RUNS: usize = 11;

fn main() {
    let arguments: Vec<String> =
        std::env::args().skip(1).filter(|a| !a.starts_with("--")).collect();
    let count = arguments.first().map_or(1000, |count| count.parse().unwrap());
    let kept = arguments.get(1).map(PathBuf::from);
    let usual = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("fleet");
    let folder = kept.unwrap_or(usual);
    let _ = fs::remove_dir_all(&folder);
    fleet(&folder, count);
    let start = timed(&folder, &["--version"]);
    show("start of the program alone", &start, None);
    let cold = once(&folder, &["screen", "--write-known"]);
    show(&format!("{count} pans from nothing"), &cold, Some(&start));
    fs::write(folder.join("sumpwright.yaml"), format!("{PROJECT}known_findings: known.yaml\n"))
        .unwrap();
    show("nothing changed", &timed(&folder, &["screen"]), Some(&start));
    show("a file that is no pan's, named", &timed(&folder, &["screen", "README.md"]), Some(&start));
    let changed = changing(&folder, &[]);
    show("one pan changed", &changed, Some(&start));
    show("one pan changed and named", &changing(&folder, &["pans/unit-0001.yaml"]), Some(&start));
    let review = timed(&folder, &["review", "pans/unit-0001.yaml"]);
    show("a review of that pan alone", &review, Some(&start));
}

/// Seconds on the wall, and of all processors.
struct Took {
    wall: f64,
    cpu: f64,
}

fn show(what: &str, took: &Took, start: Option<&Took>) {
    let times = start.map_or_else(String::new, |start| {
        format!(", {:.0} times the start alone", took.wall / start.wall)
    });
    println!("{what}: {:.1} ms, processors {:.1} ms{times}", took.wall * 1e3, took.cpu * 1e3);
}

fn timed(folder: &Path, arguments: &[&str]) -> Took {
    median((0..RUNS).map(|_| once(folder, arguments)).collect())
}

/// As often, each time after another change of one pan that nothing is against.
fn changing(folder: &Path, names: &[&str]) -> Took {
    let path = folder.join("pans/unit-0001.yaml");
    let text = fs::read_to_string(&path).unwrap();
    let run = |number: usize| {
        let sump = format!(
            "depth: {:.2} ± 0.3 mm",
            78.0 + 0.01 * (1 + number + names.len() * RUNS) as f64
        );
        let changed = text.replacen("depth: 78 ± 0.3 mm", &sump, 1);
        assert_ne!(changed, text, "the change is one");
        fs::write(&path, changed).unwrap();
        let mut arguments = vec!["screen"];
        arguments.extend(names);
        once(folder, &arguments)
    };
    let took = median((0..RUNS).map(run).collect());
    fs::write(&path, text).unwrap();
    took
}

fn median(mut runs: Vec<Took>) -> Took {
    runs.sort_by(|a, b| a.wall.total_cmp(&b.wall));
    runs.swap_remove(RUNS / 2)
}

/// One run, which nothing may be against. The time of its processors is what all children took more than before.
fn once(folder: &Path, arguments: &[&str]) -> Took {
    let (start, before) = (Instant::now(), children());
    let output = Command::new(env!("CARGO_BIN_EXE_sumpwright"))
        .args(arguments)
        .current_dir(folder)
        .stdin(Stdio::null())
        .output()
        .unwrap();
    let took = Took { wall: start.elapsed().as_secs_f64(), cpu: children() - before };
    let told = String::from_utf8_lossy(&output.stdout);
    let code = output.status.code();
    assert!(
        code == Some(0) || arguments.first() == Some(&"review"),
        "{arguments:?} {code:?}: {told}"
    );
    took
}

/// Seconds of processor time of children that have ended, of Linux; nothing elsewhere.
fn children() -> f64 {
    let stat = fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after = stat.rsplit_once(')').map_or("", |(_, rest)| rest);
    // Fields 16 and 17 of proc(5), in hundredths of a second on every machine that this was seen on (from memory).
    let ticks =
        after.split_whitespace().skip(13).take(2).filter_map(|word| word.parse::<f64>().ok());
    ticks.sum::<f64>() / 100.0
}

const PROJECT: &str = "project: 1\ntitle: A fleet\npans: pans/*.yaml\n";

/// A repository of pans that are no two alike: variants of the demo's, over several vehicles, oils and duties.
fn fleet(folder: &Path, count: usize) {
    let demo = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("fixtures");
    let read = |name: &str| fs::read_to_string(demo.join(name)).unwrap();
    let write = |name: &str, text: &str| {
        let path = folder.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    };
    write("sumpwright.yaml", PROJECT);
    write("README.md", "Pans of a fleet.\n");
    for number in 0..10 {
        let named = |text: &str| text.replacen("title: ", &format!("title: {number} of "), 1);
        write(&format!("vehicles/truck-{number}.yaml"), &named(&read("vehicles/brindle.yaml")));
        write(&format!("oils/oil-{number}.yaml"), &named(&read("oils/trail.yaml")));
        write(&format!("duties/duty-{number}.yaml"), &named(&read("duties/rock-trail.yaml")));
    }
    let stock = read("pans/stock-stamped.yaml");
    write("pans/original.yaml", &referring(&stock, 0));
    let kinds = ["deep-cast", "low-finned", "drain-retrofit"]
        .map(|name| read(&format!("pans/{name}.yaml")));
    for number in 1..count {
        // Every tenth is one of those that something is against.
        let text = if number % 10 == 0 { kinds.get(number / 10 % 3).unwrap() } else { &stock };
        let text = referring(text, number % 10).replace("stock-stamped.yaml", "original.yaml");
        let text = moved(&text, number);
        write(&format!("pans/unit-{number:04}.yaml"), &text);
    }
}

/// The text of a pan that refers to one of the vehicles, oils and duties.
fn referring(text: &str, number: usize) -> String {
    text.replace("vehicles/brindle.yaml", &format!("vehicles/truck-{number}.yaml"))
        .replace("oils/trail.yaml", &format!("oils/oil-{number}.yaml"))
        .replace("duties/rock-trail.yaml", &format!("duties/duty-{number}.yaml"))
}

/// The text with another place of the inlet and another filter, by steps that no verdict hangs on.
fn moved(text: &str, number: usize) -> String {
    let step = |of: usize| 0.01 * (number * 7 % of) as f64;
    let inlet =
        format!("at: {{ x: {:.2} mm, y: {:.2} mm, depth: ", 25.0 + step(89), 10.0 + step(97));
    text.replacen("at: { x: 25 mm, y: 10 mm, depth: ", &inlet, 1).replacen(
        "title: ",
        &format!("title: {number}, "),
        1,
    )
}
