//! Remedies and substitutes for a plant that does not grow.

use schemars::JsonSchema;
use serde::Serialize;

use super::rounded;
use crate::catalogue::Plant;
use crate::fit::remedy::{Change, Pair, Remedy, SideEffect, Standing};
use crate::tank::file::{Injection, TankSpec};
use crate::units::Quantity;

/// A value of the water that a change moves along.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ThenView {
    /// pH, GH or KH.
    pub name: String,
    /// About its middle after the change.
    pub value: f64,
    /// Its unit.
    pub unit: String,
}

/// A change of the tank in numbers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ChangeView {
    /// `hours`, `dimmer`, `output`, `lamp-height`, `lamps-by`, `floating-cover`, `gas`, `gas-added`,
    /// `temperature`, `soft-water`, `gh`, `kh` or `zone`.
    pub kind: String,
    /// The value now; `null` where there is none.
    pub now: Option<f64>,
    /// The value to set.
    pub to: Option<f64>,
    /// The unit of both.
    pub unit: String,
    /// The zone to plant in.
    pub zone: Option<String>,
    /// What else is different then.
    pub then: Vec<ThenView>,
}

/// What a change does to another plant of the list.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SideEffectView {
    /// Key of the taxon.
    pub taxon: String,
    /// Its name.
    pub name: String,
    /// Its verdict now.
    pub from: String,
    /// Its verdict after.
    pub to: String,
}

/// The smallest change of one kind with which a plant grows.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct RemedyView {
    /// The change.
    #[serde(flatten)]
    pub change: ChangeView,
    /// The plant's verdict after it.
    pub verdict: String,
    /// Its suitability after it.
    pub suitability: f64,
    /// Whether all measurement ranges give that verdict.
    pub sure: bool,
    /// How big the change is; the smallest comes first.
    pub effort: f64,
    /// What it breaks or needs.
    pub cautions: Vec<String>,
    /// Other plants of the list whose verdict it changes.
    pub side_effects: Vec<SideEffectView>,
}

/// Two changes together, where no single one is enough.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PairView {
    /// The changes, in the order in which they were solved.
    pub changes: Vec<ChangeView>,
    /// The plant's verdict after both.
    pub verdict: String,
    /// Whether all measurement ranges give that verdict.
    pub sure: bool,
    /// What they break or need.
    pub cautions: Vec<String>,
    /// Other plants of the list whose verdict both together change.
    pub side_effects: Vec<SideEffectView>,
}

/// A plant like the one that does not fit, and that grows there.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct SubstituteView {
    /// Key of the taxon.
    pub taxon: String,
    /// Accepted name with the cultivar.
    pub name: String,
    /// Usual English name.
    pub vernacular: String,
    /// Its verdict in the same zone.
    pub verdict: String,
    /// How unlike it is in habit, height, texture, colour and place: 0 for alike, 5 at most.
    pub unlikeness: f64,
}

