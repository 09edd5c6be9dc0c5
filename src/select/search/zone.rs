//! One zone at given prices: the best set of items it can hold, or every set above a floor.
//!
//! A set is grown item by item in falling priced value; what is still missing is bounded by the
//! next values in line and by the best completion of its class counts.

use super::prices::{Layout, Prices, UNIT, charge};
use super::scope::ZoneScope;
use super::sweep::BARRED;
use crate::select::fault::MOST_IN_ZONE;
use crate::select::model::{KINDS, Model, ZoneModel};

/// A set of items of one zone, with what other zones need to know of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Subset {
    pub items: [u16; MOST_IN_ZONE],
    pub size: u8,
    /// Number of its count vector of each kind, in the zone's spreads.
    pub classes: [u32; KINDS],
    /// Rank of the lowest and highest item; an empty set lies above and below everything.
    pub low: u16,
    pub high: u16,
    /// Its priced value.
    pub value: i64,
}

impl Subset {
    pub fn empty(model: &Model) -> Self {
        let low = model.heights as u16 + 1;
        Self { items: [0; MOST_IN_ZONE], size: 0, classes: [0; KINDS], low, high: 0, value: 0 }
    }

    pub fn items(&self) -> impl Iterator<Item = usize> {
        self.items[..usize::from(self.size)].iter().map(|&i| usize::from(i))
    }
}

/// A zone's tables at given prices.
#[derive(Debug, Default)]
pub(super) struct PricedZone {
    /// Priced value of each item with the steepest pay for its classes, for each count from 1 (a
    /// single table when counts don't matter).
    values: Vec<Vec<i64>>,
    /// Open items by falling value, likewise.
    orders: Vec<Vec<u16>>,
    /// For each kind and local class: the most that one item more of it is paid, on average, by
    /// contrast inside the zone and prices of counts. Items carry it, so that they stand in line by
    /// what they bring and the tables of vectors hold only what such straight pay overstates.
    slopes: [Vec<i64>; KINDS],
    /// For each kind and count vector: contrast inside the zone and prices of its counts, without
    /// what its items carry.
    classes: [Vec<i64>; KINDS],
    /// `[kind][size][vector]`: the most that `classes` can come to when grown to `size`.
    grown: [Vec<Vec<i64>>; KINDS],
    /// Price of each size.
    sizes: Vec<i64>,
    /// Height prices by rank of the lowest and of the highest item; both fall with worse heights.
    low: Vec<i64>,
    high: Vec<i64>,
}

impl PricedZone {
    /// Fills the tables. `by_taxon` is what each taxon pays to rows, as a negative amount.
    pub fn fill(
        &mut self,
        model: &Model,
        layout: &Layout,
        scope: &ZoneScope,
        zone: usize,
        prices: &Prices,
        by_taxon: &[i64],
    ) {
        let place = &model.zones[zone];
        for kind in 0..KINDS {
            self.fill_classes(model, layout, scope, zone, prices, kind);
        }
        let [texture, colour] = &self.slopes;
        let tables = if place.uniform { 1.min(place.most) } else { place.most };
        self.values.resize(tables, Vec::new());
        self.orders.resize(tables, Vec::new());
        for k in 0..tables {
            let values = &mut self.values[k];
            values.clear();
            values.extend(place.items.iter().map(|item| {
                item.worth[k] * UNIT + by_taxon[item.taxon] + texture[item.local[0]] + colour[item.local[1]]
                    - charge(prices.budget, item.cost[k])
                    - charge(prices.trim, item.trim[k])
            }));
            let order = &mut self.orders[k];
            order.clear();
            order.extend((0..place.items.len() as u16).filter(|&i| scope.open[usize::from(i)]));
            order.sort_unstable_by_key(|&i| (-values[usize::from(i)], i));
        }
        let at = layout.count_at[zone];
        self.sizes.clear();
        self.sizes.extend_from_slice(&prices.counts[at..=at + place.most]);
        self.fill_heights(model, layout, zone, prices);
    }

