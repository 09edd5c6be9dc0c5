//! The project sheet: every file of it, ready to be written.

use super::calendar::{CalendarAsked, of_grown};
use super::draw::pictures;
use super::files::Part;
use super::fill::Choice;
use super::grow::Grown;
use crate::diagnostic::{Finding, Findings};
use crate::planting::Planting;
use crate::report::html::{self, Drawing, Sheet};
use crate::report::ics::{Alarms, ics};
use crate::report::text::{self, Page};
use crate::report::view::PlanView;
use crate::report::{csv, json, png, svg};
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
/// Pixels to the inch of a drawing's own size.
const FINE: f64 = 150.0;

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
fn drawn(model: &TankModel, asked: &SheetAsked<'_>) -> Vec<Named> {
    let mut weeks = vec![0];
    weeks.extend(asked.pictured);
    let views = pictures(model, asked.planting, asked.list, &weeks, false);
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
pub fn sheet(model: &TankModel, plan: &PlanView, asked: &SheetAsked<'_>) -> Result<Vec<Part>, Findings> {
    let part = |name: &str, bytes: Vec<u8>| Part { name: name.to_owned(), bytes };
    let mut parts = vec![
        part("shopping.csv", csv::shopping(plan).map_err(unprintable)?.into_bytes()),
        part("plan.json", json::json(plan).map_err(unprintable)?.into_bytes()),
        part("tank.toml", model.spec.document.text.clone().into_bytes()),
    ];
    let mut drawings = Vec::new();
    for Named { name, drawing } in drawn(model, asked) {
        let pixels = png::png(&drawing.svg, FINE).map_err(unprintable)?;
        parts.push(part(&format!("{name}.png"), pixels));
        parts.push(part(&format!("{name}.svg"), drawing.svg.clone().into_bytes()));
        drawings.push(drawing);
    }
    let mut chapters = Vec::new();
    let follow = |weeks: u32| Grown::planted(model, asked.planting, asked.list, weeks);
    let growth = follow(asked.weeks).view(model, asked.weeks);
    let chart = svg::growth_chart(&growth);
    parts.push(part("growth.svg", chart.clone().into_bytes()));
    parts.push(part("growth.csv", csv::grow(&growth).map_err(unprintable)?.into_bytes()));
    parts.push(part("growth.json", json::json(&growth).map_err(unprintable)?.into_bytes()));
    drawings.push(Drawing { title: "How it grows in".to_owned(), svg: chart });
    if let Some(dates) = asked.calendar {
        let view = of_grown(model, &follow(dates.weeks), dates)?;
        let told = plain(asked.units, |page| text::calendar(page, &view));
        parts.push(part("calendar.ics", ics(&view, Alarms::None).into_bytes()));
        parts.push(part("calendar.json", json::json(&view).map_err(unprintable)?.into_bytes()));
        parts.push(part("calendar.txt", told.clone().into_bytes()));
        chapters.push(("What to do when".to_owned(), told));
    }
    let files: Vec<(String, String)> = NAMES
        .iter()
        .filter(|(name, _)| parts.iter().any(|p| p.name == *name))
        .map(|(name, what)| ((*name).to_owned(), (*what).to_owned()))
        .collect();
    let page = html::sheet(&Sheet { plan, drawings: &drawings, chapters: &chapters, files: &files });
    parts.push(part(PAGE, page.into_bytes()));
    Ok(parts)
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
