//! The Lagrangian relaxation: an upper bound on every list of a scope, at given prices.
//!
//! Each zone picks its best set on its own; for every class, and for the zones' sizes, an exact
//! sweep over the touching zones picks the counts that suit contrast best; limits, rows and height
//! thresholds are paid for. Whatever list is planted, the sum is at least its value.

use super::prices::{Layout, Prices, UNIT, limit_worth};
use super::scope::{Scope, Slice, slices};
use super::sweep::{BARRED, Sweep};
use super::zone::{Grower, PricedZone, Subset};
use crate::select::model::{FREE, KINDS, Model};

/// A model with its tables laid out, and room to work.
pub(super) struct Relaxation<'m> {
    pub model: &'m Model,
    pub layout: Layout,
    pub slices: Vec<Slice>,
    pub sweep: Sweep,
    pub priced: Vec<PricedZone>,
    pub by_taxon: Vec<i64>,
    tables: Vec<Vec<i64>>,
    own: Own,
}

/// What an evaluation found.
#[derive(Debug, Clone)]
pub(super) struct Evaluation {
    /// No list of the scope is worth more, in units.
    pub bound: i64,
    /// The same for the lists of one slice, by slice of the scope.
    pub by_slice: Vec<i64>,
    /// Position in the scope of the slice with the largest bound.
    pub slice: usize,
    /// The best set of each zone.
    pub sets: Vec<Subset>,
    /// The counts the class sweeps picked: `[kind][class][zone]`.
    pub class_counts: [Vec<Vec<usize>>; KINDS],
    /// The sizes the size sweep picked for the best slice.
    pub sizes: Vec<usize>,
}

/// Scratch: what each value of a zone's count is worth to a sweep.
#[derive(Debug, Default)]
pub(super) struct Own {
    values: Vec<Vec<i64>>,
}

impl Own {
    pub fn slices(&self) -> Vec<&[i64]> {
        self.values.iter().map(Vec::as_slice).collect()
    }

    /// For a class: prices taken back, counts the scope bars left out.
    pub fn for_class(
        &mut self,
        model: &Model,
        layout: &Layout,
        scope: &Scope,
        prices: &Prices,
        kind: usize,
        class: usize,
    ) {
        self.values.resize(model.zones.len(), Vec::new());
        for (z, zone) in model.zones.iter().enumerate() {
            let own = &mut self.values[z];
            own.clear();
            match zone.classes[kind].present.binary_search(&class) {
                Ok(local) => {
                    let width = zone.most + 1;
                    let at = layout.class_at[kind][z] + local * width;
                    let (least, most) = scope.zones[z].classes[kind][local];
                    let allowed = usize::from(least)..=usize::from(most);
                    own.extend((0..width).map(|count| {
                        if allowed.contains(&count) { -prices.classes[kind][at + count] } else { BARRED }
                    }));
                }
                Err(_) => own.extend((0..=zone.most).map(|count| if count == 0 { 0 } else { BARRED })),
            }
        }
    }

    /// For the sizes: likewise, with an upper bound for touching pairs the sweep leaves out.
    pub fn for_sizes(
        &mut self,
        model: &Model,
        layout: &Layout,
        scope: &Scope,
        prices: &Prices,
        left_out: &[(usize, usize)],
    ) {
        let contrast = model.contrast.iter().sum::<i64>() * UNIT;
        self.values.resize(model.zones.len(), Vec::new());
        for (z, zone) in model.zones.iter().enumerate() {
            let own = &mut self.values[z];
            own.clear();
            let scope = &scope.zones[z];
            own.extend((0..=zone.most).map(|size| {
                let allowed = (scope.least..=scope.most).contains(&size);
                if allowed { -prices.counts[layout.count_at[z] + size] } else { BARRED }
            }));
        }
        for &(a, b) in left_out {
            for (z, other) in [(a, b), (b, a)] {
                let most = model.zones[other].most as i64;
                for (size, own) in self.values[z].iter_mut().enumerate() {
                    *own += contrast * most * size as i64 / 2 + 1;
                }
            }
        }
    }
}

impl<'m> Relaxation<'m> {
    pub fn new(model: &'m Model) -> Self {
        let domains: Vec<usize> = model.zones.iter().map(|z| z.most + 1).collect();
        let order = Sweep::narrow_order(&model.touching, &domains);
        Self {
            model,
            layout: Layout::new(model),
            slices: slices(model),
            sweep: Sweep::new(&order, &model.touching, &domains),
            priced: model.zones.iter().map(|_| PricedZone::default()).collect(),
            by_taxon: vec![0; model.taxa.len()],
            tables: Vec::new(),
            own: Own::default(),
        }
    }

    /// Fills the zones' tables for these prices.
    pub fn price(&mut self, scope: &Scope, prices: &Prices, rows: &[crate::select::model::Row]) {
        self.by_taxon.fill(0);
        for (row, &price) in rows.iter().zip(&prices.rows) {
            if price != 0 {
                for &taxon in &row.taxa {
                    self.by_taxon[taxon] -= price;
                }
            }
        }
        if prices.fast != 0 {
            for (paid, &fast) in self.by_taxon.iter_mut().zip(&self.model.fast) {
                *paid += if fast { prices.fast } else { 0 };
            }
        }
        for (z, priced) in self.priced.iter_mut().enumerate() {
            priced.fill(self.model, &self.layout, &scope.zones[z], z, prices, &self.by_taxon);
        }
    }

