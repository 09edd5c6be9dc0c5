//! Splits a scope in two where the relaxation is torn.
//!
//! A split says something of one zone (its size, its count of a class, an item) or of a taxon
//! (nowhere, or in which zone). Sizes, items and taxa are looked for where the sets met on the way
//! of the ascent differ (`usage`); what the halves of a count lose at the present prices is read
//! off short lists and class sweeps.

use super::prices::{Prices, UNIT};
use super::relax::{Own, Relaxation};
use super::scope::{Scope, ZoneScope};
use super::sweep::BARRED;
use super::usage::Usage;
use super::zone::Subset;
use crate::select::model::{KINDS, Model, ZoneModel};

/// Tornness below which a split is not worth a probe.
const LITTLE: f64 = 0.02;

/// A way to split.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Split {
    /// The zone holds at most this many, or more.
    Size(usize, usize),
    /// The zone holds at most this many of a local class of a kind, or more.
    Class { zone: usize, kind: usize, local: usize, count: usize },
    /// The zone holds the item, or not.
    Item(usize, usize),
    /// The taxon stands nowhere, or in this zone, or that.
    Taxon(usize),
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

/// What splits are looked for by.
pub(super) struct Torn<'a> {
    pub samples: &'a [Sample],
    pub usage: &'a Usage,
    /// What the bound is above the floor.
    pub gap: i64,
}

/// The most promising splits of every sort, at most `each` of a sort; none when the scope cannot
/// be split (every zone has one set left).
pub(super) fn promising(
    relaxation: &Relaxation,
    scope: &Scope,
    prices: &Prices,
    torn: &Torn<'_>,
    each: usize,
) -> Vec<Split> {
    let mut splits = by_usage(relaxation.model, scope, torn.usage, each);
    let mut counts = Vec::new();
    classes(relaxation, scope, prices, torn.samples, &mut counts);
    let score = |c: &Choice| {
        let (a, b) = (c.losses.0.clamp(0, torn.gap), c.losses.1.clamp(0, torn.gap));
        std::cmp::Reverse((a.min(b), a.max(b)))
    };
    counts.sort_by_key(score);
    splits.extend(counts.iter().take(each).map(|c| c.split));
    if splits.is_empty() {
        splits.extend(any(scope));
    }
    splits
}

/// Sizes, items and taxa over which the sets met are torn most.
fn by_usage(model: &Model, scope: &Scope, usage: &Usage, each: usize) -> Vec<Split> {
    let mut sorts: [Vec<(f64, Split)>; 3] = Default::default();
    let mut places: Vec<Vec<(usize, usize)>> = vec![Vec::new(); model.taxa.len()];
    for (zone, (place, own)) in model.zones.iter().zip(&scope.zones).enumerate() {
        for size in own.least..own.most {
            sorts[0].push((usage.over_size(zone, size), Split::Size(zone, size)));
        }
        for (n, item) in place.items.iter().enumerate().filter(|(n, _)| own.open[*n]) {
            sorts[1].push((usage.over_item(zone, n), Split::Item(zone, n)));
            places[item.taxon].push((zone, n));
        }
    }
    for (taxon, places) in places.iter().enumerate().filter(|(_, places)| places.len() > 1) {
        sorts[2].push((usage.over_taxon(places), Split::Taxon(taxon)));
    }
    let mut splits = Vec::new();
    for sort in &mut sorts {
        sort.retain(|(torn, _)| *torn > LITTLE);
        sort.sort_by(|a, b| b.0.total_cmp(&a.0));
        splits.extend(sort.iter().take(each).map(|(_, split)| *split));
    }
    splits
}

/// Some split of a scope that no sort sees torn.
fn any(scope: &Scope) -> Option<Split> {
    let mut zones = scope.zones.iter().enumerate();
    zones.find_map(|(zone, own)| {
        let size = (own.least < own.most).then_some(Split::Size(zone, own.least));
        let room = own.forced.len() < own.most;
        size.or_else(|| Some(Split::Item(zone, own.open.iter().position(|open| *open && room)?)))
    })
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

/// The parts of a scope that still have room.
pub(super) fn parts(model: &Model, scope: &Scope, split: Split) -> Vec<Scope> {
    let changed = |change: &dyn Fn(&mut Scope)| {
        let mut part = scope.clone();
        change(&mut part);
        part
    };
    let parts = match split {
        Split::Size(zone, size) => vec![
            changed(&|part| part.zones[zone].most = size),
            changed(&|part| part.zones[zone].least = size + 1),
        ],
        Split::Class { zone, kind, local, count } => vec![
            changed(&|part| part.zones[zone].classes[kind][local].1 = count as u8),
            changed(&|part| part.zones[zone].classes[kind][local].0 = count as u8 + 1),
        ],
        Split::Item(zone, item) => vec![
            changed(&|part| part.force(model, zone, item)),
            changed(&|part| part.zones[zone].open[item] = false),
        ],
        Split::Taxon(taxon) => {
            let zones = model.zones.iter().zip(&scope.zones).enumerate();
            let open = |(zone, (place, own)): (usize, (&ZoneModel, &ZoneScope))| {
                let item = place.items.binary_search_by_key(&taxon, |i| i.taxon).ok()?;
                own.open[item].then_some((zone, item))
            };
            let places: Vec<(usize, usize)> = zones.filter_map(open).collect();
            let nowhere = changed(&|part| {
                for &(zone, item) in &places {
                    part.zones[zone].open[item] = false;
                }
            });
            let somewhere = places.iter().map(|&(zone, item)| changed(&|part| part.force(model, zone, item)));
            std::iter::once(nowhere).chain(somewhere).collect()
        }
    };
    parts.into_iter().filter(|part| part.zones.iter().all(ZoneScope::has_room)).collect()
}
