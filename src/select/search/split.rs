//! Splits a scope in two where the relaxation is torn.
//!
//! A split says something of one zone (its size, its count of a class, an item) or of a sight
//! line (a height between both zones). What each half loses at the present prices is read off
//! short lists and class sweeps; the split whose lesser half loses most is taken.

use super::prices::{Prices, UNIT};
use super::relax::{Own, Relaxation};
use super::scope::Scope;
use super::sweep::BARRED;
use super::zone::Subset;
use crate::select::model::{KINDS, Model};

/// A way to split.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Split {
    /// The zone holds at most this many, or more.
    Size(usize, usize),
    /// The zone holds at most this many of a local class of a kind, or more.
    Class { zone: usize, kind: usize, local: usize, count: usize },
    /// Everything in the nearer zone of the line is at or below the rank, or everything in the
    /// farther zone is above it.
    Height { line: usize, rank: usize },
    /// The zone holds the item, or not.
    Item(usize, usize),
}

/// A zone's best sets: all that fall short of the best by less than `reach`.
pub(super) struct Sample {
    pub best: i64,
    pub reach: i64,
    pub sets: Vec<Subset>,
}

impl Sample {
    /// The least that sets with a property fall short of the best.
    fn shortfall(&self, holds: impl Fn(&Subset) -> bool) -> i64 {
        let met = self.sets.iter().filter(|s| holds(s)).map(|s| self.best - s.value).min();
        met.unwrap_or(self.reach).min(self.reach)
    }
}

struct Choice {
    split: Split,
    losses: (i64, i64),
}

/// The most promising splits of every sort, at most `each` of a sort; none when the scope cannot
/// be split (every zone has one set left).
pub(super) fn promising(
    relaxation: &Relaxation,
    scope: &Scope,
    prices: &Prices,
    samples: &[Sample],
    gap: i64,
    each: usize,
) -> Vec<Split> {
    let model = relaxation.model;
    let mut sorts: [Vec<Choice>; 4] = Default::default();
    sizes(scope, samples, &mut sorts[0]);
    classes(relaxation, scope, prices, samples, &mut sorts[1]);
    heights(model, scope, samples, &mut sorts[2]);
    items(model, scope, samples, &mut sorts[3]);
    let score = |c: &Choice| {
        let (a, b) = (c.losses.0.clamp(0, gap), c.losses.1.clamp(0, gap));
        std::cmp::Reverse((a.min(b), a.max(b)))
    };
    let mut splits = Vec::new();
    for sort in &mut sorts {
        sort.sort_by_key(score);
        splits.extend(sort.iter().take(each).map(|c| c.split));
    }
    splits
}

fn sizes(scope: &Scope, samples: &[Sample], choices: &mut Vec<Choice>) {
    for (zone, sample) in samples.iter().enumerate() {
        for size in scope.zones[zone].least..scope.zones[zone].most {
            let few = sample.shortfall(|s| usize::from(s.size) <= size);
            let many = sample.shortfall(|s| usize::from(s.size) > size);
            choices.push(Choice { split: Split::Size(zone, size), losses: (few, many) });
        }
    }
}

