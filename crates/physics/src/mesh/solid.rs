//! Simple solids as closed meshes: prisms, blocks and cylinders, whole or parted at the rail.
#![expect(
    clippy::indexing_slicing,
    reason = "every index comes from the length of the same polygon"
)]

use super::{Mesh, index_of, polygon::triangulate};
use crate::terrain::{Outline, OutlineError};
use glam::{DVec2, DVec3};
use uom::si::f64::Length;

/// The direction a cylinder lies or stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Axis {
    /// Lying, along x.
    X,
    /// Lying, along y.
    Y,
    /// Standing.
    Z,
}

/// A block or a cylinder.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Solid {
    /// A block parallel to the axes.
    Block {
        /// Its lowest corner, in metres.
        min: DVec3,
        /// Its highest corner, in metres.
        max: DVec3,
    },
    /// A round cylinder; its circle is a polygon of inscribed chords as an [`Outline`] is.
    Cylinder {
        /// Its middle, in metres.
        middle: DVec3,
        /// Along which axis.
        along: Axis,
        /// Across the axis.
        diameter: Length,
        /// Along the axis.
        length: Length,
    },
}

/// A solid parted by the plane z = 0.
#[derive(Debug, Clone, PartialEq)]
pub struct Halves {
    /// What lies below the rail, if anything.
    pub below: Option<Mesh>,
    /// What lies above the rail, if anything.
    pub above: Option<Mesh>,
}

/// Why there is no solid of these sizes.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum SolidError {
    /// A size along an axis is not a positive, finite number.
    NotPositive {
        /// The axis.
        along: Axis,
        /// The size, in metres.
        size: f64,
    },
    /// The circle cannot be drawn.
    Outline(OutlineError),
}

impl Solid {
    /// The whole solid as a closed mesh.
    ///
    /// # Errors
    /// A size that is not positive and finite.
    pub fn mesh(&self) -> Result<Mesh, SolidError> {
        let section = self.section()?;
        Ok(section.extrude())
    }

    /// The parts below and above the rail plane; the cut faces are closed, and the two add up to the whole.
    ///
    /// # Errors
    /// A size that is not positive and finite.
    pub fn split_at_rail(&self) -> Result<Halves, SolidError> {
        let section = self.section()?;
        Ok(Halves {
            below: section.half(-1.0).map(|part| part.extrude()),
            above: section.half(1.0).map(|part| part.extrude()),
        })
    }

    /// How much of the volume the chords lose, as a share; 0 for a block.
    ///
    /// # Errors
    /// A size that is not positive and finite.
    pub fn chord_share(&self) -> Result<f64, SolidError> {
        match *self {
            Self::Block { .. } => Ok(0.0),
            Self::Cylinder { diameter, .. } => Outline::circle(DVec2::ZERO, diameter)
                .map(|circle| circle.chord_share())
                .map_err(SolidError::Outline),
        }
    }

    fn section(&self) -> Result<Section, SolidError> {
        match *self {
            Self::Block { min, max } => block_section(min, max),
            Self::Cylinder { middle, along, diameter, length } => {
                positive(along, length.value)?;
                let across = match along {
                    Axis::X => DVec2::new(middle.y, middle.z),
                    Axis::Y => DVec2::new(middle.z, middle.x),
                    Axis::Z => DVec2::new(middle.x, middle.y),
                };
                let circle = Outline::circle(across, diameter).map_err(SolidError::Outline)?;
                let at = along.part(middle);
                let half = length.value / 2.0;
                Ok(Section {
                    along,
                    points: circle.points().to_vec(),
                    from: at - half,
                    to: at + half,
                })
            }
        }
    }
}

impl Axis {
    fn part(self, point: DVec3) -> f64 {
        match self {
            Self::X => point.x,
            Self::Y => point.y,
            Self::Z => point.z,
        }
    }

