//! Each format against the crate that others read it with, and every refusal with its place.

use super::*;
use std::fmt::Write;
use std::io::Cursor;

const TETRAHEDRON: [[f64; 3]; 4] =
    [[0.0, 0.0, -10.0], [30.0, 0.0, -10.0], [0.0, 20.0, -10.0], [1.5, 2.25, 0.0]];
const FACES: [[u32; 3]; 4] = [[0, 2, 1], [0, 1, 3], [1, 2, 3], [2, 0, 3]];

fn corners(mesh: &MeshFile) -> Vec<[[f64; 3]; 3]> {
    let corner = |at: u32| mesh.points[at as usize].to_array();
    mesh.faces.iter().map(|face| face.map(corner)).collect()
}

fn expected() -> Vec<[[f64; 3]; 3]> {
    FACES.iter().map(|face| face.map(|at| TETRAHEDRON[at as usize])).collect()
}

fn binary(header: &[u8]) -> Vec<u8> {
    let mut bytes = header.to_vec();
    bytes.resize(80, b' ');
    bytes.extend(4_u32.to_le_bytes());
    for face in expected() {
        bytes.extend([0; 12]);
        for number in face.iter().flatten() {
            #[expect(
                clippy::cast_possible_truncation,
                reason = "the numbers are exact in 32 bits"
            )]
            bytes.extend((*number as f32).to_le_bytes());
        }
        bytes.extend([0; 2]);
    }
    bytes
}

fn text_stl() -> String {
    let mut text = "solid tetrahedron\n".to_owned();
    for face in expected() {
        text.push_str("  facet normal 0 0 0\n    outer loop\n");
        for [x, y, z] in face {
            writeln!(text, "      vertex {x} {y:e} {z}").unwrap();
        }
        text.push_str("    endloop\n  endfacet\n");
    }
    text + "endsolid tetrahedron\n"
}

fn obj() -> String {
    let mut text = "# a body\no body\n".to_owned();
    for [x, y, z] in TETRAHEDRON {
        writeln!(text, "v {x} {y} {z}").unwrap();
    }
    text + "vn 0 0 1\nf 1//1 3//1 2//1\nf 1 2 \\\n4\nf -3 -2 -1\nf 3 1 4\n"
}

