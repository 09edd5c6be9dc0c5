//! Why a problem has no list: a set of demands that cannot hold together, none of which could be
//! left out of it, and how far each would have to give way.
//!
//! The set is found by QuickXplain (Junker, "QUICKXPLAIN: Preferred Explanations and Relaxations
//! for Over-Constrained Problems", AAAI 2004) with the exact search as its oracle, and its
//! minimality is proven member by member. Such a set need not be the only one, nor the smallest
//! in number. Not here: the words for it (`report`).

mod demand;
mod nearest;
mod oracle;

use super::fault::{Fault, faults};
use super::outcome::Watch;
use super::problem::Problem;
use oracle::{Holds, Oracle};

pub use demand::Demand;
pub(super) use demand::without;

/// Demands that cannot hold together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Conflict {
    /// The demands, in the order of [`Demand::all`].
    pub members: Vec<Member>,
    /// Whether it is proven that the members cannot hold together, and that any of them can be
    /// met without one of the others; false only when the caller ended the search.
    pub proven: bool,
    /// Nodes of all searches.
    pub nodes: u64,
}

/// A demand of a conflict with the way out of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Member {
    /// The demand.
    pub demand: Demand,
    /// How far it has to give way.
    pub way: Way,
}

/// How far a demand has to give way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Way {
    /// The nearest value that does: the budget in hundredths, minutes, the numerator of the
    /// share, a number of taxa, or for lines of sight the millimetres by which what stands a row
    /// nearer may be taller. `None` when the demand has no value and has to go.
    pub value: Option<i64>,
    /// Whether every other demand of the problem can then be met; if not, only the others of the
    /// conflict can, and another conflict remains.
    pub whole: bool,
}

/// A conflict of an impossible problem; `None` when a list exists or the caller ended the search
/// before it was refuted.
///
/// # Errors
/// Every fault of a problem that cannot be read as one.
pub fn conflict(problem: &Problem, watch: &mut Watch) -> Result<Option<Conflict>, Vec<Fault>> {
    let faults = faults(problem);
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut oracle = Oracle::new(problem, watch);
    let all = oracle.all.clone();
    if oracle.together(&all) != Holds::No {
        return Ok(None);
    }
    let mut demands = explain(&mut oracle, &[], false, &all);
    demands.sort_unstable();
    let proven = is_minimal(&mut oracle, &demands);
    let mut members = Vec::with_capacity(demands.len());
    for &demand in &demands {
        members.push(Member { demand, way: nearest::way(&mut oracle, demand, &demands) });
    }
    Ok(Some(Conflict { members, proven, nodes: oracle.nodes }))
}

/// QuickXplain: the part of `demands` without which `background` and the rest could hold.
/// `narrowed` says whether `background` has grown since it was last tried.
fn explain(oracle: &mut Oracle, background: &[Demand], narrowed: bool, demands: &[Demand]) -> Vec<Demand> {
    // What is not refuted counts as possible: the set may then be larger than it need be, and
    // the check of minimality says so.
    if narrowed && oracle.together(background) == Holds::No {
        return Vec::new();
    }
    if demands.len() <= 1 {
        return demands.to_vec();
    }
    let (first, second) = demands.split_at(demands.len() / 2);
    let with_first = [background, first].concat();
    let of_second = explain(oracle, &with_first, true, second);
    let with_second = [background, &of_second].concat();
    let of_first = explain(oracle, &with_second, !of_second.is_empty(), first);
    [of_first, of_second].concat()
}

/// Whether the demands are refuted together and met whenever one is left out.
fn is_minimal(oracle: &mut Oracle, demands: &[Demand]) -> bool {
    oracle.together(demands) == Holds::No
        && demands.iter().all(|left_out| {
            let rest: Vec<Demand> = demands.iter().copied().filter(|d| d != left_out).collect();
            oracle.together(&rest) == Holds::Yes
        })
}
