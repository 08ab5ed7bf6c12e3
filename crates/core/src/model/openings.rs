//! What a baffle lets through: stated openings, and gaps at its ends and foot where it is not sealed.

use super::outlines::plan;
use super::scene::{Scene, need, need_or};
use crate::document::Item;
use crate::document::pan::{Baffle, BaffleBottom, OpeningForm, Sides};
use crate::quantity::{Given, si};
use crate::reading::{Bounds, Unknown};
use crate::source::Span;
use glam::DVec2;
use sumpwright_physics::opening;
use sumpwright_physics::orifice::{Opening, head_bounds};
use sumpwright_physics::terrain::Terrain;
use uom::si::f64::{Area, Length};

/// How far beyond a baffle's ends a wall is looked for, in metres: farther than any pan is wide.
const BEYOND: f64 = 5.0;

impl Scene {
    /// A baffle by its number.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn baffle(&self, index: usize) -> Result<&Item<Baffle>, Unknown> {
        need_or(&self.pan.baffles, "there are no baffles")?
            .entries
            .get(index)
            .ok_or_else(|| Unknown::because("there is no such baffle"))
    }

    /// A set of fins by its number.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn fin_set(&self, index: usize) -> Result<&crate::document::pan::FinSet, Unknown> {
        need_or(&self.pan.fins, "there are no fins")?
            .entries
            .get(index)
            .map(|item| &item.value)
            .ok_or_else(|| Unknown::because("there is no such set of fins"))
    }

    /// Area of all openings of a baffle, and where the first of them is stated.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn baffle_opening(&self, index: usize) -> Result<(Area, Span), Unknown> {
        let item = self.baffle(index)?;
        let mut area: Area = si(0.0);
        let mut subject = item.span;
        match &item.value.openings {
            Given::Stated(openings) => {
                for (number, opening) in openings.entries.iter().enumerate() {
                    area += opening_area(&opening.value.form)?;
                    if number == 0 {
                        subject = form_span(&opening.value.form);
                    }
                }
            }
            Given::Absent(span) => subject = *span,
            Given::LeftOut(missing) => return Err(Unknown::not_stated(missing.clone())),
        }
        let gaps = self.with_terrain(|terrain| {
            plain_along(terrain, &item.value)?;
            gap_area(terrain, &item.value)
        })?;
        Ok((area + gaps, subject))
    }
}

