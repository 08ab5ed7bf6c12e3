//! Only what is worse than known: the list of known findings, names of changed files, and what is kept between runs.

use crate::support::{read, root};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// Rules that read one value each, so that a run takes no time: the floor, the oil, the fins.
const RULES: &str = "rulebook: 1
rules:
  floor.too-thin:
    title: The floor is thick enough
    force: shall
    measure: wall.floor_thickness
    at_least: 2 mm
    because: A dent costs a day.
    source: common practice
  oil.too-thin:
    title: The oil is thick enough
    force: shall
    measure: oil.viscosity_at_100
    at_least: 6 mm^2/s
    because: It leaks away.
    source: common practice
  fin.too-thin:
    title: Fins are thick enough
    force: shall
    measure: fin.root
    at_least: 3 mm
    because: They break.
    source: common practice
";

const OIL: &str = "oil: 1\ntitle: Trail fluid\ndensity: { 15 degC: 852 kg/m^3 }\nexpansion: 0.00072 1/K\n\
                   viscosity: { 40 degC: 30 mm^2/s, 100 degC: 6.8 mm^2/s }\nheat_capacity: 2.1 kJ/(kg·K)\n";

/// A folder of its own with a project of three pans: `thin` breaks two rules, the others none; `other` has another oil.
struct World(PathBuf);

fn pan(oil: &str, floor: &str, root: &str) -> String {
    format!(
        "pan: 1\ntitle: A pan\noil: ../oils/{oil}.yaml\nwall: {{ floor: {floor}, sides: 2 mm }}\n\
         fins: {{ keel: {{ under: floor, along: x, count: 3, pitch: 18 mm, height: 8 mm, root: {root}, tip: 2 mm, \
         length: 160 mm }} }}\n"
    )
}

impl World {
    fn new(name: &str) -> Self {
        let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("screen-{name}"));
        let _ = fs::remove_dir_all(&path);
        let world = Self(path);
        world.project("pans: pans/*.yaml\nrulebooks: rules.yaml\nknown_findings: known.yaml\n");
        world.write("rules.yaml", RULES);
        world.write("oils/trail.yaml", OIL);
        world.write("oils/other.yaml", OIL);
        world.write("pans/good.yaml", &pan("trail", "3 mm", "4 mm"));
        world.write("pans/thin.yaml", &pan("trail", "1.5 ± 0.1 mm", "2.5 mm"));
        world.write("pans/other.yaml", &pan("other", "3 mm", "4 mm"));
        world
    }

    /// The same, with everything found known.
    fn known(name: &str) -> Self {
        let world = Self::new(name);
        assert_eq!(world.screen(&["--write-known"]).code, 0);
        world
    }

    fn project(&self, keys: &str) {
        self.write("sumpwright.yaml", &format!("project: 1\n{keys}"));
    }

    fn write(&self, name: &str, text: &str) {
        let path = self.0.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }

    fn read(&self, name: &str) -> String {
        read(&self.0.join(name))
    }

    fn replace(&self, name: &str, from: &str, to: &str) {
        let text = self.read(name);
        assert!(text.contains(from), "{from} in {text}");
        self.write(name, &text.replace(from, to));
    }

    fn remove(&self, name: &str) {
        fs::remove_file(self.0.join(name)).unwrap();
    }

    fn screen(&self, arguments: &[&str]) -> Told {
        self.screen_in("", arguments)
    }

    fn screen_in(&self, folder: &str, arguments: &[&str]) -> Told {
        let output = Command::new(env!("CARGO_BIN_EXE_sumpwright"))
            .arg("screen")
            .args(arguments)
            .current_dir(self.0.join(folder))
            .env("LC_ALL", "C.UTF-8")
            .output()
            .unwrap();
        Told::of(&output)
    }
}

/// What a run printed, and its exit status.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Told {
    code: i32,
    out: String,
    err: String,
}

impl Told {
    fn of(output: &Output) -> Self {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
        Self {
            code: output.status.code().unwrap(),
            out: text(&output.stdout),
            err: text(&output.stderr),
        }
    }

    /// Nothing against it, and not a word.
    fn is_silent(&self) -> bool {
        *self == Self { code: 0, out: String::new(), err: String::new() }
    }

