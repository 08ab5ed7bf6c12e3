//! A pan as its document states it.

use super::object::ObjectDoc;
use super::outline::{OutlineDoc, PlanPoint};
use super::watched::{Notebook, Watched};
use super::{Item, Named, Text};
use crate::quantity::{Given, Stated};
use crate::source::Span;
use uom::si::f64::{
    DiffusionCoefficient, Length, Mass, Pressure, Ratio, SpecificHeatCapacity,
    TemperatureCoefficient, ThermalConductivity, ThermodynamicTemperature, Torque, Volume,
    VolumeRate,
};

/// A pan.
#[derive(Debug, Clone)]
pub struct Pan {
    /// The whole document.
    pub span: Span,
    /// Where it notes which of its parts are looked at.
    pub notebook: Notebook,
    /// `title`.
    pub title: Given<Text>,
    /// `object`: which thing exactly is described.
    pub object: Given<ObjectDoc>,
    /// `vehicle`: a path.
    pub vehicle: Given<Text>,
    /// `oil`: a path.
    pub oil: Given<Text>,
    /// `duty`: a path.
    pub duty: Given<Text>,
    /// `baseline`: one path or a list; empty if left out or `none`.
    pub baseline: Vec<Text>,
    /// `material`.
    pub material: Watched<Given<Material>>,
    /// `mass`: of the dry pan.
    pub mass: Watched<Given<Stated<Mass>>>,
    /// `interior`.
    pub interior: Watched<Given<Interior>>,
    /// `wall`.
    pub wall: Watched<Given<Wall>>,
    /// `pickup`.
    pub pickup: Watched<Given<Pickup>>,
    /// `baffles`.
    pub baffles: Watched<Given<Named<Baffle>>>,
    /// `drains`.
    pub drains: Watched<Given<Named<Drain>>>,
    /// `fins`.
    pub fins: Watched<Given<Named<FinSet>>>,
    /// `flange`.
    pub flange: Watched<Given<Flange>>,
    /// `magnet`.
    pub magnet: Watched<Given<Displacer>>,
    /// The pan's own `check`, which wins over the vehicle's.
    pub check: Watched<Given<Check>>,
}

/// `material`.
#[derive(Debug, Clone)]
pub struct Material {
    /// The whole mapping.
    pub span: Span,
    /// `alloy`.
    pub alloy: Given<Text>,
    /// `process`: one of the words of [`Process`].
    pub process: Given<Word<Process>>,
    /// `yield`.
    pub yield_strength: Given<Stated<Pressure>>,
    /// `metal`: which metal it is.
    pub metal: Given<Word<Metal>>,
    /// `tensile`: strength at which it breaks.
    pub tensile: Given<Stated<Pressure>>,
    /// `modulus`.
    pub modulus: Given<Stated<Pressure>>,
    /// `conductivity`.
    pub conductivity: Given<Stated<ThermalConductivity>>,
    /// `expansion`: linear.
    pub expansion: Given<Stated<TemperatureCoefficient>>,
    /// `heat_capacity`.
    pub heat_capacity: Given<Stated<SpecificHeatCapacity>>,
    /// `emissivity` of the outside.
    pub emissivity: Given<Stated<Ratio>>,
}

/// The metal of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Metal {
    /// `aluminium`.
    Aluminium,
    /// `magnesium`.
    Magnesium,
    /// `steel`, bare or painted.
    Steel,
    /// `galvanised steel` of a pan, `zinc-plated steel` of a bolt.
    ZincOnSteel,
    /// `stainless steel`.
    StainlessSteel,
}

/// A word out of a fixed list, with its place.
#[derive(Debug, Clone, Copy)]
pub struct Word<T> {
    /// Which one.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

/// How the pan is made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Process {
    /// `sand casting`.
    SandCasting,
    /// `permanent mould casting`.
    PermanentMould,
    /// `die casting`.
    DieCasting,
    /// `stamping`.
    Stamping,
    /// `fabrication`: cut, bent and welded from sheet.
    Fabrication,
    /// `machining`: milled from solid.
    Machining,
}

/// `interior`.
#[derive(Debug, Clone)]
pub struct Interior {
    /// The whole mapping.
    pub span: Span,
    /// What floor and walls are made of.
    pub shape: InteriorShape,
    /// `displaced`: empty when left out or `none`.
    pub displaced: Vec<Item<Displaced>>,
}

