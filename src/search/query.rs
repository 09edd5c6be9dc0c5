//! What can be asked, and what is answered.

use std::collections::BTreeMap;

use super::Facet;
use super::schema::Measure;
use crate::catalogue::TaxonId;
use crate::units::{CarbonateHardness, GeneralHardness, Length, Ph, Ppfd, Quantity, Temperature};

/// A range asked for; an open end is `None`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span<Q> {
    /// The lower end.
    pub lo: Option<Q>,
    /// The upper end.
    pub hi: Option<Q>,
}

impl<Q: Quantity> Span<Q> {
    fn ends(self) -> [Option<f64>; 2] {
        [self.lo.map(Quantity::base), self.hi.map(Quantity::base)]
    }
}

/// Ranges asked for. A plant answers a range when the range it grows in (where suitability is
/// at least 0.5) meets it; for height, when its usual span of heights does.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Ranges {
    /// Submerged height in cultivation.
    pub height: Option<Span<Length>>,
    /// Light at the leaf for an 8 h day.
    pub ppfd: Option<Span<Ppfd>>,
    /// Temperature.
    pub temperature: Option<Span<Temperature>>,
    /// pH.
    pub ph: Option<Span<Ph>>,
    /// General hardness.
    pub gh: Option<Span<GeneralHardness>>,
    /// Carbonate hardness.
    pub kh: Option<Span<CarbonateHardness>>,
}

impl Ranges {
    /// The ranges that are set, in base units.
    pub(super) fn set(&self) -> Vec<(Measure, [Option<f64>; 2])> {
        let all = [
            (Measure::Height, self.height.map(Span::ends)),
            (Measure::Ppfd, self.ppfd.map(Span::ends)),
            (Measure::Temperature, self.temperature.map(Span::ends)),
            (Measure::Ph, self.ph.map(Span::ends)),
            (Measure::Gh, self.gh.map(Span::ends)),
            (Measure::Kh, self.kh.map(Span::ends)),
        ];
        all.into_iter().filter_map(|(measure, ends)| Some((measure, ends?))).collect()
    }
}

/// A question to the index.
#[derive(Debug, Clone, PartialEq)]
pub struct Query {
    /// Free text: names, words of traits, words of the notes. Empty for all taxa.
    pub text: String,
    /// Values wanted: any of a facet's, in every facet. Case, blanks and hyphens do not
    /// matter; native areas may be given by code or name.
    pub facets: BTreeMap<Facet, Vec<String>>,
    /// Numeric ranges.
    pub ranges: Ranges,
    /// Places (ISO 3166 codes or `EU`) whose law must not name the taxon, as far as the
    /// lists carried go.
    pub not_listed_in: Vec<String>,
    /// How many hits to leave out at the start.
    pub offset: usize,
    /// How many hits to give at most.
    pub limit: usize,
}

impl Default for Query {
    fn default() -> Self {
        Self {
            text: String::new(),
            facets: BTreeMap::new(),
            ranges: Ranges::default(),
            not_listed_in: Vec::new(),
            offset: 0,
            limit: 20,
        }
    }
}

impl Query {
    /// A question in free text alone.
    pub fn text(text: impl Into<String>) -> Self {
        Self { text: text.into(), ..Self::default() }
    }
}

/// One taxon found.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Hit {
    /// The taxon.
    pub taxon: TaxonId,
    /// How well it answers the text; only the order means anything.
    pub score: f32,
    /// The accepted name.
    pub name: String,
    /// The name that the text matched, when it is another one.
    pub matched: Option<String>,
}

/// How many of all hits have a value.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct FacetCount {
    /// The value, as a query takes it.
    pub value: String,
    /// The value in words: the area's name for a native area, else the value.
    pub label: String,
    /// How many hits have it.
    pub count: u64,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Results {
    /// How many taxa answer the question.
    pub total: usize,
    /// Those asked for: the best first, of equals the better known, then by key.
    pub hits: Vec<Hit>,
    /// Counts over all hits, not only those given. Values that no hit has are left out;
    /// closed facets stand in the order of their words, the others by count.
    pub facets: BTreeMap<Facet, Vec<FacetCount>>,
    /// Words of the text that no taxon has, left out of the question.
    pub unmatched: Vec<String>,
    /// Words read as another: as written, as found.
    pub corrected: Vec<(String, String)>,
    /// Whether no taxon has all the words and the hits have only some of them.
    pub partial: bool,
}
