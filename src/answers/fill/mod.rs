//! The best list of plants for every zone, with proof.

mod demands;
mod further;
mod words;
mod zones;

pub(super) use demands::barred;

use demands::{bar, groups, offers, rules};

use std::ops::ControlFlow;

use super::house::House;
use super::prices::Prices;
use super::wishes::Wished;
use crate::catalogue::{LegalEntry, Plant};
use crate::diagnostic::{Finding, Findings};
use crate::fit::{ZoneConditions, assess};
use crate::report::view::{
    ConflictMemberView, ConflictView, FillView, ProofView, cautions, left_out, tank_view,
};
use crate::select::{
    self, Composition, Entry, Fault, Outcome, Pick, Problem, Progress, Watch, ZoneOffer, compose,
};
use crate::tank::TankModel;
use crate::units::Fraction;

/// Nodes that each search for a reason or a conflict may take.
const REASON_NODES: u64 = 20_000;

/// Whether a search for a reason or a conflict has gone on long enough. By nodes, not by the clock:
/// the same answer every time, by page and by command line.
pub fn reasoned_enough(progress: &Progress) -> bool {
    progress.nodes > REASON_NODES
}

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

/// How far the reasons of a list are looked into.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Depth {
    /// The limits, and the worthiest plant that was not chosen.
    First,
    /// The counts of the zones too, and the worthiest plant of every zone.
    Whole,
}

/// A plant chosen for a zone.
#[derive(Debug, Clone, Copy)]
pub struct Choice<'a> {
    /// The plant.
    pub plant: &'a Plant,
    /// Its zone, by index.
    pub zone: usize,
    /// Its share of the zone, when stated.
    pub share: Option<Fraction>,
}

/// A problem as any solver reads it, and the list as values of its columns.
#[derive(Debug, Clone)]
pub struct Exported {
    /// Free MPS.
    pub model: String,
    /// One column a line.
    pub solution: String,
}

/// Everything between the tank and the answer.
#[derive(Debug)]
pub struct Filling<'a> {
    model: &'a TankModel,
    legal: &'a [LegalEntry],
    wished: &'a Wished,
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
        let layout = demands::layout(model);
        let mut composition = compose(&offers, &layout, &entries, &must, rules(model));
        composition.problem.rules.groups = groups(model, wished, &composition.problem);
        Ok(Self { model, legal, wished, prices, conditions, offers, entries, composition })
    }

    /// The best list, as far as `watch` lets the search go.
    ///
    /// # Errors
    /// Demands that make no problem.
    pub fn solve(&self, watch: &mut Watch<'_>) -> Result<Outcome, Findings> {
        select::solve(&self.composition.problem, watch).map_err(found_faults)
    }

    /// The choice as a problem.
    pub fn problem(&self) -> &Problem {
        &self.composition.problem
    }

    /// The plants of a list with their zones.
    pub fn chosen(&self, outcome: &Outcome) -> Vec<Choice<'a>> {
        let picks: &[Pick] = outcome.answer().map_or(&[], |a| &a.chosen);
        picks.iter().map(|pick| Choice { plant: self.plant(*pick), zone: pick.zone, share: None }).collect()
    }
}

impl<'a> Filling<'a> {
    /// The answer as a view; what was not asked for is empty.
    pub fn view(&self, outcome: &Outcome) -> FillView {
        let mut enough = |progress: &Progress| {
            if reasoned_enough(progress) { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        };
        self.view_within(outcome, &mut enough)
    }

    /// As [`Self::view`], with `watch` over each search for what binds and what makes a list
    /// impossible.
    pub fn view_within(&self, outcome: &Outcome, watch: &mut Watch<'_>) -> FillView {
        let conflict = match outcome {
            Outcome::Impossible { .. } => self.conflict(watch),
            _ => None,
        };
        let picks: &[Pick] = outcome.answer().map_or(&[], |a| &a.chosen);
        let chosen: Vec<&Plant> = picks.iter().map(|p| self.plant(*p)).collect();
        let zones = (0..self.offers.len()).map(|z| self.zone_view(z, picks)).collect();
        let found = outcome.answer().is_some();
        let mut view = FillView {
            tank: tank_view(self.model),
            zones: if found { zones } else { Vec::new() },
            totals: found.then(|| self.totals(picks)),
            near: None,
            binding: None,
            proof: proof(outcome),
            alternatives: Vec::new(),
            what_if: Vec::new(),
            impossible: conflict.as_ref().map_or_else(Vec::new, sentences),
            conflict,
            cautions: cautions(self.model, &chosen),
            left_out: left_out(),
        };
        if let Outcome::Optimal(best) = outcome {
            // A problem with faults has no outcome to be viewed.
            let _ = self.reasons(best, Depth::First, &mut view, watch);
        }
        view
    }

    /// Why no list is possible, in the words of the tank file; `None` when `watch` ended the search.
    fn conflict(&self, watch: &mut Watch<'_>) -> Option<ConflictView> {
        // A problem with faults has no outcome to be viewed.
        let found = select::conflict(&self.composition.problem, watch).ok()?;
        found.map(|conflict| self.conflict_view(&conflict))
    }

    /// The problem as a model for any solver, and what was found as values of its columns.
    ///
    /// # Errors
    /// Demands that make no problem.
    pub fn exported(&self, outcome: &Outcome) -> Result<Exported, Findings> {
        let (problem, name) = (&self.composition.problem, &self.model.spec.name);
        Ok(Exported {
            model: select::model_mps(problem, name).map_err(found_faults)?,
            solution: select::solution_text(problem, outcome, name).map_err(found_faults)?,
        })
    }

    fn asked(&self) -> FillAsked<'a> {
        FillAsked { wished: self.wished, prices: self.prices }
    }

    fn entry(&self, candidate: usize) -> &Entry<'a> {
        &self.entries[self.composition.entries[candidate]]
    }

    fn plant(&self, pick: Pick) -> &'a Plant {
        self.entry(pick.candidate).plant
    }
}

/// A conflict in whole sentences.
fn sentences(conflict: &ConflictView) -> Vec<String> {
    let sentence = |member: &ConflictMemberView| {
        let rest = if member.enough { "then a list is possible" } else { "but more stands in the way" };
        format!("{}; way out: {}, {rest}", member.stated.demand, member.way_out)
    };
    conflict.members.iter().map(sentence).collect()
}

/// Faults of a problem as findings.
fn found_faults(faults: Vec<Fault>) -> Findings {
    let mut findings = Findings::default();
    for fault in faults {
        findings.push(Finding::error(fault.to_string()));
    }
    findings
}

fn proof(outcome: &Outcome) -> ProofView {
    let answer = outcome.answer();
    ProofView {
        status: select::status(outcome).to_owned(),
        value: answer.map(|a| a.value),
        bound: answer.map(|a| a.bound),
        nodes: outcome.nodes(),
    }
}
