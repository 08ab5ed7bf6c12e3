//! The integration tests, one suite a module.
