//! Names as people write them, resolved to one taxon or to a finding that says why not.

use crate::catalogue::{Name, TaxonId};
use crate::diagnostic::{Finding, nearest};

pub(super) struct Names(pub Vec<Name>);

impl Names {
    pub fn resolve(&self, name: &str) -> Result<TaxonId, Finding> {
        let hit = self.0.iter().find(|n| n.name.eq_ignore_ascii_case(name));
        hit.map(|n| n.taxon.clone()).ok_or_else(|| {
            Finding::error(format!("`{name}` is not a plant of the catalogue")).near(nearest(
                name,
                self.0.iter().map(|n| n.name.as_str()),
                3,
            ))
        })
    }
}
