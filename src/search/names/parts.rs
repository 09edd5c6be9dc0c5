//! Scientific names abbreviated, shortened, or with more behind them than the catalogue has.

use super::super::fold;
use super::entry::Entry;
use super::{How, Resolution, Resolver};
use crate::catalogue::NameKind;

/// Cultivar words that many species share: they name nothing without the species.
#[rustfmt::skip]
const SHARED_WORDS: &[&str] = &[
    "alba", "angustifolia", "big", "blue", "broad", "broadleaf", "bronze", "brown", "compact", "crispa", "dark",
    "dwarf", "giant", "gold", "golden", "green", "large", "latifolia", "leaf", "light", "long", "major", "mini",
    "minor", "narrow", "orange", "pink", "purple", "red", "round", "rubra", "rubrum", "short", "small", "super",
    "tall", "variegated", "viridis", "wavy", "white", "wide", "yellow",
];

/// How a text fits a scientific name, the best first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    /// Every word, the genus abbreviated or left out.
    Whole,
    /// Genus and last word; something between is left out.
    Tail,
    /// As [`Fit::Tail`], but the last word is one that many species share.
    SharedTail,
    /// A species of which the catalogue has parts only.
    Head,
}

impl Resolver {
    /// `C. wendtii`, `crypt wendtii green`, `Anubias nana`, `barteri nana`.
    pub(super) fn parts(&self, words: &[String]) -> Option<Resolution> {
        if words.len() < 2 {
            return None;
        }
        let mut fits: Vec<(Fit, usize)> = Vec::new();
        for (i, entry) in self.entries.iter().enumerate().filter(|(_, e)| e.scientific) {
            fits.extend(fit(words, entry).map(|f| (f, i)));
        }
        let best = fits.iter().map(|(f, _)| *f).min()?;
        let found: Vec<usize> = fits.into_iter().filter(|(f, _)| *f == best).map(|(_, i)| i).collect();
        match best {
            Fit::SharedTail => Some(Resolution::Several { candidates: self.candidates(&found) }),
            Fit::Whole => self.weigh(&found, words, |_| How::Abbreviation),
            Fit::Tail | Fit::Head => self.weigh(&found, words, |_| How::Shortened),
        }
    }

    /// A scientific name followed by its authors.
    pub(super) fn authors(&self, text: &str, words: &[String]) -> Option<Resolution> {
        let quoted = text.contains(['\'', '‘', '’', '"', '“', '„']);
        let (found, behind) = self.longest_beginning(words)?;
        let taxon = &self.taxa[self.entries[*found.first()?].taxon];
        let known =
            |w: &String| self.taxa.iter().any(|t| t.authors.contains(w)) || matches!(w.as_str(), "ex" | "et");
        let own = behind.iter().any(|w| taxon.authors.contains(w));
        (own && (!quoted || behind.iter().all(known)))
            .then(|| self.decide(&found, words, |_| How::Authors))?
    }

    /// A known species with words behind it that name nothing known: the species and what
    /// the catalogue has of it are candidates, none is certain.
    pub(super) fn beyond(&self, words: &[String]) -> Option<Resolution> {
        let (found, _) = self.longest_beginning(words)?;
        let species = &self.taxa[self.entries[*found.first()?].taxon];
        let mut all = self.candidates(&found);
        let forms = self.taxa.iter().enumerate().filter(|(_, t)| species.covers(t));
        all.extend(forms.map(|(i, _)| self.candidate(i, &[])));
        Some(Resolution::Several { candidates: all })
    }

    /// The names of at least two words that the text begins with, the longest, and the words
    /// behind them.
    fn longest_beginning<'a>(&self, words: &'a [String]) -> Option<(Vec<usize>, &'a [String])> {
        (2..words.len()).rev().find_map(|n| {
            let (head, behind) = words.split_at(n);
            let name = fold::compact(head);
            let found = self.all(|e| e.scientific && e.words.len() > 1 && e.compact == name);
            (!found.is_empty()).then_some((found, behind))
        })
    }
}

fn fit(words: &[String], entry: &Entry) -> Option<Fit> {
    let (genus, epithets) = entry.words.split_first()?;
    if epithets == words && words.len() > 1 {
        return Some(Fit::Whole);
    }
    let (first, rest) = words.split_first()?;
    // One-letter words alone say nothing.
    let telling = rest.iter().any(|w| w.len() > 2);
    if !telling || !abbreviates(first, genus) {
        return None;
    }
    let same = |a: &String, b: &String| a == b || (a.len() == 1 && b.starts_with(a.as_str()));
    if rest.len() == epithets.len() && rest.iter().zip(epithets).all(|(a, b)| same(a, b)) {
        return Some(Fit::Whole);
    }
    if rest.len() >= epithets.len() {
        return None;
    }
    let mut left = epithets.iter();
    let within = rest.iter().all(|w| left.any(|e| same(w, e)));
    let ends = epithets.last().zip(rest.last()).is_some_and(|(e, w)| e == w);
    if within && ends {
        let cultivar = entry.name.contains('\'');
        let shared = cultivar && rest.iter().all(|w| SHARED_WORDS.contains(&w.as_str()));
        return Some(if shared { Fit::SharedTail } else { Fit::Tail });
    }
    let heads = entry.kind == NameKind::Accepted && rest.iter().zip(epithets).all(|(a, b)| same(a, b));
    heads.then_some(Fit::Head)
}

/// `c`, `crypt` and `cryptocoryne` all stand for Cryptocoryne; so does its plural.
fn abbreviates(word: &str, genus: &str) -> bool {
    let stem = fold::stem(word);
    let initial = word.len() == 1 && genus.starts_with(word);
    let clipped = stem.len() >= 3 && genus.starts_with(&stem);
    initial || clipped || stem == fold::stem(genus)
}
