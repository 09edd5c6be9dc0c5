//! Branch and bound over the numbers of taxa a zone holds, then over its items.
//!
//! With the counts fixed, the bound prices budget, trimming and the share of fast growers
//! (Lagrange multipliers) and takes the best items of every zone with full contrast; each pair
//! that fails to contrast lowers it. Prices are whole numbers over [`SCALE`], so the bound is exact.

use std::ops::ControlFlow;

use super::model::{FREE, Item, Model};
use super::outcome::{Progress, Watch};

/// Prices and priced worths are counted in this fraction of a point of value.
const SCALE: i64 = 1 << 12;

/// The best list found, whether it is proven, and what it took.
pub(super) struct Found {
    pub best: Option<(i64, Vec<(usize, usize)>)>,
    pub bound: i64,
    pub nodes: u64,
    pub finished: bool,
}

/// The best list of a model.
pub(super) fn search(model: &Model, watch: &mut Watch) -> Found {
    let mut vectors = count_vectors(model);
    vectors.sort_by(|a, b| b.bound.cmp(&a.bound).then(a.counts.cmp(&b.counts)));
    let mut run = Run { model, watch, best: None, nodes: 0, bound: i64::MIN };
    for vector in &vectors {
        run.bound = vector.bound;
        if run.value().is_some_and(|v| v >= vector.bound) {
            run.bound = run.value().unwrap_or(run.bound);
            break;
        }
        if run.explore(vector).is_break() {
            let (bound, nodes) = (run.bound, run.nodes);
            return Found { best: run.best, bound, nodes, finished: false };
        }
    }
    let bound = run.value().unwrap_or(i64::MIN);
    Found { best: run.best, bound, nodes: run.nodes, finished: true }
}

struct Vector {
    counts: Vec<usize>,
    bound: i64,
    prices: Prices,
}

/// Non-negative multipliers, in value × [`SCALE`] per unit of the resource.
#[derive(Clone, Copy, Default)]
struct Prices {
    cost: i64,
    trim: i64,
    fast: i64,
}

impl Prices {
    fn priced(&self, model: &Model, item: &Item, count: usize) -> i64 {
        let share = model.fast.whole * i64::from(item.fast) - model.fast.part;
        item.worth * SCALE - self.cost * item.cost[count - 1] - self.trim * item.trim[count - 1]
            + self.fast * share
    }

    fn limits(&self, model: &Model) -> i64 {
        let of = |price: i64, limit: i64| if price == 0 { 0 } else { price * limit };
        of(self.cost, model.budget) + of(self.trim, model.trim)
    }
}

fn full_contrast(model: &Model, counts: &[usize]) -> i64 {
    let pairs: usize = (0..counts.len())
        .map(|a| {
            let across: usize = (0..a).filter(|&b| model.touching[a][b]).map(|b| counts[a] * counts[b]).sum();
            counts[a] * counts[a].saturating_sub(1) / 2 + across
        })
        .sum();
    (model.texture_weight + model.colour_weight) * pairs as i64
}

fn count_vectors(model: &Model) -> Vec<Vector> {
    let mut all = vec![Vec::new()];
    for zone in &model.zones {
        let most = zone.most.min(zone.items.len());
        all = all
            .into_iter()
            .flat_map(|v: Vec<usize>| (zone.least..=most).map(move |k| [v.as_slice(), &[k]].concat()))
            .collect();
    }
    all.into_iter()
        .filter(|v| v.iter().sum::<usize>() <= model.most_taxa)
        .map(|counts| {
            let (bound, prices) = dual(model, &counts);
            Vector { counts, bound, prices }
        })
        .collect()
}

