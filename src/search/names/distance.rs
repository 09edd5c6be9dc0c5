//! The edit distance of one text to many, a few nanoseconds each.
//!
//! Counts insertions, deletions, substitutions and swaps of neighbours (optimal string
//! alignment), with the bit-parallel method of Hyyrö (2003), "A bit-vector algorithm for
//! computing Levenshtein and Damerau edit distances", Nordic Journal of Computing 10.

use super::entry::{LETTERS, place};

/// A text to compare others with.
#[derive(Debug)]
pub(super) struct Pattern {
    text: String,
    /// For each letter, the bits of the places where it stands.
    places: [u64; LETTERS],
}

impl Pattern {
    /// A pattern of folded text: letters a to z and digits.
    pub(super) fn new(text: &str) -> Self {
        let mut places = [0; LETTERS];
        for (i, byte) in text.bytes().enumerate().take(u64::BITS as usize) {
            if let Some(letter) = place(byte) {
                places[letter] |= 1 << i;
            }
        }
        Self { text: text.to_owned(), places }
    }

    /// The number of letters.
    pub(super) fn len(&self) -> usize {
        self.text.len()
    }

    /// How many edits lie between the pattern and `other`.
    pub(super) fn distance(&self, other: &str) -> usize {
        let length = self.text.len();
        if length == 0 {
            return other.len();
        }
        if length > u64::BITS as usize {
            return strsim::osa_distance(&self.text, other);
        }
        let last = length - 1;
        // Differences down a column of the table (one more, one less), the diagonal that
        // costs nothing, and the places of the letter before, for swaps.
        let (mut more, mut less, mut free, mut before) = (u64::MAX, 0_u64, 0_u64, 0_u64);
        let mut distance = length;
        for byte in other.bytes() {
            let here = place(byte).map_or(0, |letter| self.places[letter]);
            let swap = ((!free & here) << 1) & before;
            free = ((here & more).wrapping_add(more) ^ more) | here | less | swap;
            let (right, left) = (less | !(free | more), free & more);
            distance += (right >> last & 1) as usize;
            distance -= (left >> last & 1) as usize;
            let (right, left) = (right << 1 | 1, left << 1);
            more = left | !(free | right);
            less = right & free;
            before = here;
        }
        distance
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::Pattern;

    proptest! {
        #[test]
        fn is_the_distance_of_the_table(a in "[a-d0]{0,70}", b in "[a-d0]{0,70}") {
            prop_assert_eq!(Pattern::new(&a).distance(&b), strsim::osa_distance(&a, &b));
        }
    }
}
