//! Two changes together, for a plant that no single one helps.

use super::lever::{Lever, grows, levers};
use super::{Change, SideEffect, Site, Standing, caution, effort, short_of};
use crate::fit::{Assessment, Certainty, Factor, Verdict, assess, certainty};

/// Two changes with which a plant grows.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// The first, in the digits that people set by hand; enough for the plant to thrive in what it moves.
    pub first: Change,
    /// The second, the smallest that is then enough, likewise rounded where that still is.
    pub second: Change,
    /// How the plant stands after both.
    pub assessment: Assessment,
    /// How sure that is.
    pub certainty: Certainty,
    /// Other plants whose verdict both together change.
    pub side_effects: Vec<SideEffect>,
    /// Rules of set-up that they break.
    pub cautions: Vec<String>,
}

/// Two changes with which the plant grows: the smallest one of the water with which the plant
/// thrives in all that it moves, and the smallest one that is then enough. Not the smallest of
/// all pairs: one that leaves room.
pub fn pair(site: &Site<'_>, misfit: Standing<'_>, others: &[Standing<'_>]) -> Option<Pair> {
    let Standing { plant, zone } = misfit;
    let short = short_of(&assess(plant, &site.zones[zone]));
    if short.len() < 2 || short.iter().any(|f| !super::MOVABLE.contains(f)) {
        return None;
    }
    let watery: Vec<Factor> = short.iter().copied().filter(|f| *f != Factor::Light).collect();
    let smaller = |a: &Change, b: &Change| effort(*a, site.spec()).total_cmp(&effort(*b, site.spec()));
    let helps = |lever: &Lever, factors: &[Factor]| -> Vec<Factor> {
        factors.iter().copied().filter(|f| lever.moves_all(&[*f])).collect()
    };
    let first = levers(site)
        .iter()
        .filter(|lever| !lever.moves_all(&[Factor::Light]))
        .map(|lever| (lever, helps(lever, &watery)))
        .filter(|(_, helped)| !helped.is_empty())
        .filter_map(|(lever, helped)| lever.first_for(site, plant, zone, &helped))
        .min_by(smaller)?
        .rounded(site.spec());
    let there = site.with(first)?;
    let left = short_of(&assess(plant, &there.zones[zone]));
    let second = levers(&there)
        .into_iter()
        .filter(|lever| lever.moves_all(&left))
        .filter_map(|lever| lever.first(&there, plant, zone))
        .min_by(|a, b| effort(*a, there.spec()).total_cmp(&effort(*b, there.spec())))?;
    let rounded = second.rounded(there.spec());
    let second = if grows(&there, plant, zone, rounded) { rounded } else { second };
    let after = there.zone_after(zone, second)?;
    let assessment = assess(plant, &after);
    let effect = |(other, standing): (usize, &Standing<'_>)| {
        let from = assess(standing.plant, &site.zones[standing.zone]).verdict();
        let to = assess(standing.plant, &there.zone_after(standing.zone, second)?).verdict();
        (from != to).then_some(SideEffect { other, from, to })
    };
    let side_effects = others.iter().enumerate().filter_map(effect).collect();
    let certainty = certainty(plant, &after);
    let mut cautions = caution::cautions(site, first);
    cautions.extend(caution::cautions(&there, second));
    cautions.dedup();
    (assessment.suitability >= Verdict::GROWS).then_some(Pair {
        first,
        second,
        assessment,
        certainty,
        side_effects,
        cautions,
    })
}
