//! The program as a user runs it.

use crate::support::{read, root};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

const STOCK: &str = "fixtures/pans/stock-stamped.yaml";
const DEEP: &str = "fixtures/pans/deep-cast.yaml";

fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_sumpwright"));
    command.current_dir(root()).env("LC_ALL", "C.UTF-8").env_remove("NO_COLOR");
    command
}

fn run(arguments: &[&str]) -> Output {
    program().args(arguments).output().unwrap()
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

/// A folder of its own for a test, under the target folder; emptied first.
fn folder(name: &str) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&path);
    std::fs::create_dir_all(&path).unwrap();
    path
}

fn write(folder: &Path, name: &str, text: &str) -> String {
    let path = folder.join(name);
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    std::fs::write(&path, text).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn a_pan_with_nothing_against_it_exits_0() {
    let output = run(&["review", STOCK]);
    assert_eq!(output.status.code(), Some(0), "{}", out(&output));
    assert!(out(&output).contains("1 pan against"), "{}", out(&output));
    assert_eq!(run(&["measure", STOCK]).status.code(), Some(0));
    assert_eq!(run(&["review", STOCK, STOCK]).status.code(), Some(0));
}

#[test]
fn a_pan_that_does_not_conform_exits_1() {
    for pan in [DEEP, "fixtures/pans/low-finned.yaml", "fixtures/pans/drain-retrofit.yaml"] {
        assert_eq!(run(&["review", pan]).status.code(), Some(1), "{pan}");
    }
}

#[test]
fn a_shall_that_cannot_be_decided_exits_1_and_says_what_to_measure() {
    let here = folder("undecided");
    let pan = write(&here, "pans/a.yaml", "pan: 1\ntitle: Nothing said\n");
    let output = run(&["review", &pan]);
    assert_eq!(output.status.code(), Some(1), "{}", out(&output));
    assert!(out(&output).contains("inconclusive"), "{}", out(&output));
}

#[test]
fn bad_input_and_bad_use_exit_2() {
    let here = folder("bad-input");
    let broken = write(&here, "pans/a.yaml", "pan: 1\nwall: { floor: 5 }\n");
    for arguments in [
        vec!["review", "no/such/pan.yaml"],
        vec!["review", "fixtures/pans/*.yml"],
        vec!["review", STOCK, "fixtures/pans/none-*.yaml"],
        vec!["review", &broken],
        vec!["review", "fixtures/oils/trail.yaml"],
        vec!["review"],
        vec!["review", STOCK, "--format", "parchment"],
        vec!["review", STOCK, "--rules", "fixtures/oils/trail.yaml"],
        vec!["review", STOCK, "--rules", "no-such-rules.yaml"],
        vec!["reviev", STOCK],
    ] {
        let output = run(&arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {}", out(&output));
        let said = out(&output) + &String::from_utf8_lossy(&output.stderr);
        assert!(!said.trim().is_empty(), "{arguments:?} says nothing");
        assert!(!said.contains("panicked"), "{said}");
    }
}

#[test]
fn what_is_found_is_printed_even_beside_bad_input() {
    let here = folder("beside");
    let broken = write(&here, "pans/a.yaml", "pan: 1\nwall: { floor: 5 }\n");
    let output = run(&["review", DEEP, &broken]);
    assert_eq!(output.status.code(), Some(2));
    assert!(out(&output).contains("skid.struck"), "{}", out(&output));
    assert!(out(&output).contains("5 mm"), "{}", out(&output));
}

#[test]
fn a_rulebook_of_which_nothing_applies_exits_3() {
    let here = folder("nothing-applies");
    let rules = write(
        &here,
        "rules.yaml",
        "rulebook: 1\nrules:\n  fin.too-high:\n    title: Fins stay low\n    force: shall\n    \
         measure: fin.height\n    at_most: 5 mm\n    because: A test.\n    source: common practice\n",
    );
    let output = run(&["review", STOCK, "--rules", &rules]);
    assert_eq!(output.status.code(), Some(3), "{}", out(&output));
}

#[test]
fn a_pattern_that_matches_nothing_is_named() {
    let output = run(&["review", STOCK, "fixtures/pans/none-*.yaml"]);
    let said = out(&output) + &String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("fixtures/pans/none-*.yaml"), "{said}");
}

/// The new rule needs no Rust: a file and a line on the command.
#[test]
fn a_rule_of_ones_own_is_judged_and_points_into_its_file() {
    let here = folder("own-rule");
    let rules = write(
        &here,
        "mine.yaml",
        "rulebook: 1\nrules:\n  wall.thin-for-me:\n    title: The floor is as thick as I like it\n    \
         force: shall\n    measure: wall.floor_thickness\n    at_least: 2 mm\n    because: A dent costs a day.\n    \
         source: common practice\n",
    );
    let output = run(&["review", STOCK, "--rules", &rules]);
    assert_eq!(output.status.code(), Some(1), "{}", out(&output));
    assert!(out(&output).contains("mine.yaml:7:15"), "{}", out(&output));
}

#[test]
fn json_is_json_whatever_the_exit() {
    let here = folder("json");
    let broken = write(&here, "pans/a.yaml", "pan: 1\nwall: { floor: 5 }\n");
    for (pan, code) in [(STOCK, 0), (DEEP, 1), (broken.as_str(), 2)] {
        let output = run(&["review", pan, "--format", "json"]);
        assert_eq!(output.status.code(), Some(code), "{pan}");
        let value: serde_json::Value = serde_json::from_str(&out(&output)).unwrap();
        assert_eq!(value["schema"], "sumpwright.review/1");
    }
    let value: serde_json::Value =
        serde_json::from_str(&out(&run(&["measure", STOCK, "--format", "json"]))).unwrap();
    assert_eq!(value["schema"], "sumpwright.measure/1");
}

#[test]
fn text_and_json_count_the_same() {
    let value: serde_json::Value =
        serde_json::from_str(&out(&run(&["review", DEEP, "--format", "json"]))).unwrap();
    let findings = value["pans"][0]["findings"].as_array().unwrap();
    let against = findings.iter().filter(|f| f["verdict"] == "does not conform").count();
    assert_eq!(against, 2);
    assert!(out(&run(&["review", DEEP])).contains("2 do not conform"));
}

#[test]
fn the_same_bytes_come_out_for_any_number_of_threads_and_any_order_of_files() {
    let pans = [
        "fixtures/pans/low-finned.yaml",
        "fixtures/pans/drain-retrofit.yaml",
        "fixtures/pans/twin-sump.yaml",
        DEEP,
        STOCK,
    ];
    let mut turned = pans;
    turned.reverse();
    for format in ["text", "json"] {
        let one = |threads: &str, pans: &[&str]| {
            let mut command = program();
            command.arg("review").args(pans).args(["--format", format]);
            command.env("RAYON_NUM_THREADS", threads).output().unwrap().stdout
        };
        let first = one("1", &pans);
        for threads in ["1", "2", "8"] {
            assert!(one(threads, &pans) == first, "{format}, {threads} threads");
        }
        assert!(one("2", &turned) == first, "{format}, files the other way round");
        assert!(one("2", &["fixtures/pans"]) == first, "{format}, by the folder");
    }
}

#[test]
fn locale_and_time_zone_change_nothing() {
    let with = |locale: &str, zone: &str| {
        let mut command = program();
        command.args(["review", DEEP, "--format", "json"]);
        command.env("LC_ALL", locale).env("TZ", zone).output().unwrap().stdout
    };
    assert_eq!(with("C", "UTC"), with("de_DE.UTF-8", "Asia/Tokyo"));
}

#[test]
fn plain_output_is_ascii_and_without_colour() {
    for (variable, value) in [("TERM", "dumb"), ("LC_ALL", "C")] {
        let output = program().args(["review", DEEP]).env(variable, value).output().unwrap();
        assert!(output.stdout.is_ascii(), "{variable}={value}");
    }
    let output = run(&["review", DEEP, "--plain"]);
    assert!(output.stdout.is_ascii());
    assert!(!output.stdout.contains(&0x1b));
}

#[test]
fn colour_is_off_in_pipes_and_under_no_color_and_on_when_asked() {
    assert!(!run(&["review", DEEP]).stdout.contains(&0x1b));
    assert!(run(&["review", DEEP, "--color", "always"]).stdout.contains(&0x1b));
    let output = program().args(["review", DEEP]).env("NO_COLOR", "1").output().unwrap();
    assert!(!output.stdout.contains(&0x1b));
}

#[test]
fn no_line_is_wider_than_asked() {
    for width in [60_usize, 80, 120] {
        let output = run(&["review", DEEP, "--width", &width.to_string()]);
        for line in out(&output).lines() {
            assert!(line.chars().count() <= width, "{width}: {line}");
        }
    }
}

#[test]
fn a_reader_that_goes_away_and_a_full_disk_are_told_apart() {
    let shell = |command: &str| {
        let program = env!("CARGO_BIN_EXE_sumpwright");
        let script = format!("{program} review {DEEP} {command}");
        Command::new("bash").arg("-c").arg(script).current_dir(root()).output().unwrap()
    };
    let quiet = shell("| head -1 >/dev/null; exit ${PIPESTATUS[0]}");
    assert!(quiet.stderr.is_empty(), "{}", String::from_utf8_lossy(&quiet.stderr));
    if Path::new("/dev/full").exists() {
        let full = shell("> /dev/full");
        assert_eq!(full.status.code(), Some(2));
        assert!(!full.stderr.is_empty());
        let help = shell("--help > /dev/full");
        assert_eq!(help.status.code(), Some(2));
        let told = String::from_utf8_lossy(&help.stderr).into_owned();
        assert!(told.contains("this cannot be printed"), "{told}");
    }
}

#[test]
fn a_report_file_is_whole_or_the_old_one() {
    let here = folder("output");
    let target = write(&here, "review.txt", "old");
    let output = run(&["review", STOCK, "--output", &target]);
    assert_eq!(output.status.code(), Some(0));
    assert!(read(Path::new(&target)).contains("stock-stamped"));
    let nowhere = here.join("no/such/folder/review.txt");
    let output = run(&["review", STOCK, "--output", nowhere.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(std::fs::read_dir(&here).unwrap().count(), 1, "something was left behind");
}

#[test]
fn a_reference_through_a_link_out_of_the_root_is_refused() {
    #[cfg(unix)]
    {
        let here = folder("links");
        write(&here, "outside/oil.yaml", "oil: 1\n");
        let pan = write(&here, "inside/pans/a.yaml", "pan: 1\noil: ../oil.yaml\n");
        std::os::unix::fs::symlink(here.join("outside/oil.yaml"), here.join("inside/oil.yaml"))
            .unwrap();
        let output = run(&["review", &pan]);
        assert_eq!(output.status.code(), Some(2));
        assert!(out(&output).contains("leads, through a link, out of"), "{}", out(&output));
    }
}

#[test]
fn names_with_escape_codes_cannot_forge_output() {
    let here = folder("hostile");
    let pan = write(
        &here,
        "pans/a.yaml",
        "pan: 1\ntitle: \"ok \\e[2K\\e[1A all conforms\"\nwall: { floor: 5 }\n",
    );
    let output = run(&["review", &pan]);
    assert!(!output.stdout.contains(&0x1b), "{}", out(&output));
}

/// What the README shows is what the program says.
#[test]
fn the_excerpt_in_the_readme_is_true() {
    let readme = read(&root().join("README.md"));
    let block = readme.split("```text\n").nth(1).unwrap().split("\n```").next().unwrap();
    let said = out(&run(&["review", "fixtures/pans/low-finned.yaml", "--width", "96"]));
    for part in block.split("\n\n  …\n\n") {
        assert!(said.contains(part), "not said any more:\n{part}");
    }
}

#[test]
fn without_a_pan_the_project_file_says_which() {
    let here = folder("project");
    write(&here, "sumpwright.yaml", "project: 1\npans: pans/*.yaml\nrulebooks: rules/*.yaml\n");
    write(&here, "pans/a.yaml", "pan: 1\nwall: { floor: 1 mm }\n");
    write(
        &here,
        "rules/mine.yaml",
        "rulebook: 1\nrules:\n  wall.thin-for-me:\n    title: The floor is as thick as I like it\n    \
         force: shall\n    measure: wall.floor_thickness\n    at_least: 2 mm\n    because: A dent costs a day.\n    \
         source: common practice\n",
    );
    write(&here, "pans/deeper/keep.txt", "");
    let in_folder = |folder: &str, arguments: &[&str]| {
        program().args(arguments).current_dir(here.join(folder)).output().unwrap()
    };
    for (at, shown) in [("", "pans/a.yaml:2:16"), ("pans/deeper", "../../pans/a.yaml:2:16")] {
        let output = in_folder(at, &["review"]);
        assert_eq!(output.status.code(), Some(1), "{}", out(&output));
        assert!(out(&output).contains("wall.thin-for-me"), "{}", out(&output));
        assert!(out(&output).contains(shown), "{}", out(&output));
    }
    // A pan named by hand is judged by the project's rulebook all the same, unless another is named.
    assert!(out(&in_folder("", &["review", "pans/a.yaml"])).contains("wall.thin-for-me"));
    write(&here, "sumpwright.yaml", "project: 1\npans: [pans/*.yaml, nowhere/*.yaml]\npens: x\n");
    let output = in_folder("", &["review"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(out(&output).contains("sumpwright.yaml:2:21"), "{}", out(&output));
    assert!(out(&output).contains("did you mean `pans`"), "{}", out(&output));
    let output = program().arg("review").current_dir("/").output().unwrap();
    assert_eq!(output.status.code(), Some(2), "{}", out(&output));
}

#[test]
fn the_built_in_rulebook_is_proven_anywhere_and_one_with_a_hole_is_not() {
    let output = program().arg("prove").current_dir("/").output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", out(&output));
    assert!(out(&output).contains("Every case holds"), "{}", out(&output));
    let here = folder("prove");
    let rules = read(&root().join("rules/fin.yaml"));
    let fixtures = format!("fixtures: {}", root().join("fixtures/pans").display());
    let rules = rules.replace("fixtures: ../fixtures/pans", &fixtures);
    // Without the case on the far side of the limit nobody notices that a recommendation became a requirement.
    let far = "      - { fixture: deep-cast, exact: true, set: { fins.keel.pitch: 13.9 mm }, expect: advisory }\n";
    assert!(rules.contains(far));
    let whole = write(&here, "whole.yaml", &rules);
    let holed = write(&here, "holed.yaml", &rules.replace(far, ""));
    assert_eq!(run(&["prove", &whole]).status.code(), Some(0), "{}", out(&run(&["prove", &whole])));
    let output = run(&["prove", &holed]);
    assert_eq!(output.status.code(), Some(1), "{}", out(&output));
    assert!(out(&output).contains("missed"), "{}", out(&output));
    assert!(out(&output).contains("should turned into shall"), "{}", out(&output));
    let value: serde_json::Value =
        serde_json::from_str(&out(&run(&["prove", &holed, "--format", "json"]))).unwrap();
    assert_eq!(value["schema"], "sumpwright.proof/1");
    assert_eq!(value["whole"], false);
}

/// The first pan of the README.
fn first_pan() -> String {
    let readme = read(&root().join("README.md"));
    let (_, rest) = readme.split_once("```yaml\npan: 1\n").unwrap();
    let (pan, _) = rest.split_once("```").unwrap();
    format!("pan: 1\n{pan}")
}

/// The first pan of the README says little, and most rules have to wait for the same few things.
#[test]
fn rules_that_wait_for_one_thing_are_told_together() {
    let path = write(&folder("waiting"), "mine.yaml", &first_pan());
    let json: serde_json::Value =
        serde_json::from_str(&out(&run(&["review", &path, "--format", "json"]))).unwrap();
    let findings = json["pans"][0]["findings"].as_array().unwrap();
    let open = || findings.iter().filter(|f| f["verdict"] == "inconclusive");
    let waiting = open().filter(|f| f["needs"][0]["path"] == "flange").count();
    assert!(waiting > 5, "{waiting}");
    let (text, page) =
        (out(&run(&["review", &path])), out(&run(&["review", &path, "--format", "html"])));
    assert!(text.contains(&format!("{waiting} rules wait for one thing · flange")), "{text}");
    assert!(page.contains(&format!("{waiting} rules wait for one thing: flange")));
    for finding in open() {
        let rule = finding["rule"].as_str().unwrap();
        assert!(text.contains(rule) && page.contains(rule), "{rule}");
    }
    assert!(text.matches("inconclusive: ").count() < 10, "{text}");
    let all = out(&run(&["review", &path, "--all"]));
    assert_eq!(all.matches("inconclusive: ").count(), open().count());
}

#[test]
fn the_page_of_a_proof_names_its_rules_and_gives_the_cases_to_add() {
    let told = |format: &str| out(&run(&["prove", "tests/proofs/loose.yaml", "--format", format]));
    let (text, page) = (told("text"), told("html"));
    let added: Vec<&str> = text.lines().filter(|line| line.starts_with("      - {")).collect();
    assert!(!added.is_empty(), "{text}");
    for case in added {
        assert!(page.contains(&format!("<pre>{}</pre>", case.trim())), "{case}");
    }
    for line in text.lines().filter(|line| line.contains(" caught ")) {
        let rule = line.split(' ').next().unwrap();
        assert!(page.contains(&format!("<h3>{rule}</h3>")), "{rule}");
    }
    // How it came out stands first.
    assert!(page.find("The rulebook is not proven.") < page.find("<h3>"));
}

#[test]
fn a_proof_is_the_same_bytes_on_one_thread_and_on_many() {
    let on = |threads: &str| {
        let mut command = program();
        command.args(["prove", "tests/proofs/loose.yaml", "--format", "json"]);
        command.env("RAYON_NUM_THREADS", threads).output().unwrap()
    };
    let one = on("1");
    assert_eq!(one.status.code(), Some(1));
    assert!(one.stderr.is_empty(), "no progress where nobody looks on");
    assert_eq!(one.stdout, on("7").stdout);
}

#[test]
fn a_rulebook_that_builds_on_the_one_built_in_works_anywhere() {
    let here = folder("builds-on");
    let ours = write(
        &here,
        "ours.yaml",
        "rulebook: 1\nbuilds_on: { book: built-in }\ndropped:\n  fin.packs-with-mud: We drive in sand.\n",
    );
    let ask = |arguments: &[&str]| program().current_dir(&here).args(arguments).output().unwrap();
    let proof = ask(&["prove", "ours.yaml"]);
    assert_eq!(proof.status.code(), Some(0), "{}", out(&proof));
    assert!(out(&proof).contains("dropped     fin.packs-with-mud: "), "{}", out(&proof));
    let explained = ask(&["explain", "pickup.uncovered", "--rules", "ours.yaml"]);
    assert!(out(&explained).contains("before one notices"), "{}", out(&explained));
    let compared = ask(&["compare", "built-in", "ours.yaml"]);
    assert_eq!(compared.status.code(), Some(0), "{}", out(&compared));
    assert!(out(&compared).contains("1 removed, 0 looser"), "{}", out(&compared));
    let tried = run(&["compare", "built-in", &ours, "--pans", STOCK, DEEP, "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&out(&tried)).unwrap();
    assert_eq!(json["pans"].as_array().unwrap().len(), 2);
    // A file here that has the name of one built in: neither may pass for the other.
    write(&here, "built-in/fixtures/pans/stock-stamped.yaml", "pan: 1\n");
    let hidden = ask(&["prove", "ours.yaml"]);
    assert_eq!(hidden.status.code(), Some(1));
    assert!(out(&hidden).contains("cannot be run"), "{}", out(&hidden));
}

#[test]
fn what_cannot_be_compared_is_refused_by_name() {
    for (arguments, said) in [
        (vec!["compare", "built-in", DEEP], "is a pan"),
        (vec!["compare", "built-in"], "two rulebooks"),
        (vec!["compare", "built-in", "no-such.yaml"], "no file no-such.yaml"),
        (vec!["compare", "built-in", "built-in", "--pans", "no-such.yaml"], "no file no-such.yaml"),
    ] {
        let output = run(&arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        let told = String::from_utf8(output.stderr.clone()).unwrap();
        assert!(told.contains(said), "{arguments:?}: {told}");
    }
    assert_eq!(run(&["compare", "built-in", "fixtures/oils/trail.yaml"]).status.code(), Some(2));
}

#[test]
fn a_rule_a_measure_and_the_list_of_all_are_explained_anywhere() {
    for (arguments, said) in [
        (vec!["explain"], "pickup.uncovered"),
        (vec!["explain", "pickup.uncovered"], "built-in/rules/pickup.yaml"),
        (vec!["explain", "fin.root_stress"], "built-in/fixtures/pans/deep-cast.yaml"),
        (vec!["explain", "fin.root_stress", "--format", "json"], "sumpwright.explain/1"),
    ] {
        let output = program().args(&arguments).current_dir("/").output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{arguments:?}: {}", out(&output));
        assert!(out(&output).contains(said), "{arguments:?}: {}", out(&output));
    }
}

/// To explain a verdict is not to judge: the exit status says only whether it could be explained.
#[test]
fn a_rule_is_explained_on_a_pan_whatever_its_verdict() {
    for (pan, verdict) in [(STOCK, "not applicable"), (DEEP, "does not conform")] {
        let output = run(&["explain", "pickup.away-from-baseline", pan]);
        assert_eq!(output.status.code(), Some(0), "{}", out(&output));
        assert!(out(&output).contains(verdict), "{}", out(&output));
    }
}

#[test]
fn what_cannot_be_explained_exits_2_and_says_why() {
    let here = folder("explain");
    let broken = write(&here, "pans/a.yaml", "pan: 1\nwall: { floor: 5 }\n");
    let rules = write(&here, "rules.yaml", "rulebook: 1\nrules:\n  a.b: { title: T }\n");
    for (arguments, said) in [
        (vec!["explain", "pickup.uncoverd"], "did you mean pickup.uncovered?"),
        (vec!["explain", "pickup.rim-depth"], "did you mean pickup.rim_depth?"),
        (vec!["explain", "nothing-of-the-sort"], "lists them all"),
        (vec!["explain", "pickup.uncovered", "fixtures/pans"], "names 5 pans"),
        (vec!["explain", "pickup.uncovered", "no/such/pan.yaml"], "no/such/pan.yaml"),
        (vec!["explain", "pickup.uncovered", &broken], "5 mm"),
        (vec!["explain", "a.b", "--rules", &rules], "force"),
        (vec!["explain", "pickup.uncovered", "--rules", "none.yaml"], "none.yaml"),
    ] {
        let output = run(&arguments);
        let told = out(&output) + &String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {told}");
        assert!(told.contains(said), "{arguments:?}: {told}");
        assert!(!told.contains("panicked"), "{told}");
    }
}

#[test]
fn explain_lists_lays_open_and_says_why() {
    let lists = run(&["explain"]);
    assert_eq!(lists.status.code(), Some(0));
    for name in ["pickup.uncovered", "drain.leaves-too-much", "pickup.rim_depth", "skid.gap"] {
        assert!(out(&lists).contains(name), "{name}");
    }
    let rule = out(&run(&["explain", "pickup.too-close-to-floor"]));
    for part in ["at least 8 mm", "throttles the inlet", "common practice", "pickup.floor_gap"] {
        assert!(rule.contains(part), "{part}: {rule}");
    }
    let measure = out(&run(&["explain", "fin.root_stress"]));
    assert!(
        measure.contains("6 F L / (b t^2)") && measure.contains("duty.strike.force"),
        "{measure}"
    );
    let fired = out(&run(&["explain", "skid.struck", DEEP]));
    for part in ["vehicle.skid is given: true", "does not conform", "vehicle.skid.stiffness"] {
        assert!(fired.contains(part), "{part}: {fired}");
    }
    let idle = out(&run(&["explain", "drain.leaves-too-much", STOCK]));
    assert!(idle.contains("not applicable"), "{idle}");
    let unknown = run(&["explain", "pickup.uncoverd"]);
    assert_eq!(unknown.status.code(), Some(2));
    let said = out(&unknown) + &String::from_utf8_lossy(&unknown.stderr);
    assert!(said.contains("pickup.uncovered"), "{said}");
    let json = out(&run(&["explain", "skid.struck", DEEP, "--format", "json"]));
    assert!(serde_json::from_str::<serde_json::Value>(&json).is_ok(), "{json}");
}

/// The demo world in a folder of its own, the low finned pan saying that it is as designed, with a project and a list
/// of concessions.
fn world_with_concessions(name: &str) -> PathBuf {
    let here = folder(name);
    for below in ["pans", "vehicles", "oils", "duties"] {
        for path in crate::support::files_with(&root().join("fixtures").join(below), "yaml") {
            let file = path.file_name().unwrap().to_str().unwrap();
            let text = read(&path).replacen(
                "title: Low finned pan\n",
                "title: Low finned pan\nobject: { state: as designed }\n",
                1,
            );
            write(&here, &format!("{below}/{file}"), &text);
        }
    }
    write(
        &here,
        "sumpwright.yaml",
        "project: 1\npans: pans/low-finned.yaml\nconcessions: concessions.yaml\nconcession_days: 120\n",
    );
    write(
        &here,
        "concessions.yaml",
        "concessions: 1
accepted:
  old-pattern:
    kind: deviation permit
    pan: pans/low-finned.yaml
    rule: fin.breaks-at-the-strike
    object: fins.keel
    bound: 520 MPa
    reason: The first batch is cast from the old pattern.
    accepted_by: { name: M. Quill, function: design authority, on: 2026-11-02 }
    expires: 2027-01-31
",
    );
    here
}

fn run_in(folder: &Path, arguments: &[&str]) -> Output {
    program().current_dir(folder).args(arguments).output().unwrap()
}

#[test]
fn the_concessions_of_a_project_hold_from_whatever_folder_and_ask_for_the_day() {
    let here = world_with_concessions("concessions");
    let without = run_in(&here, &["review"]);
    assert_eq!(without.status.code(), Some(2));
    assert!(out(&without).contains("--on 2026-11-25"), "{}", out(&without));
    for (folder, arguments) in [
        (here.clone(), vec!["review", "--on", "2026-11-25"]),
        (here.join("pans"), vec!["review", "low-finned.yaml", "--on", "2026-11-25"]),
        (here.join("oils"), vec!["review", "../pans/low-finned.yaml", "--on", "2026-11-25"]),
    ] {
        let text = out(&run_in(&folder, &arguments));
        assert!(text.contains("1 conceded") && text.contains("M. Quill"), "{text}");
    }
    let late = run_in(&here, &["review", "--on", "2027-02-01"]);
    assert_eq!(late.status.code(), Some(1));
    assert!(out(&late).contains("expired: old-pattern"), "{}", out(&late));
    // A pan that is not meant is judged as if there were no list.
    let other = run_in(&here, &["review", "pans/stock-stamped.yaml", "--on", "2026-11-25"]);
    assert_eq!(other.status.code(), Some(0), "{}", out(&other));
    for wrong in [
        vec!["review", "--on", "2026-02-29"],
        vec!["review", "--on", "2026-11-25", "--concessions", "none.yaml"],
        vec!["review", "--on", "2026-11-25", "--concessions", "pans/low-finned.yaml"],
    ] {
        assert_eq!(run_in(&here, &wrong).status.code(), Some(2), "{wrong:?}");
    }
}

#[test]
fn remarks_are_begun_once_completed_and_told_and_are_no_pan() {
    let here = world_with_concessions("remarks");
    let pan = "pans/low-finned.yaml";
    let begin = ["review", pan, "--on", "2026-11-25", "--begin-remarks"];
    assert_eq!(run_in(&here, &begin).status.code(), Some(1));
    let file = here.join("pans/low-finned.remarks.yaml");
    let begun = read(&file);
    let plain = run_in(&here, &["review", pan, "--on", "2026-11-25"]);
    assert_eq!(plain.status.code(), Some(1), "{}", out(&plain));
    let again = run_in(&here, &begin);
    assert_eq!((again.status.code(), read(&file)), (Some(2), begun.clone()));
    let completed = begun.replacen("by: none", "by: R. Tarn", 1).replacen(
        "remark: none",
        "remark: Ask the founder.",
        1,
    );
    std::fs::write(&file, completed).unwrap();
    let told = run_in(&here, &["review", "pans", "--on", "2026-11-25"]);
    assert_eq!(told.status.code(), Some(1), "{}", out(&told));
    assert!(out(&told).contains("Ask the founder. – R. Tarn"), "{}", out(&told));
    assert!(out(&told).contains("5 pans"), "{}", out(&told));
}

/// A flood of findings is cut where nobody asked for all of it, and never hides that there is another kind.
#[test]
fn a_flood_shows_every_rule_and_says_what_it_passed_over() {
    let here = folder("flood");
    let pans: Vec<String> =
        (0..12).map(|n| write(&here, &format!("pan-{n}.yaml"), &first_pan())).collect();
    let told = |more: &[&str]| {
        let pans = pans.iter().map(String::as_str);
        out(&run(&[&["review"], more, &pans.collect::<Vec<_>>()].concat()))
    };
    let (some, all) = (told(&[]), told(&["--all"]));
    let heads = |text: &str| text.matches("  inconclusive: ").count();
    assert_eq!(heads(&some), 50);
    assert!(heads(&all) > 300, "{}", heads(&all));
    assert_eq!(some.lines().last(), all.lines().last());
    // What is passed over is named at its pan, and once in each of the two parts of the table across them.
    assert_eq!(some.matches("wall.floor-too-thin").count(), pans.len() + 2, "{some}");
    assert!(some.contains("more findings; --all tells them in full"), "{some}");
}

/// The paths that a review names as what to measure can be asked about, though they are no measures.
#[test]
fn a_value_that_is_stated_can_be_asked_about() {
    for (path, said) in [
        ("flange.bead", "`pan`, no rule and no measure. Lay a straight length of rail"),
        ("vehicle.check.level", "`vehicle`, no rule and no measure. Check hole or dipstick mark"),
        ("drains.plug.boss", "`pan`, no rule and no measure. "),
        ("flange.beed", "there is no rule and no measure flange.beed"),
    ] {
        let output = run(&["explain", path]);
        let told = String::from_utf8(output.stderr.clone()).unwrap();
        assert_eq!((output.status.code(), out(&output).as_str()), (Some(2), ""));
        assert!(told.contains(said), "{told}");
    }
}
