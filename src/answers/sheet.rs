//! The project sheet: every file of it, ready to be written.

use super::calendar::{CalendarAsked, calendar};
use super::files::Part;
use super::fill::Choice;
use super::grow::grow;
use crate::diagnostic::{Finding, Findings};
use crate::report::html::{self, Drawing, Sheet};
use crate::report::ics::{Alarms, ics};
use crate::report::text::{self, Marks, Page};
use crate::report::view::PlanView;
use crate::report::{csv, json};
use crate::tank::TankModel;
use crate::units::UnitSystem;

/// Columns of the chapters in plain text.
const COLUMNS: usize = 80;
/// Every name that a file of a project sheet may have.
const NAMES: [(&str, &str); 9] = [
    (PAGE, "this page"),
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

/// What a project sheet is made of, besides the plan.
#[derive(Debug, Clone, Copy)]
pub struct SheetAsked<'a> {
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
    NAMES.iter().any(|(own, _)| *own == name)
}

/// The files of a project sheet.
///
/// # Errors
/// A list that cannot be planted, a calendar that reaches too far.
pub fn sheet(model: &TankModel, plan: &PlanView, asked: &SheetAsked<'_>) -> Result<Vec<Part>, Findings> {
    let mut files: Vec<(&str, String)> = vec![
        ("shopping.csv", csv::shopping(plan).map_err(unprintable)?),
        ("plan.json", json::json(plan).map_err(unprintable)?),
        ("tank.toml", model.spec.document.text.clone()),
    ];
    let mut chapters = Vec::new();
    let growth = grow(model, asked.list, asked.weeks)?;
    files.push(("growth.csv", csv::grow(&growth).map_err(unprintable)?));
    files.push(("growth.json", json::json(&growth).map_err(unprintable)?));
    let told = plain(asked.units, |page| text::grow(page, &growth, Marks::Blocks));
    chapters.push(("How it grows in".to_owned(), told));
    if let Some(dates) = asked.calendar {
        let view = calendar(model, asked.list, dates)?;
        let told = plain(asked.units, |page| text::calendar(page, &view));
        files.push(("calendar.ics", ics(&view, Alarms::None)));
        files.push(("calendar.json", json::json(&view).map_err(unprintable)?));
        files.push(("calendar.txt", told.clone()));
        chapters.push(("What to do when".to_owned(), told));
    }
    let drawings: Vec<Drawing> = Vec::new();
    let there = |name: &str| name == PAGE || files.iter().any(|(n, _)| *n == name);
    let beside: Vec<(String, String)> = NAMES
        .iter()
        .filter(|(name, _)| *name != PAGE && there(name))
        .map(|(name, what)| ((*name).to_owned(), (*what).to_owned()))
        .collect();
    let page = html::sheet(&Sheet { plan, drawings: &drawings, chapters: &chapters, files: &beside });
    files.push((PAGE, page));
    Ok(files
        .into_iter()
        .map(|(name, text)| Part { name: name.to_owned(), bytes: text.into_bytes() })
        .collect())
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
