//! The carbonate system over measured ranges, with bounds that hold.
//!
//! CO2 rises with KH and falls with pH, temperature and GH (ionic strength and ion pairs), so its
//! bounds are at two corners of the box. Bicarbonate behaves alike except in GH, see
//! [`CarbonateRange::bicarbonate`].

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

    /// Free bicarbonate over the box. Hardness moves it both ways: free acid counts for a little
    /// more, pairing takes more of it. The bounds take each at its end, so they hold, and are wider
    /// than reached by less than 1e-4 at pH 6 or above; with one value of GH they are reached.
    ///
    /// # Errors
    /// As [`Self::co2`].
    pub fn bicarbonate(&self, ph: Interval<Ph>) -> Result<Interval<Concentration>, CarbonError> {
        checked_ph(ph.hi())?;
        let richest = self.richest()?;
        richest.co2(ph.lo())?;
        let poorest = self.poorest()?;
        let poor_but_soft = CarbonateSystem::with_any_kh(self.kh.lo(), self.gh.lo(), self.temperature.hi())?;
        let rich_but_hard = CarbonateSystem::with_any_kh(self.kh.hi(), self.gh.hi(), self.temperature.lo())?;
        let least = poor_but_soft.bicarbonate_paired_as(&poorest, ph.hi());
        let most = rich_but_hard.bicarbonate_paired_as(&richest, ph.lo());
        Ok(Interval::spanning(least, most))
    }

    /// Bicarbonate over the box when CO2 is known and pH is not. Corners of the carbonate share; the
    /// terms of free acid and hydroxide move them by less than 1e-4.
    ///
    /// # Errors
    /// As [`CarbonateSystem::ph_for`].
    pub fn bicarbonate_with(
        &self,
        co2: Interval<Concentration>,
    ) -> Result<Interval<Concentration>, CarbonError> {
        let (poorest, richest) = (self.poorest()?, self.richest()?);
        let least = if self.kh.lo().dkh() > 0.0 {
            poorest.bicarbonate(poorest.ph_for(co2.lo())?)?
        } else {
            Concentration::from_mg_l(0.0)
        };
        Ok(Interval::spanning(least, richest.bicarbonate(richest.ph_for(co2.hi())?)?))
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