/// The ways to describe floor and walls.
#[derive(Debug, Clone)]
pub enum InteriorShape {
    /// `rail` and `zones`.
    Zones(FloorZones),
    /// `mesh`.
    Mesh(InteriorMesh),
    /// `soundings`.
    Soundings(InteriorSoundings),
}

impl Interior {
    /// The floor zones, where it is described by them.
    pub fn floor_zones(&self) -> Option<&FloorZones> {
        match &self.shape {
            InteriorShape::Zones(zones) => Some(zones),
            InteriorShape::Mesh(_) | InteriorShape::Soundings(_) => None,
        }
    }

    /// Where the value stands that a reader would change to make the pan deeper: the deepest zone's depth, or
    /// what stands for the whole shape.
    pub fn depth_span(&self) -> Span {
        match &self.shape {
            InteriorShape::Zones(zones) => {
                zones.deepest().map_or(self.span, |zone| zone.depth.span)
            }
            InteriorShape::Mesh(mesh) => mesh.mesh.file.span,
            InteriorShape::Soundings(soundings) => soundings.file.span,
        }
    }
}

/// `rail` and `zones`.
#[derive(Debug, Clone)]
pub struct FloorZones {
    /// `rail`.
    pub rail: OutlineDoc,
    /// `zones`, in the order written; at least one.
    pub zones: Named<Zone>,
}

impl FloorZones {
    /// The zone with the deepest floor; the first of equals.
    pub fn deepest(&self) -> Option<&Zone> {
        let zones = self.zones.entries.iter().map(|zone| &zone.value);
        zones.reduce(|a, b| if b.depth.value > a.depth.value { b } else { a })
    }
}

/// `interior.soundings`: depths taken at single places within the rail.
#[derive(Debug, Clone)]
pub struct InteriorSoundings {
    /// The whole mapping.
    pub span: Span,
    /// `file`: a path; the place stands for what lies between the soundings as well.
    pub file: Text,
    /// `rail`.
    pub rail: OutlineDoc,
    /// `draft`: lean of the walls; 0 if left out.
    pub draft: Option<Stated<uom::si::f64::Angle>>,
    /// `zero`: what the gauge shows at the rail, taken off every depth; 0 if left out.
    pub zero: Stated<Length>,
    /// `tip`: radius of the gauge's tip; 0 if left out.
    pub tip: Option<Stated<Length>>,
    /// How much deeper than the soundings say the floor is taken to be between them: moved by its uncertainty only.
    pub deeper: Length,
}

/// `interior.mesh`.
#[derive(Debug, Clone)]
pub struct InteriorMesh {
    /// The file and how it is to be read.
    pub mesh: MeshDoc,
    /// `of`: what the mesh is of.
    pub of: Word<MeshOf>,
    /// `moved`: by how much the mesh, turned to the pan's axes, is moved into the pan's frame.
    pub moved: Option<[Stated<Length>; 3]>,
    /// `surface`: how far the true surface lies outside the mesh.
    pub surface: Option<Stated<Length>>,
}

/// A mesh file and how it is to be read.
#[derive(Debug, Clone)]
pub struct MeshDoc {
    /// The whole mapping.
    pub span: Span,
    /// `file`: a path.
    pub file: Text,
    /// `unit` of its coordinates; a 3MF file carries its own.
    pub unit: Option<Word<MeshUnit>>,
    /// `normals`: to which side its faces are turned; outward if left out.
    pub normals: Option<Word<Normals>>,
    /// `weld`: corners nearer than this are one.
    pub weld: Option<Stated<Length>>,
    /// `forward`: its axis that points forward in the pan; x if left out.
    pub forward: Option<Word<MeshAxis>>,
    /// `up`: its axis that points up in the pan; z if left out.
    pub up: Option<Word<MeshAxis>>,
}

/// What a mesh of an interior is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeshOf {
    /// `oil space`: the body of oil of a pan filled to the rail.
    OilSpace,
    /// `part`: the whole pan, metal and all.
    Part,
}

/// The unit of a mesh's coordinates.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeshUnit {
    /// `µm`.
    Micrometre,
    /// `mm`.
    Millimetre,
    /// `cm`.
    Centimetre,
    /// `m`.
    Metre,
    /// `in`.
    Inch,
    /// `ft`.
    Foot,
}

/// To which side the faces of a mesh are turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Normals {
    /// Out of the body.
    Outward,
    /// Into the body: the mesh is inside out, and known to be.
    Inward,
}

/// An axis of a mesh, one way or the other.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MeshAxis {
    /// 0 for x, 1 for y, 2 for z.
    pub axis: usize,
    /// Against it.
    pub reversed: bool,
}

