//! A wish list against a tank, as answered by `check`.

use schemars::JsonSchema;
use serde::Serialize;

use super::{JudgedView, TankView};

/// A plant of the list in the zone that suits it best.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct WishView {
    /// The names by which the list wishes for it.
    pub written: Vec<String>,
    /// Index into the zones of the tank: the one that suits it best.
    pub zone: usize,
    /// Its verdict there.
    #[serde(flatten)]
    pub judged: JudgedView,
    /// Whether a law of the tank's jurisdiction restricts it.
    pub barred: bool,
    /// Whether it at least grows and is not barred.
    pub fits: bool,
}

/// What `check` answers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CheckView {
    /// The tank.
    pub tank: TankView,
    /// How many of the list do not fit.
    pub misfits: usize,
    /// The list, worst first.
    pub wishes: Vec<WishView>,
    /// What the person should know before acting.
    pub cautions: Vec<String>,
    /// What the model leaves out.
    pub left_out: Vec<String>,
}