/// A short subgradient descent on the prices: the lowest bound met, in points, and its prices.
fn dual(model: &Model, counts: &[usize]) -> (i64, Prices) {
    let contrast = full_contrast(model, counts) * SCALE;
    let mut prices = Prices::default();
    let mut best = (i64::MAX, prices);
    let mut step = 400.0;
    for _ in 0..40 {
        let mut total = contrast + prices.limits(model);
        let (mut cost, mut trim, mut share) = (0, 0, 0);
        for (zone, &count) in model.zones.iter().zip(counts) {
            if count == 0 {
                continue;
            }
            let mut priced: Vec<(i64, usize)> =
                zone.items.iter().enumerate().map(|(n, i)| (-prices.priced(model, i, count), n)).collect();
            priced.select_nth_unstable(count - 1);
            for &(negated, n) in &priced[..count] {
                let item = &zone.items[n];
                total -= negated;
                cost += item.cost[count - 1];
                trim += item.trim[count - 1];
                share += model.fast.whole * i64::from(item.fast) - model.fast.part;
            }
        }
        if total < best.0 {
            best = (total, prices);
        } else {
            step *= 0.85;
        }
        prices.cost = moved(prices.cost, cost, model.budget, step);
        prices.trim = moved(prices.trim, trim, model.trim, step);
        prices.fast =
            (prices.fast - (step * share as f64 * 2.0 / model.fast.whole as f64) as i64 * 20).max(0);
    }
    (best.0.div_euclid(SCALE), best.1)
}

fn moved(price: i64, used: i64, limit: i64, step: f64) -> i64 {
    if limit >= FREE {
        return 0;
    }
    let scale = 1000.0 * SCALE as f64 / limit.max(1) as f64;
    let over = (used - limit) as f64 / limit.max(1) as f64;
    (price + (scale * over * step / 40.0) as i64).clamp(0, i64::from(i32::MAX))
}

struct Run<'a, 'w> {
    model: &'a Model,
    watch: &'a mut Watch<'w>,
    best: Option<(i64, Vec<(usize, usize)>)>,
    nodes: u64,
    bound: i64,
}

/// The items of a zone in falling priced worth, with running sums.
struct Line {
    order: Vec<usize>,
    sums: Vec<i64>,
}

struct Depth<'a> {
    vector: &'a Vector,
    lines: Vec<Line>,
    /// Priced worth of the best items of the zones from here on.
    ahead: Vec<i64>,
    chosen: Vec<(usize, usize)>,
    cost: i64,
    trim: i64,
    fast: i64,
    /// Exact value of the chosen.
    value: i64,
    /// Bound when nothing further is lost, × SCALE: priced worths of the chosen, less lost contrast.
    held: i64,
}

impl Run<'_, '_> {
    fn value(&self) -> Option<i64> {
        self.best.as_ref().map(|b| b.0)
    }

    fn explore(&mut self, vector: &Vector) -> ControlFlow<()> {
        let model = self.model;
        let lines: Vec<Line> = model
            .zones
            .iter()
            .zip(&vector.counts)
            .map(|(zone, &count)| {
                let priced = |n: usize| vector.prices.priced(model, &zone.items[n], count.max(1));
                let mut order: Vec<usize> = (0..if count == 0 { 0 } else { zone.items.len() }).collect();
                order.sort_by_key(|&n| (-priced(n), n));
                let mut sums = vec![0];
                for &n in &order {
                    sums.push(sums[sums.len() - 1] + priced(n));
                }
                Line { order, sums }
            })
            .collect();
        let mut ahead = vec![0; lines.len() + 1];
        for z in (0..lines.len()).rev() {
            ahead[z] = ahead[z + 1] + lines[z].sums[vector.counts[z]];
        }
        let held = full_contrast(model, &vector.counts) * SCALE + vector.prices.limits(model);
        let mut depth =
            Depth { vector, lines, ahead, chosen: Vec::new(), cost: 0, trim: 0, fast: 0, value: 0, held };
        self.descend(&mut depth, 0, 0, 0)
    }

