//! A mesh becomes a description that can be reviewed at once, and nothing is ever written over.

use crate::support::{Shelf, root};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::process::{Command, Output};
use sumpwright_core::review::{Request, measure};
use sumpwright_core::source::Severity;
use sumpwright_core::survey::{Survey, SurveyRequest, survey};
use sumpwright_physics::mesh::Mesh;

fn surveyed(shelf: &Shelf, shape: &str, keys: &[(&str, &str)]) -> Survey {
    let keys: Vec<(&str, String)> =
        keys.iter().map(|(key, value)| (*key, (*value).to_owned())).collect();
    survey(SurveyRequest { files: shelf, description: "pans/new.yaml", shape, keys: &keys })
}

/// A stepped tub: 400 × 260 mm to depth 40, within it 200 × 160 mm to depth 90; its origin at a corner below.
fn stepped() -> Vec<u8> {
    use crate::meshes::{moved, text_stl};
    use glam::{DVec2, DVec3};
    use sumpwright_physics::terrain::{Outline, Terrain, Zone};
    use uom::si::f64::{Angle, Length};
    let mm = |value: f64| Length::new::<uom::si::length::millimeter>(value);
    let zone = |x: f64, y: f64, at: f64, opens_at: f64, floor: f64| Zone {
        outline: Outline::rectangle(DVec2::new(at, 0.0), mm(x), mm(y), mm(0.0)).unwrap(),
        opens_at: mm(opens_at),
        floor: mm(floor),
        slope: None,
        draft: Angle::new::<uom::si::angle::degree>(0.0),
    };
    let zones = [zone(400.0, 260.0, 0.0, 0.0, 40.0), zone(200.0, 160.0, 0.03, 40.0, 90.0)];
    let mesh: Mesh = Terrain::build(&zones).unwrap().mesh().clone();
    text_stl(&moved(&mesh, DVec3::new(0.2, 0.13, 0.09)), 1000.0)
}

#[test]
fn a_mesh_becomes_a_description_that_is_valid_at_once_and_lies_on_its_rail() {
    let mut shelf = Shelf(BTreeMap::from([("pans/tub.stl".to_owned(), stepped())]));
    let found =
        surveyed(&shelf, "mesh", &[("file", "tub.stl"), ("unit", "mm"), ("of", "oil space")]);
    let text = found.text.unwrap_or_else(|| panic!("{:#?}", found.problems));
    for told in [
        "moved: { x: -200 mm, y: -130 mm, z: -90 mm }",
        "rail      400 mm along x, 260 mm along y, 1040 cm²",
        "deepest   90 mm below the rail",
        "volume    5.760 L",
        "at depth 40 mm: 720 cm²",
        "at depth 90 mm: 320 cm², x -70 mm to 130 mm, y -80 mm to 80 mm",
        "shelf: { outline: rail, depth: 40 mm, draft: 0.0 deg }",
        "sump: { outline: { rectangle: [200 mm, 160 mm], at: { x: 30 mm, y: 0 mm } }, depth: 90 mm, draft: 0.0 deg }",
        "# pickup: …  # ",
        "#   inlet.circle: Callipers across the bore",
    ] {
        assert!(text.contains(told), "{told} is not in:\n{text}");
    }
    shelf.0.insert("pans/new.yaml".to_owned(), text.into_bytes());
    let pans = ["pans/new.yaml".to_owned()];
    let read = measure(Request { files: &shelf, pans: &pans, rulebook: &[], drawn: false });
    assert!(read.problems.is_empty(), "{:#?}", read.problems);
    let volume = read.pans[0].measures.iter().find(|m| m.spec.name == "interior.volume").unwrap();
    let litres = volume.reading.as_ref().unwrap().bounds.value().unwrap() * 1e3;
    assert!((litres - (10.4 * 0.4 + 3.2 * 0.5)).abs() < 1e-9, "{litres}");
}

#[test]
fn the_zones_it_proposes_are_a_pan_of_the_same_volume() {
    let shelf = Shelf(BTreeMap::from([("pans/tub.stl".to_owned(), stepped())]));
    let found =
        surveyed(&shelf, "mesh", &[("file", "tub.stl"), ("unit", "mm"), ("of", "oil space")]);
    let text = found.text.unwrap();
    let (_, zones) = text.split_once("# interior:\n").expect("zones are proposed");
    let zones: Vec<&str> = zones.lines().map_while(|line| line.strip_prefix("# ")).collect();
    let zoned = format!("pan: 1\ninterior:\n{}\n", zones.join("\n"));
    let shelf = Shelf(BTreeMap::from([("pans/zoned.yaml".to_owned(), zoned.clone().into_bytes())]));
    let pans = ["pans/zoned.yaml".to_owned()];
    let read = measure(Request { files: &shelf, pans: &pans, rulebook: &[], drawn: false });
    assert!(read.problems.is_empty(), "{zoned}\n{:#?}", read.problems);
    let volume = read.pans[0].measures.iter().find(|m| m.spec.name == "interior.volume").unwrap();
    let litres = volume.reading.as_ref().unwrap().bounds.value().unwrap() * 1e3;
    assert!((litres - 5.76).abs() < 1e-9, "{litres}");
}

