//! The search's own last check of a list, straight from the rules, and of two sets beside each other.

use crate::select::model::{KINDS, Model, Row};

/// The value of a list, or `None` if it breaks a rule: the search's own last check.
pub(super) fn judged(model: &Model, picks: &[(usize, usize)], rows: &[Row]) -> Option<i64> {
    let mut sizes = vec![0; model.zones.len()];
    for &(zone, _) in picks {
        sizes[zone] += 1;
    }
    if model.zones.iter().zip(&sizes).any(|(zone, &size)| size < zone.least || size > zone.most) {
        return None;
    }
    let (mut value, mut cost, mut trim) = (0, 0, 0);
    let mut taxa = Vec::with_capacity(picks.len());
    for (n, &(zone, item)) in picks.iter().enumerate() {
        let item = &model.zones[zone].items[item];
        value += item.worth[sizes[zone] - 1];
        cost += item.cost[sizes[zone] - 1];
        trim += item.trim[sizes[zone] - 1];
        for &(z, other) in &picks[..n] {
            let other = &model.zones[z].items[other];
            if z == zone || model.touching[z][zone] {
                for kind in 0..KINDS {
                    value += model.contrast[kind] * i64::from(item.classes[kind] != other.classes[kind]);
                }
                value -= model.genus_weight * i64::from(item.genus == other.genus);
            }
            let taller = |near: (usize, usize), far: (usize, usize)| {
                near.1 > far.1 && model.lines.contains(&(near.0, far.0))
            };
            if taller((z, other.height), (zone, item.height))
                || taller((zone, item.height), (z, other.height))
            {
                return None;
            }
            if model.against[item.taxon].binary_search(&other.taxon).is_ok() {
                return None;
            }
        }
        taxa.push(item.taxon);
    }
    taxa.sort_unstable();
    let fast = taxa.iter().filter(|&&t| model.fast[t]).count();
    let broken = |row: &Row| {
        let picked = row.taxa.iter().filter(|t| taxa.binary_search(t).is_ok()).count() as i64;
        picked < row.least || picked > row.most
    };
    let sound = cost <= model.budget
        && trim <= model.trim
        && fast >= model.fast_needed(taxa.len())
        && taxa.len() <= model.most_taxa
        && taxa.windows(2).all(|w| w[0] != w[1])
        && (0..model.must.len()).all(|t| !model.must[t] || taxa.binary_search(&t).is_ok())
        && !rows.iter().any(broken);
    sound.then_some(value)
}

/// Pairs of one genus between two sets of taxa; `None` when the sets may not stand together.
pub(super) fn kinship(model: &Model, taxa: &[u32], others: &[u32]) -> Option<i64> {
    let mut kin = 0;
    for &a in taxa {
        let against = &model.against[a as usize];
        for &b in others {
            if a == b || (!against.is_empty() && against.binary_search(&(b as usize)).is_ok()) {
                return None;
            }
            kin += i64::from(model.genus[a as usize] == model.genus[b as usize]);
        }
    }
    Some(kin)
}
