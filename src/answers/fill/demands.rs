//! What a tank file and the person's wishes demand of a list.

use std::collections::BTreeSet;

use crate::answers::wishes::Wished;
use crate::catalogue::{LegalEntry, LegalStanding, Plant, TaxonId};
use crate::fit::ZoneConditions;
use crate::select::{Bar, Group, Layout, Problem, Rules, Share, ZoneOffer};
use crate::tank::TankModel;
use crate::tank::file::HeightOrder;

pub(super) fn offers(model: &TankModel, conditions: &[ZoneConditions]) -> Vec<ZoneOffer> {
    let offer = |(i, zone): (usize, &ZoneConditions)| {
        let spec = &model.spec.zones[i];
        ZoneOffer {
            name: spec.name.clone(),
            placement: zone.placement,
            area: model.zones[i].ground.area,
            least: spec.taxa.least,
            most: spec.taxa.most,
            tallest: zone.tallest,
        }
    };
    conditions.iter().enumerate().map(offer).collect()
}

/// The taxa that a law of these places restricts.
pub(in crate::answers) fn barred(legal: &[LegalEntry], places: &[String]) -> BTreeSet<TaxonId> {
    let binds = |l: &&LegalEntry| l.standing == LegalStanding::Law && places.iter().any(|p| l.touches(p));
    legal.iter().filter(binds).map(|l| l.taxon.clone()).collect()
}

pub(super) fn bar(plant: &Plant, wished: &Wished, by_law: bool) -> Option<Bar> {
    if by_law {
        Some(Bar::Law)
    } else if wished.never.contains(&plant.id) {
        Some(Bar::Never)
    } else if wished.meets_range(&plant.native) {
        None
    } else {
        Some(Bar::NotNative)
    }
}

pub(super) fn rules(model: &TankModel) -> Rules {
    let wishes = &model.spec.wishes;
    Rules {
        budget: wishes.budget.as_ref().map(|(money, _)| money.0),
        trim: wishes.trim_minutes_per_month.as_ref().map(|(minutes, _)| i64::from(*minutes)),
        fast: wishes
            .fast_share
            .as_ref()
            .map(|(share, _)| Share { part: (share.value() * 1000.0).round() as i64, whole: 1000 }),
        per_genus: wishes.per_genus.as_ref().map(|(n, _)| *n),
        taxa: wishes.most_taxa.as_ref().map(|(n, _)| *n),
        ..Rules::default()
    }
}

/// How the zones lie to one another; without lines of sight where any order of heights will do.
pub(super) fn layout(model: &TankModel) -> Layout {
    let sight_lines = match model.spec.wishes.height_order {
        HeightOrder::Kept => model.sight_lines.clone(),
        HeightOrder::Free => Vec::new(),
    };
    Layout { neighbours: model.neighbours.clone(), sight_lines }
}

/// Of each set at least one taxon; those that can stand nowhere do not count.
pub(super) fn groups(model: &TankModel, wished: &Wished, problem: &Problem) -> Vec<Group> {
    let sets = model.spec.wishes.one_of.iter().zip(&wished.one_of);
    let group = |((written, _), taxa): (&(Vec<crate::tank::file::Wish>, _), &BTreeSet<TaxonId>)| {
        let names: Vec<&str> = written.iter().map(|w| w.text.as_str()).collect();
        let counted = problem.candidates.iter().enumerate();
        let counted = counted.filter(|(_, c)| taxa.iter().any(|t| t.0 == c.key)).map(|(i, _)| i);
        Group::at_least_one(format!("at least one of {}", names.join(", ")), counted.collect())
    };
    sets.map(group).collect()
}
