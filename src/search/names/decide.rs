//! From the names that fit to the taxon meant, or to candidates.

use std::collections::BTreeSet;

use super::super::fold;
use super::entry::Entry;
use super::{Candidate, How, Resolution, Resolver};
use crate::catalogue::NameKind;

/// Genera of one species.
#[rustfmt::skip]
const MONOTYPIC: &[&str] = &[
    "aegagropila", "aldrovanda", "didiplis", "groenlandia", "houttuynia", "hydrilla", "landoltia", "luronium",
    "monosolenium", "pistia", "ricciocarpos", "shinnersia", "stratiotes", "tonina",
];

impl Resolver {
    /// What the names `found` say together; `None` when there are none.
    ///
    /// An accepted name goes before a synonym, a synonym before names of the people and the
    /// trade. A species goes before its own varieties and cultivars.
    pub(super) fn decide(
        &self,
        found: &[usize],
        words: &[String],
        how: impl Fn(&Entry) -> How,
    ) -> Option<Resolution> {
        let rank = |e: &Entry| match e.kind {
            NameKind::Accepted => 0,
            NameKind::Synonym => 1,
            NameKind::Vernacular | NameKind::Trade => 2,
        };
        let least = found.iter().map(|i| rank(&self.entries[*i])).min()?;
        let first: Vec<usize> = found.iter().copied().filter(|i| rank(&self.entries[*i]) == least).collect();
        self.weigh(&first, words, how)
    }

    /// As [`Self::decide`], all kinds of names alike.
    pub(super) fn weigh(
        &self,
        found: &[usize],
        words: &[String],
        how: impl Fn(&Entry) -> How,
    ) -> Option<Resolution> {
        let taxa: BTreeSet<usize> = found.iter().map(|i| self.entries[*i].taxon).collect();
        let meant = match taxa.len() {
            0 => return None,
            1 => taxa.first().copied(),
            _ => self.named_by_last_word(&taxa, words).or_else(|| self.covering(&taxa)),
        };
        let Some(taxon) = meant else {
            return Some(Resolution::Several { candidates: self.candidates(found) });
        };
        let entry = found.iter().map(|i| &self.entries[*i]).find(|e| e.taxon == taxon)?;
        let (name, how) = (entry.name.clone(), how(entry));
        Some(Resolution::One { taxon: self.taxa[taxon].id.clone(), name, how })
    }

    /// Of a species and its cultivar with the same old name, the one whose own name ends as
    /// the old name does: `Echinodorus bleherae` is the cultivar 'Bleherae'.
    fn named_by_last_word(&self, taxa: &BTreeSet<usize>, words: &[String]) -> Option<usize> {
        let last = words.last()?;
        let mut own = taxa.iter().copied().filter(|t| self.taxa[*t].words.last() == Some(last));
        let (only, more) = (own.next()?, own.next());
        let related = |t: &usize| *t == only || self.taxa[*t].covers(&self.taxa[only]);
        (more.is_none() && taxa.iter().all(related)).then_some(only)
    }

    /// The taxon that all the others are varieties or cultivars of.
    fn covering(&self, taxa: &BTreeSet<usize>) -> Option<usize> {
        let covers_all = |t: &usize| taxa.iter().all(|o| o == t || self.taxa[*t].covers(&self.taxa[*o]));
        taxa.iter().copied().find(covers_all)
    }

    /// One candidate a taxon, the best known first, equals by key; varieties and cultivars of
    /// another candidate left out.
    pub(super) fn candidates(&self, found: &[usize]) -> Vec<Candidate> {
        let taxa: BTreeSet<usize> = found.iter().map(|i| self.entries[*i].taxon).collect();
        let covered = |t: usize| taxa.iter().any(|o| self.taxa[*o].covers(&self.taxa[t]));
        let mut kept: Vec<usize> = taxa.iter().copied().filter(|t| !covered(*t)).collect();
        kept.sort_by(|a, b| {
            let (a, b) = (&self.taxa[*a], &self.taxa[*b]);
            b.renown.cmp(&a.renown).then_with(|| a.id.cmp(&b.id))
        });
        kept.into_iter().map(|t| self.candidate(t, found)).collect()
    }

