//! A mixed-integer programme under construction: named columns and rows with whole numbers.

use std::collections::BTreeSet;

/// What values a column takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Range {
    /// 0 or 1.
    Binary,
    /// This value, a whole number.
    Fixed(i64),
    /// From 0 up to this, whole or not.
    Upto(i64),
    /// Any number.
    Free,
}

/// How a row's sum stands to its right side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sense {
    AtMost,
    AtLeast,
    Equal,
}

#[derive(Debug, Clone)]
pub(super) struct Column {
    pub name: String,
    /// What one of it adds to the value.
    pub value: i64,
    pub range: Range,
    /// Row and factor.
    pub entries: Vec<(usize, i64)>,
}

#[derive(Debug, Clone)]
pub(super) struct Row {
    pub name: String,
    pub sense: Sense,
    pub side: i64,
}

/// Columns and rows; names are made unique.
#[derive(Debug, Clone, Default)]
pub(super) struct Matrix {
    pub columns: Vec<Column>,
    pub rows: Vec<Row>,
    names: BTreeSet<String>,
}

impl Matrix {
    pub fn column(&mut self, name: &str, range: Range) -> usize {
        let name = self.unique(name);
        self.columns.push(Column { name, value: 0, range, entries: Vec::new() });
        self.columns.len() - 1
    }

    /// A row over terms of column and factor; several terms of one column add up.
    pub fn row(
        &mut self,
        name: &str,
        sense: Sense,
        side: i64,
        terms: impl IntoIterator<Item = (usize, i64)>,
    ) {
        let name = self.unique(name);
        let row = self.rows.len();
        self.rows.push(Row { name, sense, side });
        for (column, factor) in terms {
            let entries = &mut self.columns[column].entries;
            match entries.last_mut() {
                Some((last, sum)) if *last == row => *sum += factor,
                _ => entries.push((row, factor)),
            }
        }
    }

    fn unique(&mut self, name: &str) -> String {
        let name = legible(name);
        let mut tried = name.clone();
        let mut number = 2;
        while !self.names.insert(tried.clone()) {
            tried = format!("{name}~{number}");
            number += 1;
        }
        tried
    }
}

/// A name without spaces, in plain letters, digits and `._-`, as every reader of the format takes it.
pub(super) fn legible(name: &str) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() || "._-".contains(c) { c } else { '_' };
    name.chars().map(plain).collect()
}
