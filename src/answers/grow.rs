//! How a list grows in.

use super::fill::Choice;
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
        let start = |drift: &Drift| {
            let own = list.iter().find(|c| c.zone == drift.zone && c.plant.id == drift.taxon)?;
            Some(Start::of(drift, own.plant))
        };
        let starts: Vec<Start<'a>> = planting.drifts.iter().filter_map(start).collect();
        let courses = growth::grow(model, &ZoneConditions::all(model), &starts, weeks);
        Self { starts, courses }
    }

    /// As a view.
    pub fn view(&self, model: &TankModel, weeks: u32) -> GrowView {
        grow_view(model, &self.starts, &self.courses, weeks)
    }
}

/// How the plants of a list grow in over so many weeks.
///
/// # Errors
/// A list that cannot be planted.
pub fn grow(model: &TankModel, list: &[Choice<'_>], weeks: u32) -> Result<GrowView, Findings> {
    Ok(Grown::of(model, list, weeks)?.view(model, weeks))
}
