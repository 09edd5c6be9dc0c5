//! Who stands beside and behind whom in a zone: the composition rule.
//!
//! A ground that is nearly as deep as wide, or deeper, is halved from front to back, the taller
//! plants behind; a wider one from side to side, the taller towards the nearer side glass, so that
//! heights rise to the sides and the middle stays open. A zone in the middle of the tank has its
//! tallest at the sides and its lowest between. The rule is ours.

use super::ground::Raster;

/// A taxon's patch to be laid out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Item {
    /// The number of the patch.
    pub patch: u32,
    /// Its share of the area; any unit, alike for all.
    pub share: f64,
    /// Height of the grown plant, in metres.
    pub height: f64,
}

/// The direction of a row of patches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Along {
    /// From left to right.
    X,
    /// From front to back.
    Y,
}

/// A ground is halved from front to back when it is at least this deep for its width.
const DEEP: f64 = 0.75;
/// A ground whose centre lies within this share of the tank's length from the middle is in the
/// middle.
const MIDDLE: f64 = 0.12;

/// Two groups of about half the area: the left and the right, or the front and the back.
/// `length` is that of the tank.
pub(super) fn halves(
    items: &[Item],
    raster: &Raster,
    cells: &[usize],
    length: f64,
) -> (Along, [Vec<Item>; 2]) {
    let ends = |at: &dyn Fn(usize) -> usize| {
        let (lo, hi) = cells.iter().fold((usize::MAX, 0), |(lo, hi), &c| (lo.min(at(c)), hi.max(at(c))));
        (lo as f64, hi as f64 + 1.0)
    };
    let (left, right) = ends(&|c| c % raster.nx);
    let (front, back) = ends(&|c| c / raster.nx);
    let along = if back - front >= DEEP * (right - left) { Along::Y } else { Along::X };
    let centre = raster.at(f64::midpoint(left, right), 0.0)[0] / length;
    let row = in_row(items, along, centre);
    let whole: f64 = row.iter().map(|i| i.share).sum();
    let mut filled = 0.0;
    let uneven = |k: usize| {
        let part: f64 = row[..k].iter().map(|i| i.share).sum();
        (part - whole / 2.0).abs()
    };
    let mut at = 1;
    for k in 1..row.len() {
        filled += row[k - 1].share;
        if uneven(k) < uneven(at) - 1e-9 * whole.max(filled) {
            at = k;
        }
    }
    (along, [row[..at].to_vec(), row[at..].to_vec()])
}

/// The items from left to right, or from front to back. `centre` is where the middle of the
/// ground lies between the left (0) and the right (1) of the tank.
pub(super) fn in_row(items: &[Item], along: Along, centre: f64) -> Vec<Item> {
    let mut tallest_first = items.to_vec();
    tallest_first.sort_by(|a, b| b.height.total_cmp(&a.height).then(a.patch.cmp(&b.patch)));
    if along == Along::Y {
        tallest_first.reverse();
        return tallest_first;
    }
    if centre < 0.5 - MIDDLE {
        return tallest_first;
    }
    if centre > 0.5 + MIDDLE {
        tallest_first.reverse();
        return tallest_first;
    }
    // From both ends inwards, so that the lowest stands in the middle.
    let (mut left, mut right) = (Vec::new(), Vec::new());
    for (n, item) in tallest_first.into_iter().enumerate() {
        if n % 2 == 0 { left.push(item) } else { right.push(item) }
    }
    right.reverse();
    left.extend(right);
    left
}
