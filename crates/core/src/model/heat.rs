//! The pan as heat sees it: areas, fins, films, and what stands on both sides.

use super::scene::{Scene, need};
use crate::document::pan::{FinSet, PlanAxis};
use crate::quantity::{Given, Kind, si};
use crate::reading::Unknown;
use crate::source::Span;
use sumpwright_physics::heat::air::{Air, air};
use sumpwright_physics::heat::balance::{Films, Fins, Shed, Sides, Wall, shed};
use sumpwright_physics::heat::film;
use uom::si::f64::{Area, HeatTransfer, Length, MassDensity, Ratio, TemperatureInterval, Velocity};

/// Heat capacity of a cubic metre of air for each kelvin, J/(m³ K), at 300 K: density 1.16 times 1007.
const AIR_CARRIES: f64 = 1170.0;

/// How the air is taken to move over the pan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stream {
    /// Smoothly: the least that moving air carries away.
    Laminar,
    /// Stirred from the edge on: the most.
    Turbulent,
    /// Not at all.
    Still,
}

/// Whether the fins are counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outside {
    /// With its fins.
    Finned,
    /// As if they were not there.
    Bare,
}

impl Scene {
    /// What the pan sheds.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn shed(&self, stream: Stream, outside: Outside) -> Result<Shed, Unknown> {
        let wall = self.heat_wall(outside)?;
        let sides = self.heat_sides()?;
        let between = self.film_air(&sides);
        let (along, across) = self.rail_size()?;
        if stream == Stream::Still {
            // Area over perimeter, as the correlation for plates asks.
            let length: Length = si(along.value * across.value / (2.0 * (along + across).value));
            let still = |warmer: TemperatureInterval| {
                let nusselt = film::facing_down(film::rayleigh(warmer, length, &between));
                let one = film::film(nusselt, length, &between);
                Films { wall: one, fins: one }
            };
            return Ok(shed(&wall, &sides, still));
        }
        let speed = need(&self.duty()?.air_speed)?.value;
        let wall_film = moving(stream, speed, along, &between);
        let fins = match outside {
            Outside::Finned => self.fin_film(stream, speed, &between)?.unwrap_or(wall_film),
            Outside::Bare => wall_film,
        };
        Ok(shed(&wall, &sides, |_| Films { wall: wall_film, fins }))
    }

    /// The film on the fins, the least of all sets in a laminar stream; none without fins.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn fin_film(
        &self,
        stream: Stream,
        speed: Velocity,
        between: &Air,
    ) -> Result<Option<HeatTransfer>, Unknown> {
        let mut all: Option<HeatTransfer> = None;
        for set in self.fin_sets()? {
            let length = need(&set.length)?.value;
            let free = moving(stream, speed, length, between);
            // A narrow channel carries no more heat than its air can take up.
            let room = fin_room(set)?;
            let most = AIR_CARRIES * speed.value * room.value / (2.0 * length.value);
            let mut one = if most < free.value { si(most) } else { free };
            // A stream that runs across the fins passes below most of them.
            if stream == Stream::Laminar && need(&set.along)?.value == PlanAxis::Y {
                one = si(0.0);
            }
            all = Some(match all {
                Some(other) if other < one => other,
                _ => one,
            });
        }
        Ok(all)
    }

    /// The pan's sets of fins; none where it says so.
    fn fin_sets(&self) -> Result<Vec<&FinSet>, Unknown> {
        match &*self.pan.fins {
            Given::Stated(sets) => Ok(sets.entries.iter().map(|item| &item.value).collect()),
            Given::Absent(_) => Ok(Vec::new()),
            Given::LeftOut(missing) => Err(Unknown::not_stated(missing.clone())),
        }
    }

    /// Area, thickness and metal of the pan.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn heat_wall(&self, outside: Outside) -> Result<Wall, Unknown> {
        let material = need(&self.pan.material)?;
        let wall = need(&self.pan.wall)?;
        let thickness = (need(&wall.floor)?.value + need(&wall.sides)?.value) / 2.0;
        let mut fins = Vec::new();
        if outside == Outside::Finned {
            for set in self.fin_sets()? {
                fins.push(fins_of(set)?);
            }
        }
        Ok(Wall {
            area: self.wetted_area()?,
            thickness,
            conductivity: need(&material.conductivity)?.value,
            emissivity: need(&material.emissivity)?.value,
            fins,
        })
    }

    /// Oil at its hottest, air, and the film between oil and pan.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn heat_sides(&self) -> Result<Sides, Unknown> {
        let duty = self.duty()?;
        let (oil, air) = (self.hottest()?, need(&duty.air_at)?.value);
        if oil <= air {
            return Err(Unknown::because("the oil is no warmer than the air"));
        }
        Ok(Sides { oil, air, oil_film: need(&duty.oil_film)?.value })
    }

    /// Air half way between oil and surroundings: what the films are made of.
    pub fn film_air(&self, sides: &Sides) -> Air {
        air(si(f64::midpoint(sides.oil.value, sides.air.value)))
    }

    /// Where a reader would change what the pan sheds: its fins, or the metal.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn heat_subject(&self) -> Result<Span, Unknown> {
        match &*self.pan.fins {
            Given::Stated(sets) => Ok(sets.span),
            _ => Ok(need(&self.pan.material)?.span),
        }
    }

    /// Area of floors and walls, the opening at the rail not counted.
    fn wetted_area(&self) -> Result<Area, Unknown> {
        self.with_terrain(|terrain| {
            let mesh = terrain.mesh();
            let mut area = 0.0;
            for face in &mesh.faces {
                let corner = |i: u32| mesh.points.get(i as usize).copied().unwrap_or_default();
                let [a, b, c] = face.map(corner);
                if a.z < 0.0 || b.z < 0.0 || c.z < 0.0 {
                    area += (b - a).cross(c - a).length() / 2.0;
                }
            }
            Ok(si(area))
        })
    }

    /// Length of the rail along and across.
    fn rail_size(&self) -> Result<(Length, Length), Unknown> {
        let [low, high] = self.rail()?.bounds();
        Ok((si(high.x - low.x), si(high.y - low.y)))
    }

    /// Density of the oil at its hottest.
    ///
    /// # Formula
    /// ρ(T) = ρ₀/(1 + β (T − T₀)).
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn hot_density(&self) -> Result<MassDensity, Unknown> {
        let oil = self.oil()?;
        let (at, density) = need(&oil.density)?
            .rows
            .last()
            .ok_or_else(|| Unknown::because("the oil has no density"))?;
        let warmer = self.hottest()?.value - at.value.value;
        let grown = 1.0 + need(&oil.expansion)?.value.value * warmer;
        Ok(si(density.value.to_si() / grown))
    }
}

