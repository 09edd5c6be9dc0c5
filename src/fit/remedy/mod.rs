//! Remedies: for a plant that does not grow, the smallest single change of the tank with which it
//! does, found by solving for it, and what that change does to the other plants of the list.
//!
//! A change is searched for at the nominal values. Not here: which plant to take instead
//! (`substitute`), words (`report`).

mod caution;
mod change;
mod lever;
mod pair;
mod site;

pub use change::{Change, ChangeKind};
pub use lever::{FISH_CO2_MG_L, HANGING_STEP_CM};
pub use pair::{Pair, pair};
pub use site::Site;

use super::assess::assess_anywhere;
use super::{Assessment, Certainty, Factor, Verdict, assess, certainty};
use crate::catalogue::Plant;
use crate::tank::file::{Injection, TankSpec};

/// A plant in its zone.
#[derive(Debug, Clone, Copy)]
pub struct Standing<'a> {
    /// The plant.
    pub plant: &'a Plant,
    /// Index of its zone.
    pub zone: usize,
}

/// What a change does to another plant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SideEffect {
    /// Index of the plant among the others given.
    pub other: usize,
    /// Its verdict now.
    pub from: Verdict,
    /// Its verdict after.
    pub to: Verdict,
}

/// A single change with which a plant grows.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// The change, in the digits that people set by hand.
    pub change: Change,
    /// The least change of this kind with which the plant grows.
    pub least: Change,
    /// How the plant stands after it.
    pub assessment: Assessment,
    /// How sure that is.
    pub certainty: Certainty,
    /// How big the change is, see [`effort`].
    pub effort: f64,
    /// Rules of set-up that it breaks.
    pub cautions: Vec<String>,
    /// Other plants whose verdict it changes.
    pub side_effects: Vec<SideEffect>,
}

/// Every single change with which the plant grows, the smallest first; those that break a rule
/// of set-up after those that do not. Empty when the plant grows already, or none is enough.
pub fn remedies(site: &Site<'_>, misfit: Standing<'_>, others: &[Standing<'_>]) -> Vec<Remedy> {
    let Standing { plant, zone } = misfit;
    let now = assess(plant, &site.zones[zone]);
    if now.suitability >= Verdict::GROWS {
        return Vec::new();
    }
    let mut changes = move_elsewhere(site, plant);
    let short = short_of(&now);
    if short.iter().all(|f| MOVABLE.contains(f)) {
        let levers = lever::levers(site).into_iter().filter(|l| l.moves_all(&short));
        changes.extend(levers.filter_map(|l| l.first(site, plant, zone)));
        if short == [Factor::Light] {
            changes.extend(lever::lamp_height(site, plant, zone));
        }
    }
    let mut found: Vec<Remedy> =
        changes.into_iter().filter_map(|change| remedy(site, misfit, others, change)).collect();
    found.sort_by(|a, b| {
        let broken = |r: &Remedy| !r.cautions.is_empty();
        broken(a).cmp(&broken(b)).then(a.effort.total_cmp(&b.effort))
    });
    found
}

/// The factors that a change of the tank can move.
const MOVABLE: &[Factor] =
    &[Factor::Light, Factor::Carbon, Factor::Temperature, Factor::Ph, Factor::Gh, Factor::Kh];

/// The factors that keep a plant from growing: those below one half, or the limiting one where
/// only their play over the zone does.
pub fn short_of(assessment: &Assessment) -> Vec<Factor> {
    let below = |f: &Factor| assessment.factor(*f) < Verdict::GROWS;
    let short: Vec<Factor> = Factor::ALL.into_iter().filter(below).collect();
    if short.is_empty() { vec![assessment.limiting] } else { short }
}

/// The zones in which the plant would grow but for their part in the layout.
fn move_elsewhere(site: &Site<'_>, plant: &Plant) -> Vec<Change> {
    let grows = |(index, zone)| {
        let there = assess_anywhere(plant, zone);
        (there.suitability >= Verdict::GROWS).then_some((index, there.suitability))
    };
    let best = site.zones.iter().enumerate().filter_map(grows).reduce(|a, b| if b.1 > a.1 { b } else { a });
    best.map(|(index, _)| Change::Zone(index)).into_iter().collect()
}

fn remedy(site: &Site<'_>, misfit: Standing<'_>, others: &[Standing<'_>], least: Change) -> Option<Remedy> {
    let rounded = least.rounded(site.spec());
    let whole = lever::grows(site, misfit.plant, misfit.zone, rounded);
    let change = if whole { rounded } else { least };
    let zone = if let Change::Zone(other) = change { other } else { misfit.zone };
    let mut after = site.zone_after(zone, change)?;
    if matches!(change, Change::Zone(_)) {
        // Planted there against its usual place.
        after.placement = misfit.plant.placements.first().copied().unwrap_or(after.placement);
    }
    let mut cautions = caution::cautions(site, change);
    if let Change::Zone(_) = change {
        cautions.push("not its usual place in a layout".to_owned());
    }
    Some(Remedy {
        change,
        least,
        assessment: assess(misfit.plant, &after),
        certainty: certainty(misfit.plant, &after),
        effort: effort(change, site.spec()),
        cautions,
        side_effects: side_effects(site, others, change),
    })
}

fn side_effects(site: &Site<'_>, others: &[Standing<'_>], change: Change) -> Vec<SideEffect> {
    if matches!(change, Change::Zone(_)) {
        return Vec::new();
    }
    let effect = |(other, standing): (usize, &Standing<'_>)| {
        let from = assess(standing.plant, &site.zones[standing.zone]).verdict();
        let to = assess(standing.plant, &site.zone_after(standing.zone, change)?).verdict();
        (from != to).then_some(SideEffect { other, from, to })
    };
    others.iter().enumerate().filter_map(effect).collect()
}

/// How big a change is, to tell the smallest: one for an hour of light, a quarter more or less
/// light, 5 cm of lamp height, a quarter of the surface, 5 mg/L of CO2, 1 °C, a fifth of the water,
/// 2 degrees of hardness, another zone; three more for gas where there is none, one more for
/// another lamp (our scale).
pub fn effort(change: Change, spec: &TankSpec) -> f64 {
    let water = &spec.water;
    let apart = |a: f64, b: f64, unit: f64| (a - b).abs() / unit;
    match change {
        Change::Hours(hours) => apart(hours.hours(), spec.light.hours.hours(), 1.0),
        Change::Output(times) => {
            let dimmer = spec.light.lamps.iter().all(|l| l.dimmed_to.value() * times.value() <= 1.0);
            (libm::log(times.value()) / libm::log(1.25)).abs() + if dimmer { 0.0 } else { 1.0 }
        }
        Change::LampHeight(by) => by.cm().abs() / 5.0,
        Change::FloatingCover(share) => apart(share.value(), spec.light.floating_cover.value(), 0.25),
        Change::Gas(level) => match spec.gas.target {
            Some(target) => apart(level.mg_l(), target.mid().mg_l(), 5.0),
            None if spec.gas.injection == Injection::None => 3.0 + level.mg_l() / 5.0,
            None => level.mg_l() / 5.0,
        },
        Change::Temperature(to) => apart(to.celsius(), water.temperature.mid().celsius(), 1.0),
        Change::SoftWater(share) => share.value() / 0.2,
        Change::Gh(to) => apart(to.dgh(), water.gh.mid().dgh(), 2.0),
        Change::Kh(to) => apart(to.dkh(), water.kh.mid().dkh(), 2.0),
        Change::Zone(_) => 1.0,
    }
}
