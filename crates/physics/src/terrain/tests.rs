//! Terrains against closed forms, and whatever zones a fuzzer thinks of.