    /// Chooses the next item of `zone`, of which `taken` are chosen, from position `from` on.
    fn descend(&mut self, at: &mut Depth, zone: usize, taken: usize, from: usize) -> ControlFlow<()> {
        let model = self.model;
        if zone == model.zones.len() {
            self.accept(at);
            return ControlFlow::Continue(());
        }
        let count = at.vector.counts[zone];
        if taken == count {
            return self.descend(at, zone + 1, 0, 0);
        }
        let open = count - taken;
        for position in from..=at.lines[zone].order.len() - open.min(at.lines[zone].order.len()) {
            let line = &at.lines[zone];
            if position + open > line.order.len() {
                break;
            }
            let rest = line.sums[position + open] - line.sums[position];
            let bound = (at.held + rest + at.ahead[zone + 1]).div_euclid(SCALE);
            if self.value().is_some_and(|v| bound <= v) {
                break;
            }
            self.nodes += 1;
            if self.nodes.is_multiple_of(4096) {
                let progress = Progress { value: self.value(), bound: self.bound, nodes: self.nodes };
                (self.watch)(&progress)?;
            }
            self.take(at, zone, taken, position)?;
        }
        ControlFlow::Continue(())
    }

    fn take(&mut self, at: &mut Depth, zone: usize, taken: usize, position: usize) -> ControlFlow<()> {
        let model = self.model;
        let count = at.vector.counts[zone];
        let n = at.lines[zone].order[position];
        let item = &model.zones[zone].items[n];
        let (cost, trim) = (at.cost + item.cost[count - 1], at.trim + item.trim[count - 1]);
        if cost > model.budget || trim > model.trim || !self.fits(at, zone, item) {
            return ControlFlow::Continue(());
        }
        let contrast = model.texture_weight + model.colour_weight;
        let (mut pairs, mut lost) = (0, 0);
        for &(z, m) in &at.chosen {
            if z == zone || model.touching[z][zone] {
                let pair = model.pair(&model.zones[z].items[m], item);
                pairs += pair;
                lost += contrast - pair;
            }
        }
        let line = &at.lines[zone];
        let priced = line.sums[position + 1] - line.sums[position];
        let before = (at.cost, at.trim, at.fast, at.value, at.held);
        at.chosen.push((zone, n));
        at.cost = cost;
        at.trim = trim;
        at.fast += i64::from(item.fast);
        at.value += item.worth + pairs;
        at.held += priced - lost * SCALE;
        let flow = self.descend(at, zone, taken + 1, position + 1);
        (at.cost, at.trim, at.fast, at.value, at.held) = before;
        at.chosen.pop();
        flow
    }

    fn fits(&self, at: &Depth, zone: usize, item: &Item) -> bool {
        let model = self.model;
        let mut same_genus = 1;
        for &(z, m) in &at.chosen {
            let other = &model.zones[z].items[m];
            if other.taxon == item.taxon
                || (model.nearer[z][zone] && other.height > item.height)
                || (model.nearer[zone][z] && item.height > other.height)
                || model.against[item.taxon].binary_search(&other.taxon).is_ok()
            {
                return false;
            }
            same_genus += usize::from(other.genus == item.genus);
        }
        same_genus <= model.per_genus
    }

    fn accept(&mut self, at: &Depth) {
        let model = self.model;
        let taxa: Vec<usize> = at.chosen.iter().map(|&(z, n)| model.zones[z].items[n].taxon).collect();
        let musts = (0..model.must.len()).all(|t| !model.must[t] || taxa.contains(&t));
        let groups = model.counts.iter().all(|group| {
            let count = taxa.iter().filter(|t| group.taxa.binary_search(t).is_ok()).count();
            group.least <= count && count <= group.most
        });
        let share = at.fast * model.fast.whole >= model.fast.part * taxa.len() as i64;
        if musts && groups && share && self.value().is_none_or(|v| at.value > v) {
            self.best = Some((at.value, at.chosen.clone()));
        }
    }
}
