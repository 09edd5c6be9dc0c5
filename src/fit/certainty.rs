//! How sure a verdict is: the words that the measurement ranges leave open, and the measurement
//! whose narrowing settles which of them it is.

use super::assess::{
    Bounds, WATER_FACTORS, bounds, curve, factor_bounds, level_for, light_bounds, light_trapezoid, set_fixed,
};
use super::trapezoid::at_least;
use super::{Factor, Verdict, ZoneConditions};
use crate::catalogue::Plant;
use crate::units::Quantity;

/// What the measurement ranges leave open.
#[derive(Debug, Clone, PartialEq)]
pub struct Certainty {
    /// The least and the greatest suitability.
    pub bounds: Bounds,
    /// What it depends on; `None` when the verdict is sure, or cannot reach *grows* anyway.
    pub depends: Option<Dependence>,
}

impl Certainty {
    /// Whether all ranges give one word.
    pub fn is_sure(&self) -> bool {
        self.bounds.sure().is_some()
    }

    /// The least word that the ranges allow.
    pub fn worst(&self) -> Verdict {
        Verdict::of(self.bounds.least)
    }

    /// The best word that the ranges allow.
    pub fn best(&self) -> Verdict {
        Verdict::of(self.bounds.greatest)
    }
}

/// What decides between two words.
#[derive(Debug, Clone, PartialEq)]
pub struct Dependence {
    /// The word that is reached or not: *grows* where that is open, else *thrives*.
    pub word: Verdict,
    /// Whether the one condition is enough whatever the other measurements turn out to be; if
    /// not, every condition has to hold.
    pub settles: bool,
    /// The conditions.
    pub conditions: Vec<Condition>,
}

/// The values of a measurement that allow the word.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Condition {
    /// What is measured: light (zone mean), usable carbon, or a value of the water.
    pub factor: Factor,
    /// From this value, where lower ones are possible.
    pub at_least: Option<f64>,
    /// Up to this value, where higher ones are possible.
    pub at_most: Option<f64>,
    /// Share of the measured range that allows the word, 0 to 1.
    pub share: f64,
}

/// How sure the verdict on a plant in a zone is.
pub fn certainty(plant: &Plant, zone: &ZoneConditions) -> Certainty {
    let bounds = bounds(plant, zone);
    let (worst, best) = (Verdict::of(bounds.least), Verdict::of(bounds.greatest));
    let open = |word: Verdict| worst < word && word <= best;
    let word = [Verdict::Grows, Verdict::Thrives].into_iter().find(|w| open(*w));
    Certainty { bounds, depends: word.map(|word| Case::new(plant, zone, word).dependence()) }
}

/// A plant, a zone and the suitability that is to be reached.
struct Case<'a> {
    plant: &'a Plant,
    zone: &'a ZoneConditions,
    word: Verdict,
    level: f64,
}

impl<'a> Case<'a> {
    fn new(plant: &'a Plant, zone: &'a ZoneConditions, word: Verdict) -> Self {
        Self { plant, zone, word, level: word.threshold() }
    }

    fn dependence(&self) -> Dependence {
        let factors = || WATER_FACTORS.into_iter().chain([Factor::Light]);
        let decisive = factors().filter_map(|f| self.enough(f)).max_by(|a, b| a.share.total_cmp(&b.share));
        if let Some(condition) = decisive {
            return Dependence { word: self.word, settles: true, conditions: vec![condition] };
        }
        let needed = factors().filter_map(|f| self.needed(f)).collect();
        Dependence { word: self.word, settles: false, conditions: needed }
    }

    /// The values of one measurement that are enough, whatever the others are.
    fn enough(&self, factor: Factor) -> Option<Condition> {
        let others = self.others(factor).0;
        if factor == Factor::Light {
            return self.light_under(others);
        }
        let cap = self.cap_for(|bounds| bounds.0)?;
        if others < cap { None } else { self.within(factor, cap) }
    }

