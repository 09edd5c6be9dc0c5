//! What the tank weighs on its floor, and what its gas cylinder would do to the air of the room.
//!
//! Numbers and a comparison with figures that floors and air are usually designed for. Whether a
//! given floor carries a given tank is for a structural engineer, never for this module.

use super::file::{BedKind, Material};
use super::geometry::{Interior, Volumes};
use super::water::{self, WaterError};
use crate::units::{Area, Fraction, Length, Mass, Pressure, Temperature, Volume};

/// m/s², the conventional value.
const GRAVITY: f64 = 9.806_65;
/// Float glass, EN 572-1: 2500 kg/m³.
const GLASS_KG_M3: f64 = 2500.0;
/// Glass thickness as a share of the height, where it is not known, and the least. Good enough to
/// weigh a tank, not to build one. Common practice, no source.
const WALL_SHARE: f64 = 0.02;
const LEAST_WALL_M: f64 = 0.004;

/// The uniform load that dwellings are designed for, EN 1991-1-1, table 6.2, category A: from
/// 1.5 kPa (some countries) to 2.0 kPa (recommended). From memory of the standard.
pub const FLOOR_EUROPE: (Pressure, Pressure) = (Pressure::from_kpa(1.5), Pressure::from_kpa(2.0));
/// The same in the United States: 40 pounds-force per square foot, ASCE 7, table 4.3-1. From
/// memory of the standard.
pub const FLOOR_US: Pressure = Pressure::from_kpa(1.915_210_36);

/// Mass in kg of a litre of bed with its pores full of water. Common practice, no source: sand and
/// gravel 1.6 dry and 40 % pores, soil granules 0.95 dry and half pores, a capped soil between.
pub fn bed_kg_per_litre(kind: BedKind) -> f64 {
    match kind {
        BedKind::ActiveSoil => 1.45,
        BedKind::Sand | BedKind::Gravel => 2.0,
        BedKind::CappedSoil => 1.75,
        BedKind::Bare => 0.0,
    }
}

/// Mass in kg of a litre of hardscape. Common practice, no source: soaked wood, quartz rock, limestone.
pub fn hardscape_kg_per_litre(material: Material) -> f64 {
    match material {
        Material::Wood => 1.1,
        Material::InertRock => 2.6,
        Material::CarbonateRock => 2.7,
    }
}

/// The thickness of glass taken when none is stated: a fiftieth of the height, 4 mm at least.
pub fn usual_wall(height: Length) -> Length {
    Length::from_m((height.m() * WALL_SHARE).max(LEAST_WALL_M))
}

/// What the tank weighs, part by part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Masses {
    /// Free water.
    pub water: Mass,
    /// Floor and four walls.
    pub glass: Mass,
    /// The bed, soaked.
    pub bed: Mass,
    /// Hardscape as full prisms: an upper bound.
    pub hardscape: Mass,
    /// The base, outer measures: what the tank stands on.
    pub footprint: Area,
}

impl Masses {
    /// Weighs a tank. `hardscape` is each piece by its material and
    /// [`Interior::piece_volume`]; `wall` the
    /// thickness of the glass, [`usual_wall`] if it is not known.
    ///
    /// # Errors
    /// A water temperature outside 0 to 40 °C.
    pub fn new(
        inside: &Interior,
        volumes: &Volumes,
        bed: BedKind,
        hardscape: &[(Material, Volume)],
        wall: Length,
        temperature: Temperature,
    ) -> Result<Self, WaterError> {
        let (l, d, h, t) = (inside.length().m(), inside.depth().m(), inside.height().m(), wall.m());
        let base = (l + 2.0 * t) * (d + 2.0 * t);
        let pieces = hardscape.iter().map(|(m, v)| hardscape_kg_per_litre(*m) * v.litres());
        Ok(Self {
            water: water::mass(volumes.water, temperature)?,
            glass: Mass::from_kg((base * (h + t) - l * d * h) * GLASS_KG_M3),
            bed: Mass::from_kg(bed_kg_per_litre(bed) * volumes.bed.litres()),
            hardscape: Mass::from_kg(pieces.sum()),
            footprint: Area::from_m2(base),
        })
    }

