//! Names as people write them, resolved to one taxon or to a finding that says why not.

use crate::catalogue::TaxonId;
use crate::diagnostic::Finding;
use crate::search::names::{Candidate, Resolution, Resolver};

/// Candidates shown before the rest is left to `find`.
const SHOWN: usize = 6;

/// The names of the catalogue, ready to be compared with.
#[derive(Debug)]
pub struct Names(Resolver);

impl Names {
    /// Names told apart by a resolver.
    pub(super) fn new(resolver: Resolver) -> Self {
        Self(resolver)
    }

    /// The taxon that a name means.
    ///
    /// # Errors
    /// An ambiguous name and an unknown one are findings with candidates or near matches.
    pub fn resolve(&self, name: &str) -> Result<TaxonId, Finding> {
        match self.0.resolve(name) {
            Resolution::One { taxon, .. } => Ok(taxon),
            Resolution::Several { candidates } => {
                let message = format!("`{name}` may mean {} plants", candidates.len());
                let finding = Finding::error(message).expected("a name that means one plant");
                Err(finding.near(names(&candidates)))
            }
            Resolution::Unknown { near } => {
                let message = format!("`{name}` is not a plant of the catalogue");
                Err(Finding::error(message).near(names(&near)))
            }
        }
    }
}

fn names(candidates: &[Candidate]) -> Vec<String> {
    candidates.iter().take(SHOWN).map(|c| c.name.clone()).collect()
}
