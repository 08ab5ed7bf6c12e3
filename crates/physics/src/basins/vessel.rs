//! The space that oil can fill, with all that does not change when it is turned.

#![expect(
    clippy::indexing_slicing,
    reason = "faces and corners lie within the stretches that were made with them, and chambers are checked"
)]

use super::BasinError;
use super::seam::Seam;
use super::slit::{Soup, Wall};
use super::tree::Tree;
use super::views::{View, Views};
use crate::mesh::{Mesh, index_of};
use crate::surface::Surface;
use core::ops::Range;
use glam::{DVec2, DVec3};
use std::sync::Arc;
use uom::si::f64::{Length, Ratio};

/// One closed space with what stands or hangs in it.
#[derive(Debug, Clone)]
pub struct Chamber {
    /// The space, closed; faces look outward.
    pub space: Mesh,
    /// Closed bodies in it that take up its room; faces look outward of the body.
    pub displaced: Vec<Mesh>,
    /// Upright walls that stand in it.
    pub dams: Vec<Dam>,
    /// Which share of its room is free for oil.
    pub free_share: Ratio,
}

/// An upright wall without thickness that stands on the surface and keeps oil behind it.
#[derive(Debug, Clone)]
pub struct Dam {
    /// One end in plan, in metres. Beyond its ends it goes on to where the surface rises to its top.
    pub from: DVec2,
    /// The other end.
    pub to: DVec2,
    /// Height of its upper edge, along z.
    pub top: Length,
    /// Holes in it.
    pub openings: Vec<Opening>,
}

/// A hole in a dam: every place in its plane within `radius` of the polygon of these corners.
#[derive(Debug, Clone)]
pub struct Opening {
    /// One for a circle, two for a slot with round ends, the corners of a polygon; in the dam's plane, in metres.
    pub corners: Vec<DVec3>,
    /// Of its round ends; none for a polygon.
    pub radius: Length,
}

/// A plane, convex opening from one chamber into another.
#[derive(Debug, Clone)]
pub struct Passage {
    /// The numbers of the two chambers.
    pub chambers: [usize; 2],
    /// The corners of the opening, which lie on both chambers' surfaces, in metres.
    pub outline: Vec<DVec3>,
}

/// The space that oil can fill, ready to be turned. See the [module](super).
#[derive(Debug, Clone)]
pub struct Vessel {
    pub(super) surface: Surface,
    pub(super) parts: Vec<Part>,
    pub(super) passages: Vec<Passage>,
    pub(super) seams: Vec<Seam>,
    pub(super) lips: Vec<Lip>,
    views: Views,
}

/// The stretch of faces that bounds one chamber and what stands in it.
#[derive(Debug, Clone)]
pub(super) struct Part {
    pub(super) faces: Range<usize>,
    pub(super) corners: Range<usize>,
    pub(super) share: f64,
}

/// An opening in a dam, and the feet of that dam as stretches of the seams.
#[derive(Debug, Clone)]
pub(super) struct Lip {
    pub(super) opening: Opening,
    pub(super) normal: DVec3,
    /// Pairs of edges, in front and behind.
    pub(super) feet: Vec<[[usize; 2]; 2]>,
}

/// Two corners that are one body of oil from a height on.
#[derive(Debug, Clone, Copy)]
pub(super) struct Link {
    pub(super) height: f64,
    pub(super) ends: [usize; 2],
}

impl Vessel {
    /// Checks the chambers and puts them together.
    ///
    /// # Errors
    /// A mesh that is no closed, outward surface; a dam without length; a passage between chambers that are not there.
    pub fn new(chambers: &[Chamber], passages: &[Passage]) -> Result<Self, BasinError> {
        let mut whole = Soup::default();
        let (mut parts, mut seams, mut lips) = (Vec::new(), Vec::new(), Vec::new());
        for chamber in chambers {
            let (soup, feet) = checked(chamber)?.parted(&walls(&chamber.dams)?);
            let (corner, face) = (whole.points.len(), whole.faces.len());
            whole.points.extend(&soup.points);
            whole.faces.extend(soup.faces.iter().map(|face| face.map(|at| at + corner)));
            let share = chamber.free_share.value;
            let moved = |edge: [usize; 2]| edge.map(|at| at + corner);
            for (number, dam) in chamber.dams.iter().enumerate() {
                let own = feet.iter().filter(|foot| foot.wall == number);
                let edges: Vec<_> = own.map(|foot| [moved(foot.front), moved(foot.back)]).collect();
                let Some(normal) = feet.iter().find(|f| f.wall == number).map(|f| f.normal) else {
                    continue;
                };
                for [front, back] in &edges {
                    seams.push(Seam { ends: *front, normal: -normal, share });
                    seams.push(Seam { ends: *back, normal, share });
                }
                lips.extend(
                    dam.openings.iter().filter(|hole| !hole.corners.is_empty()).map(|hole| Lip {
                        opening: hole.clone(),
                        normal,
                        feet: edges.clone(),
                    }),
                );
            }
            parts.push(Part {
                faces: face..whole.faces.len(),
                corners: corner..whole.points.len(),
                share,
            });
        }
        if whole.faces.is_empty() {
            return Err(BasinError::Empty);
        }
        let known = |passage: &&Passage| passage.chambers.iter().all(|&at| at < parts.len());
        if passages.iter().filter(known).count() < passages.len() {
            return Err(BasinError::NoSuchChamber);
        }
        let surface = Surface::of_faces(whole.points, whole.faces);
        let (passages, views) = (passages.to_vec(), Views::default());
        Ok(Self { surface, parts, passages, seams, lips, views })
    }

