//! Names as people write them, resolved to one taxon or to a finding that says why not.

use crate::catalogue::TaxonId;
use crate::diagnostic::Finding;
use crate::search::names::{Candidate, How, Resolution, Resolver};

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

    /// How a name was read, in words, where it is not one of the catalogue as it stands but for
    /// case, order and the like; `None` where it is, and where it has no one meaning.
    pub fn reading(&self, name: &str) -> Option<String> {
        let Resolution::One { name: read, how, .. } = self.0.resolve(name) else { return None };
        let why = match how {
            How::Key | How::Name(_) | How::Plural | How::WordOrder | How::Authors | How::Brackets => {
                return None;
            }
            How::Abbreviation => "it is abbreviated".to_owned(),
            How::Shortened => "a part is left out".to_owned(),
            How::Genus => "the one plant of its genus here".to_owned(),
            How::Typo(1) => "one slip apart".to_owned(),
            How::Typo(slips) => format!("{slips} slips apart"),
        };
        Some(format!("`{name}` is read as {read}: {why}"))
    }
}

fn names(candidates: &[Candidate]) -> Vec<String> {
    candidates.iter().take(SHOWN).map(|c| c.name.clone()).collect()
}
