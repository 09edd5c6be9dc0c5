//! How a tank grows in, week by week.

use schemars::JsonSchema;
use serde::Serialize;

use super::rounded;
use crate::catalogue::{LeafTexture, Plant};
use crate::fit::Measured;
use crate::planting::growth::{
    Course, Start, Trim, WeekState, grown_in_air, published_extinction, rate_open,
};
use crate::tank::TankModel;
use crate::units::Quantity;

/// A value in the three runs of a tank.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct RunsView {
    /// The least of the three runs.
    pub low: f64,
    /// The middle run.
    pub mid: f64,
    /// The greatest.
    pub high: f64,
}

impl RunsView {
    /// In base units × `factor`, rounded.
    fn of<Q: Quantity>(value: Measured<Q>, factor: f64, decimals: i32) -> Self {
        let show = |q: Q| rounded(q.base() * factor, decimals);
        let range = value.range();
        Self { low: show(range.lo()), mid: show(value.nominal()), high: show(range.hi()) }
    }
}

/// What is cut at the end of a week.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CutView {
    /// `limit` of the zone, `surface` of the water, or `full`.
    pub reason: String,
    /// Height after it.
    pub height_cm: f64,
    /// Cover after it, 0 to 1.
    pub cover: f64,
}

/// A drift at the end of a week, before a cut that falls on it; week 0 is planting.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct WeekView {
    /// Weeks since planting.
    pub week: u32,
    /// Share of its ground under leaves, 0 to 1.
    pub cover: RunsView,
    /// Height of the leaves.
    pub height_cm: RunsView,
    /// Biomass as a share of the fully grown drift, 0 to 1.
    pub biomass: RunsView,
    /// Light on top as a share of that without neighbours and floating plants, 0 to 1.
    pub light_share: RunsView,
    /// Light on the mean leaf as a share of that on top, 0 to 1.
    pub self_shading: RunsView,
    /// Growth rate as a share of the taxon's best; below 0 it loses weight.
    pub pace: RunsView,
    /// What is cut at the end of the week.
    pub cut: Option<CutView>,
}

/// A trim to expect.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TrimView {
    /// The week at whose end it is due.
    pub week: u32,
    /// The earliest week.
    pub earliest: u32,
    /// The latest week; nothing when it may not fall due in the weeks computed.
    pub latest: Option<u32>,
    /// `limit`, `surface` or `full`.
    pub reason: String,
    /// The reason in words.
    pub words: String,
}

/// A drift growing in.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DriftCourseView {
    /// The zone.
    pub zone: String,
    /// Its part in the layout.
    pub placement: String,
    /// Key of the taxon.
    pub taxon: String,
    /// Accepted name with the cultivar.
    pub name: String,
    /// Usual English name.
    pub vernacular: String,
    /// Ground it stands on.
    pub area_cm2: f64,
    /// Pieces planted.
    pub pieces: u32,
    /// The taxon's best relative growth rate.
    pub best_rate_per_day: f64,
    /// Whether its leaves are taken to have been grown in air.
    pub grown_in_air: bool,
    /// Week 0 and every week after.
    pub weeks: Vec<WeekView>,
    /// Trims to expect, in order.
    pub trims: Vec<TrimView>,
}

/// What `grow` answers.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct GrowView {
    /// The tank.
    pub tank: String,
    /// How many weeks.
    pub weeks: u32,
    /// The drifts, zone by zone.
    pub drifts: Vec<DriftCourseView>,
    /// What the figures rest on, with sources, and what is a guess.
    pub rests_on: Vec<String>,
    /// What no figure accounts for.
    pub left_out: Vec<String>,
}

/// The view of the courses of a tank's drifts; `courses` in the order of `starts`.
pub fn grow_view(model: &TankModel, starts: &[Start<'_>], courses: &[Course], weeks: u32) -> GrowView {
    let drift = |(start, course): (&Start<'_>, &Course)| drift_view(model, start, course);
    GrowView {
        tank: model.spec.name.clone(),
        weeks,
        drifts: starts.iter().zip(courses).map(drift).collect(),
        rests_on: rests_on(),
        left_out: left_out(),
    }
}

fn drift_view(model: &TankModel, start: &Start<'_>, course: &Course) -> DriftCourseView {
    let (zone, plant): (_, &Plant) = (&model.spec.zones[start.zone], start.plant);
    let placement = crate::fit::placement_of(zone.role);
    DriftCourseView {
        zone: zone.name.clone(),
        placement: placement.word().to_owned(),
        taxon: plant.id.0.clone(),
        name: plant.display_name(),
        vernacular: plant.vernacular.clone(),
        area_cm2: rounded(start.area.cm2(), 0),
        pieces: start.pieces,
        best_rate_per_day: plant.growth_per_day,
        grown_in_air: grown_in_air(plant, placement),
        weeks: course.weeks.iter().map(week_view).collect(),
        trims: course.trims.iter().map(trim_view).collect(),
    }
}

fn week_view(state: &WeekState) -> WeekView {
    WeekView {
        week: state.week,
        cover: RunsView::of(state.cover, 1.0, 3),
        height_cm: RunsView::of(state.height, 100.0, 1),
        biomass: RunsView::of(state.biomass, 1.0, 3),
        light_share: RunsView::of(state.light_share, 1.0, 3),
        self_shading: RunsView::of(state.self_shading, 1.0, 3),
        pace: RunsView::of(state.pace, 1.0, 3),
        cut: state.trim.map(|cut| CutView {
            reason: cut.reason.word().to_owned(),
            height_cm: rounded(cut.height.cm(), 1),
            cover: rounded(cut.cover.value(), 3),
        }),
    }
}

fn trim_view(trim: &Trim) -> TrimView {
    TrimView {
        week: trim.week,
        earliest: trim.earliest,
        latest: trim.latest,
        reason: trim.reason.word().to_owned(),
        words: trim.reason.words().to_owned(),
    }
}

fn rests_on() -> Vec<String> {
    let extinction = |texture: LeafTexture| {
        published_extinction(texture).map_or_else(String::new, |[most, _, least]| {
            format!("{:.1} to {:.1} for {texture}", least.0, most.0)
        })
    };
    let [linear, broad] = [LeafTexture::Linear, LeafTexture::Broad].map(extinction);
    let published = format!(
        "Published: the light curve of Jassby & Platt 1976, light through leaves after Monsi & Saeki 1953 \
         ({linear}, {broad} leaves), logistic growth towards the room there is."
    );
    let catalogue = format!(
        "Catalogue, mostly common practice: best growth rate, light, carbon and water envelopes, heights; \
         `show` gives the origin of each. The rate is taken as known to {:.0} %.",
        rate_open().value() * 100.0
    );
    let ours = [
        "Guessed by us, without a source: leaf area, extinction of fine and small leaves, half-saturation in carbon, \
         the share of growth that goes upwards, sizes at planting, the days until roots form, what leaves grown \
         in air lose, when and how far people trim.",
        "Ranges: three runs of the whole tank, all that is open at its slow end, in the middle and at its fast \
         end. They show what is open in the large and are no proof of bounds.",
    ];
    [published, catalogue].into_iter().chain(ours.map(str::to_owned)).collect()
}

fn left_out() -> Vec<String> {
    [
        "Nutrients, algae, animals, failed plants, harm by strong light; the CO2 and pH that plants change; shade of \
         hardscape; light mirrored by the glass counts as coming from above.",
    ]
    .map(str::to_owned)
    .to_vec()
}
