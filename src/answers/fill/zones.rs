//! The zones of an answer, with what was chosen for them, and the sums.

use std::collections::BTreeMap;

use super::{Filling, RUNNERS_UP};
use crate::catalogue::LegalEntry;
use crate::fit::Verdict;
use crate::report::view::{PickView, RunnerView, TotalsView, ZoneFillView, flags, judged};
use crate::select::{self, Entry, Pick, places};
use crate::units::{Area, Money};

impl Filling<'_> {
    pub(super) fn zone_view(&self, zone: usize, picks: &[Pick]) -> ZoneFillView {
        let here: Vec<Pick> = picks.iter().copied().filter(|p| p.zone == zone).collect();
        let others = self.others(zone, picks);
        let runner = |e: &&Entry<'_>| RunnerView {
            taxon: e.plant.id.0.clone(),
            name: e.plant.display_name(),
            verdict: e.assessments[zone].verdict().word().to_owned(),
            suitability: (e.assessments[zone].suitability * 1000.0).round() / 1000.0,
        };
        ZoneFillView {
            zone,
            candidates: self.entries.iter().filter(|e| may_stand(e, zone)).count(),
            picks: here.iter().map(|p| self.pick_view(*p, here.len())).collect(),
            runners_up: others.iter().take(RUNNERS_UP).map(runner).collect(),
            why_not: None,
        }
    }

    /// What would grow in a zone and is not on the list, the worthiest first.
    pub(super) fn others(&self, zone: usize, picks: &[Pick]) -> Vec<&Entry<'_>> {
        let taken: Vec<usize> = picks.iter().map(|p| self.composition.entries[p.candidate]).collect();
        let free = self.entries.iter().enumerate().filter(|(i, e)| may_stand(e, zone) && !taken.contains(i));
        let mut others: Vec<&Entry<'_>> = free.map(|(_, e)| e).collect();
        let worth = |e: &Entry<'_>| select::worth(e.plant, e.assessments[zone].suitability);
        others.sort_by(|a, b| worth(b).cmp(&worth(a)).then_with(|| a.plant.id.cmp(&b.plant.id)));
        others
    }

    fn pick_view(&self, pick: Pick, in_zone: usize) -> PickView {
        let entry = &self.entries[self.composition.entries[pick.candidate]];
        let plant = entry.plant;
        let candidate = &self.composition.problem.candidates[pick.candidate];
        let choice = candidate.choice_in(pick.zone);
        let (portions, trim) = choice.map_or((0, 0), |c| (c.portions_at(in_zone), c.trim_at(in_zone)));
        let offer = &self.offers[pick.zone];
        let share = Area::from_m2(offer.area.m2() / in_zone.max(1) as f64);
        let legal: Vec<&LegalEntry> = self.legal.iter().filter(|l| l.taxon == plant.id).collect();
        let flags = flags(plant, &legal, &self.model.spec.jurisdictions);
        let cost = |price: Money| Money(price.0 * portions).to_string();
        PickView {
            judged: judged(plant, &entry.assessments[pick.zone], &self.conditions[pick.zone], flags),
            places: places(plant, offer.placement, share),
            portions: u32::try_from(portions).unwrap_or(u32::MAX),
            price: entry.price.map(|p| p.to_string()),
            cost: entry.price.map(cost),
            trim_minutes_per_month: u32::try_from(trim).unwrap_or(u32::MAX),
        }
    }

    pub(super) fn totals(&self, picks: &[Pick]) -> TotalsView {
        let totals = self.composition.problem.totals(picks);
        let mut in_zone: BTreeMap<usize, usize> = BTreeMap::new();
        for pick in picks {
            *in_zone.entry(pick.zone).or_default() += 1;
        }
        let portions = |p: &Pick| {
            let choice = self.composition.problem.candidates[p.candidate].choice_in(p.zone);
            choice.map_or(0, |c| c.portions_at(in_zone[&p.zone]))
        };
        let unpriced = |p: &&Pick| self.entries[self.composition.entries[p.candidate]].price.is_none();
        TotalsView {
            taxa: totals.taxa,
            portions: u32::try_from(picks.iter().map(portions).sum::<i64>()).unwrap_or(u32::MAX),
            cost: Money(totals.cost).to_string(),
            currency: self.model.spec.wishes.currency.clone().unwrap_or_default(),
            without_price: picks.iter().filter(unpriced).map(|p| self.plant(*p).display_name()).collect(),
            price_origins: self.prices.origins.clone(),
            trim_minutes_per_month: u32::try_from(totals.trim).unwrap_or(u32::MAX),
        }
    }
}

/// Whether a plant grows in the zone and nothing bars it.
fn may_stand(entry: &Entry<'_>, zone: usize) -> bool {
    entry.barred.is_none() && entry.assessments[zone].suitability >= Verdict::GROWS
}
