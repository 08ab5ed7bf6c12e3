//! Drawings as plain shapes: what stands where, in metres, in the plane of the paper. How it looks is for a report.

mod cut;
mod oil;
mod plan;
mod section;

pub use plan::plan_view;
pub use section::sections;

use crate::model::{DrawnPart, Scene};
use crate::reading::Worst;
use glam::DVec2;

/// A drawing.
#[derive(Debug, Clone)]
pub struct Figure {
    /// A word by which it can be told from others of the same pan, fit for the name of a file.
    pub name: String,
    /// What it shows.
    pub kind: FigureKind,
    /// The shapes, those behind first. x to the right, y up.
    pub shapes: Vec<Shape>,
    /// Which way a direction of the vehicle points on the paper: its word and a vector of length 1 or less.
    pub arrows: Vec<(&'static str, DVec2)>,
}

/// What a drawing shows.
#[derive(Debug, Clone, PartialEq)]
pub enum FigureKind {
    /// The pan from above, front to the right, with lines of equal depth.
    Plan,
    /// A vertical section through the middle of the inlet, turned so that the oil surface lies level.
    Section(SectionKind),
}

/// In which state a section is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionKind {
    /// The state; none for the vehicle on level ground.
    pub state: Option<Worst>,
    /// Depth of the rim's highest point below the surface of its pool, in metres; negative is uncovered.
    pub rim_depth: f64,
    /// Angle between the rail and the oil surface, in radians.
    pub tilt: f64,
    /// Whether the case is described; where it is not, where oil above the rail stands is not known.
    pub case_known: bool,
    /// The pools in which the oil lies, as shapes name them by their place in this list.
    pub pools: Vec<PoolDrawn>,
    /// Why it is not known whether something keeps oil apart; all of it is drawn at one level then.
    pub apart_unknown: Option<String>,
}

/// A pool in a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PoolDrawn {
    /// How much it holds, in cubic metres.
    pub volume: f64,
    /// How much higher it stands than the pool of the inlet, in metres; than the inlet's dry basin is deep, where that is
    /// dry.
    pub higher: f64,
    /// Whether the inlet stands in it.
    pub at_inlet: bool,
    /// Whether the section meets it.
    pub is_met: bool,
}

/// One thing that is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Shape {
    /// What it is.
    pub part: Part,
    /// Its name in the document; empty where it has none.
    pub name: String,
    /// Whether the last point joins the first.
    pub closed: bool,
    /// Its corners, in metres.
    pub points: Vec<DVec2>,
}

/// What a shape is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Part {
    /// A solid that is cut.
    Solid(DrawnPart),
    /// Oil in the pan, of a pool.
    Oil(usize),
    /// Oil among the parts of the case, of a pool.
    OilInCase(usize),
    /// The surface of a pool, or a stretch of it.
    Surface(usize),
    /// The mouth of the inlet.
    Inlet,
    /// A line of equal depth below the rail, in metres.
    Contour(f64),
    /// A drain: its middle, and a point outside it along its axis.
    Drain,
    /// A bolt of the flange.
    Bolt,
    /// A hole of the skid plate.
    SkidHole,
    /// The upper face of the skid plate.
    Skid,
}

/// All drawings of a pan: the plan, then sections on level ground and in the states that leave the inlet least covered.
/// What cannot be drawn for want of a statement is left out.
pub fn figures(scene: &Scene) -> Vec<Figure> {
    let mut all: Vec<Figure> = plan_view(scene).into_iter().collect();
    all.extend(sections(scene));
    all
}

impl Shape {
    fn closed(part: Part, name: &str, points: Vec<DVec2>) -> Self {
        Self { part, name: name.to_owned(), closed: true, points }
    }

    fn open(part: Part, name: &str, points: Vec<DVec2>) -> Self {
        Self { part, name: name.to_owned(), closed: false, points }
    }
}