    /// The values of one measurement without which the others cannot help, where that is not all.
    fn needed(&self, factor: Factor) -> Option<Condition> {
        let condition = if factor == Factor::Light {
            self.light_under(self.others(factor).1)
        } else {
            self.within(factor, self.cap_for(|bounds| bounds.1)?)
        };
        condition.filter(|c| c.at_least.is_some() || c.at_most.is_some())
    }

    /// The least and the greatest minimum of all factors but this one and light.
    fn others(&self, but: Factor) -> (f64, f64) {
        let mut fixed = [1.0; 11];
        set_fixed(self.plant, self.zone, &mut fixed);
        let fixed = fixed.iter().copied().fold(1.0, f64::min);
        WATER_FACTORS.iter().filter(|f| **f != but).fold((fixed, fixed), |(least, greatest), f| {
            let (lo, hi) = factor_bounds(self.plant, self.zone, *f);
            (lo.min(least), hi.min(greatest))
        })
    }

    /// The least cap under which the light, at its worst or best, still reaches the level. The
    /// mean rises with the cap and is never above it.
    fn cap_for(&self, end: fn((f64, f64)) -> f64) -> Option<f64> {
        let reaches = |cap: f64| end(light_bounds(self.plant, self.zone, (cap, cap))) >= self.level;
        if reaches(self.level) {
            return Some(self.level);
        }
        reaches(1.0).then(|| bisect(self.level, 1.0, reaches))
    }

    /// The part of the measured range in which a water factor is `cap` or more.
    fn within(&self, factor: Factor, cap: f64) -> Option<Condition> {
        let (trapezoid, value) = curve(self.plant, self.zone, factor)?;
        let (lo, hi) = at_least(trapezoid, cap);
        condition(factor, (lo, hi), value.range)
    }

    /// The part of the measured range of light that reaches the level under a cap.
    fn light_under(&self, cap: f64) -> Option<Condition> {
        const STEPS: usize = 32;
        let level = level_for(self.plant, self.zone)?;
        let trapezoid = light_trapezoid(self.plant);
        let (lo, hi) = self.zone.gain.range().ends();
        let (lo, hi) = (lo.value(), hi.value());
        let reaches = |gain: f64| level.share(trapezoid, cap, gain).mean >= self.level;
        let gain = |i: usize| lo + (hi - lo) * i as f64 / STEPS as f64;
        let first = (0..=STEPS).find(|i| reaches(gain(*i)))?;
        let last = (first..=STEPS).take_while(|i| reaches(gain(*i))).last()?;
        let from = if first == 0 { lo } else { bisect(gain(first - 1), gain(first), reaches) };
        let to = if last == STEPS { hi } else { bisect(gain(last + 1), gain(last), reaches) };
        let mean = level.mean().base();
        let open = (lo * mean, hi * mean);
        let span = (
            if first == 0 { f64::MIN } else { from * mean },
            if last == STEPS { f64::MAX } else { to * mean },
        );
        condition(Factor::Light, span, open)
    }
}

/// The allowed span as a condition on what is open; `None` where nothing open is allowed.
fn condition(factor: Factor, (from, to): (f64, f64), (lo, hi): (f64, f64)) -> Option<Condition> {
    if to < lo || from > hi {
        return None;
    }
    let (inner_lo, inner_hi) = (from.max(lo), to.min(hi));
    let share = if hi > lo { (inner_hi - inner_lo) / (hi - lo) } else { 1.0 };
    Some(Condition { factor, at_least: (from > lo).then_some(from), at_most: (to < hi).then_some(to), share })
}

/// The place between `no` and `yes` from which on `reaches` holds, on the side of `yes`.
pub(super) fn bisect(mut no: f64, mut yes: f64, reaches: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..60 {
        let middle = f64::midpoint(no, yes);
        if middle.to_bits() == no.to_bits() || middle.to_bits() == yes.to_bits() {
            break;
        }
        if reaches(middle) { yes = middle } else { no = middle }
    }
    yes
}
