//! The carbon of a tank from everything that is stated about it, and what is doubtful about it.
//!
//! pH and KH together are an upper bound: whatever else is counted as alkalinity (phosphate, borate,
//! anions of organic acids), or a KH read before a soil or wood took it up, makes the true CO2 lower,
//! never higher.

use super::supply::{FERMENTATION_SPAN, STILL_WATER_TIMES_AIR};
use super::{
    Air, CarbonError, CarbonNote, CarbonateRange, DailyCourse, GasSupply, product_rule, usable_carbon,
};
use crate::units::{
    CarbonateHardness, Concentration, Duration, Fraction, GeneralHardness, Interval, Ph, Temperature,
};

/// CO2 above which a reading is doubted even with gas. Common practice, no source.
pub const DOUBTED_WITH_GAS: Concentration = Concentration::from_mg_l(60.0);

/// Something in the tank that lowers pH without being CO2.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum AcidSource {
    /// Soil that takes up carbonate and gives off acid.
    ActiveSoil,
    /// Wood.
    Wood,
    /// Water coloured by organic acids.
    Tint,
}

/// What is known.
#[derive(Debug, Clone, Copy)]
pub struct CarbonInputs<'a> {
    /// Of the water.
    pub temperature: Interval<Temperature>,
    /// Carbonate hardness; 0 is allowed and leaves pH without meaning.
    pub kh: Interval<CarbonateHardness>,
    /// General hardness; enters ionic strength only.
    pub gh: Interval<GeneralHardness>,
    /// pH as read while gas is on, if it was read.
    pub ph: Option<Interval<Ph>>,
    /// The air of the room.
    pub air: Air,
    /// Where CO2 comes from.
    pub gas: GasSupply,
    /// Other things that lower pH.
    pub acids: &'a [AcidSource],
    /// Hours of light a day.
    pub photoperiod: Duration,
}

/// What the figure rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CarbonRoute {
    /// The level stated for the gas.
    Target,
    /// pH and carbonate hardness.
    PhAndKh,
    /// What water without gas can hold, between air equilibrium and a few times that.
    StillWater,
    /// pH and carbonate hardness, held to what water without gas can hold.
    PhAndKhWithinStillWater,
    /// What fermentation usually gives.
    UsualFermentation,
}

/// The product rule beside the figure it is compared with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RuleOfThumb {
    /// 3·KH·10^(7−pH).
    pub co2: Interval<Concentration>,
    /// Its relative error where CO2 is highest, −0.11 for 11 % low.
    pub error: Fraction,
}

/// The carbon of the tank.
#[derive(Debug, Clone, PartialEq)]
pub struct CarbonEstimate {
    /// The level: with gas, where gas takes it.
    pub co2: Interval<Concentration>,
    /// Bicarbonate at that level.
    pub bicarbonate: Interval<Concentration>,
    /// The level over a day.
    pub course: DailyCourse,
    /// Equilibrium with the air of the room.
    pub air: Interval<Concentration>,
    /// What pH and KH alone claim.
    pub by_ph_and_kh: Option<Interval<Concentration>>,
    /// The trade's rule for the same.
    pub by_product_rule: Option<RuleOfThumb>,
    /// What the level rests on.
    pub route: CarbonRoute,
    /// What is doubtful.
    pub notes: Vec<CarbonNote>,
}

impl CarbonEstimate {
    /// Carbon a submerged leaf can use over the photoperiod, as CO2. `worth` is 0 for a plant that
    /// takes CO2 only and [`super::BICARBONATE_WORTH`] for one that takes bicarbonate too.
    pub fn usable(&self, worth: Fraction) -> Interval<Concentration> {
        usable_carbon(self.course.photoperiod_mean, self.bicarbonate, worth)
    }
}

/// Estimates the carbon of a tank.
///
/// # Errors
/// Any input outside its limits, readings that contradict each other, gas with neither target nor pH.
pub fn estimate(inputs: &CarbonInputs<'_>) -> Result<CarbonEstimate, CarbonError> {
    let evidence = Evidence::gather(inputs)?;
    let Level { co2, route, mut notes } = match inputs.gas {
        GasSupply::None => evidence.without_gas(),
        GasSupply::Pressurised { .. } | GasSupply::Fermentation { .. } => evidence.with_gas()?,
    };
    if evidence.water.is_none() && inputs.ph.is_some() {
        notes.push(CarbonNote::NoAlkalinity);
    }
    let course = match inputs.gas {
        GasSupply::Pressurised { hours, pace, .. } => {
            DailyCourse::new(inputs.photoperiod, hours, pace, co2, evidence.still)?
        }
        GasSupply::None | GasSupply::Fermentation { .. } => DailyCourse::level(co2),
    };
    Ok(CarbonEstimate {
        co2,
        bicarbonate: evidence.bicarbonate(co2)?,
        course,
        air: evidence.air,
        by_ph_and_kh: evidence.reading,
        by_product_rule: evidence.rule_of_thumb()?,
        route,
        notes,
    })
}

/// A level, what it rests on, what is doubtful.
struct Level {
    co2: Interval<Concentration>,
    route: CarbonRoute,
    notes: Vec<CarbonNote>,
}

impl Level {
    fn new(co2: Interval<Concentration>, route: CarbonRoute) -> Self {
        Self { co2, route, notes: Vec::new() }
    }

    fn noting(mut self, note: CarbonNote) -> Self {
        self.notes.push(note);
        self
    }
}

/// The smaller and the larger of two.
fn ordered(a: Concentration, b: Concentration) -> (Concentration, Concentration) {
    if a <= b { (a, b) } else { (b, a) }
}

