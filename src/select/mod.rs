//! Choosing the best list of taxa for a tank, with proof.
//!
//! [`Problem`] states the choice in whole numbers; [`solve`] finds the best list and proves that
//! none is better, or that there is none; [`Problem::breaches`] judges any list. Pure: no files,
//! no clock, no printing. Not here: what suits a plant (`fit`) and where it stands (`planting`).

mod aim;
mod alternatives;
mod compose;
mod conflict;
mod export;
mod fault;
mod judge;
mod model;
mod near;
mod outcome;
mod portions;
mod problem;
mod search;
mod spread;
mod variant;

pub use alternatives::{Ask, alternatives};
pub use compose::{Bar, Composition, Entry, Layout, ZoneOffer, compose, worth};
pub use conflict::{Conflict, Demand, Member, Way, conflict};
pub use export::{model_mps, solution_text, status};
pub use fault::{Fault, LARGEST, MOST_CANDIDATES, MOST_IN_ZONE, MOST_ZONES, faults};
pub use judge::{Breach, Pick, Totals};
pub use near::{Near, Nearest, near, within_changes};
pub use outcome::{Answer, Outcome, Progress, Watch, unlimited};
pub use portions::{
    FAST_PER_DAY, lattice_places, lattice_spacing, pieces_per_portion, places, portions,
    trim_minutes_per_month,
};
pub use problem::{Candidate, Choice, Group, Problem, Rules, Share, SightLine, Weights, Zone};

pub use variant::{binding, solve_from, with_pick};

use model::Model;
use search::Goal;

/// The best list of a problem, with proof, or the best found when `watch` ends the search.
///
/// # Errors
/// Every fault of a problem that cannot be read as one.
pub fn solve(problem: &Problem, watch: &mut Watch) -> Result<Outcome, Vec<Fault>> {
    let faults = faults(problem);
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(searched(&Model::new(problem), &Goal::default(), watch))
}

/// What the search says of a model; under a goal with a floor, "impossible" means that no list is
/// worth that much.
fn searched(model: &Model, goal: &Goal, watch: &mut Watch) -> Outcome {
    let found = search::search(model, goal, watch);
    let nodes = found.nodes;
    match found.best {
        Some((value, chosen)) => {
            let bound = if found.finished { value } else { found.bound.max(value) };
            let answer = Answer { chosen: model.picks(&chosen), value, bound, nodes };
            if bound == value { Outcome::Optimal(answer) } else { Outcome::Feasible(answer) }
        }
        None if found.finished => Outcome::Impossible { nodes },
        None => Outcome::Unknown { nodes },
    }
}
