//! The measures: a scene in, a reading or a reason why there is none out.
//! A measure never looks at a limit, a rule or another measure's result.

mod reading;
mod registry;

pub use reading::{Bounds, Outcome, Sample, StateValue, Unknown, Worst};
pub use registry::{MEASURES, ObjectKind, Spec, find};
