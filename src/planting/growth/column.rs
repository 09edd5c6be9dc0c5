//! The light over a drift at rising heights, before neighbours and floating plants take theirs.

use super::sky::spots;
use crate::fit::REFERENCE_HOURS;
use crate::tank::TankModel;
use crate::tank::file::Spot;
use crate::units::{Length, Ppfd};

/// Step between the heights.
const STEP_M: f64 = 0.04;
/// A leaf at the surface counts as just under it.
const UNDER_SURFACE_M: f64 = 0.001;

/// The light over some spots of a drift, as PPFD of a day of [`REFERENCE_HOURS`] with the same
/// daily light.
#[derive(Debug, Clone)]
pub struct Column {
    foot: f64,
    step: f64,
    /// By spot, from the foot up.
    light: Vec<Vec<f64>>,
}

impl Column {
    /// Over these cells from `foot`, above the floor, to the surface; at the surface alone for what
    /// floats.
    pub fn over(model: &TankModel, cells: &[Spot], foot: Length, floats: bool) -> Self {
        let hours = model.spec.light.hours.hours() / REFERENCE_HOURS;
        let at = |spot: &Spot, z: f64| model.field.at(spot.0, spot.1, Length::from_m(z)).umol_m2_s() * hours;
        let water = model.spec.glass.water.m();
        if floats {
            let light = spots(cells).iter().map(|s| vec![at(s, water)]).collect();
            return Self { foot: water, step: 1.0, light };
        }
        let top = water - UNDER_SURFACE_M;
        let foot = foot.m().min(top);
        let steps = ((top - foot) / STEP_M).ceil().max(1.0) as usize;
        let step = (top - foot) / steps as f64;
        let rising = |s: &Spot| (0..=steps).map(|n| at(s, foot + n as f64 * step)).collect();
        Self { foot, step: step.max(1e-9), light: spots(cells).iter().map(rising).collect() }
    }

    /// What the leaves stand on, above the floor.
    pub fn foot(&self) -> Length {
        Length::from_m(self.foot)
    }

    /// The light at a height above the foot over each spot; linear between the heights known.
    pub fn at(&self, height: Length) -> impl Iterator<Item = Ppfd> + '_ {
        let place = (height.m() / self.step).max(0.0);
        self.light.iter().map(move |rising| {
            let last = rising.len() - 1;
            let below = (place.floor() as usize).min(last);
            let above = (below + 1).min(last);
            let share = (place - below as f64).clamp(0.0, 1.0);
            Ppfd::from_umol_m2_s(rising[below] + share * (rising[above] - rising[below]))
        })
    }
}
