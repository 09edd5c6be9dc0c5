//! Exact maximisation of pair terms over the graph of touching zones, one zone after another.
//!
//! For values `j` of the zones it maximises Σ own(zone, j) + Σ over touching pairs weight·j·j′ by
//! backward recursion along a fixed zone order; the table of a level gives, for every state of
//! its frontier (assigned zones with unassigned neighbours), the best that the rest can add. The
//! relaxation reads the total, the join reads the tables as its look-ahead.

/// Largest number of frontier states; beyond it touching pairs are left out of the sweep, which
/// keeps the bound valid (see [`Sweep::left_out`]).
const MOST_STATES: usize = 4096;

/// "Not allowed"; sums of a few of these stay inside `i64`.
pub(super) const BARRED: i64 = i64::MIN / 64;

#[derive(Debug, Clone)]
struct Level {
    zone: usize,
    /// Values of the zone: `0..domain`.
    domain: usize,
    /// For each state of the frontier before the zone: Σ of the values of its touching zones.
    beside: Vec<u32>,
    /// For each such state: the state after the zone takes value 0.
    next: Vec<u32>,
    /// What the zone's value adds to the number of the state after it, per unit.
    stride: u32,
}

/// A zone order with the frontier of every level.
#[derive(Debug, Clone)]
pub(super) struct Sweep {
    levels: Vec<Level>,
    /// Touching pairs that the sweep does not see.
    left_out: Vec<(usize, usize)>,
}

impl Sweep {
    /// A sweep along `order` over the graph `touching`; zone `z` takes values `0..domains[z]`.
    pub fn new(order: &[usize], touching: &[Vec<bool>], domains: &[usize]) -> Self {
        let mut seen = touching.to_vec();
        let mut left_out = Vec::new();
        let mut levels = Vec::new();
        let mut frontier: Vec<usize> = Vec::new();
        for (at, &zone) in order.iter().enumerate() {
            let ahead = &order[at + 1..];
            let mut after: Vec<usize> = [frontier.as_slice(), &[zone]].concat();
            after.retain(|&z| ahead.iter().any(|&y| seen[z][y]));
            while after.iter().map(|&z| domains[z]).product::<usize>() > MOST_STATES {
                let dropped = after.remove(0);
                for &y in ahead {
                    if std::mem::take(&mut seen[dropped][y]) {
                        seen[y][dropped] = false;
                        left_out.push((dropped, y));
                    }
                }
            }
            levels.push(level(zone, &frontier, &after, &seen, domains));
            frontier = after;
        }
        Self { levels, left_out }
    }

    /// An order that keeps the frontier small: each next zone leaves the fewest states.
    pub fn narrow_order(touching: &[Vec<bool>], domains: &[usize]) -> Vec<usize> {
        let mut order: Vec<usize> = Vec::new();
        while order.len() < domains.len() {
            let states = |zone: usize| {
                let placed = |z: usize| z == zone || order.contains(&z);
                let open = |z: &usize| (0..domains.len()).any(|y| !placed(y) && touching[*z][y]);
                (0..domains.len()).filter(|&z| placed(z)).filter(open).map(|z| domains[z]).product::<usize>()
            };
            let next = (0..domains.len()).filter(|z| !order.contains(z)).min_by_key(|&z| (states(z), z));
            order.extend(next);
        }
        order
    }

    pub fn zone(&self, level: usize) -> usize {
        self.levels[level].zone
    }

    /// Touching pairs that the sweep does not see. A caller whose weight is positive must add an
    /// upper bound of their terms to `own`; one whose weight is negative may ignore them.
    pub fn left_out(&self) -> &[(usize, usize)] {
        &self.left_out
    }

    /// What value `value` of the zone of `level` adds when the frontier before it is in `state`.
    pub fn pair_term(&self, level: usize, state: usize, value: usize, weight: i64) -> i64 {
        weight * value as i64 * i64::from(self.levels[level].beside[state])
    }

    /// The state after the zone of `level` takes `value`.
    pub fn step(&self, level: usize, state: usize, value: usize) -> usize {
        let level = &self.levels[level];
        (level.next[state] + level.stride * value as u32) as usize
    }

    /// For every level the best that it and all later ones can add, by state; `own[zone][value]`.
    pub fn tables(&self, own: &[&[i64]], weight: i64, tables: &mut Vec<Vec<i64>>) {
        tables.resize(self.levels.len() + 1, Vec::new());
        tables[self.levels.len()] = vec![0];
        for (at, level) in self.levels.iter().enumerate().rev() {
            let (before, after) = tables.split_at_mut(at + 1);
            let (table, ahead) = (&mut before[at], &after[0]);
            table.clear();
            let own = &own[level.zone][..level.domain];
            for (&beside, &next) in level.beside.iter().zip(&level.next) {
                let pair = weight * i64::from(beside);
                let mut best = BARRED;
                let mut at_value = next as usize;
                let mut pairs = 0;
                for &own in own {
                    best = best.max(own + pairs + ahead[at_value]);
                    pairs += pair;
                    at_value += level.stride as usize;
                }
                table.push(best);
            }
        }
    }

