//! The selection problem as a value: whole numbers only, so that every sum is exact and any
//! other software can be given the very same problem.
//!
//! Maximise Σ `suitability` · worth over the picks, plus, for every unordered pair of picks in
//! the same zone or in neighbouring zones: `texture` if their leaf textures differ, `colour` if
//! their colours differ, minus `genus` if they share a genus. The rules say which lists count.

use serde::{Deserialize, Serialize};

/// A whole selection problem. Build it, then hand it to [`solve`](super::solve).
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Problem {
    /// The places to plant.
    pub zones: Vec<Zone>,
    /// Unordered pairs of zones (by index) that touch and so must contrast.
    pub neighbours: Vec<[usize; 2]>,
    /// Pairs of zones on one line of sight.
    pub sight_lines: Vec<SightLine>,
    /// Names of the water factors of [`Candidate::water`], in their order.
    pub water: Vec<String>,
    /// The taxa to choose from.
    pub candidates: Vec<Candidate>,
    /// What is worth how much.
    pub weights: Weights,
    /// What a list must respect.
    pub rules: Rules,
}

/// A place to plant and how many taxa it takes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Zone {
    /// Its name in the tank file.
    pub name: String,
    /// The fewest taxa.
    pub least: usize,
    /// The most taxa.
    pub most: usize,
}

/// Nothing chosen in `nearer` may be taller than anything chosen in `farther`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SightLine {
    /// The zone nearer to the eye.
    pub nearer: usize,
    /// The zone behind it.
    pub farther: usize,
}

/// One taxon and where it could go. It is planted in at most one zone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Candidate {
    /// The taxon's key; unique. Ties are broken in key order, never by position.
    pub key: String,
    /// Its genus, as a number of the caller's choosing.
    pub genus: u32,
    /// Its leaf-texture class.
    pub texture: u8,
    /// Its colour class.
    pub colour: u8,
    /// Whether it counts as a fast grower.
    pub fast: bool,
    /// Price of one portion in hundredths of the currency; `None` leaves it out of the budget.
    pub price: Option<i64>,
    /// Lowest and highest value of each water factor at which it grows, in whole numbers of the
    /// caller's scale (tenths of a degree, hundredths of pH); as many as [`Problem::water`].
    pub water: Vec<[i64; 2]>,
    /// The zones it may go to; at most one entry a zone.
    pub options: Vec<Choice>,
}

/// What planting a candidate in a zone means.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Choice {
    /// The zone, by index.
    pub zone: usize,
    /// Its worth there: suitability × 1000, times any weight of the zone.
    pub worth: i64,
    /// Height it is kept at there, in millimetres.
    pub height: i64,
    /// Portions when the zone holds 1, 2, 3… taxa; the last entry stands for all larger counts.
    pub portions: Vec<i64>,
    /// Trimming minutes a month when the zone holds 1, 2, 3… taxa; the last stands for the rest.
    pub trim: Vec<i64>,
}

/// What is worth how much, in the unit of [`Choice::worth`] (1000 is one perfectly suited taxon).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Weights {
    /// Factor on every worth.
    pub suitability: i64,
    /// A pair whose leaf textures differ.
    pub texture: i64,
    /// A pair whose colours differ.
    pub colour: i64,
    /// Taken off for a pair of one genus.
    pub genus: i64,
}

impl Default for Weights {
    /// Contrast is worth a few hundredths of a perfectly suited taxon a pair.
    fn default() -> Self {
        Self { suitability: 1, texture: 30, colour: 20, genus: 60 }
    }
}

/// What a list must respect; an empty `Rules` asks nothing.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Rules {
    /// Most that all portions may cost, in the unit of [`Candidate::price`].
    pub budget: Option<i64>,
    /// Most trimming minutes a month.
    pub trim: Option<i64>,
    /// Smallest share of fast growers among the chosen.
    pub fast: Option<Share>,
    /// Most taxa of one genus.
    pub per_genus: Option<usize>,
    /// Most taxa overall.
    pub taxa: Option<usize>,
    /// Candidates (by index) that must be chosen.
    pub must: Vec<usize>,
    /// Candidates that must not be chosen.
    pub never: Vec<usize>,
    /// Candidates not native to the areas asked for: as `never`, but one demand together.
    pub foreign: Vec<usize>,
    /// Pairs of candidates of which at most one may be chosen.
    pub excluded: Vec<[usize; 2]>,
    /// Limits on how many of a set of candidates are chosen.
    pub groups: Vec<Group>,
}

/// A share `part / whole`, compared exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Share {
    /// Numerator.
    pub part: i64,
    /// Denominator, positive.
    pub whole: i64,
}

/// At least `least` and at most `most` of `taxa` are chosen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Group {
    /// What the person calls it.
    pub name: String,
    /// The candidates it counts, each once.
    pub taxa: Vec<usize>,
    /// The fewest of them.
    pub least: usize,
    /// The most of them; `None` when any number will do.
    pub most: Option<usize>,
}

impl Group {
    /// At least one of `taxa`.
    pub fn at_least_one(name: impl Into<String>, taxa: Vec<usize>) -> Self {
        Self { name: name.into(), taxa, least: 1, most: None }
    }

    /// All but at most `changes` of an earlier list `taxa` are kept.
    pub fn near(name: impl Into<String>, taxa: Vec<usize>, changes: usize) -> Self {
        let least = taxa.len().saturating_sub(changes);
        Self { name: name.into(), taxa, least, most: None }
    }

    /// At least `distance` taxa of an earlier list `taxa` are missing.
    pub fn distinct(name: impl Into<String>, taxa: Vec<usize>, distance: usize) -> Self {
        let most = taxa.len().saturating_sub(distance);
        Self { name: name.into(), taxa, least: 0, most: Some(most) }
    }
}

impl Choice {
    /// Portions when the zone holds `count` taxa.
    pub fn portions_at(&self, count: usize) -> i64 {
        at_count(&self.portions, count)
    }

    /// Trimming minutes a month when the zone holds `count` taxa.
    pub fn trim_at(&self, count: usize) -> i64 {
        at_count(&self.trim, count)
    }
}

impl Candidate {
    /// Cost of all its portions in a zone of `count` taxa; 0 where no price is known.
    pub fn cost_at(&self, choice: &Choice, count: usize) -> i64 {
        self.price.unwrap_or(0) * choice.portions_at(count)
    }

    /// What it means in `zone`, if it may go there.
    pub fn choice_in(&self, zone: usize) -> Option<&Choice> {
        self.options.iter().find(|o| o.zone == zone)
    }
}

fn at_count(table: &[i64], count: usize) -> i64 {
    table.get(count.saturating_sub(1)).or(table.last()).copied().unwrap_or(0)
}
