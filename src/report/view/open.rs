//! What the verdicts take as measured: each value, what it leaves open, and why that much.

use schemars::JsonSchema;
use serde::Serialize;

use super::rounded;
use crate::fit::remedy::Site;
use crate::fit::{Factor, Measured, resolution};
use crate::tank::LightBasis;
use crate::tank::carbon::CarbonRoute;
use crate::tank::file::TankSpec;
use crate::units::{Interval, Quantity};

/// A measured value with the range that every verdict is tried over.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct OpenView {
    /// Light, CO2, temperature, pH, GH or KH.
    pub measurement: String,
    /// The value taken; for light, 100 % of what the zones have.
    pub value: f64,
    /// The least that is open.
    pub lo: f64,
    /// The most that is open.
    pub hi: f64,
    /// The unit of all three; empty for pH.
    pub unit: String,
    /// Why that much is open.
    pub origin: String,
}

/// The measurements of a tank; nothing without zones.
pub fn open_view(site: &Site<'_>) -> Vec<OpenView> {
    let (Some(zone), spec) = (site.zones.first(), site.spec()) else { return Vec::new() };
    let (water, stated) = (&zone.water, &spec.water);
    let light = OpenView {
        value: rounded(100.0 * zone.gain.nominal().value(), 0),
        lo: rounded(100.0 * zone.gain.range().lo().value(), 0),
        hi: rounded(100.0 * zone.gain.range().hi().value(), 0),
        ..entry(Factor::Light, "%", light_origin(spec, &site.model.basis))
    };
    let carbon = OpenView {
        measurement: "CO2".to_owned(),
        ..measured(Factor::Carbon, water.co2, carbon_origin(spec, site.model.carbon.route))
    };
    vec![
        light,
        carbon,
        measured(
            Factor::Temperature,
            water.temperature,
            origin(stated.temperature, "°C", resolution::TEMPERATURE_C, "a usual thermometer"),
        ),
        measured(Factor::Ph, water.ph, origin(stated.ph, "", resolution::PH, KIT)),
        measured(Factor::Gh, water.gh, origin(stated.gh, "dGH", resolution::GH_DGH, KIT)),
        measured(Factor::Kh, water.kh, origin(stated.kh, "dKH", resolution::KH_DKH, KIT)),
    ]
}

const KIT: &str = "a usual test kit";

fn entry(factor: Factor, unit: &str, origin: String) -> OpenView {
    let (measurement, unit) = (factor.word().to_owned(), unit.to_owned());
    OpenView { measurement, value: 0.0, lo: 0.0, hi: 0.0, unit, origin }
}

fn measured<Q: Quantity>(factor: Factor, value: Measured<Q>, origin: String) -> OpenView {
    let round = |q: Q| rounded(q.base(), factor.decimals());
    let (lo, hi) = value.range().ends();
    OpenView {
        value: round(value.nominal()),
        lo: round(lo),
        hi: round(hi),
        ..entry(factor, factor.unit(), origin)
    }
}

/// "the range of the file", or the resolution that a bare number gets.
fn origin<Q: Quantity>(stated: Interval<Q>, unit: &str, by: f64, with: &str) -> String {
    if stated.is_point() {
        let by = format!("{by} {unit}");
        format!("a bare number: ±{}, {with} (common practice, no source)", by.trim_end())
    } else {
        "the range of the file".to_owned()
    }
}

fn carbon_origin(spec: &TankSpec, route: CarbonRoute) -> String {
    match &spec.gas.target {
        None if matches!(route, CarbonRoute::StillWater | CarbonRoute::PhAndKhWithinStillWater) => {
            "as much as still water holds without gas, from equilibrium with air to five times that \
             (common practice, no source)"
                .to_owned()
        }
        None if route == CarbonRoute::UsualFermentation => {
            "what fermentation usually gives (common practice, no source)".to_owned()
        }
        Some(target) if target.is_point() => {
            let share = 100.0 * resolution::GAS_SHARE;
            format!(
                "a bare target: ±{share} %, told by the colour of an indicator (common practice, no source)"
            )
        }
        Some(_) => "the target's range in the file".to_owned(),
        None => "follows from pH, KH and temperature, see `tank`".to_owned(),
    }
}

fn light_origin(spec: &TankSpec, basis: &LightBasis) -> String {
    let bare = |share: f64| format!("±{} % (common practice, no source)", 100.0 * share);
    let ranged = "the range of the file";
    match basis {
        LightBasis::Lamps if spec.light.lamps.iter().all(|l| l.output_known.is_some()) => {
            format!("of the light computed; {ranged}")
        }
        LightBasis::Lamps => {
            let bare = bare(resolution::LIGHT_SHARE);
            format!("of the light computed; rating, age and dirt of a lamp stated by a bare number: {bare}")
        }
        LightBasis::Readings | LightBasis::LampsSetByReadings(_) => {
            let all = spec.light.readings.iter().all(|r| !r.ppfd.is_point());
            let why = if all {
                ranged.to_owned()
            } else {
                format!("a bare reading: {}", bare(resolution::METER_SHARE))
            };
            format!("of the light as read; {why}")
        }
    }
}
