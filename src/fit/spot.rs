//! The zone of a tank that suits a plant best.

use super::assess::assess_anywhere;
use super::{Assessment, Verdict, ZoneConditions, assess};
use crate::catalogue::{Placement, Plant};

/// A plant in the zone that suits it best.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// Index of the zone.
    pub zone: usize,
    /// How it stands there.
    pub assessment: Assessment,
}

type Rank = ((bool, Verdict, bool), [f64; 2], Assessment);

/// The best of the zones whose placement the plant serves; where there is none, the zone that
/// would be best but for that. Among zones of one verdict, wood or rock is left to those who can
/// hold on to it; among equals the first.
///
/// # Panics
/// Without a zone.
pub fn best_spot(plant: &Plant, zones: &[ZoneConditions]) -> Spot {
    let rank = |zone: &ZoneConditions| {
        let serves = plant.placements.contains(&zone.placement);
        let (here, anywhere) = (assess(plant, zone), assess_anywhere(plant, zone));
        // What the least factor leaves when nothing grows: how near it is to growing.
        let total: f64 = anywhere.factors.iter().sum();
        let on_hardscape = zone.placement == Placement::Epiphyte;
        ((serves, anywhere.verdict(), on_hardscape), [anywhere.suitability, total], here)
    };
    let better = |a: &Rank, b: &Rank| {
        a.0.cmp(&b.0).then(a.1[0].total_cmp(&b.1[0])).then(a.1[1].total_cmp(&b.1[1])).is_gt()
    };
    let mut ranked = zones.iter().map(rank).enumerate();
    let first = ranked.next().expect("a tank has a zone before plants are judged in it");
    let (zone, (.., assessment)) =
        ranked.fold(first, |best, next| if better(&next.1, &best.1) { next } else { best });
    Spot { zone, assessment }
}
