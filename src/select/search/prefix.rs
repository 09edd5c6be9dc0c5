//! Whole lists begun: sets for the first zones of a board, with a bound on every completion.
//!
//! A prefix's bound starts at the relaxation's and loses what each set falls short of its zone's
//! best, what its counts cost the class and size sweeps, and what heights, kinship and unused
//! limits cost. The beam grows them; the exact join (`joint`) holds its own prefixes against them.

use super::board::{Board, Entry};
use super::prices::charge;
use super::verdict::kinship;
use crate::select::model::{FREE, KINDS};

/// Sets chosen for the first zones of the board's order.
#[derive(Debug, Clone)]
pub(super) struct Prefix {
    /// Upper bound on every list with this prefix, in units.
    pub bound: i64,
    /// Position in each level's short list.
    pub chosen: Vec<u32>,
    /// Frontier states of the class sweeps, kind after kind, and of the size sweep.
    pub states: Vec<u32>,
    pub size_state: u32,
    pub taxa: u32,
    pub cost: i64,
    pub trim: i64,
    pub fast: i64,
}

/// Losses by class vector and size at one prefix.
#[derive(Debug, Default)]
pub(super) struct Losses {
    vectors: [Vec<i64>; KINDS],
    sizes: Vec<i64>,
    by_count: Vec<i64>,
}

impl Losses {
    /// The bound after an entry, by counts alone.
    pub fn after(&self, prefix: &Prefix, entry: &Entry) -> i64 {
        prefix.bound - entry.slack - self.of(entry.vectors, entry.size)
    }

    /// What class vectors and a size cost.
    pub fn of(&self, vectors: [u32; KINDS], size: u8) -> i64 {
        self.vectors[0][vectors[0] as usize]
            + self.vectors[1][vectors[1] as usize]
            + self.sizes[usize::from(size)]
    }
}

