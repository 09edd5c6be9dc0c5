//! Models whose aim is to use as little as possible, for the least amount with which a list exists.

use super::model::{KINDS, Model};

/// What a list should use little of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Aim {
    /// Money, in the unit of prices.
    Cost,
    /// Minutes of trimming.
    Trim,
    /// Taxa.
    Taxa,
}

impl Model {
    /// The same rules; the value of a list is what it uses, taken negative.
    pub fn aimed(&self, aim: Aim) -> Self {
        let mut aimed = self.clone();
        aimed.contrast = [0; KINDS];
        aimed.genus_weight = 0;
        aimed.grain = 1;
        for item in aimed.zones.iter_mut().flat_map(|z| &mut z.items) {
            item.worth = match aim {
                Aim::Cost => item.cost.iter().map(|cost| -cost).collect(),
                Aim::Trim => item.trim.iter().map(|trim| -trim).collect(),
                Aim::Taxa => vec![-1; item.worth.len()],
            };
        }
        aimed
    }
}
