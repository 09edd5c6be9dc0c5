//! Everything that is computed of a tank: contents, loads, light, carbon, water, set-up, plan.

use schemars::JsonSchema;
use serde::Serialize;

use super::tank_carbon::{CarbonView, carbon_view};
use super::tank_light::{LightView, light_view};
use super::{RangeView, TankView, cautions, left_out, rounded, tank_view};
use crate::tank::TankModel;
use crate::tank::audit::{AuditLine, AuditValue, Origin};
use crate::tank::file::{Region, Spot};
use crate::tank::light::LightMap;
use crate::tank::outline::Outline;
use crate::units::{Length, Mass, Quantity};

/// What fills the glass.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct VolumesView {
    /// Floor to water level, everything in it.
    pub filled_l: f64,
    /// The bed, pores included.
    pub bed_l: f64,
    /// What the hardscape displaces, at most.
    pub displaced_l: f64,
    /// Free water above the bed.
    pub water_l: f64,
    /// The open surface.
    pub surface_cm2: f64,
}

/// What it weighs, the stand left out.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct LoadsView {
    /// Free water.
    pub water_kg: f64,
    /// Floor and walls, of a thickness usual for the height.
    pub glass_kg: f64,
    /// The bed, soaked.
    pub bed_kg: f64,
    /// Wood and rock, at most.
    pub hardscape_kg: f64,
    /// All of it.
    pub total_kg: f64,
    /// The base, outer measures.
    pub footprint_cm2: f64,
    /// On the footprint.
    pub floor_pressure_kpa: f64,
}

/// What a rule of the set-up looked at.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum AuditValueView {
    /// A time.
    Time {
        /// Hours.
        hours: f64,
    },
    /// Gas against light.
    GasLead {
        /// Hours by which gas starts before the light.
        before_light_hours: f64,
        /// Hours by which gas stops before the light does.
        before_dark_hours: f64,
    },
    /// Filter flow.
    Turnover {
        /// Tank volumes an hour.
        volumes_per_hour: f64,
    },
    /// A share.
    Share {
        /// 0 to 1.
        share: f64,
    },
    /// The bed.
    Bed {
        /// At the front glass.
        front_cm: f64,
        /// At the back glass.
        back_cm: f64,
    },
    /// Light against carbon.
    Support {
        /// Share of full growth that light allows.
        light_share: f64,
        /// Share of full growth that carbon allows.
        carbon_share: RangeView,
    },
    /// CO2.
    Co2 {
        /// The level.
        co2_mg_l: RangeView,
    },
}

/// One rule of the set-up.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct AuditView {
    /// What it is about.
    pub topic: String,
    /// `usual`, `unusual`, `advice` or `not-stated`.
    pub standing: String,
    /// What was found; `null` for advice and for what the file does not state.
    pub value: Option<AuditValueView>,
    /// How it stands, in words.
    pub verdict: String,
    /// The rule.
    pub rule: String,
    /// Where the rule comes from: a source, or `practice` for common practice without one.
    pub origin: String,
}

/// A piece of hardscape on the plan.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct PieceView {
    /// The person's name for it.
    pub name: String,
    /// What it is made of.
    pub material: String,
    /// Corners, from the left and from the front.
    pub outline_cm: Vec<[f64; 2]>,
    /// Top above the floor of the glass.
    pub top_cm: f64,
}

/// A zone on the plan.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct ZonePlanView {
    /// Corners, from the left and from the front; empty for a zone on hardscape.
    pub outline_cm: Vec<[f64; 2]>,
    /// Names of the pieces it lies on.
    pub on: Vec<String>,
    /// A point inside it, near its middle.
    pub mark_cm: [f64; 2],
}

/// A tank with everything computed of it.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TankReportView {
    /// The summary that other commands give as well.
    #[serde(flatten)]
    pub tank: TankView,
    /// What fills the glass.
    pub volumes: VolumesView,
    /// What it weighs.
    pub loads: LoadsView,
    /// What the bed is made of.
    pub bed: String,
    /// Bed thickness at the front and at the back glass.
    pub bed_front_back_cm: [f64; 2],
    /// The light on the bed.
    pub light: LightView,
    /// The carbon.
    pub carbon: CarbonView,
    /// The set-up against the usual rules.
    pub audit: Vec<AuditView>,
    /// Wood and rock.
    pub hardscape: Vec<PieceView>,
    /// Where each zone lies, in file order.
    pub zone_plan: Vec<ZonePlanView>,
    /// What the person should know before acting.
    pub cautions: Vec<String>,
    /// What the model leaves out.
    pub left_out: Vec<String>,
}

/// The report on a computed tank, its light drawn from `map` of the bed.
pub fn tank_report_view(model: &TankModel, map: &LightMap) -> TankReportView {
    let spec = &model.spec;
    let piece = |h: &crate::tank::file::Hardscape| PieceView {
        name: h.name.clone(),
        material: h.material.word().to_owned(),
        outline_cm: corners(&h.outline),
        top_cm: cm(h.top),
    };
    TankReportView {
        tank: tank_view(model),
        volumes: volumes(model),
        loads: loads(model),
        bed: spec.bed.kind.word().to_owned(),
        bed_front_back_cm: [cm(spec.bed.front), cm(spec.bed.back)],
        light: light_view(model, map),
        carbon: carbon_view(model),
        audit: model.audit.iter().map(audit).collect(),
        hardscape: spec.hardscape.iter().map(piece).collect(),
        zone_plan: (0..spec.zones.len()).map(|i| zone_plan(model, i)).collect(),
        cautions: cautions(model, &[]),
        left_out: left_out(),
    }
}

