//! Names reduced to what is compared.

use std::collections::BTreeMap;

use super::super::fold;
use crate::catalogue::{Language, Name, NameKind, TaxonId};

/// A taxon as the names show it.
#[derive(Debug)]
pub(super) struct Taxon {
    pub id: TaxonId,
    /// The accepted name as written.
    pub name: String,
    /// Its words, rank marks left out, cultivar included.
    pub words: Vec<String>,
    /// The words of its authors.
    pub authors: Vec<String>,
    /// How many names people have for it, synonyms left out.
    pub renown: usize,
}

impl Taxon {
    /// Whether this is the species (or variety) that `other` is a variety or cultivar of.
    pub(super) fn covers(&self, other: &Taxon) -> bool {
        self.words.len() < other.words.len() && other.words.starts_with(&self.words)
    }
}

/// One name of one taxon.
#[derive(Debug)]
pub(super) struct Entry {
    /// As written in the catalogue.
    pub name: String,
    /// Which taxon.
    pub taxon: usize,
    pub kind: NameKind,
    /// Whether it is a scientific name: genus first, then epithets.
    pub scientific: bool,
    /// Whether it is English.
    pub english: bool,
    /// Its words, rank marks left out.
    pub words: Vec<String>,
    /// The words run together.
    pub compact: String,
    /// Their stems run together.
    pub stems: String,
    /// Their stems in the order of the alphabet, run together.
    pub sorted: String,
    /// How often each letter stands in `compact`, and in `sorted`.
    pub letters: [Letters; 2],
}

/// Letters and digits of folded text.
pub(super) const LETTERS: usize = 36;

/// How often each letter and digit occurs.
pub(super) type Letters = [u8; LETTERS];

/// The place of a letter or digit among [`LETTERS`].
pub(super) fn place(byte: u8) -> Option<usize> {
    match byte {
        b'a'..=b'z' => Some(usize::from(byte - b'a')),
        b'0'..=b'9' => Some(usize::from(byte - b'0') + 26),
        _ => None,
    }
}

pub(super) fn letters(compact: &str) -> Letters {
    let mut letters = [0_u8; LETTERS];
    for place in compact.bytes().filter_map(place) {
        letters[place] = letters[place].saturating_add(1);
    }
    letters
}

/// No fewer edits than this turn a text with the letters `a` into one with `b`: a
/// substitution mends one letter too many and one too few at once.
pub(super) fn least_edits(a: &Letters, b: &Letters) -> usize {
    let (mut over, mut under) = (0, 0);
    for (x, y) in a.iter().zip(b) {
        over += usize::from(x.saturating_sub(*y));
        under += usize::from(y.saturating_sub(*x));
    }
    over.max(under)
}

/// Marks of rank and doubt: they say what sort of name follows, and are often left out.
const MARKS: &[&str] = &[
    "sp",
    "spp",
    "ssp",
    "subsp",
    "subspecies",
    "var",
    "variety",
    "f",
    "fo",
    "forma",
    "cf",
    "aff",
    "cv",
    "cultivar",
    "nothovar",
    "nothosubsp",
];

/// The words of a name without marks of rank; a mark of rank that comes
/// first is an abbreviation.
pub(super) fn words_of(text: &str) -> Vec<String> {
    let words = fold::words(text);
    let doubt = |w: &str| matches!(w, "cf" | "aff");
    let kept = |(i, w): &(usize, String)| !MARKS.contains(&w.as_str()) || (*i == 0 && !doubt(w));
    words.into_iter().enumerate().filter(kept).map(|(_, w)| w).collect()
}

pub(super) fn sorted(stems: &[String]) -> String {
    let mut stems = stems.to_vec();
    stems.sort();
    stems.concat()
}

/// Words that say how a plant is sold, not which it is; and numbers.
pub(super) fn is_noise(word: &str) -> bool {
    const NOISE: &[&str] = &[
        "plant",
        "plants",
        "pot",
        "pots",
        "potted",
        "bunch",
        "bunches",
        "portion",
        "portions",
        "live",
        "aquarium",
        "aquatic",
        "tissue",
        "culture",
        "tc",
        "invitro",
        "vitro",
        "in",
        "cup",
        "cups",
        "pcs",
        "pieces",
        "the",
        "a",
        "some",
        "stems",
        "rooted",
        "tropical",
        "freshwater",
        "cm",
        "size",
    ];
    NOISE.contains(&word) || word.trim_matches('x').bytes().all(|b| b.is_ascii_digit())
}

/// The taxa in the order of their first name, and all names.
pub(super) fn read(names: &[Name], authorships: &[(TaxonId, String)]) -> (Vec<Taxon>, Vec<Entry>) {
    let authors: BTreeMap<&TaxonId, &str> =
        authorships.iter().map(|(id, text)| (id, text.as_str())).collect();
    let mut places: BTreeMap<&TaxonId, usize> = BTreeMap::new();
    let mut taxa: Vec<Taxon> = Vec::new();
    let mut entries = Vec::with_capacity(names.len());
    for name in names {
        let place = *places.entry(&name.taxon).or_insert_with(|| {
            let authors = authors.get(&name.taxon).map(|text| fold::words(text)).unwrap_or_default();
            let (id, accepted) = (name.taxon.clone(), String::new());
            taxa.push(Taxon { id, name: accepted, words: Vec::new(), authors, renown: 0 });
            taxa.len() - 1
        });
        let entry = entry(name, place);
        let taxon = &mut taxa[place];
        match name.kind {
            NameKind::Accepted => {
                taxon.name.clone_from(&name.name);
                taxon.words.clone_from(&entry.words);
            }
            NameKind::Vernacular | NameKind::Trade => taxon.renown += 1,
            NameKind::Synonym => {}
        }
        entries.push(entry);
    }
    (taxa, entries)
}

fn entry(name: &Name, taxon: usize) -> Entry {
    let words = words_of(&name.name);
    let stems: Vec<String> = words.iter().map(|w| fold::stem(w)).collect();
    let (compact, sorted) = (fold::compact(&words), sorted(&stems));
    Entry {
        name: name.name.clone(),
        taxon,
        kind: name.kind,
        scientific: matches!(name.kind, NameKind::Accepted | NameKind::Synonym),
        english: name.language == Language::En,
        letters: [letters(&compact), letters(&sorted)],
        compact,
        stems: fold::compact(&stems),
        sorted,
        words,
    }
}
