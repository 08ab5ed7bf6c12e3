//! What the pan is bolted to and carried by.

use super::Named;
use super::Text;
use super::outline::{OutlineDoc, PlanPoint};
use super::pan::{Check, Displacer, PanPoint, Word};
use super::watched::{Notebook, Watched};
use crate::quantity::{Given, Stated, Stiffness};
use crate::source::Span;
use uom::si::f64::{
    Angle, Force, Length, Pressure, Ratio, TemperatureCoefficient, Time, Volume, VolumeRate,
};

/// A vehicle.
#[derive(Debug, Clone)]
pub struct Vehicle {
    /// The whole document.
    pub span: Span,
    /// Where it notes which of its parts are looked at.
    pub notebook: Notebook,
    /// `title`.
    pub title: Given<Text>,
    /// `wheelbase`.
    pub wheelbase: Watched<Given<Stated<Length>>>,
    /// `mount`.
    pub mount: Watched<Given<Mount>>,
    /// `case`.
    pub case: Watched<Given<Case>>,
    /// `rotating`.
    pub rotating: Watched<Given<Named<Displacer>>>,
    /// `check`.
    pub check: Watched<Given<Check>>,
    /// `held_up`: comes back to the pan when the engine stops.
    pub held_up: Watched<Given<Stated<Volume>>>,
    /// `pump`.
    pub pump: Watched<Given<Pump>>,
    /// `skid`.
    pub skid: Watched<Given<Skid>>,
    /// `tyres.loaded_radius`.
    pub tyre_radius: Watched<Given<Stated<Length>>>,
    /// `neighbours`.
    pub neighbours: Watched<Given<Named<Neighbour>>>,
}

/// Something that stands near the pan.
#[derive(Debug, Clone)]
pub struct Neighbour {
    /// `kind`.
    pub kind: Given<Word<NeighbourKind>>,
    /// Its form and place, as a displacer's.
    pub solid: Displacer,
    /// `moves`: how far it comes towards the pan at work.
    pub moves: Given<Stated<Length>>,
}

/// What a neighbour does.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NeighbourKind {
    /// It stands still.
    Rigid,
    /// It turns.
    Rotating,
    /// It is hot.
    Exhaust,
}

/// `mount`.
#[derive(Debug, Clone)]
pub struct Mount {
    /// The whole mapping.
    pub span: Span,
    /// `pan_origin.behind_front_axle`.
    pub behind_front_axle: Watched<Given<Stated<Length>>>,
    /// `pan_origin.left`.
    pub left: Watched<Given<Stated<Length>>>,
    /// `pan_origin.above_ground`.
    pub above_ground: Watched<Given<Stated<Length>>>,
    /// `nose_up`: of the rail against the road, standing laden.
    pub nose_up: Watched<Given<Stated<Angle>>>,
    /// `moves.down`.
    pub moves_down: Watched<Given<Stated<Length>>>,
    /// `moves.roll`: each way.
    pub moves_roll: Watched<Given<Stated<Angle>>>,
}

/// `case`: the space above the rail that oil can enter.
#[derive(Debug, Clone)]
pub struct Case {
    /// The whole mapping.
    pub span: Span,
    /// `outline`.
    pub outline: OutlineDoc,
    /// `height`.
    pub height: Stated<Length>,
    /// `free_share`; 1 is all free.
    pub free_share: Given<Stated<Ratio>>,
    /// `tensile` strength of its metal.
    pub tensile: Watched<Given<Stated<Pressure>>>,
    /// `expansion` of its metal, linear.
    pub expansion: Watched<Given<Stated<TemperatureCoefficient>>>,
}

/// `pump`.
#[derive(Debug, Clone)]
pub struct Pump {
    /// The whole mapping.
    pub span: Span,
    /// `flow`: named flows; the largest counts where a state names none.
    pub flow: Watched<Given<Named<Stated<VolumeRate>>>>,
    /// `suction_limit`: absolute.
    pub suction_limit: Watched<Given<Stated<Pressure>>>,
    /// `at`: the middle of the pump's own inlet.
    pub at: Watched<Given<PanPoint>>,
    /// `flow_rises_in`: from the least of its flows to the largest.
    pub flow_rises_in: Watched<Given<Stated<Time>>>,
    /// `pressure`: what it works against, absolute.
    pub pressure: Watched<Given<Stated<Pressure>>>,
}

/// `skid`: below the rail, parallel to it, fixed to the frame.
#[derive(Debug, Clone)]
pub struct Skid {
    /// The whole mapping.
    pub span: Span,
    /// `top_face`: below the rail.
    pub top_face: Given<Stated<Length>>,
    /// `stiffness`.
    pub stiffness: Given<Stated<Stiffness>>,
    /// `load`.
    pub load: Given<Stated<Force>>,
    /// `size`: between its supports, along and across.
    pub size: Given<[Stated<Length>; 2]>,
    /// `thickness`.
    pub thickness: Given<Stated<Length>>,
    /// `modulus`.
    pub modulus: Given<Stated<Pressure>>,
    /// `holes`.
    pub holes: Given<Named<SkidHole>>,
}

/// A hole of the skid plate.
#[derive(Debug, Clone)]
pub struct SkidHole {
    /// Diameter.
    pub diameter: Given<Stated<Length>>,
    /// Where.
    pub at: Given<PlanPoint>,
}
