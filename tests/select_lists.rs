//! Further lists, conflicts, the nearest list and binding demands, each against brute force on
//! random small problems.

use std::collections::BTreeSet;

use proptest::prelude::*;
use quillwort::select::{
    Answer, Ask, Demand, Near, Outcome, Pick, Problem, Share, alternatives, binding, conflict, near, solve,
    unlimited,
};

use crate::select_support::{brute_force, every_list, small_problem, tight_problem};

fn taxa(picks: &[Pick]) -> BTreeSet<usize> {
    picks.iter().map(|p| p.candidate).collect()
}

/// Every list that keeps all demands: its taxa and its value.
fn all_lists(problem: &Problem) -> Vec<(BTreeSet<usize>, i64)> {
    let mut lists = Vec::new();
    every_list(problem, &mut |picks| {
        if problem.breaches(picks).is_empty() {
            lists.push((taxa(picks), problem.totals(picks).value));
        }
    });
    lists
}

fn best(problem: &Problem) -> Option<Answer> {
    match solve(problem, &mut unlimited).expect("a small problem has no fault") {
        Outcome::Optimal(answer) => Some(answer),
        _ => None,
    }
}

/// The problem without a demand, written apart from the solver's own.
fn drop_demand(problem: &mut Problem, demand: Demand) {
    let rules = &mut problem.rules;
    match demand {
        Demand::Must(c) => rules.must.retain(|m| *m != c),
        Demand::Never(c) => rules.never.retain(|m| *m != c),
        Demand::Least(zone) => problem.zones[zone].least = 0,
        Demand::Budget => rules.budget = None,
        Demand::Trim => rules.trim = None,
        Demand::GroupLeast(group) => rules.groups[group].least = 0,
        Demand::GroupMost(group) => rules.groups[group].most = None,
        Demand::Taxa => rules.taxa = None,
        Demand::Fast => rules.fast = None,
        Demand::PerGenus => rules.per_genus = None,
        Demand::Foreign => rules.foreign = Vec::new(),
        Demand::SightLines => problem.sight_lines = Vec::new(),
        Demand::Water => {
            for candidate in &mut problem.candidates {
                candidate.water = vec![[0, 1]; problem.water.len()];
            }
        }
        // A pair of one taxon with a new one that can stand nowhere says nothing.
        Demand::Excluded(pair) => {
            let nowhere = problem.candidates.len();
            let mut candidate = problem.candidates[0].clone();
            candidate.key = format!("nowhere-{pair}");
            candidate.options.clear();
            candidate.water = candidate.water.iter().map(|_| [0, 0]).collect();
            problem.candidates.push(candidate);
            rules.excluded[pair] = [rules.excluded[pair][0], nowhere];
        }
    }
}

/// The problem with the demand at another value.
fn at_value(problem: &mut Problem, demand: Demand, value: i64) {
    if demand == Demand::SightLines {
        return allow_taller(problem, value);
    }
    let rules = &mut problem.rules;
    let count = usize::try_from(value);
    match demand {
        Demand::Least(zone) => problem.zones[zone].least = count.expect("a count"),
        Demand::Budget => rules.budget = Some(value),
        Demand::Trim => rules.trim = Some(value),
        Demand::GroupLeast(group) => rules.groups[group].least = count.expect("a count"),
        Demand::GroupMost(group) => rules.groups[group].most = Some(count.expect("a count")),
        Demand::Taxa => rules.taxa = Some(count.expect("a count")),
        Demand::Fast => {
            let whole = rules.fast.expect("stated").whole;
            rules.fast = Some(Share { part: value, whole });
        }
        Demand::PerGenus => rules.per_genus = Some(count.expect("a count")),
        _ => panic!("{demand:?} has no value"),
    }
}

/// Lets what stands a row nearer be so much taller: the farther the row, the more it is lifted. A
/// zone's row is the number of zones on the longest way from the front; rings end after all zones.
fn allow_taller(problem: &mut Problem, allowed: i64) {
    let zones = problem.zones.len();
    let mut rows = vec![0; zones];
    for _ in 0..zones {
        for line in &problem.sight_lines {
            rows[line.farther] = rows[line.farther].max((rows[line.nearer] + 1).min(zones as i64));
        }
    }
    for candidate in &mut problem.candidates {
        for option in &mut candidate.options {
            option.height += allowed * rows[option.zone];
        }
    }
}

/// Whether the demand gives way upwards.
fn rises(demand: Demand) -> bool {
    !matches!(demand, Demand::Least(_) | Demand::GroupLeast(_) | Demand::Fast)
}