    pub fn grower<'a>(&'a self, scope: &'a Scope, zone: usize) -> Grower<'a> {
        Grower {
            model: self.model,
            zone: &self.model.zones[zone],
            scope: &scope.zones[zone],
            priced: &self.priced[zone],
        }
    }

    /// What limits, rows and thresholds are worth: the part of the bound no choice enters.
    pub fn fixed(&self, prices: &Prices, rows: &[crate::select::model::Row]) -> i64 {
        let model = self.model;
        let mut sum = prices.heights.iter().sum::<i64>();
        if model.budget < FREE {
            sum += limit_worth(prices.budget, model.budget);
        }
        if model.trim < FREE {
            sum += limit_worth(prices.trim, model.trim);
        }
        for (row, &price) in rows.iter().zip(&prices.rows) {
            sum += price * if price > 0 { row.most } else { row.least };
        }
        sum
    }

    /// What each taxon should pay for the whole to keep to the sizes of a slice, and what that is
    /// worth at most: the steepest rise of the size sweep beyond the slice.
    pub fn taxon_price(&mut self, scope: &Scope, prices: &Prices, slice: usize) -> (i64, i64) {
        let weight = self.model.contrast.iter().sum::<i64>() * UNIT;
        self.own.for_sizes(self.model, &self.layout, scope, prices, self.sweep.left_out());
        let own = self.own.slices();
        let width = self.sweep.tables_by_total(&own, weight, &mut self.tables);
        let totals = &self.tables[0][..width];
        let Slice { fewest, most, .. } = self.slices[slice];
        let most = most.min(width - 1);
        let Some(&within) = totals[fewest.min(most)..=most].iter().max() else { return (0, 0) };
        let sound = |total: &usize| totals[*total] > BARRED / 2 && within > BARRED / 2;
        let rise = |total: usize, beyond: usize| (totals[total] - within).max(0).div_euclid(beyond as i64);
        let more = (most + 1..width).filter(sound).map(|t| rise(t, t - most)).max().unwrap_or(0);
        let less = (0..fewest.min(width)).filter(sound).map(|t| rise(t, fewest - t)).max().unwrap_or(0);
        if more >= less { (more, more * most as i64) } else { (-less, -less * fewest as i64) }
    }

    /// The bound at these prices; `None` when the scope holds no list. `known` are best sets of
    /// an earlier evaluation of the same scope.
    pub fn evaluate(
        &mut self,
        scope: &Scope,
        prices: &Prices,
        rows: &[crate::select::model::Row],
        known: Option<&[Subset]>,
    ) -> Option<Evaluation> {
        self.price(scope, prices, rows);
        let mut sum = self.fixed(prices, rows);
        let mut sets = Vec::with_capacity(self.model.zones.len());
        for z in 0..self.model.zones.len() {
            let set = self.grower(scope, z).best(known.map(|sets| sets[z]))?;
            sum += set.value;
            sets.push(set);
        }
        let class_counts = [0, 1].map(|kind| {
            let weight = -self.model.contrast[kind] * UNIT;
            let mut picked = Vec::with_capacity(self.model.classes[kind]);
            for class in 0..self.model.classes[kind] {
                self.own.for_class(self.model, &self.layout, scope, prices, kind, class);
                let own = self.own.slices();
                self.sweep.tables(&own, weight, &mut self.tables);
                sum += self.tables[0][0];
                let mut counts = vec![0; self.model.zones.len()];
                self.sweep.attain(&own, weight, &self.tables, &mut counts);
                picked.push(counts);
            }
            picked
        });
        let weight = self.model.contrast.iter().sum::<i64>() * UNIT;
        self.own.for_sizes(self.model, &self.layout, scope, prices, self.sweep.left_out());
        let own = self.own.slices();
        let width = self.sweep.tables_by_total(&own, weight, &mut self.tables);
        let totals = &self.tables[0][..width];
        let best_total = |slice: &Slice| {
            let range = slice.fewest.min(width)..(slice.most + 1).min(width);
            range.map(|total| (totals[total], std::cmp::Reverse(total))).max()
        };
        let by_slice: Vec<i64> = scope
            .slices
            .iter()
            .map(|&s| {
                let slice = &self.slices[s];
                let size = best_total(slice).map_or(BARRED, |(worth, _)| worth);
                if size <= BARRED / 2 { BARRED } else { sum + size - prices.fast * slice.fast as i64 }
            })
            .collect();
        let slice = (0..by_slice.len()).max_by_key(|&s| (by_slice[s], std::cmp::Reverse(s)))?;
        let bound = by_slice[slice];
        if bound <= BARRED / 2 {
            return None;
        }
        let (_, std::cmp::Reverse(total)) = best_total(&self.slices[scope.slices[slice]])?;
        let mut sizes = vec![0; self.model.zones.len()];
        self.sweep.attain_total(&own, weight, &self.tables, total, &mut sizes);
        Some(Evaluation { bound, by_slice, slice, sets, class_counts, sizes })
    }
}
