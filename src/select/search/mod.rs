//! The exact search: best first over scopes, each bounded by the relaxation, closed by the join
//! of its zones' short lists, or split.
//!
//! A scope is first priced (`ascent`), which gives its bound. The sets that fit between the bound
//! and the best list in hand are listed (`close`), thinned by what touching zones leave each other
//! (`pairs`, `tune`) and joined (`joint`); if that takes too long the scope is split where the
//! relaxation is torn. Every step is deterministic and reads no clock.

mod ahead;
mod anneal;
mod ascent;
mod beam;
mod board;
mod close;
mod direction;
mod joint;
mod loom;
mod pairs;
mod polish;
mod prefix;
mod prices;
mod relax;
mod rows;
mod run;
mod scope;
mod shortlist;
mod split;
mod sweep;
#[cfg(test)]
mod tests;
mod tilt;
mod tune;
mod usage;
mod verdict;
mod zone;

pub(super) use run::search;

/// A list as pairs of zone and item.
pub(super) type Picks = Vec<(usize, usize)>;

/// What is asked of a search.
#[derive(Debug, Clone, Default)]
pub(super) struct Goal {
    /// Only lists worth at least this are of interest.
    pub floor: Option<i64>,
    /// The search ends with the first list worth this much.
    pub enough: Option<i64>,
    /// A list to start from.
    pub known: Option<Picks>,
    pub patience: Patience,
}

impl Goal {
    /// Any list at all: the search ends with the first.
    pub fn any() -> Self {
        Self { enough: Some(i64::MIN / 8), ..Self::default() }
    }
}

/// How long each way of closing a node is tried.
#[derive(Debug, Clone, Copy)]
pub(super) struct Patience {
    /// Sets a zone's short list may hold.
    pub longest_list: usize,
    /// Steps of a join before prices are tuned.
    pub first_steps: u64,
    /// Steps of a join after it, before the node is split.
    pub join_steps: u64,
}

impl Default for Patience {
    fn default() -> Self {
        Self { longest_list: 60_000, first_steps: 50_000, join_steps: 1_000_000 }
    }
}

/// The best list found, whether it is proven, and what it took.
#[derive(Debug, Clone)]
pub(super) struct Found {
    pub best: Option<(i64, Picks)>,
    /// No list is worth more; meaningful when the search was stopped.
    pub bound: i64,
    pub nodes: u64,
    pub finished: bool,
}
