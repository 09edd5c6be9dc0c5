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
    /// Why the first of them is not on the list; `null` when not asked for.
    pub why_not: Option<WhyNotView>,
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
    /// `optimal`, `feasible` (ended early, by time or by Ctrl-C), `impossible` or `unknown`.
    pub status: String,
    /// Value of the list: 1000 is one perfectly suited taxon.
    pub value: Option<i64>,
    /// No list is worth more.
    pub bound: Option<i64>,
    /// Nodes of the search.
    pub nodes: u64,
}

/// A demand as stated.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct StatedView {
    /// In words.
    pub demand: String,
    /// The tank file, when the demand stands there.
    pub file: Option<String>,
    /// The line in it.
    pub line: Option<usize>,
}

/// A demand of a conflict, and the nearest way out by it alone.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ConflictMemberView {
    /// The demand.
    #[serde(flatten)]
    pub stated: StatedView,
    /// What to do, in words.
    pub way_out: String,
    /// The nearest value that does: hundredths of the currency, minutes, thousandths, taxa or
    /// millimetres; `null` for a demand that has to go altogether.
    pub nearest: Option<i64>,
    /// Whether that makes a list possible; if not, other demands still stand in the way.
    pub enough: bool,
    /// Where the tank file states it; `null` for a demand given elsewhere.
    pub setting: Option<SettingView>,
}

/// A demand as a value of the tank file.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SettingView {
    /// Full name of the value, such as `wishes.budget` or `zone[1].taxa`.
    pub key: String,
    /// The value to write so that it is met by the nearest way out; `null` where no one value says it.
    pub write: Option<String>,
    /// Key of the taxon that has to be freed instead, for a plant that must or must not be there.
    pub free: Option<String>,
}

/// Demands that cannot hold together.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ConflictView {
    /// The demands.
    pub members: Vec<ConflictMemberView>,
    /// Whether it is proven that they cannot hold together, and could without any one of them.
    pub proven: bool,
    /// Whether no other demands stand in the way.
    pub alone: bool,
}

/// Why a plant that would grow in a zone is not on the list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct WhyNotView {
    /// Its name.
    pub name: String,
    /// Value of the best list with it there; `null` when there is none.
    pub value: Option<i64>,
    /// How much less that is.
    pub less: Option<i64>,
    /// The demands that keep it off, when no list has it.
    pub against: Vec<StatedView>,
}

/// A plant in a zone.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PlacedView {
    /// Index into the zones of the tank.
    pub zone: usize,
    /// Key of the taxon.
    pub taxon: String,
    /// Accepted name.
    pub name: String,
}

/// What a list has more and less than the best one.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DifferenceView {
    /// Plants that are on it and not on the best.
    pub comes: Vec<String>,
    /// Plants of the best that are not on it.
    pub goes: Vec<String>,
    /// Plants of both that stand in another zone.
    pub moved: Vec<String>,
    /// Value more; 1000 is one perfectly suited taxon.
    pub value: i64,
    /// How much of that is contrast.
    pub contrast: i64,
    /// Cost more, with its sign.
    pub cost: String,
    /// Minutes of trimming a month more.
    pub trim_minutes_per_month: i64,
}

/// A further list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct AlternativeView {
    /// 2 is the next best.
    pub rank: usize,
    /// Value of the list.
    pub value: i64,
    /// Whether it is proven that no list that differs so is better.
    pub proven: bool,
    /// Its plants.
    pub picks: Vec<PlacedView>,
    /// What it has more and less than the best.
    pub against_first: DifferenceView,
}

/// What a change of a demand or of the tank would buy.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct WhatIfView {
    /// The change.
    pub change: String,
    /// Whether the answer is proven.
    pub proven: bool,
    /// How much more the best list would be worth; `null` when there would be none.
    pub gain: Option<i64>,
    /// What that list has more and less.
    pub against_first: Option<DifferenceView>,
    /// What to know before doing it.
    pub caution: Option<String>,
}

/// How the list stands to one that was there before.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct NearView {
    /// Taxa of the earlier list.
    pub listed: usize,
    /// The fewest changes to a list that meets all demands; `null` when there is none.
    pub fewest: Option<usize>,
    /// The most changes allowed; `null` for as few as it takes.
    pub allowed: Option<usize>,
    /// Plants taken off.
    pub off: Vec<String>,
    /// Plants added.
    pub added: Vec<String>,
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
    /// How the list stands to the earlier one that was given.
    pub near: Option<NearView>,
    /// The demands without one of which a better list exists; `null` when not asked for.
    pub binding: Option<Vec<StatedView>>,
    /// The proof.
    pub proof: ProofView,
    /// The next best lists, when asked for.
    pub alternatives: Vec<AlternativeView>,
    /// What a little more would buy, when asked for.
    pub what_if: Vec<WhatIfView>,
    /// Why there is no list.
    pub conflict: Option<ConflictView>,
    /// The same in whole sentences.
    pub impossible: Vec<String>,
    /// What the person should know before acting.
    pub cautions: Vec<String>,
    /// What the model leaves out.
    pub left_out: Vec<String>,
}