    /// A point from its place in the section and along the axis; (section x, section y, axis) is right-handed.
    fn place(self, across: DVec2, along: f64) -> DVec3 {
        match self {
            Self::X => DVec3::new(along, across.x, across.y),
            Self::Y => DVec3::new(across.y, along, across.x),
            Self::Z => DVec3::new(across.x, across.y, along),
        }
    }
}

/// An upright prism over an outline, between two heights above the rail.
///
/// # Errors
/// `z_high` that is not above `z_low`, or a height that is not finite.
pub fn prism(outline: &Outline, z_low: Length, z_high: Length) -> Result<Mesh, SolidError> {
    positive(Axis::Z, z_high.value - z_low.value)?;
    let points = outline.points().to_vec();
    Ok(Section { along: Axis::Z, points, from: z_low.value, to: z_high.value }.extrude())
}

fn positive(along: Axis, size: f64) -> Result<(), SolidError> {
    if size > 0.0 && size.is_finite() {
        Ok(())
    } else {
        Err(SolidError::NotPositive { along, size })
    }
}

fn block_section(min: DVec3, max: DVec3) -> Result<Section, SolidError> {
    for along in [Axis::X, Axis::Y, Axis::Z] {
        positive(along, along.part(max) - along.part(min))?;
    }
    let points = vec![
        DVec2::new(min.x, min.y),
        DVec2::new(max.x, min.y),
        DVec2::new(max.x, max.y),
        DVec2::new(min.x, max.y),
    ];
    Ok(Section { along: Axis::Z, points, from: min.z, to: max.z })
}

/// A counter-clockwise polygon drawn out along an axis.
struct Section {
    along: Axis,
    points: Vec<DVec2>,
    from: f64,
    to: f64,
}

impl Section {
    fn extrude(&self) -> Mesh {
        let count = self.points.len();
        let mut mesh = Mesh::default();
        for end in [self.from, self.to] {
            mesh.points.extend(self.points.iter().map(|&p| self.along.place(p, end)));
        }
        for [a, b, c] in triangulate(&self.points) {
            let far = index_of(count);
            mesh.faces.push([a, c, b]);
            mesh.faces.push([a + far, b + far, c + far]);
        }
        for at in 0..count {
            let (a, b) = (index_of(at), index_of((at + 1) % count));
            let (far_a, far_b) = (a + index_of(count), b + index_of(count));
            mesh.faces.push([a, b, far_b]);
            mesh.faces.push([a, far_b, far_a]);
        }
        mesh
    }

    /// The part on one side of z = 0: side 1 above, −1 below.
    fn half(&self, side: f64) -> Option<Self> {
        let (mut from, mut to) = (self.from, self.to);
        let mut points = self.points.clone();
        match self.along {
            Axis::Z if side > 0.0 => from = super::larger(from, 0.0),
            Axis::Z => to = super::smaller(to, 0.0),
            Axis::X => points = clip(&points, |p| p.y * side),
            Axis::Y => points = clip(&points, |p| p.x * side),
        }
        (to > from && points.len() >= 3).then_some(Self { along: self.along, points, from, to })
    }
}

