//! Suggestions for what is not in the catalogue, and words that name a whole group.

use super::super::fold;
use super::distance::Pattern;
use super::entry::{self, Entry};
use super::{Candidate, Resolution, Resolver};
use crate::catalogue::NameKind;

/// How many suggestions are made.
const SUGGESTIONS: usize = 5;
/// A name less like the text than this is no suggestion.
const ALIKE: f64 = 0.6;

/// Words that name a group of plants, as stems: alone they mean any plant so called.
#[rustfmt::skip]
const GROUPS: &[&str] = &[
    "arrowhead", "bladderwort", "crypt", "duckweed", "fern", "frogbit", "grass", "hairgrass", "hygro", "lily",
    "liverwort", "lotus", "milfoil", "mos", "moss", "pennywort", "pondweed", "quillwort", "spikerush",
    "starwort", "stonewort", "sword", "watermilfoil",
];

/// Short forms of a genus, as stems, that mean any of its species even where a list of names
/// has them for one.
const SHORT_GENERA: &[(&str, &str)] = &[
    ("buce", "bucephalandra"),
    ("bucep", "bucephalandra"),
    ("crypt", "cryptocoryne"),
    ("hygro", "hygrophila"),
    ("val", "vallisneria"),
    ("valli", "vallisneria"),
    ("vallis", "vallisneria"),
];

/// The shortest beginning of a genus that is taken for it.
const CLIPPED: usize = 4;

impl Resolver {
    /// A short form that means a whole genus: `crypts`, `val`.
    pub(super) fn short_genus(&self, stems: &[String]) -> Option<Resolution> {
        let [stem] = stems else { return None };
        let (_, genus) = SHORT_GENERA.iter().find(|(short, _)| short == stem)?;
        let genus = [(*genus).to_owned()];
        self.genus(&genus, &[fold::stem(&genus[0])])
    }

    /// A word for a group, such as `moss`: the plants whose English names end so, when there
    /// are several. Those most often called so come first.
    pub(super) fn group(&self, words: &[String]) -> Option<Resolution> {
        let [word] = words else { return None };
        let stem = fold::stem(word);
        if !GROUPS.contains(&stem.as_str()) {
            return None;
        }
        let ends = |e: &Entry| e.english && e.words.last().is_some_and(|w| fold::stem(w) == stem);
        let found = self.all(ends);
        let mut candidates = self.candidates(&found);
        let of = |i: &usize| &self.taxa[self.entries[*i].taxon].id;
        candidates.sort_by_key(|c| std::cmp::Reverse(found.iter().filter(|i| *of(i) == c.taxon).count()));
        (candidates.len() > 1).then_some(Resolution::Several { candidates })
    }

    /// The beginning of a genus, such as `crypto`: its taxa, as candidates.
    pub(super) fn clipped_genus(&self, words: &[String]) -> Option<Resolution> {
        let [word] = words else { return None };
        let clipped = |e: &Entry| {
            e.kind == NameKind::Accepted && e.words.len() > 1 && e.words[0].starts_with(word.as_str())
        };
        let found = if word.len() < CLIPPED { Vec::new() } else { self.all(clipped) };
        (!found.is_empty()).then(|| Resolution::Several { candidates: self.candidates(&found) })
    }

    /// Names that look like the text, or share a telling word with it.
    pub(super) fn near(&self, words: &[String]) -> Vec<Candidate> {
        let compact = fold::compact(words);
        if compact.is_empty() {
            return Vec::new();
        }
        let (letters, pattern) = (entry::letters(&compact), Pattern::new(&compact));
        let stems: Vec<String> = words.iter().map(|w| fold::stem(w)).collect();
        let moved = Pattern::new(&entry::sorted(&stems));
        let telling: Vec<String> = words.iter().filter(|w| w.len() > 3).map(|w| fold::stem(w)).collect();
        let mut scored: Vec<(f64, usize)> = Vec::new();
        for (i, entry) in self.entries.iter().enumerate() {
            let longest = compact.len().max(entry.compact.len()) as f64;
            // The cheap comparison first: this runs over every word of every name.
            let told = |w: &String| {
                telling.iter().any(|t| w.as_bytes()[0] == t.as_bytes()[0] && fold::stem(w) == *t)
            };
            let shared = entry.words.iter().filter(|w| told(w)).count();
            let bound = 1.0 - entry::least_edits(&letters, &entry.letters[0]) as f64 / longest;
            if bound < ALIKE && shared == 0 {
                continue;
            }
            let edits = pattern.distance(&entry.compact).min(moved.distance(&entry.sorted));
            let alike = 1.0 - edits as f64 / longest;
            let shared = shared as f64 / entry.words.len().max(words.len()) as f64;
            if alike >= ALIKE || shared > 0.0 {
                scored.push((alike.max(ALIKE) + shared, i));
            }
        }
        scored.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let mut near: Vec<Candidate> = Vec::new();
        for (_, i) in scored {
            let candidate = self.candidate(self.entries[i].taxon, &[i]);
            if near.iter().all(|n| n.taxon != candidate.taxon) {
                near.push(candidate);
            }
            if near.len() == SUGGESTIONS {
                break;
            }
        }
        near
    }
}
