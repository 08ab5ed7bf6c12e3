//! The round mouth of an inlet and how deep its rim lies below an oil surface.

use glam::DVec3;
use uom::si::area::square_meter;
use uom::si::f64::{Area, Length};
use uom::si::length::meter;

/// A round mouth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mouth {
    /// The middle of its opening, in metres.
    pub centre: DVec3,
    /// The unit vector square to its plane.
    pub normal: DVec3,
    /// Across its rim.
    pub diameter: Length,
}

impl Mouth {
    /// The depth of the rim's highest point below the oil surface, along its normal; negative when it stands out.
    ///
    /// # Formula
    /// h − d·c − r·|d × n| with the surface d·x = h, the middle c, the radius r and the mouth's normal n:
    /// |d × n| is √((d·e₁)² + (d·e₂)²) for any two directions e₁, e₂ in the mouth's plane.
    ///
    /// # Valid for
    /// Unit vectors `up` and `normal`, at any attitude; exact.
    ///
    /// # Source
    /// The greatest value of a linear function on a circle; tested against points on the rim.
    pub fn least_depth(&self, up: DVec3, height: Length) -> Length {
        height - self.highest(up)
    }

    /// The height of the rim's highest point along `up`.
    pub fn highest(&self, up: DVec3) -> Length {
        Length::new::<meter>(up.dot(self.centre) + self.rise(up))
    }

    /// The height of the rim's lowest point along `up`.
    pub fn lowest(&self, up: DVec3) -> Length {
        Length::new::<meter>(up.dot(self.centre) - self.rise(up))
    }

    /// The area within the rim.
    pub fn rim_area(&self) -> Area {
        let radius = self.diameter.value / 2.0;
        Area::new::<square_meter>(core::f64::consts::PI * radius * radius)
    }

    fn rise(&self, up: DVec3) -> f64 {
        self.diameter.value / 2.0 * up.cross(self.normal).length()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::length::millimeter;

    #[test]
    fn no_point_of_the_rim_is_shallower_and_one_is_as_shallow() {
        let normal = DVec3::new(0.2, -0.3, -0.9).normalize();
        let (one, other) = normal.any_orthonormal_pair();
        let mouth = Mouth {
            centre: DVec3::new(0.025, 0.010, -0.066),
            normal,
            diameter: Length::new::<millimeter>(32.0),
        };
        let height = Length::new::<millimeter>(-12.0);
        for up in
            [DVec3::new(0.5, 0.1, 0.8), DVec3::new(-0.3, 0.4, 0.8), DVec3::Z].map(DVec3::normalize)
        {
            let points = 100_000;
            let mut shallowest = f64::INFINITY;
            for point in 0..points {
                let angle = core::f64::consts::TAU * f64::from(point) / f64::from(points);
                let rim =
                    mouth.centre + (one * libm::cos(angle) + other * libm::sin(angle)) * 0.016;
                let depth = height.value - up.dot(rim);
                assert!(depth >= mouth.least_depth(up, height).value - 1e-15);
                shallowest = crate::mesh::smaller(shallowest, depth);
            }
            // A step of 1e-5 of the turn misses the least by r(1 − cos(step/2)) at most.
            assert!((shallowest - mouth.least_depth(up, height).value).abs() < 1e-11);
        }
    }

    #[test]
    fn a_mouth_that_faces_straight_down_is_as_deep_as_its_middle() {
        let mouth = Mouth {
            centre: DVec3::new(0.1, 0.2, -0.066),
            normal: DVec3::NEG_Z,
            diameter: Length::new::<millimeter>(32.0),
        };
        let depth = mouth.least_depth(DVec3::Z, Length::new::<millimeter>(-12.0));
        assert!((depth.value - 0.054).abs() < 1e-16);
        assert!((mouth.rim_area().value - 8.042_477_193_189_871e-4).abs() < 1e-18);
        let on_edge = DVec3::X;
        assert!(
            (mouth.highest(on_edge) - mouth.lowest(on_edge) - mouth.diameter).value.abs() < 1e-16
        );
    }
}