    /// The rules of which something is told, in order.
    fn rules(&self) -> Vec<&str> {
        let ids = ["floor.too-thin", "oil.too-thin", "fin.too-thin"];
        let verdicts = ["  does not conform: ", "  inconclusive: "];
        let headings = self.out.lines().filter(|line| verdicts.iter().any(|v| line.starts_with(v)));
        headings.filter_map(|line| ids.into_iter().find(|id| line.contains(id))).collect()
    }
}

#[test]
fn without_a_list_every_finding_counts_and_nothing_else_is_told() {
    let world = World::new("no-list");
    world.project("pans: pans/*.yaml\nrulebooks: rules.yaml\n");
    let told = world.screen(&[]);
    assert_eq!((told.code, told.rules()), (1, vec!["fin.too-thin", "floor.too-thin"]));
    assert!(!told.out.contains("pans/good.yaml"), "{}", told.out);
    world.write("pans/thin.yaml", &pan("trail", "3 mm", "3.5 mm"));
    assert!(world.screen(&[]).is_silent());
}

#[test]
fn what_is_known_is_passed_over_and_the_list_reads_well() {
    let world = World::new("listed");
    let told = world.screen(&["--write-known"]);
    assert_eq!((told.code, told.out.as_str()), (0, ""), "{}", told.err);
    assert_eq!(told.err, "sumpwright: known.yaml now lists 2 known findings\n");
    insta::assert_snapshot!(world.read("known.yaml"));
    assert!(world.screen(&[]).is_silent());
    assert!(world.screen(&["--no-cache"]).is_silent());
    let all = world.screen(&["--all"]);
    assert_eq!(all.code, 0);
    assert!(
        all.out
            .contains("Looked at 3 pans against 3 rules: nothing new or worse than known, 2 known")
    );
}

/// The sixth of the acceptance checks: lines above make no difference, a worse value is new, a mended one is stale.
#[test]
fn worse_is_new_mended_is_stale_and_lines_above_are_nothing() {
    let world = World::known("worse");
    let text = world.read("pans/thin.yaml");
    world.write("pans/thin.yaml", &format!("{}{text}", "# a remark\n".repeat(50)));
    assert!(world.screen(&[]).is_silent());
    // Within half of the last digit written it is the same; beyond, it is worse; better is neither.
    for (floor, silent) in [("1.4998", true), ("1.46", false), ("1.6", true)] {
        world.write("pans/thin.yaml", &pan("trail", &format!("{floor} ± 0.1 mm"), "2.5 mm"));
        assert_eq!(world.screen(&[]).is_silent(), silent, "{floor}");
    }
    world.write("pans/thin.yaml", &pan("trail", "1.4 ± 0.1 mm", "2.5 mm"));
    let told = world.screen(&[]);
    assert_eq!((told.code, told.rules()), (1, vec!["floor.too-thin"]));
    insta::assert_snapshot!("screen_worse", told.out);
    world.write("pans/thin.yaml", &pan("trail", "3 mm", "2.5 mm"));
    let told = world.screen(&[]);
    assert_eq!((told.code, told.rules()), (1, vec![]));
    insta::assert_snapshot!("screen_mended", told.out);
    assert_eq!(world.screen(&["--tidy-known"]).code, 0);
    assert_eq!(world.read("known.yaml").lines().count(), 5);
    assert!(world.screen(&[]).is_silent());
}

/// What is told to tidy the list takes out what is no more and never lets anything new or worse in.
#[test]
fn tidying_only_makes_the_list_stricter() {
    let world = World::known("tidied");
    let before = world.read("known.yaml");
    world.write("pans/thin.yaml", &pan("trail", "1.4 mm", "2.8 mm"));
    world.write("pans/good.yaml", &pan("trail", "1.4 mm", "4 mm"));
    let told = world.screen(&["--tidy-known"]);
    assert_eq!((told.code, told.rules()), (1, vec!["floor.too-thin", "floor.too-thin"]));
    assert_eq!(world.read("known.yaml"), before.replace("2.5 mm", "2.8 mm"));
    world.remove("pans/thin.yaml");
    assert_eq!(world.screen(&["--tidy-known"]).code, 1);
    assert!(world.read("known.yaml").ends_with("findings: none\n"));
    // A list that cannot be read in whole is not written over: what it says would be lost.
    world.write("known.yaml", &format!("{before}  - {{ pan: x }}\n"));
    assert_eq!(world.screen(&["--tidy-known"]).code, 2);
    assert!(world.read("known.yaml").ends_with("{ pan: x }\n"));
}

