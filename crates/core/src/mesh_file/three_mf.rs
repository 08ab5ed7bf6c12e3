//! 3MF: a zip archive whose model part holds vertices and triangles as XML, with its unit.
//!
//! Read are meshes, components and the items of the build, each with its transform. An archive may be signed or
//! textured; what of that bears no shape is passed over.

use super::{
    FilePlace, MOST_TRIANGLES, MeshFile, MeshFileError, MeshFormat, coordinate, shortened,
    too_many, whole, within_reach,
};
use glam::{DMat3, DVec3};
use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};
use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// Largest part of an archive once unpacked, in bytes: a small archive can unpack to any size.
const LARGEST_PART: u64 = 1 << 30;
/// Objects may be made of objects this deep.
const DEEPEST: usize = 16;
/// Objects are put in place this often, at most: a few objects of objects could ask for any number.
const MOST_STEPS: usize = 100_000;
/// Where the model is when nothing says otherwise.
const USUAL_PART: &str = "3D/3dmodel.model";
/// What a relationship to the model is called by the core specification.
const MODEL_TYPE: &str = "http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel";

/// The units of the core specification, in metres.
const UNITS: [(&str, f64, &str); 6] = [
    ("micron", 1e-6, "µm"),
    ("millimeter", 1e-3, "mm"),
    ("centimeter", 1e-2, "cm"),
    ("inch", 0.0254, "in"),
    ("foot", 0.3048, "ft"),
    ("meter", 1.0, "m"),
];

pub(super) fn read(bytes: &[u8]) -> Result<MeshFile, MeshFileError> {
    let mut archive = ZipArchive::new(Cursor::new(bytes))
        .map_err(|error| whole(format!("it is no 3MF file, which is a zip archive: {error}")))?;
    let name = match unpacked(&mut archive, "_rels/.rels") {
        Ok(text) => model_part(&text)?,
        Err(_) => USUAL_PART.to_owned(),
    };
    let text = unpacked(&mut archive, &name)?;
    let model = Model::read(&name, &text)?;
    model.assembled()
}

fn unpacked(archive: &mut ZipArchive<Cursor<&[u8]>>, name: &str) -> Result<String, MeshFileError> {
    let entry = archive
        .by_name(name)
        .map_err(|error| whole(format!("its part {} cannot be had: {error}", shortened(name))))?;
    let mut text = Vec::new();
    entry.take(LARGEST_PART + 1).read_to_end(&mut text).map_err(|error| {
        whole(format!("its part {} cannot be unpacked: {error}", shortened(name)))
    })?;
    if text.len() as u64 > LARGEST_PART {
        return Err(whole(format!(
            "its part {} unpacks to more than {LARGEST_PART} bytes",
            shortened(name)
        )));
    }
    String::from_utf8(text)
        .map_err(|_| whole(format!("its part {} is no UTF-8 text", shortened(name))))
}

/// The part that the archive's relationships call the model.
fn model_part(text: &str) -> Result<String, MeshFileError> {
    let mut walk = Walk::new("_rels/.rels", text);
    while let Some(tag) = walk.next()? {
        if let Tag::Open(name, line, attributes) = tag
            && name == "Relationship"
            && attributes.get("Type").is_some_and(|kind| kind == MODEL_TYPE)
        {
            let target = attributes.get("Target").cloned().unwrap_or_default();
            if target.is_empty() {
                return Err(walk.error(line, "the relationship to the model has no target"));
            }
            return Ok(target.trim_start_matches('/').to_owned());
        }
    }
    Ok(USUAL_PART.to_owned())
}

/// What a document says of a place: rotation and scale by columns, and a shift.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Transform {
    turn: DMat3,
    shift: DVec3,
}

impl Transform {
    const NONE: Self = Self { turn: DMat3::IDENTITY, shift: DVec3::ZERO };

    fn apply(&self, point: DVec3) -> DVec3 {
        self.turn * point + self.shift
    }

    /// First the other, then this.
    fn after(&self, inner: &Self) -> Self {
        Self { turn: self.turn * inner.turn, shift: self.apply(inner.shift) }
    }
}

#[derive(Debug, Default)]
struct Object {
    points: Vec<DVec3>,
    faces: Vec<[u32; 3]>,
    components: Vec<(String, Transform, u64)>,
    /// Only material that is printed and thrown away, or an aid: no part of the body.
    aside: bool,
}

