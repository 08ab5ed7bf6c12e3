//! A small invented repository in memory, what is declared of it, and the folder that a customer gets.

use std::collections::BTreeMap;
use sumpwright_core::confirm::{
    ConfirmRequest, Confirmation, ENVELOPE, Own, PublicKey, STATEMENT, confirm,
};
use sumpwright_core::declare::{DeclareRequest, Declared, declare};
use sumpwright_core::document::date::Date;
use sumpwright_core::source::Folder;

const PAN: &str = "\
pan: 1
title: Plain pan
object: { name: Plain pan, revision: B, state: as designed }
oil: ../oils/own.yaml
interior:
  rail: { rectangle: [400 mm, 260 mm], corner: 20 mm }
  zones:
    floor: { outline: rail, depth: 75 ± 0.5 mm, draft: 8 deg }
wall: { floor: 2.0 ± 0.1 mm, sides: 2 mm }
pickup: { inlet: { circle: 30 mm, at: { x: 20 mm, y: 0 mm, depth: 63 ± 0.5 mm }, facing: down } }
baffles: none
drains: none
fins: none
";

/// The same room as a mesh.
const MESHED: &str = "\
pan: 1
title: Meshed pan
object: { name: Meshed pan, part_number: '88', state: as made }
interior:
  mesh: { file: inside.stl, unit: mm, of: oil space }
wall: { floor: 2.0 ± 0.1 mm, sides: 2 mm }
pickup: { inlet: { circle: 30 mm, at: { x: 20 mm, y: 0 mm, depth: 63 ± 0.5 mm }, facing: down } }
baffles: none
drains: none
fins: none
";

const OIL: &str = "\
oil: 1
title: Own oil
density: { 15 degC: 852 kg/m^3 }
expansion: 0.00072 1/K
viscosity: { 40 degC: 30 mm^2/s, 100 degC: 6.8 mm^2/s }
heat_capacity: 2.1 kJ/(kg·K)
";

pub(super) const RULES: &str = "\
rulebook: 1
decision: guarded
rules:
  pickup.too-close-to-floor:
    title: The inlet stands clear of the floor
    force: shall
    measure: pickup.floor_gap
    at_least: 8 mm
    pin: 0.1 mm
    because: A smaller gap throttles the inlet.
    source: common practice
  wall.too-thin:
    title: The floor is thick enough
    force: shall
    measure: wall.floor_thickness
    at_least: 1.5 mm
    pin: 0.1 mm
    because: A thin floor dents.
    source: common practice
";

const LIST: &str = "\
checklist: 1
title: Issue A
customer: The workshop
clauses:
  clear: { number: '2.1', says: The inlet stands clear., rules: pickup.too-close-to-floor }
  paint:
    number: '2.2'
    says: It does not rust.
    evidence: { document: salt.txt, sha256: DIGEST, shows: It stood 240 h. }
  marked:
    number: '2.3'
    says: It is marked.
    statement: { words: Every one is., by: R. Example, function: production, on: 2026-11-02 }
";

const DECLARATION: &str = "\
declaration: 1
number: '14'
issuer: { name: Hillbrook Pressings, address: '1 Foundry Lane, Hillbrook' }
pans: [../pans/plain.yaml, ../pans/meshed.yaml]
rulebooks: ../rules/own.yaml
checklists: ../lists/a.yaml
issued: { on: 2026-11-26, at: Hillbrook }
signatory: { name: R. Example, function: head of design }
limits: { until: 2028-11-25 }
";

/// Where the declaration's document lies.
pub(super) const SOURCE: &str = "declared/d.yaml";

pub(super) struct World {
    pub(super) files: Folder,
}

impl World {
    pub(super) fn new() -> Self {
        let salt = "240 h of salt fog\n";
        let list = LIST.replace("DIGEST", &sumpwright_core::declare::sha256(salt.as_bytes()));
        let texts = [
            ("sumpwright.yaml", "project: 1\npans: pans/*.yaml\n"),
            ("pans/plain.yaml", PAN),
            ("pans/meshed.yaml", MESHED),
            ("oils/own.yaml", OIL),
            ("rules/own.yaml", RULES),
            ("lists/a.yaml", &list),
            ("lists/salt.txt", salt),
            (SOURCE, DECLARATION),
            ("pans/inside.stl", &block()),
            ("pans/other.yaml", PAN),
        ];
        let mut files = Folder::default();
        files.files.extend(texts.map(|(path, text)| (path.to_owned(), text.as_bytes().to_vec())));
        Self { files }
    }