#[test]
fn a_graver_verdict_and_a_value_that_is_lost_are_worse() {
    let world = World::new("graver");
    // Cannot be decided: 2.05 ± 0.1 mm against 2 mm.
    world.write("pans/thin.yaml", &pan("trail", "2.05 ± 0.1 mm", "4 mm"));
    assert_eq!(world.screen(&["--write-known"]).code, 0);
    assert!(world.read("known.yaml").contains("verdict: inconclusive, value: 2.05"));
    // The same value, but surely known to be outside: a finding that was open is a breach.
    world.replace("known.yaml", "2.050 mm", "1.9 mm");
    world.write("pans/thin.yaml", &pan("trail", "1.9 mm", "4 mm"));
    let told = world.screen(&[]);
    assert!(told.out.contains("worse: it was known to be inconclusive"), "{}", told.out);
    world.replace("known.yaml", "inconclusive", "does not conform");
    assert!(world.screen(&[]).is_silent());
    let pan = world.read("pans/thin.yaml");
    world.write("pans/thin.yaml", &pan.replace("floor: 1.9 mm, ", ""));
    let told = world.screen(&[]);
    assert_eq!((told.code, told.rules()), (1, vec!["floor.too-thin"]));
    // It points at another value now, and is told once: as new, with where it was known.
    assert!(
        told.out.contains("new: it was known at wall.floor and points at wall (known.yaml:5:5)")
    );
    assert!(!told.out.contains("mended"), "{}", told.out);
}

/// The seventh of the acceptance checks.
#[test]
fn a_list_written_again_has_the_same_bytes() {
    let world = World::known("again");
    let first = world.read("known.yaml");
    assert_eq!(world.screen(&["--write-known"]).code, 0);
    assert_eq!(world.screen(&["--write-known", "--no-cache"]).code, 0);
    assert_eq!(world.read("known.yaml"), first);
    let mut lines: Vec<&str> = first.lines().collect();
    let count = lines.len();
    lines.swap(count - 2, count - 1);
    world.write("known.yaml", &(lines.join("\n") + "\n"));
    assert!(world.screen(&[]).is_silent());
    assert_eq!(world.screen(&["--write-known"]).code, 0);
    assert_eq!(world.read("known.yaml"), first);
}

/// The third of the acceptance checks, of this list: a misspelt rule is told with what was meant.
#[test]
fn what_the_list_names_wrongly_is_an_error_at_its_place() {
    for (from, to, said) in [
        ("floor.too-thin", "floor.to-thin", "did you mean `floor.too-thin`?"),
        (
            "value: 2.5 mm",
            "value: 2.5 kN",
            "fin.too-thin measures a length, and this value is a force",
        ),
        ("verdict: does", "verdikt: does", "did you mean `verdict`?"),
        ("known_findings: 1", "known_findings: 2", "edition 2"),
    ] {
        let world = World::known("misspelt");
        world.replace("known.yaml", from, to);
        let told = world.screen(&[]);
        assert_eq!(told.code, 2, "{to}: {}", told.out);
        assert!(told.out.contains(said) && told.out.contains("known.yaml:"), "{to}: {}", told.out);
    }
}

#[test]
fn a_list_that_is_named_and_not_there_is_an_error_never_an_empty_one() {
    let world = World::new("missing");
    let told = world.screen(&[]);
    assert_eq!(told.code, 2);
    insta::assert_snapshot!("screen_missing_list", told.out);
    let told = world.screen(&["--known", "nowhere.yaml"]);
    assert_eq!(told.code, 2, "{}", told.out);
    // What is already there and is something else is not written over.
    world.write("known.yaml", "oil: 1\n");
    let told = world.screen(&["--write-known"]);
    assert_eq!((told.code, world.read("known.yaml").as_str()), (2, "oil: 1\n"), "{}", told.err);
}

#[test]
fn where_a_document_is_at_fault_no_list_is_written() {
    let world = World::known("fault");
    let before = world.read("known.yaml");
    world.write("pans/good.yaml", "pan: 1\nwall: { floor: 5 }\n");
    for arguments in [vec![], vec!["--write-known"]] {
        let told = world.screen(&arguments);
        assert_eq!(told.code, 2, "{}", told.out);
        assert!(told.out.contains("pans/good.yaml:2:16"), "{}", told.out);
    }
    assert_eq!(world.read("known.yaml"), before);
}

