//! Tightens the bound on short lists: touching zones look at each other's whole class vectors.
//!
//! The relaxation lets every class of every kind settle its own counts, so textures and colours
//! may lean on different sets of a zone at once. Here each pair of touching zones agrees on both
//! vectors together. What a vector is worth is shifted between a zone and its pairs in turns
//! (a block-coordinate ascent of the dual of the pairwise relaxation; after each turn no pair adds
//! anything above nothing), so the sum of the zones' best is a bound that only falls. Vectors, and
//! with them sets, that cannot belong to a list above the floor are dropped on the way.

use super::prices::UNIT;
use super::zone::Subset;
use crate::select::fault::MOST_IN_ZONE;
use crate::select::model::{KINDS, Model};

/// The work is done in 32 bits: larger sums are counted in coarser units, rounded up.
const LARGEST: i64 = 1 << 26;
/// Stands for "cannot be"; sums of it with a few numbers stay inside 32 bits.
const NEVER: i32 = i32::MIN / 4;
/// Rounds over all pairs, and the progress below which they end, in units.
const ROUNDS: usize = 16;
const LITTLE: i64 = UNIT;

/// The class vectors in use in one zone.
#[derive(Debug, Default)]
pub(super) struct Spot {
    /// Numbers of the vectors of each kind, in the zone's spreads; sorted.
    pub states: Vec<[u32; KINDS]>,
    /// The most a set with the state is worth by itself, plus what its pairs give it.
    pub worth: Vec<i32>,
    /// What the best set with the state is worth by itself.
    own: Vec<i32>,
    /// Distinct vectors of each kind, and which of them each state has.
    vectors: [Vec<u32>; KINDS],
    local: Vec<[u16; KINDS]>,
    /// Worths are counted in units times two to this power.
    pub shift: u32,
}

/// Two touching zones.
#[derive(Debug)]
pub(super) struct Pair {
    pub zones: [usize; 2],
    /// What the pair adds by the vectors of each kind, first zone's vector by row; and turned.
    gains: [[Vec<i32>; KINDS]; 2],
    /// What the pair has given to each state of each zone.
    given: [Vec<i32>; 2],
}

/// All zones and pairs.
#[derive(Debug)]
pub(super) struct Pairs {
    pub spots: Vec<Spot>,
    pub edges: Vec<Pair>,
    /// Scratch of [`Pair::reach`].
    rows: Vec<i32>,
    line: Vec<i32>,
    /// Whether the next round goes from the first pair to the last.
    back: bool,
}

impl Spot {
    fn new(sets: &[Subset], own: &[i64], shift: u32) -> Self {
        let mut best: Vec<([u32; KINDS], i64)> = sets.iter().zip(own).map(|(s, &w)| (s.classes, w)).collect();
        best.sort_unstable_by_key(|&(state, worth)| (state, std::cmp::Reverse(worth)));
        best.dedup_by_key(|&mut (state, _)| state);
        let mut spot = Self {
            states: best.iter().map(|&(state, _)| state).collect(),
            own: best.iter().map(|&(_, worth)| coarse(worth, shift)).collect(),
            shift,
            ..Self::default()
        };
        spot.worth.clone_from(&spot.own);
        spot.number();
        spot
    }

    fn number(&mut self) {
        for kind in 0..KINDS {
            let vectors = &mut self.vectors[kind];
            vectors.clear();
            vectors.extend(self.states.iter().map(|s| s[kind]));
            vectors.sort_unstable();
            vectors.dedup();
        }
        let place = |kind: usize, v: u32| self.vectors[kind].partition_point(|&x| x < v) as u16;
        self.local = self.states.iter().map(|s| [place(0, s[0]), place(1, s[1])]).collect();
    }

    pub fn best(&self) -> i64 {
        self.fine(self.worth.iter().max().copied().unwrap_or(NEVER))
    }

    /// A worth in units.
    pub fn fine(&self, worth: i32) -> i64 {
        i64::from(worth) << self.shift
    }

    /// What a set of a state falls short of the state's best by itself.
    pub fn shortfall(&self, state: usize, own: i64) -> i64 {
        self.fine(self.own[state]) - own
    }

    pub fn state_of(&self, set: &Subset) -> Option<usize> {
        self.states.binary_search(&set.classes).ok()
    }
}

impl Pair {
    fn new(model: &Model, spots: &[Spot], zones: [usize; 2]) -> Self {
        let mut pair =
            Self { zones, gains: Default::default(), given: zones.map(|z| vec![0; spots[z].states.len()]) };
        pair.fill(model, spots);
        pair
    }

