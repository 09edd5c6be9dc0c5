//! A person's price list: names as they write them, prices a portion.

use std::ops::Range;
use std::sync::Arc;

use super::Table;
use crate::diagnostic::{Document, Findings};
use crate::units::Money;

/// One line of a price list, its name not yet resolved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PriceRow {
    /// The name as written.
    pub name: String,
    /// Price of one portion.
    pub price: Money,
    /// Where the price comes from, as the list says.
    pub origin: String,
    /// Where the name stands.
    pub span: Range<usize>,
}

/// Reads a price list with the columns `name,price,origin`; what is wrong is reported, the rest kept.
pub fn read_prices(document: &Arc<Document>, findings: &mut Findings) -> Vec<PriceRow> {
    let table = Table::read(document, &["name", "price", "origin"], findings);
    let mut rows = Vec::new();
    for row in &table.rows {
        let (name, price) = (row.cell("name"), row.cell("price"));
        match Money::parse(price.text.trim()) {
            Some(price) => {
                let origin = row.text("origin").trim().to_owned();
                rows.push(PriceRow { name: name.text.trim().to_owned(), price, origin, span: name.span() });
            }
            None => findings.push(
                price
                    .finding(format!("`{}` is not a price", price.text))
                    .expected("a sum such as 4.50, 0 or more"),
            ),
        }
    }
    rows
}
