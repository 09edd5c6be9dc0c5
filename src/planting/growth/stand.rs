//! The state of one drift: how much of its ground it covers and how tall it stands, and the steps
//! that change it.
//!
//! Biomass is cover × height ÷ full height: a canopy of even density. It follows the logistic law
//! dB/dt = r·B·(1 − B), solved exactly over each day with the day's rate r; space is the limit. What
//! is gained goes into width and height by the habit and by the room left each way; what is lost
//! thins the cover and leaves the height.

use libm::{exp, log};

use super::habit::{Habit, left_by_trim};
use crate::catalogue::GrowthForm;
use crate::units::{Fraction, Length};

/// The least cover and biomass: what a plant can come back from.
const LEAST: f64 = 1e-4;

/// The biomass after `days` of growth at `rate` (1/d), as a share of what there is room for:
/// the solution of the logistic law.
pub fn logistic(biomass: Fraction, rate: f64, days: f64) -> Fraction {
    let b = biomass.value();
    if b <= 0.0 || b >= 1.0 && rate >= 0.0 {
        return Fraction::new(b.clamp(0.0, 1.0));
    }
    Fraction::new((b / (b + (1.0 - b) * exp(-rate * days))).clamp(0.0, 1.0))
}

/// Cover and height of a drift.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stand {
    cover: f64,
    height: f64,
    /// Height when fully grown here, metres, above 0.
    room: f64,
}

impl Stand {
    /// A drift as planted: a share of its ground covered, held between almost nothing and all, at a
    /// height below what it may reach.
    pub fn planted(cover: Fraction, height: Length, room: Length) -> Self {
        let room = room.m().max(1e-3);
        Self { cover: cover.value().clamp(LEAST, 1.0), height: height.m().clamp(1e-3, room), room }
    }

    /// Share of the ground under leaves.
    pub fn cover(&self) -> Fraction {
        Fraction::new(self.cover)
    }

    /// Height of the leaves.
    pub fn height(&self) -> Length {
        Length::from_m(self.height)
    }

    /// Height when fully grown here.
    pub fn room(&self) -> Length {
        Length::from_m(self.room)
    }

    /// Share of the biomass of the fully grown drift.
    pub fn biomass(&self) -> Fraction {
        Fraction::new((self.cover * self.height / self.room).clamp(0.0, 1.0))
    }

    /// Height as a share of the full one: what of the full leaf area stands over covered ground.
    pub fn height_share(&self) -> f64 {
        self.height / self.room
    }

    /// One day at a growth rate (1/d), negative for loss.
    pub fn grow(&mut self, rate: f64, habit: &Habit) {
        let before = self.biomass();
        let after = logistic(before, rate, 1.0).value();
        let before = before.value();
        if before <= 0.0 {
            return;
        }
        if after < before {
            self.cover = (self.cover * after / before).max(LEAST);
            return;
        }
        let up = habit.upward * (1.0 - self.height_share());
        let wide = (1.0 - habit.upward) * (1.0 - self.cover);
        let share = if up + wide > 0.0 { up / (up + wide) } else { 0.0 };
        self.height = (self.height * exp(share * log(after / before))).min(self.room);
        // The rest of the gain, exactly: cover × height ÷ room is the biomass again.
        self.cover = after * self.room / self.height;
        if self.cover > 1.0 {
            self.cover = 1.0;
            self.height = (after * self.room).min(self.room);
        }
    }

    /// Loses a share of its leaves.
    pub fn shed(&mut self, share: f64) {
        self.cover = (self.cover * (1.0 - share)).max(LEAST);
    }

    /// A trim that leaves no more than `limit`. Neither height nor cover is ever more afterwards.
    pub fn trim(&mut self, form: GrowthForm, limit: Length) {
        let (height, cover) = left_by_trim(form);
        let target = self.height.min(limit.m()) * height.value();
        self.height = target.clamp(1e-3_f64.min(self.height), self.height);
        self.cover = (self.cover * cover.value()).clamp(LEAST.min(self.cover), self.cover);
    }
}
