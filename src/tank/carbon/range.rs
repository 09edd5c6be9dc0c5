//! The carbonate system over measured ranges, with bounds that hold.
//!
//! CO2 rises with KH and falls with pH, temperature and GH (ionic strength and ion pairs), so its
//! bounds are at two corners of the box. Bicarbonate behaves alike in KH and pH, but not always in GH and
//! temperature, see [`CarbonateRange::bicarbonate`].

use libm::exp10;

use super::spread::{self, End};
use super::{CarbonError, CarbonateSystem, checked_gh, checked_kh, checked_ph, kelvin};
use crate::units::{CarbonateHardness, Concentration, GeneralHardness, Interval, Ph, Temperature};

/// A water known within ranges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CarbonateRange {
    kh: Interval<CarbonateHardness>,
    gh: Interval<GeneralHardness>,
    temperature: Interval<Temperature>,
}

impl CarbonateRange {
    /// A water by its ranges; KH may begin at 0 but not end there.
    ///
    /// # Errors
    /// As [`CarbonateSystem::new`], for either end of a range.
    pub fn new(
        kh: Interval<CarbonateHardness>,
        gh: Interval<GeneralHardness>,
        temperature: Interval<Temperature>,
    ) -> Result<Self, CarbonError> {
        for end in [kh.lo(), kh.hi()] {
            checked_kh(end)?;
        }
        for end in [gh.lo(), gh.hi()] {
            checked_gh(end)?;
        }
        for end in [temperature.lo(), temperature.hi()] {
            kelvin(end)?;
        }
        if kh.hi().dkh() > 0.0 { Ok(Self { kh, gh, temperature }) } else { Err(CarbonError::NoAlkalinity) }
    }

    /// The corner with the least CO2: low KH, hard and warm.
    fn poorest(&self) -> Result<CarbonateSystem, CarbonError> {
        CarbonateSystem::with_any_kh(self.kh.lo(), self.gh.hi(), self.temperature.hi())
    }

    /// The corner with the most CO2: high KH, soft and cool.
    fn richest(&self) -> Result<CarbonateSystem, CarbonError> {
        CarbonateSystem::with_any_kh(self.kh.hi(), self.gh.lo(), self.temperature.lo())
    }

    /// Dissolved CO2 over the box. The lower bound is 0 where hydroxide may take all the alkalinity.
    ///
    /// # Errors
    /// pH outside 3.5 to 10.5, or more hydroxide than alkalinity over the whole box.
    pub fn co2(&self, ph: Interval<Ph>) -> Result<Interval<Concentration>, CarbonError> {
        checked_ph(ph.hi())?;
        let most = self.richest()?.co2(ph.lo())?;
        let least = self.poorest()?.co2_or_none(ph.hi());
        Ok(Interval::spanning(least, most))
    }

    /// Free bicarbonate over the box: it rises with KH and falls with pH; hardness and warmth
    /// move it both ways, see [`super::spread`]. No water of the box has more or less, and both
    /// bounds are reached within [`super::spread::NEAR`].
    ///
    /// # Errors
    /// As [`Self::co2`].
    pub fn bicarbonate(&self, ph: Interval<Ph>) -> Result<Interval<Concentration>, CarbonError> {
        checked_ph(ph.hi())?;
        self.richest()?.co2(ph.lo())?;
        let (open, acid) = ((self.gh, self.temperature), |ph: Ph| exp10(-ph.value()));
        let (least, most) = (acid(ph.hi()), acid(ph.lo()));
        Ok(Interval::spanning(
            spread::bicarbonate(End::Least, self.kh.lo(), open, &|_: &CarbonateSystem| Ok(least))?,
            spread::bicarbonate(End::Most, self.kh.hi(), open, &|_: &CarbonateSystem| Ok(most))?,
        ))
    }

    /// Free bicarbonate over the box when CO2 is known and pH is not: it rises with KH and CO2, and
    /// is bounded as [`Self::bicarbonate`].
    ///
    /// # Errors
    /// As [`CarbonateSystem::ph_for`].
    pub fn bicarbonate_with(
        &self,
        co2: Interval<Concentration>,
    ) -> Result<Interval<Concentration>, CarbonError> {
        let open = (self.gh, self.temperature);
        let at = |target: Concentration| {
            move |water: &CarbonateSystem| water.ph_for(target).map(|ph| exp10(-ph.value()))
        };
        Ok(Interval::spanning(
            spread::bicarbonate(End::Least, self.kh.lo(), open, &at(co2.lo()))?,
            spread::bicarbonate(End::Most, self.kh.hi(), open, &at(co2.hi()))?,
        ))
    }

    /// The pH that gives `target`: it rises with KH and falls with target, temperature and GH.
    ///
    /// # Errors
    /// As [`CarbonateSystem::ph_for`], and [`CarbonError::NoAlkalinity`] when KH may be 0.
    pub fn ph_for(&self, target: Interval<Concentration>) -> Result<Interval<Ph>, CarbonError> {
        if self.kh.lo().dkh() <= 0.0 {
            return Err(CarbonError::NoAlkalinity);
        }
        let (lowest, highest) = (self.poorest()?.ph_for(target.hi())?, self.richest()?.ph_for(target.lo())?);
        Ok(Interval::spanning(lowest, highest))
    }
}