struct Model {
    name: String,
    unit: (f64, &'static str),
    objects: BTreeMap<String, Object>,
    items: Vec<(String, Transform, u64)>,
}

impl Model {
    fn read(name: &str, text: &str) -> Result<Self, MeshFileError> {
        let mut model = Self {
            name: name.to_owned(),
            unit: (1e-3, "mm"),
            objects: BTreeMap::new(),
            items: Vec::new(),
        };
        let mut walk = Walk::new(name, text);
        let mut current: Option<(String, Object)> = None;
        let mut triangles = 0_usize;
        while let Some(tag) = walk.next()? {
            let (tag, line, attributes) = match tag {
                Tag::Close(tag) => {
                    if tag == "object"
                        && let Some((id, object)) = current.take()
                    {
                        model.objects.insert(id, object);
                    }
                    continue;
                }
                Tag::Open(tag, line, attributes) => (tag, line, attributes),
            };
            let reference = |key: &str| attributes.get(key).cloned().unwrap_or_default();
            match (tag.as_str(), &mut current) {
                ("model", _) => {
                    if let Some(unit) = attributes.get("unit") {
                        let known = UNITS.iter().find(|(word, ..)| word == unit);
                        let (_, metres, symbol) = known.ok_or_else(|| {
                            walk.error(line, format!("`{}` is no unit of 3MF", shortened(unit)))
                        })?;
                        model.unit = (*metres, *symbol);
                    }
                }
                ("object", _) => {
                    let aside = attributes.get("type").is_some_and(|kind| {
                        matches!(kind.as_str(), "support" | "solidsupport" | "other")
                    });
                    current = Some((reference("id"), Object { aside, ..Object::default() }));
                }
                ("vertex", Some((_, object))) => {
                    let point = ["x", "y", "z"].map(|axis| number(&attributes, axis));
                    let [x, y, z] = point;
                    let point = (|| Ok(DVec3::new(x?, y?, z?)))();
                    object.points.push(point.map_err(|what: String| walk.error(line, what))?);
                    if object.points.len() > 3 * MOST_TRIANGLES {
                        return Err(walk.error(line, too_many()));
                    }
                }
                ("triangle", Some((_, object))) => {
                    let count = object.points.len();
                    let face = ["v1", "v2", "v3"].map(|key| corner(&attributes, key, count));
                    let [a, b, c] = face;
                    let face = (|| Ok([a?, b?, c?]))();
                    object.faces.push(face.map_err(|what: String| walk.error(line, what))?);
                    triangles += 1;
                    if triangles > MOST_TRIANGLES {
                        return Err(walk.error(line, too_many()));
                    }
                }
                ("component" | "item", _)
                    if attributes.keys().any(|key| key.ends_with(":path")) =>
                {
                    let what = "an object in another part of the archive, which is not read; export one part";
                    return Err(walk.error(line, what));
                }
                ("component", Some((_, object))) => {
                    let at = transform(&attributes).map_err(|what| walk.error(line, what))?;
                    object.components.push((reference("objectid"), at, line));
                }
                ("item", _) => {
                    let at = transform(&attributes).map_err(|what| walk.error(line, what))?;
                    model.items.push((reference("objectid"), at, line));
                }
                _ => {}
            }
        }
        Ok(model)
    }

    /// Every item of the build, with all it is made of, put in its place.
    fn assembled(&self) -> Result<MeshFile, MeshFileError> {
        let mut mesh =
            MeshFile { unit: Some(self.unit), format: MeshFormat::ThreeMf, ..MeshFile::default() };
        if self.items.is_empty() {
            return Err(whole("its model builds nothing: it has no items"));
        }
        let mut steps = 0;
        for (id, at, line) in &self.items {
            self.add(&mut mesh, (id, *at, *line), 0, &mut steps)?;
        }
        Ok(mesh)
    }

