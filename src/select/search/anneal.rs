//! Looks for good lists by annealing: random exchanges that may break rules for a while, at a
//! price. It proves nothing; what it finds spares the search most of its work.

use std::collections::BTreeMap;

use super::prices::{Prices, UNIT, limit_worth};
use super::relax::Relaxation;
use super::rows::Rows;
use super::run::whole_zones;
use super::scope::Scope;
use super::verdict::judged;
use super::{Picks, polish};
use crate::select::model::{FREE, Item, KINDS, Model, Row};

/// Annealings, and the moves of each.
const ANNEALS: u32 = 6;
const MOVES: u32 = 10_000;
/// What breaking a rule costs at least, in points: a whole limit exceeded, one step of anything
/// else. Twice the rule's price is added, so that breaking it does not pay.
const WHOLE_LIMIT: i64 = 2000;
const BREACH: i64 = 250;
/// Exchanges accepted although they lose up to this much, at first and at last, in points.
const HOT: f64 = 120.0;
const COLD: f64 = 3.0;
/// Of ten moves, so many exchange an item; the others add or drop one.
const EXCHANGES: u64 = 7;

/// A repeatable source of numbers (Marsaglia 2003, xorshift64).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, n: usize) -> usize {
        ((self.next() >> 32) as usize * n) >> 32
    }

    fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// A good list by annealing, unless that was tried often enough; the relaxation must be priced.
pub(super) fn annealed(
    relaxation: &Relaxation,
    rows: &Rows,
    prices: &Prices,
    tried: &mut u32,
) -> Option<(i64, Picks)> {
    if *tried == ANNEALS {
        return None;
    }
    *tried += 1;
    let model = relaxation.model;
    let orders: Vec<Vec<u16>> = relaxation.priced.iter().map(|p| p.order().to_vec()).collect();
    let scope = whole_zones(model);
    let moves = MOVES * model.zones.len().max(3) as u32;
    let found = anneal(model, &scope, &model.rows, prices, &orders, moves, u64::from(*tried));
    found.map(|(value, picks)| polish::polish(relaxation, &scope, &rows.list, value, picks))
}

/// The best lawful list met in `moves` moves, with its value. `orders` are each zone's items,
/// the most promising first.
fn anneal(
    model: &Model,
    scope: &Scope,
    rows: &[Row],
    prices: &Prices,
    orders: &[Vec<u16>],
    moves: u32,
    seed: u64,
) -> Option<(i64, Vec<(usize, usize)>)> {
    let mut walk = Walk::new(model, scope, rows, prices, orders, seed);
    let mut best: Option<(i64, Vec<(usize, usize)>)> = None;
    let cooling = (COLD / HOT).powf(1.0 / f64::from(moves.max(1)));
    let mut heat = HOT;
    for _ in 0..moves {
        heat *= cooling;
        if walk.step(heat) && walk.breaches == 0 && best.as_ref().is_none_or(|(v, _)| walk.value > *v) {
            let picks = walk.picks();
            if let Some(value) = judged(model, &picks, rows) {
                best = Some((value, picks));
            }
        }
    }
    best
}

struct Walk<'a> {
    model: &'a Model,
    scope: &'a Scope,
    orders: &'a [Vec<u16>],
    dice: Dice,
    held: Vec<Vec<usize>>,
    taken: Vec<bool>,
    /// Genus of each taxon as a small number.
    genus: Vec<usize>,
    genera: usize,
    /// Picks in the zone and in touching ones: all, by class, by genus.
    beside: Vec<i64>,
    beside_class: [Vec<i64>; KINDS],
    beside_genus: Vec<i64>,
    /// Rows that more than one zone a taxon can break, and where each taxon stands in them.
    rows: Vec<&'a Row>,
    rows_of: Vec<Vec<u32>>,
    row_count: Vec<i64>,
    row_step: Vec<i64>,
    fast_step: i64,
    whole: [i64; 2],
    /// What missed rows cost, and pairs that may not stand together.
    missed: i64,
    clashes: i64,
    cost: i64,
    trim: i64,
    fast: usize,
    value: i64,
    /// What broken rules cost, in points.
    breaches: i64,
}

