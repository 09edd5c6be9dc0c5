//! Which taxon a written name means, and when that cannot be said.
//!
//! A name is tried in steps from the surest to the least sure: the key, the name as it
//! stands, plural, word order, abbreviated or shortened scientific names, authors, brackets,
//! typos. The first step that gives anything decides, and a step that gives several taxa
//! gives candidates, never a guess. A specific epithet alone is no name (ICN, article 23).

mod decide;
mod distance;
mod entry;
mod near;
mod parts;
mod typo;

use self::entry::{Entry, Taxon};
use super::fold;
use crate::catalogue::{Name, NameKind, TaxonId};

/// More names than this in one text are a list, not a name.
const MOST_PARTS: usize = 4;

/// How a name was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "camelCase")]
pub enum How {
    /// It is the key of the taxon.
    Key,
    /// It is a name of the taxon, apart from case, accents, blanks, hyphens and rank marks.
    Name(NameKind),
    /// A name, but for plural endings.
    Plural,
    /// A name with its words in another order.
    WordOrder,
    /// A scientific name with the genus or another part abbreviated.
    Abbreviation,
    /// A scientific name with a part left out: `Anubias nana`.
    Shortened,
    /// A scientific name with its authors.
    Authors,
    /// A genus of which the catalogue has this taxon only.
    Genus,
    /// Two names for the same taxon, one in brackets.
    Brackets,
    /// A name but for this many typos.
    Typo(usize),
}

/// A taxon that a name may mean.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Candidate {
    /// The taxon.
    pub taxon: TaxonId,
    /// The name of the catalogue that comes near, as written there.
    pub name: String,
}

/// What a written name means.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "camelCase")]
pub enum Resolution {
    /// This taxon.
    One {
        /// The taxon.
        taxon: TaxonId,
        /// The name of the catalogue that it was read as.
        name: String,
        /// How it was read.
        how: How,
    },
    /// One of these, two at least; the name does not say which. The best known first.
    Several {
        /// The taxa.
        candidates: Vec<Candidate>,
    },
    /// Nothing in the catalogue.
    Unknown {
        /// Names that look alike or share a word, the nearest first; only suggestions.
        near: Vec<Candidate>,
    },
}

/// All names of a catalogue, ready to be compared with.
#[derive(Debug)]
pub struct Resolver {
    taxa: Vec<Taxon>,
    entries: Vec<Entry>,
}

impl Resolver {
    /// Prepares the names of a catalogue, and the authors of its accepted names.
    pub fn new(names: &[Name], authorships: &[(TaxonId, String)]) -> Self {
        let (taxa, entries) = entry::read(names, authorships);
        Self { taxa, entries }
    }

    /// The names that a rule holds for. A scan: some thousand short comparisons take less
    /// than building tables of them would.
    fn all(&self, rule: impl Fn(&Entry) -> bool) -> Vec<usize> {
        (0..self.entries.len()).filter(|i| rule(&self.entries[*i])).collect()
    }

    /// What `text` means.
    pub fn resolve(&self, text: &str) -> Resolution {
        let words = entry::words_of(text);
        let found = self
            .key(text)
            .or_else(|| self.sure(&words))
            .or_else(|| self.authors(text, &words))
            .or_else(|| self.brackets(text))
            .or_else(|| self.without_noise(&words))
            .or_else(|| self.genus_typo(&words))
            .or_else(|| self.typo(&words))
            .or_else(|| self.clipped_genus(&words))
            .or_else(|| self.beyond(&words));
        match found {
            // One candidate that is not certain is a suggestion.
            Some(Resolution::Several { candidates }) if candidates.len() < 2 => {
                Resolution::Unknown { near: candidates }
            }
            Some(resolution) => resolution,
            None => Resolution::Unknown { near: self.near(&words) },
        }
    }

    /// The steps that change no letter but plural endings.
    fn sure(&self, words: &[String]) -> Option<Resolution> {
        let stems: Vec<String> = words.iter().map(|w| fold::stem(w)).collect();
        let (whole, singular, sorted) = (fold::compact(words), fold::compact(&stems), entry::sorted(&stems));
        self.short_genus(&stems)
            .or_else(|| self.genus(words, &stems))
            .or_else(|| self.local_genus(words))
            .or_else(|| self.group(words))
            .or_else(|| self.bare_epithet(words))
            .or_else(|| self.decide(&self.all(|e| e.compact == whole), words, |e| How::Name(e.kind)))
            .or_else(|| self.decide(&self.all(|e| e.stems == singular), words, |_| How::Plural))
            .or_else(|| self.decide(&self.all(|e| e.sorted == sorted), words, |_| How::WordOrder))
            .or_else(|| self.parts(words))
    }

    fn key(&self, text: &str) -> Option<Resolution> {
        let taxon = self.taxa.iter().find(|t| t.id.0 == text.trim())?;
        Some(Resolution::One { taxon: taxon.id.clone(), name: taxon.name.clone(), how: How::Key })
    }

    /// Words that sellers and lists put beside a name.
    fn without_noise(&self, words: &[String]) -> Option<Resolution> {
        let kept: Vec<String> = words.iter().filter(|w| !entry::is_noise(w)).cloned().collect();
        (kept.len() < words.len() && !kept.is_empty())
            .then(|| self.sure(&kept).or_else(|| self.typo(&kept)))?
    }

    /// `Java fern (Leptochilus pteropus)`: every part names the same taxon.
    fn brackets(&self, text: &str) -> Option<Resolution> {
        let spaced = text.replace(" - ", "/").replace(" – ", "/");
        let parts = spaced.split(['(', ')', '[', ']', '/', ',', ';', '=', ':']).map(entry::words_of);
        let parts: Vec<Vec<String>> = parts.filter(|p| p.iter().any(|w| !entry::is_noise(w))).collect();
        if !(2..=MOST_PARTS).contains(&parts.len()) {
            return None;
        }
        let meant: Option<Vec<Resolution>> = parts
            .iter()
            .map(|p| self.sure(p).or_else(|| self.without_noise(p)).or_else(|| self.typo(p)))
            .collect();
        let meant = meant?;
        let sure = meant.iter().find_map(|m| match m {
            Resolution::One { taxon, name, .. } => Some((taxon, name)),
            _ => None,
        });
        let (taxon, name) = sure?;
        let agree = meant.iter().all(|m| match m {
            Resolution::One { taxon: other, .. } => other == taxon,
            Resolution::Several { candidates } => candidates.iter().any(|c| c.taxon == *taxon),
            Resolution::Unknown { .. } => false,
        });
        if agree {
            return Some(Resolution::One { taxon: taxon.clone(), name: name.clone(), how: How::Brackets });
        }
        Some(Resolution::Several { candidates: decide::all_candidates(&meant) })
    }
}
