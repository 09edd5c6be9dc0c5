//! How often the sets met on the way of an ascent hold what: where the relaxation is torn.
//!
//! At good prices a zone that is torn has several best sets, and the prices sway between them.
//! What some of them hold and others do not is worth splitting on; the prices themselves cannot
//! tell, as at them the sets are worth the same.

use super::zone::Subset;
use crate::select::model::Model;

/// Weight of the newest sets in the mean.
const NEWEST: f64 = 0.06;

/// Means over the sets met, each from nought to one.
#[derive(Debug, Clone)]
pub(super) struct Usage {
    /// By zone and item: how often it is held.
    items: Vec<Vec<f64>>,
    /// By zone and size: how often the set is of that size.
    sizes: Vec<Vec<f64>>,
}

impl Usage {
    pub fn of(model: &Model, sets: &[Subset]) -> Self {
        let items = model.zones.iter().map(|z| vec![0.0; z.items.len()]).collect();
        let sizes = model.zones.iter().map(|z| vec![0.0; z.most + 1]).collect();
        let mut usage = Self { items, sizes };
        usage.add(sets, 1.0);
        usage
    }

    /// Takes the sets of one more step into the mean.
    pub fn meet(&mut self, sets: &[Subset]) {
        for mean in self.items.iter_mut().chain(&mut self.sizes).flatten() {
            *mean *= 1.0 - NEWEST;
        }
        self.add(sets, NEWEST);
    }

    fn add(&mut self, sets: &[Subset], weight: f64) {
        for (zone, set) in sets.iter().enumerate() {
            self.sizes[zone][usize::from(set.size)] += weight;
            for item in set.items() {
                self.items[zone][item] += weight;
            }
        }
    }

    /// How torn a zone is over an item: from nought to a half.
    pub fn over_item(&self, zone: usize, item: usize) -> f64 {
        torn(self.items[zone][item])
    }

    /// How torn a zone is over holding more than so many.
    pub fn over_size(&self, zone: usize, size: usize) -> f64 {
        torn(self.sizes[zone][..=size].iter().sum())
    }

    /// How torn the whole is over a taxon, which is an item of these zones.
    pub fn over_taxon(&self, places: &[(usize, usize)]) -> f64 {
        torn(places.iter().map(|&(zone, item)| self.items[zone][item]).sum())
    }
}

fn torn(mean: f64) -> f64 {
    mean.min(1.0 - mean).max(0.0)
}
