//! The demands of a problem one by one, and the problem under some of them only.

use crate::select::problem::Problem;

/// One thing that is asked of a list. Indices are those of the problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Demand {
    /// This candidate is on the list.
    Must(usize),
    /// This zone holds its fewest taxa or more.
    Least(usize),
    /// The money.
    Budget,
    /// The minutes of trimming.
    Trim,
    /// This group has its fewest or more.
    GroupLeast(usize),
    /// This group has its most or fewer.
    GroupMost(usize),
    /// The most taxa overall.
    Taxa,
    /// The share of fast growers.
    Fast,
    /// The most taxa of one genus.
    PerGenus,
    /// Only taxa native to the areas asked for.
    Foreign,
    /// What stands nearer is no taller than what stands behind it.
    SightLines,
    /// One water in which all grow.
    Water,
    /// This candidate is not on the list.
    Never(usize),
    /// At most one of this pair.
    Excluded(usize),
}

impl Demand {
    /// Every demand of a problem. A conflict is told in the earlier ones where there is a choice.
    /// The most taxa of a zone are no demand but the layout itself: without a most, a zone would
    /// be another zone.
    pub fn all(problem: &Problem) -> Vec<Self> {
        let rules = &problem.rules;
        let mut all: Vec<Self> = unique(&rules.must).map(Self::Must).collect();
        let zones = problem.zones.iter().enumerate();
        all.extend(zones.filter(|(_, z)| z.least > 0).map(|(i, _)| Self::Least(i)));
        all.extend(rules.budget.map(|_| Self::Budget));
        all.extend(rules.trim.map(|_| Self::Trim));
        for (index, group) in rules.groups.iter().enumerate() {
            all.extend((group.least > 0).then_some(Self::GroupLeast(index)));
            all.extend(group.most.map(|_| Self::GroupMost(index)));
        }
        all.extend(rules.taxa.map(|_| Self::Taxa));
        all.extend(rules.fast.map(|_| Self::Fast));
        all.extend(rules.per_genus.map(|_| Self::PerGenus));
        all.extend((!rules.foreign.is_empty()).then_some(Self::Foreign));
        all.extend((!problem.sight_lines.is_empty()).then_some(Self::SightLines));
        all.extend((!problem.water.is_empty()).then_some(Self::Water));
        all.extend(unique(&rules.never).map(Self::Never));
        all.extend((0..rules.excluded.len()).map(Self::Excluded));
        all
    }

    fn drop_from(self, problem: &mut Problem) {
        let rules = &mut problem.rules;
        match self {
            Self::Must(candidate) => rules.must.retain(|&c| c != candidate),
            Self::Never(candidate) => rules.never.retain(|&c| c != candidate),
            Self::Least(zone) => problem.zones[zone].least = 0,
            Self::Budget => rules.budget = None,
            Self::Trim => rules.trim = None,
            Self::GroupLeast(group) => rules.groups[group].least = 0,
            Self::GroupMost(group) => rules.groups[group].most = None,
            Self::Taxa => rules.taxa = None,
            Self::Fast => rules.fast = None,
            Self::PerGenus => rules.per_genus = None,
            Self::Foreign => rules.foreign.clear(),
            Self::SightLines => problem.sight_lines.clear(),
            Self::Water => {
                problem.water.clear();
                problem.candidates.iter_mut().for_each(|c| c.water.clear());
            }
            // An index must go on meaning the same pair.
            Self::Excluded(_) => {}
        }
    }
}

fn unique(list: &[usize]) -> impl Iterator<Item = usize> {
    let mut sorted = list.to_vec();
    sorted.sort_unstable();
    sorted.dedup();
    sorted.into_iter()
}

/// The problem with those of `all` its demands that are in `kept`.
pub(super) fn under(problem: &Problem, all: &[Demand], kept: &[Demand]) -> Problem {
    let mut changed = problem.clone();
    let dropped = |demand: &&Demand| !kept.contains(demand);
    all.iter().filter(dropped).for_each(|demand| demand.drop_from(&mut changed));
    let stays = |index: usize| kept.contains(&Demand::Excluded(index));
    let pairs = problem.rules.excluded.iter().enumerate();
    changed.rules.excluded = pairs.filter(|(i, _)| stays(*i)).map(|(_, pair)| *pair).collect();
    changed
}

/// The problem without one demand.
pub(in crate::select) fn without(problem: &Problem, demand: Demand) -> Problem {
    let mut changed = problem.clone();
    if let Demand::Excluded(index) = demand {
        changed.rules.excluded.remove(index);
    }
    demand.drop_from(&mut changed);
    changed
}
