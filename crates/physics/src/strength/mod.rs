//! Strength of fins and plates.