/// A floor zone.
#[derive(Debug, Clone)]
pub struct Zone {
    /// Its outline where it opens.
    pub outline: OutlineDoc,
    /// Depth of its floor below the rail; where it falls, at the middle of the outline's bounding rectangle.
    pub depth: Stated<Length>,
    /// How its floor falls; level if left out.
    pub slope: Option<Fall>,
    /// Lean of its walls; 0 if left out.
    pub draft: Option<Stated<uom::si::f64::Angle>>,
    /// `in`: the zone at whose floor it opens; the first zone (or the rail for the first) if left out.
    pub opens_in: Option<Text>,
}

/// How a floor falls.
#[derive(Debug, Clone, Copy)]
pub struct Fall {
    /// `deeper`: `front`, `rear`, `left` or `right`.
    pub deeper: Word<Facing>,
    /// `by`: its lean from the level.
    pub by: Stated<uom::si::f64::Angle>,
}

/// A place in the pan.
#[derive(Debug, Clone)]
pub struct PanPoint {
    /// Forward.
    pub x: Stated<Length>,
    /// To the left.
    pub y: Stated<Length>,
    /// Height: negative of what `depth` or `below_rail` states, or what `above_rail` states.
    pub z: Stated<Length>,
    /// The whole mapping.
    pub span: Span,
}

/// Something under `displaced`.
#[derive(Debug, Clone)]
pub enum Displaced {
    /// A box or a cylinder.
    Solid(Displacer),
    /// A mesh.
    Mesh(DisplacedMesh),
}

/// `mesh` of something that takes up room.
#[derive(Debug, Clone)]
pub struct DisplacedMesh {
    /// The file and how it is to be read.
    pub mesh: MeshDoc,
    /// Where the mesh's origin lies; the pan's own origin if left out.
    pub at: Option<PanPoint>,
    /// The whole mapping.
    pub span: Span,
}

/// A box or cylinder that takes up room: `box: [x, y, z]` or `cylinder: [diameter, length]`.
#[derive(Debug, Clone)]
pub struct Displacer {
    /// Its form.
    pub form: SolidForm,
    /// Middle of the upper face; for a lying cylinder its middle.
    pub at: PanPoint,
    /// The whole mapping.
    pub span: Span,
}

/// The forms of a displacer.
#[derive(Debug, Clone)]
pub enum SolidForm {
    /// `box: [x, y, z]`.
    Block {
        /// Length along x.
        x: Stated<Length>,
        /// Length along y.
        y: Stated<Length>,
        /// Height.
        z: Stated<Length>,
    },
    /// `cylinder: [diameter, length]`; `along` for one that lies.
    Cylinder {
        /// Diameter.
        diameter: Stated<Length>,
        /// Length.
        length: Stated<Length>,
        /// It lies along this axis; it stands if left out.
        along: Option<Word<PlanAxis>>,
    },
}

/// A horizontal axis of the pan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlanAxis {
    /// Forward.
    X,
    /// To the left.
    Y,
}

/// A direction in the pan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Facing {
    /// Down.
    Down,
    /// Up.
    Up,
    /// Forward.
    Front,
    /// Rearward.
    Rear,
    /// To the left.
    Left,
    /// To the right.
    Right,
}

/// `wall`.
#[derive(Debug, Clone)]
pub struct Wall {
    /// The whole mapping.
    pub span: Span,
    /// `floor`.
    pub floor: Watched<Given<Stated<Length>>>,
    /// `sides`.
    pub sides: Watched<Given<Stated<Length>>>,
}

/// `pickup`.
#[derive(Debug, Clone)]
pub struct Pickup {
    /// The whole mapping.
    pub span: Span,
    /// `fixed_to`: `case` or `pan`.
    pub fixed_to: Given<Text>,
    /// `inlet`.
    pub inlet: Watched<Given<Inlet>>,
    /// `anti_vortex`: what breaks a whirl over the mouth.
    pub anti_vortex: Given<Text>,
    /// `line`: from the mouth to the pump.
    pub line: Watched<Given<Line>>,
    /// `filter`.
    pub filter: Watched<Given<Filter>>,
}

/// `pickup.line`: the way from the mouth to the pump.
#[derive(Debug, Clone)]
pub struct Line {
    /// The whole mapping.
    pub span: Span,
    /// `length`, along its middle.
    pub length: Given<Stated<Length>>,
    /// `bore`, at its narrowest.
    pub bore: Given<Stated<Length>>,
    /// `fittings`: what bends the flow.
    pub fittings: Given<Named<Word<Bend>>>,
}

