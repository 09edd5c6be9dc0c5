//! How a planted tank grows in: cover, height, biomass and shading of every drift, week by week.
//!
//! Every drift carries two numbers, cover and height; biomass is their product (`stand`). It grows
//! logistically at a daily rate: the row's `growthPerDay` times what the light on its leaves makes
//! of it under a ceiling of carbon, water and bed (`rate`). Light falls from the tank's own field
//! (`column`), past taller neighbours and floating plants (`sky`), through the drift's own leaves
//! (`canopy`). Planting costs time, leaves grown in air are lost, and what grows too tall or too full
//! is cut on the weekly day of care (`run`, `habit`).
//!
//! Results are ranges: the tank is run three times, with every open parameter and measurement at the
//! end that slows growth, in the middle, and at the end that speeds it. That spans what is open in
//! the large; it is no proof of bounds, because a slow neighbour is also a small shade.
//!
//! Pure and deterministic. Not here: nutrients, algae, animals, damage by strong light, and what
//! plants do to the CO2 and pH of their water.

mod canopy;
mod column;
mod course;
mod habit;
mod rate;
mod run;
mod sky;
mod stand;

pub use canopy::{Extinction, LeafArea, mean_leaf, over_leaves, passed};
pub use course::{Course, Cut, Trim, TrimReason, WeekState};
pub use habit::{Case, Habit, grown_in_air, left_by_trim, published_extinction, rate_open};
pub use rate::{HalfSaturation, Response, carbon, jassby_platt};
pub use sky::{hidden, under_floating};
pub use stand::{Stand, logistic};

use column::Column;
use run::Moment;
use sky::{Surroundings, surroundings};

use crate::catalogue::{Placement, Plant};
use crate::fit::{Measured, ZoneConditions};
use crate::planting::Drift;
use crate::tank::TankModel;
use crate::tank::file::Spot;
use crate::units::{Area, Fraction, Interval, Length, Quantity};

/// The most weeks that are computed: two years. Nothing here holds longer.
pub const MOST_WEEKS: u32 = 104;

/// A drift as planted.
#[derive(Debug, Clone)]
pub struct Start<'a> {
    /// The taxon.
    pub plant: &'a Plant,
    /// Index of the zone.
    pub zone: usize,
    /// Its ground as centres of cells of equal area; one at least.
    pub cells: Vec<Spot>,
    /// Its area, above 0.
    pub area: Area,
    /// What its plants stand on, above the floor of the glass.
    pub foot: Length,
    /// How many pieces are planted.
    pub pieces: u32,
}

impl<'a> Start<'a> {
    /// A drift of a planting plan with its taxon.
    pub fn of(drift: &Drift, plant: &'a Plant) -> Self {
        let feet: f64 = drift.places.iter().map(|p| p.foot.m()).sum();
        Self {
            plant,
            zone: drift.zone,
            cells: drift.cells.clone(),
            area: drift.area,
            foot: Length::from_m(feet / drift.places.len().max(1) as f64),
            pieces: drift.places.len() as u32,
        }
    }
    /// Share of the ground that the pieces cover when planted, each so much of its final width
    /// across; floating pieces their share of the hexagonal lattice.
    fn cover(&self, habit: &Habit) -> Fraction {
        let floats = habit.piece >= 1.0;
        let width = if floats { self.plant.spacing.m() } else { self.plant.spread.m() * habit.piece };
        let cell = if floats { 3f64.sqrt() / 2.0 } else { std::f64::consts::FRAC_PI_4 };
        let covered = f64::from(self.pieces) * cell * width * width / self.area.m2().max(1e-9);
        Fraction::new(covered.clamp(0.0, 0.9))
    }
}

/// What of a drift is the same in every run.
struct Ground {
    column: Column,
    around: Vec<Surroundings>,
}

/// The course of every drift over so many weeks, [`MOST_WEEKS`] at most.
///
/// # Panics
/// When a zone of a start is not a zone of the tank, or a start has no cell.
pub fn grow(model: &TankModel, zones: &[ZoneConditions], starts: &[Start<'_>], weeks: u32) -> Vec<Course> {
    let weeks = weeks.min(MOST_WEEKS);
    let grounds = grounds(model, zones, starts);
    let [low, mid, high] = Case::ALL.map(|case| run::run(model, zones, starts, &grounds, weeks, case));
    let runs = low.iter().zip(&mid).zip(&high);
    runs.enumerate().map(|(drift, ((low, mid), high))| course(drift, [low, mid, high])).collect()
}

fn grounds(model: &TankModel, zones: &[ZoneConditions], starts: &[Start<'_>]) -> Vec<Ground> {
    let floats: Vec<bool> = starts.iter().map(|s| zones[s.zone].placement == Placement::Floating).collect();
    let cells: Vec<&[Spot]> = starts.iter().map(|s| s.cells.as_slice()).collect();
    let widths = starts.iter().map(|s| (s.area.m2() / s.cells.len() as f64).sqrt());
    let cell = Length::from_m(widths.fold(0.0, f64::max));
    let around = surroundings(&cells, &floats, cell);
    let ground = |((start, around), floats): ((&Start<'_>, Vec<Surroundings>), &bool)| Ground {
        column: Column::over(model, &start.cells, start.foot, *floats),
        around,
    };
    starts.iter().zip(around).zip(&floats).map(ground).collect()
}

/// The middle run with the span of all three.
fn course(drift: usize, runs: [&Vec<Moment>; 3]) -> Course {
    let week = |week: usize| {
        let at = runs.map(|run| &run[week]);
        WeekState {
            week: week as u32,
            cover: span(at.map(|m| m.cover)),
            height: span(at.map(|m| m.height)),
            biomass: span(at.map(|m| m.biomass)),
            light_share: span(at.map(|m| m.light_share)),
            self_shading: span(at.map(|m| m.self_shading)),
            pace: span(at.map(|m| m.pace)),
            trim: at[1].cut,
        }
    };
    Course { drift, weeks: (0..runs[1].len()).map(week).collect(), trims: trims(runs) }
}

/// The value of the middle run in the span of low, mid and high.
fn span<Q: Quantity>([low, mid, high]: [Q; 3]) -> Measured<Q> {
    Measured::new(mid, Interval::spanning(low, high))
}

/// The n-th trim of the middle run beside the n-th of the others.
fn trims(runs: [&Vec<Moment>; 3]) -> Vec<Trim> {
    let cuts = runs.map(|run| {
        let cut = |(week, m): (usize, &Moment)| m.cut.map(|cut| (week as u32, cut.reason));
        run.iter().enumerate().filter_map(cut).collect::<Vec<(u32, TrimReason)>>()
    });
    let trim = |(n, &(week, reason)): (usize, &(u32, TrimReason))| {
        let others: Vec<u32> = cuts.iter().filter_map(|c| c.get(n)).map(|c| c.0).collect();
        Trim {
            week,
            earliest: others.iter().copied().min().unwrap_or(week),
            latest: others.iter().copied().max().filter(|_| others.len() == cuts.len()),
            reason,
        }
    };
    cuts[1].iter().enumerate().map(trim).collect()
}
