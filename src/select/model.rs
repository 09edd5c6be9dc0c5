//! The problem compiled for search: options listed by zone, classes and heights numbered, every
//! rule on lists of taxa as one kind of row.

use std::collections::BTreeMap;

use super::judge::Pick;
use super::problem::{Problem, Share};
use super::spread::Spread;

/// Stands for "no limit"; larger than any sum of a sound problem.
pub(super) const FREE: i64 = i64::MAX / 4;
/// What using up a whole limit is worth to [`Model::thrifty`].
const WHOLE: i64 = 4096;
/// The two kinds of class that contrast counts.
pub(super) const KINDS: usize = 2;

/// One candidate in one zone.
#[derive(Debug, Clone)]
pub(super) struct Item {
    /// Position in key order of the candidates.
    pub taxon: usize,
    /// Worth by count of the zone, from one taxon up.
    pub worth: Vec<i64>,
    /// Cost by count of the zone, from one taxon up.
    pub cost: Vec<i64>,
    /// Trimming by count of the zone, from one taxon up.
    pub trim: Vec<i64>,
    /// Leaf-texture and colour class, numbered over the model.
    pub classes: [usize; KINDS],
    /// The same, numbered over the classes present in the zone.
    pub local: [usize; KINDS],
    pub genus: u32,
    /// Height as its rank among the distinct heights, from 1.
    pub height: usize,
}

/// The classes of one kind that a zone's items have.
#[derive(Debug, Clone)]
pub(super) struct ZoneClasses {
    /// Number over the model of each class present.
    pub present: Vec<usize>,
    pub spread: Spread,
}

#[derive(Debug, Clone)]
pub(super) struct ZoneModel {
    pub least: usize,
    pub most: usize,
    pub items: Vec<Item>,
    pub classes: [ZoneClasses; KINDS],
    /// Whether cost and trimming are the same at every count.
    pub uniform: bool,
}

/// At least `least` and at most `most` picks of `taxa` (sorted).
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Row {
    pub taxa: Vec<usize>,
    pub least: i64,
    pub most: i64,
}

#[derive(Debug, Clone)]
pub(super) struct Model {
    pub zones: Vec<ZoneModel>,
    /// `touching[a][b]`: the zones are different and touch.
    pub touching: Vec<Vec<bool>>,
    /// Pairs of nearer and farther zone.
    pub lines: Vec<(usize, usize)>,
    /// How many distinct heights there are.
    pub heights: usize,
    /// Taxa in key order; the value is the candidate's index in the problem.
    pub taxa: Vec<usize>,
    pub must: Vec<bool>,
    pub fast: Vec<bool>,
    pub share: Option<Share>,
    pub genus: Vec<u32>,
    pub per_genus: usize,
    /// For each taxon the taxa that may not be chosen beside it (sorted).
    pub against: Vec<Vec<usize>>,
    /// One zone a taxon, musts with several zones, genus limits, groups.
    pub rows: Vec<Row>,
    /// How many classes of each kind there are.
    pub classes: [usize; KINDS],
    /// What a pair of different classes of each kind is worth.
    pub contrast: [i64; KINDS],
    pub genus_weight: i64,
    pub budget: i64,
    pub trim: i64,
    pub most_taxa: usize,
    /// Every value of a list is a multiple of this.
    pub grain: i64,
}

