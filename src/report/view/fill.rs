//! The chosen list as answered by `fill`.

use schemars::JsonSchema;
use serde::Serialize;

use super::{JudgedView, TankView};

/// A chosen plant.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PickView {
    /// Its verdict here.
    #[serde(flatten)]
    pub judged: JudgedView,
    /// Planting places at its spacing.
    pub places: u32,
    /// Portions to buy.
    pub portions: u32,
    /// Price of a portion; `null` when the list has none.
    pub price: Option<String>,
    /// Portions times price.
    pub cost: Option<String>,
    /// Minutes of trimming a month.
    pub trim_minutes_per_month: u32,
}

/// A plant that grows in the zone and was not chosen.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RunnerView {
    /// Key of the taxon.
    pub taxon: String,
    /// Accepted name.
    pub name: String,
    /// Its verdict.
    pub verdict: String,
    /// Its suitability.
    pub suitability: f64,
}

/// A zone with its plants.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ZoneFillView {
    /// Index into the zones of the tank.
    pub zone: usize,
    /// How many taxa of the catalogue grow here and are lawful.
    pub candidates: usize,
    /// The chosen plants.
    pub picks: Vec<PickView>,
    /// The best of the others.
    pub runners_up: Vec<RunnerView>,
}

/// Sums over the list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TotalsView {
    /// Taxa.
    pub taxa: usize,
    /// Portions.
    pub portions: u32,
    /// Cost of the portions that have a price.
    pub cost: String,
    /// The currency.
    pub currency: String,
    /// Chosen plants without a price; they are left out of the budget.
    pub without_price: Vec<String>,
    /// Where the prices come from, as the price list says.
    pub price_origins: Vec<String>,
    /// Minutes of trimming a month.
    pub trim_minutes_per_month: u32,
}

/// How good the list is known to be.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ProofView {
    /// `optimal`, `feasible` (time ended), `impossible` or `unknown`.
    pub status: String,
    /// Value of the list: 1000 is one perfectly suited taxon.
    pub value: Option<i64>,
    /// No list is worth more.
    pub bound: Option<i64>,
    /// Nodes of the search.
    pub nodes: u64,
}

/// What `fill` answers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct FillView {
    /// The tank.
    pub tank: TankView,
    /// The zones with their plants; empty when there is no list.
    pub zones: Vec<ZoneFillView>,
    /// The sums.
    pub totals: Option<TotalsView>,
    /// The proof.
    pub proof: ProofView,
    /// Why there is no list, in words.
    pub impossible: Vec<String>,
    /// What the person should know before acting.
    pub cautions: Vec<String>,
    /// What the model leaves out.
    pub left_out: Vec<String>,
}
