//! What growth hands out: the course of every drift, week by week.

use crate::fit::Measured;
use crate::units::{Fraction, Length};

/// The course of one drift.
#[derive(Debug, Clone, PartialEq)]
pub struct Course {
    /// Index of the drift among those given.
    pub drift: usize,
    /// The state at planting (week 0) and at the end of every week.
    pub weeks: Vec<WeekState>,
    /// The trims to expect, in order.
    pub trims: Vec<Trim>,
}

impl Course {
    /// The course as it would be for fewer weeks.
    #[must_use]
    pub fn until(&self, week: u32) -> Self {
        let seen = |trim: &&Trim| trim.week <= week;
        let latest = |trim: &Trim| Trim { latest: trim.latest.filter(|latest| *latest <= week), ..*trim };
        Self {
            drift: self.drift,
            weeks: self.weeks.iter().filter(|state| state.week <= week).copied().collect(),
            trims: self.trims.iter().filter(seen).map(latest).collect(),
        }
    }
}

/// A drift at the end of a week, before a trim that falls on it. Each value is that of the middle
/// run, its range what the low and the high run of the tank leave open (see [`super::Case`]).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeekState {
    /// Weeks since planting.
    pub week: u32,
    /// Share of the drift's ground under leaves, 0 to 1.
    pub cover: Measured<Fraction>,
    /// Height of the leaves above what they stand on; 0 for nothing left.
    pub height: Measured<Length>,
    /// Biomass as a share of the fully grown drift: cover × height ÷ height when fully grown.
    pub biomass: Measured<Fraction>,
    /// Light on top of the drift as a share of what it would get without any neighbour and any
    /// floating plant.
    pub light_share: Measured<Fraction>,
    /// Light on the mean leaf as a share of that on top of the drift: what its own leaves leave.
    pub self_shading: Measured<Fraction>,
    /// Growth rate as a share of the taxon's best, below 0 where it loses weight.
    pub pace: Measured<Fraction>,
    /// What the middle run cuts at the end of this week.
    pub trim: Option<Cut>,
}

/// A trim of the middle run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cut {
    /// Why.
    pub reason: TrimReason,
    /// Height after it.
    pub height: Length,
    /// Cover after it.
    pub cover: Fraction,
}

/// The n-th trim of a drift and when it falls due.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Trim {
    /// The week at whose end it is due in the middle run.
    pub week: u32,
    /// The earliest week of the three runs.
    pub earliest: u32,
    /// The latest week of the three runs; `None` when a run comes to none within the weeks asked for.
    pub latest: Option<u32>,
    /// Why.
    pub reason: TrimReason,
}

/// Why a drift is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TrimReason {
    /// It stands as tall as its zone allows.
    Limit,
    /// It reaches the surface of the water.
    Surface,
    /// It has filled its ground, and its usual time between trims has passed.
    Full,
}

impl TrimReason {
    /// As one word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Limit => "limit",
            Self::Surface => "surface",
            Self::Full => "full",
        }
    }

    /// In words, after "because".
    pub const fn words(self) -> &'static str {
        match self {
            Self::Limit => "it reaches the height its zone allows",
            Self::Surface => "it reaches the surface",
            Self::Full => "it has filled its ground",
        }
    }
}
