//! Quantities as types: a number never crosses a room without its unit.
//!
//! Each quantity is a newtype over one base unit (see `quantity`); [`Interval`] carries
//! measurement uncertainty; `parse` reads what people write (`"60 cm"`, `"23..25 degC"`).
//! Not here: physics. A conversion that needs a constant of nature lives in `tank`.

mod interval;
mod parse;
mod quantity;

pub use interval::Interval;
pub use parse::{ParseError, expectation, parse_interval, parse_quantity};
pub use quantity::{
    Angle, Area, Attenuation, CarbonateHardness, Concentration, Dli, Duration, FlowRate, Fraction,
    GeneralHardness, Illuminance, Length, LuminousEfficacy, LuminousFlux, Mass, Money, Ph, PhotonEfficacy,
    PhotonFlux, Power, Ppfd, Pressure, Quantity, Temperature, Unit, UnitSystem, Volume,
};