fn archive(parts: &[(&str, &str)]) -> Vec<u8> {
    let mut zip = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in parts {
        zip.start_file(*name, zip::write::SimpleFileOptions::default()).unwrap();
        std::io::Write::write_all(&mut zip, text.as_bytes()).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

fn model(unit: &str, build: &str) -> String {
    let vertices =
        TETRAHEDRON.map(|[x, y, z]| format!("<vertex x=\"{x}\" y=\"{y}\" z=\"{z}\"/>\n"));
    let triangles =
        FACES.map(|[a, b, c]| format!("<triangle v1=\"{a}\" v2=\"{b}\" v3=\"{c}\"/>\n"));
    format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<model unit=\"{unit}\" xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n\
         <resources>\n<object id=\"1\" type=\"model\"><mesh><vertices>\n{}</vertices><triangles>\n{}</triangles></mesh></object>\n\
         <object id=\"2\"><components><component objectid=\"1\" transform=\"1 0 0 0 1 0 0 0 1 5 0 0\"/></components></object>\n\
         </resources>\n<build>{build}</build></model>\n",
        vertices.concat(),
        triangles.concat()
    )
}

fn error(name: &str, bytes: &[u8]) -> String {
    read_mesh(name, bytes).expect_err("it is broken").to_string()
}

#[test]
fn binary_stl_is_read_as_stl_io_reads_it_whatever_its_header_says() {
    for header in [&b"exported"[..], b"solid exported"] {
        let bytes = binary(header);
        let mesh = read_mesh("a.STL", &bytes).unwrap();
        assert_eq!(mesh.format, MeshFormat::StlBinary);
        assert_eq!(corners(&mesh), expected());
        // It goes by the first word alone, so only the honest header can be compared.
        if header == b"exported" {
            let theirs = stl_io::read_stl(&mut Cursor::new(&bytes)).unwrap();
            let place = |at: usize| theirs.vertices[at].0.map(f64::from);
            let theirs: Vec<_> = theirs.faces.iter().map(|face| face.vertices.map(place)).collect();
            assert_eq!(corners(&mesh), theirs);
        }
    }
}

#[test]
fn text_stl_keeps_every_digit() {
    let text = text_stl().replace("vertex 1.5 ", "vertex 62.4000000001 ").to_uppercase();
    let mesh = read_mesh("a.stl", text.as_bytes()).unwrap();
    assert_eq!(mesh.format, MeshFormat::StlText);
    assert!(
        corners(&mesh).iter().flatten().any(|p| p[0].to_bits() == 62.400_000_000_1_f64.to_bits())
    );
    assert_eq!(corners(&read_mesh("a.stl", text_stl().as_bytes()).unwrap()), expected());
    let theirs = stl_io::read_stl(&mut Cursor::new(text_stl())).unwrap();
    assert_eq!(theirs.faces.len(), mesh.faces.len());
}

#[test]
fn obj_is_read_as_tobj_reads_it() {
    let mesh = read_mesh("a.obj", obj().as_bytes()).unwrap();
    assert_eq!(corners(&mesh), expected());
    let options = tobj::LoadOptions { triangulate: true, ..tobj::LoadOptions::default() };
    let plain = obj().replace("\\\n", "");
    let no_materials = |_: &std::path::Path| Err(tobj::LoadError::OpenFileFailed);
    let (models, _) = tobj::load_obj_buf(&mut Cursor::new(plain), &options, no_materials).unwrap();
    let theirs = &models[0].mesh;
    let place = |at: &u32| {
        let at = 3 * *at as usize;
        [theirs.positions[at], theirs.positions[at + 1], theirs.positions[at + 2]]
    };
    let theirs: Vec<_> =
        theirs.indices.chunks(3).map(|f| [place(&f[0]), place(&f[1]), place(&f[2])]).collect();
    assert_eq!(corners(&mesh), theirs);
}

#[test]
fn a_convex_face_of_four_becomes_two_triangles_and_another_is_refused() {
    let square = "v 0 0 0\nv 2 0 0\nv 2 2 0\nv 0 2 0\nv 0.5 0.5 0\n";
    assert_eq!(
        read_mesh("a.obj", format!("{square}f 1 2 3 4\n").as_bytes()).unwrap().faces.len(),
        2
    );
    let said = error("a.obj", format!("{square}f 1 2 5 4\nf 1 2 5 4\n").as_bytes());
    assert!(said.starts_with("in line 6: ") && said.contains("not convex"), "{said}");
}

#[test]
fn a_model_of_3mf_is_put_together_in_its_own_unit() {
    let build = "<item objectid=\"2\" transform=\"-1 0 0 0 1 0 0 0 1 0 0 7\"/>";
    let text = model("inch", build);
    let rels = "<Relationships><Relationship Target=\"/3D/other.model\" Id=\"r\" \
                Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/></Relationships>";
    for parts in [
        vec![("3D/3dmodel.model", text.as_str())],
        vec![("_rels/.rels", rels), ("3D/other.model", text.as_str())],
    ] {
        let mesh = read_mesh("a.3mf", &archive(&parts)).unwrap();
        assert_eq!(mesh.unit, Some((0.0254, "in")));
        // Moved by 5 along x, mirrored in x, moved by 7 along z; a mirrored face is turned back.
        assert_eq!(mesh.points[1], DVec3::new(-35.0, 0.0, -3.0));
        assert_eq!(mesh.faces[0], [0, 1, 2]);
    }
}

#[test]
fn a_file_that_lies_or_breaks_off_is_refused_at_its_place() {
    let mut lying = binary(b"exported");
    lying[80..84].copy_from_slice(&u32::MAX.to_le_bytes());
    let said = error("a.stl", &lying);
    assert!(said.starts_with("at byte 80: the header promises 4294967295 triangles"), "{said}");
    let whole = binary(b"exported");
    let said = error("a.stl", &whole[..whole.len() - 10]);
    assert!(said.contains("is cut off"), "{said}");
    let mut bad = whole.clone();
    bad[84 + 50 + 24..84 + 50 + 28].copy_from_slice(&f32::NAN.to_le_bytes());
    let said = error("a.stl", &bad);
    assert_eq!(said, "at byte 158: a corner of triangle 2 is not at a finite place within reach");
    let text = text_stl();
    for (from, to, wanted) in [
        ("vertex 30 ", "vertex nan ", "in line 6: the coordinate nan is not a finite number"),
        (
            "vertex 30 ",
            "vertex 1e300 ",
            "in line 6: the coordinate 1e300 is farther out than any pan",
        ),
        ("vertex 30 ", "vertex 30,5 ", "in line 6: `30,5` is not a number"),
        (
            "endfacet\nendsolid",
            "endsolid",
            "in line 29: `endsolid` was not expected; `endfacet` was",
        ),
        ("endsolid tetrahedron\n", "", "in line 29: the file ends here; `facet` or `endsolid` was"),
    ] {
        let said = error("a.stl", text.replacen(from, to, 1).as_bytes());
        assert_eq!(said, wanted, "{from} → {to}");
    }
    assert_eq!(error("a.stl", b"solid a\nendsolid a\n"), "it holds no triangles");
    assert_eq!(error("a.stl", &[0; 84]), "it holds no triangles");
    assert!(error("a.stl", b"hello").contains("too few"));
    assert_eq!(error("a.step", b"hello"), "its name ends in none of .stl, .obj and .3mf");
    assert!(
        error("a.obj", b"v 0 0 0\nf 1 2 3\n").starts_with("in line 2: vertex 2 does not exist")
    );
    assert!(error("a.obj", b"v 0 0\n").starts_with("in line 1: a vertex has three"));
    assert!(error("a.obj", b"v 0 0 0\ncurv 1 2\n").contains("free-form"));
    assert!(error("a.stl", &archive(&[])).len() > 10);
    assert!(error("a.3mf", b"PK\x03\x04").contains("zip archive"));
    assert!(error("a.3mf", &archive(&[("x", "y")])).contains("3D/3dmodel.model"));
    let bare = model("millimeter", "");
    assert!(error("a.3mf", &archive(&[("3D/3dmodel.model", &bare)])).contains("builds nothing"));
    for (from, to, wanted) in [
        ("v3=\"3\"", "v3=\"9\"", "vertex 9 does not exist"),
        ("unit=\"millimeter\"", "unit=\"cubit\"", "no unit"),
        ("objectid=\"1\"", "objectid=\"7\"", "no object `7`"),
        ("objectid=\"1\"", "objectid=\"2\"", "deep"),
        ("x=\"30\"", "x=\"inf\"", "not a finite number"),
        ("1 0 0 0 1 0 0 0 1 5 0 0", "1 0 0", "3 numbers, not twelve"),
        ("</mesh>", "</mash>", "XML is broken"),
    ] {
        let text = model("millimeter", "<item objectid=\"2\"/>").replacen(from, to, 1);
        let said = error("a.3mf", &archive(&[("3D/3dmodel.model", &text)]));
        assert!(said.contains(wanted), "{from} → {to}: {said}");
    }
}

proptest::proptest! {
    #[test]
    fn no_bytes_panic(name in "a\\.(stl|obj|3mf)", bytes in proptest::collection::vec(proptest::num::u8::ANY, 0..400)) {
        let _ = read_mesh(&name, &bytes);
    }

    #[test]
    fn no_words_panic(words in proptest::collection::vec(
        proptest::sample::select(vec!["solid", "facet", "vertex", "outer", "endloop", "v", "f", "1", "-1", "1e9", "\n", "\\", "#", "/"]), 0..60)
    ) {
        let text = words.join(" ");
        let _ = read_mesh("a.stl", text.as_bytes());
        let _ = read_mesh("a.obj", text.as_bytes());
    }
}
