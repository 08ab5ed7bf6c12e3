//! Tests of drives.
