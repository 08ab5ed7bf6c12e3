//! The table of fields as a tree: each word of a path with what stands under it.

use sumpwright_core::document::field::Field;

/// A key, or the place of a name that the author chooses (`*`), with its row and the keys below it.
#[derive(Debug, Default)]
pub(super) struct Node {
    pub(super) word: &'static str,
    pub(super) field: Option<&'static Field>,
    pub(super) below: Vec<Node>,
}

/// The tree of a document.
pub(super) fn tree(fields: &'static [Field]) -> Node {
    let mut root = Node::default();
    for field in fields {
        root.put(field.path, field);
    }
    root
}

impl Node {
    fn put(&mut self, path: &'static str, field: &'static Field) {
        let (word, rest) =
            path.split_once('.').map_or((path, None), |(word, rest)| (word, Some(rest)));
        let known = self.below.iter().position(|node| node.word == word);
        let place = known.unwrap_or(self.below.len());
        if known.is_none() {
            self.below.push(Self { word, ..Self::default() });
        }
        let Some(node) = self.below.get_mut(place) else { return };
        match rest {
            Some(rest) => node.put(rest, field),
            None => node.field = Some(field),
        }
    }

    /// What stands under names that the author chooses, or in the places of a list.
    pub(super) fn each(&self) -> Option<&Self> {
        self.below.iter().find(|node| node.word == "*")
    }

    /// The keys that are in the table.
    pub(super) fn keys(&self) -> impl Iterator<Item = &Self> {
        self.below.iter().filter(|node| node.word != "*")
    }
}
