//! Gas supply, and the CO2 it gives over a day.
//!
//! First order: while gas runs, CO2 goes towards the level it holds; without gas, towards what
//! still, stocked water holds. The day repeats itself, so its start follows from its end. What
//! plants take out by day and give back by night is not counted.

use libm::exp;

use super::CarbonError;
use crate::units::{Concentration, Duration, Interval};

/// Hours in the cycle.
const DAY: f64 = 24.0;
/// CO2 that fermentation gives when nothing better is known, mg/L. Common practice, no source.
pub const FERMENTATION_SPAN: (Concentration, Concentration) =
    (Concentration::from_mg_l(5.0), Concentration::from_mg_l(20.0));
/// What still, stocked water holds at most without gas, in multiples of air equilibrium: about
/// 3 mg/L at 25 °C. Common practice, no source. Of the order of natural waters: lakes 3 times
/// (Cole et al. 1994, from memory), streams 8 times (Raymond et al. 2013, from memory).
pub const STILL_WATER_TIMES_AIR: f64 = 5.0;

/// When gas runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GasHours {
    /// Day and night.
    AllDay,
    /// On a timer.
    Timed {
        /// How long before the light comes on; below zero for after.
        lead: Duration,
        /// How long before the light goes out; below zero for after.
        early_stop: Duration,
    },
}

impl GasHours {
    /// On one hour before light, off one hour before its end. Common practice, no source.
    pub const USUAL: Self =
        Self::Timed { lead: Duration::from_hours(1.0), early_stop: Duration::from_hours(1.0) };
}

/// How CO2 gets into the water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GasSupply {
    /// From air, fish and soil only.
    None,
    /// From a cylinder.
    Pressurised {
        /// The level aimed at and checked, if there is one.
        target: Option<Interval<Concentration>>,
        /// When it runs.
        hours: GasHours,
        /// How fast it comes and goes.
        pace: GasPace,
    },
    /// From yeast or acid; runs day and night and drifts.
    Fermentation {
        /// The level measured, if it was.
        target: Option<Interval<Concentration>>,
    },
}

impl GasSupply {
    /// The stated level.
    pub fn target(&self) -> Option<Interval<Concentration>> {
        match *self {
            Self::None => None,
            Self::Pressurised { target, .. } | Self::Fermentation { target } => target,
        }
    }
}

/// Time constants: the time after which 37 % of the way is left. Default: 45 min up, 2.5 h down.
/// Common practice, no source: a level is nearly reached two hours after gas comes on, and gone by
/// morning. Still water would hold it longer: 2 cm/h (Cole & Caraco 1998, calm lakes, from memory)
/// makes 15 h in 30 cm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GasPace {
    rise: Duration,
    fall: Duration,
}

impl Default for GasPace {
    fn default() -> Self {
        Self { rise: Duration::from_minutes(45.0), fall: Duration::from_hours(2.5) }
    }
}

impl GasPace {
    /// From the two time constants.
    ///
    /// # Errors
    /// One that is not between a minute and ten days.
    pub fn new(rise: Duration, fall: Duration) -> Result<Self, CarbonError> {
        for time in [rise, fall] {
            if !(1.0 / 60.0..=240.0).contains(&time.hours()) {
                return Err(CarbonError::Time(time));
            }
        }
        Ok(Self { rise, fall })
    }
}

/// CO2 at three marks of the day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DailyCourse {
    /// When the light comes on.
    pub lights_on: Interval<Concentration>,
    /// Averaged over the photoperiod; what growth goes by.
    pub photoperiod_mean: Interval<Concentration>,
    /// When the light goes out.
    pub lights_off: Interval<Concentration>,
}

impl DailyCourse {
    /// The same all day.
    pub fn level(co2: Interval<Concentration>) -> Self {
        Self { lights_on: co2, photoperiod_mean: co2, lights_off: co2 }
    }

    /// The course with gas on `hours`: `level` is where gas takes it, `rest` where it goes without.
    ///
    /// # Errors
    /// A photoperiod not above 0 and up to 24 h, a timer that does not fit into the day.
    pub fn new(
        photoperiod: Duration,
        hours: GasHours,
        pace: GasPace,
        level: Interval<Concentration>,
        rest: Interval<Concentration>,
    ) -> Result<Self, CarbonError> {
        let day = photoperiod.hours();
        if !(day > 0.0 && day <= DAY) {
            return Err(CarbonError::Time(photoperiod));
        }
        let GasHours::Timed { lead, early_stop } = hours else {
            return Ok(Self::level(level));
        };
        for time in [lead, early_stop] {
            if !(-DAY..=DAY).contains(&time.hours()) {
                return Err(CarbonError::Time(time));
            }
        }
        let gas = day + lead.hours() - early_stop.hours();
        if gas <= 0.0 {
            return Err(CarbonError::GasNeverOn(Duration::from_hours(gas)));
        }
        if gas >= DAY {
            return Ok(Self::level(level));
        }
        // Linear in level and rest with weights that are never negative: bounds are at the corners.
        let low = Cycle::new(gas, pace, level.lo().mg_l(), rest.lo().mg_l());
        let high = Cycle::new(gas, pace, level.hi().mg_l(), rest.hi().mg_l());
        let on = lead.hours();
        let both = |f: &dyn Fn(&Cycle) -> f64| {
            Interval::spanning(Concentration::from_mg_l(f(&low)), Concentration::from_mg_l(f(&high)))
        };
        Ok(Self {
            lights_on: both(&|c| c.at(on)),
            photoperiod_mean: both(&|c| (c.area(on + day) - c.area(on)) / day),
            lights_off: both(&|c| c.at(on + day)),
        })
    }
}

/// One repeating day, time in hours from gas on, CO2 in mg/L.
struct Cycle {
    gas: f64,
    pace: GasPace,
    level: f64,
    rest: f64,
    /// CO2 when gas comes on and when it goes off.
    start: f64,
    stop: f64,
}

impl Cycle {
    fn new(gas: f64, pace: GasPace, level: f64, rest: f64) -> Self {
        let left = exp(-gas / pace.rise.hours());
        let kept = exp(-(DAY - gas) / pace.fall.hours());
        let stop = (level * (1.0 - left) + left * rest * (1.0 - kept)) / (1.0 - left * kept);
        let start = rest + (stop - rest) * kept;
        Self { gas, pace, level, rest, start, stop }
    }

    fn at(&self, time: f64) -> f64 {
        let time = time.rem_euclid(DAY);
        if time < self.gas {
            self.level + (self.start - self.level) * exp(-time / self.pace.rise.hours())
        } else {
            self.rest + (self.stop - self.rest) * exp(-(time - self.gas) / self.pace.fall.hours())
        }
    }

    /// The integral of [`Self::at`] from 0.
    fn area(&self, time: f64) -> f64 {
        let (days, time) = (time.div_euclid(DAY), time.rem_euclid(DAY));
        let approach = |to: f64, from: f64, constant: f64, time: f64| {
            to * time + (from - to) * constant * (1.0 - exp(-time / constant))
        };
        let within = |time: f64| {
            let rising = approach(self.level, self.start, self.pace.rise.hours(), time.min(self.gas));
            rising + approach(self.rest, self.stop, self.pace.fall.hours(), (time - self.gas).max(0.0))
        };
        days * within(DAY) + within(time)
    }
}