impl Scene {
    /// Area from a baffle's upper edge to its foot, out to the walls where it is sealed, and where its upper edge
    /// stands.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn baffle_area(&self, index: usize) -> Result<(Area, Span), Unknown> {
        let baffle = &self.baffle(index)?.value;
        let top = need(&baffle.top)?;
        let area = self.with_terrain(|terrain| {
            plain_along(terrain, baffle)?;
            let (from, to, along) = line(baffle)?;
            let upper = top.value.value;
            let sealed = need(&baffle.sides)?.value == Sides::Sealed;
            let deeper_than = |depth: f64| {
                let middle = below(&terrain_profile(terrain, from, to), depth);
                let ends = || {
                    beyond(terrain, from, -along, upper, depth)
                        + beyond(terrain, to, along, upper, depth)
                };
                if sealed { middle + ends() } else { middle }
            };
            Ok(match need(&baffle.bottom)? {
                BaffleBottom::Floor(_) => deeper_than(upper),
                BaffleBottom::Depth(bottom) => deeper_than(upper) - deeper_than(bottom.value.value),
            })
        })?;
        Ok((si(area), top.span))
    }

    /// The head that the pump's largest flow takes through a baffle at the coldest oil of the duty, in metres, and where
    /// the first opening is stated.
    ///
    /// # Errors
    /// Says what is not stated, or that the baffle has no opening.
    pub fn baffle_head(&self, index: usize) -> Result<(Bounds, Span), Unknown> {
        let (area, subject) = self.baffle_opening(index)?;
        let baffle = &self.baffle(index)?.value;
        if area.value <= 0.0 {
            return Err(Unknown::because("the baffle has no opening"));
        }
        let velocity = opening::mean_velocity(self.largest_flow()?.value, area);
        let stated = baffle.openings.stated().into_iter().flat_map(|openings| &openings.entries);
        let mut of_stated = 0.0;
        let mut smallest: Option<f64> = None;
        for item in stated {
            of_stated += opening_area(&item.value.form)?.value;
            let height = opening_height(&item.value.form);
            smallest =
                Some(smallest.map_or(height, |other| if height < other { height } else { other }));
        }
        let hole = Opening {
            area,
            smaller: si(smallest.unwrap_or(f64::NAN)),
            thickness: need(&baffle.thickness)?.value,
            height: si(0.0),
        };
        let viscosity = self.viscosity_at(self.coldest()?)?.bounds;
        let [least, most] = head_bounds(velocity, &hole, si(viscosity.high), Self::gravity());
        // How narrow a gap is that is not sealed nobody has stated, nor what it takes.
        let only_stated = area.value - of_stated <= 1e-9 * area.value;
        let high = if only_stated { most.value } else { f64::INFINITY };
        Ok((Bounds { low: least.value, high }, subject))
    }

    /// Height of a baffle's lowest opening over the deepest floor along it, and where its depth stands.
    ///
    /// # Errors
    /// Says what is not stated.
    pub fn baffle_lowest_opening(&self, index: usize) -> Result<(Length, Span), Unknown> {
        let item = self.baffle(index)?;
        let baffle = &item.value;
        if let BaffleBottom::Depth(bottom) = need(&baffle.bottom)? {
            return Ok((si(0.0), bottom.span));
        }
        let floor = self.with_terrain(|terrain| {
            plain_along(terrain, baffle)?;
            let (from, to, _) = line(baffle)?;
            let depths = terrain_profile(terrain, from, to).into_iter().map(|(_, depth)| depth);
            depths
                .reduce(|a, b| if b > a { b } else { a })
                .ok_or_else(|| Unknown::because("no floor lies under the baffle"))
        })?;
        let mut lowest: Option<(f64, Span)> = None;
        for opening in &need(&baffle.openings)?.entries {
            let depth = need(&opening.value.depth)?;
            let reach = depth.value.value + opening_height(&opening.value.form) / 2.0;
            if lowest.is_none_or(|(deepest, _)| reach > deepest) {
                lowest = Some((reach, depth.span));
            }
        }
        lowest
            .map(|(reach, span)| (si(floor - reach), span))
            .ok_or_else(|| Unknown::because("the baffle has no opening"))
    }
}

/// Both ends of a baffle and the direction from one to the other.
pub(super) fn line(baffle: &Baffle) -> Result<(DVec2, DVec2, DVec2), Unknown> {
    let (from, to) = (plan(Some(need(&baffle.from)?)), plan(Some(need(&baffle.to)?)));
    let along = (to - from).try_normalize();
    let along = along
        .ok_or_else(|| Unknown::because("the baffle has no length: both its ends are one place"))?;
    Ok((from, to, along))
}

/// An interior that overhangs along a baffle has no one profile there.
fn plain_along(terrain: &Terrain, baffle: &Baffle) -> Result<(), Unknown> {
    let (from, to, along) = line(baffle)?;
    if terrain.is_plain_along(from - along * BEYOND, to + along * BEYOND) {
        return Ok(());
    }
    Err(Unknown::because(
        "the interior overhangs along the baffle, so that it has no one floor there",
    ))
}

/// Height of an opening, in metres.
pub(super) fn opening_height(form: &OpeningForm) -> f64 {
    match form {
        OpeningForm::Circle(height)
        | OpeningForm::Slot(_, height)
        | OpeningForm::Rectangle(_, height) => height.value.value,
    }
}

