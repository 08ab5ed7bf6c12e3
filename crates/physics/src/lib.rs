//! Geometry, fluids and strength for oil pans: numbers in, numbers out.
//!
//! This crate has never heard of YAML, spans, rules or pans. Positions are [`glam::DVec3`] in metres, axes
//! x forward, y left, z up, z = 0 at the rail; every other quantity is typed (uom, SI base units).

pub mod drain;
pub mod level;
pub mod mesh;
pub mod opening;
pub mod ramp;
pub mod slosh;
pub mod smooth;
pub mod strength;
pub mod terrain;
pub mod thread;
