//! The pages of the notebook, drawn whole on the server from the same answers as the interface.

use axum::Router;
use axum::extract::{Path, State};
use axum::http::{Uri, header};
use axum::response::{Html, IntoResponse, Redirect, Response};
use axum::routing::get;
use jiff::Span;
use jiff::civil::{Date, Weekday};
use maud::Markup;

use super::api::{CALENDAR_ASKS, FILL_ASKS, FIND_ASKS, ListAsked, find_view, list_answer, sheet_answer};
use super::asked::Asked;
use super::assets;
use super::desk::Written;
use super::fault::{Fault, views};
use super::html::{catalogue, fields, frame, list, plant, sheet, tank};
use super::shared::{App, work};

/// Every page, and what they are drawn with.
pub(super) fn routes() -> Router<App> {
    Router::new()
        .route("/", get(start))
        .route("/tank", get(the_tank))
        .route("/catalogue", get(the_catalogue))
        .route("/plants/{taxon}", get(the_plant))
        .route("/list", get(the_list))
        .route("/sheet", get(the_sheet))
        .route("/favicon.ico", get(|| async { Redirect::permanent(&assets::address("icon.svg")) }))
        .route("/assets/{version}/{name}", get(assets::serve))
}

/// The tank is where one begins.
async fn start(uri: Uri) -> Redirect {
    let query = uri.query().map_or(String::new(), |q| format!("?{q}"));
    Redirect::to(&format!("/tank{query}"))
}

fn address(uri: &Uri) -> String {
    uri.path_and_query().map_or_else(|| uri.path().to_owned(), ToString::to_string)
}

fn whole(app: &App, asked: &Asked, uri: &Uri, title: &str, main: &Markup) -> Response {
    let desk = frame::desk(&app.desk());
    let page = frame::page(asked.look(), title, &address(uri), &desk, main);
    ([(header::CACHE_CONTROL, "no-store")], Html(page)).into_response()
}

async fn the_tank(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, &[])?;
    let look = asked.look();
    let (name, main) = work(&app, move |shared| {
        let document = shared.desk().document();
        let spectra = shared.rooms.spectra()?;
        let written = Written::of(&document.text);
        let name = written.as_ref().map(|w| w.get("name")).filter(|n| !n.is_empty());
        let name = name.unwrap_or_else(|| "Unnamed tank".to_owned());
        let drawn = match shared.rooms.tank(&document, 1.0) {
            Ok(answer) => tank::drawn(&answer.view, &views(&answer.warnings), look),
            Err(fault) => tank::wrong(&views(fault.findings())),
        };
        let form = written.map_or(maud::html! {}, |w| fields::fields(&w, &spectra));
        let main = tank::tank(look, &name, &drawn, &form);
        Ok((name, main))
    })
    .await?;
    Ok(whole(&app, &asked, &uri, &name, &main))
}

async fn the_catalogue(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, FIND_ASKS)?;
    let question = asked.clone();
    let main = work(&app, move |shared| {
        let view = find_view(shared, &question)?;
        Ok(catalogue::catalogue(&view, &question, &shared.rooms.places()?, question.look()))
    })
    .await?;
    Ok(whole(&app, &asked, &uri, "The catalogue", &main))
}

async fn the_plant(State(app): State<App>, uri: Uri, Path(taxon): Path<String>) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, &[])?;
    let look = asked.look();
    let (name, main) = work(&app, move |shared| {
        let view = shared.rooms.show(&taxon)?;
        let document = shared.desk().document();
        let tank = shared.rooms.check_alone(&document, &view.taxon);
        Ok((view.name.clone(), plant::plant(&view, tank.as_ref(), look)))
    })
    .await?;
    Ok(whole(&app, &asked, &uri, &name, &main))
}

async fn the_list(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, FILL_ASKS)?;
    let wanted = ListAsked::read(&asked)?;
    let drawn = match list_answer(&app, wanted).await {
        Ok(answer) => list::drawn(&answer, asked.look()),
        Err(fault) => tank::wrong(&views(fault.findings())),
    };
    let main = list::page(&asked, &drawn);
    Ok(whole(&app, &asked, &uri, "The list", &main))
}

async fn the_sheet(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, CALENDAR_ASKS)?;
    let start = asked.one("start").map_or_else(next_saturday, str::to_owned);
    let drawn = match sheet_answer(&app, &asked, &start).await {
        Ok(answer) => sheet::drawn(&answer, asked.look()),
        Err(fault) => tank::wrong(&views(fault.findings())),
    };
    Ok(whole(&app, &asked, &uri, "The sheet", &sheet::page(&asked, &start, &drawn)))
}

/// A day on which one has time to plant, from tomorrow on.
fn next_saturday() -> String {
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH).unwrap_or_default();
    let days = i64::try_from(since.as_secs() / 86_400).unwrap_or(0);
    let epoch = Date::constant(1970, 1, 1);
    let today = epoch.checked_add(Span::new().days(days)).unwrap_or(epoch);
    today.nth_weekday(1, Weekday::Saturday).unwrap_or(today).to_string()
}