/// Forms of a bend.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bend {
    /// `bend`: a right angle with a middle radius of the bore.
    Standard,
    /// `long bend`: a right angle with a middle radius of one and a half bores.
    Long,
    /// `half bend`: 45 degrees.
    Half,
    /// `mitre`: a right angle with no radius.
    Mitre,
}

/// `pickup.filter`: what it takes of the pressure.
#[derive(Debug, Clone)]
pub struct Filter {
    /// The whole mapping.
    pub span: Span,
    /// `drop`.
    pub drop: Given<Stated<Pressure>>,
    /// `at_flow`.
    pub at_flow: Given<Stated<VolumeRate>>,
    /// `at_viscosity`.
    pub at_viscosity: Given<Stated<DiffusionCoefficient>>,
}

/// The inlet: the bore at its mouth.
#[derive(Debug, Clone)]
pub struct Inlet {
    /// The whole mapping.
    pub span: Span,
    /// `circle`: diameter.
    pub diameter: Given<Stated<Length>>,
    /// `at`: the middle of the mouth.
    pub at: Given<PanPoint>,
    /// `facing`; down if left out.
    pub facing: Option<Word<Facing>>,
}

/// A baffle.
#[derive(Debug, Clone)]
pub struct Baffle {
    /// One end.
    pub from: Given<PlanPoint>,
    /// The other end.
    pub to: Given<PlanPoint>,
    /// Depth of its upper edge.
    pub top: Given<Stated<Length>>,
    /// Depth of its lower edge, or the word `floor`.
    pub bottom: Given<BaffleBottom>,
    /// Thickness.
    pub thickness: Given<Stated<Length>>,
    /// `sides: sealed` or `open`.
    pub sides: Given<Word<Sides>>,
    /// Its openings; `none` for a closed one.
    pub openings: Given<Named<Opening>>,
}

/// Where a baffle ends below.
#[derive(Debug, Clone)]
pub enum BaffleBottom {
    /// It stands on the floor.
    Floor(Span),
    /// It ends at this depth.
    Depth(Stated<Length>),
}

/// How a baffle meets the walls.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sides {
    /// Its line goes on to the wall at every depth.
    Sealed,
    /// The gaps count as openings.
    Open,
}

/// An opening of a baffle.
#[derive(Debug, Clone)]
pub struct Opening {
    /// The whole mapping.
    pub span: Span,
    /// Its form; `at` of the outline is not used.
    pub form: OpeningForm,
    /// Along the baffle from its middle, + towards `to`.
    pub along: Given<Stated<Length>>,
    /// Depth of its middle.
    pub depth: Given<Stated<Length>>,
}

/// Forms of an opening.
#[derive(Debug, Clone)]
pub enum OpeningForm {
    /// `circle: d`.
    Circle(Stated<Length>),
    /// `slot: [overall length, width]` with round ends, lying.
    Slot(Stated<Length>, Stated<Length>),
    /// `rectangle: [along, height]`.
    Rectangle(Stated<Length>, Stated<Length>),
}

/// A drain.
#[derive(Debug, Clone)]
pub struct Drain {
    /// `thread`: `M14x1.5`.
    pub thread: Given<ThreadDoc>,
    /// Middle of the opening.
    pub at: Given<PanPoint>,
    /// Direction out of the pan.
    pub axis: Given<Word<Facing>>,
    /// Engaged length of thread.
    pub engaged: Given<Stated<Length>>,
    /// Outer diameter of the boss.
    pub boss: Given<Stated<Length>>,
    /// Height of the plug's head outside the boss.
    pub head: Given<Stated<Length>>,
    /// The maker's torque for the plug.
    pub torque: Given<Stated<Torque>>,
    /// Torque over preload times diameter.
    pub torque_factor: Given<Stated<Ratio>>,
    /// `ring`: inner and outer diameter of the sealing ring.
    pub ring: Given<[Stated<Length>; 2]>,
    /// Stress at which the ring gives and seals.
    pub ring_yields_at: Given<Stated<Pressure>>,
    /// Widest diameter of the socket that turns the plug.
    pub spanner: Given<Stated<Length>>,
}

