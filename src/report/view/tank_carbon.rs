//! The carbon of the water as answered.

use schemars::JsonSchema;
use serde::Serialize;

use super::{RangeView, rounded};
use crate::tank::TankModel;
use crate::tank::carbon::CarbonRoute;
use crate::tank::file::Injection;

/// The trade's rule beside the computed figure.
#[derive(Debug, Clone, Copy, Serialize, JsonSchema)]
pub struct ProductRuleView {
    /// 3 × KH × 10^(7 − pH).
    pub co2_mg_l: RangeView,
    /// Its error against pH and KH computed in full, where CO2 is highest: −0.11 is 11 % low.
    pub error: f64,
}

/// The carbon of the water.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct CarbonView {
    /// What the figure rests on.
    pub route: String,
    /// The level: with gas, where gas takes it.
    pub co2_mg_l: RangeView,
    /// Whether the level changes over the day, because gas runs on a timer.
    pub has_course: bool,
    /// When the light comes on.
    pub co2_lights_on_mg_l: RangeView,
    /// Averaged over the photoperiod; plants are judged by it.
    pub co2_photoperiod_mean_mg_l: RangeView,
    /// When the light goes out.
    pub co2_lights_off_mg_l: RangeView,
    /// In equilibrium with the air of the room.
    pub co2_by_air_mg_l: RangeView,
    /// What pH and KH alone claim, computed in full; `null` without KH.
    pub co2_by_ph_and_kh_mg_l: Option<RangeView>,
    /// The trade's rule for the same.
    pub product_rule: Option<ProductRuleView>,
    /// Dissolved bicarbonate.
    pub bicarbonate_mg_l: RangeView,
    /// What bicarbonate adds for plants that use it, as CO2.
    pub bicarbonate_as_co2_mg_l: RangeView,
    /// What is doubtful.
    pub notes: Vec<String>,
}

/// The carbon of a computed tank.
pub(super) fn carbon_view(model: &TankModel) -> CarbonView {
    let carbon = &model.carbon;
    let mg_l = |range| RangeView::of(range, 1);
    let fine = |range| RangeView::of(range, 2);
    CarbonView {
        route: route(carbon.route).to_owned(),
        co2_mg_l: mg_l(carbon.co2),
        has_course: model.spec.gas.injection == Injection::Pressurised,
        co2_lights_on_mg_l: mg_l(carbon.course.lights_on),
        co2_photoperiod_mean_mg_l: mg_l(carbon.course.photoperiod_mean),
        co2_lights_off_mg_l: mg_l(carbon.course.lights_off),
        co2_by_air_mg_l: fine(carbon.air),
        co2_by_ph_and_kh_mg_l: carbon.by_ph_and_kh.map(mg_l),
        product_rule: carbon
            .by_product_rule
            .map(|r| ProductRuleView { co2_mg_l: mg_l(r.co2), error: rounded(r.error.value(), 3) }),
        bicarbonate_mg_l: RangeView::of(carbon.bicarbonate, 0),
        bicarbonate_as_co2_mg_l: mg_l(model.bicarbonate_as_co2()),
        notes: carbon.notes.iter().map(ToString::to_string).collect(),
    }
}

fn route(route: CarbonRoute) -> &'static str {
    match route {
        CarbonRoute::Target => "as stated for the gas",
        CarbonRoute::PhAndKh => "from pH and KH",
        CarbonRoute::StillWater => "from what still water without gas holds",
        CarbonRoute::PhAndKhWithinStillWater => "from pH and KH, within what still water without gas holds",
        CarbonRoute::UsualFermentation => "from what fermentation usually gives",
    }
}