#[test]
fn a_table_of_soundings_becomes_a_description_too() {
    let mut table = "x [mm],y [mm],depth [mm]\n".to_owned();
    for x in -3..=3 {
        for y in -2..=2 {
            writeln!(table, "{},{},60", x * 55, y * 50).unwrap();
        }
    }
    let shelf = Shelf(BTreeMap::from([("pans/depths.csv".to_owned(), table.into_bytes())]));
    let keys =
        [("file", "depths.csv"), ("rail", "{ rectangle: [400 mm, 260 mm] }"), ("draft", "0 deg")];
    let found = surveyed(&shelf, "soundings", &keys);
    let text = found.text.unwrap_or_else(|| panic!("{:#?}", found.problems));
    for told in ["deepest   60 mm below the rail", "#   rail: { rectangle: [400 mm, 260 mm] }"] {
        assert!(text.contains(told), "{told} is not in:\n{text}");
    }
    assert!(!text.contains("doubt"), "a level floor leaves none:\n{text}");
}

#[test]
fn soundings_too_far_apart_are_told_with_what_they_leave_open() {
    let table =
        "x [mm],y [mm],depth [mm]\n-150,-100,40\n150,-100,40\n150,100,40\n-150,100,40\n0,0,90\n";
    let shelf = Shelf(BTreeMap::from([("pans/depths.csv".to_owned(), table.into())]));
    let keys = [("file", "depths.csv"), ("rail", "{ rectangle: [400 mm, 260 mm] }")];
    let text = surveyed(&shelf, "soundings", &keys).text.unwrap();
    let (_, doubt) = text.split_once("#   doubt     ").expect(&text);
    let (depth, _) = doubt.split_once(" mm").unwrap();
    assert!(depth.parse::<f64>().unwrap() > 1.0, "{text}");
}

/// The one time that a person names the unit is when the mesh is surveyed.
#[test]
fn a_unit_that_makes_a_tiny_pan_is_told_beside_the_description() {
    let inches = String::from_utf8(stepped()).unwrap();
    let line = |line: &str| {
        let shrunk = |word: &str| {
            word.parse::<f64>().map_or_else(|_| word.to_owned(), |x| (x / 25.4).to_string())
        };
        line.split_whitespace().map(shrunk).collect::<Vec<_>>().join(" ")
    };
    let inches = inches.lines().map(line).collect::<Vec<_>>().join("\n");
    let shelf = Shelf(BTreeMap::from([("pans/tub.stl".to_owned(), inches.into_bytes())]));
    let found =
        surveyed(&shelf, "mesh", &[("file", "tub.stl"), ("unit", "mm"), ("of", "oil space")]);
    assert!(found.text.is_some(), "{:#?}", found.problems);
    let told: Vec<_> = found.problems.iter().map(|problem| problem.severity).collect();
    assert_eq!(told, [Severity::Warning], "{:#?}", found.problems);
    let help = found.problems[0].help.as_deref().unwrap();
    assert!(help.contains("inches read as millimetres"), "{help}");
}

#[test]
fn a_broken_mesh_becomes_no_description() {
    let broken =
        std::fs::read(root().join("fixtures/documents/invalid/pan/meshes/open.stl")).unwrap();
    let shelf = Shelf(BTreeMap::from([("pans/open.stl".to_owned(), broken)]));
    let found =
        surveyed(&shelf, "mesh", &[("file", "open.stl"), ("unit", "mm"), ("of", "oil space")]);
    assert!(found.text.is_none());
    let errors: Vec<&str> = found
        .problems
        .iter()
        .filter(|problem| problem.severity == Severity::Error)
        .map(|problem| problem.code.word())
        .collect();
    assert_eq!(errors, ["mesh-open"]);
}

#[test]
fn what_to_do_about_a_mesh_is_told_in_the_words_of_the_options() {
    let open = root().join("fixtures/documents/invalid/pan/meshes/open.stl");
    let ran = run(&["survey", open.to_str().unwrap(), "--unit=mm", "--of=oil-space"]);
    assert_eq!(ran.status.code(), Some(2), "{ran:?}");
    let told = String::from_utf8_lossy(&ran.stderr);
    assert!(told.contains("no description was written"), "{told}");
    assert!(told.contains("--weld"), "{told}");
    let shown = String::from_utf8_lossy(&ran.stdout);
    assert!(!shown.contains("Looked at"), "nothing was to be judged: {shown}");
}

fn run(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_sumpwright")).args(arguments).output().unwrap()
}

#[test]
fn a_file_that_exists_is_never_written_over() {
    let folder = std::env::temp_dir().join(format!("survey-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let mesh = folder.join("tub.stl");
    std::fs::write(&mesh, stepped()).unwrap();
    let new = folder.join("new.yaml");
    let arguments = |output: &std::path::Path| {
        let text = |path: &std::path::Path| path.to_str().unwrap().to_owned();
        [
            "survey".to_owned(),
            text(&mesh),
            "--unit=mm".into(),
            "--of=oil-space".into(),
            "--output".into(),
            text(output),
        ]
    };
    let go = |output: &std::path::Path| {
        let arguments = arguments(output);
        run(&arguments.iter().map(String::as_str).collect::<Vec<_>>())
    };
    let first = go(&new);
    assert_eq!(first.status.code(), Some(0), "{first:?}");
    let written = std::fs::read_to_string(&new).unwrap();
    assert!(written.contains("    file: tub.stl\n"), "{written}");
    std::fs::write(&new, "mine").unwrap();
    let again = go(&new);
    assert_eq!(again.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&again.stderr).contains("exists already"), "{again:?}");
    assert_eq!(std::fs::read_to_string(&new).unwrap(), "mine");
    let review = {
        std::fs::write(&new, written).unwrap();
        run(&["review", new.to_str().unwrap()])
    };
    assert_eq!(
        review.status.code(),
        Some(1),
        "rules are inconclusive for want of families: {review:?}"
    );
    std::fs::remove_dir_all(&folder).unwrap();
}
