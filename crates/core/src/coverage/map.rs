//! The map as data: for each fill and temperature a ray in every direction.

use super::ray::{COVERED, LEVEL, LOOKED_TO, Rim, STEP};
use crate::model::{Scene, to_pan};
use crate::quantity::Given;
use crate::reading::{Bounds, Unknown};
use crate::source::Span;
use core::f64::consts::PI;
use glam::DVec3;
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use uom::si::f64::ThermodynamicTemperature;

/// The coverage map of a pan.
#[derive(Debug, Clone, PartialEq)]
pub struct CoverageMap {
    /// For each fill and oil temperature.
    pub cases: Vec<CoverageCase>,
    /// Where the states of the duty lie in it.
    pub duty: Vec<DutyMark>,
}

/// How much oil is in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FillCase {
    /// The check's value with its half-width against it.
    Least,
    /// As stated.
    Stated,
    /// The check's value with its half-width in favour.
    Most,
}

impl FillCase {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Least => "least oil",
            Self::Stated => "stated oil",
            Self::Most => "most oil",
        }
    }
}

/// All directions at one fill and temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct CoverageCase {
    /// How much oil.
    pub fill: FillCase,
    /// The oil's temperature in kelvin.
    pub oil_temperature: f64,
    /// Equal steps of azimuth from 0.
    pub rays: Vec<CoverageRay>,
    /// The least tilt to [`COVERED`] over all directions in the worst world, in radians; infinite where none is.
    pub least: f64,
    /// Its azimuth in radians.
    pub least_azimuth: f64,
    /// On the way of each state of the duty the tilt to [`COVERED`], in all worlds; on any way for a state that leans
    /// nowhere.
    pub on_the_ways: Vec<Bounds>,
    /// In each state of the duty whether oil that is kept apart from the inlet leaves less than [`COVERED`] over its rim; none
    /// where that is not known. Of the stated oil only: empty for the others.
    pub kept_apart: Vec<Option<bool>>,
}

/// One direction. Tilts are in radians from level ground, 0 where it is so there already; infinite where it is so at no
/// attitude that is looked at, which is up to 80°.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoverageRay {
    /// Where the oil runs: 0 forward, π/2 to the left.
    pub azimuth: f64,
    /// Tilt at which the rim lies no deeper than [`COVERED`], in all worlds.
    pub to_floor: Bounds,
    /// Tilt at which the rim stands out, in all worlds.
    pub to_dry: Bounds,
}

impl CoverageRay {
    /// The horizontal acceleration on level ground, in m/s², that leans apparent gravity by a tilt.
    ///
    /// # Formula
    /// a = g·tan τ.
    ///
    /// # Source
    /// Hydrostatics in an accelerated frame (White, Fluid Mechanics, ch. 2).
    pub fn acceleration(tilt: f64) -> f64 {
        if tilt < LOOKED_TO { 9.806_65 * libm::tan(tilt) } else { f64::INFINITY }
    }
}

/// A state of the duty in the map.
#[derive(Debug, Clone, PartialEq)]
pub struct DutyMark {
    /// Its name, with its point where it is swept.
    pub state: String,
    /// Where it stands.
    pub span: Span,
    /// Where the oil runs, in radians.
    pub azimuth: f64,
    /// The lean of apparent gravity from level ground, in radians.
    pub tilt: f64,
}

/// The map of one fill at one temperature, with the ways of the states of the duty.
///
/// # Errors
/// Says what is not stated.
pub fn coverage_case(
    scene: &Scene,
    fill: FillCase,
    temperature: ThermodynamicTemperature,
    states: &[DutyMark],
) -> Result<CoverageCase, Unknown> {
    let rims = rims(scene, temperature)?;
    let count = (0_u32..).take_while(|i| f64::from(*i) * STEP < 2.0 * PI - STEP / 2.0);
    let azimuths: Vec<f64> = count.map(|i| f64::from(i) * STEP).collect();
    let rays = azimuths
        .par_iter()
        .map(|&azimuth| {
            let bounds = |need| over_worlds(&rims, |rim| rim.tilt(azimuth, need, LOOKED_TO));
            Ok(CoverageRay { azimuth, to_floor: bounds(COVERED)?, to_dry: bounds(0.0)? })
        })
        .collect::<Result<Vec<_>, Unknown>>()?;
    let mut worst: Option<(f64, f64)> = None;
    for rim in &rims {
        let found = rim.least(COVERED)?;
        if worst.is_none_or(|(least, _)| found.0 < least) {
            worst = Some(found);
        }
    }
    let (least, least_azimuth) = worst.ok_or_else(|| Unknown::because("there is no oil space"))?;
    let on_the_ways = on_the_ways(&rims, states)?;
    let kept_apart = match fill {
        FillCase::Stated => states.par_iter().map(|mark| kept_apart(scene, &rims, mark)).collect(),
        FillCase::Least | FillCase::Most => Vec::new(),
    };
    let oil_temperature = temperature.value;
    Ok(CoverageCase { fill, oil_temperature, rays, least, least_azimuth, on_the_ways, kept_apart })
}

