//! Anchors, aliases and merge keys: what was written once and stands in several places.

use super::limits::{self, reached};
use crate::source::{Code, Diagnostic, Entry, Node, Span, Value};
use std::collections::{BTreeMap, BTreeSet};

/// How much a node holds, itself included.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Size {
    /// Keys, single values, lists and mappings.
    pub(super) nodes: usize,
    /// Bytes of text.
    pub(super) bytes: usize,
    /// Mappings and lists one within another.
    pub(super) depth: usize,
}

impl Size {
    /// Adds what a child holds.
    pub(super) fn add(&mut self, child: Size) {
        self.nodes += child.nodes;
        self.bytes += child.bytes;
        self.depth = if child.depth + 1 > self.depth { child.depth + 1 } else { self.depth };
    }
}

/// Counts what a document holds against the limits, before it is made.
#[derive(Debug, Default)]
pub(super) struct Budget {
    nodes: usize,
    bytes: usize,
}

impl Budget {
    /// Counts `size` more, seen at `span`.
    pub(super) fn charge(&mut self, size: Size, span: Span) -> Result<(), Box<Diagnostic>> {
        self.nodes += size.nodes;
        self.bytes += size.bytes;
        if self.nodes > limits::NODES {
            let what = "keys and values with the aliases written out";
            return Err(Box::new(reached(span, "nodes", self.nodes, limits::NODES, what)));
        }
        if self.bytes > limits::EXPANDED_BYTES {
            let what = "bytes of text with the aliases written out";
            return Err(Box::new(reached(
                span,
                "expanded bytes",
                self.bytes,
                limits::EXPANDED_BYTES,
                what,
            )));
        }
        Ok(())
    }
}

/// The anchored nodes of a document.
#[derive(Debug, Default)]
pub(super) struct Anchors {
    held: BTreeMap<usize, (Node, Size)>,
    /// Copies are counted apart: anchors one within another would else hold a text many times.
    budget: Budget,
    aliases: usize,
}

impl Anchors {
    /// Keeps a finished node under the number of its anchor; 0 is no anchor.
    pub(super) fn keep(
        &mut self,
        id: usize,
        node: &Node,
        size: Size,
    ) -> Result<(), Box<Diagnostic>> {
        if id != 0 {
            self.budget.charge(size, node.span)?;
            self.held.insert(id, (node.clone(), size));
        }
        Ok(())
    }

    /// Counts one alias.
    pub(super) fn count_alias(&mut self, span: Span) -> Result<(), Box<Diagnostic>> {
        self.aliases += 1;
        if self.aliases > limits::ALIASES {
            return Err(Box::new(reached(
                span,
                "aliases",
                self.aliases,
                limits::ALIASES,
                "aliases",
            )));
        }
        Ok(())
    }

    /// What an alias stands for; nothing while the anchored node is still being read.
    pub(super) fn get(&self, id: usize) -> Option<&(Node, Size)> {
        self.held.get(&id)
    }
}

/// Adds to `entries` what merge keys bring in: own keys win, then the merge written first.
pub(super) fn merge(
    entries: &mut Vec<Entry>,
    merges: Vec<Node>,
    problems: &mut Vec<Diagnostic>,
) -> Result<(), Box<Diagnostic>> {
    if merges.is_empty() {
        return Ok(());
    }
    let mut known: BTreeSet<String> = entries.iter().map(|e| e.key.text.clone()).collect();
    for node in merges {
        let parts = match node.value {
            Value::Sequence(items) => items,
            _ => vec![node],
        };
        for part in parts {
            let shape = part.shape();
            let Value::Mapping(brought) = part.value else {
                problems.push(
                    Diagnostic::error(
                        Code::WrongShape,
                        part.span,
                        format!("`<<` takes a mapping or a list of mappings, found {shape}"),
                    )
                    .help("name an anchored mapping: `<<: *name`"),
                );
                continue;
            };
            let aliased = part.span != part.defined;
            for mut entry in brought {
                if !known.insert(entry.key.text.clone()) {
                    continue;
                }
                if aliased {
                    entry.value.span = part.span;
                }
                entries.push(entry);
                if entries.len() > limits::KEYS {
                    let what = "keys in one mapping";
                    return Err(Box::new(reached(
                        part.span,
                        "keys",
                        entries.len(),
                        limits::KEYS,
                        what,
                    )));
                }
            }
        }
    }
    Ok(())
}
