//! How a list grows in.

use super::fill::Choice;
use crate::catalogue::Plant;
use crate::diagnostic::{Finding, Findings};
use crate::fit::ZoneConditions;
use crate::planting::growth::{self, Course, Start};
use crate::planting::{Chosen, Density, Drift, Planting, plant_out};
use crate::report::view::{GrowView, grow_view};
use crate::tank::TankModel;

/// A list planted and followed: the drifts and their courses, in the same order.
#[derive(Debug)]
pub(super) struct Grown<'a> {
    pub starts: Vec<Start<'a>>,
    pub courses: Vec<Course>,
    /// Weeks followed.
    pub weeks: u32,
}

/// The drifts of a planting with their plants, which stand in `list`.
pub(super) fn stands<'p, 'a>(planting: &'p Planting, list: &[Choice<'a>]) -> Vec<(&'p Drift, &'a Plant)> {
    let own = |drift: &Drift| list.iter().find(|c| c.zone == drift.zone && c.plant.id == drift.taxon);
    planting.drifts.iter().filter_map(|drift| Some((drift, own(drift)?.plant))).collect()
}

impl<'a> Grown<'a> {
    /// Plants a list as densely as the catalogue says and follows it for so many weeks.
    ///
    /// # Errors
    /// A list that cannot be planted.
    pub fn of(model: &TankModel, list: &[Choice<'a>], weeks: u32) -> Result<Self, Findings> {
        let chosen: Vec<Chosen<'_>> =
            list.iter().map(|c| Chosen { plant: c.plant, zone: c.zone, share: c.share }).collect();
        let planting = plant_out(model, &chosen, Density::default()).map_err(|errors| {
            let mut findings = Findings::default();
            for error in errors {
                findings.push(Finding::error(error.to_string()));
            }
            findings
        })?;
        Ok(Self::planted(model, &planting, list, weeks))
    }

    /// Follows a planting for so many weeks; `list` holds the plants of its drifts.
    pub fn planted(model: &TankModel, planting: &Planting, list: &[Choice<'a>], weeks: u32) -> Self {
        let starts: Vec<Start<'a>> =
            stands(planting, list).into_iter().map(|(drift, plant)| Start::of(drift, plant)).collect();
        let courses = growth::grow(model, &ZoneConditions::all(model), &starts, weeks);
        Self { starts, courses, weeks }
    }

    /// As if followed for so many weeks only.
    pub fn until(&self, weeks: u32) -> Self {
        let courses = self.courses.iter().map(|course| course.until(weeks)).collect();
        Self { starts: self.starts.clone(), courses, weeks: self.weeks.min(weeks) }
    }

    /// As a view.
    pub fn view(&self, model: &TankModel) -> GrowView {
        grow_view(model, &self.starts, &self.courses, self.weeks)
    }
}

/// How the plants of a list grow in over so many weeks.
///
/// # Errors
/// A list that cannot be planted.
pub fn grow(model: &TankModel, list: &[Choice<'_>], weeks: u32) -> Result<GrowView, Findings> {
    Ok(Grown::of(model, list, weeks)?.view(model))
}