impl<'a> Walk<'a> {
    fn new(
        model: &'a Model,
        scope: &'a Scope,
        rows: &'a [Row],
        prices: &Prices,
        orders: &'a [Vec<u16>],
        seed: u64,
    ) -> Self {
        let mut numbers = BTreeMap::new();
        let genus: Vec<usize> = model
            .genus
            .iter()
            .map(|g| {
                let next = numbers.len();
                *numbers.entry(*g).or_insert(next)
            })
            .collect();
        let zones = model.zones.len();
        let kept = || rows.iter().zip(&prices.rows).filter(|(r, _)| r.taxa.len() > 1 || r.least > 0);
        let steps: Vec<i64> = kept().map(|(_, price)| BREACH + 2 * price.abs() / UNIT).collect();
        let rows: Vec<&Row> = kept().map(|(row, _)| row).collect();
        let mut rows_of = vec![Vec::new(); model.taxa.len()];
        for (number, row) in rows.iter().enumerate() {
            for &taxon in &row.taxa {
                rows_of[taxon].push(number as u32);
            }
        }
        let mut walk = Self {
            model,
            scope,
            orders,
            dice: Dice(0x9E37_79B9_7F4A_7C15 ^ seed.wrapping_mul(0x2545_F491_4F6C_DD1D).max(1)),
            held: vec![Vec::new(); zones],
            taken: vec![false; model.taxa.len()],
            genera: numbers.len(),
            beside: vec![0; zones],
            beside_class: [0, 1].map(|k: usize| vec![0; zones * model.classes[k]]),
            beside_genus: vec![0; zones * numbers.len()],
            row_count: vec![0; rows.len()],
            missed: rows.iter().zip(&steps).map(|(r, step)| step * r.least.max(0)).sum(),
            row_step: steps,
            fast_step: BREACH + 2 * prices.fast / UNIT,
            whole: [(prices.budget, model.budget), (prices.trim, model.trim)].map(|(price, limit)| {
                WHOLE_LIMIT + if limit >= FREE { 0 } else { 2 * limit_worth(price, limit) / UNIT }
            }),
            clashes: 0,
            rows,
            rows_of,
            genus,
            cost: 0,
            trim: 0,
            fast: 0,
            value: 0,
            breaches: 0,
        };
        walk.start();
        walk
    }

    /// Fills every zone to its least from the top of its order.
    fn start(&mut self) {
        for zone in 0..self.held.len() {
            for &item in &self.scope.zones[zone].forced {
                self.put(zone, usize::from(item));
            }
            for &item in &self.orders[zone] {
                if self.held[zone].len() >= self.scope.zones[zone].least {
                    break;
                }
                if !self.taken[self.model.zones[zone].items[usize::from(item)].taxon] {
                    self.put(zone, usize::from(item));
                }
            }
        }
        self.breaches = self.broken();
    }

    fn picks(&self) -> Vec<(usize, usize)> {
        self.held.iter().enumerate().flat_map(|(z, held)| held.iter().map(move |&i| (z, i))).collect()
    }

    /// One random move; whether it was made.
    fn step(&mut self, heat: f64) -> bool {
        let zone = self.dice.below(self.held.len());
        let (size, scope) = (self.held[zone].len(), &self.scope.zones[zone]);
        let free = size - scope.forced.len();
        let kind = self.dice.next() % 10;
        let out = (kind < EXCHANGES + 1 && free > 0).then(|| scope.forced.len() + self.dice.below(free));
        let wants = kind != EXCHANGES;
        let new_size = size - usize::from(out.is_some()) + usize::from(wants);
        if self.orders[zone].is_empty()
            || new_size < scope.least
            || new_size > scope.most
            || (out.is_none() && !wants)
        {
            return false;
        }
        let new = wants.then(|| {
            // The front of the order comes up more often than its tail.
            let bias = self.dice.unit();
            let order = &self.orders[zone];
            usize::from(order[((bias * bias) * order.len() as f64) as usize % order.len()])
        });
        if new.is_some_and(|i| self.taken[self.model.zones[zone].items[i].taxon]) {
            return false;
        }
        let before = (self.value - self.breaches, self.breaches);
        let gone = out.map(|slot| self.held[zone][slot]);
        if let Some(item) = gone {
            self.pull(zone, item);
        }
        if let Some(item) = new {
            self.put(zone, item);
        }
        self.breaches = self.broken();
        let change = self.value - self.breaches - before.0;
        if change as f64 >= -heat * self.dice.unit() {
            return true;
        }
        if let Some(item) = new {
            self.pull(zone, item);
        }
        if let Some(item) = gone {
            self.put(zone, item);
        }
        self.breaches = before.1;
        false
    }

