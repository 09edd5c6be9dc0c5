//! CO2 that water holds in equilibrium with the air of the room.

use libm::{exp, log, pow};

use super::{CO2_G_MOL, CarbonError, kelvin};
use crate::units::{Concentration, Fraction, Interval, Length, Pressure, Temperature};

/// One standard atmosphere.
pub const STANDARD_PRESSURE: Pressure = Pressure::from_kpa(101.325);
/// CO2 of outdoor air, mole fraction of the dry air. A closed, lived-in room has two to three times that.
pub const OUTDOOR_CO2: Fraction = Fraction::new(425e-6);

/// The air over the water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    co2: Fraction,
    pressure: Pressure,
}

impl Default for Air {
    /// Outdoor air at sea level: 425 ppm, 1 atm.
    fn default() -> Self {
        Self { co2: OUTDOOR_CO2, pressure: STANDARD_PRESSURE }
    }
}

impl Air {
    /// Air by its CO2 (mole fraction of the dry air) and total pressure.
    ///
    /// # Errors
    /// CO2 not above 0 and up to 10 %, pressure not between 50 and 120 kPa.
    pub fn new(co2: Fraction, pressure: Pressure) -> Result<Self, CarbonError> {
        if !(co2.value() > 0.0 && co2.value() <= 0.1) {
            return Err(CarbonError::AirShare(co2));
        }
        if !(50.0..=120.0).contains(&pressure.kpa()) {
            return Err(CarbonError::AirPressure(pressure));
        }
        Ok(Self { co2, pressure })
    }

    /// Outdoor air at a height above the sea, by the standard atmosphere (ISO 2533):
    /// 101.325 kPa·(1 − 2.25577e-5 h/m)^5.25588; 89.87 kPa at 1000 m.
    ///
    /// # Errors
    /// A height whose pressure is not between 50 and 120 kPa (about −1400 to 5600 m).
    pub fn at_altitude(height: Length) -> Result<Self, CarbonError> {
        let ratio = pow(1.0 - 2.255_77e-5 * height.m(), 5.255_88);
        Self::new(OUTDOOR_CO2, Pressure::from_kpa(STANDARD_PRESSURE.kpa() * ratio))
    }

    /// CO2 of fresh water in equilibrium with this air, saturated with vapour as it is over water.
    /// Weiss 1974, Mar. Chem. 2:203 (salinity 0); vapour by Weiss & Price 1980, Mar. Chem. 8:347.
    /// 0.6155 mg/L at 25 °C, 425 ppm, 1 atm.
    ///
    /// # Errors
    /// Temperature outside 0 to 40 °C.
    pub fn dissolved_co2(&self, t: Temperature) -> Result<Concentration, CarbonError> {
        let hundreds = kelvin(t)? / 100.0;
        let solubility = exp(-58.093_1 + 90.506_9 / hundreds + 22.294_0 * log(hundreds));
        let vapour = exp(24.454_3 - 67.450_9 / hundreds - 4.848_9 * log(hundreds));
        let dry = self.pressure.kpa() / STANDARD_PRESSURE.kpa() - vapour;
        Ok(Concentration::from_mg_l(solubility * self.co2.value() * dry * CO2_G_MOL * 1e3))
    }

    /// The same over a range; it falls with temperature.
    ///
    /// # Errors
    /// Either end outside 0 to 40 °C.
    pub fn dissolved_co2_range(
        &self,
        t: Interval<Temperature>,
    ) -> Result<Interval<Concentration>, CarbonError> {
        Ok(Interval::spanning(self.dissolved_co2(t.hi())?, self.dissolved_co2(t.lo())?))
    }
}
