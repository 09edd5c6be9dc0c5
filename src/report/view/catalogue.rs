//! The catalogue in figures: how many, and how each trait is known.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use super::rounded;
use crate::catalogue::{Catalogue, EvidenceKind};

/// How one trait is known, as shares of all taxa.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TraitView {
    /// The trait.
    pub trait_name: String,
    /// Share whose strongest claim is of each kind, 0 to 1.
    pub shares: BTreeMap<String, f64>,
}

/// The catalogue in figures.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CatalogueView {
    /// Taxa and cultivars.
    pub taxa: usize,
    /// Names.
    pub names: usize,
    /// Claims of evidence.
    pub claims: usize,
    /// Sources.
    pub sources: usize,
    /// Entries of laws and registers.
    pub legal: usize,
    /// Findings of the check.
    pub findings: usize,
    /// Evidence by trait.
    pub evidence: Vec<TraitView>,
}

/// The view of a catalogue that was checked with so many findings.
pub fn catalogue_view(catalogue: &Catalogue, findings: usize) -> CatalogueView {
    let taxa = catalogue.plants.len().max(1) as f64;
    let share = |counts: &BTreeMap<EvidenceKind, usize>, kind: EvidenceKind| {
        rounded(counts.get(&kind).copied().unwrap_or(0) as f64 / taxa, 3)
    };
    let evidence = catalogue.evidence_shares().into_iter().map(|(name, counts)| TraitView {
        trait_name: name.to_owned(),
        shares: EvidenceKind::ALL.iter().map(|k| (k.word().to_owned(), share(&counts, *k))).collect(),
    });
    CatalogueView {
        taxa: catalogue.plants.len(),
        names: catalogue.names.len(),
        claims: catalogue.claims.len(),
        sources: catalogue.sources.len(),
        legal: catalogue.legal.len(),
        findings,
        evidence: evidence.collect(),
    }
}
