//! A declaration as files: an in-toto statement that anyone can sign with a tool of their own, the review behind it, and
//! pages for people; and the same statement read back.

mod differences;
mod envelope;
mod statement;
#[cfg(test)]
mod tests;
mod wire;

pub use differences::differences;
pub use envelope::{envelope, read_envelope};
pub use statement::read_statement;

use crate::{html, json};
use std::collections::BTreeMap;
use sumpwright_core::confirm::{PAYLOAD_TYPE, STATEMENT, TO_SIGN, to_sign};
use sumpwright_core::declare::{Listed, Package, Record, Role, sha256};

/// The review, for programs.
const RESULTS: &str = "review.json";
/// The review, for people.
const REVIEW_PAGE: &str = "review.html";
/// The declaration, for people.
pub(crate) const PAGE: &str = "declaration.html";
/// Every measure, for programs.
const MEASURES: &str = "measures.json";
/// The outcome alone, for programs that know no pans.
const TEST_RESULT: &str = "test-result.json";

/// Everything that is made from a package, by name: the same package gives the same bytes.
pub fn made(package: &Package) -> BTreeMap<String, Vec<u8>> {
    let mut record = package.record.clone();
    let mut files = BTreeMap::new();
    let mut add = |record: &mut Record, name: &str, role, text: String| {
        let sha256 = sha256(text.as_bytes());
        record.files.push(Listed { name: name.to_owned(), role, sha256, withheld: None });
        files.insert(name.to_owned(), text.into_bytes());
    };
    add(&mut record, RESULTS, Role::Results, json::review(&package.review));
    add(&mut record, MEASURES, Role::Measures, json::measured(&package.measured));
    add(&mut record, REVIEW_PAGE, Role::Page, html::review(&package.review));
    let listed = record.clone();
    add(&mut record, TEST_RESULT, Role::Results, statement::test_result(&listed));
    add(&mut record, PAGE, Role::Page, html::declaration(&listed));
    record.files.sort_by(|a, b| a.name.cmp(&b.name));
    let statement = statement::statement(&record);
    files.insert(TO_SIGN.to_owned(), to_sign(PAYLOAD_TYPE, statement.as_bytes()));
    files.insert(STATEMENT.to_owned(), statement.into_bytes());
    files
}
