//! One change of a tank, and the tank file after it.

use crate::tank::carbon::{CarbonateSystem, PH_LIMITS};
use crate::tank::carbon_of;
use crate::tank::file::{Injection, LampOutput, TankSpec};
use crate::tank::water::mixed;
use crate::units::{
    CarbonateHardness, Concentration, Duration, Fraction, GeneralHardness, Interval, Length, LuminousFlux,
    Ph, PhotonFlux, Power, Ppfd, Quantity, Temperature,
};

/// One change of a tank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Change {
    /// The light burns this long a day.
    Hours(Duration),
    /// Every lamp gives this many times its light: by its dimmer as far as that goes, beyond it
    /// by another lamp.
    Output(Fraction),
    /// Every lamp hangs this much higher; below zero for lower.
    LampHeight(Length),
    /// Floating plants cover this share of the surface.
    FloatingCover(Fraction),
    /// Gas from a cylinder holds this level; on the usual timer where there was none.
    Gas(Concentration),
    /// The middle of the temperature range is this.
    Temperature(Temperature),
    /// This share of the water is soft (rain, demineralised).
    SoftWater(Fraction),
    /// Salts raise the middle of the GH range to this.
    Gh(GeneralHardness),
    /// Bicarbonate raises the middle of the KH range to this.
    Kh(CarbonateHardness),
    /// The plant goes to the zone of this index; the tank stays as it is.
    Zone(usize),
}

/// What a change is about, without its size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ChangeKind {
    /// [`Change::Hours`]
    Hours,
    /// [`Change::Output`]
    Output,
    /// [`Change::LampHeight`]
    LampHeight,
    /// [`Change::FloatingCover`]
    FloatingCover,
    /// [`Change::Gas`]
    Gas,
    /// [`Change::Temperature`]
    Temperature,
    /// [`Change::SoftWater`]
    SoftWater,
    /// [`Change::Gh`]
    Gh,
    /// [`Change::Kh`]
    Kh,
    /// [`Change::Zone`]
    Zone,
}

impl Change {
    /// What it is about.
    pub fn kind(self) -> ChangeKind {
        match self {
            Self::Hours(_) => ChangeKind::Hours,
            Self::Output(_) => ChangeKind::Output,
            Self::LampHeight(_) => ChangeKind::LampHeight,
            Self::FloatingCover(_) => ChangeKind::FloatingCover,
            Self::Gas(_) => ChangeKind::Gas,
            Self::Temperature(_) => ChangeKind::Temperature,
            Self::SoftWater(_) => ChangeKind::SoftWater,
            Self::Gh(_) => ChangeKind::Gh,
            Self::Kh(_) => ChangeKind::Kh,
            Self::Zone(_) => ChangeKind::Zone,
        }
    }

    /// The change in the digits that people set by hand, rounded away from the present.
    #[must_use]
    pub fn rounded(self, spec: &TankSpec) -> Self {
        let away = |to: f64, now: f64, step: f64| {
            let steps = to / step;
            (if to >= now { (steps - 1e-6).ceil() } else { (steps + 1e-6).floor() }) * step
        };
        let water = &spec.water;
        match self {
            Self::Hours(h) => {
                Self::Hours(Duration::from_hours(away(h.hours(), spec.light.hours.hours(), 0.1)))
            }
            Self::Output(times) => Self::Output(Fraction::new(away(times.value(), 1.0, 0.01))),
            Self::FloatingCover(share) => {
                let cover = spec.light.floating_cover.value();
                Self::FloatingCover(Fraction::new(away(share.value(), cover, 0.01).max(0.0)))
            }
            Self::Gas(level) => {
                Self::Gas(Concentration::from_mg_l(away(level.mg_l(), level_of(spec).mg_l(), 0.1)))
            }
            Self::Temperature(to) => {
                let now = water.temperature.mid().celsius();
                Self::Temperature(Temperature::from_celsius(away(to.celsius(), now, 0.1)))
            }
            Self::SoftWater(share) => Self::SoftWater(Fraction::new(away(share.value(), 0.0, 0.01).min(1.0))),
            Self::Gh(to) => Self::Gh(GeneralHardness::from_dgh(away(to.dgh(), water.gh.mid().dgh(), 0.1))),
            Self::Kh(to) => Self::Kh(CarbonateHardness::from_dkh(away(to.dkh(), water.kh.mid().dkh(), 0.1))),
            Self::LampHeight(_) | Self::Zone(_) => self,
        }
    }