/// What the routes choose from.
struct Evidence<'a> {
    inputs: &'a CarbonInputs<'a>,
    /// `None` when there is no alkalinity.
    water: Option<CarbonateRange>,
    air: Interval<Concentration>,
    /// From air equilibrium to the most that still water holds.
    still: Interval<Concentration>,
    /// By pH and KH.
    reading: Option<Interval<Concentration>>,
}

impl<'a> Evidence<'a> {
    fn gather(inputs: &'a CarbonInputs<'a>) -> Result<Self, CarbonError> {
        let air = inputs.air.dissolved_co2_range(inputs.temperature)?;
        let most = Concentration::from_mg_l(air.hi().mg_l() * STILL_WATER_TIMES_AIR);
        let water = match CarbonateRange::new(inputs.kh, inputs.gh, inputs.temperature) {
            Ok(water) => Some(water),
            Err(CarbonError::NoAlkalinity) => None,
            Err(error) => return Err(error),
        };
        let reading = match (water, inputs.ph) {
            (Some(water), Some(ph)) => Some(water.co2(ph)?),
            _ => None,
        };
        Ok(Self { inputs, water, air, still: Interval::spanning(air.lo(), most), reading })
    }

    /// Adds that other acids are at work, if they are.
    fn with_acids(&self, level: Level) -> Level {
        if self.inputs.acids.is_empty() {
            level
        } else {
            level.noting(CarbonNote::Overstates(self.inputs.acids.to_vec()))
        }
    }

    fn without_gas(&self) -> Level {
        let Some(claimed) = self.reading else {
            return Level::new(self.still, CarbonRoute::StillWater);
        };
        let held_to = self.still.hi();
        if claimed.lo() > held_to {
            let level = Level::new(self.still, CarbonRoute::StillWater);
            return self.with_acids(level.noting(CarbonNote::PhLoweredByOtherAcids { claimed, held_to }));
        }
        if claimed.hi() < self.air.lo() {
            let level = Level::new(claimed, CarbonRoute::PhAndKh);
            return self.with_acids(level.noting(CarbonNote::BelowAir { air: self.air }));
        }
        // With other acids the claim is an upper bound only. A claim that reaches below air is
        // believed as far down as one that lies below it.
        let lo =
            if self.inputs.acids.is_empty() { claimed.lo() } else { ordered(self.air.lo(), claimed.lo()).0 };
        let hi = ordered(held_to, claimed.hi()).0;
        let level = Level::new(Interval::spanning(lo, hi), CarbonRoute::PhAndKhWithinStillWater);
        let cut = claimed.hi() > held_to;
        self.with_acids(if cut { level.noting(CarbonNote::UpperPartCut { claimed, held_to }) } else { level })
    }

    fn with_gas(&self) -> Result<Level, CarbonError> {
        match (self.inputs.gas.target(), self.reading) {
            (Some(target), None) => Ok(Level::new(target, CarbonRoute::Target)),
            (Some(target), Some(reading)) => Ok(self.target_against(target, reading)),
            (None, Some(reading)) => Ok(self.gas_by_reading(reading)),
            (None, None) if matches!(self.inputs.gas, GasSupply::Fermentation { .. }) => {
                let (lo, hi) = FERMENTATION_SPAN;
                Ok(Level::new(Interval::spanning(lo, hi), CarbonRoute::UsualFermentation))
            }
            (None, None) => Err(CarbonError::NothingToGoBy),
        }
    }

    fn target_against(&self, target: Interval<Concentration>, reading: Interval<Concentration>) -> Level {
        if reading.hi() < target.lo() {
            // Not reached, or pH was read with gas off: either may be true, so both ends stay open.
            let open = Interval::spanning(reading.lo(), target.hi());
            return Level::new(open, CarbonRoute::Target).noting(CarbonNote::TargetAboveReading { reading });
        }
        let level = Level::new(target, CarbonRoute::Target);
        if reading.lo() > target.hi() {
            let (claimed, held_to) = (reading, target.hi());
            return self.with_acids(level.noting(CarbonNote::PhLoweredByOtherAcids { claimed, held_to }));
        }
        self.with_acids(level)
    }

    fn gas_by_reading(&self, claimed: Interval<Concentration>) -> Level {
        // How far soil overstates is not known, so the lower end is no longer sure.
        let soil = self.inputs.acids.contains(&AcidSource::ActiveSoil);
        let lo = if soil { ordered(self.air.lo(), claimed.lo()).0 } else { claimed.lo() };
        let mut level = Level::new(Interval::spanning(lo, claimed.hi()), CarbonRoute::PhAndKh);
        if claimed.hi() > DOUBTED_WITH_GAS {
            level = level.noting(CarbonNote::Doubtful { claimed });
        }
        if claimed.hi() < self.air.lo() {
            level = level.noting(CarbonNote::BelowAir { air: self.air });
        }
        self.with_acids(level)
    }

    fn bicarbonate(&self, co2: Interval<Concentration>) -> Result<Interval<Concentration>, CarbonError> {
        let none = Interval::point(Concentration::from_mg_l(0.0));
        let Some(water) = self.water else { return Ok(none) };
        match self.inputs.ph {
            Some(ph) => water.bicarbonate(ph),
            None => water.bicarbonate_with(co2),
        }
    }

    fn rule_of_thumb(&self) -> Result<Option<RuleOfThumb>, CarbonError> {
        let (Some(exact), Some(ph)) = (self.reading, self.inputs.ph) else { return Ok(None) };
        let kh = self.inputs.kh;
        let co2 = Interval::spanning(product_rule(ph.hi(), kh.lo())?, product_rule(ph.lo(), kh.hi())?);
        Ok(Some(RuleOfThumb { co2, error: Fraction::new(co2.hi().mg_l() / exact.hi().mg_l() - 1.0) }))
    }
}