    /// The surface with another direction as up.
    pub(super) fn turned(&self, up: DVec3) -> Result<Surface, BasinError> {
        let mut surface = self.surface.clone();
        surface.turn(up)?;
        Ok(surface)
    }

    /// The basins for one direction, made once as long as there is room to keep them: many volumes go one way.
    pub(super) fn view(&self, up: DVec3) -> Result<Arc<View>, BasinError> {
        self.views.get(up, self.surface.faces.len(), || {
            let surface = self.turned(up)?;
            let tree = Tree::new(self, &surface)?;
            Ok(View { surface, tree })
        })
    }

    /// The stretch of faces of the chamber that a corner belongs to.
    pub(super) fn faces_round(&self, corner: usize) -> Range<usize> {
        let part = self.parts.iter().find(|part| part.corners.contains(&corner));
        part.map_or(0..0, |part| part.faces.clone())
    }

    /// What joins through passages and the openings of dams, each at its lowest place.
    pub(super) fn links(&self, surface: &Surface) -> Vec<Link> {
        let through = self.passages.iter().filter_map(|passage| {
            let lowest = passage.outline.iter().copied().reduce(|one, other| {
                if surface.up.dot(other) < surface.up.dot(one) { other } else { one }
            })?;
            let ends = passage.chambers.map(|chamber| {
                let faces = self.parts[chamber].faces.clone();
                surface.lowest(surface.nearest_among(lowest, faces).1)
            });
            Some(Link { height: surface.up.dot(lowest), ends })
        });
        through.chain(self.lips.iter().filter_map(|lip| lip.link(surface))).collect()
    }
}

impl Lip {
    /// The lowest place of the opening joins what stands straight below it on both sides of the dam.
    fn link(&self, surface: &Surface) -> Option<Link> {
        let down = surface.up - self.normal * surface.up.dot(self.normal);
        let steep = down.length();
        let radius = self.opening.radius.value;
        let corners = self.opening.corners.iter().copied();
        let lowest = corners.reduce(|one, other| {
            if surface.up.dot(other) < surface.up.dot(one) { other } else { one }
        })?;
        let place = if steep > 0.0 { lowest - down * (radius / steep) } else { lowest };
        let down = down.try_normalize()?;
        let across = self.normal.cross(down);
        // Straight below it within the dam's plane, or where rounding has put it just below its foot, the nearest.
        let height_over = |[front, _]: &[[usize; 2]; 2]| {
            let [a, b] = front.map(|corner| surface.points[corner] - place);
            let (x, y) = (a.dot(across), b.dot(across));
            (x * y <= 0.0 && (x - y).abs() > 0.0).then(|| -down.dot(a.lerp(b, x / (x - y))))
        };
        let within = -surface.tolerance;
        let under = self.feet.iter().filter_map(|feet| Some((height_over(feet)?, feet)));
        let under = under.filter(|(over, _)| *over >= within);
        let nearest = |feet: &[[usize; 2]; 2]| {
            let [a, b] = feet[0].map(|corner| surface.points[corner].distance(place));
            if a < b { a } else { b }
        };
        let all = self.feet.iter().map(|feet| (nearest(feet), feet));
        let least = |one: (f64, _), other: (f64, _)| if other.0 < one.0 { other } else { one };
        let (_, feet) = under.reduce(least).or_else(|| all.reduce(least))?;
        let lower =
            |[a, b]: [usize; 2]| if surface.heights[b] < surface.heights[a] { b } else { a };
        Some(Link { height: surface.up.dot(place), ends: feet.map(lower) })
    }
}

fn walls(dams: &[Dam]) -> Result<Vec<Wall>, BasinError> {
    let wall = |dam: &Dam| {
        let is_sound = dam.from.is_finite() && dam.to.is_finite() && dam.top.value.is_finite();
        let has_length = dam.from.distance(dam.to) > 0.0;
        let wall = Wall { from: dam.from, to: dam.to, top: dam.top.value };
        (is_sound && has_length).then_some(wall).ok_or(BasinError::DamWithoutLength)
    };
    dams.iter().map(wall).collect()
}

/// The chamber's surface with the surfaces of what stands in it, turned to look out of the oil.
fn checked(chamber: &Chamber) -> Result<Soup, BasinError> {
    Surface::new(&chamber.space, DVec3::Z)?;
    let mut all = chamber.space.clone();
    for body in &chamber.displaced {
        Surface::new(body, DVec3::Z)?;
        let shift = index_of(all.points.len());
        all.points.extend_from_slice(&body.points);
        all.faces.extend(body.faces.iter().map(|&[a, b, c]| [a + shift, c + shift, b + shift]));
    }
    let faces = all.faces.iter().map(|face| face.map(|corner| corner as usize)).collect();
    Ok(Soup { points: all.points, faces })
}
