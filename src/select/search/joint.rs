//! Joins short lists along pairs of touching zones, depth first.
//!
//! After `pairs` has tightened the bound, a prefix loses what its sets fall short of their zones'
//! best and what its pairs fall short of nothing. Each zone still open keeps, for each of its
//! states, what the zones placed so far leave it; the best of these is its part of the bound.
//! The sweeps (`ahead`) bound each prefix a second time. Heights, kinship and limits are held
//! against every prefix.

use super::ahead::{Ahead, Stand};
use super::board::{Board, Sight, passed, sight_lines};
use super::loom::{Level, Walk, link, order};
use super::pairs::Pairs;
use super::prices::{Prices, UNIT};
use super::tilt::{Room, TILTS, Tilts, Use};
use super::tune::Tuning;
use super::verdict::kinship;
use crate::select::model::Model;

/// What a run of the join came to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum End {
    /// Every list above the floor was seen.
    Finished,
    /// The allowance of steps ran out.
    Spent,
    /// The caller said stop.
    Stopped,
}

/// Takes a list as pairs of zone and item.
pub(super) type Accept<'a> = dyn FnMut(&[(usize, usize)]) -> Option<i64> + 'a;

/// Best list found and what is left to spend.
pub(super) struct Search<'a> {
    /// A list must be worth at least this, in units.
    pub floor: i64,
    pub steps: u64,
    /// Largest number of steps.
    pub allowance: u64,
    /// Sees every whole list that reaches the floor; returns the new floor, or `None` to stop.
    pub accept: &'a mut Accept<'a>,
    /// Called every few thousand steps.
    pub tick: &'a mut dyn FnMut(u64) -> bool,
}

/// Least and most that the levels from one on can use.
#[derive(Debug, Clone, Copy, Default)]
struct Rest {
    least: Use,
    most: Use,
}

/// The tables of one join.
pub(super) struct Joint<'m> {
    model: &'m Model,
    levels: Vec<Level>,
    rest: Vec<Rest>,
    tilts: Tilts,
    tilted_rest: Vec<[i64; TILTS]>,
    room: Room,
    sight: Vec<Vec<Vec<Sight>>>,
    passed: Vec<Vec<i64>>,
    bound: i64,
    ahead: Ahead<'m>,
}

/// What a prefix carries along: tables of the levels still open, and its stand in the sweeps.
struct Place {
    walk: Walk,
    stand: Stand,
}

#[derive(Debug, Clone, Copy)]
struct Prefix {
    bound: i64,
    /// What was lost so far, and what each tilt has earned, from the bound of the empty prefix.
    spent: i64,
    earned: [i64; TILTS],
    used: Use,
}

impl<'m> Joint<'m> {
    /// Lays out the join of sifted sets; `None` when there are too many.
    /// `listed` are those at which the sets were listed.
    pub fn new(tuning: &Tuning<'_, 'm>, listed: &Prices, pairs: &Pairs, floor: i64) -> Option<Self> {
        let (relaxation, prices) = (&*tuning.relaxation, &tuning.prices);
        let model = relaxation.model;
        let bound = pairs.bound() + tuning.fixed;
        let slice = relaxation.slices[tuning.scope.slices[0]];
        let taxa = [slice.fewest as i64, slice.most as i64];
        let room = Room { fast: slice.fast as i64, taxa, taxon: tuning.taxon.0 };
        let tilts = Tilts::new(model, prices, bound - floor, room);
        let mut levels: Vec<Level> = (0..model.zones.len())
            .map(|zone| {
                let sets = (tuning.lists[zone].as_slice(), tuning.own[zone].as_slice());
                Level::new(model, zone, sets, &pairs.spots[zone], &tilts)
            })
            .collect();
        let order = order(model, &levels);
        levels.sort_by_key(|l| order.iter().position(|&z| z == l.zone));
        link(&mut levels, pairs)?;
        let board = Board::along(&order, relaxation, tuning.scope, listed, tuning.rows, &tuning.lists);
        let ahead = Ahead::new(board, &levels);
        let mut joint = Self {
            model,
            rest: Vec::new(),
            tilts,
            tilted_rest: Vec::new(),
            room,
            sight: sight_lines(model, &order),
            passed: passed(model, relaxation.layout.line_width, prices),
            bound,
            ahead,
            levels,
        };
        joint.add_rest();
        Some(joint)
    }

