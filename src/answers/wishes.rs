//! Names in wishes, resolved against the catalogue.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;

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
    /// Sets of which at least one plant must be on the list, in the order of the tank file.
    pub one_of: Vec<BTreeSet<TaxonId>>,
    /// Where the tank file asks for a plant.
    pub must_at: BTreeMap<TaxonId, Range<usize>>,
    /// Where the tank file bars a plant.
    pub never_at: BTreeMap<TaxonId, Range<usize>>,
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
    let mut in_file = |wishes: &[Wish]| -> BTreeMap<TaxonId, Range<usize>> {
        let mut places = BTreeMap::new();
        for wish in wishes {
            match names.resolve(&wish.text) {
                Ok(taxon) => drop(places.entry(taxon).or_insert_with(|| wish.span.clone())),
                Err(finding) => findings.push(placed(spec, wish, finding)),
            }
        }
        places
    };
    wished.must_at = in_file(&spec.wishes.must);
    wished.never_at = in_file(&spec.wishes.never);
    wished.one_of = spec.wishes.one_of.iter().map(|(set, _)| in_file(set).into_keys().collect()).collect();
    wished.must = wished.must_at.keys().cloned().collect();
    wished.never = wished.never_at.keys().cloned().collect();
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
            let finding = placed(spec, wish, Finding::error(message));
            findings.push(finding.expected("a WGSRPD code or name").near(areas.near(&wish.text)));
        }
    }
    let (wished, _) = findings.into_result(wished)?;
    Ok(wished)
}

/// With its place in the tank file, unless the wish was given elsewhere.
fn placed(spec: &TankSpec, wish: &Wish, finding: Finding) -> Finding {
    if wish.span.is_empty() { finding } else { finding.at(&spec.document, wish.span.clone()) }
}
