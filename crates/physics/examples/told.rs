//! Reads bodies from standard input and prints what the kernel says of them, for a comparison with something else.
//!
//! # Oil in a body (`tests/outside/bodies.py`)
//! Numbers apart by blanks, metres and radians: points, faces and attitudes counted; the points; the faces, three
//! positions each; then for each attitude up (3), the share of the body that is filled, the middle of a rim (3), its
//! diameter, the depth it needs and the azimuth of a ray. A line for each attitude: level, volume, middle of the oil
//! (3), surface, its middle (3), its larger and smaller second moment, least volume, steepest tilt up to 60° (nan:
//! none).
//!
//! # What is wrong with meshes (`told diagnoses`, `tests/outside/broken.py`)
//! For each mesh, to the end of the input: points and faces counted and a tolerance of welding, 0 for none; the points;
//! the faces. A line of JSON for each mesh: what welding did, the diagnosis over shared corners, the gravest problem
//! for one who levels it, and what the rail plane cuts off below, above and out of it, in cubic metres.
#![expect(clippy::print_stdout, reason = "printing is what this example is for")]

use glam::DVec3;
use std::fmt::{Debug, Write};
use std::iter::Peekable;
use std::str::{FromStr, SplitWhitespace};
use std::sync::Arc;
use sumpwright_physics::level::{Body, LevelError, Mouth, OilSpace, Ray, Reach};
use sumpwright_physics::mesh::{
    CutError, Faults, Mesh, Piece, check, diagnose, hollow_below_rail, split_at_rail, weld,
};
use uom::si::angle::degree;
use uom::si::f64::{Angle, Length};
use uom::si::length::meter;

type Fault = Box<dyn std::error::Error>;

fn main() -> Result<(), Fault> {
    let text = std::io::read_to_string(std::io::stdin())?;
    let mut words = text.split_whitespace().peekable();
    if std::env::args().nth(1).is_some_and(|word| word == "diagnoses") {
        while words.peek().is_some() {
            let [points, faces]: [usize; 2] = [next(&mut words)?, next(&mut words)?];
            let tolerance = next(&mut words)?;
            println!("{}", diagnosed(&read(&mut words, points, faces)?, tolerance)?);
        }
        return Ok(());
    }
    let [points, faces, attitudes]: [usize; 3] =
        [next(&mut words)?, next(&mut words)?, next(&mut words)?];
    let mesh = read(&mut words, points, faces)?;
    let body = Body::new(&mesh).map_err(|fault| format!("{fault:?}"))?;
    let space = OilSpace { parts: vec![(1.0, Arc::new(body))] };
    for _ in 0..attitudes {
        let mut row = [0.0; 10];
        for cell in &mut row {
            *cell = next(&mut words)?;
        }
        println!("{}", told(&space, row).map_err(|fault| format!("{fault:?}"))?);
    }
    Ok(())
}

type Words<'text> = Peekable<SplitWhitespace<'text>>;

fn next<T: FromStr<Err: std::error::Error + 'static>>(words: &mut Words<'_>) -> Result<T, Fault> {
    Ok(words.next().ok_or("a number is missing")?.parse()?)
}

fn read(words: &mut Words<'_>, points: usize, faces: usize) -> Result<Mesh, Fault> {
    let mut mesh = Mesh::default();
    for _ in 0..points {
        mesh.points.push(DVec3::new(next(words)?, next(words)?, next(words)?));
    }
    for _ in 0..faces {
        mesh.faces.push([next(words)?, next(words)?, next(words)?]);
    }
    Ok(mesh)
}

