//! The project sheet: every file of it, ready to be written.

use super::calendar::{self, CalendarAsked};
use super::draw;
use super::files::Part;
use super::fill::Choice;
use super::grow::Grown;
use crate::diagnostic::{Finding, Findings};
use crate::planting::Planting;
use crate::report::html::{self, Drawing, Sheet};
use crate::report::ics::{Alarms, ics};
use crate::report::text::{self, Page};
use crate::report::view::{CalendarView, GrowView, PlanView};
use crate::report::{csv, json, svg};
use crate::tank::TankModel;
use crate::units::UnitSystem;

/// Columns of the chapters in plain text.
const COLUMNS: usize = 80;
/// Every name that a file of a project sheet may have.
const NAMES: [(&str, &str); 12] = [
    (PAGE, "this page"),
    ("plan.svg", "the plan, to scale"),
    ("plan.png", "the same for any program"),
    ("growth.svg", "growth as a chart"),
    ("shopping.csv", "the shopping list for spreadsheets"),
    ("plan.json", "drifts, places and purchases, every number with its unit in its key"),
    ("tank.toml", "the tank file as it was read"),
    ("growth.csv", "cover and height of every drift, week by week"),
    ("growth.json", "the same, with what it rests on"),
    ("calendar.txt", "what to do when, week by week"),
    ("calendar.ics", "the same for calendar programs"),
    ("calendar.json", "the same for programs"),
];
const PAGE: &str = "index.html";
/// Front views are named by their week.
const FRONT: &str = "front-week-";

/// What a project sheet is made of, besides the plan.
#[derive(Debug, Clone, Copy)]
pub struct SheetAsked<'a> {
    /// Who stands where.
    pub planting: &'a Planting,
    /// Weeks whose front view is drawn.
    pub pictured: &'a [u32],
    /// The list that was planted.
    pub list: &'a [Choice<'a>],
    /// The calendar, when there is a day to begin.
    pub calendar: Option<&'a CalendarAsked>,
    /// Weeks of growth.
    pub weeks: u32,
    /// The units of the text.
    pub units: UnitSystem,
}

/// Whether a file name is one that [`sheet`] makes.
pub fn is_of_sheet(name: &str) -> bool {
    let week = |end: &str| name.strip_prefix(FRONT).and_then(|rest| rest.strip_suffix(end));
    let front = week(".svg").or(week(".png")).is_some_and(|n| n.parse::<u32>().is_ok());
    front || NAMES.iter().any(|(own, _)| *own == name)
}

/// A drawing with its name, without the ending.
struct Named {
    name: String,
    drawing: Drawing,
}

/// The drawings: the plan as planted, the front in each of the weeks.
fn drawn(model: &TankModel, asked: &SheetAsked<'_>, grown: &Grown<'_>) -> Vec<Named> {
    let mut weeks = vec![0];
    weeks.extend(asked.pictured);
    let views = draw::of_grown(model, (asked.planting, asked.list), grown, &weeks, false);
    let mut named: Vec<Named> = Vec::new();
    if let Some(view) = views.first() {
        let drawing =
            Drawing { title: "From above, as planted".to_owned(), svg: svg::plan_view(view, asked.units) };
        named.push(Named { name: "plan".to_owned(), drawing });
    }
    for view in views.iter().skip(1) {
        let title = match view.week {
            0 => "From the front, as planted".to_owned(),
            1 => "From the front, after a week".to_owned(),
            week => format!("From the front, after {week} weeks"),
        };
        let drawing = Drawing { title, svg: svg::front_view(view, asked.units) };
        named.push(Named { name: format!("{FRONT}{}", view.week), drawing });
    }
    named
}

/// The files of a project sheet.
///
/// # Errors
/// A calendar that reaches too far.
pub fn sheet(
    model: &TankModel,
    plan: &PlanView,
    asked: &SheetAsked<'_>,
    notes: &mut Findings,
) -> Result<Vec<Part>, Findings> {
    let mut parts = vec![
        part("shopping.csv", csv::shopping(plan).map_err(unprintable)?),
        part("plan.json", json::json(plan).map_err(unprintable)?),
        part("tank.toml", model.spec.document.text.clone()),
    ];
    // One course of the tank serves all that is told of it.
    let pictured = asked.pictured.iter().copied();
    let weeks = pictured.chain(asked.calendar.map(|c| c.weeks)).fold(asked.weeks, u32::max);
    let grown = Grown::planted(model, asked.planting, asked.list, weeks);
    let mut drawings = Vec::new();
    for Named { name, drawing } in drawn(model, asked, &grown) {
        let pixels = draw::in_pixels(&drawing.svg, notes).map_err(unprintable)?;
        parts.push(part(&format!("{name}.png"), pixels));
        parts.push(part(&format!("{name}.svg"), drawing.svg.clone()));
        drawings.push(drawing);
    }
    let growth = grown.until(asked.weeks).view(model);
    let chart = svg::growth_chart(&growth);
    parts.extend(growth_parts(&growth, &chart)?);
    drawings.push(Drawing { title: "How it grows in".to_owned(), svg: chart });
    let dated = |dates: &CalendarAsked| calendar::of_grown(model, &grown.until(dates.weeks), dates);
    let calendar = asked.calendar.map(dated).transpose()?;
    if let Some(view) = &calendar {
        parts.extend(calendar_parts(view, asked.units)?);
    }
    let files: Vec<(String, String)> = NAMES
        .iter()
        .filter(|(name, _)| parts.iter().any(|p| p.name == *name))
        .map(|(name, what)| ((*name).to_owned(), (*what).to_owned()))
        .collect();
    let page = html::sheet(&Sheet { plan, drawings: &drawings, calendar: calendar.as_ref(), files: &files });
    parts.push(part(PAGE, page));
    Ok(parts)
}

fn part(name: &str, bytes: impl Into<Vec<u8>>) -> Part {
    Part { name: name.to_owned(), bytes: bytes.into() }
}

fn growth_parts(view: &GrowView, chart: &str) -> Result<[Part; 3], Findings> {
    Ok([
        part("growth.svg", chart),
        part("growth.csv", csv::grow(view).map_err(unprintable)?),
        part("growth.json", json::json(view).map_err(unprintable)?),
    ])
}

fn calendar_parts(view: &CalendarView, units: UnitSystem) -> Result<[Part; 3], Findings> {
    Ok([
        part("calendar.ics", ics(view, Alarms::None)),
        part("calendar.json", json::json(view).map_err(unprintable)?),
        part("calendar.txt", plain(units, |page| text::calendar(page, view))),
    ])
}

/// A report as text without styles.
fn plain(units: UnitSystem, write: impl FnOnce(&mut Page)) -> String {
    let mut page = Page::new(COLUMNS, units);
    write(&mut page);
    anstream::adapter::strip_str(&page.finish()).to_string()
}

fn unprintable(error: impl std::fmt::Display) -> Findings {
    Finding::error(format!("the project sheet cannot be written: {error}")).into()
}
