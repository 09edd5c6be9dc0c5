//! Names in wishes, resolved against the catalogue.

use std::collections::BTreeSet;

use super::names::Names;
use super::output::Failure;
use crate::catalogue::TaxonId;
use crate::diagnostic::Findings;
use crate::tank::file::{TankSpec, Wish};

/// The wishes of a tank file and of the command line, by key.
#[derive(Debug, Default)]
pub(super) struct Wished {
    pub must: BTreeSet<TaxonId>,
    pub never: BTreeSet<TaxonId>,
    pub native: BTreeSet<String>,
}

/// Resolves every name; all that cannot be resolved are reported together.
pub(super) fn resolve_wishes(
    spec: &TankSpec,
    keep: &[String],
    without: &[String],
    names: &Names,
) -> Result<Wished, Failure> {
    let mut findings = Findings::default();
    let mut wished = Wished::default();
    let mut in_file = |wishes: &[Wish], into: &mut BTreeSet<TaxonId>| {
        for wish in wishes {
            match names.resolve(&wish.text) {
                Ok(taxon) => drop(into.insert(taxon)),
                Err(finding) => findings.push(finding.at(&spec.document, wish.span.clone())),
            }
        }
    };
    in_file(&spec.wishes.must, &mut wished.must);
    in_file(&spec.wishes.never, &mut wished.never);
    for (written, into) in [(keep, &mut wished.must), (without, &mut wished.never)] {
        for name in written {
            match names.resolve(name) {
                Ok(taxon) => drop(into.insert(taxon)),
                Err(finding) => findings.push(finding),
            }
        }
    }
    wished.native = spec.wishes.native.iter().map(|w| w.text.clone()).collect();
    let (wished, _) = findings.into_result(wished)?;
    Ok(wished)
}