    fn put(&mut self, zone: usize, item: usize) {
        self.value += self.contrast(zone, item);
        self.recount(zone, item, 1);
        self.recharge(zone, |held| held.push(item));
    }

    fn pull(&mut self, zone: usize, item: usize) {
        self.recount(zone, item, -1);
        self.recharge(zone, |held| held.retain(|&i| i != item));
        self.value -= self.contrast(zone, item);
    }

    /// What pairs with what is held add to the value (the item itself not counted).
    fn contrast(&self, zone: usize, item: usize) -> i64 {
        let (model, item) = (self.model, &self.model.zones[zone].items[item]);
        let mut sum = -model.genus_weight * self.beside_genus[zone * self.genera + self.genus[item.taxon]];
        for kind in 0..KINDS {
            let alike = self.beside_class[kind][zone * model.classes[kind] + item.classes[kind]];
            sum += model.contrast[kind] * (self.beside[zone] - alike);
        }
        sum
    }

    fn recount(&mut self, zone: usize, item: usize, by: i64) {
        let model = self.model;
        let item = &model.zones[zone].items[item];
        let genus = self.genus[item.taxon];
        for z in 0..self.held.len() {
            if z == zone || model.touching[z][zone] {
                self.beside[z] += by;
                self.beside_genus[z * self.genera + genus] += by;
                for kind in 0..KINDS {
                    self.beside_class[kind][z * model.classes[kind] + item.classes[kind]] += by;
                }
            }
        }
        self.taken[item.taxon] = by > 0;
        if model.fast[item.taxon] {
            self.fast = if by > 0 { self.fast + 1 } else { self.fast - 1 };
        }
        for &row in &self.rows_of[item.taxon] {
            let (limits, count) = (self.rows[row as usize], &mut self.row_count[row as usize]);
            let miss = |count: i64| (limits.least - count).max(0) + (count - limits.most).max(0);
            self.missed += self.row_step[row as usize] * (miss(*count + by) - miss(*count));
            *count += by;
        }
        if !model.against[item.taxon].is_empty() {
            let against = |&(z, i): &(usize, usize)| {
                let other = model.zones[z].items[i].taxon;
                model.against[item.taxon].binary_search(&other).is_ok()
            };
            self.clashes += by * self.picks().iter().filter(|pick| against(pick)).count() as i64;
        }
    }

    fn recharge(&mut self, zone: usize, change: impl FnOnce(&mut Vec<usize>)) {
        let items = &self.model.zones[zone].items;
        let held = &mut self.held[zone];
        let total = |held: &[usize], table: fn(&Item) -> &[i64]| -> i64 {
            held.iter().map(|&i| table(&items[i])[held.len() - 1]).sum()
        };
        let tables: [fn(&Item) -> &[i64]; 3] = [|i| &i.cost, |i| &i.trim, |i| &i.worth];
        let before = tables.map(|table| total(held, table));
        change(held);
        let after = tables.map(|table| total(held, table));
        self.cost += after[0] - before[0];
        self.trim += after[1] - before[1];
        self.value += after[2] - before[2];
    }

    /// What broken rules cost.
    fn broken(&self) -> i64 {
        let model = self.model;
        let over = |used: i64, limit: i64, whole: i64| {
            let over = i128::from(whole) * i128::from(used - limit) / i128::from(limit.max(1));
            if limit >= FREE || used <= limit { 0 } else { BREACH / 10 + over.min(1 << 40) as i64 }
        };
        let taxa: usize = self.held.iter().map(Vec::len).sum();
        let slow = model.fast_needed(taxa).saturating_sub(self.fast) as i64;
        let mut steps = 0;
        steps += taxa.saturating_sub(model.most_taxa) as i64;
        for &(near, far) in &model.lines {
            let heights =
                |zone: usize| self.held[zone].iter().map(move |&i| model.zones[zone].items[i].height);
            let low = heights(far).min().unwrap_or(usize::MAX);
            steps += heights(near).filter(|&h| h > low).count() as i64;
        }
        over(self.cost, model.budget, self.whole[0])
            + over(self.trim, model.trim, self.whole[1])
            + self.fast_step * slow
            + self.missed
            + BREACH * (steps + self.clashes)
    }
}
