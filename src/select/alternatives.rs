//! The best list, the best that differs from it, the best that differs from both, and so on.
//!
//! A list differs from a better one in `differ` taxa when at least so many taxa of the better one
//! are not on it; adding to a better list alone makes no other list. Each list is proven best
//! among all that differ so from every list before it.

use super::fault::{Fault, faults};
use super::model::Model;
use super::outcome::{Outcome, Watch};
use super::problem::{Group, Problem};
use super::{Goal, Pick, searched};

/// How many further lists, and how different.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Ask {
    /// Lists besides the first.
    pub count: usize,
    /// Taxa of every better list that must be missing; at least 1.
    pub differ: usize,
}

/// The next best lists after `first`, in falling order of value. Ends early when no list is left,
/// or with a list that is not proven when the caller ends the search.
///
/// # Errors
/// Every fault of a problem that cannot be read as one.
pub fn alternatives(
    problem: &Problem,
    first: &[Pick],
    ask: Ask,
    watch: &mut Watch,
) -> Result<Vec<Outcome>, Vec<Fault>> {
    let faults = faults(problem);
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut rest = problem.clone();
    let mut better = first.to_vec();
    let mut found = Vec::new();
    while found.len() < ask.count && !better.is_empty() {
        let taxa = better.iter().map(|p| p.candidate).collect();
        rest.rules.groups.push(Group::distinct("another list", taxa, ask.differ.max(1)));
        let outcome = searched(&Model::new(&rest), &Goal::default(), watch);
        let Some(answer) = outcome.answer() else { break };
        better.clone_from(&answer.chosen);
        let proven = matches!(outcome, Outcome::Optimal(_));
        found.push(outcome);
        if !proven {
            break;
        }
    }
    Ok(found)
}
