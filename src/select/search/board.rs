//! Everything the join looks up, laid out once: short lists in join order and look-ahead tables.

use super::prices::{Prices, UNIT};
use super::relax::{Own, Relaxation};
use super::rows::Rows;
use super::scope::Scope;
use super::sweep::{BARRED, Sweep};
use super::zone::Subset;
use crate::select::fault::MOST_IN_ZONE;
use crate::select::model::{KINDS, Model};

/// One set of a zone's short list.
#[derive(Debug, Clone, Copy)]
pub(super) struct Entry {
    /// How far its priced value falls short of the zone's best.
    pub slack: i64,
    pub cost: i64,
    pub trim: i64,
    pub items: [u16; MOST_IN_ZONE],
    pub taxa: [u32; MOST_IN_ZONE],
    /// Positions of its class vectors among those in use in the list.
    pub vectors: [u32; KINDS],
    pub low: u16,
    pub high: u16,
    pub size: u8,
    pub fast: u8,
}

impl Entry {
    pub fn items(&self) -> impl Iterator<Item = usize> {
        self.items[..usize::from(self.size)].iter().map(|&i| usize::from(i))
    }
}

/// A sight line between two levels.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sight {
    pub number: usize,
    /// Whether the later level is the nearer zone.
    pub nearer: bool,
}

/// Least and most that the levels from one on can use.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Rest {
    pub cost: (i64, i64),
    pub trim: (i64, i64),
    pub fast: (i64, i64),
}

/// The tables of one join.
pub(super) struct Board<'m> {
    pub model: &'m Model,
    pub prices: Prices,
    /// Bound of the empty prefix.
    pub bound: i64,
    pub asked_fast: i64,
    pub kin_weight: i64,
    pub sweep: Sweep,
    /// Short lists by level, the best set first.
    pub lists: Vec<Vec<Entry>>,
    /// By level and kind the class vectors in use.
    pub vectors: Vec<[Vec<u32>; KINDS]>,
    /// By level and earlier level their sight lines.
    pub sight: Vec<Vec<Vec<Sight>>>,
    /// By sight line and rank: the prices of all thresholds below the rank.
    pub passed: Vec<Vec<i64>>,
    pub rest: Vec<Rest>,
    /// Look-ahead of each class, kind after kind; `first_class[kind]` is where a kind starts.
    pub class_tables: Vec<Vec<Vec<i64>>>,
    pub first_class: [usize; KINDS],
    pub class_weight: [i64; KINDS],
    class_own: Vec<Vec<Vec<i64>>>,
    /// By level, `[state * width + taxa so far]`: the most that sizes from this level on can add.
    size_rest: Vec<Vec<i64>>,
    size_own: Vec<Vec<i64>>,
    size_width: usize,
    size_weight: i64,
}

impl<'m> Board<'m> {
    /// Lays out the join of `lists`, one for each zone and valued at `prices`, for the first slice
    /// of the scope: the shortest list first, then always the shortest of those beside it.
    pub fn new(
        relaxation: &Relaxation<'m>,
        scope: &Scope,
        prices: &Prices,
        rows: &Rows,
        lists: &[Vec<Subset>],
    ) -> Self {
        let order = join_order(relaxation.model, lists);
        Self::along(&order, relaxation, scope, prices, rows, lists)
    }

    /// The same with the zones in a given order.
    pub fn along(
        order: &[usize],
        relaxation: &Relaxation<'m>,
        scope: &Scope,
        prices: &Prices,
        rows: &Rows,
        lists: &[Vec<Subset>],
    ) -> Self {
        let model = relaxation.model;
        let domains: Vec<usize> = model.zones.iter().map(|z| z.most + 1).collect();
        let sweep = Sweep::new(order, &model.touching, &domains);
        let slice = relaxation.slices[scope.slices[0]];
        let mut board = Self {
            model,
            prices: prices.clone(),
            bound: 0,
            asked_fast: slice.fast as i64,
            kin_weight: model.genus_weight * UNIT,
            lists: Vec::new(),
            vectors: Vec::new(),
            sight: sight_lines(model, order),
            passed: passed(model, relaxation.layout.line_width, prices),
            rest: Vec::new(),
            class_tables: Vec::new(),
            first_class: [0, model.classes[0]],
            class_weight: model.contrast.map(|w| -w * UNIT),
            class_own: Vec::new(),
            size_rest: Vec::new(),
            size_own: Vec::new(),
            size_width: 0,
            size_weight: model.contrast.iter().sum::<i64>() * UNIT,
            sweep,
        };
        board.bound = relaxation.fixed(prices, &rows.list) - prices.fast * board.asked_fast;
        for &zone in order {
            board.add_level(zone, &lists[zone]);
        }
        board.add_rest();
        board.add_sweeps(relaxation, scope, prices, order, slice.fewest..=slice.most);
        board
    }

