//! One pan, described by zones and by soundings of them: the readings are the same within what is said of them.

use crate::support::{Disk, measure, read, root};
use std::f64::consts::FRAC_PI_2;
use std::fmt::Write;
use sumpwright_core::measure::Bounds;
use sumpwright_core::review::{Measured, PanMeasured};

const PAN: &str = "fixtures/pans/deep-cast.yaml";
const TABLE: &str = "fixtures/pans/depths.csv";

/// How far inside a rounded rectangle in the middle of the plan a place lies; negative outside. Plain geometry, in mm.
fn inside_by(x: f64, y: f64, size: [f64; 2], corner: f64) -> f64 {
    let (qx, qy) = (x.abs() - size[0] / 2.0 + corner, y.abs() - size[1] / 2.0 + corner);
    corner - qx.max(qy).min(0.0) - qx.max(0.0).hypot(qy.max(0.0))
}

/// The depth of the deep pan by the definition of its zones, in mm.
fn depth(x: f64, y: f64) -> f64 {
    let lean = |degrees: f64| degrees.to_radians().tan();
    let shelf = inside_by(x, y, [412.0, 268.0], 25.0) / lean(4.0);
    let sump = inside_by(x - 20.0, y, [230.0, 236.0], 20.0);
    let sump = if sump >= 0.0 { (42.0 + sump / lean(6.0)).min(118.0) } else { 0.0 };
    shelf.min(42.0).max(sump)
}

/// A closed line along a rounded rectangle around x = 20, drawn in by `inset`.
fn traced(text: &mut String, name: &str, inset: f64, depth: f64) {
    let (half_x, half_y, radius) = (115.0 - inset, 118.0 - inset, (20.0_f64 - inset).max(0.0));
    let mut points = Vec::new();
    for (quarter, (sx, sy)) in [(1., 1.), (-1., 1.), (-1., -1.), (1., -1.)].into_iter().enumerate()
    {
        for step in 0..=12 {
            let angle = FRAC_PI_2 * (quarter as f64 + f64::from(step) / 12.0);
            let x = 20.0 + sx * (half_x - radius) + radius * angle.cos();
            points.push((x, sy * (half_y - radius) + radius * angle.sin()));
        }
    }
    points.push(points[0]);
    for (x, y) in points {
        writeln!(text, "{x:.4},{y:.4},{depth},{name}").unwrap();
    }
}

/// The deep pan with its floor from a table instead of zones.
fn sounded(table: String, more: &str) -> Disk {
    let text = read(&root().join(PAN));
    let (head, rest) = text.split_once("  rail:").unwrap();
    let (_, tail) = rest.split_once("  displaced:").unwrap();
    let soundings = format!(
        "  soundings: {{ file: depths.csv, rail: {{ rectangle: [412 mm, 268 mm], corner: 25 mm }}, draft: 4 deg, \
         zero: 0 mm by depth_gauge{more} }}\n"
    );
    // Without zones nothing says what lies in the middle.
    let tail = tail.replace("length: 160 mm }", "length: 160 mm, at: { x: 20 mm, y: 0 mm } }");
    let text = format!("{head}{soundings}  displaced:{tail}");
    Disk { instead: vec![(PAN.to_owned(), text), (TABLE.to_owned(), table)] }
}

fn without(mut disk: Disk, keys: &[&str]) -> Disk {
    if disk.instead.is_empty() {
        disk.instead.push((PAN.to_owned(), read(&root().join(PAN))));
    }
    let text = &disk.instead[0].1;
    let mut kept = String::new();
    let mut skipping = false;
    for line in text.lines() {
        if !line.starts_with(' ') {
            skipping = keys.iter().any(|key| line.starts_with(&format!("{key}:")));
        }
        if !skipping {
            kept.push_str(line);
            kept.push('\n');
        }
    }
    for key in keys {
        writeln!(kept, "{key}: none").unwrap();
    }
    disk.instead[0].1 = kept;
    disk
}

fn of(measured: &Measured) -> &PanMeasured {
    assert!(measured.problems.is_empty(), "{:#?}", measured.problems);
    &measured.pans[0]
}