fn over_worlds(
    rims: &[Rim<'_>],
    of: impl Fn(&Rim<'_>) -> Result<f64, Unknown>,
) -> Result<Bounds, Unknown> {
    let mut all: Option<Bounds> = None;
    for rim in rims {
        let tilt = of(rim)?;
        all = Some(match all {
            None => Bounds::exactly(tilt),
            Some(known) => Bounds {
                low: if tilt < known.low { tilt } else { known.low },
                high: if tilt > known.high { tilt } else { known.high },
            },
        });
    }
    all.ok_or_else(|| Unknown::because("there is no oil space"))
}

/// Where the states of the duty lie in the map.
///
/// # Errors
/// Says what is not stated.
pub fn duty_marks(scene: &Scene) -> Result<Vec<DutyMark>, Unknown> {
    let nose_up = scene.nose_up()?;
    let mark = |item: &crate::document::Item<crate::document::duty::State>| {
        let lean = crate::model::attitude(&item.value, nose_up).in_vehicle;
        let state = match &item.value.point {
            Some(point) => format!("{} at {point}", item.name),
            None => item.name.clone(),
        };
        let across = libm::hypot(lean.x, lean.y);
        let azimuth = libm::fmod(libm::atan2(-lean.y, -lean.x) + 2.0 * PI, 2.0 * PI);
        DutyMark { state, span: item.name_span, azimuth, tilt: libm::atan2(across, lean.z) }
    };
    // A duty that is a recorded drive alone has no states to mark, and the map stands without.
    let Given::Stated(states) = &*scene.duty()?.states else { return Ok(Vec::new()) };
    Ok(states.entries.iter().map(mark).collect())
}

/// Whether the pool of the inlet is too low in a state, in any world, where one level for all oil need not be.
fn kept_apart(scene: &Scene, rims: &[Rim<'_>], mark: &DutyMark) -> Option<bool> {
    let (sine, cosine) = (libm::sin(mark.tilt), libm::cos(mark.tilt));
    let away = DVec3::new(-libm::cos(mark.azimuth), -libm::sin(mark.azimuth), 0.0);
    let in_one = |rim: &Rim<'_>| {
        let up = to_pan(away * sine + DVec3::Z * cosine, rim.nose_up);
        let oil = scene.oil_at_rest(rim.world, &rim.mouth, up, rim.volume).ok()?;
        let is_covered = rim.mouth.least_depth(up, oil.level).value >= COVERED;
        Some(oil.stranded.value > 0.0 && !is_covered)
    };
    let found: Option<Vec<bool>> = rims.iter().map(in_one).collect();
    found.map(|worlds| worlds.contains(&true))
}

/// How far it may lean on the way of each state; on any way for one that leans nowhere.
fn on_the_ways(rims: &[Rim<'_>], states: &[DutyMark]) -> Result<Vec<Bounds>, Unknown> {
    // Points of a swept state lie on few ways: each way is gone once.
    let key = |mark: &DutyMark| (mark.tilt >= LEVEL).then_some(mark.azimuth.to_bits());
    let ways: BTreeSet<Option<u64>> = states.iter().map(key).collect();
    let gone = |way: Option<u64>| {
        let bounds = over_worlds(rims, |rim| match way {
            Some(azimuth) => rim.tilt(f64::from_bits(azimuth), COVERED, LOOKED_TO),
            None => Ok(rim.least(COVERED)?.0),
        });
        Ok((way, bounds?))
    };
    let ways: Vec<Option<u64>> = ways.into_iter().collect();
    let found: BTreeMap<Option<u64>, Bounds> =
        ways.into_par_iter().map(gone).collect::<Result<_, Unknown>>()?;
    Ok(states.iter().filter_map(|mark| found.get(&key(mark)).copied()).collect())
}

fn rims(scene: &Scene, temperature: ThermodynamicTemperature) -> Result<Vec<Rim<'_>>, Unknown> {
    scene.worlds()?.iter().map(|world| Rim::at(scene, world, temperature)).collect()
}