    /// A taxon under the first of its names among `found`.
    pub(super) fn candidate(&self, taxon: usize, found: &[usize]) -> Candidate {
        let entry = found.iter().map(|i| &self.entries[*i]).find(|e| e.taxon == taxon);
        let name = entry.map_or(&self.taxa[taxon].name, |e| &e.name).clone();
        Candidate { taxon: self.taxa[taxon].id.clone(), name }
    }

    /// A genus alone: all its taxa, and whatever else is called so. A genus no longer accepted
    /// stands for the taxa that were in it. That the catalogue has one species only makes a
    /// genus certain when there is no other in nature, or people call that species so.
    pub(super) fn genus(&self, words: &[String], stems: &[String]) -> Option<Resolution> {
        let ([word], [stem]) = (words, stems) else { return None };
        let of = |kind: NameKind| -> Vec<usize> {
            let named = |e: &Entry| {
                let genus = e.words.first().filter(|_| e.kind == kind && e.words.len() > 1);
                genus.is_some_and(|g| g == word || fold::stem(g) == *stem)
            };
            self.all(named)
        };
        let accepted = of(NameKind::Accepted);
        let called = self.all(|e| e.compact == *word);
        let certain = !called.is_empty() || (!accepted.is_empty() && MONOTYPIC.contains(&word.as_str()));
        let current = !accepted.is_empty();
        let mut found = if current { accepted } else { of(NameKind::Synonym) };
        if found.is_empty() {
            return None;
        }
        // What people call so, if it was in the genus once, goes before a genus given up.
        let own = |i: &usize| {
            let taxon = self.entries[*i].taxon;
            self.entries[*i].kind == NameKind::Vernacular
                && found.iter().any(|f| self.entries[*f].taxon == taxon)
        };
        if !current && called.iter().any(own) {
            found = called.iter().copied().filter(own).collect();
        }
        found.extend(called);
        if certain {
            return self.weigh(&found, words, |_| How::Genus);
        }
        Some(Resolution::Several { candidates: self.candidates(&found) })
    }
}

impl Resolver {
    /// A genus as another language writes it, listed as a name of one of its species:
    /// `valisnéria` means the genus no less than `Vallisneria` does.
    pub(super) fn local_genus(&self, words: &[String]) -> Option<Resolution> {
        let [word] = words else { return None };
        let listed = self.all(|e| e.compact == *word);
        let several = if listed.is_empty() { None } else { self.genus_typo(words) };
        let Some(Resolution::Several { candidates }) = several else { return None };
        let within = |i: &usize| candidates.iter().any(|c| c.taxon == self.taxa[self.entries[*i].taxon].id);
        (candidates.len() > 1 && listed.iter().any(within)).then_some(Resolution::Several { candidates })
    }
}

impl Resolver {
    /// An epithet or cultivar alone that the trade uses as a name: it means every taxon that
    /// has it, so `crispus` is no more *Aponogeton* than *Potamogeton*.
    pub(super) fn bare_epithet(&self, words: &[String]) -> Option<Resolution> {
        let [word] = words else { return None };
        let mut found = self.all(|e| e.compact == *word);
        if found.is_empty() {
            return None;
        }
        let has = |e: &Entry| e.kind == NameKind::Accepted && e.words.iter().skip(1).any(|w| w == word);
        found.extend(self.all(has));
        self.weigh(&found, words, |e| How::Name(e.kind))
    }
}

/// All taxa that any of the resolutions may mean.
pub(super) fn all_candidates(resolutions: &[Resolution]) -> Vec<Candidate> {
    let mut all: Vec<Candidate> = Vec::new();
    for resolution in resolutions {
        let candidates = match resolution {
            Resolution::One { taxon, name, .. } => {
                vec![Candidate { taxon: taxon.clone(), name: name.clone() }]
            }
            Resolution::Several { candidates } => candidates.clone(),
            Resolution::Unknown { near } => near.clone(),
        };
        all.extend(candidates);
    }
    let mut seen = BTreeSet::new();
    all.retain(|c| seen.insert(c.taxon.clone()));
    all
}
