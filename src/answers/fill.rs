//! The best list of plants for every zone, with proof.

use std::collections::{BTreeMap, BTreeSet};

use super::house::House;
use super::prices::Prices;
use super::wishes::Wished;
use crate::catalogue::{LegalEntry, LegalStanding, Plant, TaxonId};
use crate::diagnostic::{Finding, Findings};
use crate::fit::{Verdict, ZoneConditions, assess};
use crate::report::view::{
    FillView, PickView, ProofView, RunnerView, TotalsView, ZoneFillView, cautions, flags, judged, left_out,
    tank_view,
};
use crate::select::{
    self, Bar, Composition, Entry, Layout, Obstacle, Outcome, Pick, Rules, Share, Watch, ZoneOffer, compose,
    places,
};
use crate::tank::TankModel;
use crate::units::Money;

/// Plants named after the chosen ones, a zone.
const RUNNERS_UP: usize = 3;

/// What `fill` is asked.
#[derive(Debug, Clone, Copy)]
pub struct FillAsked<'a> {
    /// What must and must not be on the list, resolved.
    pub wished: &'a Wished,
    /// The price list.
    pub prices: &'a Prices,
}

/// A plant chosen for a zone.
#[derive(Debug, Clone, Copy)]
pub struct Choice<'a> {
    /// The plant.
    pub plant: &'a Plant,
    /// Its zone, by index.
    pub zone: usize,
}

/// Everything between the tank and the answer.
#[derive(Debug)]
pub struct Filling<'a> {
    model: &'a TankModel,
    legal: &'a [LegalEntry],
    prices: &'a Prices,
    conditions: Vec<ZoneConditions>,
    offers: Vec<ZoneOffer>,
    entries: Vec<Entry<'a>>,
    composition: Composition,
}

impl<'a> Filling<'a> {
    /// Judges every plant of the library in every zone and states the choice as a problem.
    ///
    /// # Errors
    /// A damaged library.
    pub fn new(model: &'a TankModel, house: &'a House, asked: FillAsked<'a>) -> Result<Self, Findings> {
        let (plants, legal) = (house.plants()?, house.legal()?);
        let FillAsked { wished, prices } = asked;
        let conditions: Vec<ZoneConditions> =
            (0..model.zones.len()).map(|i| ZoneConditions::of(model, i)).collect();
        let offers = offers(model, &conditions);
        let barred = barred(legal, &model.spec.jurisdictions);
        let entry = |plant: &'a Plant| Entry {
            plant,
            assessments: conditions.iter().map(|zone| assess(plant, zone)).collect(),
            price: prices.by_taxon.get(&plant.id).copied(),
            barred: bar(plant, wished, barred.contains(&plant.id)),
        };
        let entries: Vec<Entry<'a>> = plants.iter().map(entry).collect();
        let must: Vec<usize> = entries
            .iter()
            .enumerate()
            .filter(|(_, e)| wished.must.contains(&e.plant.id))
            .map(|(i, _)| i)
            .collect();
        let layout = Layout { neighbours: model.neighbours.clone(), sight_lines: model.sight_lines.clone() };
        let composition = compose(&offers, &layout, &entries, &must, rules(model));
        Ok(Self { model, legal, prices, conditions, offers, entries, composition })
    }

    /// The best list, as far as `watch` lets the search go.
    ///
    /// # Errors
    /// Demands that make no problem.
    pub fn solve(&self, watch: &mut Watch<'_>) -> Result<Outcome, Findings> {
        select::solve(&self.composition.problem, watch).map_err(|faults| {
            let mut findings = Findings::default();
            for fault in faults {
                findings.push(Finding::error(fault.to_string()));
            }
            findings
        })
    }

    /// The plants of a list with their zones.
    pub fn chosen(&self, outcome: &Outcome) -> Vec<Choice<'a>> {
        let picks: &[Pick] = outcome.answer().map_or(&[], |a| &a.chosen);
        picks.iter().map(|pick| Choice { plant: self.plant(*pick), zone: pick.zone }).collect()
    }
}

