//! The person's price list, its names resolved.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use super::files::read_document;
use super::names::Names;
use super::output::Failure;
use crate::catalogue::{TaxonId, read_prices};
use crate::diagnostic::{Finding, Findings};
use crate::tank::file::TankSpec;
use crate::units::Money;

/// Prices by taxon, and where they come from as the list says.
#[derive(Debug, Default)]
pub(super) struct Prices {
    pub by_taxon: BTreeMap<TaxonId, Money>,
    pub origins: Vec<String>,
}

/// The list given on the command line, or the one the tank file names beside itself.
pub(super) fn load(
    given: Option<&PathBuf>,
    tank: &Path,
    spec: &TankSpec,
    names: &Names,
    notes: &mut Findings,
) -> Result<Prices, Failure> {
    let path = match (given, &spec.wishes.prices) {
        (Some(path), _) => path.clone(),
        (None, Some(wish)) => tank.parent().unwrap_or(Path::new("")).join(&wish.text),
        (None, None) => return Ok(Prices::default()),
    };
    let document = read_document(&path)?;
    let mut findings = Findings::default();
    let mut prices = Prices::default();
    for row in read_prices(&document, &mut findings) {
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
                notes.push(finding.at(&document, row.span));
            }
        }
    }
    let ((), rest) = findings.into_result(())?;
    notes.extend(rest);
    Ok(prices)
}
