//! The direction in which prices move: an average of the subgradients met so far.

use super::prices::{DEAREST, FINE, Prices, UNIT};
use super::relax::{Evaluation, Relaxation};
use super::rows::Rows;
use super::scope::Scope;
use crate::select::model::{FREE, KINDS, Row};

/// Share of the old direction kept at each turn.
const MEMORY: f64 = 0.7;
/// Relative reach of a step, by the usual size of what a multiplier prices.
const RESOURCE_REACH: f64 = 10.0;
const FAST_REACH: f64 = 1.0;
const SIZE_REACH: f64 = 2.0;
const HEIGHT_REACH: f64 = 1.0;
const ROW_REACH: f64 = 0.85;

/// Positions of the blocks of prices in a flat direction; rows come last, as they grow in number.
const BUDGET: usize = 0;
const TRIM: usize = 1;
const FAST: usize = 2;
const TABLES: usize = 3;

/// A direction over all prices.
#[derive(Debug, Default)]
pub(super) struct Direction {
    /// The last subgradient, each entry times its reach.
    fresh: Vec<f64>,
    /// The average.
    mean: Vec<f64>,
    /// Picks in each row; zero between turns.
    picked: Vec<i64>,
}

impl Direction {
    /// Turns towards the subgradient of the bound at an evaluation of `prices`; pairs that the
    /// evaluation breaks become rows.
    pub fn turn(
        &mut self,
        relaxation: &Relaxation,
        scope: &Scope,
        rows: &mut Rows,
        prices: &mut Prices,
        at: &Evaluation,
    ) {
        let taxa = chosen_taxa(relaxation, at);
        rows.add_broken_pairs(relaxation.model, &taxa);
        prices.rows.resize(rows.list.len(), 0);
        let first_row = first_row(prices);
        self.fresh.clear();
        self.fresh.resize(first_row + rows.list.len(), 0.0);
        self.mean.resize(first_row + rows.list.len(), 0.0);
        self.limits(relaxation, scope, prices, at, &taxa);
        self.tables(relaxation, prices, at);
        self.rows(rows, prices, &taxa, first_row);
        for (mean, fresh) in self.mean.iter_mut().zip(&self.fresh) {
            *mean = MEMORY * *mean + (1.0 - MEMORY) * fresh;
        }
    }

    fn limits(
        &mut self,
        relaxation: &Relaxation,
        scope: &Scope,
        prices: &Prices,
        at: &Evaluation,
        taxa: &[usize],
    ) {
        let model = relaxation.model;
        let (mut cost, mut trim) = (0, 0);
        for (zone, set) in model.zones.iter().zip(&at.sets) {
            for item in set.items() {
                let item = &zone.items[item];
                cost += item.cost[usize::from(set.size) - 1];
                trim += item.trim[usize::from(set.size) - 1];
            }
        }
        let spare = |limit: i64, used: i64, price: i64| {
            let spare = RESOURCE_REACH * (limit - used) as f64 / limit.max(1) as f64;
            if limit >= FREE || (price == 0 && spare > 0.0) { 0.0 } else { spare }
        };
        self.fresh[BUDGET] = spare(model.budget, cost, prices.budget);
        self.fresh[TRIM] = spare(model.trim, trim, prices.trim);
        if model.share.is_some() {
            let fast = taxa.iter().filter(|&&t| model.fast[t]).count();
            let over = fast as f64 - relaxation.slices[scope.slices[at.slice]].fast as f64;
            self.fresh[FAST] = if prices.fast == 0 && over > 0.0 { 0.0 } else { FAST_REACH * over };
        }
    }

    fn tables(&mut self, relaxation: &Relaxation, prices: &Prices, at: &Evaluation) {
        let (model, layout) = (relaxation.model, &relaxation.layout);
        let mut first = TABLES;
        for kind in 0..KINDS {
            for (z, (zone, set)) in model.zones.iter().zip(&at.sets).enumerate() {
                let classes = &zone.classes[kind];
                let counts = classes.spread.counts(set.classes[kind] as usize);
                for (local, &class) in classes.present.iter().enumerate() {
                    let entries = first + layout.class_at[kind][z] + local * (zone.most + 1);
                    self.fresh[entries + usize::from(counts[local])] += 1.0;
                    self.fresh[entries + at.class_counts[kind][class][z]] -= 1.0;
                }
            }
            first += prices.classes[kind].len();
        }
        for (z, set) in at.sets.iter().enumerate() {
            self.fresh[first + layout.count_at[z] + usize::from(set.size)] += SIZE_REACH;
            self.fresh[first + layout.count_at[z] + at.sizes[z]] -= SIZE_REACH;
        }
        first += prices.counts.len();
        for (line, &(near, far)) in model.lines.iter().enumerate() {
            let (high, low) = (usize::from(at.sets[near].high), usize::from(at.sets[far].low));
            let start = line * layout.line_width;
            for threshold in 0..layout.line_width {
                let spare = 1.0 - indicator(high > threshold) - indicator(low <= threshold);
                let held = prices.heights[start + threshold] == 0 && spare > 0.0;
                self.fresh[first + start + threshold] = if held { 0.0 } else { HEIGHT_REACH * spare };
            }
        }
    }