    /// The tank file after the change. What is measured keeps its range, moved: readings of light
    /// follow lamps and cover. Only where the lamps hang at another height they say nothing any
    /// more and are left out.
    ///
    /// pH follows carbon: with more CO2, or less carbonate hardness, it falls by what the
    /// carbonate system says for the middle of the ranges. CO2 itself is set by air, fish and gas,
    /// so softer or harder water leaves it as it is.
    #[must_use]
    pub fn applied(self, spec: &TankSpec) -> TankSpec {
        let mut after = spec.clone();
        match self {
            Self::Hours(hours) => after.light.hours = hours,
            Self::Output(times) => brighten(&mut after, times.value()),
            Self::LampHeight(by) => {
                for lamp in &mut after.light.lamps {
                    lamp.above_water = Length::from_m(lamp.above_water.m() + by.m());
                }
                if !after.light.lamps.is_empty() {
                    after.light.readings.clear();
                }
            }
            Self::FloatingCover(share) => {
                let open = |cover: Fraction| 1.0 - cover.value();
                scale_readings(&mut after, open(share) / open(spec.light.floating_cover));
                after.light.floating_cover = share;
            }
            Self::Gas(level) => {
                after.gas.injection = Injection::Pressurised;
                after.gas.target = Some(Interval::point(level));
                follow_ph(&mut after, spec, level_of(spec), level);
            }
            Self::Temperature(middle) => {
                after.water.temperature = moved(spec.water.temperature, middle);
            }
            Self::SoftWater(share) => {
                after.water.gh = softened(spec.water.gh, share);
                after.water.kh = softened(spec.water.kh, share);
                follow_ph(&mut after, spec, level_of(spec), level_of(spec));
            }
            Self::Gh(middle) => after.water.gh = moved(spec.water.gh, middle),
            Self::Kh(middle) => {
                after.water.kh = moved(spec.water.kh, middle);
                follow_ph(&mut after, spec, level_of(spec), level_of(spec));
            }
            Self::Zone(_) => {}
        }
        after
    }
}

/// More light from every lamp: the dimmer first, then the lamp.
fn brighten(spec: &mut TankSpec, times: f64) {
    scale_readings(spec, times);
    for lamp in &mut spec.light.lamps {
        let wanted = lamp.dimmed_to.value() * times;
        lamp.dimmed_to = Fraction::new(wanted.min(1.0));
        let beyond = wanted.max(1.0);
        lamp.output = match lamp.output {
            LampOutput::Photons(flux) => LampOutput::Photons(PhotonFlux::from_base(flux.base() * beyond)),
            LampOutput::Lumens(flux) => LampOutput::Lumens(LuminousFlux::from_base(flux.base() * beyond)),
            LampOutput::PhotonPower(power, per) => {
                LampOutput::PhotonPower(Power::from_base(power.base() * beyond), per)
            }
            LampOutput::LumenPower(power, per) => {
                LampOutput::LumenPower(Power::from_base(power.base() * beyond), per)
            }
        };
    }
}

fn scale_readings(spec: &mut TankSpec, times: f64) {
    for reading in &mut spec.light.readings {
        reading.ppfd = reading.ppfd.map_monotone(|ppfd| Ppfd::from_base(ppfd.base() * times));
    }
}

/// The range moved so that its middle is `middle`.
fn moved<Q: Quantity>(range: Interval<Q>, middle: Q) -> Interval<Q> {
    let by = middle.base() - range.mid().base();
    Interval::spanning(Q::from_base(range.lo().base() + by), Q::from_base(range.hi().base() + by))
}

/// The range after mixing with water that has nothing of it.
fn softened<Q: crate::tank::water::Mixes>(range: Interval<Q>, share: Fraction) -> Interval<Q> {
    range.map_monotone(|q| mixed(q, Q::from_base(0.0), share))
}

/// The CO2 that the tank is taken to hold.
fn level_of(spec: &TankSpec) -> Concentration {
    carbon_of(spec).map_or(Concentration::from_mg_l(0.0), |carbon| carbon.co2.mid())
}

/// Moves pH by what the carbonate system says between the two waters and CO2 levels. Without
/// carbonate hardness pH says nothing about CO2 and stays.
fn follow_ph(after: &mut TankSpec, before: &TankSpec, co2_before: Concentration, co2_after: Concentration) {
    let ph = |spec: &TankSpec, co2: Concentration| {
        let water = &spec.water;
        CarbonateSystem::new(water.kh.mid(), water.gh.mid(), water.temperature.mid())
            .and_then(|system| system.ph_for(co2))
    };
    if let (Ok(from), Ok(to)) = (ph(before, co2_before), ph(after, co2_after)) {
        let middle = Ph::new(before.water.ph.mid().value() + to.value() - from.value());
        after.water.ph = moved(before.water.ph, middle).clamp(PH_LIMITS.0, PH_LIMITS.1);
    }
}
