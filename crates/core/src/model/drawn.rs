//! The solids of a pan as a drawing wants them: each with what it is and its name, cut by nothing yet.

use super::interior::{displacer_halves, point};
use super::mouth::direction;
use super::outlines::{outline, plan};
use super::scene::{Scene, need};
use crate::document::Named;
use crate::document::pan::{Baffle, BaffleBottom, Drain};
use crate::quantity::{Given, si};
use crate::reading::Unknown;
use glam::{DVec2, DVec3};
use sumpwright_physics::mesh::{Halves, Mesh, prism};
use sumpwright_physics::terrain::Outline;

/// What a drawn thing is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DrawnPart {
    /// The inside of the pan.
    Interior,
    /// The space above the rail that oil can enter.
    Case,
    /// What takes up room in the oil.
    Displaced,
    /// The magnet.
    Magnet,
    /// A baffle.
    Baffle,
    /// A rotating part.
    Rotating,
}

/// A closed mesh with what it is.
#[derive(Debug, Clone)]
pub struct DrawnSolid {
    /// What it is.
    pub part: DrawnPart,
    /// Its name in the document; empty for the pan and the case.
    pub name: String,
    /// Its surface, in the pan frame, in metres.
    pub mesh: Mesh,
}

impl Scene {
    /// Everything solid that can be drawn; what is not stated is left out.
    ///
    /// # Errors
    /// Says why there is no interior to draw.
    pub fn drawn_solids(&self) -> Result<Vec<DrawnSolid>, Unknown> {
        let mesh = self.with_terrain(|terrain| Ok(terrain.mesh().clone()))?;
        let mut all = vec![DrawnSolid { part: DrawnPart::Interior, name: String::new(), mesh }];
        all.extend(self.drawn_case());
        for item in &self.interior()?.displaced {
            put(&mut all, DrawnPart::Displaced, &item.name, self.displaced_halves(&item.value)?);
        }
        if let Given::Stated(magnet) = &*self.pan.magnet {
            put(&mut all, DrawnPart::Magnet, "magnet", displacer_halves(magnet)?);
        }
        if let Given::Stated(baffles) = &*self.pan.baffles {
            all.extend(self.drawn_baffles(baffles));
        }
        if let Given::Stated(vehicle) = self.vehicle.as_ref()
            && let Given::Stated(rotating) = &*vehicle.rotating
        {
            for item in &rotating.entries {
                put(&mut all, DrawnPart::Rotating, &item.name, displacer_halves(&item.value)?);
            }
        }
        Ok(all)
    }

    fn drawn_case(&self) -> Option<DrawnSolid> {
        let Given::Stated(vehicle) = self.vehicle.as_ref() else { return None };
        let Given::Stated(case) = &*vehicle.case else { return None };
        let rail = self.rail().ok();
        let outline = outline(&case.outline, rail).ok()?;
        let mesh = prism(&outline, si(0.0), case.height.value).ok()?;
        Some(DrawnSolid { part: DrawnPart::Case, name: String::new(), mesh })
    }

    fn drawn_baffles(&self, baffles: &Named<Baffle>) -> Vec<DrawnSolid> {
        let solid = |item: &crate::document::Item<Baffle>| {
            let mesh = self.baffle_mesh(&item.value).ok()?;
            Some(DrawnSolid { part: DrawnPart::Baffle, name: item.name.clone(), mesh })
        };
        baffles.entries.iter().filter_map(solid).collect()
    }

    /// A baffle between its stated ends, without its openings.
    fn baffle_mesh(&self, baffle: &Baffle) -> Result<Mesh, Unknown> {
        let from = plan(Some(need(&baffle.from)?));
        let to = plan(Some(need(&baffle.to)?));
        let half = need(&baffle.thickness)?.value.value / 2.0;
        let side = (to - from).normalize_or_zero().perp() * half;
        let corners = [from + side, from - side, to - side, to + side];
        let outline = Outline::polygon(&corners)
            .map_err(|_| Unknown::because("the baffle has no length or thickness"))?;
        let bottom = match need(&baffle.bottom)? {
            BaffleBottom::Depth(depth) => depth.value.value,
            BaffleBottom::Floor(_) => {
                let middle = (from + to) / 2.0;
                self.with_terrain(|terrain| {
                    terrain
                        .depth_at(middle)
                        .map(|depth| depth.value)
                        .ok_or_else(|| Unknown::because("the baffle stands outside the rail"))
                })?
            }
        };
        let top = need(&baffle.top)?.value.value;
        prism(&outline, si(-bottom), si(-top))
            .map_err(|_| Unknown::because("the baffle has no height"))
    }

    /// Drains where they are stated: name, middle of the opening and direction out of the pan.
    pub fn drawn_drains(&self) -> Vec<(String, DVec3, DVec3)> {
        let Given::Stated(drains) = &*self.pan.drains else { return Vec::new() };
        let drawn = |item: &crate::document::Item<Drain>| {
            let at = need(&item.value.at).ok()?;
            let axis = direction(need(&item.value.axis).ok()?.value);
            Some((item.name.clone(), point(at), axis))
        };
        drains.entries.iter().filter_map(drawn).collect()
    }

    /// Where the bolts of the flange would stand if they were spaced evenly along the rail: their number is stated,
    /// their places are not.
    pub fn drawn_bolts(&self) -> Vec<DVec2> {
        let Given::Stated(flange) = &*self.pan.flange else { return Vec::new() };
        let Given::Stated(count) = &flange.bolts.count else { return Vec::new() };
        let Ok(rail) = self.rail() else { return Vec::new() };
        evenly_along(rail.points(), count.value)
    }
}

fn put(all: &mut Vec<DrawnSolid>, part: DrawnPart, name: &str, halves: Halves) {
    for mesh in [halves.below, halves.above].into_iter().flatten() {
        all.push(DrawnSolid { part, name: name.to_owned(), mesh });
    }
}

/// The most bolts that are drawn; a number beyond it is a slip of the pen.
const MOST_BOLTS: u32 = 200;

/// Places at equal distances along a closed line, the first in its first corner.
fn evenly_along(line: &[DVec2], count: u32) -> Vec<DVec2> {
    let sides = || line.iter().zip(line.iter().cycle().skip(1));
    let length: f64 = sides().map(|(a, b)| a.distance(*b)).sum();
    let count = count.min(MOST_BOLTS);
    let mut places = Vec::new();
    let mut walked = 0.0;
    for (a, b) in sides() {
        let side = a.distance(*b);
        while places.len() < count as usize {
            let at = length * places.len() as f64 / f64::from(count);
            if at > walked + side || side <= 0.0 {
                break;
            }
            places.push(a.lerp(*b, (at - walked) / side));
        }
        walked += side;
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn eight_places_on_a_square_are_its_corners_and_the_middles_of_its_sides() {
        let square =
            [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)].map(|(x, y)| DVec2::new(x, y));
        let places = evenly_along(&square, 8);
        assert_eq!(places.len(), 8);
        assert!(places[1].distance(DVec2::new(1.0, 0.0)) < 1e-15);
        assert!(places[6].distance(DVec2::new(0.0, 2.0)) < 1e-15);
    }
}
