//! Metric threads.
