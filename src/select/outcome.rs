//! What solving gives back, and how the caller watches and ends it.

use std::ops::ControlFlow;

use super::judge::Pick;

/// A list with the proof that goes with it.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Answer {
    /// The picks, sorted by zone and then by candidate key.
    pub chosen: Vec<Pick>,
    /// The list's value.
    pub value: i64,
    /// No list is worth more than this. Equal to `value` when the list is proven best.
    pub bound: i64,
    /// Nodes of the search.
    pub nodes: u64,
}

/// What is known when solving ends.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum Outcome {
    /// No list is worth more.
    Optimal(Answer),
    /// The best found when the caller ended the search; `bound` says how much better one might be.
    Feasible(Answer),
    /// The caller ended the search before any list was found, or any refutation.
    Unknown {
        /// Nodes of the search.
        nodes: u64,
    },
    /// No list respects every rule.
    Impossible {
        /// Nodes of the search that refutes it.
        nodes: u64,
    },
}

impl Outcome {
    /// The list, if there is one.
    pub fn answer(&self) -> Option<&Answer> {
        match self {
            Self::Optimal(answer) | Self::Feasible(answer) => Some(answer),
            Self::Unknown { .. } | Self::Impossible { .. } => None,
        }
    }

    /// Nodes of the search.
    pub fn nodes(&self) -> u64 {
        match self {
            Self::Optimal(answer) | Self::Feasible(answer) => answer.nodes,
            Self::Unknown { nodes } | Self::Impossible { nodes } => *nodes,
        }
    }
}

/// How far a search has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Progress {
    /// Value of the best list so far.
    pub value: Option<i64>,
    /// No list is worth more than this.
    pub bound: i64,
    /// Nodes so far.
    pub nodes: u64,
}

/// Called at least every few milliseconds; `Break` ends the search with what it has. The search
/// itself reads no clock: a time limit and Ctrl-C live in the caller's function, and change only
/// how far the proof comes, never an answer that claims proof.
pub type Watch<'a> = dyn FnMut(&Progress) -> ControlFlow<()> + 'a;

/// Never ends a search.
pub fn unlimited(_: &Progress) -> ControlFlow<()> {
    ControlFlow::Continue(())
}
