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
/// A piece of ground below this share of the whole is a scrap: too small to plant, it goes to the patch
/// next to it and is not spoken of.
const NEGLIGIBLE: f64 = 0.005;
/// A remainder below this share of a patch is not cut off for the sake of equal areas.
const SCRAP: f64 = 0.1;
/// How far the direction of a cut leans from the axis, as a slope.
const LEAN: f64 = 0.5;

/// The patches of a ground.
#[derive(Debug, Clone)]
pub(super) struct Patches {
    /// The patch of every cell, or [`OUTSIDE`].
    pub label: Vec<u32>,
    /// Separate pieces that the ground is in, scraps left out.
    pub pieces: usize,
    /// The share of the ground that each patch was given, in the order of the items.
    pub parts: Vec<f64>,
}

/// Splits the ground among `items`, whose shares sum to 1. `length` is that of the tank, `seed`
/// tells zones apart.
pub(super) fn split(raster: &Raster, items: &[Item], length: f64, seed: u64) -> Patches {
    let mut label = ground(raster);
    let mut marks = Marks::on(raster);
    let land: Vec<usize> = (0..label.len()).filter(|c| label[*c] != OUTSIDE).collect();
    let pieces = marks.connected(raster, &land);
    let whole = |pieces: &[Vec<usize>]| pieces.iter().map(|cells| weight(raster, cells)).sum::<f64>();
    let largest = pieces.iter().map(|cells| weight(raster, cells)).fold(0.0, f64::max);
    let least = (NEGLIGIBLE * whole(&pieces)).min(largest);
    let (pieces, scraps): (Vec<_>, Vec<_>) = pieces.into_iter().partition(|p| weight(raster, p) >= least);
    let (count, whole) = (pieces.len(), whole(&pieces));
    let mut parts = vec![0.0; items.len()];
    let mut work = Work { raster, label: &mut label, marks, length, seed };
    for (cells, items) in hand_out(raster, pieces, items, length) {
        let (room, asked) = (weight(raster, &cells), items.iter().map(|i| i.share).sum::<f64>());
        for item in &items {
            parts[item.patch as usize] += item.share / asked * room / whole;
        }
        work.share_out(&cells, &items, 1);
    }
    for cells in &scraps {
        join_nearest(raster, &mut label, cells, &scraps);
    }
    Patches { label, pieces: count, parts }
}

/// Cells that count as ground, labelled 0. Where two of them meet at a corner only, the better covered
/// of the two cells between them counts too, if any of it is ground: a thin tip or a narrow neck hangs
/// together as it does on the plan.
fn ground(raster: &Raster) -> Vec<u32> {
    let land = |c: &f64| if *c >= LEAST_COVER { 0 } else { OUTSIDE };
    let mut label: Vec<u32> = raster.cover.iter().map(land).collect();
    loop {
        let mut changed = false;
        for corner in 0..label.len() {
            let Some(gaps) = gaps(raster, &label, corner) else { continue };
            let best = if raster.cover[gaps[1]] > raster.cover[gaps[0]] { gaps[1] } else { gaps[0] };
            if raster.cover[best] > 0.0 {
                label[best] = 0;
                changed = true;
            }
        }
        if !changed {
            return label;
        }
    }
}

/// The two cells that are no ground in a square of four, from its lower left cell on, where the others
/// are ground and meet at the corner between them.
fn gaps(raster: &Raster, label: &[u32], lower: usize) -> Option<[usize; 2]> {
    let (nx, ny) = (raster.nx, raster.ny);
    if lower % nx + 1 >= nx || lower / nx + 1 >= ny {
        return None;
    }
    let [a, b, c, d] = [lower, lower + 1, lower + nx, lower + nx + 1];
    match [a, b, c, d].map(|cell| label[cell] != OUTSIDE) {
        [true, false, false, true] => Some([b, c]),
        [false, true, true, false] => Some([a, d]),
        _ => None,
    }
}

/// Gives a scrap of ground to the patch whose cells come nearest.
fn join_nearest(raster: &Raster, label: &mut [u32], cells: &[usize], scraps: &[Vec<usize>]) {
    let place = |c: usize| ((c % raster.nx) as i64, (c / raster.nx) as i64);
    let apart = |a: usize, b: usize| {
        let ((i, j), (k, l)) = (place(a), place(b));
        (i - k).pow(2) + (j - l).pow(2)
    };
    let own = (0..label.len()).filter(|c| label[*c] != OUTSIDE && !scraps.iter().flatten().any(|s| s == c));
    let nearest = own.min_by_key(|c| cells.iter().map(|s| apart(*s, *c)).min());
    if let Some(patch) = nearest.map(|c| label[c]) {
        for &cell in cells {
            label[cell] = patch;
        }
    }
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

struct Work<'a> {
    raster: &'a Raster,
    label: &'a mut [u32],
    marks: Marks,
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
    fn cut(&mut self, cells: &[usize], along: Along, part: f64, branch: u64) -> (Vec<usize>, Vec<usize>) {
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
    fn whole(&mut self, below: &[usize], above: &[usize]) -> (Vec<usize>, Vec<usize>) {
        let (mut below, strays) = self.largest(below);
        let (mut above, more) = self.largest(&[above, &strays].concat());
        below.extend(more);
        below.sort_unstable();
        above.sort_unstable();
        (below, above)
    }

    /// The largest connected piece of some cells, the first of several alike, and all the rest.
    fn largest(&mut self, cells: &[usize]) -> (Vec<usize>, Vec<usize>) {
        let mut pieces = self.marks.connected(self.raster, cells);
        let first = (0..pieces.len()).max_by_key(|&n| (pieces[n].len(), Reverse(n)));
        let largest = first.map_or_else(Vec::new, |n| pieces.swap_remove(n));
        (largest, pieces.concat())
    }
}

/// Marks on the cells of a raster, wiped after use, so that a look at few cells costs no more than they.
struct Marks {
    waiting: Vec<bool>,
}

impl Marks {
    fn on(raster: &Raster) -> Self {
        Self { waiting: vec![false; raster.cover.len()] }
    }

    /// The connected parts of some cells, each in ascending order, by their first cells.
    fn connected(&mut self, raster: &Raster, cells: &[usize]) -> Vec<Vec<usize>> {
        for &cell in cells {
            self.waiting[cell] = true;
        }
        let mut parts = Vec::new();
        for &start in cells {
            if !std::mem::take(&mut self.waiting[start]) {
                continue;
            }
            let (mut part, mut next) = (vec![start], 0);
            while next < part.len() {
                let beside = raster.beside(part[next]);
                part.extend(beside.filter(|c| std::mem::take(&mut self.waiting[*c])));
                next += 1;
            }
            part.sort_unstable();
            parts.push(part);
        }
        parts.sort_unstable_by_key(|part| part.first().copied());
        parts
    }
}
