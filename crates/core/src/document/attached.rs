//! Files beside a document that hold data and are no documents: a mesh, a table of depths.

use super::soundings::SoundingTable;
use crate::source::{Node, Value};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;

/// Largest file of data, in bytes: about five million triangles of binary STL.
pub const ATTACHED_LIMIT: u64 = 256 * 1024 * 1024;

/// A file of data.
#[derive(Debug, Clone, PartialEq)]
pub struct Attached {
    /// Its path as shown.
    pub path: String,
    /// What it holds.
    pub bytes: Vec<u8>,
    /// Its SHA-256 digest as four numbers: what is computed from the file is remembered under it.
    pub digest: [u64; 4],
    /// Its rows, where it is a table of depths.
    pub soundings: Option<SoundingTable>,
}

impl Attached {
    /// A file and its digest.
    pub fn new(path: String, bytes: Vec<u8>) -> Self {
        let mut digest = [0_u64; 4];
        for (word, eight) in digest.iter_mut().zip(Sha256::digest(&bytes).chunks_exact(8)) {
            *word = eight.iter().fold(0, |sum, byte| (sum << 8) | u64::from(*byte));
        }
        Self { path, bytes, digest, soundings: None }
    }

    /// Its SHA-256 digest in 64 hexadecimal digits.
    pub fn hex(&self) -> String {
        let [first, second, third, fourth] = self.digest;
        format!("{first:016x}{second:016x}{third:016x}{fourth:016x}")
    }
}

/// The files of data of one document, by their paths as written in it.
pub type Attachments = BTreeMap<String, std::sync::Arc<Attached>>;

/// The node of a pan that names its table of depths.
pub(super) fn soundings_in(pan: &Node) -> Option<&Node> {
    pan.get("interior")?.get("soundings")?.get("file")
}

/// The nodes of a pan that name files of data.
pub(super) fn named_in(pan: &Node) -> Vec<&Node> {
    let Some(interior) = pan.get("interior") else { return Vec::new() };
    let mut holders: Vec<&Node> =
        ["mesh", "soundings"].iter().filter_map(|key| interior.get(key)).collect();
    if let Some(Node { value: Value::Mapping(things), .. }) = interior.get("displaced") {
        holders.extend(things.iter().filter_map(|thing| thing.value.get("mesh")));
    }
    holders.into_iter().filter_map(|holder| holder.get("file")).collect()
}
