//! The referee: what a list is worth and which rules it breaks, straight from the definition.
//!
//! It shares nothing with the solver but the problem, so that tests, reports and the solver's
//! own last check can trust it.

use super::problem::{Candidate, Choice, Problem};

/// One taxon planted in one zone, both by index.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
pub struct Pick {
    /// The zone.
    pub zone: usize,
    /// The candidate.
    pub candidate: usize,
}

/// A rule that a list breaks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Breach {
    /// The candidate has no option in the zone.
    NoOption(Pick),
    /// The candidate is picked more than once.
    Repeated(usize),
    /// The zone holds too few.
    TooFew(usize),
    /// The zone holds too many.
    TooMany(usize),
    /// The budget is exceeded.
    Budget,
    /// Too much trimming.
    Trim,
    /// Too few fast growers.
    Fast,
    /// Too many of this genus.
    Genus(u32),
    /// Too many taxa overall.
    Taxa,
    /// A must is missing.
    Missing(usize),
    /// A never, or one from outside the areas asked for, is there.
    Forbidden(usize),
    /// Both of the excluded pair of this index are there.
    Excluded(usize),
    /// The group of this index has too few or too many.
    Group(usize),
    /// Something nearer is taller than something farther on the sight line of this index.
    Height(usize),
    /// No common value of the water factor of this index.
    Water(usize),
}

/// Totals of a list.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Totals {
    /// The objective.
    pub value: i64,
    /// What pairs add to it: contrast, less the penalty for one genus.
    pub contrast: i64,
    /// Cost of all portions with a known price.
    pub cost: i64,
    /// Trimming minutes a month.
    pub trim: i64,
    /// Fast growers.
    pub fast: usize,
    /// Taxa.
    pub taxa: usize,
}