#[test]
fn a_list_in_which_lines_stand_twice_or_that_is_torn_is_written_anew() {
    let world = World::known("anew");
    let first = world.read("known.yaml");
    let last = first.lines().last().unwrap();
    for torn in
        [format!("{first}{last}\n"), first.replace("findings:\n", "findings:\n<<<<<<< ours\n")]
    {
        world.write("known.yaml", &torn);
        assert_eq!(world.screen(&[]).code, 2, "{torn}");
        assert_eq!(world.screen(&["--write-known"]).code, 0, "{torn}");
        assert_eq!(world.read("known.yaml"), first);
    }
}

/// Held against nothing, everything would be told as new, and the one thing to mend would be lost among it.
#[test]
fn of_a_list_that_a_merge_left_torn_that_alone_is_told() {
    let world = World::known("torn");
    world.replace("known.yaml", "findings:\n", "findings:\n<<<<<<< ours\n");
    let told = world.screen(&[]);
    assert_eq!((told.code, told.rules()), (2, vec![]), "{}", told.out);
    assert!(told.out.contains("known.yaml:5:1") && told.out.contains("unfinished"), "{}", told.out);
    assert!(told.out.contains("Nothing was judged") && !told.out.contains("new"), "{}", told.out);
}

/// The pan that is meant is one of nearly its name, of which the list says nothing.
#[test]
fn of_a_pan_that_is_gone_another_is_named_only_where_it_may_be_the_same() {
    let moved = |to: &str| {
        let world = World::known("renamed");
        let text = world.read("pans/thin.yaml");
        world.remove("pans/thin.yaml");
        if !to.is_empty() {
            world.write(to, &text);
        }
        world.screen(&["--width", "200"]).out
    };
    let other = "takes it out; where it is under another name now, write that name here instead";
    assert!(moved("pans/thin-2.yaml").contains("where it is pans/thin-2.yaml now"));
    assert!(moved("pans/of-sheet.yaml").contains(other));
    // Folder and ending are alike, and the names are not.
    assert!(moved("").contains(other));
}

/// A list that is written is one that can be read.
#[cfg(unix)]
#[test]
fn a_pan_whose_name_no_document_can_hold_does_not_become_known() {
    let world = World::known("escape");
    let before = world.read("known.yaml");
    world.write("pans/a\u{1b}[31m.yaml", &world.read("pans/thin.yaml"));
    let told = world.screen(&["--write-known"]);
    assert_eq!(told.code, 2);
    assert!(told.err.contains("a\\u{1b}[31m.yaml cannot be listed"), "{}", told.err);
    assert_eq!(world.read("known.yaml"), before);
}

#[test]
fn only_pans_that_a_name_bears_on_are_looked_at() {
    for arguments in [vec!["--no-cache"], vec![]] {
        let world = World::new("names");
        world.project("pans: pans/*.yaml\nrulebooks: rules.yaml\n");
        let looked = |names: &[&str]| {
            let mut all = arguments.clone();
            all.extend(["--format", "json"]);
            all.extend(names);
            let told = world.screen(&all);
            let found: serde_json::Value = serde_json::from_str(&told.out).unwrap();
            (found["screening"]["looked_at"].as_u64().unwrap(), told.code)
        };
        // Twice: what was kept by the first time narrows the second as well.
        for _ in 0..2 {
            assert_eq!(looked(&["oils/trail.yaml"]), (2, 1));
            assert_eq!(looked(&["oils/other.yaml"]), (1, 0));
            assert_eq!(looked(&["pans/thin.yaml"]), (1, 1));
            assert_eq!(looked(&["./pans/../pans/good.yaml", "README.md"]), (1, 0));
            assert_eq!(looked(&["pans"]), (3, 1));
            assert_eq!(looked(&["README.md", "gone.csv"]), (0, 0));
            for all in ["rules.yaml", "sumpwright.yaml"] {
                assert_eq!(looked(&[all]), (3, 1), "{all}");
            }
        }
        assert!(world.screen(&["README.md"]).is_silent());
    }
}

