//! A first good list: the join, keeping only the most promising prefixes of each level.

use super::board::Board;
use super::prefix::{Losses, Prefix};
use super::verdict::judged;
use crate::select::model::Row;

/// The best list that a beam of `width` prefixes meets, with its value.
pub(super) fn beam(board: &Board, rows: &[Row], width: usize) -> Option<(i64, Vec<(usize, usize)>)> {
    let mut beam = vec![board.start()];
    let mut losses = Losses::default();
    for level in 0..board.lists.len() {
        let mut next: Vec<Prefix> = Vec::new();
        let mut cutoff = i64::MIN;
        for prefix in &beam {
            let least = board.fill_losses(prefix, &mut losses);
            for (position, entry) in board.lists[level].iter().enumerate() {
                if prefix.bound - entry.slack - least < cutoff {
                    break;
                }
                let bound = losses.after(prefix, entry);
                if bound < cutoff {
                    continue;
                }
                if let Some(bound) = board.checked(prefix, entry, bound, cutoff) {
                    next.push(board.extended(prefix, position, entry, bound));
                }
                if next.len() >= 4 * width {
                    cutoff = cut(&mut next, width);
                }
            }
        }
        cut(&mut next, width);
        beam = next;
    }
    let lists = beam.iter().map(|prefix| board.picks(prefix));
    lists
        .filter_map(|picks| Some((judged(board.model, &picks, rows)?, picks)))
        .max_by_key(|(value, _)| *value)
}

/// Keeps the `width` best prefixes, the first met among equals; returns the bound to beat.
fn cut(prefixes: &mut Vec<Prefix>, width: usize) -> i64 {
    prefixes.sort_by_key(|p| std::cmp::Reverse(p.bound));
    prefixes.truncate(width);
    if prefixes.len() < width { i64::MIN } else { prefixes.last().map_or(i64::MIN, |p| p.bound + 1) }
}
