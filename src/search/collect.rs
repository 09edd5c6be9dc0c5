//! Counts the facets of every hit, in one pass over two kinds of columns.

use std::collections::BTreeMap;

use tantivy::collector::{Collector, SegmentCollector};
use tantivy::columnar::{Column, StrColumn};
use tantivy::{DocId, Score, SegmentOrdinal, SegmentReader};

use super::Facet;
use super::schema::{self, BITS};

/// The number of bits in the column of closed facets.
const WIDTH: usize = u64::BITS as usize;

/// Counts hits and facet values.
pub(super) struct CountFacets;

/// What was counted.
#[derive(Debug, Clone)]
pub(super) struct Counts {
    pub total: usize,
    bits: [u64; WIDTH],
    open: BTreeMap<Facet, BTreeMap<String, u64>>,
}

impl Counts {
    /// The values that occur, with their counts: closed facets in the order of their words,
    /// the others by falling count, equals by value.
    pub(super) fn of(&self, facet: Facet) -> Vec<(String, u64)> {
        if let Some(values) = self.open.get(&facet) {
            let mut values: Vec<(String, u64)> = values.iter().map(|(v, n)| (v.clone(), *n)).collect();
            values.sort_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
            return values;
        }
        let counts = &self.bits[schema::first_bit(facet)..];
        let values = facet.words().iter().zip(counts).filter(|(_, n)| **n > 0);
        values.map(|(value, n)| ((*value).to_owned(), *n)).collect()
    }
}

impl Collector for CountFacets {
    type Fruit = Counts;
    type Child = SegmentCounts;

    fn for_segment(
        &self,
        _ordinal: SegmentOrdinal,
        segment: &SegmentReader,
    ) -> tantivy::Result<SegmentCounts> {
        let columns = segment.fast_fields();
        let mut open = Vec::new();
        for facet in Facet::OPEN {
            // No column when no taxon has any value, as with a catalogue without laws.
            if let Some(column) = columns.str(facet.word())? {
                let counts = vec![0; column.num_terms()];
                open.push(OpenColumn { facet: *facet, column, counts });
            }
        }
        Ok(SegmentCounts { total: 0, bits: columns.u64(BITS)?, counts: [0; WIDTH], open })
    }

    fn requires_scoring(&self) -> bool {
        false
    }

    fn merge_fruits(&self, segments: Vec<tantivy::Result<Counts>>) -> tantivy::Result<Counts> {
        let mut sum = Counts { total: 0, bits: [0; WIDTH], open: BTreeMap::new() };
        for segment in segments {
            let segment = segment?;
            sum.total += segment.total;
            for (all, n) in sum.bits.iter_mut().zip(segment.bits) {
                *all += n;
            }
            for (facet, values) in segment.open {
                let all = sum.open.entry(facet).or_default();
                for (value, n) in values {
                    *all.entry(value).or_default() += n;
                }
            }
        }
        Ok(sum)
    }
}

struct OpenColumn {
    facet: Facet,
    column: StrColumn,
    counts: Vec<u64>,
}

/// The counts of one segment.
pub(super) struct SegmentCounts {
    total: usize,
    bits: Column<u64>,
    counts: [u64; WIDTH],
    open: Vec<OpenColumn>,
}

impl SegmentCollector for SegmentCounts {
    type Fruit = tantivy::Result<Counts>;

    fn collect(&mut self, doc: DocId, _score: Score) {
        self.total += 1;
        let mut bits = self.bits.first(doc).unwrap_or(0);
        while bits != 0 {
            self.counts[bits.trailing_zeros() as usize] += 1;
            bits &= bits - 1;
        }
        for open in &mut self.open {
            for ordinal in open.column.term_ords(doc) {
                open.counts[ordinal as usize] += 1;
            }
        }
    }

    fn harvest(self) -> tantivy::Result<Counts> {
        let mut open = BTreeMap::new();
        for OpenColumn { facet, column, counts } in self.open {
            let mut values = BTreeMap::new();
            for (ordinal, n) in (0..).zip(counts).filter(|(_, n)| *n > 0) {
                let mut value = String::new();
                column.ord_to_str(ordinal, &mut value)?;
                values.insert(value, n);
            }
            open.insert(facet, values);
        }
        Ok(Counts { total: self.total, bits: self.counts, open })
    }
}
