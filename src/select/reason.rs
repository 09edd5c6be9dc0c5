//! Why a problem has no list: the single demands whose dropping makes one possible, and for a
//! sum of money or minutes the nearest amount that would do.

use std::ops::ControlFlow;

use super::{Fault, Outcome, Problem, Progress, Zone, solve};

/// Takes a rule off.
type Change = fn(&mut Problem);

/// A demand that alone stands in the way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Obstacle {
    /// The budget; the least that would do, in the unit of prices.
    Budget(i64),
    /// The trimming limit; the least that would do, in minutes a month.
    Trim(i64),
    /// The share of fast growers.
    Fast,
    /// The most taxa of a genus.
    PerGenus,
    /// The order of heights along lines of sight.
    SightLines,
    /// A plant that must be on the list, by candidate.
    Must(usize),
    /// The number of taxa a zone asks for; the most it can have.
    Count {
        /// The zone.
        zone: usize,
        /// The fewest taxa with which a list is possible.
        possible: usize,
    },
}

/// The demands each of which alone makes the problem impossible, in a fixed order. Empty when
/// only several together do.
///
/// # Errors
/// As [`solve`].
pub fn obstacles(problem: &Problem) -> Result<Vec<Obstacle>, Vec<Fault>> {
    let mut found = Vec::new();
    for (candidate, _) in
        problem.candidates.iter().enumerate().filter(|(i, _)| problem.rules.must.contains(i))
    {
        let mut relaxed = problem.clone();
        relaxed.rules.must.retain(|m| *m != candidate);
        if possible(&relaxed)? {
            found.push(Obstacle::Must(candidate));
        }
    }
    for zone in 0..problem.zones.len() {
        if let Some(possible) = fewer(problem, zone)? {
            found.push(Obstacle::Count { zone, possible });
        }
    }
    if let Some(budget) = problem.rules.budget {
        let with = |amount| with_rules(problem, |p| p.rules.budget = amount);
        found.extend(least(budget, &with)?.map(Obstacle::Budget));
    }
    if let Some(trim) = problem.rules.trim {
        let with = |amount| with_rules(problem, |p| p.rules.trim = amount);
        found.extend(least(trim, &with)?.map(Obstacle::Trim));
    }
    let drops: [(bool, Change, Obstacle); 3] = [
        (problem.rules.fast.is_some(), |p| p.rules.fast = None, Obstacle::Fast),
        (problem.rules.per_genus.is_some(), |p| p.rules.per_genus = None, Obstacle::PerGenus),
        (!problem.sight_lines.is_empty(), |p| p.sight_lines.clear(), Obstacle::SightLines),
    ];
    for (stated, drop, obstacle) in drops {
        if stated && possible(&with_rules(problem, drop))? {
            found.push(obstacle);
        }
    }
    Ok(found)
}

fn with_rules(problem: &Problem, change: impl FnOnce(&mut Problem)) -> Problem {
    let mut changed = problem.clone();
    change(&mut changed);
    changed
}

/// Whether any list meets all rules: the search ends with the first.
fn possible(problem: &Problem) -> Result<bool, Vec<Fault>> {
    let mut first =
        |p: &Progress| if p.value.is_some() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) };
    Ok(matches!(solve(problem, &mut first)?, Outcome::Optimal(_) | Outcome::Feasible(_)))
}

/// The fewest taxa a zone must give up to make a list possible, if that alone does.
fn fewer(problem: &Problem, zone: usize) -> Result<Option<usize>, Vec<Fault>> {
    for least in (0..problem.zones[zone].least).rev() {
        let change = |p: &mut Problem| p.zones[zone] = Zone { least, ..p.zones[zone].clone() };
        if possible(&with_rules(problem, change))? {
            return Ok(Some(least));
        }
    }
    Ok(None)
}

/// The least amount above `given` that makes a list possible, if any amount does.
fn least(given: i64, with: &dyn Fn(Option<i64>) -> Problem) -> Result<Option<i64>, Vec<Fault>> {
    if !possible(&with(None))? {
        return Ok(None);
    }
    let (mut too_little, mut enough) = (given, given.max(1));
    while !possible(&with(Some(enough)))? {
        too_little = enough;
        enough = enough.saturating_mul(2);
    }
    while enough - too_little > 1 {
        let middle = i64::midpoint(too_little, enough);
        if possible(&with(Some(middle)))? {
            enough = middle;
        } else {
            too_little = middle;
        }
    }
    Ok(Some(enough))
}
