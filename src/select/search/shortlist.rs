//! Short lists: the sets of a zone that matter at given prices.

use std::collections::BinaryHeap;

use super::relax::Relaxation;
use super::scope::Scope;
use super::zone::Subset;

/// Every set of `zone` at most `gap` below the zone's best, unless there are more than `most`.
pub(super) fn within(
    relaxation: &Relaxation,
    scope: &Scope,
    zone: usize,
    best: i64,
    gap: i64,
    most: usize,
) -> Option<Vec<Subset>> {
    let mut sets = Vec::new();
    let mut floor = best - gap;
    relaxation.grower(scope, zone).above(&mut floor, &mut |set, _| {
        sets.push(*set);
        sets.len() <= most
    });
    (sets.len() <= most).then_some(sets)
}

/// The `most` best sets of `zone`; among equals the first met.
pub(super) fn best_few(relaxation: &Relaxation, scope: &Scope, zone: usize, most: usize) -> Vec<Subset> {
    let mut heap: BinaryHeap<(std::cmp::Reverse<i64>, usize)> = BinaryHeap::new();
    let mut sets: Vec<Subset> = Vec::new();
    let mut floor = super::sweep::BARRED / 2;
    relaxation.grower(scope, zone).above(&mut floor, &mut |set, floor| {
        if heap.len() < most {
            heap.push((std::cmp::Reverse(set.value), sets.len()));
            sets.push(*set);
        } else if let Some((_, slot)) = heap.pop() {
            sets[slot] = *set;
            heap.push((std::cmp::Reverse(set.value), slot));
        }
        if heap.len() == most {
            *floor = heap.peek().map_or(*floor, |(worst, _)| worst.0 + 1);
        }
        true
    });
    sets
}
