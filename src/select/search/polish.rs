//! Betters a list zone by zone: with the others held, a zone's best set is found exactly.

use super::prices::{Prices, UNIT};
use super::relax::Relaxation;
use super::scope::Scope;
use super::verdict::judged;
use super::zone::{Grower, PricedZone, Subset};
use crate::select::model::{KINDS, Model, Row};

/// Sets of one zone tried before moving on; resource limits may rule out very many.
const MOST_TRIES: usize = 400;
/// Rounds over all zones.
const MOST_ROUNDS: usize = 8;

/// A list at least as good as `picks`, whose value is `value`.
pub(super) fn polish(
    relaxation: &Relaxation,
    scope: &Scope,
    rows: &[Row],
    value: i64,
    picks: Vec<(usize, usize)>,
) -> (i64, Vec<(usize, usize)>) {
    let model = relaxation.model;
    let mut best = (value, picks);
    let mut priced = PricedZone::default();
    let free = Prices {
        classes: relaxation.layout.class_len.map(|len| vec![0; len]),
        counts: vec![0; relaxation.layout.count_len],
        heights: vec![0; model.lines.len() * relaxation.layout.line_width],
        ..Prices::default()
    };
    for _ in 0..MOST_ROUNDS {
        let before = best.0;
        for zone in 0..model.zones.len() {
            let others: Vec<(usize, usize)> = best.1.iter().copied().filter(|p| p.0 != zone).collect();
            let (mut alone, beside) = surroundings(model, scope, zone, &others);
            alone.least = alone.least.max(alone.forced.len());
            priced.fill(model, &relaxation.layout, &alone, zone, &free, &beside);
            let grower = Grower { model, zone: &model.zones[zone], scope: &alone, priced: &priced };
            let held = grower_value(model, zone, &best.1, &beside);
            let (mut floor, mut tries) = (held + 1, 0);
            grower.above(&mut floor, &mut |set: &Subset, floor| {
                tries += 1;
                let mut list = others.clone();
                list.extend(set.items().map(|item| (zone, item)));
                if let Some(value) = judged(model, &list, rows).filter(|&v| v > best.0) {
                    best = (value, list);
                    *floor = set.value + 1;
                }
                tries < MOST_TRIES
            });
        }
        if best.0 == before {
            break;
        }
    }
    best
}

/// The zone's scope and what each taxon is worth beside the other zones' picks, in units.
fn surroundings(
    model: &Model,
    scope: &Scope,
    zone: usize,
    others: &[(usize, usize)],
) -> (super::scope::ZoneScope, Vec<i64>) {
    let mut alone = scope.zones[zone].clone();
    let mut beside = vec![0; model.taxa.len()];
    for (n, item) in model.zones[zone].items.iter().enumerate() {
        for &(z, other) in others {
            let other = &model.zones[z].items[other];
            let taller =
                |near: usize, far: usize, a: usize, b: usize| a > b && model.lines.contains(&(near, far));
            if other.taxon == item.taxon
                || model.against[item.taxon].binary_search(&other.taxon).is_ok()
                || taller(z, zone, other.height, item.height)
                || taller(zone, z, item.height, other.height)
            {
                alone.open[n] = false;
            }
            if model.touching[z][zone] {
                let unlike = |kind: usize| i64::from(item.classes[kind] != other.classes[kind]);
                let contrast: i64 = (0..KINDS).map(|k| model.contrast[k] * unlike(k)).sum();
                beside[item.taxon] +=
                    (contrast - model.genus_weight * i64::from(item.genus == other.genus)) * UNIT;
            }
        }
    }
    (alone, beside)
}

/// What the zone's present set comes to in the same measure.
fn grower_value(model: &Model, zone: usize, picks: &[(usize, usize)], beside: &[i64]) -> i64 {
    let here: Vec<_> = picks.iter().filter(|p| p.0 == zone).map(|p| &model.zones[zone].items[p.1]).collect();
    let mut sum = 0;
    for (n, item) in here.iter().enumerate() {
        sum += item.worth[here.len() - 1] * UNIT + beside[item.taxon];
        for other in &here[..n] {
            let unlike = |kind: usize| i64::from(item.classes[kind] != other.classes[kind]);
            let contrast: i64 = (0..KINDS).map(|k| model.contrast[k] * unlike(k)).sum();
            sum += (contrast - model.genus_weight * i64::from(item.genus == other.genus)) * UNIT;
        }
    }
    sum
}
