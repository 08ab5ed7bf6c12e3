//! Documents to solids in one frame: what a measure may see.

/// A pan with its vehicle, oil and duty, and the solids made of them.
#[derive(Debug)]
pub struct Scene {}
