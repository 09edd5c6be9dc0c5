//! A person's price list, its names resolved.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::names::Names;
use crate::catalogue::{TaxonId, read_prices};
use crate::diagnostic::{Document, Finding, Findings};
use crate::units::Money;

/// Prices by taxon, and where they come from as the list says.
#[derive(Debug, Clone, Default)]
pub struct Prices {
    /// Price of a portion.
    pub by_taxon: BTreeMap<TaxonId, Money>,
    /// The origins the list names.
    pub origins: Vec<String>,
}

impl Prices {
    /// Reads a price list; lines whose plant is not known are noted and passed over.
    ///
    /// # Errors
    /// A table that cannot be read as one, and prices that are none.
    pub fn read(document: &Arc<Document>, names: &Names, notes: &mut Findings) -> Result<Self, Findings> {
        let mut findings = Findings::default();
        let mut prices = Self::default();
        for row in read_prices(document, &mut findings) {
            match names.resolve(&row.name) {
                Ok(taxon) => {
                    prices.by_taxon.insert(taxon, row.price);
                    if !row.origin.is_empty() && !prices.origins.contains(&row.origin) {
                        prices.origins.push(row.origin);
                    }
                }
                // A shop sells more than we know: a line we cannot place is no reason to stop.
                Err(unknown) => {
                    let mut finding = Finding::warning(format!("{}; its price is not used", unknown.message));
                    finding.near = unknown.near;
                    notes.push(finding.at(document, row.span));
                }
            }
        }
        let ((), rest) = findings.into_result(())?;
        notes.extend(rest);
        Ok(prices)
    }
}
