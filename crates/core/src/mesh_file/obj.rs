//! Wavefront OBJ: vertices and faces; names, materials, normals and texture are passed over.

use super::{
    MOST_TRIANGLES, MeshFile, MeshFileError, MeshFormat, coordinate, in_line, shortened, text,
    too_many,
};
use glam::DVec3;

/// Words whose lines say nothing of the shape.
const PASSED_OVER: [&str; 16] = [
    "vt",
    "vn",
    "o",
    "g",
    "s",
    "usemtl",
    "mtllib",
    "l",
    "p",
    "lod",
    "bevel",
    "c_interp",
    "d_interp",
    "shadow_obj",
    "trace_obj",
    "maplib",
];

pub(super) fn read(bytes: &[u8]) -> Result<MeshFile, MeshFileError> {
    let mut mesh = MeshFile { format: MeshFormat::Obj, ..MeshFile::default() };
    let mut lines = (1_u64..).zip(text(bytes)?.lines());
    while let Some((line, row)) = lines.next() {
        // A line that ends in a backslash goes on in the next.
        let mut joined = String::new();
        let mut row = row;
        while let Some(before) = row.trim_end().strip_suffix('\\') {
            joined.push_str(before);
            joined.push(' ');
            row = lines.next().map_or("", |(_, next)| next);
        }
        joined.push_str(row);
        let bare = joined.split_once('#').map_or(joined.as_str(), |(bare, _)| bare);
        let mut words = bare.split_ascii_whitespace();
        match words.next() {
            None => {}
            Some("v") => {
                let corner = vertex(words).map_err(|what| in_line(line, what))?;
                mesh.points.push(corner);
            }
            Some("f") => {
                face(&mut mesh, words).map_err(|what| in_line(line, what))?;
            }
            Some(word) if PASSED_OVER.contains(&word) => {}
            Some(word @ ("curv" | "curv2" | "surf" | "cstype" | "vp")) => {
                let what = format!(
                    "`{word}`: free-form curves and surfaces are not read; export triangles"
                );
                return Err(in_line(line, what));
            }
            Some(word) => {
                let what = format!(
                    "`{}` is no word of an OBJ file that this program knows",
                    shortened(word)
                );
                return Err(in_line(line, what));
            }
        }
    }
    Ok(mesh)
}

/// Three coordinates; a weight or a colour after them is passed over.
fn vertex<'a>(mut words: impl Iterator<Item = &'a str>) -> Result<DVec3, String> {
    let mut next = || match words.next() {
        Some(word) => coordinate(word),
        None => Err("a vertex has three coordinates, and this has fewer".to_owned()),
    };
    Ok(DVec3::new(next()?, next()?, next()?))
}

fn face<'a>(mesh: &mut MeshFile, words: impl Iterator<Item = &'a str>) -> Result<(), String> {
    let corners =
        words.map(|word| corner(word, mesh.points.len())).collect::<Result<Vec<u32>, String>>()?;
    let [first, rest @ ..] = corners.as_slice() else {
        return Err("a face without corners".to_owned());
    };
    if rest.len() < 2 {
        return Err(format!("a face of {} corners; it needs three or more", corners.len()));
    }
    if rest.len() > 2 && !is_convex(mesh, &corners) {
        return Err(format!(
            "a face of {} corners that is not convex can be cut into triangles in more than one way; export triangles",
            corners.len()
        ));
    }
    if mesh.faces.len() + rest.len() - 1 > MOST_TRIANGLES {
        return Err(too_many());
    }
    for pair in rest.windows(2) {
        if let &[second, third] = pair {
            mesh.faces.push([*first, second, third]);
        }
    }
    Ok(())
}

/// The corner of `7`, `7/2`, `7//3` or `-1`, from 0.
fn corner(word: &str, count: usize) -> Result<u32, String> {
    let number = word.split('/').next().unwrap_or(word);
    let Ok(number) = number.parse::<i64>() else {
        return Err(format!("`{}` names no vertex", shortened(word)));
    };
    let count = i64::try_from(count).unwrap_or(i64::MAX);
    let from_zero = if number > 0 { number - 1 } else { count + number };
    if number == 0 || from_zero < 0 || from_zero >= count {
        return Err(format!("vertex {number} does not exist: {count} stand before this line"));
    }
    u32::try_from(from_zero).map_err(|_| too_many())
}

/// Whether every corner turns the same way about the face's normal.
fn is_convex(mesh: &MeshFile, corners: &[u32]) -> bool {
    let place = |corner: &u32| mesh.points.get(*corner as usize).copied().unwrap_or_default();
    let points: Vec<DVec3> = corners.iter().map(place).collect();
    let Some(&origin) = points.first() else { return false };
    let next = || points.iter().cycle().skip(1);
    let normal: DVec3 =
        points.iter().zip(next()).map(|(a, b)| (*a - origin).cross(*b - origin)).sum();
    let size = normal.length();
    points
        .iter()
        .zip(next())
        .zip(points.iter().cycle().skip(2))
        .all(|((a, b), c)| (*b - *a).cross(*c - *b).dot(normal) >= -1e-9 * size * size)
}
