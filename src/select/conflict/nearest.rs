//! How far one demand has to give way for the others to hold.

use super::demand::{Demand, under, without};
use super::oracle::{Holds, Oracle};
use super::{Conflict, Way};
use crate::select::aim::Aim;
use crate::select::model::Model;
use crate::select::problem::{Problem, Share};

/// The nearest way out by `demand` alone: for all the other demands if it can be, else for those
/// of the conflict.
pub(super) fn way(oracle: &mut Oracle, demand: Demand, members: &[Demand]) -> Way {
    let whole = oracle.problem.clone();
    if oracle.possible(&without(&whole, demand)) == Holds::Yes {
        return Way { value: nearest(oracle, &whole, demand), whole: true };
    }
    let part = under(oracle.problem, &oracle.all, members);
    Way { value: nearest(oracle, &part, demand), whole: false }
}

/// The value nearest to the stated one at which `problem` becomes possible; `None` for a demand
/// without a value, or one that has to go altogether.
fn nearest(oracle: &mut Oracle, problem: &Problem, demand: Demand) -> Option<i64> {
    let rules = &problem.rules;
    match demand {
        Demand::Budget => oracle.least(&aimed(problem, demand, Aim::Cost)),
        Demand::Trim => oracle.least(&aimed(problem, demand, Aim::Trim)),
        Demand::Taxa => oracle.least(&aimed(problem, demand, Aim::Taxa)),
        Demand::Fast => {
            let share = rules.fast?;
            let with = |p: &mut Problem, part| p.rules.fast = Some(Share { part, ..share });
            falling(oracle, problem, share.part, &with)
        }
        Demand::PerGenus => {
            let most = rules.per_genus? as i64;
            let with = |p: &mut Problem, most: i64| p.rules.per_genus = Some(most as usize);
            rising(oracle, problem, most, problem.candidates.len() as i64, &with)
        }
        Demand::Least(zone) => {
            let least = problem.zones[zone].least as i64;
            falling(oracle, problem, least, &|p, least| p.zones[zone].least = least as usize)
        }
        Demand::GroupLeast(group) => {
            let least = rules.groups[group].least as i64;
            falling(oracle, problem, least, &|p, least| p.rules.groups[group].least = least as usize)
        }
        Demand::GroupMost(group) => {
            let most = rules.groups[group].most? as i64;
            let with = |p: &mut Problem, most: i64| p.rules.groups[group].most = Some(most as usize);
            rising(oracle, problem, most, rules.groups[group].taxa.len() as i64, &with)
        }
        Demand::SightLines => {
            let heights = || problem.candidates.iter().flat_map(|c| c.options.iter().map(|o| o.height));
            let span = heights().max()? - heights().min()?;
            let rows = rows(problem);
            rising(oracle, problem, 0, span, &|p, allowed| lower(p, &rows, allowed))
        }
        Demand::Must(_) | Demand::Never(_) | Demand::Excluded(_) | Demand::Foreign | Demand::Water => None,
    }
}

fn aimed(problem: &Problem, demand: Demand, aim: Aim) -> Model {
    Model::new(&without(problem, demand)).aimed(aim)
}

/// Changes a problem to ask for a value.
type Change<'a> = dyn Fn(&mut Problem, i64) + 'a;

/// The least value above `stated`, at most `last`, at which the problem becomes possible.
fn rising(
    oracle: &mut Oracle,
    problem: &Problem,
    stated: i64,
    last: i64,
    change: &Change<'_>,
) -> Option<i64> {
    let mut possible = |value: i64| {
        let mut changed = problem.clone();
        change(&mut changed, value);
        oracle.possible(&changed) == Holds::Yes
    };
    if last <= stated || !possible(last) {
        return None;
    }
    let (mut too_little, mut enough) = (stated, last);
    while enough - too_little > 1 {
        let middle = i64::midpoint(too_little, enough);
        if possible(middle) {
            enough = middle;
        } else {
            too_little = middle;
        }
    }
    Some(enough)
}

/// The greatest value below `stated`, at least 0, at which the problem becomes possible.
fn falling(oracle: &mut Oracle, problem: &Problem, stated: i64, change: &Change<'_>) -> Option<i64> {
    rising(oracle, problem, -stated, 0, &|p, value| change(p, -value)).map(|value| -value)
}

/// How many rows each zone stands behind the foremost one, along the longest way.
fn rows(problem: &Problem) -> Vec<i64> {
    let mut rows = vec![0; problem.zones.len()];
    // As many rounds as zones: lines of sight that run in a ring must not run for ever.
    for _ in 0..problem.zones.len() {
        for line in &problem.sight_lines {
            rows[line.farther] =
                rows[line.farther].max(rows[line.nearer] + 1).min(problem.zones.len() as i64);
        }
    }
    rows
}

/// Lets what stands a row nearer be `allowed` taller.
fn lower(problem: &mut Problem, rows: &[i64], allowed: i64) {
    for option in problem.candidates.iter_mut().flat_map(|c| &mut c.options) {
        option.height += allowed * rows[option.zone];
    }
}

impl Conflict {
    /// Whether dropping or moving any one member makes all the demands possible.
    pub fn is_alone(&self) -> bool {
        self.members.iter().all(|m| m.way.whole)
    }
}
