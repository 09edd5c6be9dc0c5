//! The tank file: what it says, edits, steps back and forth, saving.

use axum::Json;
use axum::extract::State;
use axum::extract::rejection::JsonRejection;
use axum::http::{HeaderMap, Uri};
use axum::response::Response;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::{file, respond};
use crate::diagnostic::Finding;
use crate::page::asked::Asked;
use crate::page::desk::{Change, Desk, OnDisk, Refused, Written};
use crate::page::fault::{Fault, FindingView, views};
use crate::page::html::{fields as form, frame};
use crate::page::shared::{App, work};
use crate::tank::file::read;

/// Changes in one edit, at most.
const MOST_CHANGES: usize = 200;

/// How the tank on the desk stands.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct DeskView {
    /// Goes up with every change; an edit names the one it was made for.
    pub revision: u64,
    /// The file's own name.
    pub file: String,
    /// How the file stands.
    pub on_disk: OnDisk,
    /// Whether the tank differs from the file.
    pub unsaved: bool,
    /// Steps that can be taken back.
    pub undo: usize,
    /// Steps that can be made again.
    pub redo: usize,
    /// What is wrong or doubtful in the file as it stands.
    pub findings: Vec<FindingView>,
}

impl DeskView {
    fn of(desk: &Desk) -> Self {
        let (undo, redo) = desk.steps();
        let findings = match read(&desk.document()) {
            Ok((_, warnings)) => warnings,
            Err(findings) => findings,
        };
        Self {
            revision: desk.revision(),
            file: desk.file_name(),
            on_disk: desk.on_disk(),
            unsaved: desk.is_unsaved(),
            undo,
            redo,
            findings: views(&findings),
        }
    }
}

/// Changes of the tank file.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EditBody {
    /// The revision that the changes were made for.
    pub revision: u64,
    /// The changes, made in order, all or none.
    pub changes: Vec<Change>,
}

/// A step of the tank file.
#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StepBody {
    /// The revision that the step was meant for.
    pub revision: u64,
}

/// The body of a request, or what is wrong with it.
pub(super) fn body<T>(body: Result<Json<T>, JsonRejection>) -> Result<T, Fault> {
    match body {
        Ok(Json(body)) => Ok(body),
        Err(rejection) => Err(Fault::plain(rejection.status(), &rejection.body_text())),
    }
}

/// An edit of a bearable size.
pub(super) fn edit_body(found: Result<Json<EditBody>, JsonRejection>) -> Result<EditBody, Fault> {
    let found = body(found)?;
    if found.changes.len() > MOST_CHANGES {
        let finding = Finding::error(format!("{} changes at once", found.changes.len()));
        return Err(Fault::question(finding.expected(format!("at most {MOST_CHANGES}"))));
    }
    Ok(found)
}

pub(super) async fn show(State(app): State<App>, uri: Uri, headers: HeaderMap) -> Result<Response, Fault> {
    Asked::read(&uri, &[])?;
    let desk = app.desk();
    respond(&headers, &DeskView::of(&desk), |_| frame::desk(&desk))
}

/// The fields of the tank file, drawn; as JSON, the text itself.
pub(super) async fn fields(State(app): State<App>, uri: Uri, headers: HeaderMap) -> Result<Response, Fault> {
    Asked::read(&uri, &[])?;
    let (text, spectra) = work(&app, |shared| {
        let text = shared.desk().text().to_owned();
        Ok((text, shared.rooms.spectra()?))
    })
    .await?;
    let view = TextView { text };
    respond(&headers, &view, |view| {
        if let Some(written) = Written::of(&view.text) {
            form::fields(&written, &spectra)
        } else {
            maud::html! { p { "The file is not TOML; mend it in an editor and read it anew." } }
        }
    })
}

/// The text of the tank file.
#[derive(Debug, Clone, Serialize, JsonSchema)]
pub struct TextView {
    /// The TOML.
    pub text: String,
}

pub(super) async fn download(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    Asked::read(&uri, &[])?;
    let desk = app.desk();
    Ok(file("application/toml", &desk.file_name(), desk.text().to_owned()))
}

/// Does something to the desk and answers how it stands then.
async fn stepped(
    app: App,
    headers: HeaderMap,
    step: impl FnOnce(&mut Desk) -> Result<(), Refused> + Send + 'static,
) -> Result<Response, Fault> {
    let view = work(&app, |shared| {
        let mut desk = shared.desk();
        step(&mut desk)?;
        Ok(DeskView::of(&desk))
    })
    .await?;
    respond(&headers, &view, |_| frame::desk(&app.desk()))
}

pub(super) async fn edit(
    State(app): State<App>,
    headers: HeaderMap,
    found: Result<Json<EditBody>, JsonRejection>,
) -> Result<Response, Fault> {
    let edit = edit_body(found)?;
    let view = work(&app, move |shared| {
        let names = shared.rooms.names()?;
        let mut desk = shared.desk();
        desk.change(edit.revision, &edit.changes, &names)?;
        Ok(DeskView::of(&desk))
    })
    .await?;
    respond(&headers, &view, |_| frame::desk(&app.desk()))
}

type Step = Result<Json<StepBody>, JsonRejection>;

pub(super) async fn undo(State(app): State<App>, headers: HeaderMap, step: Step) -> Result<Response, Fault> {
    let step = body(step)?;
    stepped(app, headers, move |desk| desk.undo(step.revision)).await
}

pub(super) async fn redo(State(app): State<App>, headers: HeaderMap, step: Step) -> Result<Response, Fault> {
    let step = body(step)?;
    stepped(app, headers, move |desk| desk.redo(step.revision)).await
}

pub(super) async fn save(State(app): State<App>, headers: HeaderMap, step: Step) -> Result<Response, Fault> {
    let step = body(step)?;
    stepped(app, headers, move |desk| desk.save(step.revision)).await
}

pub(super) async fn reload(
    State(app): State<App>,
    headers: HeaderMap,
    step: Step,
) -> Result<Response, Fault> {
    let step = body(step)?;
    stepped(app, headers, move |desk| desk.reload(step.revision)).await
}