/// Every reading of the one against that of the other: apart by no more than twice both uncertainties and `slack`.
fn must_agree(one: &PanMeasured, other: &PanMeasured, slack: f64) -> Vec<String> {
    assert_eq!(one.measures.len(), other.measures.len());
    let mut apart = Vec::new();
    for (a, b) in one.measures.iter().zip(&other.measures) {
        let name = format!("{} {}", a.spec.name, a.object.as_deref().unwrap_or(""));
        let (Ok(a), Ok(b)) = (&a.reading, &b.reading) else {
            // Soundings do not say where a zone ends, nor what draft or corner its maker meant.
            let unsaid = matches!(&b.reading, Err(why) if why.reason.contains("computed of floor zones only"));
            if a.reading.is_ok() != b.reading.is_ok() && !unsaid {
                apart.push(format!("{name}: {:?} and {:?}", a.reading, b.reading));
            }
            continue;
        };
        let ends = |bounds: &Bounds| (bounds.low, bounds.high);
        let ((a_low, a_high), (b_low, b_high)) = (ends(&a.bounds), ends(&b.bounds));
        for (x, y, u, v) in [(a_low, b_low, a.u_low, b.u_low), (a_high, b_high, a.u_high, b.u_high)]
        {
            let within = 2.0 * u.hypot(v) + slack * x.abs();
            if (x - y).abs() > within {
                apart.push(format!("{name}: {x} (u {u}) and {y} (u {v})"));
            }
        }
    }
    apart
}

/// Edges traced as lines: nothing is left to guess, and every part of the pan is where it was.
#[test]
fn the_deep_pan_by_zones_and_by_traced_edges_reads_the_same() {
    let mut table = String::from("x [mm],y [mm],depth [mm],line\n");
    traced(&mut table, "edge", 0.0, 42.0);
    traced(&mut table, "foot", 76.0 * 6.0_f64.to_radians().tan(), 118.0);
    for (x, y) in
        [(-190., -120.), (-190., 120.), (190., -120.), (190., 120.), (-150., 0.), (170., 0.)]
    {
        writeln!(table, "{x},{y},{},", depth(x, y)).unwrap();
    }
    let zones = measure(&Disk::default(), &[PAN]);
    let lines = measure(&sounded(table, ""), &[PAN]);
    assert_eq!(must_agree(of(&zones), of(&lines), 1e-3), Vec::<String>::new());
}

/// A grid over the same pan knows its walls to a spacing only, and says so: what hangs on a wall's place is left out.
#[test]
fn the_deep_pan_by_zones_and_by_a_grid_reads_the_same_within_what_is_said() {
    let mut table = String::from("# a grid of 9 mm\nx [mm],y [mm],depth [mm]\n");
    for row in -14..=14 {
        for column in -22..=22 {
            let (x, y) = (f64::from(column) * 9.0 + 1.5, f64::from(row) * 9.0 - 1.0);
            if inside_by(x, y, [412.0, 268.0], 25.0) > 0.0 {
                writeln!(table, "{x},{y},{:.2}", depth(x, y)).unwrap();
            }
        }
    }
    let parts = ["baffles", "drains", "magnet", "fins"];
    let zones = measure(&without(Disk::default(), &parts), &[PAN]);
    let grid = measure(&without(sounded(table, ""), &parts), &[PAN]);
    assert_eq!(must_agree(of(&zones), of(&grid), 1e-9), Vec::<String>::new());
    let volume = of(&grid).measures.iter().find(|m| m.spec.name == "interior.volume").unwrap();
    let first = &volume.contributions[0];
    assert_eq!(first.path, "interior.soundings.file", "what lies between soundings is an input");
    let u = volume.reading.as_ref().unwrap().u_low * 1e3;
    assert!(u > 0.02 && u < 0.2, "{u} L of 7.6 L");
}

/// A gauge with a round tip reads too little on slopes: more is left open, nothing else changes.
#[test]
fn a_round_tip_widens_what_is_said_and_moves_nothing() {
    let mut table = String::from("x [mm],y [mm],depth [mm]\n");
    for row in -6..=6 {
        for column in -9..=9 {
            let (x, y) = (f64::from(column) * 20.0, f64::from(row) * 20.0);
            writeln!(table, "{x},{y},{:.2}", 60.0 + 0.2 * x + 0.0005 * y * y).unwrap();
        }
    }
    let parts = ["baffles", "drains", "magnet", "fins", "pickup"];
    let of_volume = |more: &str| {
        let measured = measure(&without(sounded(table.clone(), more), &parts), &[PAN]);
        let volume = of(&measured).measures.iter().find(|m| m.spec.name == "interior.volume");
        let reading = *volume.unwrap().reading.as_ref().unwrap();
        (reading.bounds.low, reading.u_low)
    };
    let (point, round) = (of_volume(""), of_volume(", tip: 5 mm"));
    assert_eq!(point.0.to_bits(), round.0.to_bits());
    // 5 mm·(√(1 + 0.2²) − 1) = 0.1 mm over 0.11 m²: 11 mL more, beside what was there.
    assert!(round.1 > point.1 + 0.3e-6 && round.1 < point.1 + 12e-6, "{point:?} {round:?}");
}
