//! STL, binary and text. A header says little: binary files whose first word is `solid` are common, so the length
//! of the file decides.

use super::{
    FilePlace, MOST_TRIANGLES, MeshFile, MeshFileError, MeshFormat, coordinate, in_line, shortened,
    text, too_many, whole, within_reach,
};
use glam::DVec3;

/// Bytes before the first triangle: 80 of header and the count.
const BEFORE: usize = 84;
/// Bytes of a triangle: a normal, three corners, two bytes of attributes.
const EACH: usize = 50;

pub(super) fn read(bytes: &[u8]) -> Result<MeshFile, MeshFileError> {
    let count = bytes.get(80..BEFORE).and_then(|four| four.try_into().ok()).map(u32::from_le_bytes);
    let promised = count.map(|count| BEFORE as u64 + EACH as u64 * u64::from(count));
    let length = bytes.len() as u64;
    if promised == Some(length) {
        return binary(bytes);
    }
    let start = bytes.iter().position(|byte| !byte.is_ascii_whitespace()).unwrap_or(0);
    let head = bytes.get(start..start + 5).unwrap_or_default();
    if head.eq_ignore_ascii_case(b"solid") && !bytes.iter().take(4096).any(|byte| *byte == 0) {
        return words(text(bytes)?);
    }
    match (count, promised) {
        (Some(count), Some(promised)) => {
            let more = if promised > length { "and is cut off" } else { "and holds more" };
            Err(MeshFileError {
                at: FilePlace::Byte(80),
                what: format!(
                    "the header promises {count} triangles, which are {promised} bytes; the file has {length} {more}"
                ),
            })
        }
        _ => Err(whole(format!(
            "it has {length} bytes, too few for a binary STL, and does not begin with `solid`"
        ))),
    }
}

fn binary(bytes: &[u8]) -> Result<MeshFile, MeshFileError> {
    let records = bytes.get(BEFORE..).unwrap_or_default().chunks_exact(EACH);
    if records.len() > MOST_TRIANGLES {
        return Err(MeshFileError { at: FilePlace::Byte(80), what: too_many() });
    }
    let mut mesh = MeshFile { format: MeshFormat::StlBinary, ..MeshFile::default() };
    mesh.points.reserve(3 * records.len());
    for (number, record) in records.enumerate() {
        let mut numbers = record.chunks_exact(4).map(|four| {
            four.try_into().map_or(f64::NAN, |four| f64::from(f32::from_le_bytes(four)))
        });
        let mut corner = || -> Option<DVec3> {
            Some(DVec3::new(numbers.next()?, numbers.next()?, numbers.next()?))
        };
        // The normal is for show: the order of the corners says which side is outside.
        let _ = corner();
        let corners = [corner(), corner(), corner()].map(Option::unwrap_or_default);
        if let Some(bad) = corners.iter().position(|p| !within_reach(*p)) {
            let byte = BEFORE + number * EACH + 12 * (bad + 1);
            return Err(MeshFileError {
                at: FilePlace::Byte(byte as u64),
                what: format!(
                    "a corner of triangle {} is not at a finite place within reach",
                    number + 1
                ),
            });
        }
        push(&mut mesh, corners);
    }
    Ok(mesh)
}

fn push(mesh: &mut MeshFile, corners: [DVec3; 3]) {
    // The limit on triangles keeps the count far below what 32 bits hold.
    let first = u32::try_from(mesh.points.len()).unwrap_or(u32::MAX);
    mesh.points.extend(corners);
    mesh.faces.push([first, first.saturating_add(1), first.saturating_add(2)]);
}

/// What a line of text STL may begin with, after what.
#[derive(Clone, Copy, PartialEq)]
enum Within {
    File,
    Solid,
    Facet,
    Loop,
    AfterLoop,
}

fn words(text: &str) -> Result<MeshFile, MeshFileError> {
    let mut mesh = MeshFile { format: MeshFormat::StlText, ..MeshFile::default() };
    let mut within = Within::File;
    let mut corners: Vec<DVec3> = Vec::with_capacity(3);
    let mut last = 0;
    for (line, row) in (1_u64..).zip(text.lines()) {
        last = line;
        let mut words = row.split_ascii_whitespace();
        let Some(first) = words.next() else { continue };
        let first = first.to_ascii_lowercase();
        within = match (within, first.as_str()) {
            (Within::File, "solid") | (Within::AfterLoop, "endfacet") => Within::Solid,
            (Within::Solid, "facet") => Within::Facet,
            (Within::Solid, "endsolid") => Within::File,
            (Within::Facet, "outer") => Within::Loop,
            (Within::Loop, "vertex") => {
                corners.push(vertex(words).map_err(|what| in_line(line, what))?);
                if corners.len() > 3 {
                    return Err(in_line(
                        line,
                        "a fourth vertex in one facet; STL holds triangles only",
                    ));
                }
                Within::Loop
            }
            (Within::Loop, "endloop") => {
                let Ok(three) = <[DVec3; 3]>::try_from(corners.as_slice()) else {
                    let what = format!("the facet has {} vertices, not three", corners.len());
                    return Err(in_line(line, what));
                };
                if mesh.faces.len() == MOST_TRIANGLES {
                    return Err(in_line(line, too_many()));
                }
                push(&mut mesh, three);
                corners.clear();
                Within::AfterLoop
            }
            _ => {
                let what =
                    format!("`{}` was not expected; {}", shortened(&first), expected(within));
                return Err(in_line(line, what));
            }
        };
    }
    match within {
        Within::File => Ok(mesh),
        _ => Err(in_line(last, format!("the file ends here; {}", expected(within)))),
    }
}

fn expected(within: Within) -> &'static str {
    match within {
        Within::File => "`solid` was",
        Within::Solid => "`facet` or `endsolid` was",
        Within::Facet => "`outer loop` was",
        Within::Loop => "`vertex` or `endloop` was",
        Within::AfterLoop => "`endfacet` was",
    }
}

fn vertex<'a>(mut words: impl Iterator<Item = &'a str>) -> Result<DVec3, String> {
    let mut next = || match words.next() {
        Some(word) => coordinate(word),
        None => Err("a vertex has three coordinates, and this has fewer".to_owned()),
    };
    let corner = DVec3::new(next()?, next()?, next()?);
    match words.next() {
        None => Ok(corner),
        Some(more) => Err(format!("`{}` after the three coordinates of a vertex", shortened(more))),
    }
}
