//! The states a pan must live in.

use super::log::DriveLog;
use super::pan::Word;
use super::watched::{Notebook, Watched};
use super::{Named, Text};
use crate::quantity::{Given, Stated};
use crate::source::Span;
use uom::si::f64::{
    Acceleration, Angle, Force, Frequency, HeatTransfer, Length, ThermodynamicTemperature, Time,
    Velocity,
};

/// A duty.
#[derive(Debug, Clone)]
pub struct Duty {
    /// The whole document.
    pub span: Span,
    /// Where it notes which of its parts are looked at.
    pub notebook: Notebook,
    /// `title`.
    pub title: Given<Text>,
    /// `oil_temperature`: each of a list, or the steps of a sweep.
    pub oil_temperature: Watched<Given<Vec<Stated<ThermodynamicTemperature>>>>,
    /// `states`; a swept one stands here once for each of its points, under one name.
    pub states: Watched<Given<Named<State>>>,
    /// `log`: a recorded drive.
    pub log: Watched<Given<DriveLog>>,
    /// `strike.force`.
    pub strike_force: Watched<Given<Stated<Force>>>,
    /// `strike.contact`.
    pub strike_contact: Watched<Given<Stated<Length>>>,
    /// `cooling.air_speed`.
    pub air_speed: Watched<Given<Stated<Velocity>>>,
    /// `cooling.air_at`.
    pub air_at: Watched<Given<Stated<ThermodynamicTemperature>>>,
    /// `cooling.oil_film`: heat transfer between oil and pan.
    pub oil_film: Watched<Given<Stated<HeatTransfer>>>,
    /// `parked_to_drain`; its `climb`, `descent`, `side_slope` and `high` only.
    pub parked_to_drain: Watched<Given<State>>,
    /// `altitude`: of the highest place it is used at.
    pub altitude: Watched<Given<Stated<Length>>>,
    /// `cold_start`.
    pub cold_start: Watched<Given<ColdStart>>,
    /// `humps`: how often humps or holes of the track shake it.
    pub humps: Watched<Given<Stated<Frequency>>>,
}

/// `cold_start`: the coldest oil the pump has to draw.
#[derive(Debug, Clone)]
pub struct ColdStart {
    /// The whole mapping.
    pub span: Span,
    /// `oil_temperature`.
    pub oil_temperature: Given<Stated<ThermodynamicTemperature>>,
    /// `flow`: a name of the pump's flows; the largest if left out.
    pub flow: Option<Text>,
}

/// One state. What is left out is not there: no slope, no acceleration, lasts without end.
#[derive(Debug, Clone)]
pub struct State {
    /// The whole mapping.
    pub span: Span,
    /// `climb`, or `descent` with its sign turned.
    pub climb: Option<Slope>,
    /// `side_slope`.
    pub side_slope: Option<Stated<Angle>>,
    /// `high`: which side.
    pub high: Option<Word<Side>>,
    /// `braking`.
    pub braking: Option<Stated<Acceleration>>,
    /// `accelerating`.
    pub accelerating: Option<Stated<Acceleration>>,
    /// `cornering`.
    pub cornering: Option<Stated<Acceleration>>,
    /// `turn`.
    pub turn: Option<Word<Side>>,
    /// `flow`: a name of the pump's flows.
    pub flow: Option<Text>,
    /// `lasts`.
    pub lasts: Option<Stated<Time>>,
    /// The values of a swept state at this point, in words: `climb 15 deg, braking 0.3 gn`.
    pub point: Option<String>,
}

/// A climb or a descent as written.
#[derive(Debug, Clone, Copy)]
pub struct Slope {
    /// The angle as written.
    pub angle: Stated<Angle>,
    /// Whether it is a descent.
    pub descent: bool,
}

/// A side of the vehicle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}