    fn add(
        &self,
        mesh: &mut MeshFile,
        (id, at, line): (&str, Transform, u64),
        depth: usize,
        steps: &mut usize,
    ) -> Result<(), MeshFileError> {
        let error =
            |what: String| MeshFileError { at: FilePlace::Entry(self.name.clone(), line), what };
        let object = self
            .objects
            .get(id)
            .ok_or_else(|| error(format!("there is no object `{}`", shortened(id))))?;
        if depth > DEEPEST {
            return Err(error(format!("objects are made of objects more than {DEEPEST} deep")));
        }
        *steps += 1;
        if *steps > MOST_STEPS {
            return Err(error(format!("more than {MOST_STEPS} objects are put together")));
        }
        if object.aside {
            return Ok(());
        }
        if mesh.faces.len() + object.faces.len() > MOST_TRIANGLES {
            return Err(error(too_many()));
        }
        let first = u32::try_from(mesh.points.len()).map_err(|_| error(too_many()))?;
        // A transform that mirrors turns a body inside out unless its faces are turned back.
        let mirrored = at.turn.determinant() < 0.0;
        for point in &object.points {
            let point = at.apply(*point);
            if !within_reach(point) {
                return Err(error("a transform puts a vertex out of reach".to_owned()));
            }
            mesh.points.push(point);
        }
        mesh.faces.extend(object.faces.iter().map(|face| {
            let [a, b, c] = face.map(|corner| corner + first);
            if mirrored { [a, c, b] } else { [a, b, c] }
        }));
        for (inner, its, line) in &object.components {
            self.add(mesh, (inner, at.after(its), *line), depth + 1, steps)?;
        }
        Ok(())
    }
}

type Attributes = BTreeMap<String, String>;

fn number(attributes: &Attributes, key: &str) -> Result<f64, String> {
    attributes
        .get(key)
        .map_or_else(|| Err(format!("a vertex without `{key}`")), |word| coordinate(word))
}

fn corner(attributes: &Attributes, key: &str, count: usize) -> Result<u32, String> {
    let word = attributes.get(key).ok_or_else(|| format!("a triangle without `{key}`"))?;
    match word.parse::<u32>() {
        Ok(corner) if (corner as usize) < count => Ok(corner),
        Ok(corner) => {
            Err(format!("vertex {corner} does not exist: there are {count}, counted from 0"))
        }
        Err(_) => Err(format!("`{}` names no vertex", shortened(word))),
    }
}

/// Twelve numbers: three rows of the turn, then the shift; a row is what an axis of the inner thing becomes.
fn transform(attributes: &Attributes) -> Result<Transform, String> {
    let Some(written) = attributes.get("transform") else { return Ok(Transform::NONE) };
    let numbers =
        written.split_ascii_whitespace().map(coordinate).collect::<Result<Vec<f64>, _>>()?;
    let &[a, b, c, d, e, f, g, h, i, x, y, z] = numbers.as_slice() else {
        return Err(format!("a transform of {} numbers, not twelve", numbers.len()));
    };
    let turn = DMat3::from_cols(DVec3::new(a, b, c), DVec3::new(d, e, f), DVec3::new(g, h, i));
    Ok(Transform { turn, shift: DVec3::new(x, y, z) })
}

enum Tag {
    Open(String, u64, Attributes),
    Close(String),
}

/// The tags of an XML text, each with its line.
struct Walk<'t> {
    name: &'t str,
    text: &'t str,
    reader: Reader<&'t [u8]>,
    /// Up to where lines were counted, and how many.
    counted: (usize, u64),
    closing: Option<String>,
}

impl<'t> Walk<'t> {
    fn new(name: &'t str, text: &'t str) -> Self {
        let reader = Reader::from_str(text);
        Self { name, text, reader, counted: (0, 1), closing: None }
    }

    fn error(&self, line: u64, what: impl Into<String>) -> MeshFileError {
        MeshFileError { at: FilePlace::Entry(self.name.to_owned(), line), what: what.into() }
    }

    fn line(&mut self) -> u64 {
        let at = usize::try_from(self.reader.buffer_position()).unwrap_or(usize::MAX);
        let (from, lines) = self.counted;
        let passed = self.text.as_bytes().get(from..at).unwrap_or_default();
        let more = passed.split(|byte| *byte == b'\n').count().saturating_sub(1) as u64;
        self.counted = (at, lines + more);
        self.counted.1
    }

    fn next(&mut self) -> Result<Option<Tag>, MeshFileError> {
        if let Some(name) = self.closing.take() {
            return Ok(Some(Tag::Close(name)));
        }
        loop {
            let event = self.reader.read_event();
            let line = self.line();
            match event {
                Ok(Event::Start(tag)) => return self.opened(&tag, line).map(Some),
                Ok(Event::Empty(tag)) => {
                    self.closing = Some(bare_name(&tag));
                    return self.opened(&tag, line).map(Some);
                }
                Ok(Event::End(tag)) => {
                    return Ok(Some(Tag::Close(words(tag.local_name().as_ref()))));
                }
                Ok(Event::Eof) => return Ok(None),
                Ok(_) => {}
                Err(error) => return Err(self.error(line, format!("the XML is broken: {error}"))),
            }
        }
    }

    fn opened(&self, tag: &BytesStart<'_>, line: u64) -> Result<Tag, MeshFileError> {
        let mut attributes = Attributes::new();
        for attribute in tag.attributes() {
            let attribute = attribute
                .map_err(|error| self.error(line, format!("the XML is broken: {error}")))?;
            attributes.insert(words(attribute.key.as_ref()), words(&attribute.value));
        }
        Ok(Tag::Open(bare_name(tag), line, attributes))
    }
}

fn bare_name(tag: &BytesStart<'_>) -> String {
    words(tag.local_name().as_ref())
}

fn words(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}