impl Model {
    /// Compiles a problem without faults.
    pub fn new(problem: &Problem) -> Self {
        let mut taxa: Vec<usize> = (0..problem.candidates.len()).collect();
        taxa.sort_by(|&a, &b| problem.candidates[a].key.cmp(&problem.candidates[b].key));
        let mut rank = vec![0; taxa.len()];
        for (position, &candidate) in taxa.iter().enumerate() {
            rank[candidate] = position;
        }
        let rules = &problem.rules;
        let of = |taxon: usize| &problem.candidates[taxa[taxon]];
        let mark = |list: &[usize]| {
            let mut marked = vec![false; taxa.len()];
            for &i in list {
                marked[rank[i]] = true;
            }
            marked
        };
        let heights = numbered(problem.candidates.iter().flat_map(|c| c.options.iter().map(|o| o.height)));
        let textures = numbered((0..taxa.len()).map(|t| of(t).texture));
        let colours = numbered((0..taxa.len()).map(|t| of(t).colour));
        let must = mark(&rules.must);
        let genus: Vec<u32> = (0..taxa.len()).map(|t| of(t).genus).collect();
        let never = mark(&[rules.never.as_slice(), &rules.foreign].concat());
        let most_taxa = rules.taxa.unwrap_or(usize::MAX);
        let mut zones: Vec<ZoneModel> = Vec::with_capacity(problem.zones.len());
        for (index, zone) in problem.zones.iter().enumerate() {
            let mut items = Vec::new();
            for taxon in (0..taxa.len()).filter(|&t| !never[t]) {
                let candidate = of(taxon);
                let Some(choice) = candidate.choice_in(index) else { continue };
                items.push(Item {
                    taxon,
                    worth: vec![problem.weights.suitability * choice.worth; zone.most],
                    cost: (1..=zone.most).map(|k| candidate.cost_at(choice, k)).collect(),
                    trim: (1..=zone.most).map(|k| choice.trim_at(k)).collect(),
                    classes: [textures[&candidate.texture] - 1, colours[&candidate.colour] - 1],
                    local: [0; KINDS],
                    genus: candidate.genus,
                    height: heights[&choice.height],
                });
            }
            zones.push(ZoneModel::new(zone.least, zone.most.min(items.len()).min(most_taxa), items));
        }
        let weights = problem.weights;
        let worths = zones.iter().flat_map(|z| z.items.iter().filter_map(|i| i.worth.first().copied()));
        let terms = worths.chain([weights.texture, weights.colour, weights.genus]);
        let grain = terms.fold(0, gcd).max(1);
        Self {
            touching: touching(problem),
            lines: problem.sight_lines.iter().map(|l| (l.nearer, l.farther)).collect(),
            heights: heights.len(),
            fast: (0..taxa.len()).map(|t| of(t).fast).collect(),
            share: rules.fast.filter(|s| s.part > 0),
            per_genus: rules.per_genus.unwrap_or(usize::MAX),
            against: against(problem, &taxa, &rank),
            rows: rows(problem, &rank, &zones, &must, &genus),
            classes: [textures.len(), colours.len()],
            contrast: [weights.texture, weights.colour],
            genus_weight: weights.genus,
            budget: rules.budget.unwrap_or(FREE),
            trim: rules.trim.unwrap_or(FREE),
            zones,
            must,
            genus,
            most_taxa,
            grain,
            taxa,
        }
    }

    /// The rules with thrift for an aim, of money, of minutes or of both; a limit that is not
    /// aimed at is lifted. Also what every list within the limits is worth at least: a list uses
    /// up each limited resource at most once, and is worth what it leaves.
    pub fn thrifty(&self, aims: [bool; 2]) -> (Self, i64) {
        let mut thrifty = self.clone();
        thrifty.contrast = [0; KINDS];
        thrifty.genus_weight = 0;
        thrifty.grain = 1;
        for (limit, aimed) in [&mut thrifty.budget, &mut thrifty.trim].into_iter().zip(aims) {
            *limit = if aimed { *limit } else { FREE };
        }
        let limits = [thrifty.budget, thrifty.trim];
        let share = |used: i64, limit: i64| {
            let whole = i128::from(used) * i128::from(WHOLE) / i128::from(limit.max(1));
            if limit >= FREE { 0 } else { whole.min(2 * i128::from(WHOLE)) as i64 }
        };
        for item in thrifty.zones.iter_mut().flat_map(|z| &mut z.items) {
            let used = item.cost.iter().zip(&item.trim);
            item.worth =
                used.map(|(&cost, &trim)| -share(cost, limits[0]) - share(trim, limits[1])).collect();
        }
        let limited = limits.iter().filter(|limit| **limit < FREE).count();
        (thrifty, -WHOLE * limited as i64)
    }

    /// The zones a taxon may go to.
    pub fn zones_of(&self, taxon: usize) -> impl Iterator<Item = usize> {
        self.zones
            .iter()
            .enumerate()
            .filter(move |(_, zone)| zone.items.binary_search_by_key(&taxon, |i| i.taxon).is_ok())
            .map(|(index, _)| index)
    }

