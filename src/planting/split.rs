//! Splitting the cells of a ground into contiguous patches of given shares.
//!
//! A connected ground is halved along a level line of a potential (see [`super::potential`]): both
//! sides of any level hang together, and the level is chosen so that the areas are right. The
//! uneven ground makes the lines wander, so borders look grown and not ruled. Halves are halved
//! again until each patch has one taxon.

use std::cmp::Reverse;
use std::collections::VecDeque;

use super::arrange::{Along, Item, halves, in_row};
use super::ground::Raster;
use super::potential::potential;

/// A cell that is nobody's.
pub(super) const OUTSIDE: u32 = u32::MAX;
/// A cell counts when at least this share of it is ground; the outline does the rest.
const LEAST_COVER: f64 = 0.5;
/// A remainder below this share of a patch is not cut off for the sake of equal areas.
const SCRAP: f64 = 0.1;
/// How far the direction of a cut leans from the axis, as a slope.
const LEAN: f64 = 0.5;

/// The patches of a ground.
#[derive(Debug, Clone)]
pub(super) struct Patches {
    /// The patch of every cell, or [`OUTSIDE`].
    pub label: Vec<u32>,
    /// Separate pieces that the ground is in.
    pub pieces: usize,
    /// The share of the ground that each patch was given, in the order of the items.
    pub parts: Vec<f64>,
}

/// Splits the ground among `items`, whose shares sum to 1. `length` is that of the tank, `seed`
/// tells zones apart.
pub(super) fn split(raster: &Raster, items: &[Item], length: f64, seed: u64) -> Patches {
    let ground = |c: &f64| if *c >= LEAST_COVER { 0 } else { OUTSIDE };
    let mut label: Vec<u32> = raster.cover.iter().map(ground).collect();
    let pieces = connected(raster, &label, 0);
    let count = pieces.len();
    let whole = pieces.iter().map(|cells| weight(raster, cells)).sum::<f64>();
    let mut parts = vec![0.0; items.len()];
    let mut work = Work { raster, label: &mut label, length, seed };
    for (cells, items) in hand_out(raster, pieces, items, length) {
        let (room, asked) = (weight(raster, &cells), items.iter().map(|i| i.share).sum::<f64>());
        for item in &items {
            parts[item.patch as usize] += item.share / asked * room / whole;
        }
        work.share_out(&cells, &items, 1);
    }
    Patches { label, pieces: count, parts }
}

/// The ground on cells, in whole cells.
fn weight(raster: &Raster, cells: &[usize]) -> f64 {
    cells.iter().map(|&c| raster.cover[c]).sum()
}

/// Who stands on which piece of ground. Pieces and items are laid out from left to right, and an
/// item goes on to the next piece where its own is full, unless what is left of it is a scrap.
fn hand_out(
    raster: &Raster,
    mut pieces: Vec<Vec<usize>>,
    items: &[Item],
    length: f64,
) -> Vec<(Vec<usize>, Vec<Item>)> {
    let whole: f64 = pieces.iter().map(|cells| weight(raster, cells)).sum();
    let middle = |cells: &[usize]| cells.iter().map(|c| c % raster.nx).sum::<usize>() / cells.len().max(1);
    pieces.sort_by_key(|cells| (middle(cells), cells.first().copied()));
    let centre = raster.at(raster.nx as f64 / 2.0, 0.0)[0] / length;
    let row = if pieces.len() > 1 { in_row(items, Along::X, centre) } else { items.to_vec() };
    let mut waiting: VecDeque<Item> =
        row.into_iter().map(|item| Item { share: item.share * whole, ..item }).collect();
    let (count, mut given, mut last) = (pieces.len(), Vec::new(), items.first().copied());
    for (n, cells) in pieces.into_iter().enumerate() {
        let mut room = weight(raster, &cells);
        let mut here: Vec<Item> = Vec::new();
        while let Some(item) = waiting.pop_front() {
            let rest = item.share - room;
            if n + 1 == count || rest <= SCRAP * item.share {
                room -= item.share;
                here.push(item);
                continue;
            }
            if room > SCRAP * item.share || (here.is_empty() && room > 0.0) {
                here.push(Item { share: room, ..item });
                waiting.push_front(Item { share: rest, ..item });
            } else {
                waiting.push_front(item);
            }
            break;
        }
        if here.is_empty() {
            here.extend(last);
        }
        last = here.last().copied();
        given.push((cells, here));
    }
    given
}