    fn add_rest(&mut self) {
        let mut rest = vec![Rest::default()];
        let mut tilted = vec![[0; TILTS]];
        let (mut sum, mut earned) = (Rest::default(), [0; TILTS]);
        for level in self.levels.iter().rev() {
            let span = |of: fn(&Use) -> i64| {
                let all = || level.entries.iter().map(|e| of(&e.used));
                (all().min().unwrap_or(0), all().max().unwrap_or(0))
            };
            let (cost, trim, fast, taxa) =
                (span(|u| u.cost), span(|u| u.trim), span(|u| u.fast), span(|u| u.taxa));
            sum.least = sum.least.plus(&Use { cost: cost.0, trim: trim.0, fast: fast.0, taxa: taxa.0 });
            sum.most = sum.most.plus(&Use { cost: cost.1, trim: trim.1, fast: fast.1, taxa: taxa.1 });
            let mut best = [i64::MIN / 64; TILTS];
            for (state, range) in level.first.windows(2).enumerate() {
                let short = level.top - level.fine(level.worth[state]);
                for n in range[0]..range[1] {
                    let lost = short + level.entries[n].slack;
                    for (best, earned) in best.iter_mut().zip(&level.tilted[n]) {
                        *best = (*best).max(earned - lost);
                    }
                }
            }
            for (sum, best) in earned.iter_mut().zip(&best) {
                *sum += best;
            }
            rest.push(sum);
            tilted.push(earned);
        }
        rest.reverse();
        tilted.reverse();
        self.rest = rest;
        self.tilted_rest = tilted;
    }

    /// Runs the join.
    pub fn run(&self, search: &mut Search) -> End {
        let walk = Walk {
            tables: self.levels.iter().map(|l| vec![l.worth.clone(); l.above + 1]).collect(),
            tops: self.levels.iter().map(|l| vec![l.top; l.above + 1]).collect(),
            chosen: Vec::new(),
        };
        let mut place = Place { walk, stand: self.ahead.start() };
        let start = Prefix { bound: self.bound, spent: 0, earned: self.tilts.room, used: Use::default() };
        self.descend(&start, &mut place, search)
    }

    fn descend(&self, prefix: &Prefix, place: &mut Place, search: &mut Search) -> End {
        let at = place.walk.chosen.len();
        let Some(level) = self.levels.get(at) else {
            return match (search.accept)(&self.picks(&place.walk.chosen)) {
                Some(floor) => {
                    search.floor = floor;
                    End::Finished
                }
                None => End::Stopped,
            };
        };
        self.ahead.look(&mut place.stand);
        let top = place.walk.tops[at][level.above];
        let least = search.floor - prefix.bound + top;
        let table = &place.walk.tables[at][level.above];
        let mut states: Vec<(i64, usize)> =
            table.iter().enumerate().map(|(s, &w)| (level.fine(w), s)).filter(|&(w, _)| w >= least).collect();
        states.sort_unstable_by_key(|&(worth, state)| (-worth, state));
        for (worth, state) in states {
            let mut bound = prefix.bound - top + worth;
            if bound < search.floor {
                break;
            }
            search.steps += 1;
            if self.ahead.after_state(&place.stand, at, state) < search.floor {
                continue;
            }
            bound = level.place(state, bound, search.floor, &mut place.walk);
            if bound < search.floor {
                continue;
            }
            let lost = prefix.spent + level.top - worth;
            let end = self.take(at, state, Prefix { bound, spent: lost, ..*prefix }, place, search);
            if end != End::Finished {
                return end;
            }
        }
        End::Finished
    }