#[test]
fn a_pan_that_no_pattern_names_is_judged_where_it_is_named() {
    let world = World::known("outside");
    world.write("drafts/new.yaml", &pan("trail", "1 mm", "4 mm"));
    assert!(world.screen(&[]).is_silent());
    let told = world.screen(&["drafts/new.yaml"]);
    assert_eq!((told.code, told.rules()), (1, vec!["floor.too-thin"]));
    // What is known of it stands in the list under the same path, from whatever folder it is named.
    let entry = "  - { pan: drafts/new.yaml, rule: floor.too-thin, at: wall.floor, verdict: does not conform, value: 1 mm }\n";
    world.write("known.yaml", &(world.read("known.yaml") + entry));
    assert!(world.screen(&["drafts/new.yaml"]).is_silent());
    assert!(world.screen_in("drafts", &["new.yaml"]).is_silent());
    // A list that is written anew keeps what it says of pans that were not looked at.
    assert_eq!(world.screen(&["--write-known"]).code, 0);
    assert!(world.read("known.yaml").contains("drafts/new.yaml"));
}

#[test]
fn a_file_that_is_gone_bears_on_the_pans_that_used_it() {
    let world = World::known("gone");
    world.remove("oils/other.yaml");
    let told = world.screen(&["oils/other.yaml"]);
    assert_eq!(told.code, 2);
    assert!(told.out.contains("pans/other.yaml:3:6"), "{}", told.out);
    assert_eq!(world.screen(&[]).code, 2);
    world.write("oils/other.yaml", OIL);
    assert!(world.screen(&[]).is_silent());
    // A pan that is gone leaves entries behind.
    world.remove("pans/thin.yaml");
    let told = world.screen(&["pans/thin.yaml"]);
    assert_eq!(told.code, 1);
    assert!(told.out.contains("there is no pan pans/thin.yaml"), "{}", told.out);
    assert_eq!(world.screen(&[]).out.matches("there is no pan").count(), 2);
    assert!(world.screen(&["pans/good.yaml"]).is_silent());
    // One that is called otherwise brings its findings along as new ones.
    world.write("pans/renamed.yaml", &pan("trail", "1.5 ± 0.1 mm", "2.5 mm"));
    let told = world.screen(&["pans/renamed.yaml"]);
    assert_eq!((told.code, told.rules()), (1, vec!["fin.too-thin", "floor.too-thin"]));
    assert_eq!(world.screen(&["--write-known"]).code, 0);
    assert!(world.screen(&[]).is_silent());
    assert!(!world.read("known.yaml").contains("thin.yaml"));
}

#[test]
fn from_a_folder_within_it_is_the_same_with_paths_from_there() {
    let world = World::known("within");
    assert!(world.screen_in("pans", &[]).is_silent());
    assert!(world.screen_in("pans", &["thin.yaml"]).is_silent());
    world.write("pans/thin.yaml", &pan("trail", "1.2 mm", "2.5 mm"));
    for arguments in [vec![], vec!["thin.yaml"], vec!["../oils/trail.yaml"]] {
        let told = world.screen_in("pans", &arguments);
        assert_eq!((told.code, told.rules()), (1, vec!["floor.too-thin"]), "{arguments:?}");
    }
    assert_eq!(world.screen_in("pans", &["--write-known"]).code, 0);
    assert!(world.read("known.yaml").contains("pan: pans/thin.yaml, rule: floor.too-thin"));
    assert!(world.screen(&[]).is_silent());
}

