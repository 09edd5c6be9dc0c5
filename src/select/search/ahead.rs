//! What the sweeps say of a prefix of the join: a second bound beside that of the pairs.
//!
//! Pairs see whole class vectors, but only of two zones at a time; where zones touch all round (a
//! root or a stone amid the beds) they overstate what the sweeps, which follow each class over all
//! zones, know. The join gives up a prefix as soon as either bound is below the floor.

use super::board::Board;
use super::loom;
use super::prefix::{Losses, Prefix};
use crate::select::model::KINDS;

/// The sweeps along the levels of a join.
pub(super) struct Ahead<'m> {
    board: Board<'m>,
    levels: Vec<Level>,
}

struct Level {
    /// By state of the join: its class vectors among those of the board, and its size.
    states: Vec<([u32; KINDS], u8)>,
    /// By entry of the join: its place on the board.
    places: Vec<u32>,
}

/// Where a join stands in the sweeps: a prefix of each length, and what the next states cost.
pub(super) struct Stand {
    prefixes: Vec<Prefix>,
    losses: Vec<Losses>,
}

impl<'m> Ahead<'m> {
    /// `board` holds the same sets in the same order of zones as `levels`.
    pub fn new(board: Board<'m>, levels: &[loom::Level]) -> Self {
        let level = |(at, level): (usize, &loom::Level)| {
            let list = &board.lists[at];
            let mut by_items: Vec<u32> = (0..list.len() as u32).collect();
            by_items.sort_unstable_by_key(|&place| list[place as usize].items);
            let place = |entry: &loom::Entry| {
                let at = by_items.partition_point(|&p| list[p as usize].items < entry.items);
                by_items[at]
            };
            let places: Vec<u32> = level.entries.iter().map(place).collect();
            let state = |range: &[usize]| {
                let first = level.entries.get(range[0]).filter(|_| range[0] < range[1])?;
                Some((list[places[range[0]] as usize].vectors, first.size))
            };
            let states = level.first.windows(2).map(|range| state(range).unwrap_or_default()).collect();
            Level { states, places }
        };
        Self { levels: levels.iter().enumerate().map(level).collect(), board }
    }

    /// Before the first set is placed.
    pub fn start(&self) -> Stand {
        let losses = self.levels.iter().map(|_| Losses::default()).collect();
        Stand { prefixes: vec![self.board.start()], losses }
    }

    /// Reckons what each state of the next level costs.
    pub fn look(&self, stand: &mut Stand) {
        if let Some(prefix) = stand.prefixes.last() {
            self.board.fill_losses(prefix, &mut stand.losses[prefix.chosen.len()]);
        }
    }

    /// The bound when the zone of a level takes a set of a state.
    pub fn after_state(&self, stand: &Stand, level: usize, state: usize) -> i64 {
        let (vectors, size) = self.levels[level].states[state];
        stand.prefixes[level].bound - stand.losses[level].of(vectors, size)
    }

    /// How much further it falls for one set of it.
    pub fn slack(&self, level: usize, entry: usize) -> i64 {
        self.board.lists[level][self.levels[level].places[entry] as usize].slack
    }

    /// Places a set; `bound` is what is left.
    pub fn place(&self, stand: &mut Stand, level: usize, entry: usize, bound: i64) {
        let place = self.levels[level].places[entry] as usize;
        let next = self.board.extended(&stand.prefixes[level], place, &self.board.lists[level][place], bound);
        stand.prefixes.push(next);
    }
}

impl Stand {
    /// Takes the last set away.
    pub fn lift(&mut self) {
        self.prefixes.pop();
    }
}