impl Board<'_> {
    pub fn start(&self) -> Prefix {
        Prefix {
            bound: self.bound,
            chosen: Vec::new(),
            states: vec![0; self.class_tables.len()],
            size_state: 0,
            taxa: 0,
            cost: 0,
            trim: 0,
            fast: 0,
        }
    }

    /// Fills the losses at a prefix; returns the smallest that any entry can have.
    pub fn fill_losses(&self, prefix: &Prefix, losses: &mut Losses) -> i64 {
        let level = prefix.chosen.len();
        let zone = &self.model.zones[self.sweep.zone(level)];
        let width = zone.most + 1;
        let mut least = 0;
        for kind in 0..KINDS {
            let first = self.first_class[kind];
            let mut absent = 0;
            losses.by_count.clear();
            losses.by_count.resize(zone.classes[kind].present.len() * width, 0);
            for class in 0..self.model.classes[kind] {
                let table = &self.class_tables[first + class];
                let state = prefix.states[first + class] as usize;
                let before = table[level][state];
                let own = self.class_own(kind, class, level);
                let weight = self.class_weight[kind];
                let loss = |count: usize| {
                    let pair = self.sweep.pair_term(level, state, count, weight);
                    before - own[count] - pair - table[level + 1][self.sweep.step(level, state, count)]
                };
                match zone.classes[kind].present.binary_search(&class) {
                    Ok(local) => {
                        for count in 0..width {
                            losses.by_count[local * width + count] = loss(count);
                        }
                    }
                    Err(_) => absent += loss(0),
                }
            }
            let vectors = &mut losses.vectors[kind];
            vectors.clear();
            let spread = &zone.classes[kind].spread;
            vectors.extend(self.vectors[level][kind].iter().map(|&id| {
                let counts = spread.counts(id as usize).iter().enumerate();
                counts.fold(absent, |sum, (local, &count)| {
                    sum + losses.by_count[local * width + usize::from(count)]
                })
            }));
            least += vectors.iter().min().copied().unwrap_or(0);
        }
        losses.sizes.clear();
        let before = self.size_rest(level, prefix.size_state as usize, prefix.taxa as usize);
        losses.sizes.extend((0..width).map(|size| before - self.size_after(level, prefix, size)));
        least + losses.sizes.iter().min().copied().unwrap_or(0)
    }

    /// The bound with everything else an entry costs; `None` when it breaks a rule or falls
    /// below the floor.
    pub fn checked(&self, prefix: &Prefix, entry: &Entry, bound: i64, floor: i64) -> Option<i64> {
        let (model, level) = (self.model, prefix.chosen.len());
        let rest = &self.rest[level + 1];
        let (cost, trim) = (prefix.cost + entry.cost, prefix.trim + entry.trim);
        let fast = prefix.fast + i64::from(entry.fast);
        if cost + rest.cost.0 > model.budget
            || trim + rest.trim.0 > model.trim
            || fast + rest.fast.1 < self.asked_fast
        {
            return None;
        }
        let wasted = charge(self.prices.budget, unused(model.budget, cost + rest.cost.1))
            + charge(self.prices.trim, unused(model.trim, trim + rest.trim.1))
            + self.prices.fast * (fast + rest.fast.0 - self.asked_fast).max(0);
        let mut bound = bound;
        if bound - wasted < floor {
            return None;
        }
        for (earlier, &position) in prefix.chosen.iter().enumerate() {
            let other = &self.lists[earlier][position as usize];
            for line in &self.sight[level][earlier] {
                let (high, low) = if line.nearer { (entry.high, other.low) } else { (other.high, entry.low) };
                if high > low {
                    return None;
                }
                let passed = &self.passed[line.number];
                bound -= passed[usize::from(low)] - passed[usize::from(high)];
            }
            if bound - wasted < floor {
                return None;
            }
            bound -= self.beside(level, entry, earlier, other)?;
        }
        (bound - wasted >= floor).then_some(bound)
    }

    /// What kinship between two sets costs; `None` when they may not stand together.
    fn beside(&self, level: usize, entry: &Entry, earlier: usize, other: &Entry) -> Option<i64> {
        let model = self.model;
        let touching = model.touching[self.sweep.zone(level)][self.sweep.zone(earlier)];
        let (size, other_size) = (usize::from(entry.size), usize::from(other.size));
        let kin = kinship(model, &entry.taxa[..size], &other.taxa[..other_size])?;
        Some(if touching { kin * self.kin_weight } else { 0 })
    }

    /// The prefix with an entry more.
    pub fn extended(&self, prefix: &Prefix, position: usize, entry: &Entry, bound: i64) -> Prefix {
        let level = prefix.chosen.len();
        let zone = &self.model.zones[self.sweep.zone(level)];
        let mut next = prefix.clone();
        next.bound = bound;
        next.chosen.push(position as u32);
        for kind in 0..KINDS {
            let classes = &zone.classes[kind];
            let id = self.vectors[level][kind][entry.vectors[kind] as usize] as usize;
            let counts = classes.spread.counts(id);
            let first = self.first_class[kind];
            for class in 0..self.model.classes[kind] {
                let count =
                    classes.present.binary_search(&class).map_or(0, |local| usize::from(counts[local]));
                let state = &mut next.states[first + class];
                *state = self.sweep.step(level, *state as usize, count) as u32;
            }
        }
        let size = usize::from(entry.size);
        next.size_state = self.sweep.step(level, prefix.size_state as usize, size) as u32;
        next.taxa += size as u32;
        next.cost += entry.cost;
        next.trim += entry.trim;
        next.fast += i64::from(entry.fast);
        next
    }

    /// The picks of a whole prefix, as zone and item.
    pub fn picks(&self, prefix: &Prefix) -> Vec<(usize, usize)> {
        let mut picks = Vec::new();
        for (level, &position) in prefix.chosen.iter().enumerate() {
            let zone = self.sweep.zone(level);
            let entry = &self.lists[level][position as usize];
            picks.extend(entry.items().map(|item| (zone, item)));
        }
        picks
    }
}

fn unused(limit: i64, used: i64) -> i64 {
    if limit >= FREE { 0 } else { (limit - used).max(0) }
}
