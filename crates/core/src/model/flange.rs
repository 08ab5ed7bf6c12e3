//! The rail with its bolts and its gasket.

use super::drains::metric;
use super::scene::{Scene, need};
use crate::document::pan::{BoltClass, Flange, Metal};
use crate::quantity::{Given, si};
use crate::reading::{Bounds, Unknown};
use crate::source::Span;
use sumpwright_physics::gasket::{
    Rail, mean_stress, midway_share, pitch_in_rail_lengths, share_at_a_bolt, squeeze,
};
use sumpwright_physics::joint::preload;
use sumpwright_physics::thread::Thread;
use uom::si::f64::{Force, Length, Pressure, Ratio};

impl Scene {
    /// The flange.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn flange(&self) -> Result<&Flange, Unknown> {
        need(&self.pan.flange)
    }

    /// The bolts' thread.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn bolt(&self) -> Result<Thread, Unknown> {
        metric(need(&self.flange()?.bolts.thread)?)
    }

    /// The pull of one bolt at the stated torque, and where the torque stands.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn bolt_preload(&self) -> Result<(Force, Span), Unknown> {
        let bolts = &self.flange()?.bolts;
        let torque = need(&bolts.torque)?;
        let factor = need(&bolts.torque_factor)?.value;
        Ok((preload(torque.value, factor, self.bolt()?.nominal), torque.span))
    }

    /// Length of the gasket's run: the rail's inner edge moved out by half of its width.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn gasket_run(&self) -> Result<Length, Unknown> {
        let rail = self.rail()?;
        let inner: f64 = rail.edges().map(|[a, b]| (b - a).length()).sum();
        let out = need(&self.flange()?.width)?.value.value / 2.0;
        // A closed line that is moved out by a distance grows by its full turn.
        Ok(si(inner + core::f64::consts::TAU * out))
    }

    /// The longest way from bolt to bolt: as stated, else at least the mean, and where it stands.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn bolt_pitch(&self) -> Result<(Bounds, Span), Unknown> {
        let bolts = &self.flange()?.bolts;
        if let Given::Stated(pitch) = &bolts.pitch {
            return Ok((Bounds::exactly(pitch.value.value), pitch.span));
        }
        let count = need(&bolts.count)?;
        let mean = self.gasket_run()?.value / f64::from(count.value);
        Ok((Bounds::at_least(mean), count.span))
    }

    /// The rail as a beam on its gasket.
    fn rail_beam(&self) -> Result<Rail, Unknown> {
        let flange = self.flange()?;
        let bead = match &flange.bead {
            Given::Absent(_) => si(1.0),
            given => need(given)?.value,
        };
        Ok(Rail {
            modulus: need(&need(&self.pan.material)?.modulus)?.value,
            width: need(&flange.width)?.value,
            thickness: need(&flange.thickness)?.value,
            bead,
            gasket_modulus: need(&flange.gasket.modulus)?.value,
            gasket_width: need(&flange.gasket.width)?.value,
            gasket_thickness: need(&flange.gasket.thickness)?.value,
        })
    }

    /// The bolt pitch in the rail's own lengths, λs: a value, or at least so much.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn pitch_in_rail_lengths(&self) -> Result<(Bounds, Span), Unknown> {
        let beam = self.rail_beam()?;
        let (pitch, span) = self.bolt_pitch()?;
        let at = |metres: f64| pitch_in_rail_lengths(&beam, si(metres)).value;
        let high = if pitch.high.is_finite() { at(pitch.high) } else { f64::INFINITY };
        Ok((Bounds { low: at(pitch.low), high }, span))
    }

    /// Gasket stress at a bolt and midway between two, and where the torque stands.
    ///
    /// # Errors
    /// Says what is not stated, or that the rail lifts off.
    pub fn gasket_stress(&self) -> Result<(Pressure, Pressure, Span), Unknown> {
        let (pitch, _) = self.pitch_in_rail_lengths()?;
        let pitch = pitch.value().ok_or_else(|| {
            Unknown::because("the longest way from bolt to bolt (flange.bolts.pitch) is not stated")
        })?;
        let pitch: Ratio = si(pitch);
        let lifts = || {
            Unknown::because("the bolts stand so far apart that the rail lifts off between them")
        };
        let midway = midway_share(pitch).ok_or_else(lifts)?;
        let flange = self.flange()?;
        let (at_bolt, span) = match &flange.gasket.clamped {
            // Limiters or a groove: the squeeze is given, and what the bolts pull beyond goes into the metal.
            Given::Stated(clamped) => {
                let squeezed = squeeze(need(&flange.gasket.thickness)?.value, clamped.value);
                (need(&flange.gasket.modulus)?.value * squeezed, clamped.span)
            }
            Given::LeftOut(missing) => return Err(Unknown::not_stated(missing.clone())),
            Given::Absent(_) => {
                let (pull, span) = self.bolt_preload()?;
                let bolts = need(&flange.bolts.count)?.value;
                let width = need(&flange.gasket.width)?.value;
                let mean = mean_stress(bolts, pull, self.gasket_run()?, width);
                (mean * share_at_a_bolt(pitch).ok_or_else(lifts)?, span)
            }
        };
        Ok((at_bolt, at_bolt * midway, span))
    }
}

impl Scene {
    /// From the rail's middle to its farthest corner.
    fn half_diagonal(&self) -> Result<Length, Unknown> {
        let [low, high] = self.rail()?.bounds();
        Ok(si((high - low).length() / 2.0))
    }

    /// By how much the rail's corner grows against the case, from 20 degC to the hottest oil, and where the metal's
    /// expansion stands.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn growth_against_case(&self) -> Result<(Length, Span), Unknown> {
        let pan = need(&need(&self.pan.material)?.expansion)?;
        let case = need(&need(&self.vehicle()?.case)?.expansion)?.value;
        let warmer = self.hottest()?.value - COLD;
        let apart = (pan.value - case).value * warmer;
        Ok((self.half_diagonal()? * apart.abs(), pan.span))
    }

    /// By how much the rail's corner grows outward, from 20 degC to the hottest oil.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn growth_of_pan(&self) -> Result<Length, Unknown> {
        let pan = need(&need(&self.pan.material)?.expansion)?.value;
        Ok(self.half_diagonal()? * (pan.value * (self.hottest()?.value - COLD)))
    }
}

/// The temperature at which pans are measured and bolted up: 20 degC in kelvin, as ISO 1 has it.
const COLD: f64 = 293.15;

/// Proof stress of a property class, Pa: ISO 898-1, sizes up to M16, from memory.
pub fn proof_stress(class: BoltClass) -> Pressure {
    si(match class {
        BoltClass::C48 => 310e6,
        BoltClass::C58 => 380e6,
        BoltClass::C88 => 580e6,
        BoltClass::C109 => 830e6,
        BoltClass::C129 => 970e6,
    })
}

/// Place of a metal in the anodic index, in volts: the larger, the sooner it is eaten beside another.
///
/// # Source
/// Anodic index as printed in public tables after MIL-STD-889, from memory.
pub fn anodic_index(metal: Metal) -> f64 {
    match metal {
        Metal::StainlessSteel => 0.50,
        Metal::Steel => 0.85,
        Metal::Aluminium => 0.90,
        Metal::ZincOnSteel => 1.25,
        Metal::Magnesium => 1.75,
    }
}