    /// With a part of one file replaced.
    pub(super) fn with(mut self, path: &str, old: &str, new: &str) -> Self {
        replace(&mut self.files.files, path, old, new);
        self
    }

    pub(super) fn declared(&self) -> Declared {
        let absolute = |path: &str| format!("/{path}");
        declare(DeclareRequest { files: &self.files, path: SOURCE, absolute: &absolute })
    }

    /// The folder that is handed over.
    pub(super) fn handed_over(&self) -> BTreeMap<String, Vec<u8>> {
        let declared = self.declared();
        let package = declared
            .package
            .unwrap_or_else(|| panic!("{:#?} {:#?}", declared.review.problems, declared.refusals));
        let made = sumpwright_report::made(&package);
        package.folder.files.into_iter().chain(made).collect()
    }
}

/// Replaces a part of one file, which has to be there.
pub(super) fn replace(files: &mut BTreeMap<String, Vec<u8>>, path: &str, old: &str, new: &str) {
    let bytes = files.get(path).unwrap_or_else(|| panic!("there is no {path}"));
    let text = String::from_utf8(bytes.clone()).unwrap();
    assert!(text.contains(old), "{path} does not hold {old}");
    files.insert(path.to_owned(), text.replacen(old, new, 1).into_bytes());
}

/// What a customer has beside the folder.
#[derive(Default)]
pub(super) struct Customer<'a> {
    /// The text of a rulebook; the supplier's by default.
    pub(super) rules: Option<&'a str>,
    pub(super) edition: Option<&'a str>,
    pub(super) key: Option<&'a PublicKey>,
    pub(super) on: Option<&'a str>,
    pub(super) odd: Vec<(String, String)>,
}

/// Judges a folder again.
pub(super) fn confirmed(files: &BTreeMap<String, Vec<u8>>, customer: Customer<'_>) -> Confirmation {
    let Customer { rules, edition, key, on, odd } = customer;
    let folder = Folder { files: files.clone() };
    let record = folder.files.get(STATEMENT).map_or_else(
        || Err("it is not there".to_owned()),
        |bytes| sumpwright_report::read_statement(bytes),
    );
    let rules = rules.unwrap_or(RULES);
    let own = vec![("customer/own.yaml".to_owned(), rules.to_owned())];
    let host = Folder::default();
    let envelope = folder.files.get(ENVELOPE).map(|bytes| sumpwright_report::read_envelope(bytes));
    confirm(ConfirmRequest {
        name: "handed-over",
        folder: &folder,
        odd: &odd,
        record: &record,
        own: Own { files: &host, rulebook: edition.is_none().then_some(own.as_slice()), edition },
        key,
        envelope: envelope.as_ref(),
        on: on.and_then(Date::parse),
        remake: &sumpwright_report::made,
        differences: &sumpwright_report::differences,
    })
}

/// A closed block of 400 by 260 by 75 mm, its upper face in the rail plane, as text STL with faces looking outward.
fn block() -> String {
    let (x, y, z) = (200, 130, -75);
    let faces = [
        [[-x, -y, 0], [x, -y, 0], [x, y, 0], [-x, y, 0]],
        [[-x, -y, z], [-x, y, z], [x, y, z], [x, -y, z]],
        [[-x, -y, z], [x, -y, z], [x, -y, 0], [-x, -y, 0]],
        [[x, -y, z], [x, y, z], [x, y, 0], [x, -y, 0]],
        [[x, y, z], [-x, y, z], [-x, y, 0], [x, y, 0]],
        [[-x, y, z], [-x, -y, z], [-x, -y, 0], [-x, y, 0]],
    ];
    let mut text = "solid block\n".to_owned();
    for [a, b, c, d] in faces {
        for triangle in [[a, b, c], [a, c, d]] {
            text.push_str("facet normal 0 0 0\nouter loop\n");
            for [x, y, z] in triangle {
                text.push_str(
                    &["vertex".to_owned(), x.to_string(), y.to_string(), z.to_string()].join(" "),
                );
                text.push('\n');
            }
            text.push_str("endloop\nendfacet\n");
        }
    }
    text + "endsolid block\n"
}
