//! The rows of a model with an index by taxon; excluded pairs join them once they are broken.

use std::collections::BTreeMap;

use crate::select::model::{Model, Row};

/// Rows and where each taxon stands in them.
#[derive(Debug, Clone)]
pub(super) struct Rows {
    pub list: Vec<Row>,
    by_taxon: Vec<Vec<u32>>,
    pairs: BTreeMap<(usize, usize), usize>,
    /// Rows that ask for at least one: they can be broken without any of their taxa.
    pub demanding: Vec<usize>,
}

impl Rows {
    pub fn new(model: &Model) -> Self {
        let mut rows = Self {
            list: Vec::new(),
            by_taxon: vec![Vec::new(); model.taxa.len()],
            pairs: BTreeMap::new(),
            demanding: Vec::new(),
        };
        for row in &model.rows {
            rows.push(row.clone());
        }
        rows
    }

    fn push(&mut self, row: Row) {
        let number = self.list.len();
        for &taxon in &row.taxa {
            self.by_taxon[taxon].push(number as u32);
        }
        if row.least > 0 {
            self.demanding.push(number);
        }
        self.list.push(row);
    }

    pub fn of(&self, taxon: usize) -> impl Iterator<Item = usize> + '_ {
        self.by_taxon[taxon].iter().map(|&row| row as usize)
    }

    /// Adds a row for every two of `taxa` that may not stand together.
    pub fn add_broken_pairs(&mut self, model: &Model, taxa: &[usize]) {
        for (n, &a) in taxa.iter().enumerate() {
            if model.against[a].is_empty() {
                continue;
            }
            for &b in &taxa[..n] {
                let pair = (a.min(b), a.max(b));
                if model.against[a].binary_search(&b).is_ok() && !self.pairs.contains_key(&pair) {
                    self.pairs.insert(pair, self.list.len());
                    self.push(Row { taxa: vec![pair.0, pair.1], least: 0, most: 1 });
                }
            }
        }
    }
}