    fn fill_classes(
        &mut self,
        model: &Model,
        layout: &Layout,
        scope: &ZoneScope,
        zone: usize,
        prices: &Prices,
        kind: usize,
    ) {
        let place = &model.zones[zone];
        let spread = &place.classes[kind].spread;
        let width = place.most + 1;
        let paid = &prices.classes[kind][layout.class_at[kind][zone]..];
        let contrast = model.contrast[kind] * UNIT;
        let slopes = &mut self.slopes[kind];
        slopes.clear();
        slopes.extend((0..spread.classes).map(|local| {
            let (least, most) = scope.classes[kind][local];
            let pay = &paid[local * width..][..width];
            let mean =
                |n: usize| (pay[n] - pay[0] - contrast * (n * (n - 1) / 2) as i64).div_euclid(n as i64);
            (usize::from(least).max(1)..=usize::from(most)).map(mean).max().unwrap_or(0)
        }));
        let table = &mut self.classes[kind];
        table.clear();
        for id in 0..spread.upto(place.most) {
            let mut sum = contrast * spread.unlike_pairs(id);
            for (local, &count) in spread.counts(id).iter().enumerate() {
                let (least, most) = scope.classes[kind][local];
                if count < least || count > most {
                    sum = BARRED;
                    break;
                }
                sum += paid[local * width + usize::from(count)] - slopes[local] * i64::from(count);
            }
            table.push(sum);
        }
        let grown = &mut self.grown[kind];
        grown.resize(width, Vec::new());
        for (size, best) in grown.iter_mut().enumerate().take(scope.most + 1).skip(scope.least) {
            best.clear();
            best.extend_from_slice(&table[..spread.upto(size)]);
            let below = if size == 0 { 0 } else { spread.upto(size - 1) };
            for id in (0..below).rev() {
                best[id] = (0..spread.classes).map(|c| best[spread.more(id, c)]).max().unwrap_or(BARRED);
            }
        }
    }

    fn fill_heights(&mut self, model: &Model, layout: &Layout, zone: usize, prices: &Prices) {
        let ranks = model.heights + 2;
        self.low.clear();
        self.low.resize(ranks, 0);
        self.high.clear();
        self.high.resize(ranks, 0);
        for (line, &(near, far)) in model.lines.iter().enumerate() {
            let thresholds = &prices.heights[line * layout.line_width..][..layout.line_width];
            if near == zone {
                let mut passed = 0;
                for (rank, high) in self.high.iter_mut().enumerate() {
                    *high -= passed;
                    passed += thresholds.get(rank).copied().unwrap_or(0);
                }
            }
            if far == zone {
                let mut ahead = 0;
                for (rank, low) in self.low.iter_mut().enumerate().rev() {
                    ahead += thresholds.get(rank).copied().unwrap_or(0);
                    *low -= ahead;
                }
            }
        }
    }

    /// Open items by falling value in the fullest zone.
    pub fn order(&self) -> &[u16] {
        self.orders.last().map_or(&[], Vec::as_slice)
    }

    /// What a set is worth at these prices without pay for its counts of classes and its size.
    pub fn own(&self, model: &Model, layout: &Layout, prices: &Prices, z: usize, set: &Subset) -> i64 {
        let zone = &model.zones[z];
        let width = zone.most + 1;
        let mut sum = set.value - self.sizes[usize::from(set.size)];
        for (kind, classes) in zone.classes.iter().enumerate() {
            let paid = &prices.classes[kind][layout.class_at[kind][z]..];
            let counts = classes.spread.counts(set.classes[kind] as usize).iter().enumerate();
            sum -= counts.map(|(local, &n)| paid[local * width + usize::from(n)]).sum::<i64>();
        }
        sum
    }

    fn table(&self, size: usize) -> usize {
        size.saturating_sub(1).min(self.values.len().saturating_sub(1))
    }

    /// What a set is worth at these prices.
    pub fn value_of(&self, model: &Model, zone: &ZoneModel, set: &Subset) -> i64 {
        let size = usize::from(set.size);
        let mut sum = self.sizes[size]
            + self.classes[0][set.classes[0] as usize]
            + self.classes[1][set.classes[1] as usize]
            + self.low[usize::from(set.low)]
            + self.high[usize::from(set.high)];
        for (n, item) in set.items().enumerate() {
            sum += self.values[self.table(size)][item];
            let kin = set.items().take(n).filter(|&i| zone.items[i].genus == zone.items[item].genus).count();
            sum -= kin as i64 * model.genus_weight * UNIT;
        }
        sum
    }
}

