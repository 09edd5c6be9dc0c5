//! Numbered count vectors: every way to spread at most so many items over a few classes.
//!
//! Contrast depends on a zone's items only through such counts, so tables over these numbers
//! replace pairwise terms.

/// All count vectors over `classes` classes with a total of at most `most`, by rising total.
#[derive(Debug, Clone)]
pub(super) struct Spread {
    pub classes: usize,
    counts: Vec<u8>,
    total: Vec<u8>,
    /// Number of the vector with one more of a class; only for totals below the most.
    more: Vec<u32>,
    /// For each total, the number of vectors up to it.
    upto: Vec<usize>,
    /// Unordered pairs of items of one class.
    alike: Vec<i64>,
}

impl Spread {
    pub fn new(classes: usize, most: usize) -> Self {
        let mut vectors: Vec<Vec<u8>> = vec![vec![0; classes]];
        let mut upto = vec![1];
        let mut layer_start = 0;
        for _ in 0..most {
            let layer: Vec<Vec<u8>> = vectors[layer_start..].to_vec();
            layer_start = vectors.len();
            for vector in layer {
                // Adding only at or after the last class in use makes each vector once.
                let last = vector.iter().rposition(|&c| c > 0).unwrap_or(0);
                for class in last..classes {
                    let mut next = vector.clone();
                    next[class] += 1;
                    vectors.push(next);
                }
            }
            vectors[layer_start..].sort_unstable();
            upto.push(vectors.len());
        }
        let total: Vec<u8> = vectors.iter().map(|v| v.iter().sum()).collect();
        let more = vectors[..upto[most.saturating_sub(1)].min(vectors.len())]
            .iter()
            .flat_map(|vector| {
                let layer = usize::from(vector.iter().sum::<u8>());
                let range = upto[layer]..upto.get(layer + 1).copied().unwrap_or(upto[layer]);
                let vectors = &vectors;
                (0..classes).map(move |class| {
                    let mut next = vector.clone();
                    next[class] += 1;
                    vectors[range.clone()]
                        .binary_search(&next)
                        .map_or(u32::MAX, |at| (range.start + at) as u32)
                })
            })
            .collect();
        let alike =
            vectors.iter().map(|v| v.iter().map(|&c| i64::from(c) * (i64::from(c) - 1) / 2).sum()).collect();
        Self { classes, counts: vectors.concat(), total, more, upto, alike }
    }

    pub fn counts(&self, id: usize) -> &[u8] {
        &self.counts[id * self.classes..(id + 1) * self.classes]
    }

    #[cfg(test)]
    fn total(&self, id: usize) -> usize {
        usize::from(self.total[id])
    }

    pub fn more(&self, id: usize, class: usize) -> usize {
        self.more[id * self.classes + class] as usize
    }

    /// How many vectors have a total of at most `total`; they are the first ones.
    pub fn upto(&self, total: usize) -> usize {
        self.upto[total]
    }

    /// Pairs of items whose classes differ.
    pub fn unlike_pairs(&self, id: usize) -> i64 {
        let total = i64::from(self.total[id]);
        total * (total - 1) / 2 - self.alike[id]
    }
}

#[cfg(test)]
mod tests {
    use super::Spread;

    #[test]
    fn numbers_every_vector_once() {
        let spread = Spread::new(3, 2);
        assert_eq!(spread.upto(2), 10);
        assert_eq!((spread.upto(0), spread.upto(1)), (1, 4));
        let one = spread.more(0, 1);
        let two = spread.more(one, 1);
        assert_eq!(spread.counts(two), [0, 2, 0]);
        assert_eq!((spread.total(two), spread.unlike_pairs(two)), (2, 0));
        assert_eq!(spread.unlike_pairs(spread.more(one, 2)), 1);
    }

    #[test]
    fn holds_without_room_or_classes() {
        assert_eq!(Spread::new(4, 0).upto(0), 1);
        assert_eq!(Spread::new(0, 3).upto(3), 1);
    }
}
