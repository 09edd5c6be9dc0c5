//! The tank as computed, as it stands and as an edit would make it.

use std::sync::Arc;

use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use axum::http::{HeaderMap, Uri, header};
use axum::response::{IntoResponse, Response};

use super::desk::{EditBody, edit_body};
use super::{file, respond, stem};
use crate::diagnostic::Document;
use crate::page::asked::Asked;
use crate::page::desk::Refused;
use crate::page::fault::{Fault, views};
use crate::page::html::tank::drawn;
use crate::page::rooms::TankAnswer;
use crate::page::shared::{App, work};
use crate::report::{csv, svg};

/// Sizes of a cell of the map, in centimetres; finer ones take longer than a page may.
const CELLS_CM: (f64, f64) = (0.5, 20.0);

/// The tank as it stands, with what was asked about it.
async fn answered(app: &App, asked: &Asked) -> Result<TankAnswer, Fault> {
    let cell_cm = asked.number("cell", CELLS_CM)?.unwrap_or(1.0);
    work(app, move |shared| {
        let document = shared.desk().document();
        shared.rooms.tank(&document, cell_cm)
    })
    .await
}

pub(super) async fn report(State(app): State<App>, uri: Uri, headers: HeaderMap) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, &["cell"])?;
    let answer = answered(&app, &asked).await?;
    let warnings = views(&answer.warnings);
    respond(&headers, &answer.view, |view| drawn(view, &warnings, asked.look()))
}

pub(super) async fn light(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, &["cell"])?;
    let answer = answered(&app, &asked).await?;
    let drawing = svg::light_map(&answer.view, asked.look().units);
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], drawing).into_response())
}

pub(super) async fn csv(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, &["cell"])?;
    let answer = answered(&app, &asked).await?;
    let text = csv::tank(&answer.view)
        .map_err(|e| Fault::inside(crate::diagnostic::Finding::error(e.to_string()).into()))?;
    Ok(file("text/csv; charset=utf-8", &stem(&app, "-tank.csv"), text))
}

/// What an edit would make of the tank; nothing is changed.
pub(super) async fn tried(
    State(app): State<App>,
    uri: Uri,
    headers: HeaderMap,
    found: Result<Json<EditBody>, JsonRejection>,
) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, &[])?;
    let edit = edit_body(found)?;
    let answer = work(&app, move |shared| {
        let names = shared.rooms.names()?;
        let document: Arc<Document> = {
            let desk = shared.desk();
            if desk.revision() != edit.revision {
                return Err(Refused::Stale.into());
            }
            desk.tried(&edit.changes, &names)?
        };
        shared.rooms.tank(&document, 1.0)
    })
    .await?;
    let warnings = views(&answer.warnings);
    respond(&headers, &answer.view, |view| drawn(view, &warnings, asked.look()))
}
