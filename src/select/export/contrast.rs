//! What pairs of taxa add to the value, counted by class.
//!
//! All pairs in one zone or in neighbouring ones, less the pairs of one class: both follow from
//! how many taxa (of a class) a zone holds. A count is a sum of columns "k or more"; the product
//! of two counts is the sum of the products of such columns, and a product of two of them is a
//! column held down by both (where pairs earn) or up by both (where they cost).

use std::collections::BTreeMap;

use super::build::{Built, Place};
use super::matrix::{Range, Sense};
use crate::select::problem::{Candidate, Problem};

/// Columns "k or more" by zone; those of a zone without any are empty.
type Counts = Vec<Vec<usize>>;

pub(super) fn add(built: &mut Built) {
    let weights = built.problem.weights;
    let sizes = built.sizes.clone();
    pairs(built, "pairs", weights.texture + weights.colour, &sizes);
    by_class(built, "texture", -weights.texture, |c| u32::from(c.texture));
    by_class(built, "colour", -weights.colour, |c| u32::from(c.colour));
    by_class(built, "genus", -weights.genus, |c| c.genus);
}

/// Pairs of one class, for every class of a kind.
fn by_class(built: &mut Built, kind: &str, weight: i64, class: impl Fn(&Candidate) -> u32) {
    if weight == 0 {
        return;
    }
    let problem = built.problem;
    let of = |place: &Place| class(&problem.candidates[place.candidate]);
    let mut members: BTreeMap<u32, Vec<Vec<usize>>> = BTreeMap::new();
    for place in &built.places {
        let zones = members.entry(of(place)).or_insert_with(|| vec![Vec::new(); problem.zones.len()]);
        zones[place.zone].push(place.candidate);
    }
    for (number, zones) in members {
        let several = |mut taxa: Vec<usize>| {
            taxa.sort_unstable();
            taxa.dedup();
            taxa.len()
        };
        let rooms: Vec<usize> = zones.into_iter().map(several).collect();
        let mut counts: Counts = vec![Vec::new(); rooms.len()];
        for (zone, room) in rooms.iter().enumerate() {
            let room = (*room).min(built.sizes[zone].len());
            if room == 0 || (room == 1 && !meets(problem, zone, &rooms)) {
                continue;
            }
            let name = format!("{kind}.{number}.{}", problem.zones[zone].name);
            counts[zone] =
                (1..=room).map(|k| built.matrix.column(&format!("{name}.{k}"), Range::Binary)).collect();
            let mut terms = built.ones(|p| p.zone == zone && of(p) == number);
            terms.extend(counts[zone].iter().map(|&c| (c, -1)));
            built.matrix.row(&name, Sense::Equal, 0, terms);
        }
        pairs(built, &format!("{kind}.{number}"), weight, &counts);
    }
}

/// Whether a neighbour of a zone can hold the class too.
fn meets(problem: &Problem, zone: usize, rooms: &[usize]) -> bool {
    (0..rooms.len()).any(|other| other != zone && rooms[other] > 0 && problem.touching(zone, other))
}

/// Gives every pair within a zone and between neighbours its weight.
fn pairs(built: &mut Built, name: &str, weight: i64, counts: &Counts) {
    if weight == 0 {
        return;
    }
    for columns in counts {
        for (k, &column) in columns.iter().enumerate() {
            // The (k+1)th of a zone makes k pairs with those before it.
            built.matrix.columns[column].value += weight * k as i64;
        }
    }
    let zones = &built.problem.zones;
    for a in 0..counts.len() {
        for b in a + 1..counts.len() {
            if !built.problem.touching(a, b) {
                continue;
            }
            for (k, &one) in counts[a].iter().enumerate() {
                for (l, &other) in counts[b].iter().enumerate() {
                    let name = format!("{name}.{}.{}.{}.{}", zones[a].name, k + 1, zones[b].name, l + 1);
                    let product = built.matrix.column(&name, Range::Upto(1));
                    built.matrix.columns[product].value = weight;
                    if weight > 0 {
                        built.matrix.row(&format!("{name}.a"), Sense::AtMost, 0, [(product, 1), (one, -1)]);
                        built.matrix.row(&format!("{name}.b"), Sense::AtMost, 0, [(product, 1), (other, -1)]);
                    } else {
                        let terms = [(product, 1), (one, -1), (other, -1)];
                        built.matrix.row(&name, Sense::AtLeast, -1, terms);
                    }
                }
            }
        }
    }
}