    fn rows(&mut self, rows: &Rows, prices: &Prices, taxa: &[usize], first_row: usize) {
        self.picked.clear();
        self.picked.resize(rows.list.len(), 0);
        for &taxon in taxa {
            for row in rows.of(taxon) {
                self.picked[row] += 1;
            }
        }
        for (n, (row, &picked)) in rows.list.iter().zip(&self.picked).enumerate() {
            self.fresh[first_row + n] = ROW_REACH * spare(row, prices.rows[n], picked);
        }
    }

    /// Squared length to divide a step by: that of the direction, but no less than the mean with
    /// that of the last subgradient, lest a direction that cancels out run away.
    pub fn norm(&self) -> f64 {
        let squares = |v: &[f64]| v.iter().map(|x| x * x).sum::<f64>();
        let own = squares(&self.mean);
        own.max(f64::midpoint(own, squares(&self.fresh)))
    }

    /// Moves the prices against the direction by `step`, in points per unit of direction.
    pub fn walk(&self, relaxation: &Relaxation, rows: &Rows, prices: &mut Prices, step: f64) {
        let model = relaxation.model;
        let unit = step * UNIT as f64;
        let fine = unit * (1u64 << FINE) as f64 * RESOURCE_REACH;
        let moved = |price: i64, by: f64| price.saturating_sub(by.round() as i64);
        let resource = |price: i64, limit: i64, at: usize| {
            moved(price, fine * self.mean[at] / limit.max(1) as f64).clamp(0, i64::MAX / 4)
        };
        prices.budget = resource(prices.budget, model.budget, BUDGET);
        prices.trim = resource(prices.trim, model.trim, TRIM);
        prices.fast = moved(prices.fast, unit * FAST_REACH * self.mean[FAST]).clamp(0, DEAREST);
        let mut rest = &self.mean[TABLES..];
        let mut block = |len: usize| {
            let (block, after) = rest.split_at(len);
            rest = after;
            block
        };
        for kind in 0..KINDS {
            let by = block(prices.classes[kind].len());
            for (price, by) in prices.classes[kind].iter_mut().zip(by) {
                *price = moved(*price, unit * by).clamp(-DEAREST, DEAREST);
            }
        }
        let by = block(prices.counts.len());
        for (price, by) in prices.counts.iter_mut().zip(by) {
            *price = moved(*price, unit * SIZE_REACH * by).clamp(-DEAREST, DEAREST);
        }
        let by = block(prices.heights.len());
        for (price, by) in prices.heights.iter_mut().zip(by) {
            *price = moved(*price, unit * HEIGHT_REACH * by).clamp(0, DEAREST);
        }
        let by = block(rows.list.len());
        for ((price, by), row) in prices.rows.iter_mut().zip(by).zip(&rows.list) {
            // Only a limit that can be broken has a price.
            let lowest = if row.least > 0 { -DEAREST } else { 0 };
            *price = moved(*price, unit * ROW_REACH * by).clamp(lowest, DEAREST);
        }
    }
}

fn first_row(prices: &Prices) -> usize {
    TABLES + prices.classes.iter().map(Vec::len).sum::<usize>() + prices.counts.len() + prices.heights.len()
}

fn chosen_taxa(relaxation: &Relaxation, at: &Evaluation) -> Vec<usize> {
    let zones = relaxation.model.zones.iter().zip(&at.sets);
    zones.flat_map(|(zone, set)| set.items().map(|item| zone.items[item].taxon)).collect()
}

/// How far a row's count is from the limit its price belongs to; positive is room to spare.
fn spare(row: &Row, price: i64, picked: i64) -> f64 {
    let limit = match price.signum() {
        1 => row.most,
        -1 => row.least,
        _ => picked.clamp(row.least, row.most),
    };
    (limit - picked) as f64
}

fn indicator(holds: bool) -> f64 {
    f64::from(u8::from(holds))
}
