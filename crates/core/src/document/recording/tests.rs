//! Tests of recordings.
