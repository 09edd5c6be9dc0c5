//! What goes beyond the one list: the next best ones, the nearest to a list that is there, what a
//! little more would buy, and why a plant was not chosen.

use std::cmp::Reverse;

use super::{Depth, Filling, found_faults};
use crate::answers::{House, compute};
use crate::catalogue::TaxonId;
use crate::diagnostic::Findings;
use crate::fit::remedy::Change;
use crate::report::view::{
    AlternativeView, DifferenceView, FillView, NearView, PlacedView, StatedView, WhatIfView, WhyNotView,
};
use crate::select::{
    self, Answer, Ask, Demand, Near, Outcome, Pick, Problem, Totals, Watch, alternatives, binding, conflict,
    solve_from, with_pick,
};
use crate::tank::file::{Injection, Livestock};
use crate::units::Concentration;

/// Steps of the question what a little more would buy: hundredths of the currency, minutes.
const MORE_MONEY: i64 = 10_00;
const MORE_MINUTES: i64 = 30;
/// The CO2 that gas is asked to hold (common practice, no source; below what fish bear).
const GAS_MG_L: f64 = 25.0;

impl Filling<'_> {
    /// The next best lists, each with what it gains and loses against the first.
    ///
    /// # Errors
    /// Demands that make no problem.
    pub fn alternatives(
        &self,
        first: &Answer,
        ask: Ask,
        watch: &mut Watch<'_>,
    ) -> Result<Vec<AlternativeView>, Findings> {
        let problem = &self.composition.problem;
        let found = alternatives(problem, &first.chosen, ask, watch).map_err(found_faults)?;
        let view = |(n, outcome): (usize, &Outcome)| {
            let answer = outcome.answer()?;
            Some(AlternativeView {
                rank: n + 2,
                value: answer.value,
                proven: matches!(outcome, Outcome::Optimal(_)),
                picks: answer.chosen.iter().map(|p| self.placed(*p)).collect(),
                against_first: self.difference(problem, &first.chosen, problem, &answer.chosen),
            })
        };
        Ok(found.iter().enumerate().filter_map(view).collect())
    }

    /// The best list near one that is there, by taxa; those of no zone have to go. What is asked
    /// afterwards is asked of lists within the same changes.
    ///
    /// # Errors
    /// Demands that make no problem.
    pub fn near(
        &mut self,
        list: &[TaxonId],
        changes: Option<usize>,
        watch: &mut Watch<'_>,
    ) -> Result<(Outcome, NearView), Findings> {
        let problem = &self.composition.problem;
        let candidate = |taxon: &TaxonId| problem.candidates.iter().position(|c| c.key == taxon.0);
        let mut taxa = list.to_vec();
        taxa.sort();
        taxa.dedup();
        let kept: Vec<usize> = taxa.iter().filter_map(candidate).collect();
        let asked = Near { lost: taxa.len() - kept.len(), list: kept, changes };
        let found = select::near(problem, &asked, watch).map_err(found_faults)?;
        let chosen: Vec<usize> =
            found.outcome.answer().map_or_else(Vec::new, |a| a.chosen.iter().map(|p| p.candidate).collect());
        let off = |taxon: &&TaxonId| candidate(taxon).is_none_or(|c| !chosen.contains(&c));
        let plant = |taxon: &TaxonId| {
            let entry = self.entries.iter().find(|e| e.plant.id == *taxon);
            entry.map_or_else(|| taxon.0.clone(), |e| e.plant.display_name())
        };
        let view = NearView {
            listed: taxa.len(),
            fewest: found.fewest,
            allowed: changes,
            off: if chosen.is_empty() { Vec::new() } else { taxa.iter().filter(off).map(plant).collect() },
            added: chosen.iter().filter(|c| !asked.list.contains(c)).map(|c| self.name(*c)).collect(),
        };
        if let Some(allowed) = changes.or(found.fewest) {
            self.composition.problem = select::within_changes(&self.composition.problem, &asked, allowed);
        }
        Ok((found.outcome, view))
    }

    /// What binds the best list, and why the next plants were not chosen.
    ///
    /// # Errors
    /// Demands that make no problem.
    pub fn reasons(
        &self,
        best: &Answer,
        depth: Depth,
        view: &mut FillView,
        watch: &mut Watch<'_>,
    ) -> Result<(), Findings> {
        view.binding = self.binding(best, depth, watch)?;
        let first = self.first_runner_up(best);
        for zone in view.zones.iter_mut().filter(|z| depth == Depth::Whole || Some(z.zone) == first) {
            zone.why_not = self.why_not(zone.zone, best, watch)?;
        }
        Ok(())
    }

    /// The demands that keep a better list away; `None` when the search for one of them was ended.
    ///
    /// # Errors
    /// Demands that make no problem.
    fn binding(
        &self,
        best: &Answer,
        depth: Depth,
        watch: &mut Watch<'_>,
    ) -> Result<Option<Vec<StatedView>>, Findings> {
        let problem = &self.composition.problem;
        let asked = |demand: &Demand| depth == Depth::Whole || !matches!(demand, Demand::Least(_));
        let demands: Vec<Demand> = Demand::all(problem).into_iter().filter(asked).collect();
        let found = binding(problem, best.value, &demands, watch).map_err(found_faults)?;
        if found.iter().any(|(_, binds)| binds.is_none()) {
            return Ok(None);
        }
        let binds = found.iter().filter(|(_, binds)| *binds == Some(true));
        Ok(Some(binds.map(|(demand, _)| self.stated(*demand)).collect()))
    }

    /// The zone whose first runner-up is the worthiest of all.
    fn first_runner_up(&self, best: &Answer) -> Option<usize> {
        let worth = |zone: usize| {
            let first = self.others(zone, &best.chosen).first().copied()?;
            Some(select::worth(first.plant, first.assessments[zone].suitability))
        };
        // The first of several alike.
        (0..self.offers.len())
            .filter_map(|z| Some((worth(z)?, z)))
            .max_by_key(|(w, z)| (*w, Reverse(*z)))
            .map(|(_, z)| z)
    }

    /// Why the worthiest plant that a zone has not got is not on the best list.
    ///
    /// # Errors
    /// Demands that make no problem.
    fn why_not(
        &self,
        zone: usize,
        best: &Answer,
        watch: &mut Watch<'_>,
    ) -> Result<Option<WhyNotView>, Findings> {
        let others = self.others(zone, &best.chosen);
        let Some(plant) = others.first().map(|e| e.plant) else { return Ok(None) };
        let problem = &self.composition.problem;
        let Some(candidate) = problem.candidates.iter().position(|c| c.key == plant.id.0) else {
            return Ok(None);
        };
        let with = with_pick(problem, Pick { zone, candidate });
        let outcome = select::solve(&with, watch).map_err(found_faults)?;
        let mut view =
            WhyNotView { name: plant.display_name(), value: None, less: None, against: Vec::new() };
        match &outcome {
            Outcome::Optimal(answer) => {
                view.value = Some(answer.value);
                view.less = Some(best.value - answer.value);
            }
            Outcome::Impossible { .. } => {
                let found = conflict(&with, watch).map_err(found_faults)?;
                let members = found.map_or_else(Vec::new, |c| c.members);
                let others = members.iter().filter(|m| m.demand != Demand::Must(candidate));
                view.against = others.map(|m| self.stated(m.demand)).collect();
            }
            Outcome::Feasible(_) | Outcome::Unknown { .. } => return Ok(None),
        }
        Ok(Some(view))
    }

    /// What a little more money, time or gas would buy.
    ///
    /// # Errors
    /// Demands that make no problem, and figures that the models refuse.
    pub fn what_if(
        &self,
        best: &Answer,
        house: &House,
        watch: &mut Watch<'_>,
    ) -> Result<Vec<WhatIfView>, Findings> {
        let mut views = Vec::new();
        let problem = &self.composition.problem;
        if let Some(budget) = problem.rules.budget {
            let mut more = problem.clone();
            more.rules.budget = Some(budget + MORE_MONEY);
            views.push(self.with_more(&format!("{} more", self.money(MORE_MONEY)), &more, best, watch)?);
        }
        if let Some(trim) = problem.rules.trim {
            let mut more = problem.clone();
            more.rules.trim = Some(trim + MORE_MINUTES);
            let words = format!("{MORE_MINUTES} minutes of trimming more");
            views.push(self.with_more(&words, &more, best, watch)?);
        }
        if self.model.spec.gas.injection == Injection::None {
            views.push(self.with_gas(best, house, watch)?);
        }
        Ok(views)
    }

    fn with_more(
        &self,
        words: &str,
        more: &Problem,
        best: &Answer,
        watch: &mut Watch<'_>,
    ) -> Result<WhatIfView, Findings> {
        let outcome = solve_from(more, &best.chosen, watch).map_err(found_faults)?;
        let problem = &self.composition.problem;
        Ok(what_if_view(words, &outcome, best, |chosen| self.difference(problem, &best.chosen, more, chosen)))
    }

    /// The same tank with gas from a cylinder, judged and solved anew.
    fn with_gas(&self, best: &Answer, house: &House, watch: &mut Watch<'_>) -> Result<WhatIfView, Findings> {
        let level = Concentration::from_mg_l(GAS_MG_L);
        let spec = Change::Gas(level).applied(&self.model.spec);
        let model = compute(&spec, house, &mut Findings::default())?;
        let gassed = Filling::new(&model, house, self.asked())?;
        let outcome = gassed.solve(watch)?;
        let words = format!("gas from a cylinder at {GAS_MG_L} mg/L of CO2");
        let mut view = what_if_view(&words, &outcome, best, |chosen| {
            let keys = |filling: &Filling<'_>, picks: &[Pick]| -> Vec<String> {
                picks.iter().map(|p| filling.name(p.candidate)).collect()
            };
            let (old, new) = (keys(self, &best.chosen), keys(&gassed, chosen));
            let totals =
                (self.composition.problem.totals(&best.chosen), gassed.composition.problem.totals(chosen));
            self.difference_of(&old, &new, totals)
        });
        let fish = self.model.spec.livestock == Livestock::Fish;
        view.caution = Some(format!(
            "gas needs a cylinder, a timer and care{}",
            if fish { "; raise it slowly and watch the fish: they suffocate before plants mind" } else { "" }
        ));
        Ok(view)
    }

    fn placed(&self, pick: Pick) -> PlacedView {
        let plant = self.plant(pick);
        PlacedView { zone: pick.zone, taxon: plant.id.0.clone(), name: plant.display_name() }
    }

    /// What one list has more and less than another, each under its own problem.
    fn difference(&self, old: &Problem, from: &[Pick], new: &Problem, to: &[Pick]) -> DifferenceView {
        let names = |picks: &[Pick]| picks.iter().map(|p| self.name(p.candidate)).collect::<Vec<_>>();
        let mut view = self.difference_of(&names(from), &names(to), (old.totals(from), new.totals(to)));
        let moved = to.iter().filter(|t| from.iter().any(|f| f.candidate == t.candidate && f.zone != t.zone));
        view.moved = moved.map(|p| self.name(p.candidate)).collect();
        view
    }

    fn difference_of(&self, from: &[String], to: &[String], totals: (Totals, Totals)) -> DifferenceView {
        let (old, new) = totals;
        let missing = |these: &[String], those: &[String]| -> Vec<String> {
            these.iter().filter(|name| !those.contains(name)).cloned().collect()
        };
        DifferenceView {
            comes: missing(to, from),
            goes: missing(from, to),
            moved: Vec::new(),
            value: new.value - old.value,
            contrast: new.contrast - old.contrast,
            cost: self.signed_money(new.cost - old.cost),
            trim_minutes_per_month: new.trim - old.trim,
        }
    }

    fn signed_money(&self, hundredths: i64) -> String {
        let sign = if hundredths < 0 { "−" } else { "+" };
        format!("{sign}{}", self.money(hundredths.abs()))
    }
}

/// The answer to one change.
fn what_if_view(
    words: &str,
    outcome: &Outcome,
    best: &Answer,
    difference: impl FnOnce(&[Pick]) -> DifferenceView,
) -> WhatIfView {
    let answer = outcome.answer();
    WhatIfView {
        change: words.to_owned(),
        proven: matches!(outcome, Outcome::Optimal(_) | Outcome::Impossible { .. }),
        gain: answer.map(|a| a.value - best.value),
        against_first: answer.map(|a| difference(&a.chosen)),
        caution: None,
    }
}