fn offers(model: &TankModel, conditions: &[ZoneConditions]) -> Vec<ZoneOffer> {
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
pub(super) fn barred(legal: &[LegalEntry], places: &[String]) -> BTreeSet<TaxonId> {
    let binds = |l: &&LegalEntry| l.standing == LegalStanding::Law && places.iter().any(|p| l.touches(p));
    legal.iter().filter(binds).map(|l| l.taxon.clone()).collect()
}

fn bar(plant: &Plant, wished: &Wished, by_law: bool) -> Option<Bar> {
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

fn rules(model: &TankModel) -> Rules {
    let wishes = &model.spec.wishes;
    Rules {
        budget: wishes.budget.as_ref().map(|(money, _)| money.0),
        trim: wishes.trim_minutes_per_month.as_ref().map(|(minutes, _)| i64::from(*minutes)),
        fast: wishes
            .fast_share
            .as_ref()
            .map(|(share, _)| Share { part: (share.value() * 1000.0).round() as i64, whole: 1000 }),
        per_genus: wishes.per_genus.as_ref().map(|(n, _)| *n),
        ..Rules::default()
    }
}

impl<'a> Filling<'a> {
    /// The answer as a view.
    pub fn view(&self, outcome: &Outcome) -> FillView {
        let picks: &[Pick] = outcome.answer().map_or(&[], |a| &a.chosen);
        let chosen: Vec<&Plant> = picks.iter().map(|p| self.plant(*p)).collect();
        let zones = (0..self.offers.len()).map(|z| self.zone_view(z, picks)).collect();
        let found = outcome.answer().is_some();
        FillView {
            tank: tank_view(self.model),
            zones: if found { zones } else { Vec::new() },
            totals: found.then(|| self.totals(picks)),
            proof: proof(outcome),
            impossible: if matches!(outcome, Outcome::Impossible { .. }) {
                self.why_impossible()
            } else {
                Vec::new()
            },
            cautions: cautions(self.model, &chosen),
            left_out: left_out(),
        }
    }

    fn plant(&self, pick: Pick) -> &'a Plant {
        self.entries[self.composition.entries[pick.candidate]].plant
    }

    fn zone_view(&self, zone: usize, picks: &[Pick]) -> ZoneFillView {
        let here: Vec<Pick> = picks.iter().copied().filter(|p| p.zone == zone).collect();
        let taken: Vec<usize> = picks.iter().map(|p| self.composition.entries[p.candidate]).collect();
        let grows = |e: &Entry<'_>| e.barred.is_none() && e.assessments[zone].suitability >= Verdict::GROWS;
        let mut others: Vec<&Entry<'_>> = self
            .entries
            .iter()
            .enumerate()
            .filter(|(i, e)| grows(e) && !taken.contains(i))
            .map(|(_, e)| e)
            .collect();
        others.sort_by(|a, b| {
            let worth = |e: &Entry<'_>| select::worth(e.plant, e.assessments[zone].suitability);
            worth(b).cmp(&worth(a)).then_with(|| a.plant.id.cmp(&b.plant.id))
        });
        let runner = |e: &&Entry<'_>| RunnerView {
            taxon: e.plant.id.0.clone(),
            name: e.plant.display_name(),
            verdict: e.assessments[zone].verdict().word().to_owned(),
            suitability: (e.assessments[zone].suitability * 1000.0).round() / 1000.0,
        };
        ZoneFillView {
            zone,
            candidates: self.entries.iter().filter(|e| grows(e)).count(),
            picks: here.iter().map(|p| self.pick_view(*p, here.len())).collect(),
            runners_up: others.iter().take(RUNNERS_UP).map(runner).collect(),
        }
    }

    fn pick_view(&self, pick: Pick, in_zone: usize) -> PickView {
        let entry = &self.entries[self.composition.entries[pick.candidate]];
        let plant = entry.plant;
        let candidate = &self.composition.problem.candidates[pick.candidate];
        let choice = candidate.choice_in(pick.zone);
        let (portions, trim) = choice.map_or((0, 0), |c| (c.portions_at(in_zone), c.trim_at(in_zone)));
        let offer = &self.offers[pick.zone];
        let share = crate::units::Area::from_m2(offer.area.m2() / in_zone.max(1) as f64);
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

    fn totals(&self, picks: &[Pick]) -> TotalsView {
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

    /// The reasons, in the words of the tank file.
    fn why_impossible(&self) -> Vec<String> {
        let problem = &self.composition.problem;
        let mut reasons: Vec<String> = problem
            .rules
            .must
            .iter()
            .filter(|m| problem.candidates[**m].options.is_empty())
            .map(|m| self.no_place_for(*m))
            .collect();
        if reasons.is_empty() {
            let found = select::obstacles(problem).unwrap_or_default();
            reasons = found.iter().map(|o| self.obstacle_words(o)).collect();
        }
        if reasons.is_empty() {
            reasons.push("no single demand is to blame: at least two of them have to give way".to_owned());
        }
        reasons
    }

    /// Why a plant that must be on the list can stand nowhere.
    fn no_place_for(&self, candidate: usize) -> String {
        let entry = &self.entries[self.composition.entries[candidate]];
        let name = entry.plant.display_name();
        let best = entry
            .assessments
            .iter()
            .zip(&self.offers)
            .max_by(|(a, _), (b, _)| a.suitability.total_cmp(&b.suitability));
        match (entry.barred, best) {
            (Some(Bar::Law), _) => {
                format!("{name} must be on the list, but a law of the tank's place restricts it")
            }
            (Some(Bar::Never), _) => format!("{name} must be on the list and never be on it"),
            (Some(Bar::NotNative), _) => {
                format!("{name} must be on the list, but is not native to the areas asked for")
            }
            (None, Some((assessment, offer))) => format!(
                "{name} must be on the list, but grows in no zone: at best it {} in “{}”, limited by {}",
                assessment.verdict(),
                offer.name,
                assessment.limiting
            ),
            (None, None) => format!("{name} must be on the list, but there is no zone"),
        }
    }

    fn obstacle_words(&self, obstacle: &Obstacle) -> String {
        let problem = &self.composition.problem;
        let currency = self.model.spec.wishes.currency.as_deref().unwrap_or_default();
        match obstacle {
            Obstacle::Budget(least) => {
                let given = Money(problem.rules.budget.unwrap_or(0));
                format!("the budget of {given} {currency} is too small: with {} a list is possible", Money(*least))
            }
            Obstacle::Trim(least) => format!(
                "{} minutes of trimming a month are too few: with {least} a list is possible",
                problem.rules.trim.unwrap_or(0)
            ),
            Obstacle::Fast => "the share of fast growers asked for cannot be had; without it a list is possible".to_owned(),
            Obstacle::PerGenus => "the limit on taxa of one genus is too tight; without it a list is possible".to_owned(),
            Obstacle::SightLines => {
                "no list keeps what stands nearer lower than what stands behind it; raise `tallest` behind or lower it in front"
                    .to_owned()
            }
            Obstacle::Must(candidate) => {
                let entry = &self.entries[self.composition.entries[*candidate]];
                format!("{} must be on the list; without it a list is possible", entry.plant.display_name())
            }
            Obstacle::Count { zone, possible } => format!(
                "“{}” asks for {} taxa or more; with {possible} a list is possible",
                problem.zones[*zone].name, problem.zones[*zone].least
            ),
        }
    }
}

fn proof(outcome: &Outcome) -> ProofView {
    let (status, nodes) = match outcome {
        Outcome::Optimal(a) => ("optimal", a.nodes),
        Outcome::Feasible(a) => ("feasible", a.nodes),
        Outcome::Unknown { nodes } => ("unknown", *nodes),
        Outcome::Impossible { nodes } => ("impossible", *nodes),
    };
    let answer = outcome.answer();
    ProofView {
        status: status.to_owned(),
        value: answer.map(|a| a.value),
        bound: answer.map(|a| a.bound),
        nodes,
    }
}