    /// Picks of the problem from pairs of zone and item, in the order of an answer.
    pub fn picks(&self, chosen: &[(usize, usize)]) -> Vec<Pick> {
        let mut keyed: Vec<(usize, usize)> =
            chosen.iter().map(|&(zone, item)| (zone, self.zones[zone].items[item].taxon)).collect();
        keyed.sort_unstable();
        keyed.into_iter().map(|(zone, taxon)| Pick { zone, candidate: self.taxa[taxon] }).collect()
    }

    /// Whether nothing said of pairs and lists of taxa keeps `taxa` (sorted) from standing together.
    pub fn bears(&self, taxa: &[usize]) -> bool {
        let among = |other: &usize| taxa.binary_search(other).is_ok();
        let many = |row: &Row| row.taxa.iter().filter(|t| among(t)).count() as i64 > row.most;
        !taxa.iter().any(|&t| self.against[t].iter().any(among)) && !self.rows.iter().any(many)
    }

    /// The fewest fast growers among `taxa` chosen.
    pub fn fast_needed(&self, taxa: usize) -> usize {
        self.share.map_or(0, |s| {
            let exact = i128::from(s.part) * taxa as i128;
            exact.div_euclid(i128::from(s.whole)) as usize
                + usize::from(exact.rem_euclid(i128::from(s.whole)) > 0)
        })
    }
}

impl ZoneModel {
    fn new(least: usize, most: usize, mut items: Vec<Item>) -> Self {
        let classes = [0, 1].map(|kind| {
            let mut present: Vec<usize> = items.iter().map(|i: &Item| i.classes[kind]).collect();
            present.sort_unstable();
            present.dedup();
            for item in &mut items {
                item.local[kind] = present.partition_point(|&c| c < item.classes[kind]);
            }
            ZoneClasses { spread: Spread::new(present.len(), most), present }
        });
        let flat = |table: &[i64]| table.windows(2).all(|w| w[0] == w[1]);
        let uniform = items.iter().all(|i| flat(&i.cost) && flat(&i.trim));
        Self { least, most, items, classes, uniform }
    }
}

fn gcd(a: i64, b: i64) -> i64 {
    let (mut a, mut b) = (a.abs(), b.abs());
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// Each distinct value with its rank, from 1.
fn numbered<T: Ord>(values: impl Iterator<Item = T>) -> BTreeMap<T, usize> {
    let mut ranks: BTreeMap<T, usize> = values.map(|v| (v, 0)).collect();
    for (n, rank) in ranks.values_mut().enumerate() {
        *rank = n + 1;
    }
    ranks
}

fn touching(problem: &Problem) -> Vec<Vec<bool>> {
    let n = problem.zones.len();
    let mut table = vec![vec![false; n]; n];
    for &[a, b] in &problem.neighbours {
        table[a][b] = true;
        table[b][a] = true;
    }
    table
}

fn rows(problem: &Problem, rank: &[usize], zones: &[ZoneModel], must: &[bool], genus: &[u32]) -> Vec<Row> {
    let mut places = vec![0; rank.len()];
    for item in zones.iter().flat_map(|z| &z.items) {
        places[item.taxon] += 1;
    }
    let mut rows = Vec::new();
    for (taxon, &count) in places.iter().enumerate() {
        if count != 1 && (count > 1 || must[taxon]) {
            rows.push(Row { taxa: vec![taxon], least: i64::from(must[taxon]), most: 1 });
        }
    }
    if let Some(most) = problem.rules.per_genus {
        let mut members: BTreeMap<u32, Vec<usize>> = BTreeMap::new();
        for (taxon, _) in places.iter().enumerate().filter(|(_, count)| **count > 0) {
            members.entry(genus[taxon]).or_default().push(taxon);
        }
        let crowded = members.into_values().filter(|taxa| taxa.len() > most);
        rows.extend(crowded.map(|taxa| Row { taxa, least: 0, most: most as i64 }));
    }
    for group in &problem.rules.groups {
        let mut taxa: Vec<usize> = group.taxa.iter().map(|&i| rank[i]).collect();
        taxa.sort_unstable();
        let most = group.most.unwrap_or(taxa.len()) as i64;
        rows.push(Row { taxa, least: group.least as i64, most });
    }
    rows
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