/// The connected parts of the cells with a label, each in ascending order, by their first cell.
pub(super) fn connected(raster: &Raster, label: &[u32], own: u32) -> Vec<Vec<usize>> {
    let mut seen = vec![false; label.len()];
    let mut parts = Vec::new();
    for start in 0..label.len() {
        if label[start] != own || seen[start] {
            continue;
        }
        seen[start] = true;
        let (mut part, mut next) = (vec![start], 0);
        while next < part.len() {
            for beside in raster.beside(part[next]) {
                if label[beside] == own && !seen[beside] {
                    seen[beside] = true;
                    part.push(beside);
                }
            }
            next += 1;
        }
        part.sort_unstable();
        parts.push(part);
    }
    parts
}

struct Work<'a> {
    raster: &'a Raster,
    label: &'a mut [u32],
    length: f64,
    seed: u64,
}

impl Work<'_> {
    /// Gives the cells, which hang together and ascend, to the items.
    fn share_out(&mut self, cells: &[usize], items: &[Item], branch: u64) {
        let Some(first) = items.first() else { return };
        if items.len() == 1 || cells.len() < 2 {
            for &cell in cells {
                self.label[cell] = first.patch;
            }
            return;
        }
        let (along, [low, high]) = halves(items, self.raster, cells, self.length);
        let share = |items: &[Item]| items.iter().map(|i| i.share).sum::<f64>();
        let part = share(&low) / (share(&low) + share(&high));
        let (below, above) = self.cut(cells, along, part, branch);
        self.share_out(&below, &low, branch * 2);
        self.share_out(&above, &high, branch * 2 + 1);
    }

    /// Two contiguous parts, the first with `part` of the area.
    fn cut(&self, cells: &[usize], along: Along, part: f64, branch: u64) -> (Vec<usize>, Vec<usize>) {
        let lean = if (self.seed + branch).is_multiple_of(2) { LEAN } else { -LEAN };
        let far = |c: usize| {
            let (i, j) = ((c % self.raster.nx) as f64, (c / self.raster.nx) as f64);
            if along == Along::X { i + lean * j } else { j + lean * i }
        };
        let ends = cells.iter().fold((cells[0], cells[0]), |(lo, hi), &c| {
            (if far(c) < far(lo) { c } else { lo }, if far(c) > far(hi) { c } else { hi })
        });
        let seed = self.seed.wrapping_mul(1009).wrapping_add(branch);
        let level = potential(self.raster, cells, ends.0, ends.1, seed);
        let mut order: Vec<usize> = (0..cells.len()).collect();
        order.sort_by(|&a, &b| level[a].total_cmp(&level[b]).then(a.cmp(&b)));
        let cover = |k: usize| self.raster.cover[cells[k]];
        let wanted = part * (0..cells.len()).map(cover).sum::<f64>();
        let (mut filled, mut count) = (0.0, 0);
        while count < order.len() && filled + cover(order[count]) / 2.0 <= wanted {
            filled += cover(order[count]);
            count += 1;
        }
        let above = order.split_off(count.clamp(1, cells.len() - 1));
        let named = |part: &[usize]| part.iter().map(|&k| cells[k]).collect::<Vec<_>>();
        self.whole(&named(&order), &named(&above))
    }

    /// Two parts that together hang together, each made to hang together, ascending: a blind end of
    /// the ground has one level throughout, and a cut through it leaves strays. What is cut off from
    /// the largest piece of its part touches the other part only, and goes there.
    fn whole(&self, below: &[usize], above: &[usize]) -> (Vec<usize>, Vec<usize>) {
        let (mut below, strays) = self.largest(below);
        let (mut above, more) = self.largest(&[above, &strays].concat());
        below.extend(more);
        below.sort_unstable();
        above.sort_unstable();
        (below, above)
    }

    /// The largest connected piece of some cells, the first of several alike, and all the rest.
    fn largest(&self, cells: &[usize]) -> (Vec<usize>, Vec<usize>) {
        let mut label = vec![OUTSIDE; self.label.len()];
        for &cell in cells {
            label[cell] = 0;
        }
        let mut pieces = connected(self.raster, &label, 0);
        let first = (0..pieces.len()).max_by_key(|&n| (pieces[n].len(), Reverse(n)));
        let largest = first.map_or_else(Vec::new, |n| pieces.swap_remove(n));
        (largest, pieces.concat())
    }
}
