//! Sets of numbers that are only ever joined.

#![expect(
    clippy::indexing_slicing,
    reason = "every number is below the count that the list was made for"
)]

/// Which set each number is in, told by one number of the set.
#[derive(Debug, Clone)]
pub(super) struct Union {
    above: Vec<usize>,
}

impl Union {
    /// Every number by itself.
    pub(super) fn new(count: usize) -> Self {
        Self { above: (0..count).collect() }
    }

    /// One more number by itself.
    pub(super) fn add(&mut self) -> usize {
        self.above.push(self.above.len());
        self.above.len() - 1
    }

    /// The number that tells a set. Halves the way on its way, so that no way stays long.
    pub(super) fn find(&mut self, mut number: usize) -> usize {
        while self.above[number] != number {
            self.above[number] = self.above[self.above[number]];
            number = self.above[number];
        }
        number
    }

    /// Puts the set of one number into that of another, whose teller stays.
    pub(super) fn join(&mut self, number: usize, into: usize) {
        let (from, to) = (self.find(number), self.find(into));
        self.above[from] = to;
    }
}
