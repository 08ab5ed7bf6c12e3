//! A review as bytes: terminal text and JSON. Owns every wire shape; computes nothing.