/// One mesh as it is looked over in a review, with corners at one place shared first.
fn diagnosed(mesh: &Mesh, tolerance: f64) -> Result<String, std::fmt::Error> {
    let mut mesh = mesh.with_shared_corners();
    let mut line = "{".to_owned();
    if tolerance > 0.0 {
        let welded = weld(&mesh, Length::new::<meter>(tolerance));
        write!(
            line,
            "\"weld\": {{\"merged\": {}, \"farthest\": {:?}, \"dropped\": {}}}, ",
            welded.merged, welded.farthest.value, welded.dropped
        )?;
        mesh = welded.mesh;
    }
    write!(line, "\"corners\": {}, \"faces\": {}, ", mesh.points.len(), mesh.faces.len())?;
    let found = diagnose(&mesh);
    for (name, faults) in [
        ("degenerate", &found.degenerate),
        ("duplicate", &found.duplicate),
        ("open", &found.open),
        ("crowded", &found.crowded),
        ("turned", &found.turned),
        ("crossing", &found.crossing),
        ("overlap", &found.overlap),
    ] {
        let Faults { count, places } = faults;
        let places: Vec<_> = places.iter().map(DVec3::to_array).collect();
        write!(line, "\"{name}\": {{\"count\": {count}, \"places\": {places:?}}}, ")?;
    }
    let pieces: Vec<String> = found.pieces.iter().map(piece).collect();
    write!(line, "\"cut_short\": {}, \"pieces\": [{}], ", found.cut_short, pieces.join(", "))?;
    let problem = check(&mesh).err().map(|problem| first_word(&problem));
    write!(line, "\"problem\": \"{}\", ", problem.unwrap_or_default())?;
    let cut = split_at_rail(&mesh);
    let part = |half: Option<Mesh>| half.map_or(0.0, |half| half.volume().value);
    match cut {
        Ok(halves) => {
            write!(line, "\"halves\": [{:?}, {:?}], ", part(halves.below), part(halves.above))?;
        }
        Err(fault) => write!(line, "\"halves\": {}, ", cut_fault(&fault))?,
    }
    match hollow_below_rail(&mesh) {
        Ok(hollow) => write!(line, "\"hollow\": {:?}", hollow.body.volume().value)?,
        Err(fault) => write!(line, "\"hollow\": {}", cut_fault(&fault))?,
    }
    Ok(line + "}")
}

fn piece(piece: &Piece) -> String {
    format!(
        "{{\"faces\": {}, \"volume\": {:?}, \"at\": {:?}, \"depth\": {}, \"right\": {}}}",
        piece.faces,
        piece.volume.value,
        piece.at.to_array(),
        piece.depth,
        piece.is_turned_right()
    )
}

fn cut_fault(fault: &CutError) -> String {
    format!("\"{}\"", first_word(fault))
}

/// The name of a variant, without what it holds.
fn first_word(what: &impl Debug) -> String {
    let word = format!("{what:?}");
    word.split([' ', '{', '(']).next().unwrap_or_default().to_owned()
}

fn told(space: &OilSpace, row: [f64; 10]) -> Result<String, LevelError> {
    let [x, y, z, share, at_x, at_y, at_z, diameter, need, azimuth] = row;
    let metres = Length::new::<meter>;
    let up = DVec3::new(x, y, z);
    let volume = space.capacity() * share;
    let level = space.level(up, volume, None)?;
    let moments = space.moments(up, level);
    let mouth = Mouth {
        centre: DVec3::new(at_x, at_y, at_z),
        normal: DVec3::NEG_Z,
        diameter: metres(diameter),
    };
    let toward = DVec3::new(libm::cos(azimuth), libm::sin(azimuth), 0.0);
    let ray = Ray { level: DVec3::Z, toward };
    let reach = space.steepest(&mouth, metres(need), volume, &ray, Angle::new::<degree>(60.0))?;
    let tilt = match reach {
        Reach::Until { tilt, .. } => tilt.value,
        _ => f64::NAN,
    };
    let (oil, surface) =
        (moments.centroid.unwrap_or(DVec3::NAN), moments.surface_centroid.unwrap_or(DVec3::NAN));
    let mut cells = vec![level.value, moments.volume.value];
    cells.extend(oil.to_array());
    cells.push(moments.surface.value);
    cells.extend(surface.to_array());
    cells.extend(moments.second.map(|second| second.value));
    cells.extend([space.least_volume(&mouth, metres(need), up).value, tilt]);
    Ok(cells.iter().map(|cell| format!("{cell:?}")).collect::<Vec<String>>().join(" "))
}
