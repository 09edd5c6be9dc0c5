//! What to do when, from the first fill to the end of the settling months, on a count of days.
//!
//! Day 0 is the day of filling and planting. [`keep`] turns a tank and the courses of its drifts into
//! [`Entry`]s: timers that run daily, care that comes back weekly, single days. Dates and clocks are
//! added by those who know the calendar; nothing here knows a month.
//!
//! The rules are common practice without a source unless an entry says otherwise; hours of light and
//! gas, volumes and trims come from the model. Not here: dates, words for a person, file formats.

mod keep;

pub use keep::{Care, keep};

use crate::planting::growth::TrimReason;
use crate::units::{Duration, Fraction, Length, Volume};

/// The most weeks a calendar runs: a year.
pub const MOST_WEEKS: u32 = 52;
/// Days in a week.
pub const WEEK: u32 = 7;
/// The day on which a planted tank counts as settled: about three months (common practice).
pub const SETTLED_DAY: u32 = 91;
/// The first day on which animals may come, tests permitting (common practice).
pub const ANIMALS_DAY: u32 = 28;

/// A time of the day in minutes after midnight, below 24 h.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Clock(u16);

/// Minutes in a day.
const DAY_MINUTES: i64 = 24 * 60;

impl Clock {
    /// From hours and minutes; `None` outside a day.
    pub fn new(hour: u16, minute: u16) -> Option<Self> {
        (hour < 24 && minute < 60).then_some(Self(hour * 60 + minute))
    }

    /// Hour and minute.
    pub fn parts(self) -> (u16, u16) {
        (self.0 / 60, self.0 % 60)
    }

    /// The time a duration later, or earlier for a negative one, to the minute, around the clock.
    #[must_use]
    pub fn after(self, span: Duration) -> Self {
        let minutes = i64::from(self.0) + (span.hours() * 60.0).round() as i64;
        Self(u16::try_from(minutes.rem_euclid(DAY_MINUTES)).unwrap_or(0))
    }
}

/// Something to do, or something a timer does.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// What it is in this calendar, the same from one run to the next: `water-change`.
    pub key: String,
    /// The first day.
    pub day: u32,
    /// How often.
    pub repeat: Repeat,
    /// When in the day.
    pub when: When,
    /// What.
    pub task: Task,
}

impl Entry {
    /// The days it falls on.
    pub fn days(&self) -> impl Iterator<Item = u32> + use<> {
        let (first, repeat) = (self.day, self.repeat);
        (0..repeat.times).map(move |n| first + n * repeat.every_days)
    }
}

/// How often an entry comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Repeat {
    /// Days from one to the next; 1 or more.
    pub every_days: u32,
    /// How many times in all; 1 or more.
    pub times: u32,
}

impl Repeat {
    /// One time only.
    pub const ONCE: Self = Self { every_days: 1, times: 1 };
}

/// When in the day an entry is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum When {
    /// On the day.
    Day,
    /// From a time of the day, so long.
    Span {
        /// The start.
        from: Clock,
        /// How long; above 0, 24 h at most.
        length: Duration,
    },
}

/// What is to be done, with the numbers it needs.
#[derive(Debug, Clone, PartialEq)]
pub enum Task {
    /// The light's timer.
    Light,
    /// The gas timer.
    Gas {
        /// How long before the light.
        lead: Duration,
        /// How long before its end it stops.
        early_stop: Duration,
    },
    /// Fill and plant.
    Fill {
        /// Free water.
        water: Volume,
    },
    /// Change water.
    WaterChange {
        /// How much.
        volume: Volume,
        /// As a share of the free water.
        share: Fraction,
        /// Whether it comes on top of the weekly one, while fresh active soil gives off ammonium.
        extra: bool,
    },
    /// Feed the water.
    Feed,
    /// Feed the roots.
    FeedRoots {
        /// Root feeders in an inert bed, by drift.
        drifts: Vec<usize>,
    },
    /// Trim what has grown too tall or too full.
    Trim {
        /// The week of the trim.
        week: u32,
        /// Which drifts and how.
        drifts: Vec<TrimDue>,
    },
    /// Look at something.
    Check(Check),
    /// Renew the mixture that makes gas.
    RenewGas,
    /// Animals may come.
    Animals,
    /// The settling months are over.
    Settled,
}

/// What to look at.
#[derive(Debug, Clone, PartialEq)]
pub enum Check {
    /// CO2 by day.
    Gas,
    /// pH and KH, and ammonia and nitrite until both are gone.
    Water,
    /// Algae.
    Algae,
    /// Leaves grown in air that give way to leaves grown under water.
    Leaves {
        /// Drifts taken to be grown in air.
        drifts: Vec<usize>,
    },
    /// Cables, hoses, joints, stand.
    Gear,
}

/// A drift to be cut on a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TrimDue {
    /// Index of the drift.
    pub drift: usize,
    /// Why.
    pub reason: TrimReason,
    /// Predicted height before.
    pub from: Length,
    /// Height after.
    pub to: Length,
    /// Cover after.
    pub cover: Fraction,
    /// The earliest week in which it may fall due.
    pub earliest: u32,
    /// The latest; `None` when it may not fall due within the weeks computed.
    pub latest: Option<u32>,
}
