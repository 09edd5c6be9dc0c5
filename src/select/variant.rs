//! The same problem a little changed: what a better list would need, what a wish would cost.

use super::conflict::{Demand, without};
use super::fault::{Fault, faults};
use super::judge::Pick;
use super::model::Model;
use super::outcome::{Outcome, Watch};
use super::problem::Problem;
use super::{Goal, searched};

/// The best list of a problem, searched from a list that is already known.
///
/// # Errors
/// Every fault of a problem that cannot be read as one.
pub fn solve_from(problem: &Problem, known: &[Pick], watch: &mut Watch) -> Result<Outcome, Vec<Fault>> {
    let faults = faults(problem);
    if !faults.is_empty() {
        return Err(faults);
    }
    let model = Model::new(problem);
    let goal = Goal { known: model.known(known), ..Goal::default() };
    Ok(searched(&model, &goal, watch))
}

/// The problem in which a candidate stands in a zone, and nowhere else.
pub fn with_pick(problem: &Problem, pick: Pick) -> Problem {
    let mut changed = problem.clone();
    changed.candidates[pick.candidate].options.retain(|o| o.zone == pick.zone);
    changed.rules.must.push(pick.candidate);
    changed
}

/// Which of these demands bind: without that one, and all others kept, a list would be worth more
/// than `value`, the proven best. `None` for those that the caller's end of the search left open.
///
/// # Errors
/// Every fault of a problem that cannot be read as one.
pub fn binding(
    problem: &Problem,
    value: i64,
    demands: &[Demand],
    watch: &mut Watch,
) -> Result<Vec<(Demand, Option<bool>)>, Vec<Fault>> {
    let faults = faults(problem);
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut found = Vec::new();
    for &demand in demands {
        let model = Model::new(&without(problem, demand));
        let better = value + model.grain;
        let goal = Goal { floor: Some(better), enough: Some(better), ..Goal::default() };
        let binds = match searched(&model, &goal, watch) {
            Outcome::Optimal(a) | Outcome::Feasible(a) if a.value >= better => Some(true),
            // A list on the way may be worth less than was asked for.
            Outcome::Optimal(_) | Outcome::Impossible { .. } => Some(false),
            Outcome::Feasible(_) | Outcome::Unknown { .. } => None,
        };
        found.push((demand, binds));
    }
    Ok(found)
}

impl Model {
    /// A list as pairs of zone and item; `None` when one of its taxa may not stand where it does.
    fn known(&self, picks: &[Pick]) -> Option<Vec<(usize, usize)>> {
        let item = |pick: &Pick| {
            let taxon = self.taxa.iter().position(|&c| c == pick.candidate)?;
            let items = &self.zones.get(pick.zone)?.items;
            Some((pick.zone, items.binary_search_by_key(&taxon, |i| i.taxon).ok()?))
        };
        picks.iter().map(item).collect()
    }
}
