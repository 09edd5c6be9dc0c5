//! What to do when, with dates.

use jiff::civil::Date;

use super::dates::{days, read_clock, read_date, zone_over};
use super::fill::Choice;
use super::grow::Grown;
use crate::catalogue::{Placement, Plant};
use crate::diagnostic::{Finding, Findings};
use crate::fit::placement_of;
use crate::planting::calendar::{Care, Clock, WEEK, keep};
use crate::report::view::{CalendarParts, CalendarView, TimeZoneView, calendar_view};
use crate::tank::TankModel;
use crate::units::UnitSystem;

/// What `calendar` is asked, read.
#[derive(Debug, Clone)]
pub struct CalendarAsked {
    start: Date,
    zone: Option<TimeZoneView>,
    lights_on: Clock,
    pub(super) weeks: u32,
    units: UnitSystem,
}

impl CalendarAsked {
    /// Reads a start (`2027-01-09`), the name of a time zone, and the time at which the light comes
    /// on (`12:00`); `weeks` from 1 to [`crate::planting::calendar::MOST_WEEKS`].
    ///
    /// # Errors
    /// All that cannot be read.
    pub fn read(
        start: &str,
        zone: Option<&str>,
        lights_on: &str,
        weeks: u32,
        units: UnitSystem,
    ) -> Result<Self, Findings> {
        let mut findings = Findings::default();
        let mut kept = |finding: Finding| findings.push(finding);
        let start = read_date(start).map_err(&mut kept).ok();
        let lights_on = read_clock(lights_on).map_err(&mut kept).ok();
        // An unknown zone is told even where the date is wrong: any date finds it out.
        let from = start.unwrap_or(Date::constant(2000, 1, 1));
        let zone = zone.map(|z| zone_over(z, from, reach(weeks))).transpose().map_err(&mut kept).ok();
        match (start, lights_on, zone) {
            (Some(start), Some(lights_on), Some(zone)) => Ok(Self { start, zone, lights_on, weeks, units }),
            _ => Err(findings),
        }
    }
}

/// Days to name: the weeks asked for, and one more for what ends with them.
fn reach(weeks: u32) -> u32 {
    (weeks + 1) * WEEK + 1
}

/// The calendar of a list in a tank.
///
/// # Errors
/// A list that cannot be planted, days that the calendar does not reach.
pub fn calendar(
    model: &TankModel,
    list: &[Choice<'_>],
    asked: &CalendarAsked,
) -> Result<CalendarView, Findings> {
    of_grown(model, &Grown::of(model, list, asked.weeks)?, asked)
}

/// The calendar of plants that were followed for the weeks asked for.
///
/// # Errors
/// Days that the calendar does not reach.
pub(super) fn of_grown(
    model: &TankModel,
    grown: &Grown<'_>,
    asked: &CalendarAsked,
) -> Result<CalendarView, Findings> {
    let drift = |s: &crate::planting::growth::Start<'_>| placement_of(model.spec.zones[s.zone].role);
    let drifts: Vec<(&Plant, Placement)> = grown.starts.iter().map(|s| (s.plant, drift(s))).collect();
    let entries = keep(&Care {
        model,
        drifts: &drifts,
        courses: &grown.courses,
        lights_on: asked.lights_on,
        weeks: asked.weeks,
    });
    let plants: Vec<&Plant> = drifts.iter().map(|(plant, _)| *plant).collect();
    let parts = CalendarParts {
        model,
        plants: &plants,
        entries: &entries,
        days: &days(asked.start, reach(asked.weeks))?,
        weeks: asked.weeks,
        units: asked.units,
    };
    Ok(calendar_view(&parts, asked.zone.clone()))
}
