use super::atlas::Mark;
use super::draw::{Weight, draw};
use super::page::Page;
use super::{measured, review};
use crate::format::Options;
use crate::samples::{self, World};
use proptest::prelude::*;
use sumpwright_core::review::{PanReview, Review};
use sumpwright_core::source::{FileId, Sources, Span};
use sumpwright_core::verdict::Verdict;
use unicode_width::UnicodeWidthStr;

const WIDE: Options = Options { width: 100, colour: false, plain: false, all: false };

#[test]
fn every_verdict_as_text() {
    insta::assert_snapshot!(review(&samples::every_verdict(), &WIDE));
}

#[test]
fn every_verdict_in_sixty_columns_of_ascii() {
    let options = Options { width: 60, plain: true, ..WIDE };
    insta::assert_snapshot!(review(&samples::every_verdict(), &options));
}

#[test]
fn every_verdict_with_all_that_is_known() {
    insta::assert_snapshot!(review(&samples::every_verdict(), &Options { all: true, ..WIDE }));
}
