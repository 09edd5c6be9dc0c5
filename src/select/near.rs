//! From a list that a person already has to the nearest list that keeps every demand.
//!
//! A change is a taxon taken off, a taxon added, or one put in the place of another: the number
//! of changes is the greater of those taken off and those added.

use super::fault::{Fault, faults};
use super::model::Model;
use super::outcome::{Outcome, Watch};
use super::problem::{Group, Problem};
use super::{Goal, searched};

/// An existing list, and how much of it may change.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Near {
    /// Its taxa that are candidates, each once.
    pub list: Vec<usize>,
    /// How many of its taxa are no candidates, and so have to go.
    pub lost: usize,
    /// The most changes; `None` for as few as it takes.
    pub changes: Option<usize>,
}

/// The nearest list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Nearest {
    /// The fewest changes that lead to a list that keeps every demand; `None` when there is no
    /// such list at all, or the caller ended the search.
    pub fewest: Option<usize>,
    /// The best list within the changes allowed.
    pub outcome: Outcome,
}

/// The best list with at most the changes allowed, or with as few as it takes.
///
/// # Errors
/// Every fault of a problem that cannot be read as one.
pub fn near(problem: &Problem, near: &Near, watch: &mut Watch) -> Result<Nearest, Vec<Fault>> {
    let faults = faults(problem);
    if !faults.is_empty() {
        return Err(faults);
    }
    let (fewest, nodes) = fewest(problem, near, watch);
    let Some(fewest) = fewest else {
        let outcome = searched(&Model::new(problem), &Goal::default(), watch);
        let outcome = match outcome {
            Outcome::Impossible { .. } => outcome,
            other => Outcome::Unknown { nodes: nodes + other.nodes() },
        };
        return Ok(Nearest { fewest: None, outcome });
    };
    let allowed = near.changes.unwrap_or(fewest);
    if allowed < fewest {
        return Ok(Nearest { fewest: Some(fewest), outcome: Outcome::Impossible { nodes } });
    }
    let outcome = searched(&Model::new(&within_changes(problem, near, allowed)), &Goal::default(), watch);
    Ok(Nearest { fewest: Some(fewest), outcome })
}

/// The problem with at most `changes` changes to the list.
pub fn within_changes(problem: &Problem, near: &Near, changes: usize) -> Problem {
    let mut problem = problem.clone();
    let kept = near.list.len().saturating_sub(changes.saturating_sub(near.lost));
    let added = (0..problem.candidates.len()).filter(|c| !near.list.contains(c)).collect();
    let groups = [
        Group {
            name: format!("{kept} of the taxa listed stay"),
            taxa: near.list.clone(),
            least: kept,
            most: None,
        },
        Group {
            name: format!("at most {changes} taxa are added"),
            taxa: added,
            least: 0,
            most: Some(changes),
        },
    ];
    problem.rules.groups.extend(groups);
    problem
}

/// The fewest changes by bisection, and the nodes it took.
fn fewest(problem: &Problem, near: &Near, watch: &mut Watch) -> (Option<usize>, u64) {
    let mut nodes = 0;
    let mut possible = |changes: usize| {
        let model = Model::new(&within_changes(problem, near, changes));
        let outcome = searched(&model, &Goal::any(), watch);
        nodes += outcome.nodes();
        match outcome {
            Outcome::Optimal(_) | Outcome::Feasible(_) => Some(true),
            Outcome::Impossible { .. } => Some(false),
            Outcome::Unknown { .. } => None,
        }
    };
    let room: usize = problem.zones.iter().map(|z| z.most).sum();
    let (mut low, mut high) = (near.lost, (near.lost + near.list.len()).max(room));
    if low > high || possible(high) != Some(true) {
        return (None, nodes);
    }
    while low < high {
        let middle = usize::midpoint(low, high);
        match possible(middle) {
            Some(true) => high = middle,
            Some(false) => low = middle + 1,
            None => return (None, nodes),
        }
    }
    (Some(low), nodes)
}