    fn add_level(&mut self, zone: usize, sets: &[Subset]) {
        let place = &self.model.zones[zone];
        let best = sets.iter().map(|s| s.value).max().unwrap_or(BARRED);
        self.bound += best;
        let vectors = [0, 1].map(|kind: usize| {
            let mut used: Vec<u32> = sets.iter().map(|s| s.classes[kind]).collect();
            used.sort_unstable();
            used.dedup();
            used
        });
        let mut list: Vec<Entry> = sets
            .iter()
            .map(|set| {
                let count = usize::from(set.size);
                let mut taxa = [0; MOST_IN_ZONE];
                for (slot, item) in taxa.iter_mut().zip(set.items()) {
                    *slot = place.items[item].taxon as u32;
                }
                Entry {
                    slack: best - set.value,
                    cost: set.items().map(|i| place.items[i].cost[count - 1]).sum(),
                    trim: set.items().map(|i| place.items[i].trim[count - 1]).sum(),
                    items: set.items,
                    taxa,
                    vectors: [0, 1]
                        .map(|k: usize| vectors[k].partition_point(|&v| v < set.classes[k]) as u32),
                    low: set.low,
                    high: set.high,
                    size: set.size,
                    fast: set.items().filter(|&i| self.model.fast[place.items[i].taxon]).count() as u8,
                }
            })
            .collect();
        list.sort_by_key(|e| (e.slack, e.items));
        self.lists.push(list);
        self.vectors.push(vectors);
    }

    fn add_rest(&mut self) {
        let mut rest = vec![Rest::default()];
        let mut sum = Rest::default();
        for list in self.lists.iter().rev() {
            let span = |of: &dyn Fn(&Entry) -> i64| {
                (list.iter().map(of).min().unwrap_or(0), list.iter().map(of).max().unwrap_or(0))
            };
            let add = |a: (i64, i64), b: (i64, i64)| (a.0 + b.0, a.1 + b.1);
            sum.cost = add(sum.cost, span(&|e| e.cost));
            sum.trim = add(sum.trim, span(&|e| e.trim));
            sum.fast = add(sum.fast, span(&|e| i64::from(e.fast)));
            rest.push(sum);
        }
        rest.reverse();
        self.rest = rest;
    }

    fn add_sweeps(
        &mut self,
        relaxation: &Relaxation,
        scope: &Scope,
        prices: &Prices,
        order: &[usize],
        totals: std::ops::RangeInclusive<usize>,
    ) {
        let (model, layout) = (self.model, &relaxation.layout);
        let mut own = Own::default();
        for kind in 0..KINDS {
            for class in 0..model.classes[kind] {
                own.for_class(model, layout, scope, prices, kind, class);
                let mut tables = Vec::new();
                let slices = own.slices();
                self.sweep.tables(&slices, self.class_weight[kind], &mut tables);
                self.bound += tables[0][0];
                self.class_tables.push(tables);
                self.class_own.push(order.iter().map(|&z| slices[z].to_vec()).collect());
            }
        }
        own.for_sizes(model, layout, scope, prices, self.sweep.left_out());
        let slices = own.slices();
        let mut tables = Vec::new();
        let width = self.sweep.tables_by_total(&slices, self.size_weight, &mut tables);
        self.size_own = order.iter().map(|&z| slices[z].to_vec()).collect();
        self.size_width = width;
        self.size_rest = tables
            .iter()
            .map(|table| {
                let rows = table.chunks_exact(width);
                rows.flat_map(|row| {
                    let totals = &totals;
                    (0..width).map(move |so_far| {
                        let wanted = totals.clone().filter_map(|t| row.get(t.checked_sub(so_far)?));
                        wanted.max().copied().unwrap_or(BARRED)
                    })
                })
                .collect()
            })
            .collect();
        self.bound += self.size_rest(0, 0, 0);
    }

    pub fn class_own(&self, kind: usize, class: usize, level: usize) -> &[i64] {
        &self.class_own[self.first_class[kind] + class][level]
    }

    /// The most that the sizes from `level` on can add after `taxa` taxa.
    pub fn size_rest(&self, level: usize, state: usize, taxa: usize) -> i64 {
        self.size_rest[level][state * self.size_width + taxa]
    }

    /// The same when the zone of `level` takes `size`.
    pub fn size_after(&self, level: usize, prefix: &super::prefix::Prefix, size: usize) -> i64 {
        let state = prefix.size_state as usize;
        let taxa = prefix.taxa as usize + size;
        if taxa >= self.size_width {
            return BARRED;
        }
        self.size_own[level][size]
            + self.sweep.pair_term(level, state, size, self.size_weight)
            + self.size_rest(level + 1, self.sweep.step(level, state, size), taxa)
    }
}

/// The shortest list first, then always the shortest of those beside the ones placed.
fn join_order(model: &Model, lists: &[Vec<Subset>]) -> Vec<usize> {
    let mut order: Vec<usize> = Vec::new();
    while order.len() < lists.len() {
        let apart = |zone: usize| !order.is_empty() && !order.iter().any(|&z| model.touching[z][zone]);
        let open = (0..lists.len()).filter(|z| !order.contains(z));
        let next = open.min_by_key(|&z| (apart(z), lists[z].len(), z));
        order.extend(next);
    }
    order
}

pub(super) fn sight_lines(model: &Model, order: &[usize]) -> Vec<Vec<Vec<Sight>>> {
    let between = |later: usize, earlier: usize| {
        let lines = model.lines.iter().enumerate();
        lines
            .filter_map(|(number, &(near, far))| {
                ((near, far) == (later, earlier))
                    .then_some(Sight { number, nearer: true })
                    .or(((near, far) == (earlier, later)).then_some(Sight { number, nearer: false }))
            })
            .collect()
    };
    (0..order.len()).map(|l| (0..l).map(|e| between(order[l], order[e])).collect()).collect()
}

pub(super) fn passed(model: &Model, width: usize, prices: &Prices) -> Vec<Vec<i64>> {
    (0..model.lines.len())
        .map(|line| {
            let thresholds = &prices.heights[line * width..(line + 1) * width];
            let mut sum = 0;
            let mut passed = vec![0];
            for &price in thresholds {
                sum += price;
                passed.push(sum);
            }
            passed
        })
        .collect()
}