    fn fill(&mut self, model: &Model, spots: &[Spot]) {
        for kind in 0..KINDS {
            for side in 0..2 {
                let (a, b) = (self.zones[side], self.zones[1 - side]);
                let table = &mut self.gains[side][kind];
                table.clear();
                for &v in &spots[a].vectors[kind] {
                    let gain = |w: u32| coarse(gain(model, kind, (a, v), (b, w)), spots[a].shift);
                    let row = spots[b].vectors[kind].iter().map(|&w| gain(w));
                    table.extend(row);
                }
            }
        }
    }

    /// What the pair adds beyond what it has given, coarsely: nothing or less after a turn.
    pub fn left(&self, spots: &[Spot], side: usize, state: usize, other: usize) -> i32 {
        let (a, b) = (&spots[self.zones[side]], &spots[self.zones[1 - side]]);
        let (v, w) = (a.local[state], b.local[other]);
        let mut sum = -self.given[side][state] - self.given[1 - side][other];
        for kind in 0..KINDS {
            let width = b.vectors[kind].len();
            let at = usize::from(v[kind]) * width + usize::from(w[kind]);
            sum += self.gains[side][kind][at];
        }
        sum
    }

    /// For every state of the other zone the most that `worth` of this one and the pair come to.
    fn reach(
        &self,
        spots: &[Spot],
        side: usize,
        worth: &[i32],
        scratch: (&mut Vec<i32>, &mut Vec<i32>),
    ) -> Vec<i32> {
        let (a, b) = (&spots[self.zones[side]], &spots[self.zones[1 - side]]);
        let (rows, line) = scratch;
        let [firsts, seconds] = [0, 1].map(|k: usize| b.vectors[k].len());
        rows.clear();
        rows.resize(a.vectors[0].len() * seconds, NEVER);
        for (&worth, local) in worth.iter().zip(&a.local) {
            let row = &mut rows[usize::from(local[0]) * seconds..][..seconds];
            let gains = &self.gains[side][1][usize::from(local[1]) * seconds..][..seconds];
            for (best, gain) in row.iter_mut().zip(gains) {
                *best = (*best).max(worth + gain);
            }
        }
        let mut reach = Vec::with_capacity(b.states.len());
        let mut states = b.local.iter().peekable();
        for first in 0..firsts {
            line.clear();
            line.resize(seconds, NEVER);
            for (row, gains) in rows.chunks_exact(seconds).zip(self.gains[side][0].chunks_exact(firsts)) {
                let gain = gains[first];
                for (best, worth) in line.iter_mut().zip(row) {
                    *best = (*best).max(worth + gain);
                }
            }
            while let Some(local) = states.next_if(|l| usize::from(l[0]) == first) {
                reach.push(line[usize::from(local[1])]);
            }
        }
        reach
    }
}

impl Pairs {
    /// `own[zone]` is what each set is worth without pay for its counts.
    pub fn new(model: &Model, lists: &[Vec<Subset>], own: &[Vec<i64>]) -> Self {
        let zones = model.zones.len();
        let touching: Vec<[usize; 2]> = (0..zones)
            .flat_map(|b| (0..b).map(move |a| [a, b]))
            .filter(|&[a, b]| model.touching[a][b])
            .collect();
        let most: i64 = own.iter().map(|own| own.iter().map(|w| w.abs()).max().unwrap_or(0)).sum();
        let contrast = model.contrast.iter().sum::<i64>() * UNIT * (MOST_IN_ZONE * MOST_IN_ZONE) as i64;
        let largest = most + contrast * touching.len() as i64;
        let shift = (0..40).find(|shift| largest >> shift <= LARGEST).unwrap_or(40);
        let spots: Vec<Spot> = lists.iter().zip(own).map(|(sets, own)| Spot::new(sets, own, shift)).collect();
        let edges = touching.into_iter().map(|zones| Pair::new(model, &spots, zones)).collect();
        Self { spots, edges, rows: Vec::new(), line: Vec::new(), back: false }
    }

    /// The bound, without what no choice enters.
    pub fn bound(&self) -> i64 {
        self.spots.iter().map(Spot::best).sum()
    }

    /// Lowers the bound towards `floor`; drops what cannot be above it. `false` when nothing can.
    pub fn tighten(&mut self, model: &Model, floor: i64) -> bool {
        let mut before = i64::MAX;
        for _ in 0..ROUNDS {
            if !self.round(model, floor) {
                return false;
            }
            let bound = self.bound();
            if before.saturating_sub(bound) < LITTLE.max((bound - floor) / 64) {
                break;
            }
            before = bound;
        }
        true
    }

