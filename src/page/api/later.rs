//! What comes of the best list: how it grows in, and what to do when.

use axum::extract::State;
use axum::http::{HeaderMap, Uri, header};
use axum::response::{IntoResponse, Response};

use super::list::{ListAsked, solving};
use super::{file, respond, stem};
use crate::answers::CalendarAsked;
use crate::diagnostic::Finding;
use crate::page::asked::Asked;
use crate::page::fault::Fault;
use crate::page::html::later as drawn;
use crate::page::rooms::SheetAnswer;
use crate::page::shared::App;
use crate::report::ics::{Alarms, ics};
use crate::report::view::{CalendarView, GrowView, PictureView, PlanView};
use crate::report::{csv, svg};
use crate::units::UnitSystem;

/// The names that a question about growth may have.
const GROW_ASKS: &[&str] = &["seconds", "keep", "without", "weeks"];
/// The names that a question about the calendar, and about the sheet, may have.
pub(in crate::page) const CALENDAR_ASKS: &[&str] =
    &["seconds", "keep", "without", "weeks", "start", "zone", "lights_on"];
/// The names that a question for a drawing may have.
const PICTURE_ASKS: &[&str] = &["seconds", "keep", "without", "week"];
/// Weeks computed, unless asked otherwise, and at most.
const WEEKS: usize = 12;
const MOST_WEEKS: usize = 26;

fn weeks(asked: &Asked) -> Result<u32, Fault> {
    let weeks = asked.whole("weeks", MOST_WEEKS)?.unwrap_or(WEEKS);
    if weeks == 0 {
        let finding = Finding::error("`weeks` is 0");
        return Err(Fault::question(finding.expected(format!("a whole number, 1 to {MOST_WEEKS}"))));
    }
    Ok(u32::try_from(weeks).unwrap_or(1))
}

/// The question about the calendar; `start` stands in where none is given.
fn calendar_asked(asked: &Asked, start: Option<&str>) -> Result<CalendarAsked, Fault> {
    let start = asked.one("start").or(start).ok_or_else(|| {
        Fault::question(
            Finding::error("`start` is missing").expected("the day of planting, such as 2027-01-09"),
        )
    })?;
    let lights_on = asked.one("lights_on").unwrap_or("12:00");
    let read = CalendarAsked::read(start, asked.one("zone"), lights_on, weeks(asked)?, asked.look().units);
    read.map_err(Fault::questions)
}

async fn growth(app: &App, asked: &Asked) -> Result<GrowView, Fault> {
    let weeks = weeks(asked)?;
    solving(app, ListAsked::read(asked)?, move |shared, question| {
        let document = shared.desk().document();
        shared.rooms.grow(&document, question, weeks)
    })
    .await
}

async fn dated(app: &App, asked: &Asked) -> Result<CalendarView, Fault> {
    let calendar = calendar_asked(asked, None)?;
    solving(app, ListAsked::read(asked)?, move |shared, question| {
        let document = shared.desk().document();
        shared.rooms.calendar(&document, question, &calendar)
    })
    .await
}

/// Everything that is printed.
pub(in crate::page) async fn sheet_answer(
    app: &App,
    asked: &Asked,
    start: &str,
) -> Result<SheetAnswer, Fault> {
    let (calendar, weeks) = (calendar_asked(asked, Some(start))?, weeks(asked)?);
    solving(app, ListAsked::read(asked)?, move |shared, question| {
        let document = shared.desk().document();
        shared.rooms.sheet(&document, question, &calendar, weeks)
    })
    .await
}

fn unwritten(error: &impl std::fmt::Display) -> Fault {
    Fault::inside(Finding::error(error.to_string()).into())
}

pub(super) async fn grow(State(app): State<App>, uri: Uri, headers: HeaderMap) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, GROW_ASKS)?;
    let view = growth(&app, &asked).await?;
    respond(&headers, &view, |view| drawn::growth(view, asked.look()))
}

pub(super) async fn grow_csv(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, GROW_ASKS)?;
    let text = csv::grow(&growth(&app, &asked).await?).map_err(|e| unwritten(&e))?;
    Ok(file("text/csv; charset=utf-8", &stem(&app, "-growth.csv"), text))
}

pub(super) async fn calendar(
    State(app): State<App>,
    uri: Uri,
    headers: HeaderMap,
) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, CALENDAR_ASKS)?;
    let view = dated(&app, &asked).await?;
    respond(&headers, &view, drawn::calendar)
}

pub(super) async fn calendar_ics(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, CALENDAR_ASKS)?;
    let text = ics(&dated(&app, &asked).await?, Alarms::None);
    Ok(file("text/calendar; charset=utf-8", &stem(&app, ".ics"), text))
}

/// The names that a question about the plan may have.
const PLAN_ASKS: &[&str] = &["seconds", "keep", "without"];

async fn planned(app: &App, uri: &Uri) -> Result<PlanView, Fault> {
    let asked = Asked::read(uri, PLAN_ASKS)?;
    solving(app, ListAsked::read(&asked)?, |shared, question| {
        let document = shared.desk().document();
        shared.rooms.plan(&document, question)
    })
    .await
}

pub(super) async fn plan(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let text = super::to_json(&planned(&app, &uri).await?)?;
    Ok(([(header::CONTENT_TYPE, "application/json")], text).into_response())
}

pub(super) async fn shopping_csv(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let text = csv::shopping(&planned(&app, &uri).await?).map_err(|e| unwritten(&e))?;
    Ok(file("text/csv; charset=utf-8", &stem(&app, "-shopping.csv"), text))
}

/// The page of the project sheet, drawings and calendar inside it; without `start` no calendar.
pub(super) async fn sheet_page(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, CALENDAR_ASKS)?;
    let calendar = asked.one("start").map(|_| calendar_asked(&asked, None)).transpose()?;
    let (weeks, units) = (weeks(&asked)?, asked.look().units);
    let page = solving(&app, ListAsked::read(&asked)?, move |shared, question| {
        let document = shared.desk().document();
        shared.rooms.sheet_file(&document, question, (calendar.as_ref(), weeks, units), "index.html")
    })
    .await?;
    let text = String::from_utf8(page.unwrap_or_default()).map_err(|e| unwritten(&e))?;
    Ok(file("text/html; charset=utf-8", &stem(&app, "-sheet.html"), text))
}

/// What is drawn of the planted tank.
async fn pictured(
    app: &App,
    uri: &Uri,
    light: bool,
    draw: fn(&PictureView, UnitSystem) -> String,
) -> Result<Response, Fault> {
    let asked = Asked::read(uri, PICTURE_ASKS)?;
    let week = u32::try_from(asked.whole("week", MOST_WEEKS)?.unwrap_or(WEEKS)).unwrap_or(0);
    let view = solving(app, ListAsked::read(&asked)?, move |shared, question| {
        let document = shared.desk().document();
        shared.rooms.picture(&document, question, (week, light))
    })
    .await?;
    Ok(drawing(draw(&view, asked.look().units)))
}

fn drawing(text: String) -> Response {
    ([(header::CONTENT_TYPE, "image/svg+xml")], text).into_response()
}

pub(super) async fn plan_svg(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    pictured(&app, &uri, true, svg::plan_view).await
}

pub(super) async fn front_svg(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    pictured(&app, &uri, false, svg::front_view).await
}

pub(super) async fn grow_svg(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, GROW_ASKS)?;
    Ok(drawing(svg::growth_chart(&growth(&app, &asked).await?)))
}
