//! Documents to solids in one frame: what a measure may see.
//!
//! Knows no limit and no rule. A scene is one pan with its vehicle, oil and duty at one set of values;
//! solids are made when a measure first asks for them and kept in a memo that scenes share, so that moving
//! one input rebuilds only what depends on it.

mod attitude;
mod basins;
mod compartment;
mod contain;
mod dams;
mod drained;
mod drains;
mod drawn;
mod drive;
mod emptying;
mod fill;
mod flange;
mod fluid;
mod heat;
mod interior;
mod looked;
mod lowest;
mod made_by;
mod memo;
mod mesh;
mod motion;
mod mouth;
mod neighbours;
mod notes;
mod oil_space;
mod once;
mod openings;
mod outlines;
mod rim;
mod rotating;
mod scene;
mod shadow;
mod skid;
mod soundings;
mod states;
mod suction;
mod words;

pub use attitude::{Attitude, level_ground};
pub(crate) use attitude::{attitude, to_pan};
pub use basins::{AtInlet, PoolAtRest};
pub use contain::contained;
pub use drained::Drained;
pub use drains::{DRAIN_TOLERANCE, PlacedDrain, metric, placed_drain};
pub use drawn::{DrawnPart, DrawnSolid};
pub use drive::{DriveRun, Moment, Tally};
pub use fill::Fill;
pub use flange::{anodic_index, proof_stress};
pub use fluid::Thickness;
pub use heat::{Outside, Stream, mean_thickness};
pub use looked::Looked;
pub use lowest::{Underside, drain_lowest, lowest_below_rail};
pub use made_by::made_by;
pub use memo::Memo;
pub(crate) use neighbours::optional;
pub use notes::notes;
pub use oil_space::World;
pub(crate) use oil_space::body_of;
pub use scene::Scene;
pub(crate) use scene::{need, need_or};
pub use states::{DutyPoint, InState, StateCheck, Which};
pub use suction::{Draw, Suction};
pub(crate) use words::millimetres;