/// Whether a polygon holds a point, by the number of sides to its right.
pub fn encloses(corners: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    let crossed = sides
        .filter(|(a, b)| (a[1] > y) != (b[1] > y) && x < a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0]));
    crossed.count() % 2 == 1
}

fn cm(length: Length) -> f64 {
    rounded(length.cm(), 1)
}

fn corners(outline: &Outline) -> Vec<[f64; 2]> {
    outline.spots().map(|(x, y)| [cm(x), cm(y)]).collect()
}

fn volumes(model: &TankModel) -> VolumesView {
    let volumes = &model.volumes;
    VolumesView {
        filled_l: rounded(volumes.filled.litres(), 1),
        bed_l: rounded(volumes.bed.litres(), 1),
        displaced_l: rounded(volumes.displaced.litres(), 1),
        water_l: rounded(volumes.water.litres(), 1),
        surface_cm2: rounded(volumes.surface.cm2(), 0),
    }
}

fn loads(model: &TankModel) -> LoadsView {
    let masses = &model.masses;
    LoadsView {
        water_kg: about_kg(masses.water),
        glass_kg: about_kg(masses.glass),
        bed_kg: about_kg(masses.bed),
        hardscape_kg: about_kg(masses.hardscape),
        total_kg: about_kg(masses.total()),
        footprint_cm2: rounded(masses.footprint.cm2(), 0),
        floor_pressure_kpa: rounded(masses.floor_pressure().kpa(), 2),
    }
}

/// Whole kilograms from 10 kg on: wall, bed and wood are known no better.
pub(super) fn about_kg(mass: Mass) -> f64 {
    rounded(mass.kg(), i32::from(mass.kg() < 10.0))
}

fn audit(line: &AuditLine) -> AuditView {
    use crate::tank::audit::Standing::{Advice, NotStated, Unusual, Usual};
    let standing = match line.standing {
        Usual => "usual",
        Unusual => "unusual",
        Advice => "advice",
        NotStated => "not-stated",
    };
    AuditView {
        topic: line.topic.to_string(),
        standing: standing.to_owned(),
        value: line.value.map(audit_value),
        verdict: line.words.to_owned(),
        rule: line.rule.to_owned(),
        origin: match line.origin {
            Origin::CommonPractice => "practice".to_owned(),
            Origin::Source(citation) => citation.to_owned(),
        },
    }
}

fn audit_value(value: AuditValue) -> AuditValueView {
    match value {
        AuditValue::Time(time) => AuditValueView::Time { hours: rounded(time.hours(), 2) },
        AuditValue::GasLead(on, off) => AuditValueView::GasLead {
            before_light_hours: rounded(on.hours(), 2),
            before_dark_hours: rounded(off.hours(), 2),
        },
        AuditValue::VolumesPerHour(times) => AuditValueView::Turnover { volumes_per_hour: rounded(times, 1) },
        AuditValue::Share(share) => AuditValueView::Share { share: rounded(share.value(), 3) },
        AuditValue::FrontAndBack(front, back) => {
            AuditValueView::Bed { front_cm: cm(front), back_cm: cm(back) }
        }
        AuditValue::Support(light, carbon) => AuditValueView::Support {
            light_share: rounded(light.value(), 2),
            carbon_share: RangeView::of(carbon, 2),
        },
        AuditValue::Co2(co2) => AuditValueView::Co2 { co2_mg_l: RangeView::of(co2, 1) },
    }
}

fn zone_plan(model: &TankModel, index: usize) -> ZonePlanView {
    let (zone, ground) = (&model.spec.zones[index], &model.zones[index].ground);
    let (outline_cm, on) = match &zone.region {
        Region::Outline(outline) => (corners(outline), Vec::new()),
        Region::On(pieces) => {
            (Vec::new(), pieces.iter().map(|&i| model.spec.hardscape[i].name.clone()).collect())
        }
    };
    // A zone on several pieces is marked on the largest.
    let largest = match &zone.region {
        Region::Outline(_) => None,
        Region::On(pieces) => pieces
            .iter()
            .map(|&i| &model.spec.hardscape[i].outline)
            .max_by(|a, b| a.area().base().total_cmp(&b.area().base())),
    };
    let cells = ground.cells.iter().filter(|c| largest.is_none_or(|outline| outline.contains(**c)));
    ZonePlanView { outline_cm, on, mark_cm: mark(&cells.copied().collect::<Vec<Spot>>()) }
}

/// The cell nearest to the mean of all cells, so that the mark of a bent zone lies inside it.
fn mark(cells: &[Spot]) -> [f64; 2] {
    let count = cells.len().max(1) as f64;
    let mean = |axis: fn(&Spot) -> f64| cells.iter().map(axis).sum::<f64>() / count;
    let (x, y) = (mean(|c| c.0.cm()), mean(|c| c.1.cm()));
    let away = |c: &Spot| (c.0.cm() - x).powi(2) + (c.1.cm() - y).powi(2);
    let nearest = cells.iter().min_by(|a, b| away(a).total_cmp(&away(b)));
    nearest.map_or([0.0, 0.0], |c| [cm(c.0), cm(c.1)])
}
