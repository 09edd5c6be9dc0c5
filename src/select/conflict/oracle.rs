//! Whether a problem has any list at all, asked many times under one watch.

use std::collections::BTreeMap;

use super::demand::{Demand, under};
use crate::select::model::Model;
use crate::select::outcome::{Outcome, Progress, Watch};
use crate::select::problem::Problem;
use crate::select::{Goal, searched};

/// What is known of a problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Holds {
    /// There is a list.
    Yes,
    /// It is proven that there is none.
    No,
    /// The caller ended the search before either was known.
    Unknown,
}

/// Asks the exact search, and remembers what it said of which demands.
pub(super) struct Oracle<'p, 'w, 'f> {
    pub problem: &'p Problem,
    pub all: Vec<Demand>,
    watch: &'w mut Watch<'f>,
    known: BTreeMap<Vec<Demand>, Holds>,
    pub nodes: u64,
}

impl<'p, 'w, 'f> Oracle<'p, 'w, 'f> {
    pub fn new(problem: &'p Problem, watch: &'w mut Watch<'f>) -> Self {
        Self { problem, all: Demand::all(problem), watch, known: BTreeMap::new(), nodes: 0 }
    }

    /// Whether these demands can be met together.
    pub fn together(&mut self, demands: &[Demand]) -> Holds {
        let mut sorted = demands.to_vec();
        sorted.sort_unstable();
        if let Some(&known) = self.known.get(&sorted) {
            return known;
        }
        let holds = self.possible(&under(self.problem, &self.all, &sorted));
        self.known.insert(sorted, holds);
        holds
    }

    /// Whether any list meets all rules: the search ends with the first.
    pub fn possible(&mut self, problem: &Problem) -> Holds {
        let before = self.nodes;
        let watch = &mut *self.watch;
        let mut counted = |p: &Progress| watch(&Progress { nodes: before + p.nodes, ..*p });
        let outcome = searched(&Model::new(problem), &Goal::any(), &mut counted);
        self.nodes += outcome.nodes();
        match outcome {
            Outcome::Optimal(_) | Outcome::Feasible(_) => Holds::Yes,
            Outcome::Impossible { .. } => Holds::No,
            Outcome::Unknown { .. } => Holds::Unknown,
        }
    }

    /// The least that a list of `model` comes to by the model's own aim, made positive; `None`
    /// when there is no list or the search was ended.
    pub fn least(&mut self, model: &Model) -> Option<i64> {
        let outcome = searched(model, &Goal::default(), self.watch);
        self.nodes += outcome.nodes();
        match outcome {
            Outcome::Optimal(answer) => Some(-answer.value),
            _ => None,
        }
    }
}
