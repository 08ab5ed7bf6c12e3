//! Strength: what a fin's root bears, and how thin a process can make a wall.

pub mod fin;
pub mod process;
