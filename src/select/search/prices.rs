//! Lagrange multipliers of everything that ties zones together, as exact whole numbers.

use crate::select::model::{KINDS, Model};

/// Values inside the search are counted in this fraction of a point.
pub(super) const UNIT: i64 = 1 << 10;
/// Prices of a unit of budget or trimming are counted in `UNIT` shifted by this, because costs
/// may be large; what an item pays is rounded down and the limit up, so the bound stays valid.
pub(super) const FINE: u32 = 32;

/// Largest price of anything in `UNIT`; far above any value, far below overflow.
pub(super) const DEAREST: i64 = 1 << 44;

/// One multiplier for each coupling. All in `UNIT` unless said otherwise.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Prices {
    /// Of one unit of cost, in `UNIT` / 2^[`FINE`].
    pub budget: i64,
    /// Of one minute of trimming, in `UNIT` / 2^[`FINE`].
    pub trim: i64,
    /// Of a fast grower; what choosing one earns.
    pub fast: i64,
    /// Of the rows: positive at the upper limit, negative at the lower.
    pub rows: Vec<i64>,
    /// Of each zone's count of each class: `[kind][class_at(kind, zone) + local·(most+1) + count]`.
    pub classes: [Vec<i64>; KINDS],
    /// Of each zone's count: `[count_at(zone) + count]`.
    pub counts: Vec<i64>,
    /// Of each height threshold on each sight line: `[line·(heights+1) + threshold]`.
    pub heights: Vec<i64>,
}

/// Where each zone's entries stand in the tables of [`Prices`].
#[derive(Debug, Clone)]
pub(super) struct Layout {
    pub class_at: [Vec<usize>; KINDS],
    pub count_at: Vec<usize>,
    pub class_len: [usize; KINDS],
    pub count_len: usize,
    pub line_width: usize,
}

impl Layout {
    pub fn new(model: &Model) -> Self {
        let starts = |width: &dyn Fn(usize) -> usize| {
            let mut at = 0;
            let starts: Vec<usize> = (0..model.zones.len())
                .map(|z| {
                    at += width(z);
                    at - width(z)
                })
                .collect();
            (starts, at)
        };
        let classes = [0, 1].map(|kind: usize| {
            starts(&|z| model.zones[z].classes[kind].present.len() * (model.zones[z].most + 1))
        });
        let (count_at, count_len) = starts(&|z| model.zones[z].most + 1);
        let class_len = [classes[0].1, classes[1].1];
        let class_at = classes.map(|(starts, _)| starts);
        Self { class_at, count_at, class_len, count_len, line_width: model.heights + 1 }
    }

    /// Prices to start from: each zone is paid half of the contrast that an even mixture of
    /// classes in the neighbouring zones would bring.
    pub fn start(&self, model: &Model) -> Prices {
        let mut prices = Prices {
            rows: vec![0; model.rows.len()],
            classes: self.class_len.map(|len| vec![0; len]),
            counts: vec![0; self.count_len],
            heights: vec![0; model.lines.len() * self.line_width],
            ..Prices::default()
        };
        let contrast: i64 = model.contrast.iter().sum();
        for (z, zone) in model.zones.iter().enumerate() {
            // Twice the neighbours' usual count, so halves stay whole.
            let beside: usize = (0..model.zones.len())
                .filter(|&y| model.touching[z][y])
                .map(|y| model.zones[y].least + model.zones[y].most)
                .sum();
            let quarter = |weight: i64, count: usize| weight * UNIT * (beside * count) as i64 / 4;
            for count in 0..=zone.most {
                prices.counts[self.count_at[z] + count] = quarter(contrast, count);
            }
            for kind in 0..KINDS {
                let classes = model.classes[kind].max(1) as i64;
                for local in 0..zone.classes[kind].present.len() {
                    let at = self.class_at[kind][z] + local * (zone.most + 1);
                    for count in 0..=zone.most {
                        prices.classes[kind][at + count] = -quarter(model.contrast[kind], count) / classes;
                    }
                }
            }
        }
        prices
    }
}

/// What `amount` of a resource costs at a fine price, rounded down; never more than [`DEAREST`],
/// which undercharges and so keeps a bound valid.
pub(super) fn charge(price: i64, amount: i64) -> i64 {
    ((i128::from(price) * i128::from(amount)) >> FINE).min(i128::from(DEAREST)) as i64
}

/// What a limit on a resource is worth at a fine price, rounded up.
pub(super) fn limit_worth(price: i64, limit: i64) -> i64 {
    if price == 0 { 0 } else { ((i128::from(price) * i128::from(limit)) >> FINE) as i64 + 1 }
}