fn check_conflict(problem: &Problem) -> Result<(), TestCaseError> {
    let found = conflict(problem, &mut unlimited).expect("a small problem has no fault");
    if brute_force(problem).is_some() {
        prop_assert_eq!(found, None);
        return Ok(());
    }
    let found = found.expect("an impossible problem has a conflict");
    prop_assert!(found.proven);
    let members: Vec<Demand> = found.members.iter().map(|m| m.demand).collect();
    let only = |kept: &dyn Fn(Demand) -> bool| {
        let mut only = problem.clone();
        Demand::all(problem).into_iter().filter(|d| !kept(*d)).for_each(|d| drop_demand(&mut only, d));
        only
    };
    let part = only(&|d| members.contains(&d));
    prop_assert_eq!(brute_force(&part), None, "{:?} can hold together", members);
    for member in &found.members {
        let rest = only(&|d| d != member.demand && members.contains(&d));
        prop_assert!(brute_force(&rest).is_some(), "{:?} without {:?}", members, member.demand);
        let mut dropped = problem.clone();
        drop_demand(&mut dropped, member.demand);
        prop_assert_eq!(member.way.whole, brute_force(&dropped).is_some(), "{:?}", member);
        let base = if member.way.whole { problem } else { &part };
        let Some(value) = member.way.value else { continue };
        let at = |value: i64| {
            let mut changed = base.clone();
            at_value(&mut changed, member.demand, value);
            brute_force(&changed)
        };
        prop_assert!(at(value).is_some(), "{:?}", member);
        let nearer = if rises(member.demand) { value - 1 } else { value + 1 };
        prop_assert_eq!(at(nearer), None, "{:?}", member);
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, ..ProptestConfig::default() })]

    #[test]
    fn conflicts_are_minimal_and_their_ways_out_the_nearest(problem in small_problem()) {
        check_conflict(&problem)?;
    }

    #[test]
    fn conflicts_of_several_demands_are_minimal(problem in tight_problem()) {
        check_conflict(&problem)?;
    }

    #[test]
    fn every_further_list_is_best_in_its_rank(problem in small_problem(), differ in 1..=3usize) {
        let Some(first) = best(&problem) else { return Ok(()) };
        let ask = Ask { count: 4, differ };
        let further = alternatives(&problem, &first.chosen, ask, &mut unlimited).expect("no fault");
        let lists = all_lists(&problem);
        let mut better = vec![taxa(&first.chosen)];
        for rank in 0..ask.count {
            if better.last().expect("the first").is_empty() {
                break;
            }
            // So many of a better list are missing, or all of it where it is shorter.
            let differs = |list: &BTreeSet<usize>| {
                better.iter().all(|b| b.difference(list).count() >= differ.min(b.len()))
            };
            let expected = lists.iter().filter(|(l, _)| differs(l)).map(|(_, value)| *value).max();
            let found = further.get(rank);
            prop_assert_eq!(found.and_then(|f| f.answer()).map(|a| a.value), expected);
            let Some(Outcome::Optimal(answer)) = found else { break };
            prop_assert_eq!(problem.breaches(&answer.chosen), vec![]);
            prop_assert!(differs(&taxa(&answer.chosen)));
            better.push(taxa(&answer.chosen));
        }
    }

    #[test]
    fn the_nearest_list_has_the_fewest_changes(
        problem in small_problem(),
        listed in prop::collection::btree_set(0..8usize, 0..=5),
        lost in 0..=1usize,
        more in prop::option::of(0..=2usize),
    ) {
        let list: Vec<usize> = listed.into_iter().filter(|c| *c < problem.candidates.len()).collect();
        let old: BTreeSet<usize> = list.iter().copied().collect();
        let changes = |new: &BTreeSet<usize>| {
            (lost + old.difference(new).count()).max(new.difference(&old).count())
        };
        let lists = all_lists(&problem);
        let fewest = lists.iter().map(|(l, _)| changes(l)).min();
        let allowed = fewest.map(|f| more.map_or(f, |m| f + m));
        let expected = lists.iter().filter(|(l, _)| Some(changes(l)) <= allowed).map(|(_, v)| *v).max();
        let asked = Near { list, lost, changes: more.and(allowed) };
        let found = near(&problem, &asked, &mut unlimited).expect("no fault");
        prop_assert_eq!(found.fewest, fewest);
        prop_assert_eq!(found.outcome.answer().map(|a| a.value), expected);
        if let (Some(fewest @ 1..), Some(_)) = (fewest, more) {
            let asked = Near { changes: Some(fewest - 1), ..asked };
            let found = near(&problem, &asked, &mut unlimited).expect("no fault");
            prop_assert!(found.outcome.answer().is_none());
            prop_assert_eq!(found.fewest, Some(fewest));
        }
    }

    #[test]
    fn a_demand_binds_when_a_better_list_lies_beyond_it(problem in small_problem()) {
        let Some(first) = best(&problem) else { return Ok(()) };
        let demands = Demand::all(&problem);
        for (demand, binds) in binding(&problem, first.value, &demands, &mut unlimited).expect("no fault") {
            let mut dropped = problem.clone();
            drop_demand(&mut dropped, demand);
            let better = brute_force(&dropped) > Some(first.value);
            prop_assert_eq!(binds, Some(better), "{:?}", demand);
        }
    }
}
