//! From the texts of pan descriptions and a rulebook to a review.
//!
//! The way through is one direction, a module a stage:
//! `source` → `quantity` → `mesh_file` → `document` → `reading` → `model` → `coverage` → `figure` → `measure` →
//! `rule` → `verdict` → `review` → `remedy` → `concede` → `remark` → `checklist` → `declare` → `compare` → `confirm` → `prove` → `explain` → `survey`.
//! A module uses only those before it; `tests/suite/tidy.rs` holds that.
//!
//! This crate opens no file, prints nothing, knows no wire format and no clock: texts come in through
//! [`source::Files`], a [`review::Review`] goes out.

pub mod checklist;
pub mod compare;
pub mod concede;
pub mod confirm;
pub mod coverage;
pub mod declare;
pub mod document;
pub mod explain;
pub mod figure;
pub mod measure;
pub mod mesh_file;
pub mod model;
pub mod prove;
pub mod quantity;
pub mod reading;
pub mod remark;
pub mod remedy;
pub mod review;
pub mod rule;
pub mod source;
pub mod survey;
pub mod verdict;
