//! Plane outlines as documents state them.

use super::Text;
use super::pan::{PlanAxis, Word};
use crate::quantity::Stated;
use crate::source::Span;
use uom::si::f64::Length;

/// A place in the plan view.
#[derive(Debug, Clone, Copy)]
pub struct PlanPoint {
    /// Forward.
    pub x: Stated<Length>,
    /// To the left.
    pub y: Stated<Length>,
}

/// A closed plane outline. `at` is (0, 0) if left out; then its span is that of the outline.
#[derive(Debug, Clone)]
pub struct OutlineDoc {
    /// Its form.
    pub form: OutlineForm,
    /// The whole mapping.
    pub span: Span,
}

/// The forms.
#[derive(Debug, Clone)]
pub enum OutlineForm {
    /// The word `rail`: the outline of the rail.
    Rail(Text),
    /// `rectangle: [x, y]` with `corner`.
    Rectangle {
        /// Length along x.
        x: Stated<Length>,
        /// Length along y.
        y: Stated<Length>,
        /// Corner radius, 0 if left out.
        corner: Option<Stated<Length>>,
        /// Middle.
        at: Option<PlanPoint>,
    },
    /// `circle: d`.
    Circle {
        /// Diameter.
        diameter: Stated<Length>,
        /// Middle.
        at: Option<PlanPoint>,
    },
    /// `polygon: [{ x, y }, …]`, either turn; `at` moves it.
    Polygon {
        /// Its corners.
        points: Vec<PlanPoint>,
        /// By how much it is moved.
        at: Option<PlanPoint>,
    },
    /// `slot: [length, width]`, along x or `along: y`, with round ends.
    Slot {
        /// Overall length.
        length: Stated<Length>,
        /// Width.
        width: Stated<Length>,
        /// Along which axis; x if left out.
        along: Option<Word<PlanAxis>>,
        /// Middle.
        at: Option<PlanPoint>,
    },
}
