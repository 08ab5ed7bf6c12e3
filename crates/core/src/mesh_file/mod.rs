//! Mesh files to triangles: STL, OBJ and 3MF, from bytes that the host lends.
//!
//! Whatever the bytes, the answer is triangles with finite corners in the file's own unit, or one error with the
//! place in the file. Nothing is mended here, and no format gives more than positions and faces.

mod obj;
mod stl;
#[cfg(test)]
mod tests;
mod three_mf;

use glam::DVec3;

/// More triangles are refused: they need more memory than a review should take.
pub const MOST_TRIANGLES: usize = 4_000_000;
/// A coordinate farther from the origin than this, in the file's unit, is a mistake of the file.
const FARTHEST: f64 = 1e9;

/// What a mesh file holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct MeshFile {
    /// Corner positions in the file's unit.
    pub points: Vec<DVec3>,
    /// Three positions in `points` a face.
    pub faces: Vec<[u32; 3]>,
    /// The length of its unit in metres and its name, where the format carries one.
    pub unit: Option<(f64, &'static str)>,
    /// Which format it was.
    pub format: MeshFormat,
}

/// The formats.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum MeshFormat {
    /// STL in binary form.
    #[default]
    StlBinary,
    /// STL as text.
    StlText,
    /// Wavefront OBJ.
    Obj,
    /// 3MF.
    ThreeMf,
}

impl MeshFormat {
    /// Its name for a sentence.
    pub fn name(self) -> &'static str {
        match self {
            Self::StlBinary => "binary STL",
            Self::StlText => "text STL",
            Self::Obj => "OBJ",
            Self::ThreeMf => "3MF",
        }
    }
}

/// Why a mesh file cannot be read, and where in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MeshFileError {
    /// The place.
    pub at: FilePlace,
    /// What is wrong there, in words for a sentence.
    pub what: String,
}

/// A place in a mesh file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FilePlace {
    /// The file as a whole.
    Whole,
    /// A byte, counted from 0.
    Byte(u64),
    /// A line of text, counted from 1.
    Line(u64),
    /// A line of a text within an archive, counted from 1.
    Entry(String, u64),
}

impl std::fmt::Display for MeshFileError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.at {
            FilePlace::Whole => write!(f, "{}", self.what),
            FilePlace::Byte(byte) => write!(f, "at byte {byte}: {}", self.what),
            FilePlace::Line(line) => write!(f, "in line {line}: {}", self.what),
            FilePlace::Entry(name, line) => {
                write!(f, "in line {line} of its {name}: {}", self.what)
            }
        }
    }
}

fn whole(what: impl Into<String>) -> MeshFileError {
    MeshFileError { at: FilePlace::Whole, what: what.into() }
}

fn in_line(line: u64, what: impl Into<String>) -> MeshFileError {
    MeshFileError { at: FilePlace::Line(line), what: what.into() }
}

/// Reads a mesh file; its format is told by the end of its name, and for STL by what it holds.
///
/// # Errors
/// Says what is wrong and where in the file.
pub fn read_mesh(name: &str, bytes: &[u8]) -> Result<MeshFile, MeshFileError> {
    let lower = name.to_ascii_lowercase();
    let ending = lower.rsplit_once('.').map_or("", |(_, ending)| ending);
    if bytes.is_empty() {
        return Err(whole("it is empty"));
    }
    let zipped = bytes.starts_with(b"PK\x03\x04");
    let mesh = match ending {
        "stl" | "obj" if zipped => {
            return Err(whole("it is a zip archive; a 3MF file's name ends in .3mf"));
        }
        "stl" => stl::read(bytes)?,
        "obj" => obj::read(bytes)?,
        "3mf" => three_mf::read(bytes)?,
        _ => return Err(whole("its name ends in none of .stl, .obj and .3mf")),
    };
    if mesh.faces.is_empty() {
        return Err(whole("it holds no triangles"));
    }
    Ok(mesh)
}

/// Text of a text format; the place of the first byte that is none.
fn text(bytes: &[u8]) -> Result<&str, MeshFileError> {
    std::str::from_utf8(bytes).map_err(|error| MeshFileError {
        at: FilePlace::Byte(error.valid_up_to() as u64),
        what: "this byte is no UTF-8 text".to_owned(),
    })
}

/// A coordinate as written: finite, and within reach.
fn coordinate(word: &str) -> Result<f64, String> {
    match word.parse::<f64>() {
        Ok(value) if value.abs() <= FARTHEST => Ok(value),
        Ok(value) if value.is_finite() => {
            Err(format!("the coordinate {word} is farther out than any pan"))
        }
        Ok(_) => Err(format!("the coordinate {word} is not a finite number")),
        Err(_) => Err(format!("`{}` is not a number", shortened(word))),
    }
}

/// Whether a position is finite and within reach.
fn within_reach(point: DVec3) -> bool {
    point.to_array().iter().all(|x| x.abs() <= FARTHEST)
}

/// A word of a file for a sentence: no more of it than can be read.
fn shortened(word: &str) -> String {
    let mut cut: String = word.chars().take(24).filter(|c| !c.is_control()).collect();
    if word.chars().nth(24).is_some() {
        cut.push('…');
    }
    cut
}

fn too_many() -> String {
    format!("it holds more than {MOST_TRIANGLES} triangles, which is the limit")
}
