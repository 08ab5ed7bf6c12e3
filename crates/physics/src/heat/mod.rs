//! Heat from the oil through the pan into the air.

pub mod air;
pub mod balance;
pub mod film;
pub mod fin;
