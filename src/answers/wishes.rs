//! Names in wishes, resolved against the catalogue.

use std::collections::BTreeSet;

use super::names::Names;
use crate::catalogue::TaxonId;
use crate::diagnostic::{Finding, Findings};
use crate::search::Areas;
use crate::tank::file::{TankSpec, Wish};

/// The wishes of a tank file and of the command line, by key.
#[derive(Debug, Default)]
pub struct Wished {
    /// Plants that must be on the list.
    pub must: BTreeSet<TaxonId>,
    /// Plants that must not.
    pub never: BTreeSet<TaxonId>,
    /// WGSRPD codes of level 1 (one digit) or 2 (two digits); empty for the whole world.
    pub native: BTreeSet<String>,
}

impl Wished {
    /// Whether a native range, in codes of level 2, meets the areas wished for.
    pub fn meets_range(&self, range: &[String]) -> bool {
        self.native.is_empty()
            || range.iter().any(|code| self.native.iter().any(|area| code.starts_with(area)))
    }
}

/// Resolves every name.
///
/// # Errors
/// All names that cannot be resolved, together.
pub fn resolve_wishes(
    spec: &TankSpec,
    keep: &[String],
    without: &[String],
    names: &Names,
) -> Result<Wished, Findings> {
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
    let areas = Areas::read();
    for wish in &spec.wishes.native {
        if let Some(area) = areas.find(&wish.text) {
            wished.native.extend(area.codes);
        } else {
            let message = format!("`{}` is not an area of the world geographical scheme", wish.text);
            let finding = Finding::error(message).at(&spec.document, wish.span.clone());
            findings.push(finding.expected("a WGSRPD code or name").near(areas.near(&wish.text)));
        }
    }
    let (wished, _) = findings.into_result(wished)?;
    Ok(wished)
}
