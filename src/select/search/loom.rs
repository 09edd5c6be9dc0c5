//! What the join looks up: sets by zone and state, in join order, and what touching zones add.

use super::pairs::{Pairs, Spot};
use super::tilt::{TILTS, Tilts, Use};
use super::zone::Subset;
use crate::select::fault::MOST_IN_ZONE;
use crate::select::model::Model;

/// Entries of all tables of pairs together.
const LARGEST_TABLES: usize = 12_000_000;

/// One set of a zone.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry {
    /// How far it falls short of the best set of its state.
    pub slack: i64,
    pub used: Use,
    pub items: [u16; MOST_IN_ZONE],
    pub taxa: [u32; MOST_IN_ZONE],
    pub low: u16,
    pub high: u16,
    pub size: u8,
}

/// A touching zone further down.
#[derive(Debug)]
pub(super) struct Later {
    pub level: usize,
    /// How many touching zones it has above this one.
    pub slot: usize,
    /// What the pair adds, this level's state by row.
    pub table: Vec<i32>,
}

#[derive(Debug)]
pub(super) struct Level {
    pub zone: usize,
    pub entries: Vec<Entry>,
    pub tilted: Vec<[i64; TILTS]>,
    /// First entry of each state, and one past the last.
    pub first: Vec<usize>,
    pub worth: Vec<i32>,
    pub top: i64,
    pub above: usize,
    /// Worths are counted in units times two to this power.
    pub shift: u32,
    pub later: Vec<Later>,
}

/// What each level still open has left by state, by number of placed touching zones.
pub(super) struct Walk {
    pub tables: Vec<Vec<Vec<i32>>>,
    pub tops: Vec<Vec<i64>>,
    pub chosen: Vec<u32>,
}

impl Level {
    pub fn new(
        model: &Model,
        zone: usize,
        (sets, own): (&[Subset], &[i64]),
        spot: &Spot,
        tilts: &Tilts,
    ) -> Self {
        let (place, top) = (&model.zones[zone], spot.best());
        let mut kept: Vec<(usize, Entry)> = Vec::new();
        for (set, &own) in sets.iter().zip(own) {
            let Some(state) = spot.state_of(set) else { continue };
            let slack = spot.shortfall(state, own);
            let at = usize::from(set.size).max(1) - 1;
            let mut taxa = [0; MOST_IN_ZONE];
            for (slot, item) in taxa.iter_mut().zip(set.items()) {
                *slot = place.items[item].taxon as u32;
            }
            let used = Use {
                cost: set.items().map(|i| place.items[i].cost[at]).sum(),
                trim: set.items().map(|i| place.items[i].trim[at]).sum(),
                fast: set.items().filter(|&i| model.fast[place.items[i].taxon]).count() as i64,
                taxa: i64::from(set.size),
            };
            let (low, high) = (set.low, set.high);
            kept.push((state, Entry { slack, used, items: set.items, taxa, low, high, size: set.size }));
        }
        kept.sort_unstable_by_key(|(state, e)| (*state, e.slack, e.items));
        let first = (0..=spot.states.len()).map(|s| kept.partition_point(|(state, _)| *state < s)).collect();
        let entries: Vec<Entry> = kept.into_iter().map(|(_, entry)| entry).collect();
        let tilted = entries.iter().map(|e| tilts.of(e.used)).collect();
        Self {
            zone,
            tilted,
            entries,
            first,
            worth: spot.worth.clone(),
            top,
            above: 0,
            shift: spot.shift,
            later: Vec::new(),
        }
    }

    /// A worth in units.
    pub fn fine(&self, worth: i32) -> i64 {
        i64::from(worth) << self.shift
    }

    /// Tells the touching zones further down; returns what is left of the bound.
    pub fn place(&self, state: usize, mut bound: i64, floor: i64, walk: &mut Walk) -> i64 {
        for later in &self.later {
            let (before, after) = walk.tables[later.level].split_at_mut(later.slot + 1);
            let (before, after) = (&before[later.slot], &mut after[0]);
            let row = &later.table[state * before.len()..][..before.len()];
            let mut top = i32::MIN;
            for ((after, before), gain) in after.iter_mut().zip(before).zip(row) {
                *after = before + gain;
                top = top.max(*after);
            }
            let tops = &mut walk.tops[later.level];
            let top = self.fine(top);
            tops[later.slot + 1] = top;
            bound -= tops[later.slot] - top;
            if bound < floor {
                break;
            }
        }
        bound
    }
}

/// The fewest sets first, then always the fewest beside the zones placed.
pub(super) fn order(model: &Model, levels: &[Level]) -> Vec<usize> {
    let mut order: Vec<usize> = Vec::new();
    while order.len() < levels.len() {
        let apart = |zone: usize| !order.is_empty() && !order.iter().any(|&z| model.touching[z][zone]);
        let open = (0..levels.len()).filter(|z| !order.contains(z));
        let next = open.min_by_key(|&z| (apart(z), levels[z].entries.len(), z));
        order.extend(next);
    }
    order
}

/// Lays out the tables between each level and the touching ones after it.
pub(super) fn link(levels: &mut [Level], pairs: &Pairs) -> Option<()> {
    let mut spent = 0;
    for at in 0..levels.len() {
        for below in at + 1..levels.len() {
            let zones = [levels[at].zone, levels[below].zone];
            let Some((pair, side)) = pairs.edges.iter().find_map(|pair| {
                (pair.zones == zones)
                    .then_some((pair, 0))
                    .or((pair.zones == [zones[1], zones[0]]).then_some((pair, 1)))
            }) else {
                continue;
            };
            let (rows, width) = (levels[at].worth.len(), levels[below].worth.len());
            spent += rows * width;
            if spent > LARGEST_TABLES {
                return None;
            }
            let left = |n: usize| pair.left(&pairs.spots, side, n / width, n % width);
            let table = (0..rows * width).map(left).collect();
            let slot = levels[below].above;
            levels[below].above += 1;
            levels[at].later.push(Later { level: below, slot, table });
        }
    }
    Some(())
}