/// The part of a convex polygon where a linear function is positive.
fn clip(points: &[DVec2], height: impl Fn(DVec2) -> f64) -> Vec<DVec2> {
    let mut kept = Vec::with_capacity(points.len() + 1);
    if !points.iter().any(|&p| height(p) > 0.0) {
        return kept;
    }
    for at in 0..points.len() {
        let (a, b) = (points[at], points[(at + 1) % points.len()]);
        let (from, to) = (height(a), height(b));
        if from >= 0.0 {
            kept.push(a);
        }
        if (from > 0.0 && to < 0.0) || (from < 0.0 && to > 0.0) {
            kept.push(a + (b - a) * (from / (from - to)));
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mesh::check;
    use uom::si::length::{meter, millimeter};

    fn millimetres(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    /// A lying cylinder of 0.2 m, 0.5 m long, filled 0.05 m deep holds 3.0709242 L. Source:
    /// elementary solid geometry, verified with `fluids.geometry.V_from_h`.
    #[test]
    fn a_lying_cylinder_below_the_rail_is_a_prism_over_a_segment() {
        for along in [Axis::X, Axis::Y] {
            let tank = Solid::Cylinder {
                middle: DVec3::new(0.3, -0.2, 0.05),
                along,
                diameter: Length::new::<meter>(0.2),
                length: Length::new::<meter>(0.5),
            };
            let Halves { below: Some(below), above: Some(above) } = tank.split_at_rail().unwrap()
            else {
                panic!("the rail crosses it");
            };
            assert_eq!(check(&below), Ok(()));
            assert_eq!(check(&above), Ok(()));
            let exact = 3.070_924_2e-3;
            assert!((below.volume().value - exact).abs() < 1e-4 * exact);
            let whole = tank.mesh().unwrap().volume().value;
            assert!((below.volume().value + above.volume().value - whole).abs() < 1e-15);
            let cylinder = core::f64::consts::PI * 0.01 * 0.5;
            let share = tank.chord_share().unwrap();
            assert!(share <= 8e-6 && (whole - cylinder * (1.0 - share)).abs() < 1e-14);
        }
    }

    #[test]
    fn a_block_and_a_standing_cylinder_part_at_the_rail() {
        let block = Solid::Block { min: DVec3::new(0., 0., -2.), max: DVec3::new(1., 1., 3.) };
        let halves = block.split_at_rail().unwrap();
        assert!((halves.below.unwrap().volume().value - 2.0).abs() < 1e-14);
        assert!((halves.above.unwrap().volume().value - 3.0).abs() < 1e-14);
        let post = Solid::Cylinder {
            middle: DVec3::new(0., 0., -0.1),
            along: Axis::Z,
            diameter: millimetres(10.0),
            length: millimetres(20.0),
        };
        let halves = post.split_at_rail().unwrap();
        assert!(halves.above.is_none());
        assert_eq!(check(&halves.below.unwrap()), Ok(()));
    }

    #[test]
    fn a_cylinder_that_only_touches_the_rail_has_one_half() {
        for (z, below) in [(0.005, false), (-0.005, true)] {
            let touching = Solid::Cylinder {
                middle: DVec3::new(0., 0., z),
                along: Axis::X,
                diameter: millimetres(10.0),
                length: millimetres(20.0),
            };
            let halves = touching.split_at_rail().unwrap();
            assert_eq!((halves.below.is_some(), halves.above.is_some()), (below, !below));
        }
    }

    #[test]
    fn a_prism_over_a_concave_outline_is_closed() {
        let corner = |x: f64, y: f64| DVec2::new(x, y);
        let angle = [
            corner(0., 0.),
            corner(3., 0.),
            corner(3., 1.),
            corner(1., 1.),
            corner(1., 3.),
            corner(0., 3.),
        ];
        let outline = Outline::polygon(&angle).unwrap();
        let mesh = prism(&outline, Length::new::<meter>(-1.0), Length::new::<meter>(1.0)).unwrap();
        assert_eq!(check(&mesh), Ok(()));
        assert!((mesh.volume().value - 10.0).abs() < 1e-13);
    }

    #[test]
    fn sizes_that_make_no_body_are_refused() {
        let flat = Solid::Block { min: DVec3::ZERO, max: DVec3::new(1., 0., 1.) };
        assert_eq!(flat.mesh(), Err(SolidError::NotPositive { along: Axis::Y, size: 0.0 }));
        let hole = Solid::Cylinder {
            middle: DVec3::ZERO,
            along: Axis::X,
            diameter: millimetres(-1.0),
            length: millimetres(20.0),
        };
        assert!(matches!(hole.mesh(), Err(SolidError::Outline(_))));
    }
}
