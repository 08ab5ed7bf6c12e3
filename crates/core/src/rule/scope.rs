//! What a formula or condition may ask of the world.

use crate::measure::{Bounds, ObjectKind, Spec, Unknown};
use crate::quantity::Missing;

/// A condition's answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Truth {
    /// It holds.
    True,
    /// It does not.
    False,
    /// It cannot be said until this is stated, or for this reason.
    Unknown(Unknown),
}

/// One set of inputs: a pan (with an object of it, if the rule is read for each) and its baselines.
pub trait Scope {
    /// A measure's value; `object` counts within the measure's kind, 0 for the pan.
    ///
    /// # Errors
    /// Says why there is no reading.
    fn reading(&self, measure: &'static Spec, object: usize) -> Result<Bounds, Unknown>;

    /// Names of the objects of a kind, in the order written; none where the pan says `none`.
    ///
    /// # Errors
    /// Says what is not stated, where the family is left out.
    fn objects(&self, kind: ObjectKind) -> Result<Vec<String>, Unknown>;

    /// The baseline pans.
    fn baselines(&self) -> Vec<&dyn Scope>;

    /// Whether a document path (`pickup`, `vehicle.skid`, `duty.strike`, `drains.plug.boss`) is stated
    /// (true), `none` (false), or left out (the missing path; false where the field is optional).
    fn given(&self, path: &str) -> Truth;

    /// The word that stands at a document path.
    ///
    /// # Errors
    /// What is missing.
    fn word(&self, path: &str) -> Result<Option<String>, Missing>;
}
