//! Second opinions on the limits: a prefix that has used much, or little, of a limit is bounded
//! at other prices than those of the relaxation.
//!
//! At tilted prices each zone's best changes and so does what a limit is worth; both are known
//! before the join begins, so a second bound costs a few additions. Any tilt is valid that leaves
//! no price negative.

use super::prices::{FINE, Prices, UNIT};
use crate::select::model::{FREE, Model};

/// How many tilts there are.
pub(super) const TILTS: usize = 16;

/// What is used of what is limited.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Use {
    pub cost: i64,
    pub trim: i64,
    pub fast: i64,
    pub taxa: i64,
}

impl Use {
    /// Both together.
    pub fn plus(&self, other: &Self) -> Self {
        Self {
            cost: self.cost + other.cost,
            trim: self.trim + other.trim,
            fast: self.fast + other.fast,
            taxa: self.taxa + other.taxa,
        }
    }
}

/// What the whole list may use: money and minutes at most, fast growers at least, taxa between.
#[derive(Debug, Clone, Copy)]
pub(super) struct Room {
    pub fast: i64,
    pub taxa: [i64; 2],
    /// What each taxon pays already.
    pub taxon: i64,
}

/// Changes of the prices of money and minutes (fine), fast growers and taxa (units).
#[derive(Debug, Clone, Copy, Default)]
struct Tilt {
    cost: i64,
    trim: i64,
    fast: i64,
    taxa: i64,
}

/// All tilts for one join.
#[derive(Debug)]
pub(super) struct Tilts {
    tilts: [Tilt; TILTS],
    /// What the limits are worth at each tilt.
    pub room: [i64; TILTS],
}

impl Tilts {
    /// Tilts around `prices`; `gap` is what the join has to close.
    pub fn new(model: &Model, prices: &Prices, gap: i64, room: Room) -> Self {
        let fine = |price: i64, limit: i64| {
            if limit >= FREE {
                return [0; 4];
            }
            let own = (i128::from(gap) * 8) << FINE;
            let scale = price.max((own / i128::from(limit.max(1))).min(i128::from(i64::MAX / 64)) as i64 / 2);
            [-price, -price / 2, scale / 2, scale]
        };
        let step = (gap / 3).max(UNIT);
        let mut tilts = [Tilt::default(); TILTS];
        for (n, cost) in fine(prices.budget, model.budget).into_iter().enumerate() {
            tilts[n].cost = cost;
        }
        for (n, trim) in fine(prices.trim, model.trim).into_iter().enumerate() {
            tilts[4 + n].trim = trim;
        }
        if model.share.is_some() {
            let fasts = [-prices.fast, -prices.fast / 2, step / 2, step];
            for (n, fast) in fasts.into_iter().enumerate() {
                tilts[8 + n].fast = fast;
            }
        }
        for (n, taxa) in [-step, -step / 3, step / 3, step].into_iter().enumerate() {
            tilts[12 + n].taxa = taxa;
        }
        let room = tilts.map(|tilt| {
            let money = if model.budget < FREE { up(tilt.cost, model.budget) } else { 0 };
            let minutes = if model.trim < FREE { up(tilt.trim, model.trim) } else { 0 };
            let worth = |price: i64| price * room.taxa[usize::from(price > 0)];
            let taxa = worth(room.taxon + tilt.taxa) - worth(room.taxon);
            money + minutes - tilt.fast * room.fast + taxa
        });
        Self { tilts, room }
    }

    /// What a set that uses so much earns or pays at each tilt, rounded up.
    pub fn of(&self, used: Use) -> [i64; TILTS] {
        self.tilts.map(|tilt| {
            let limited = up(-tilt.cost, used.cost) + up(-tilt.trim, used.trim);
            limited + tilt.fast * used.fast - tilt.taxa * used.taxa
        })
    }
}

/// A fine price times an amount, rounded up.
fn up(price: i64, amount: i64) -> i64 {
    if price == 0 { 0 } else { ((i128::from(price) * i128::from(amount)) >> FINE) as i64 + 1 }
}
