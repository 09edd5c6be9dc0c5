//! Plants found, with facet counts.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use super::rounded;
use crate::catalogue::Plant;
use crate::search::{Facet, FacetCount, Query};

/// A plant found.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FoundView {
    /// Key of the taxon.
    pub taxon: String,
    /// Accepted name with the cultivar.
    pub name: String,
    /// Usual English name.
    pub vernacular: String,
    /// The name that the words matched, when it is another one.
    pub matched: Option<String>,
    /// Family.
    pub family: String,
    /// Habit.
    pub growth_form: String,
    /// Places in the layout.
    pub placement: Vec<String>,
    /// Usual height.
    pub height_min_cm: f64,
    /// Usual height.
    pub height_max_cm: f64,
    /// Need of light, by the PPFD from which it grows.
    pub light: String,
    /// Need of gas.
    pub gas: String,
}

impl FoundView {
    /// A plant with its bands.
    pub fn of(plant: &Plant, matched: Option<String>, light: &str, gas: &str) -> Self {
        Self {
            taxon: plant.id.0.clone(),
            name: plant.display_name(),
            vernacular: plant.vernacular.clone(),
            matched,
            family: plant.family.clone(),
            growth_form: plant.growth_form.word().to_owned(),
            placement: plant.placements.iter().map(|p| p.word().to_owned()).collect(),
            height_min_cm: rounded(plant.height.lo().cm(), 1),
            height_max_cm: rounded(plant.height.hi().cm(), 1),
            light: light.to_owned(),
            gas: gas.to_owned(),
        }
    }
}

/// A value of a facet with the number of plants that have it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CountView {
    /// The value, as `--facet` takes it.
    pub value: String,
    /// The value in words.
    pub label: String,
    /// How many of all plants found have it.
    pub count: u64,
}

/// What `find` answers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FindView {
    /// The words asked for.
    pub words: String,
    /// How many plants answer.
    pub total: usize,
    /// How many were passed over first.
    pub offset: usize,
    /// Those shown, the best first.
    pub hits: Vec<FoundView>,
    /// Counts over all of them.
    pub facets: BTreeMap<String, Vec<CountView>>,
}

impl FindView {
    /// The view of a query's results.
    pub fn of(
        query: &Query,
        total: usize,
        hits: Vec<FoundView>,
        facets: &BTreeMap<Facet, Vec<FacetCount>>,
    ) -> Self {
        let count =
            |c: &FacetCount| CountView { value: c.value.clone(), label: c.label.clone(), count: c.count };
        let facet = |(f, counts): (&Facet, &Vec<FacetCount>)| {
            (f.word().to_owned(), counts.iter().map(count).collect())
        };
        Self {
            words: query.text.clone(),
            total,
            offset: query.offset,
            hits,
            facets: facets.iter().map(facet).collect(),
        }
    }
}
