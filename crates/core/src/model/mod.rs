//! Documents to solids in one frame: what a measure may see.
//!
//! Knows no limit and no rule. A scene is one pan with its vehicle, oil and duty at one set of values;
//! solids are made when a measure first asks for them and kept in a memo that scenes share, so that moving
//! one input rebuilds only what depends on it.

mod attitude;
mod contain;
mod drained;
mod drains;
mod drawn;
mod fill;
mod interior;
mod lowest;
mod made_by;
mod memo;
mod mouth;
mod notes;
mod oil_space;
mod openings;
mod outlines;
mod rim;
mod rotating;
mod scene;
mod states;
mod words;

pub use attitude::{Attitude, level_ground};
pub use contain::contained;
pub use drained::Drained;
pub use drains::{DRAIN_TOLERANCE, PlacedDrain, placed_drain};
pub use drawn::{DrawnPart, DrawnSolid};
pub use fill::Fill;
pub use lowest::{Underside, drain_lowest, lowest_below_rail};
pub use made_by::made_by;
pub use memo::Memo;
pub use notes::notes;
pub use oil_space::World;
pub use scene::Scene;
pub(crate) use scene::need;
pub use states::{DutyPoint, InState, StateCheck};
