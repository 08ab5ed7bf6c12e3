//! One pan with all that belongs to it, at one set of values.

use super::Memo;
use super::drive::DriveRun;
use super::interior::Ground;
use super::oil_space::World;
use super::once::Once;
use crate::document::attached::Attachments;
use crate::document::duty::Duty;
use crate::document::oil::Oil;
use crate::document::pan::{Interior, Pan, Pickup};
use crate::document::recording::Log;
use crate::document::vehicle::{Mount, Vehicle};
use crate::quantity::{Given, Stated};
use crate::reading::Unknown;
use std::sync::{Arc, OnceLock};
use sumpwright_physics::terrain::Outline;
use uom::si::f64::Angle;

/// A pan with its vehicle, oil and duty.
#[derive(Debug)]
pub struct Scene {
    /// The pan.
    pub pan: Arc<Pan>,
    /// Its vehicle.
    pub vehicle: Arc<Given<Vehicle>>,
    /// Its oil.
    pub oil: Arc<Given<Oil>>,
    /// Its duty.
    pub duty: Arc<Given<Duty>>,
    /// The files of data that the pan names.
    pub attached: Arc<Attachments>,
    pub(crate) memo: Arc<Memo>,
    pub(super) worlds: Once<Result<Vec<World>, Unknown>>,
    pub(super) rail: Once<Result<Outline, Unknown>>,
    pub(super) ground: Once<Result<Ground, Unknown>>,
    /// The number that tells floor and walls from all others.
    pub(super) terrain: Once<Result<u64, Unknown>>,
    /// The number that tells the interior with what is displaced in it from all others.
    pub(super) interior: Once<Result<u64, Unknown>>,
    /// The recording that the duty names.
    pub(super) log: Option<Arc<Log>>,
    /// What the drive along it said at the stated values: shared with the scenes that are moved from them.
    pub(super) drive: Arc<OnceLock<Result<Arc<DriveRun>, Unknown>>>,
    /// Whether some value is moved from what is stated.
    pub(super) moved: bool,
}

/// The value, or what is missing.
///
/// # Errors
/// What is not stated, or that the document says there is none.
pub(crate) fn need<T>(given: &Given<T>) -> Result<&T, Unknown> {
    need_or(given, "the description says that there is none")
}

/// The value, or what is missing, in words of its own where there is none.
///
/// # Errors
/// What is not stated, or that there is none.
pub(crate) fn need_or<'a, T>(given: &'a Given<T>, none: &'static str) -> Result<&'a T, Unknown> {
    match given {
        Given::Stated(value) => Ok(value),
        Given::Absent(span) => Err(Unknown::because(none).at(*span)),
        Given::LeftOut(missing) => Err(Unknown::not_stated(missing.clone())),
    }
}

impl Scene {
    /// A scene; nothing is computed yet.
    pub fn new(
        pan: Arc<Pan>,
        vehicle: Arc<Given<Vehicle>>,
        oil: Arc<Given<Oil>>,
        duty: Arc<Given<Duty>>,
        attached: Arc<Attachments>,
        memo: Arc<Memo>,
    ) -> Self {
        Self {
            pan,
            vehicle,
            oil,
            duty,
            attached,
            memo,
            worlds: Once::default(),
            rail: Once::default(),
            ground: Once::default(),
            terrain: Once::default(),
            interior: Once::default(),
            log: None,
            drive: Arc::default(),
            moved: false,
        }
    }

    /// The same with the recording that its duty names.
    #[must_use]
    pub fn along(mut self, log: Option<Arc<Log>>) -> Self {
        self.log = log;
        self
    }

    /// The same as a scene in which some value is moved from what is stated: it is not driven anew along the whole
    /// recording, but looked at where the stated one was worst.
    #[must_use]
    pub fn moved_from(mut self, stated: Option<&Self>) -> Self {
        if let Some(stated) = stated {
            self.drive = Arc::clone(&stated.drive);
            self.moved = true;
        }
        self
    }

    /// The pan's title, if it has one.
    pub fn title(&self) -> Option<String> {
        self.pan.title.stated().map(|title| title.text.clone())
    }

    /// The interior.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn interior(&self) -> Result<&Interior, Unknown> {
        need(&self.pan.interior)
    }

    /// The pickup.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn pickup(&self) -> Result<&Pickup, Unknown> {
        need(&self.pan.pickup)
    }

    /// The vehicle.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn vehicle(&self) -> Result<&Vehicle, Unknown> {
        need(&self.vehicle)
    }

    /// How the pan is mounted.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn mount(&self) -> Result<&Mount, Unknown> {
        need(&self.vehicle()?.mount)
    }

    /// How far the rail stands nose up against the road.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn nose_up(&self) -> Result<Angle, Unknown> {
        let stated: &Stated<Angle> = need(&self.mount()?.nose_up)?;
        Ok(stated.value)
    }

    /// The duty.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn duty(&self) -> Result<&Duty, Unknown> {
        need(&self.duty)
    }

    /// The oil.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn oil(&self) -> Result<&Oil, Unknown> {
        need(&self.oil)
    }
}
