//! Prices anew what pairs have tightened: the best prices for the relaxation are not the best once
//! touching zones agree on whole class vectors.
//!
//! Steps are those of `ascent`, but the bound is that of the pairs over the short lists. A set
//! that cannot reach the floor at any prices met is dropped for good.

use super::direction::Direction;
use super::pairs::{Pairs, keep};
use super::prices::{Prices, UNIT};
use super::relax::{Evaluation, Relaxation};
use super::rows::Rows;
use super::scope::Scope;
use super::zone::Subset;

/// Steps of a tuning; steps without progress before they shorten, and by how much.
const STEPS: u32 = 100;
const PATIENCE: u32 = 3;
const SHORTEN: f64 = 0.75;
const FIRST: f64 = 0.5;
const SHORTEST: f64 = 0.04;

/// What a tuning works on.
pub(super) struct Tuning<'a, 'm> {
    pub relaxation: &'a mut Relaxation<'m>,
    pub scope: &'a Scope,
    pub rows: &'a mut Rows,
    pub prices: Prices,
    /// What each taxon pays for the sizes to keep to the slice, and what that is worth.
    pub taxon: (i64, i64),
    pub lists: Vec<Vec<Subset>>,
    /// What each set is worth without pay for its counts.
    pub own: Vec<Vec<i64>>,
    /// What no choice enters.
    pub fixed: i64,
}

impl Tuning<'_, '_> {
    /// Values all sets at the prices.
    pub fn price(&mut self) {
        let (model, slice) = (self.relaxation.model, self.scope.slices[0]);
        self.relaxation.price(self.scope, &self.prices, &self.rows.list);
        let relaxation = &*self.relaxation;
        self.own.resize(self.lists.len(), Vec::new());
        for (z, (sets, own)) in self.lists.iter().zip(&mut self.own).enumerate() {
            let priced = &relaxation.priced[z];
            own.clear();
            own.extend(sets.iter().map(|set| {
                let value = priced.value_of(model, &model.zones[z], set);
                let all = priced.own(model, &relaxation.layout, &self.prices, z, &Subset { value, ..*set });
                all - self.taxon.0 * i64::from(set.size)
            }));
        }
        let fast = self.prices.fast * relaxation.slices[slice].fast as i64;
        self.fixed = relaxation.fixed(&self.prices, &self.rows.list) - fast + self.taxon.1;
    }

    /// Drops the sets that cannot be part of a list above the floor.
    pub fn sift(&mut self, pairs: &Pairs, floor: i64) {
        let gap = pairs.bound() + self.fixed - floor;
        for (z, (sets, own)) in self.lists.iter_mut().zip(&mut self.own).enumerate() {
            let spot = &pairs.spots[z];
            let best = spot.best();
            let stays: Vec<bool> = sets
                .iter()
                .zip(own.iter())
                .map(|(set, &own)| {
                    spot.state_of(set).is_some_and(|state| {
                        best - spot.fine(spot.worth[state]) + spot.shortfall(state, own) <= gap
                    })
                })
                .collect();
            keep(sets, &stays);
            keep(own, &stays);
        }
    }

    /// Lowers the bound by better prices; `false` when nothing above the floor is left.
    pub fn tune(&mut self, pairs: &mut Pairs, floor: i64) -> bool {
        let mut direction = Direction::default();
        let (mut best, mut best_prices) = (pairs.bound() + self.fixed, self.prices.clone());
        let (mut length, mut idle) = (FIRST, 0);
        for _ in 0..STEPS {
            if length < SHORTEST {
                break;
            }
            let bound = pairs.bound() + self.fixed;
            let at = self.met(pairs, bound);
            direction.turn(self.relaxation, self.scope, self.rows, &mut self.prices, &at);
            best_prices.rows.resize(self.prices.rows.len(), 0);
            let norm = direction.norm();
            if norm < 1e-9 {
                break;
            }
            let distance = (bound - floor) as f64 / UNIT as f64;
            direction.walk(self.relaxation, self.rows, &mut self.prices, length * distance / norm);
            if !self.again(pairs, floor) {
                return false;
            }
            let bound = pairs.bound() + self.fixed;
            idle += 1;
            if bound < best {
                if best - bound > (best - floor) / 100 {
                    idle = 0;
                }
                best = bound;
                best_prices.clone_from(&self.prices);
            }
            if idle > PATIENCE {
                (length, idle) = (length * SHORTEN, 0);
            }
        }
        self.prices = best_prices;
        self.again(pairs, floor) && pairs.tighten(self.relaxation.model, floor - self.fixed)
    }

    /// Values everything at the prices and goes round the pairs once.
    fn again(&mut self, pairs: &mut Pairs, floor: i64) -> bool {
        self.price();
        pairs.reprice(&self.lists, &self.own);
        let open = pairs.round(self.relaxation.model, floor - self.fixed);
        if open {
            self.sift(pairs, floor);
        }
        open && self.lists.iter().all(|sets| !sets.is_empty())
    }

    /// The best set of each zone, as if the relaxation had met them.
    fn met(&self, pairs: &Pairs, bound: i64) -> Evaluation {
        let model = self.relaxation.model;
        let sets: Vec<Subset> = self
            .lists
            .iter()
            .zip(&self.own)
            .zip(&pairs.spots)
            .map(|((sets, own), spot)| {
                let worth = |(set, own): (&Subset, &i64)| {
                    let worth = |s: usize| spot.fine(spot.worth[s]) - spot.shortfall(s, *own);
                    spot.state_of(set).map(worth)
                };
                let best = sets
                    .iter()
                    .zip(own)
                    .enumerate()
                    .max_by_key(|(n, pair)| (worth(*pair), std::cmp::Reverse(*n)));
                best.map_or(Subset::empty(model), |(_, (set, _))| *set)
            })
            .collect();
        let mut class_counts = [0, 1].map(|kind: usize| vec![vec![0; sets.len()]; model.classes[kind]]);
        for (z, set) in sets.iter().enumerate() {
            for (kind, by_class) in class_counts.iter_mut().enumerate() {
                let classes = &model.zones[z].classes[kind];
                let counts = classes.spread.counts(set.classes[kind] as usize);
                for (&class, &count) in classes.present.iter().zip(counts) {
                    by_class[class][z] = usize::from(count);
                }
            }
        }
        let sizes = sets.iter().map(|s| usize::from(s.size)).collect();
        Evaluation { bound, by_slice: vec![bound], slice: 0, sets, class_counts, sizes }
    }
}
