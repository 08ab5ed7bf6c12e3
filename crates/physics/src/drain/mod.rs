//! What stays in a pan when it is drained.
