//! The problem compiled for search: options listed by zone, pairs as tables, everything checked.

use std::collections::BTreeMap;

use super::judge::Pick;
use super::problem::{Problem, Share};

/// One candidate in one zone.
#[derive(Debug, Clone)]
pub(super) struct Item {
    /// Position in key order of the candidates.
    pub taxon: usize,
    pub worth: i64,
    /// Cost by count of the zone, from one taxon up.
    pub cost: Vec<i64>,
    /// Trimming by count of the zone, from one taxon up.
    pub trim: Vec<i64>,
    pub texture: u8,
    pub colour: u8,
    pub genus: usize,
    pub height: i64,
    pub fast: bool,
}

#[derive(Debug, Clone)]
pub(super) struct ZoneModel {
    pub least: usize,
    pub most: usize,
    pub items: Vec<Item>,
}

/// At least `least`, at most `most` of `taxa` (sorted).
#[derive(Debug, Clone)]
pub(super) struct Count {
    pub taxa: Vec<usize>,
    pub least: usize,
    pub most: usize,
}

#[derive(Debug, Clone)]
pub(super) struct Model {
    pub zones: Vec<ZoneModel>,
    /// `touching[a][b]`: the zones are different and touch.
    pub touching: Vec<Vec<bool>>,
    /// `nearer[a][b]`: `a` is nearer on a sight line that `b` is on.
    pub nearer: Vec<Vec<bool>>,
    /// Taxa, in key order; the value is the candidate's index in the problem.
    pub taxa: Vec<usize>,
    /// For each taxon the taxa that may not be chosen beside it (sorted).
    pub against: Vec<Vec<usize>>,
    pub must: Vec<bool>,
    pub counts: Vec<Count>,
    pub texture_weight: i64,
    pub colour_weight: i64,
    pub genus_weight: i64,
    pub budget: i64,
    pub trim: i64,
    pub fast: Share,
    pub per_genus: usize,
    pub most_taxa: usize,
}

/// Stands for "no limit"; larger than any sum of a sound problem.
pub(super) const FREE: i64 = i64::MAX / 4;

impl Model {
    /// Compiles a problem without faults.
    pub fn new(problem: &Problem) -> Self {
        let mut taxa: Vec<usize> = (0..problem.candidates.len()).collect();
        taxa.sort_by(|&a, &b| problem.candidates[a].key.cmp(&problem.candidates[b].key));
        let mut rank = vec![0; taxa.len()];
        for (position, &candidate) in taxa.iter().enumerate() {
            rank[candidate] = position;
        }
        let mut genus_numbers = BTreeMap::new();
        let genus_of: Vec<usize> = taxa
            .iter()
            .map(|&i| {
                let next = genus_numbers.len();
                *genus_numbers.entry(problem.candidates[i].genus).or_insert(next)
            })
            .collect();
        let rules = &problem.rules;
        let mark = |list: &[usize]| {
            let mut marked = vec![false; taxa.len()];
            for &i in list {
                marked[rank[i]] = true;
            }
            marked
        };
        let never = mark(&rules.never);
        Self {
            zones: zones(problem, &taxa, &genus_of, &never),
            touching: relation(problem, problem.neighbours.iter().flat_map(|&[a, b]| [[a, b], [b, a]])),
            nearer: relation(problem, problem.sight_lines.iter().map(|l| [l.nearer, l.farther])),
            against: against(problem, &taxa, &rank),
            must: mark(&rules.must),
            counts: counts(problem, &rank),
            texture_weight: problem.weights.texture,
            colour_weight: problem.weights.colour,
            genus_weight: problem.weights.genus,
            budget: rules.budget.unwrap_or(FREE),
            trim: rules.trim.unwrap_or(FREE),
            fast: rules.fast.unwrap_or(Share { part: 0, whole: 1 }),
            per_genus: rules.per_genus.unwrap_or(usize::MAX),
            most_taxa: rules.taxa.unwrap_or(usize::MAX),
            taxa,
        }
    }

    /// What two different items of the same or of touching zones add to the value.
    pub fn pair(&self, a: &Item, b: &Item) -> i64 {
        self.texture_weight * i64::from(a.texture != b.texture)
            + self.colour_weight * i64::from(a.colour != b.colour)
            - self.genus_weight * i64::from(a.genus == b.genus)
    }

    /// Picks of the problem from pairs of zone and item, in the order of an answer.
    pub fn picks(&self, chosen: &[(usize, usize)]) -> Vec<Pick> {
        let mut keyed: Vec<(usize, usize)> =
            chosen.iter().map(|&(zone, item)| (zone, self.zones[zone].items[item].taxon)).collect();
        keyed.sort_unstable();
        keyed.into_iter().map(|(zone, taxon)| Pick { zone, candidate: self.taxa[taxon] }).collect()
    }
}

fn zones(problem: &Problem, taxa: &[usize], genus_of: &[usize], never: &[bool]) -> Vec<ZoneModel> {
    let mut zones: Vec<ZoneModel> =
        problem.zones.iter().map(|z| ZoneModel { least: z.least, most: z.most, items: Vec::new() }).collect();
    for (taxon, &i) in taxa.iter().enumerate() {
        if never[taxon] {
            continue;
        }
        let candidate = &problem.candidates[i];
        for choice in &candidate.options {
            let most = problem.zones[choice.zone].most;
            zones[choice.zone].items.push(Item {
                taxon,
                worth: problem.weights.suitability * choice.worth,
                cost: (1..=most).map(|k| candidate.cost_at(choice, k)).collect(),
                trim: (1..=most).map(|k| choice.trim_at(k)).collect(),
                texture: candidate.texture,
                colour: candidate.colour,
                genus: genus_of[taxon],
                height: candidate.height,
                fast: candidate.fast,
            });
        }
    }
    zones
}

fn relation(problem: &Problem, pairs: impl Iterator<Item = [usize; 2]>) -> Vec<Vec<bool>> {
    let n = problem.zones.len();
    let mut table = vec![vec![false; n]; n];
    for [a, b] in pairs {
        table[a][b] = true;
    }
    table
}

fn counts(problem: &Problem, rank: &[usize]) -> Vec<Count> {
    let counted = problem.rules.groups.iter().map(|group| {
        let mut taxa: Vec<usize> = group.taxa.iter().map(|&i| rank[i]).collect();
        taxa.sort_unstable();
        Count { taxa, least: group.least, most: group.most.unwrap_or(usize::MAX) }
    });
    counted.collect()
}

/// Excluded pairs, and pairs with no common value of some water factor: intervals have a common
/// point as soon as every two of them have one (Helly's theorem in one dimension).
fn against(problem: &Problem, taxa: &[usize], rank: &[usize]) -> Vec<Vec<usize>> {
    let mut against = vec![Vec::new(); taxa.len()];
    let mut join = |a: usize, b: usize| {
        against[a].push(b);
        against[b].push(a);
    };
    for &[a, b] in &problem.rules.excluded {
        join(rank[a], rank[b]);
    }
    for factor in 0..problem.water.len() {
        let mut by_low: Vec<(i64, i64, usize)> = taxa
            .iter()
            .enumerate()
            .map(|(t, &i)| {
                let [low, high] = problem.candidates[i].water[factor];
                (low, high, t)
            })
            .collect();
        by_low.sort_unstable();
        for (n, &(_, high, taxon)) in by_low.iter().enumerate() {
            let first = n + by_low[n..].partition_point(|&(low, ..)| low <= high);
            for &(.., other) in &by_low[first..] {
                join(taxon, other);
            }
        }
    }
    for list in &mut against {
        list.sort_unstable();
        list.dedup();
    }
    against
}