/// A remedy for the report; `others` are the plants its side effects count by.
pub fn remedy_view(remedy: &Remedy, spec: &TankSpec, others: &[Standing<'_>]) -> RemedyView {
    RemedyView {
        change: change_view(remedy.change, spec),
        verdict: remedy.assessment.verdict().word().to_owned(),
        suitability: rounded(remedy.assessment.suitability, 3),
        sure: remedy.certainty.is_sure(),
        effort: rounded(remedy.effort, 2),
        cautions: remedy.cautions.clone(),
        side_effects: effects(&remedy.side_effects, others),
    }
}

fn effects(found: &[SideEffect], others: &[Standing<'_>]) -> Vec<SideEffectView> {
    let effect = |e: &SideEffect| SideEffectView {
        taxon: others[e.other].plant.id.0.clone(),
        name: others[e.other].plant.display_name(),
        from: e.from.word().to_owned(),
        to: e.to.word().to_owned(),
    };
    found.iter().map(effect).collect()
}

/// Two changes for the report; `others` as for [`remedy_view`].
pub fn pair_view(pair: &Pair, spec: &TankSpec, others: &[Standing<'_>]) -> PairView {
    let after_first = pair.first.applied(spec);
    PairView {
        changes: vec![change_view(pair.first, spec), change_view(pair.second, &after_first)],
        verdict: pair.assessment.verdict().word().to_owned(),
        sure: pair.certainty.is_sure(),
        cautions: pair.cautions.clone(),
        side_effects: effects(&pair.side_effects, others),
    }
}

/// A substitute for the report.
pub fn substitute_view(plant: &Plant, verdict: crate::fit::Verdict, unlikeness: f64) -> SubstituteView {
    SubstituteView {
        taxon: plant.id.0.clone(),
        name: plant.display_name(),
        vernacular: plant.vernacular.clone(),
        verdict: verdict.word().to_owned(),
        unlikeness: rounded(unlikeness, 2),
    }
}

fn change_view(change: Change, spec: &TankSpec) -> ChangeView {
    let (water, light) = (&spec.water, &spec.light);
    let view = |kind: &str, now: Option<f64>, to: f64, unit: &str, decimals: i32| ChangeView {
        kind: kind.to_owned(),
        now: now.map(|v| rounded(v, decimals)),
        to: Some(rounded(to, decimals)),
        unit: unit.to_owned(),
        zone: None,
        then: then(change, spec),
    };
    match change {
        Change::Hours(h) => view("hours", Some(light.hours.hours()), h.hours(), "h", 1),
        Change::Output(times) => match dimmers(spec) {
            Some(now) if now * times.value() <= 1.0 => {
                view("dimmer", Some(100.0 * now), 100.0 * now * times.value(), "%", 0)
            }
            _ => view("output", Some(1.0), times.value(), "times", 2),
        },
        Change::LampHeight(by) => match common(light.lamps.iter().map(|l| l.above_water)) {
            Some(now) => view("lamp-height", Some(now.cm()), now.cm() + by.cm(), "cm", 1),
            None => view("lamps-by", None, by.cm(), "cm", 1),
        },
        Change::FloatingCover(to) => {
            view("floating-cover", Some(100.0 * light.floating_cover.value()), 100.0 * to.value(), "%", 0)
        }
        Change::Gas(to) if spec.gas.injection == Injection::None => {
            view("gas-added", None, to.mg_l(), "mg/L", 1)
        }
        Change::Gas(to) => view("gas", spec.gas.target.map(|t| t.mid().mg_l()), to.mg_l(), "mg/L", 1),
        Change::Temperature(to) => {
            view("temperature", Some(water.temperature.mid().celsius()), to.celsius(), "°C", 1)
        }
        Change::SoftWater(share) => view("soft-water", None, 100.0 * share.value(), "%", 0),
        Change::Gh(to) => view("gh", Some(water.gh.mid().dgh()), to.dgh(), "dGH", 1),
        Change::Kh(to) => view("kh", Some(water.kh.mid().dkh()), to.dkh(), "dKH", 1),
        Change::Zone(zone) => ChangeView {
            kind: "zone".to_owned(),
            now: None,
            to: None,
            unit: String::new(),
            zone: Some(spec.zones[zone].name.clone()),
            then: Vec::new(),
        },
    }
}

/// The share all lamps are dimmed to, when it is one.
fn dimmers(spec: &TankSpec) -> Option<f64> {
    common(spec.light.lamps.iter().map(|l| l.dimmed_to)).map(crate::units::Fraction::value)
}

fn common<Q: Quantity>(values: impl Iterator<Item = Q>) -> Option<Q> {
    let values: Vec<Q> = values.collect();
    let first = *values.first()?;
    values.iter().all(|v| v.base().to_bits() == first.base().to_bits()).then_some(first)
}

/// What of the water is no longer as it was, besides what was changed on purpose.
fn then(change: Change, spec: &TankSpec) -> Vec<ThenView> {
    let (before, after) = (&spec.water, &change.applied(spec).water);
    let moved = |a: f64, b: f64| (a - b).abs() >= 0.05;
    let mut found = Vec::new();
    let mut push = |name: &str, from: f64, to: f64, unit: &str| {
        if moved(from, to) {
            found.push(ThenView { name: name.to_owned(), value: rounded(to, 1), unit: unit.to_owned() });
        }
    };
    if matches!(change, Change::SoftWater(_)) {
        push("GH", before.gh.mid().base(), after.gh.mid().base(), "dGH");
        push("KH", before.kh.mid().base(), after.kh.mid().base(), "dKH");
    }
    push("pH", before.ph.mid().base(), after.ph.mid().base(), "");
    found
}