    /// Every pair takes its turn once, there or back; `false` when nothing above the floor is left.
    pub fn round(&mut self, model: &Model, floor: i64) -> bool {
        self.back = !self.back;
        let count = self.edges.len();
        for n in 0..count {
            self.turn(if self.back { n } else { count - 1 - n });
        }
        if self.bound() < floor {
            return false;
        }
        self.drop_states(model, floor);
        true
    }

    /// Takes new worths of the sets; what pairs have given stays.
    pub fn reprice(&mut self, lists: &[Vec<Subset>], own: &[Vec<i64>]) {
        for ((spot, sets), own) in self.spots.iter_mut().zip(lists).zip(own) {
            spot.own.fill(NEVER);
            for (set, &own) in sets.iter().zip(own) {
                if let Ok(state) = spot.states.binary_search(&set.classes) {
                    spot.own[state] = spot.own[state].max(coarse(own, spot.shift));
                }
            }
            spot.worth.clone_from(&spot.own);
        }
        for pair in &self.edges {
            for side in 0..2 {
                let worth = &mut self.spots[pair.zones[side]].worth;
                for (worth, given) in worth.iter_mut().zip(&pair.given[side]) {
                    *worth += given;
                }
            }
        }
    }

    /// One pair takes all that its zones' states are worth, and deals it out again evenly.
    fn turn(&mut self, n: usize) {
        let (spots, pair) = (&mut self.spots, &mut self.edges[n]);
        let scratch = &mut (&mut self.rows, &mut self.line);
        let bare = [0, 1].map(|side: usize| {
            let spot = &spots[pair.zones[side]];
            spot.worth.iter().zip(&pair.given[side]).map(|(w, g)| w - g).collect::<Vec<i32>>()
        });
        let less = |a: &[i32], b: &[i32]| a.iter().zip(b).map(|(a, b)| a - b).collect::<Vec<i32>>();
        let more = |a: &[i32], b: &[i32]| a.iter().zip(b).map(|(a, b)| a + b).collect::<Vec<i32>>();
        let mut reach = |side: usize, worth: &[i32]| pair.reach(spots, side, worth, (scratch.0, scratch.1));
        // Half to the first, the rest to the second, what is then left over to the first.
        let half: Vec<i32> = more(&bare[0], &reach(1, &bare[1])).iter().map(|w| w.div_euclid(2)).collect();
        let second = more(&bare[1], &reach(0, &less(&bare[0], &half)));
        let first = more(&bare[0], &reach(1, &less(&bare[1], &second)));
        pair.given = [less(&first, &bare[0]), less(&second, &bare[1])];
        spots[pair.zones[0]].worth = first;
        spots[pair.zones[1]].worth = second;
    }

    fn drop_states(&mut self, model: &Model, floor: i64) {
        let bound = self.bound();
        let mut changed = vec![false; self.spots.len()];
        for (z, spot) in self.spots.iter_mut().enumerate() {
            let least = spot.best() - (bound - floor);
            let kept: Vec<bool> = spot.worth.iter().map(|&w| spot.fine(w) >= least).collect();
            if kept.iter().all(|k| *k) {
                continue;
            }
            changed[z] = true;
            keep(&mut spot.states, &kept);
            keep(&mut spot.worth, &kept);
            keep(&mut spot.own, &kept);
            for pair in &mut self.edges {
                for side in 0..2 {
                    if pair.zones[side] == z {
                        keep(&mut pair.given[side], &kept);
                    }
                }
            }
            spot.number();
        }
        for pair in &mut self.edges {
            if pair.zones.iter().any(|&z| changed[z]) {
                pair.fill(model, &self.spots);
            }
        }
    }
}

pub(super) fn keep<T>(list: &mut Vec<T>, kept: &[bool]) {
    let mut kept = kept.iter();
    list.retain(|_| kept.next().copied().unwrap_or(false));
}

/// What the contrast of one kind between two zones is worth by their vectors, in units.
fn gain(model: &Model, kind: usize, one: (usize, u32), other: (usize, u32)) -> i64 {
    let [a, b] = [one, other].map(|(z, v)| (&model.zones[z].classes[kind], v as usize));
    let (m, n) = (a.0.spread.counts(a.1), b.0.spread.counts(b.1));
    let total = |counts: &[u8]| counts.iter().map(|&c| i64::from(c)).sum::<i64>();
    let alike = a.0.present.iter().zip(m).map(|(class, &count)| {
        b.0.present.binary_search(class).map_or(0, |at| i64::from(count) * i64::from(n[at]))
    });
    (total(m) * total(n) - alike.sum::<i64>()) * model.contrast[kind] * UNIT
}

/// Units in coarser ones, rounded up.
fn coarse(units: i64, shift: u32) -> i32 {
    ((units + (1 << shift) - 1) >> shift) as i32
}
