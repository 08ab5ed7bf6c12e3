//! Outlines and depths to the solid of an interior.
