//! The oil level: the plane with a stated volume below it.