pub(super) fn opening_area(form: &OpeningForm) -> Result<Area, Unknown> {
    match form {
        OpeningForm::Circle(diameter) => Ok(opening::circle_area(diameter.value)),
        OpeningForm::Slot(length, width) => opening::slot_area(length.value, width.value)
            .ok_or_else(|| Unknown::because("a slot is shorter than it is wide")),
        OpeningForm::Rectangle(along, height) => {
            Ok(opening::rectangle_area(along.value, height.value))
        }
    }
}

fn form_span(form: &OpeningForm) -> Span {
    match form {
        OpeningForm::Circle(first)
        | OpeningForm::Slot(first, _)
        | OpeningForm::Rectangle(first, _) => first.span,
    }
}

/// Gaps at the ends and under the foot of a baffle.
fn gap_area(terrain: &Terrain, baffle: &Baffle) -> Result<Area, Unknown> {
    let (from, to, along) = line(baffle)?;
    let top = need(&baffle.top)?.value.value;
    let bottom = match need(&baffle.bottom)? {
        BaffleBottom::Floor(_) => None,
        BaffleBottom::Depth(depth) => Some(depth.value.value),
    };
    let sides = need(&baffle.sides)?.value;
    let end_top = match sides {
        // Sealed: the line goes on to the wall, so that only what is below the foot is open there.
        Sides::Sealed => bottom,
        Sides::Open => Some(top),
    };
    let mut area = 0.0;
    if let Some(upper) = end_top {
        area += beyond(terrain, from, -along, top, upper) + beyond(terrain, to, along, top, upper);
    }
    if let Some(bottom) = bottom {
        area += below(&terrain_profile(terrain, from, to), bottom);
    }
    Ok(si(area))
}

/// Area deeper than `upper` on the line from an end outward, as far as the floor lies deeper than the
/// baffle's upper edge without a break.
fn beyond(terrain: &Terrain, end: DVec2, outward: DVec2, top: f64, upper: f64) -> f64 {
    let profile = terrain_profile(terrain, end, end + outward * BEYOND);
    let reach: Vec<(f64, f64)> = until_wall(&profile, top);
    below(&reach, upper)
}

fn terrain_profile(terrain: &Terrain, from: DVec2, to: DVec2) -> Vec<(f64, f64)> {
    terrain.profile(from, to).into_iter().map(|(s, depth)| (s.value, depth.value)).collect()
}

/// The profile up to where it first rises to depth `top`.
fn until_wall(profile: &[(f64, f64)], top: f64) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = Vec::new();
    for &(s, depth) in profile {
        if depth <= top {
            if let Some(&(before, deeper)) = kept.last() {
                let share = (deeper - top) / (deeper - depth);
                kept.push((before + share * (s - before), top));
            }
            break;
        }
        kept.push((s, depth));
    }
    kept
}

/// Area between a profile and a line at depth `upper`, where the profile lies deeper.
fn below(profile: &[(f64, f64)], upper: f64) -> f64 {
    let mut area = 0.0;
    for pair in profile.windows(2) {
        let &[(s0, d0), (s1, d1)] = pair else { continue };
        let (a, b, width) = (d0 - upper, d1 - upper, s1 - s0);
        area += match (a > 0.0, b > 0.0) {
            (true, true) => f64::midpoint(a, b) * width,
            (true, false) => a * a / (a - b) / 2.0 * width,
            (false, true) => b * b / (b - a) / 2.0 * width,
            (false, false) => 0.0,
        };
    }
    area
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gap_ends_where_the_wall_rises_to_the_baffles_upper_edge() {
        // A wall that falls back from depth 10 to 0 over 10: cut at depth 5.
        let kept = until_wall(&[(0.0, 10.0), (4.0, 10.0), (14.0, 0.0)], 5.0);
        assert_eq!(kept, vec![(0.0, 10.0), (4.0, 10.0), (9.0, 5.0)]);
        assert!((below(&kept, 5.0) - (4.0 * 5.0 + 12.5)).abs() < 1e-12);
    }

    #[test]
    fn a_profile_above_the_line_opens_nothing() {
        assert!(below(&[(0.0, 3.0), (10.0, 3.0)], 5.0).abs() < 1e-15);
    }
}