/// The film of moving air over a length.
fn moving(stream: Stream, speed: Velocity, length: Length, between: &Air) -> HeatTransfer {
    let re: Ratio = film::reynolds(speed, length, between);
    let least = film::laminar(re, between.prandtl);
    let most = film::turbulent(re, between.prandtl);
    // A slow stream stays smooth: there the law for a stirred one falls below the other.
    let nusselt = if stream == Stream::Turbulent && most > least { most } else { least };
    film::film(nusselt, length, between)
}

/// Mean thickness of a fin.
///
/// # Errors
/// Says what is not stated.
pub fn mean_thickness(set: &FinSet) -> Result<Length, Unknown> {
    Ok((need(&set.root)?.value + need(&set.tip)?.value) / 2.0)
}

fn fins_of(set: &FinSet) -> Result<Fins, Unknown> {
    let count = f64::from(need(&set.count)?.value);
    let (length, height) = (need(&set.length)?.value, need(&set.height)?.value);
    let thickness = mean_thickness(set)?;
    let corrected = height + thickness / 2.0;
    let area: Area = 2.0 * count * length * corrected;
    let foot: Area = count * length * need(&set.root)?.value;
    Ok(Fins { area, foot, thickness, height })
}

/// Clear room between two fins of a set half way up; without a neighbour, without end.
fn fin_room(set: &FinSet) -> Result<Length, Unknown> {
    if need(&set.count)?.value < 2 {
        return Ok(si(f64::INFINITY));
    }
    Ok(need(&set.pitch)?.value - mean_thickness(set)?)
}