fn classes(
    relaxation: &Relaxation,
    scope: &Scope,
    prices: &Prices,
    samples: &[Sample],
    choices: &mut Vec<Choice>,
) {
    let model = relaxation.model;
    let (mut own, mut tables) = (Own::default(), Vec::new());
    for kind in 0..KINDS {
        let weight = -model.contrast[kind] * UNIT;
        for class in 0..model.classes[kind] {
            own.for_class(model, &relaxation.layout, scope, prices, kind, class);
            let rows: Vec<Vec<i64>> = own.slices().into_iter().map(<[i64]>::to_vec).collect();
            let mut best_with = |zone: usize, allowed: &dyn Fn(usize) -> bool| {
                let barred: Vec<i64> = rows[zone]
                    .iter()
                    .enumerate()
                    .map(|(count, &own)| if allowed(count) { own } else { BARRED })
                    .collect();
                let slices: Vec<&[i64]> =
                    (0..rows.len()).map(|z| if z == zone { barred.as_slice() } else { &rows[z] }).collect();
                relaxation.sweep.tables(&slices, weight, &mut tables);
                tables[0][0]
            };
            for (zone, place) in model.zones.iter().enumerate() {
                let Ok(local) = place.classes[kind].present.binary_search(&class) else { continue };
                let (least, most) = scope.zones[zone].classes[kind][local];
                let spread = &place.classes[kind].spread;
                let of = |s: &Subset| usize::from(spread.counts(s.classes[kind] as usize)[local]);
                let whole = best_with(zone, &|_| true);
                for count in usize::from(least)..usize::from(most) {
                    let few = samples[zone].shortfall(|s| of(s) <= count) + whole
                        - best_with(zone, &|c| c <= count);
                    let many =
                        samples[zone].shortfall(|s| of(s) > count) + whole - best_with(zone, &|c| c > count);
                    let split = Split::Class { zone, kind, local, count };
                    choices.push(Choice { split, losses: (few, many) });
                }
            }
        }
    }
}

fn heights(model: &Model, scope: &Scope, samples: &[Sample], choices: &mut Vec<Choice>) {
    for (line, &(near, far)) in model.lines.iter().enumerate() {
        let ranks = |zone: usize| {
            let items = model.zones[zone].items.iter().enumerate();
            items.filter(move |(n, _)| scope.zones[zone].open[*n]).map(|(_, i)| i.height)
        };
        let (Some(lowest), Some(highest)) = (ranks(far).min(), ranks(near).max()) else { continue };
        for rank in lowest..highest {
            let low = samples[near].shortfall(|s| usize::from(s.high) <= rank);
            let high = samples[near].shortfall(|s| usize::from(s.high) > rank).max(0)
                + samples[far].shortfall(|s| usize::from(s.low) > rank);
            choices.push(Choice { split: Split::Height { line, rank }, losses: (low, high) });
        }
    }
}

fn items(model: &Model, scope: &Scope, samples: &[Sample], choices: &mut Vec<Choice>) {
    for (zone, sample) in samples.iter().enumerate() {
        let mut met = vec![false; model.zones[zone].items.len()];
        for item in sample.sets.iter().flat_map(Subset::items) {
            met[item] = true;
        }
        for item in (0..met.len()).filter(|&i| met[i] && scope.zones[zone].open[i]) {
            let taken = sample.shortfall(|s| s.items().any(|i| i == item));
            let left = sample.shortfall(|s| s.items().all(|i| i != item));
            choices.push(Choice { split: Split::Item(zone, item), losses: (taken, left) });
        }
    }
}

/// The halves of a scope that still have room.
pub(super) fn halves(model: &Model, scope: &Scope, split: Split) -> Vec<Scope> {
    let (mut one, mut other) = (scope.clone(), scope.clone());
    let mut sound = (true, true);
    match split {
        Split::Size(zone, size) => {
            one.zones[zone].most = size;
            other.zones[zone].least = size + 1;
        }
        Split::Class { zone, kind, local, count } => {
            one.zones[zone].classes[kind][local].1 = count as u8;
            other.zones[zone].classes[kind][local].0 = count as u8 + 1;
        }
        Split::Height { line, rank } => {
            let (near, far) = model.lines[line];
            sound.0 = one.close(model, near, |height| height > rank);
            sound.1 = other.close(model, far, |height| height <= rank);
            // Something nearer reaches above the rank, else the list is in the other half too;
            // seeing it twice does no harm.
        }
        Split::Item(zone, item) => {
            one.force(model, zone, item);
            other.zones[zone].open[item] = false;
        }
    }
    let keep = |scope: Scope, sound: bool| {
        (sound && scope.zones.iter().all(super::scope::ZoneScope::has_room)).then_some(scope)
    };
    [keep(one, sound.0), keep(other, sound.1)].into_iter().flatten().collect()
}