/// A thread as written: exact by its designation.
#[derive(Debug, Clone, Copy)]
pub struct ThreadDoc {
    /// Where it stands.
    pub span: Span,
    /// Nominal diameter; of a taper pipe thread the outer diameter of the pipe.
    pub diameter: Length,
    /// Pitch: the one written, or that of the coarse series.
    pub pitch: Length,
    /// Whether it is a taper pipe thread (NPT), not a metric one.
    pub taper: bool,
}

/// A set of fins.
#[derive(Debug, Clone)]
pub struct FinSet {
    /// `under`: `floor`.
    pub under: Given<Text>,
    /// `along`.
    pub along: Given<Word<PlanAxis>>,
    /// How many.
    pub count: Given<Word<u32>>,
    /// From fin to fin.
    pub pitch: Given<Stated<Length>>,
    /// Height below the floor's outer face.
    pub height: Given<Stated<Length>>,
    /// Thickness at the root.
    pub root: Given<Stated<Length>>,
    /// Thickness at the tip.
    pub tip: Given<Stated<Length>>,
    /// Length.
    pub length: Given<Stated<Length>>,
    /// Middle of the set; the middle of the deepest zone's outline if left out.
    pub at: Option<PlanPoint>,
}

/// `flange`: the rail's metal, its bolts and its gasket.
#[derive(Debug, Clone)]
pub struct Flange {
    /// The whole mapping.
    pub span: Span,
    /// `thickness`.
    pub thickness: Given<Stated<Length>>,
    /// `width` of the rail.
    pub width: Given<Stated<Length>>,
    /// `bead`: by how many times it is stiffer than a flat strip.
    pub bead: Given<Stated<Ratio>>,
    /// `bolts`.
    pub bolts: Bolts,
    /// `gasket`.
    pub gasket: Gasket,
}

/// `flange.bolts`.
#[derive(Debug, Clone)]
pub struct Bolts {
    /// `count`.
    pub count: Given<Word<u32>>,
    /// `thread`.
    pub thread: Given<ThreadDoc>,
    /// `torque`: the maker's.
    pub torque: Given<Stated<Torque>>,
    /// `pitch`: the longest way from bolt to bolt.
    pub pitch: Given<Stated<Length>>,
    /// `torque_factor`: torque over preload times diameter.
    pub torque_factor: Given<Stated<Ratio>>,
    /// `class`: its property class.
    pub class: Given<Word<BoltClass>>,
    /// `metal`.
    pub metal: Given<Word<Metal>>,
    /// `engaged`: length of thread in the case.
    pub engaged: Given<Stated<Length>>,
    /// `hole`: narrowest diameter of a hole in the rail.
    pub hole: Given<Stated<Length>>,
}

/// `flange.gasket`.
#[derive(Debug, Clone)]
pub struct Gasket {
    /// `material`.
    pub material: Given<Text>,
    /// `thickness` before it is squeezed.
    pub thickness: Given<Stated<Length>>,
    /// `width`.
    pub width: Given<Stated<Length>>,
    /// `modulus`: stress over share of thickness.
    pub modulus: Given<Stated<Pressure>>,
    /// `seats_at`: the least stress at which it seals.
    pub seats_at: Given<Stated<Pressure>>,
    /// `crushes_at`: the stress that it bears.
    pub crushes_at: Given<Stated<Pressure>>,
    /// `clamped`: thickness that limiters or a groove leave it.
    pub clamped: Given<Stated<Length>>,
}

/// A property class of ISO 898-1.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoltClass {
    /// `4.8`.
    C48,
    /// `5.8`.
    C58,
    /// `8.8`.
    C88,
    /// `10.9`.
    C109,
    /// `12.9`.
    C129,
}

/// `check`: how the maker says the oil is checked.
#[derive(Debug, Clone)]
pub struct Check {
    /// The whole mapping.
    pub span: Span,
    /// What is checked.
    pub fill: FillDoc,
    /// `oil_at`.
    pub oil_at: Given<Stated<ThermodynamicTemperature>>,
    /// `engine`.
    pub engine: Given<Word<Engine>>,
}

/// What the check fixes.
#[derive(Debug, Clone)]
pub enum FillDoc {
    /// `level`: this far below the rail, at a place (0, 0 if left out), vehicle on level ground.
    Level {
        /// Below the rail.
        below_rail: Stated<Length>,
        /// Where.
        at: Option<PlanPoint>,
    },
    /// `volume`: the oil in pan and case in that state.
    Volume(Stated<Volume>),
}

/// Whether the engine runs at the check.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Engine {
    /// It runs.
    Running,
    /// It stands; what is held up is in the pan already.
    Standing,
}