#[test]
fn what_is_conceded_is_no_finding_and_what_is_against_a_concession_is() {
    let world = World::new("conceded");
    world.project("pans: pans/*.yaml\nrulebooks: rules.yaml\nconcessions: conceded.yaml\n");
    world.replace("pans/thin.yaml", "title: A pan\n", "title: A pan\nobject: { state: as made }\n");
    world.replace("pans/thin.yaml", "root: 2.5 mm", "root: 4 mm");
    world.write(
        "conceded.yaml",
        "concessions: 1\naccepted:\n  c-1:\n    kind: concession\n    pan: pans/thin.yaml\n    rule: floor.too-thin\n    \
         bound: 1.2 mm\n    reason: The batch is used on roads only.\n    accepted_by: { name: M. Quill, function: \
         design authority, on: 2026-11-02 }\n    expires: 2027-01-31\n",
    );
    assert_eq!(world.screen(&[]).code, 2, "the day is asked for");
    for _ in 0..2 {
        assert!(world.screen(&["--on", "2026-11-25"]).is_silent());
        let told = world.screen(&["--on", "2027-02-01"]);
        assert_eq!(told.code, 1);
        assert!(told.out.contains("expired") && told.rules() == ["floor.too-thin"], "{}", told.out);
    }
    assert_eq!(world.screen(&["--on", "2026-11-25", "--write-known"]).code, 0);
    assert!(world.read("known.yaml").ends_with("findings: none\n"));
    // The command that tidies asks for the day too, and so names it.
    world.write(
        "known.yaml",
        "known_findings: 1\nfindings:\n  - { pan: pans/thin.yaml, rule: floor.too-thin, at: wall.floor, verdict: \
         does not conform, value: 1.5 mm }\n",
    );
    world.project(
        "pans: pans/*.yaml\nrulebooks: rules.yaml\nconcessions: conceded.yaml\nknown_findings: known.yaml\n",
    );
    let told = world.screen(&["--on", "2026-11-25", "--width", "200"]);
    let command = "sumpwright screen --tidy-known --on 2026-11-25";
    assert!(told.out.contains(&format!("`{command}`")), "{}", told.out);
    let arguments: Vec<&str> = command.split(' ').skip(2).collect();
    assert_eq!(world.screen(&arguments).code, 0);
    assert!(world.screen(&["--on", "2026-11-25"]).is_silent());
    // Mended, it is unused, and that is told though nothing else is.
    world.replace("pans/thin.yaml", "1.5 ± 0.1 mm", "3 mm");
    let told = world.screen(&["--on", "2026-11-25"]);
    assert_eq!(told.code, 1);
    assert!(told.out.contains("unused"), "{}", told.out);
}

#[test]
fn a_pan_to_which_no_rule_applies_is_not_passed_over_in_silence() {
    let world = World::new("nothing");
    world.project("pans: pans/good.yaml\nrulebooks: rules.yaml\n");
    let fins = RULES.find("  fin.too-thin").unwrap();
    world.write("rules.yaml", &format!("rulebook: 1\nrules:\n{}", &RULES[fins..]));
    world.write("pans/good.yaml", "pan: 1\ntitle: A pan\nfins: none\n");
    for _ in 0..2 {
        let told = world.screen(&[]);
        assert_eq!(told.code, 3);
        assert!(told.out.contains("nothing was judged"), "{}", told.out);
    }
}

/// Every change of a repository, one after another: with results kept from run to run and without, the same is told.
#[test]
fn what_is_kept_never_changes_what_is_told() {
    let world = World::new("kept");
    world.write("known.yaml", "known_findings: 1\nfindings: none\n");
    let thin = OIL.replace("6.8 mm^2/s", "5.8 mm^2/s");
    let steps: [&dyn Fn(&World); 12] = [
        &|_| {},
        &|w| w.write("oils/trail.yaml", &thin),
        &|w| w.remove("oils/other.yaml"),
        &|w| w.write("oils/trail.yaml", OIL),
        &|w| w.write("oils/other.yaml", &thin),
        &|w| w.replace("rules.yaml", "at_least: 3 mm", "at_least: 2 mm"),
        &|w| w.remove("pans/thin.yaml"),
        &|w| w.write("pans/more.yaml", &pan("other", "1 mm", "1 mm")),
        &|w| w.write("pans/sumpwright.yaml", "project: 1\npans: '*.yaml'\n"),
        &|w| w.remove("pans/sumpwright.yaml"),
        &|w| w.write("pans/good.yaml", "pan: 1\nwall: { floor: 5 }\n"),
        &|w| w.write("pans/good.yaml", &pan("trail", "3 mm", "1 mm")),
    ];
    let formats = ["text", "json", "sarif"];
    for (number, step) in steps.iter().enumerate() {
        step(&world);
        for format in formats {
            let anew = world.screen(&["--no-cache", "--format", format]);
            let kept = world.screen(&["--format", format]);
            assert_eq!(kept, anew, "step {number}, {format}");
        }
    }
}