    /// Goes on with every set of a state.
    fn take(&self, at: usize, state: usize, prefix: Prefix, place: &mut Place, search: &mut Search) -> End {
        let level = &self.levels[at];
        let second = self.ahead.after_state(&place.stand, at, state);
        for n in level.first[state]..level.first[state + 1] {
            let entry = &level.entries[n];
            if prefix.bound - entry.slack < search.floor {
                break;
            }
            search.steps += 1;
            if search.steps.is_multiple_of(4096) {
                if search.steps > search.allowance {
                    return End::Spent;
                }
                if !(search.tick)(search.steps) {
                    return End::Stopped;
                }
            }
            let second = second - self.ahead.slack(at, n);
            if second < search.floor {
                continue;
            }
            let Some((next, kin)) = self.checked(at, n, &prefix, &place.walk, search.floor) else { continue };
            if second - kin < search.floor {
                continue;
            }
            place.walk.chosen.push(n as u32);
            self.ahead.place(&mut place.stand, at, n, second - kin);
            let end = self.descend(&next, place, search);
            place.stand.lift();
            place.walk.chosen.pop();
            if end != End::Finished {
                return end;
            }
        }
        End::Finished
    }

    /// The prefix with one entry more, and what its kinship costs; `None` when it breaks a rule or
    /// falls below the floor.
    fn checked(
        &self,
        at: usize,
        n: usize,
        prefix: &Prefix,
        walk: &Walk,
        floor: i64,
    ) -> Option<(Prefix, i64)> {
        let (model, level, rest) = (self.model, &self.levels[at], &self.rest[at + 1]);
        let entry = &level.entries[n];
        let used = prefix.used.plus(&entry.used);
        if used.cost + rest.least.cost > model.budget
            || used.trim + rest.least.trim > model.trim
            || used.fast + rest.most.fast < self.room.fast
            || used.taxa + rest.most.taxa < self.room.taxa[0]
            || used.taxa + rest.least.taxa > self.room.taxa[1]
        {
            return None;
        }
        let mut lost = entry.slack;
        let mut earned = prefix.earned;
        let mut second = i64::MAX;
        for ((earned, more), rest) in earned.iter_mut().zip(&level.tilted[n]).zip(&self.tilted_rest[at + 1]) {
            *earned += more;
            second = second.min(*earned + rest);
        }
        // What may still be lost before one of the bounds is below the floor.
        let spare = (prefix.bound - floor).min(self.bound - prefix.spent + second - floor);
        if lost > spare {
            return None;
        }
        let kin;
        (lost, kin) = self.beside(at, n, walk, lost, spare)?;
        Some((Prefix { bound: prefix.bound - lost, spent: prefix.spent + lost, earned, used }, kin))
    }

    /// What is lost with what an entry's heights and kinship cost beside the sets above it, and the
    /// kinship alone; `None` when they may not stand together or more is lost than can be spared.
    fn beside(&self, at: usize, n: usize, walk: &Walk, mut lost: i64, spare: i64) -> Option<(i64, i64)> {
        let (model, level) = (self.model, &self.levels[at]);
        let entry = &level.entries[n];
        let mut all_kin = 0;
        for (earlier, &chosen) in walk.chosen.iter().enumerate() {
            let above = &self.levels[earlier];
            let other = &above.entries[chosen as usize];
            for line in &self.sight[at][earlier] {
                let (high, low) = if line.nearer { (entry.high, other.low) } else { (other.high, entry.low) };
                if high > low {
                    return None;
                }
                let passed = &self.passed[line.number];
                lost += passed[usize::from(low)] - passed[usize::from(high)];
            }
            let kin = kinship(
                model,
                &entry.taxa[..usize::from(entry.size)],
                &other.taxa[..usize::from(other.size)],
            )?;
            if model.touching[level.zone][above.zone] {
                lost += kin * model.genus_weight * UNIT;
                all_kin += kin * model.genus_weight * UNIT;
            }
            if lost > spare {
                return None;
            }
        }
        Some((lost, all_kin))
    }

    fn picks(&self, chosen: &[u32]) -> Vec<(usize, usize)> {
        let mut picks = Vec::new();
        for (level, &n) in self.levels.iter().zip(chosen) {
            let entry = &level.entries[n as usize];
            picks
                .extend(entry.items[..usize::from(entry.size)].iter().map(|&i| (level.zone, usize::from(i))));
        }
        picks
    }
}
