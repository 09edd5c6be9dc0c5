//! The part of the problem a node of the search looks at: what each zone may still hold.

use crate::select::model::{KINDS, Model, Row};

/// What one zone may still hold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct ZoneScope {
    pub least: usize,
    pub most: usize,
    /// Items that may be chosen besides the forced ones.
    pub open: Vec<bool>,
    /// Items that are chosen.
    pub forced: Vec<u16>,
    /// For each kind and local class the fewest and most items.
    pub classes: [Vec<(u8, u8)>; KINDS],
}

/// What every zone may still hold, and which numbers of fast growers are still looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Scope {
    pub zones: Vec<ZoneScope>,
    /// Numbers of fast growers asked for (see [`Slice`]), as indices.
    pub slices: Vec<usize>,
}

/// All list sizes that ask for the same number of fast growers. A share such as 3/5 asks 16 taxa
/// for 10 fast growers, not for 9.6: taken slice by slice the rounding is part of the bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Slice {
    pub fast: usize,
    pub fewest: usize,
    pub most: usize,
}

impl Scope {
    /// Everything the model allows; `None` when some zone, must or row has no room at all.
    pub fn whole(model: &Model) -> Option<Self> {
        let placed = |taxon: &&usize| model.zones_of(**taxon).next().is_some();
        let cannot = |row: &Row| row.least > row.most.min(row.taxa.iter().filter(placed).count() as i64);
        if model.rows.iter().any(|row| row.least > 0 && cannot(row)) {
            return None;
        }
        let mut zones: Vec<ZoneScope> = model
            .zones
            .iter()
            .map(|zone| ZoneScope {
                least: zone.least,
                most: zone.most,
                open: vec![true; zone.items.len()],
                forced: Vec::new(),
                classes: [0, 1].map(|k: usize| vec![(0, zone.most as u8); zone.classes[k].present.len()]),
            })
            .collect();
        let musts: Vec<usize> = (0..model.must.len()).filter(|&t| model.must[t]).collect();
        if !model.bears(&musts) {
            return None;
        }
        for &taxon in &musts {
            let places: Vec<usize> = model.zones_of(taxon).collect();
            match places.as_slice() {
                [] => return None,
                [zone] => {
                    let item = model.zones[*zone].items.partition_point(|i| i.taxon < taxon);
                    zones[*zone].force(item);
                }
                _ => {}
            }
        }
        let scope = Self { slices: (0..slices(model).len()).collect(), zones };
        (scope.zones.iter().all(ZoneScope::has_room) && !scope.slices.is_empty()).then_some(scope)
    }
}

impl Scope {
    /// Takes an item in for good, and closes what may not stand beside it.
    pub fn force(&mut self, model: &Model, zone: usize, item: usize) {
        self.zones[zone].force(item);
        let taxon = model.zones[zone].items[item].taxon;
        for (place, scope) in model.zones.iter().zip(&mut self.zones) {
            for (open, other) in scope.open.iter_mut().zip(&place.items) {
                let barred = other.taxon == taxon || model.against[taxon].binary_search(&other.taxon).is_ok();
                *open &= !barred;
            }
        }
    }
}

impl ZoneScope {
    /// Takes an item in for good.
    pub fn force(&mut self, item: usize) {
        self.open[item] = false;
        self.forced.push(item as u16);
        self.least = self.least.max(self.forced.len());
    }

    pub fn has_room(&self) -> bool {
        let open = self.open.iter().filter(|o| **o).count();
        self.least <= self.most && self.forced.len() + open >= self.least && self.forced.len() <= self.most
    }
}

/// The slices of a model, by rising number of taxa.
pub(super) fn slices(model: &Model) -> Vec<Slice> {
    let fewest: usize = model.zones.iter().map(|z| z.least).sum();
    let most = model.zones.iter().map(|z| z.most).sum::<usize>().min(model.most_taxa);
    let mut slices: Vec<Slice> = Vec::new();
    for taxa in fewest..=most {
        let fast = model.fast_needed(taxa);
        match slices.last_mut() {
            Some(last) if last.fast == fast => last.most = taxa,
            _ => slices.push(Slice { fast, fewest: taxa, most: taxa }),
        }
    }
    slices
}