    /// The values that attain `tables[0][0]`, into `values[zone]`; smallest first among equals.
    pub fn attain(&self, own: &[&[i64]], weight: i64, tables: &[Vec<i64>], values: &mut [usize]) {
        let mut state = 0;
        for (at, level) in self.levels.iter().enumerate() {
            let worth = |value: usize| {
                own[level.zone][value]
                    + self.pair_term(at, state, value, weight)
                    + tables[at + 1][self.step(at, state, value)]
            };
            let mut best = 0;
            for value in 1..level.domain {
                if worth(value) > worth(best) {
                    best = value;
                }
            }
            values[level.zone] = best;
            state = self.step(at, state, best);
        }
    }

    /// Like [`Sweep::tables`], kept apart by the total of the values still to come:
    /// `tables[level][state * width + total]` with `width` one more than the largest total.
    pub fn tables_by_total(&self, own: &[&[i64]], weight: i64, tables: &mut Vec<Vec<i64>>) -> usize {
        let width = 1 + self.levels.iter().map(|l| l.domain - 1).sum::<usize>();
        tables.resize(self.levels.len() + 1, Vec::new());
        tables[self.levels.len()] = vec![BARRED; width];
        tables[self.levels.len()][0] = 0;
        for (at, level) in self.levels.iter().enumerate().rev() {
            let (before, after) = tables.split_at_mut(at + 1);
            let (table, ahead) = (&mut before[at], &after[0]);
            table.clear();
            table.resize(level.beside.len() * width, BARRED);
            for (state, row) in table.chunks_exact_mut(width).enumerate() {
                for value in 0..level.domain {
                    let gain = own[level.zone][value] + self.pair_term(at, state, value, weight);
                    let after = self.step(at, state, value) * width;
                    for (total, &rest) in ahead[after..after + width - value].iter().enumerate() {
                        let sum = (gain + rest).max(BARRED);
                        row[total + value] = row[total + value].max(sum);
                    }
                }
            }
        }
        width
    }

    /// The values that attain `tables[0][total]` of [`Sweep::tables_by_total`].
    pub fn attain_total(
        &self,
        own: &[&[i64]],
        weight: i64,
        tables: &[Vec<i64>],
        total: usize,
        values: &mut [usize],
    ) {
        let width = tables[self.levels.len()].len();
        let (mut state, mut left) = (0, total);
        for (at, level) in self.levels.iter().enumerate() {
            let worth = |value: usize| {
                own[level.zone][value]
                    + self.pair_term(at, state, value, weight)
                    + tables[at + 1][self.step(at, state, value) * width + left - value]
            };
            let mut best = 0;
            for value in 1..level.domain.min(left + 1) {
                if worth(value) > worth(best) {
                    best = value;
                }
            }
            values[level.zone] = best;
            state = self.step(at, state, best);
            left -= best;
        }
    }
}

fn level(zone: usize, before: &[usize], after: &[usize], seen: &[Vec<bool>], domains: &[usize]) -> Level {
    let stride_of = |wanted: usize| {
        let position = after.iter().position(|&z| z == wanted)?;
        Some(after[position + 1..].iter().map(|&z| domains[z] as u32).product::<u32>())
    };
    let states: usize = before.iter().map(|&z| domains[z]).product();
    let (mut beside, mut next) = (Vec::with_capacity(states), Vec::with_capacity(states));
    for state in 0..states {
        let (mut rest, mut sum, mut to) = (state, 0, 0);
        for &z in before.iter().rev() {
            let value = (rest % domains[z]) as u32;
            rest /= domains[z];
            sum += if seen[z][zone] { value } else { 0 };
            to += value * stride_of(z).unwrap_or(0);
        }
        beside.push(sum);
        next.push(to);
    }
    Level { zone, domain: domains[zone], beside, next, stride: stride_of(zone).unwrap_or(0) }
}

#[cfg(test)]
mod tests {
    use super::Sweep;

    fn cycle(n: usize) -> Vec<Vec<bool>> {
        (0..n).map(|a| (0..n).map(|b| (a + 1) % n == b || (b + 1) % n == a).collect()).collect()
    }

    #[test]
    fn equals_trying_every_value() {
        let touching = cycle(4);
        let domains = [3, 2, 3, 3];
        let own: Vec<Vec<i64>> =
            (0..4).map(|z| (0..domains[z]).map(|j| (z as i64 * 7 + j as i64 * 5) % 11).collect()).collect();
        let own: Vec<&[i64]> = own.iter().map(Vec::as_slice).collect();
        let sweep = Sweep::new(&Sweep::narrow_order(&touching, &domains), &touching, &domains);
        for weight in [-3, 2] {
            let mut by_total = [i64::MIN; 9];
            for code in 0..54 {
                let values = [code % 3, code / 3 % 2, code / 6 % 3, code / 18 % 3];
                let mut sum: i64 = (0..4).map(|z| own[z][values[z]]).sum();
                for z in 0..4 {
                    sum += weight * (values[z] * values[(z + 1) % 4]) as i64;
                }
                let total = values.iter().sum::<usize>();
                by_total[total] = by_total[total].max(sum);
            }
            let mut tables = Vec::new();
            sweep.tables(&own, weight, &mut tables);
            assert_eq!(Some(&tables[0][0]), by_total.iter().max());
            let mut apart = Vec::new();
            let width = sweep.tables_by_total(&own, weight, &mut apart);
            assert_eq!(apart[0][..width], by_total[..width]);
            let mut values = [0; 4];
            sweep.attain_total(&own, weight, &apart, 5, &mut values);
            assert_eq!(values.iter().sum::<usize>(), 5);
        }
    }
}
