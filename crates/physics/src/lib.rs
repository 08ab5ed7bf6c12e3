//! Geometry, fluids and strength for oil pans: numbers in, numbers out.
//!
//! This crate has never heard of YAML, spans, rules or pans. Positions are [`glam::DVec3`] in metres, axes
//! x forward, y left, z up, z = 0 at the rail; every other quantity is typed (uom, SI base units).

pub mod aeration;
pub mod atmosphere;
pub mod basins;
pub mod columns;
pub mod distance;
pub mod drain;
pub mod emptying;
pub mod gasket;
pub mod heat;
pub mod joint;
pub mod level;
pub mod mesh;
pub mod opening;
pub mod orifice;
pub mod petroleum;
pub mod pipe_thread;
pub mod plate;
pub mod ramp;
pub mod seiche;
pub mod slosh;
pub mod smooth;
pub mod strength;
pub mod suction;
mod surface;
pub mod terrain;
pub mod thread;
pub mod viscosity;
pub mod vortex;