#[test]
fn a_broken_or_foreign_file_of_results_is_as_none() {
    let world = World::known("torn");
    let at = world.0.join(".sumpwright/results");
    let whole = fs::read(&at).unwrap();
    assert_eq!(world.read(".sumpwright/.gitignore"), "*\n");
    // A lie about a pan, under a right digest of a wrong program, is not believed either.
    let text = String::from_utf8(whole.clone()).unwrap();
    let key = text.lines().nth(1).unwrap().to_owned();
    let foreign = text.replace(&key, &format!("key {}", "0".repeat(64)));
    let lie = text.replace("\tfloor.too-thin\t", "\tfloor.too-thick\t");
    let mut broken: Vec<Vec<u8>> =
        (0..whole.len()).step_by(97).map(|end| whole[..end].to_vec()).collect();
    broken.extend([foreign.into_bytes(), lie.into_bytes(), vec![0xff, 0xfe], b"\n\n".to_vec()]);
    for bytes in broken {
        fs::write(&at, &bytes).unwrap();
        assert!(world.screen(&[]).is_silent(), "{:?}", String::from_utf8_lossy(&bytes));
        assert_eq!(fs::read(&at).unwrap(), whole, "it is mended on the way");
    }
    fs::remove_file(&at).unwrap();
    fs::create_dir(&at).unwrap();
    assert!(world.screen(&[]).is_silent(), "a folder in its place is passed over");
}

#[test]
fn runs_side_by_side_do_not_disturb_each_other() {
    let world = World::known("side-by-side");
    world.write("pans/thin.yaml", &pan("trail", "1.2 mm", "2.5 mm"));
    let alone = world.screen(&["--no-cache"]);
    std::thread::scope(|scope| {
        let runs: Vec<_> = (0..8).map(|_| scope.spawn(|| world.screen(&[]))).collect();
        for run in runs {
            assert_eq!(run.join().unwrap(), alone);
        }
    });
    let left: Vec<String> = fs::read_dir(world.0.join(".sumpwright"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(left.len(), 2, "{left:?}");
}

#[test]
fn every_format_tells_of_it() {
    let world = World::known("formats");
    world.write("pans/thin.yaml", &pan("trail", "1.2 mm", "3.5 mm"));
    for format in ["text", "html", "json", "sarif", "junit", "markdown"] {
        let told = world.screen(&["--format", format]);
        assert_eq!(told.code, 1, "{format}");
        assert!(told.out.contains("floor.too-thin"), "{format}: {}", told.out);
        assert!(told.out.contains("it counts against the pan no more"), "{format}: {}", told.out);
        assert!(!told.out.contains("pans/good.yaml"), "{format}");
    }
    insta::assert_snapshot!("screen_junit", world.screen(&["--format", "junit"]).out);
    insta::assert_snapshot!("screen_markdown", world.screen(&["--format", "markdown"]).out);
    assert_eq!(world.screen(&["--write-known"]).code, 0);
    for format in ["json", "sarif", "junit"] {
        let told = world.screen(&["--format", format]);
        assert_eq!(told.code, 0, "{format}");
        assert!(told.out.len() > 40, "{format}: programs are told that all is well");
    }
}

#[test]
fn quiet_prints_nothing_where_nothing_is_against_it_and_everything_else() {
    let world = World::known("quiet");
    assert!(world.screen(&["--quiet", "--all"]).is_silent());
    assert!(world.screen(&["--quiet", "--format", "json"]).is_silent());
    let told = world.screen(&["--quiet", "--write-known"]);
    assert!(told.is_silent(), "{told:?}");
    world.write("pans/thin.yaml", &pan("trail", "1.2 mm", "2.5 mm"));
    assert_eq!(world.screen(&["--quiet"]), world.screen(&[]));
    for (verb, code, printed) in [("measure", 0, false), ("review", 1, true)] {
        let mut command = Command::new(env!("CARGO_BIN_EXE_sumpwright"));
        let output = command.args([verb, "--quiet"]).current_dir(&world.0).output().unwrap();
        let told = Told::of(&output);
        assert_eq!((told.code, told.out.is_empty()), (code, !printed), "{verb}: {}", told.out);
    }
}

/// What is kept is for the hook alone: no other verb knows of it.
#[test]
fn no_other_verb_reads_what_is_kept() {
    for path in crate::support::rust_files(&root().join("crates/cli")) {
        let name = path.strip_prefix(root().join("crates/cli")).unwrap();
        let reads = read(&path).contains("KEPT");
        assert_eq!(reads, name == Path::new("screen.rs"), "{}", path.display());
    }
    let core = root().join("crates/core/src");
    for path in crate::support::rust_files(&core) {
        let inside = path.strip_prefix(&core).unwrap();
        let uses = read(&path).contains("crate::screen");
        assert!(!uses || inside.starts_with("screen"), "{}", path.display());
    }
}
