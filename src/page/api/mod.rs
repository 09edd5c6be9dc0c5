//! The interface under `/api`: every answer as JSON, and for the page itself drawn in HTML.
//!
//! The JSON of the tank, the list, a check, a search and a plant is byte by byte what the command
//! line prints with `--format json`.

mod catalogue;
mod desk;
mod later;
mod list;
mod openapi;
mod tank;

use axum::Router;
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use maud::Markup;
use serde::Serialize;

pub(super) use catalogue::{FIND_ASKS, find_view};
pub(super) use later::{CALENDAR_ASKS, sheet_answer};
pub(super) use list::{FILL_ASKS, ListAnswer, ListAsked, list_answer};

use super::fault::Fault;
use super::shared::App;
use crate::diagnostic::Finding;
use crate::report::json;

/// Every route under `/api`.
pub(super) fn routes() -> Router<App> {
    Router::new()
        .route("/api/openapi.json", get(openapi::serve))
        .route("/api/desk", get(desk::show))
        .route("/api/desk/fields", get(desk::fields))
        .route("/api/desk/tank.toml", get(desk::download))
        .route("/api/desk/edit", post(desk::edit))
        .route("/api/desk/try", post(tank::tried))
        .route("/api/desk/undo", post(desk::undo))
        .route("/api/desk/redo", post(desk::redo))
        .route("/api/desk/save", post(desk::save))
        .route("/api/desk/reload", post(desk::reload))
        .route("/api/tank", get(tank::report))
        .route("/api/tank/light.svg", get(tank::light))
        .route("/api/tank/tank.csv", get(tank::csv))
        .route("/api/find", get(catalogue::find))
        .route("/api/plants/{taxon}", get(catalogue::plant))
        .route("/api/check", get(catalogue::check))
        .route("/api/fill", get(list::fill))
        .route("/api/fill/list.csv", get(list::csv))
        .route("/api/grow", get(later::grow))
        .route("/api/plan", get(later::plan))
        .route("/api/plan/shopping.csv", get(later::shopping_csv))
        .route("/api/plan/sheet.html", get(later::sheet_page))
        .route("/api/plan.svg", get(later::plan_svg))
        .route("/api/front.svg", get(later::front_svg))
        .route("/api/grow/growth.csv", get(later::grow_csv))
        .route("/api/grow/growth.svg", get(later::grow_svg))
        .route("/api/calendar", get(later::calendar))
        .route("/api/calendar/calendar.ics", get(later::calendar_ics))
        .fallback(nowhere)
        .method_not_allowed_fallback(not_so)
}

async fn nowhere() -> Fault {
    Fault::missing(Finding::error("there is nothing at this address"))
}

async fn not_so() -> Fault {
    Fault::plain(StatusCode::METHOD_NOT_ALLOWED, "this address is not asked in that way")
}

/// Whether the page itself asks: it says that it takes HTML and nothing else.
fn is_drawn(headers: &HeaderMap) -> bool {
    headers.get(header::ACCEPT).is_some_and(|accept| accept == "text/html")
}

/// A view as JSON, or drawn for the page.
fn respond<View: Serialize>(
    headers: &HeaderMap,
    view: &View,
    draw: impl FnOnce(&View) -> Markup,
) -> Result<Response, Fault> {
    let vary = (header::VARY, "accept");
    if is_drawn(headers) {
        let kind = (header::CONTENT_TYPE, "text/html; charset=utf-8");
        return Ok(([vary, kind], draw(view).into_string()).into_response());
    }
    Ok(([vary, (header::CONTENT_TYPE, "application/json")], to_json(view)?).into_response())
}

fn to_json(view: &impl Serialize) -> Result<String, Fault> {
    json::json(view).map_err(|error| {
        Fault::inside(Finding::error(format!("the result cannot be written: {error}")).into())
    })
}

/// A file to keep, under a name of plain letters.
fn file(kind: &'static str, name: &str, text: String) -> Response {
    let plain = |c: char| if c.is_ascii_alphanumeric() || "-_.".contains(c) { c } else { '-' };
    let name: String = name.chars().map(plain).collect();
    let disposition = format!("attachment; filename=\"{name}\"");
    ([(header::CONTENT_TYPE, kind.to_owned()), (header::CONTENT_DISPOSITION, disposition)], text)
        .into_response()
}

/// The stem of the tank file, for files made from it.
fn stem(app: &App, ending: &str) -> String {
    let name = app.desk().file_name();
    format!("{}{ending}", name.strip_suffix(".toml").unwrap_or(&name))
}