/// Grows sets of one zone at given prices.
pub(super) struct Grower<'a> {
    pub model: &'a Model,
    pub zone: &'a ZoneModel,
    pub scope: &'a ZoneScope,
    pub priced: &'a PricedZone,
}

impl Grower<'_> {
    /// A set of largest value; `known` may be an earlier best set, to start from. `None` when the
    /// zone can hold no set at all.
    pub fn best(&self, known: Option<Subset>) -> Option<Subset> {
        let mut best = known.map(|mut set| {
            set.value = self.priced.value_of(self.model, self.zone, &set);
            set
        });
        let mut floor = best.map_or(BARRED / 2, |set| set.value + 1);
        self.above(&mut floor, &mut |set, floor| {
            best = Some(*set);
            *floor = set.value + 1;
            true
        });
        best
    }

    /// Shows `visit` every set worth at least `floor`, which it may raise, until it says no.
    pub fn above(&self, floor: &mut i64, visit: &mut impl FnMut(&Subset, &mut i64) -> bool) {
        for size in (self.scope.least..=self.scope.most).rev() {
            let table = self.priced.table(size);
            let mut set = Subset::empty(self.model);
            let mut sum = self.priced.sizes[size];
            let mut sound = true;
            for &item in &self.scope.forced {
                sum += self.priced.values[table][usize::from(item)];
                match self.with(&set, usize::from(item)) {
                    Some((next, kin)) => {
                        set = next;
                        sum -= kin;
                    }
                    None => sound = false,
                }
            }
            if sound && !self.grow(size, table, 0, set, sum, floor, visit) {
                return;
            }
        }
    }

    /// The set with one more item, and what kinship costs; `None` if they may not stand together.
    fn with(&self, set: &Subset, item: usize) -> Option<(Subset, i64)> {
        let new = &self.zone.items[item];
        let against = &self.model.against[new.taxon];
        let mut kin = 0;
        for other in set.items() {
            let other = &self.zone.items[other];
            kin += usize::from(other.genus == new.genus);
            if !against.is_empty() && against.binary_search(&other.taxon).is_ok() {
                return None;
            }
        }
        if kin >= self.model.per_genus {
            return None;
        }
        let mut next = *set;
        next.items[usize::from(set.size)] = item as u16;
        next.size += 1;
        for kind in 0..KINDS {
            let spread = &self.zone.classes[kind].spread;
            next.classes[kind] = spread.more(set.classes[kind] as usize, new.local[kind]) as u32;
        }
        next.low = set.low.min(new.height as u16);
        next.high = set.high.max(new.height as u16);
        Some((next, kin as i64 * self.model.genus_weight * UNIT))
    }

    fn rest(&self, size: usize, set: &Subset) -> i64 {
        self.priced.grown[0][size][set.classes[0] as usize]
            + self.priced.grown[1][size][set.classes[1] as usize]
            + self.priced.low[usize::from(set.low)]
            + self.priced.high[usize::from(set.high)]
    }

    #[allow(clippy::too_many_arguments)]
    fn grow(
        &self,
        size: usize,
        table: usize,
        from: usize,
        set: Subset,
        sum: i64,
        floor: &mut i64,
        visit: &mut impl FnMut(&Subset, &mut i64) -> bool,
    ) -> bool {
        let missing = size - usize::from(set.size);
        let rest = self.rest(size, &set);
        if missing == 0 {
            let value = sum + rest;
            return value < *floor || visit(&Subset { value, ..set }, floor);
        }
        let (Some(values), Some(order)) = (self.priced.values.get(table), self.priced.orders.get(table))
        else {
            return true;
        };
        let value = |item: u16| values[usize::from(item)];
        for (at, line) in order.windows(missing).enumerate().skip(from) {
            let next_in_line: i64 = line.iter().map(|&item| value(item)).sum();
            if sum + next_in_line + rest < *floor {
                break;
            }
            let Some((next, kin)) = self.with(&set, usize::from(line[0])) else { continue };
            if sum + next_in_line - kin + self.rest(size, &next) < *floor {
                continue;
            }
            if !self.grow(size, table, at + 1, next, sum + value(line[0]) - kin, floor, visit) {
                return false;
            }
        }
        true
    }
}
