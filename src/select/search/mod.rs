//! The exact search: best first over scopes, each bounded by the relaxation, closed by the join
//! of its zones' short lists, or split.
//!
//! A scope is first priced (`ascent`), which gives its bound. If the sets that fit between the
//! bound and the best list in hand are few, joining them settles the scope for good; if not, it is
//! split where the relaxation is torn. Every step is deterministic and reads no clock.

mod anneal;
mod ascent;
mod beam;
mod board;
mod direction;
mod join;
mod polish;
mod prices;
mod relax;
mod rows;
mod run;
mod scope;
mod shortlist;
mod split;
mod sweep;
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