impl Problem {
    fn planted<'a>(&'a self, picks: &'a [Pick]) -> impl Iterator<Item = (Pick, &'a Candidate, &'a Choice)> {
        picks.iter().filter_map(|&pick| {
            let candidate = self.candidates.get(pick.candidate)?;
            Some((pick, candidate, candidate.choice_in(pick.zone)?))
        })
    }

    /// Whether two zones are the same or touch.
    pub fn touching(&self, a: usize, b: usize) -> bool {
        a == b || self.neighbours.iter().any(|&[x, y]| (x, y) == (a, b) || (y, x) == (a, b))
    }

    /// What a pair of picks adds to the value: contrast less the penalty for one genus.
    pub fn pair_value(&self, one: Pick, other: Pick) -> i64 {
        if !self.touching(one.zone, other.zone) {
            return 0;
        }
        let (a, b) = (&self.candidates[one.candidate], &self.candidates[other.candidate]);
        let w = self.weights;
        w.texture * i64::from(a.texture != b.texture) + w.colour * i64::from(a.colour != b.colour)
            - w.genus * i64::from(a.genus == b.genus)
    }

    /// The totals of a list; picks without an option count for nothing.
    pub fn totals(&self, picks: &[Pick]) -> Totals {
        let mut totals = Totals::default();
        for (n, (pick, candidate, choice)) in self.planted(picks).enumerate() {
            let count = picks.iter().filter(|p| p.zone == pick.zone).count();
            totals.value += self.weights.suitability * choice.worth;
            totals.cost += candidate.cost_at(choice, count);
            totals.trim += choice.trim_at(count);
            totals.fast += usize::from(candidate.fast);
            totals.taxa += 1;
            let others = self.planted(picks).skip(n + 1);
            totals.contrast += others.map(|(other, ..)| self.pair_value(pick, other)).sum::<i64>();
        }
        totals.value += totals.contrast;
        totals
    }

    /// Every rule that a list breaks; empty for a list that may be planted.
    pub fn breaches(&self, picks: &[Pick]) -> Vec<Breach> {
        let mut found: Vec<Breach> = picks
            .iter()
            .filter(|p| self.candidates.get(p.candidate).and_then(|c| c.choice_in(p.zone)).is_none())
            .map(|&p| Breach::NoOption(p))
            .collect();
        if !found.is_empty() {
            return found;
        }
        let mut taxa: Vec<usize> = picks.iter().map(|p| p.candidate).collect();
        taxa.sort_unstable();
        found.extend(taxa.windows(2).filter(|w| w[0] == w[1]).map(|w| Breach::Repeated(w[0])));
        self.breaches_of_zones(picks, &mut found);
        self.breaches_of_sums(picks, &mut found);
        self.breaches_of_lists(&taxa, &mut found);
        self.breaches_of_water(&taxa, &mut found);
        found
    }

    fn breaches_of_zones(&self, picks: &[Pick], found: &mut Vec<Breach>) {
        for (index, zone) in self.zones.iter().enumerate() {
            let count = picks.iter().filter(|p| p.zone == index).count();
            if count < zone.least {
                found.push(Breach::TooFew(index));
            }
            if count > zone.most {
                found.push(Breach::TooMany(index));
            }
        }
        let heights = |zone: usize| {
            let here = self.planted(picks).filter(move |(pick, ..)| pick.zone == zone);
            here.map(|(.., choice)| choice.height)
        };
        for (index, line) in self.sight_lines.iter().enumerate() {
            if let (Some(near), Some(far)) = (heights(line.nearer).max(), heights(line.farther).min())
                && near > far
            {
                found.push(Breach::Height(index));
            }
        }
    }

    fn breaches_of_sums(&self, picks: &[Pick], found: &mut Vec<Breach>) {
        let totals = self.totals(picks);
        let rules = &self.rules;
        if rules.budget.is_some_and(|limit| totals.cost > limit) {
            found.push(Breach::Budget);
        }
        if rules.trim.is_some_and(|limit| totals.trim > limit) {
            found.push(Breach::Trim);
        }
        let (fast, taxa) = (totals.fast as i64, totals.taxa as i64);
        if rules.fast.is_some_and(|share| fast * share.whole < share.part * taxa) {
            found.push(Breach::Fast);
        }
        if rules.taxa.is_some_and(|most| totals.taxa > most) {
            found.push(Breach::Taxa);
        }
    }

    fn breaches_of_lists(&self, taxa: &[usize], found: &mut Vec<Breach>) {
        let rules = &self.rules;
        if let Some(most) = rules.per_genus {
            let mut genera: Vec<u32> = taxa.iter().map(|&i| self.candidates[i].genus).collect();
            genera.sort_unstable();
            let crowded = genera.chunk_by(|a, b| a == b).filter(|g| g.len() > most);
            found.extend(crowded.map(|g| Breach::Genus(g[0])));
        }
        let has = |i: &usize| taxa.contains(i);
        found.extend(rules.must.iter().filter(|i| !has(i)).map(|&i| Breach::Missing(i)));
        let never = rules.never.iter().chain(&rules.foreign);
        found.extend(never.filter(|i| has(i)).map(|&i| Breach::Forbidden(i)));
        for (index, [a, b]) in rules.excluded.iter().enumerate() {
            if has(a) && has(b) {
                found.push(Breach::Excluded(index));
            }
        }
        for (index, group) in rules.groups.iter().enumerate() {
            let count = group.taxa.iter().filter(|i| has(i)).count();
            if count < group.least || group.most.is_some_and(|most| count > most) {
                found.push(Breach::Group(index));
            }
        }
    }

    fn breaches_of_water(&self, taxa: &[usize], found: &mut Vec<Breach>) {
        for factor in 0..self.water.len() {
            let low = taxa.iter().map(|&i| self.candidates[i].water[factor][0]).max();
            let high = taxa.iter().map(|&i| self.candidates[i].water[factor][1]).min();
            if low > high {
                found.push(Breach::Water(factor));
            }
        }
    }
}
