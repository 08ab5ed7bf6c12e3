//! The pan and the attitudes that levels are timed on.

use glam::DVec3;
use sumpwright_physics::mesh::Mesh;

/// How deep the floor lies at a place, in millimetres: a shelf, a ramp all round, a sump, and a wave of 0.6 mm, so
/// that no two triangles of the floor are in one plane.
fn depth(x: f64, y: f64) -> f64 {
    let (along, across) = (((x - 20.0).abs() - 115.0) / 30.0, (y.abs() - 95.0) / 30.0);
    let share = (1.0 - if along > across { along } else { across }).clamp(0.0, 1.0);
    let ramp = share * share * (3.0 - 2.0 * share);
    42.0 + 70.0 * ramp + 0.6 * libm::sin(x * 0.05) * libm::cos(y * 0.07)
}

/// A pan of 410 × 270 mm of so many cells along and across, closed by a lid at the rail; each wall is one row of
/// tall triangles.
pub(crate) fn pan(along: usize, across: usize) -> Mesh {
    let mut mesh = Mesh::default();
    for i in 0..=along {
        for j in 0..=across {
            let x = -205.0 + 410.0 * i as f64 / along as f64;
            let y = -135.0 + 270.0 * j as f64 / across as f64;
            mesh.points.push(DVec3::new(x, y, -depth(x, y)) * 1e-3);
            mesh.points.push(DVec3::new(x, y, 0.0) * 1e-3);
        }
    }
    let at = |i: usize, j: usize| u32::try_from((i * (across + 1) + j) * 2).unwrap();
    for i in 0..along {
        for j in 0..across {
            let [a, b, c, d] = [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
            mesh.faces.extend([[a, c, b], [a, d, c]]);
            mesh.faces.extend([[a + 1, b + 1, c + 1], [a + 1, c + 1, d + 1]]);
        }
    }
    let mut wall = |a: u32, b: u32| mesh.faces.extend([[a, b, b + 1], [a, b + 1, a + 1]]);
    for i in 0..along {
        wall(at(i, 0), at(i + 1, 0));
        wall(at(i + 1, across), at(i, across));
    }
    for j in 0..across {
        wall(at(along, j), at(along, j + 1));
        wall(at(0, j + 1), at(0, j));
    }
    mesh
}

/// Numbers that look random and are the same in every run.
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new() -> Self {
        Self(88_172_645_463_325_252)
    }

    /// From 0 to 1.
    fn even(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Nearly normal, with a standard deviation of 1.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.even()).sum::<f64>() - 6.0
    }
}

/// Attitudes spread evenly over all tilts to 45°.
pub(crate) fn alone(count: usize, dice: &mut Dice) -> Vec<DVec3> {
    let mut one = || {
        let azimuth = dice.even() * core::f64::consts::TAU;
        let tilt = libm::acos(1.0 - dice.even() * (1.0 - core::f64::consts::FRAC_1_SQRT_2));
        let (sin, cos) = (libm::sin(tilt), libm::cos(tilt));
        DVec3::new(libm::cos(azimuth) * sin, libm::sin(azimuth) * sin, cos)
    };
    (0..count).map(|_| one()).collect()
}

/// A drive at 100 samples a second, with noise of so many gn on each axis.
pub(crate) fn drive(count: usize, noise: f64, dice: &mut Dice) -> Vec<DVec3> {
    (0..count)
        .map(|step| {
            let t = step as f64 * 0.01;
            let x = 0.35 * libm::sin(0.5 * t) + 0.2 * libm::sin(1.3 * t + 1.0);
            let y = 0.3 * libm::sin(0.37 * t + 0.5) + 0.15 * libm::sin(2.1 * t);
            let shake = [dice.normal(), dice.normal(), dice.normal()];
            (DVec3::new(x, y, 1.0) + DVec3::from(shake) * noise).normalize()
        })
        .collect()
}