    /// All of it; the stand is not counted.
    pub fn total(&self) -> Mass {
        Mass::from_kg(self.water.kg() + self.glass.kg() + self.bed.kg() + self.hardscape.kg())
    }

    /// The pressure on the footprint.
    pub fn floor_pressure(&self) -> Pressure {
        pressure(self.total(), self.footprint)
    }
}

/// The pressure of a mass that stands on an area.
pub fn pressure(mass: Mass, area: Area) -> Pressure {
    Pressure::from_kpa(mass.kg() * GRAVITY / area.m2() / 1e3)
}

/// A pressure beside the uniform loads that floors of dwellings are designed for. That load is for
/// the whole floor: more on a footprint is not by itself a failure, less not by itself safe.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FloorVerdict {
    /// Not above 1.5 kPa.
    WithinAll,
    /// Above 1.5 kPa, not above 2.0 kPa: depends on the code the house was built to.
    WithinSome,
    /// Above 2.0 kPa.
    AboveAll,
}

impl FloorVerdict {
    /// Where `pressure` stands.
    pub fn of(pressure: Pressure) -> Self {
        if pressure <= FLOOR_EUROPE.0 {
            Self::WithinAll
        } else if pressure <= FLOOR_EUROPE.1 {
            Self::WithinSome
        } else {
            Self::AboveAll
        }
    }
}

/// CO2 in air that work places are held to, as mole fractions.
pub mod air_limits {
    use crate::units::Fraction;

    /// Eight hours a day: OSHA PEL (29 CFR 1910.1000, table Z-1) and NIOSH REL.
    pub const DAY: Fraction = Fraction::new(5_000e-6);
    /// Fifteen minutes: NIOSH REL STEL. From memory of the pocket guide.
    pub const SHORT: Fraction = Fraction::new(30_000e-6);
    /// Immediately dangerous to life or health: NIOSH IDLH, 1994.
    pub const DANGER: Fraction = Fraction::new(40_000e-6);
}

/// Why there is no figure for a release.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
pub enum ReleaseError {
    /// Below zero or not a number.
    #[error("{0} of gas")]
    Gas(Mass),
    /// Not above zero or not a number.
    #[error("a room of {0}")]
    Room(Volume),
    /// No room is that cold or hot.
    #[error("a room at {0}")]
    Temperature(Temperature),
}

/// The rise of CO2 in the air of a room when `gas` is let out at once: gas volume over room volume,
/// ideal gas at 1 atm, no air change. 0.5 kg in 30 m³ at 20 °C: 9110 ppm. The real gas gives 0.5 %
/// less; a closed room that lets no air out up to 6 % less at 7 %.
///
/// # Errors
/// A mass below zero, a room not above zero, a temperature not between −30 and 60 °C.
pub fn rise_in_room(gas: Mass, room: Volume, temperature: Temperature) -> Result<Fraction, ReleaseError> {
    /// m³·Pa/(mol·K), CODATA 2018; kg/mol of CO2.
    const GAS_CONSTANT: f64 = 8.314_462_618;
    const CO2_KG_MOL: f64 = 0.044_009_5;
    if !(gas.kg() >= 0.0 && gas.kg().is_finite()) {
        return Err(ReleaseError::Gas(gas));
    }
    if !(room.litres() > 0.0 && room.litres().is_finite()) {
        return Err(ReleaseError::Room(room));
    }
    if !(-30.0..=60.0).contains(&temperature.celsius()) {
        return Err(ReleaseError::Temperature(temperature));
    }
    let molar = GAS_CONSTANT * (temperature.celsius() + 273.15) / 101_325.0;
    Ok(Fraction::new(gas.kg() / CO2_KG_MOL * molar / (room.litres() / 1e3)))
}
