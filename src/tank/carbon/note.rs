//! What is doubtful about a carbon figure.

use std::fmt;

use super::AcidSource;
use crate::units::{Concentration, Interval, UnitSystem};

/// What is doubtful about the figure.
#[derive(Debug, Clone, PartialEq)]
pub enum CarbonNote {
    /// pH and KH claim more CO2 than there can be: other acids lower the pH.
    PhLoweredByOtherAcids {
        /// What pH and KH claim.
        claimed: Interval<Concentration>,
        /// The most that is believed.
        held_to: Concentration,
    },
    /// Only the upper part of the claim is beyond belief, and is cut off.
    UpperPartCut {
        /// What pH and KH claim.
        claimed: Interval<Concentration>,
        /// The most that is believed.
        held_to: Concentration,
    },
    /// pH and KH overstate CO2 while these are in the tank.
    Overstates(Vec<AcidSource>),
    /// Less CO2 than air would give: plants draw it down, or a reading is off.
    BelowAir {
        /// Air equilibrium.
        air: Interval<Concentration>,
    },
    /// The stated level is above what pH and KH allow: it is not reached, or pH was read without gas.
    TargetAboveReading {
        /// What pH and KH allow.
        reading: Interval<Concentration>,
    },
    /// More CO2 than a tank is run with.
    Doubtful {
        /// What pH and KH claim.
        claimed: Interval<Concentration>,
    },
    /// pH was not used: there is no carbonate hardness to read it by.
    NoAlkalinity,
}

impl fmt::Display for AcidSource {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::ActiveSoil => "active soil",
            Self::Wood => "wood",
            Self::Tint => "tinted water",
        })
    }
}

impl fmt::Display for CarbonNote {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let show = |range: &Interval<Concentration>| range.show(UnitSystem::Metric);
        match self {
            Self::PhLoweredByOtherAcids { claimed, held_to } => write!(
                f,
                "pH and KH claim {} of CO2 where {held_to} is the most to be believed: \
                 something other than CO2 lowers the pH",
                show(claimed)
            ),
            Self::UpperPartCut { claimed, held_to } => {
                write!(f, "pH and KH claim {} of CO2; the part above {held_to} is cut off", show(claimed))
            }
            Self::Overstates(sources) => {
                let names: Vec<String> = sources.iter().map(ToString::to_string).collect();
                let verb = if names.len() == 1 { "lowers" } else { "lower" };
                write!(f, "pH and KH overstate CO2: {} {verb} the pH as well", names.join(" and "))
            }
            Self::BelowAir { air } => write!(
                f,
                "less CO2 than air alone would give ({}): plants draw it down, or a reading is off",
                show(air)
            ),
            Self::TargetAboveReading { reading } => write!(
                f,
                "pH and KH allow only {} of CO2: the target is not reached, or pH was read with the gas off",
                show(reading)
            ),
            Self::Doubtful { claimed } => {
                write!(f, "pH and KH claim {} of CO2, more than tanks are run with", show(claimed))
            }
            Self::NoAlkalinity => f.write_str("without carbonate hardness, pH says nothing about CO2"),
        }
    }
}
