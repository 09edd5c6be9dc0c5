//! What a planted tank looks like, week by week, as values to draw from.

use super::fill::Choice;
use crate::catalogue::Plant;
use crate::fit::ZoneConditions;
use crate::planting::Planting;
use crate::planting::growth::{self, Start};
use crate::report::view::{PictureAsked, PictureView, picture_view};
use crate::tank::TankModel;

/// A picture of a planting plan in each of these weeks; `list` holds the plants of its drifts. With
/// `light`, lines of equal light are drawn on the plan.
pub fn pictures(
    model: &TankModel,
    planting: &Planting,
    list: &[Choice<'_>],
    weeks: &[u32],
    light: bool,
) -> Vec<PictureView> {
    let plant = |drift: &crate::planting::Drift| {
        list.iter().find(|c| c.zone == drift.zone && c.plant.id == drift.taxon).map(|c| c.plant)
    };
    let known: Vec<(&crate::planting::Drift, &Plant)> =
        planting.drifts.iter().filter_map(|d| Some((d, plant(d)?))).collect();
    let starts: Vec<Start<'_>> = known.iter().map(|(d, p)| Start::of(d, p)).collect();
    let last = weeks.iter().copied().max().unwrap_or(0);
    let courses = growth::grow(model, &ZoneConditions::all(model), &starts, last);
    let picture =
        |week: &u32| picture_view(model, &known, PictureAsked { week: *week, courses: &courses, light });
    weeks.iter().map(picture).collect()
}
