//! The best list: solved within a time, given up when nobody waits for it.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use axum::extract::State;
use axum::http::{HeaderMap, Uri};
use axum::response::Response;

use super::{file, respond, stem};
use crate::diagnostic::Finding;
use crate::page::asked::Asked;
use crate::page::fault::Fault;
use crate::page::html::list as drawn;
use crate::page::rooms::{FillAnswer, FillQuestion};
use crate::page::shared::{App, Shared, work};
use crate::report::csv;

/// The names that a question for a list may have.
pub(in crate::page) const FILL_ASKS: &[&str] = &["seconds", "keep", "without", "alternatives"];
/// Seconds of a search, unless asked otherwise, and at most.
const SECONDS: f64 = 10.0;
const MOST_SECONDS: f64 = 60.0;
/// Plants kept or barred by one question, at most.
const MOST_NAMES: usize = 100;

/// Further lists, at most.
const MOST_FURTHER: usize = 10;

/// A list as the page draws it.
pub(in crate::page) type ListAnswer = FillAnswer;

/// What is asked of a list.
#[derive(Debug)]
pub(in crate::page) struct ListAsked {
    alternatives: usize,
    seconds: f64,
    keep: Vec<String>,
    without: Vec<String>,
}

impl ListAsked {
    /// Reads the question.
    pub fn read(asked: &Asked) -> Result<Self, Fault> {
        let texts = |name: &str| -> Result<Vec<String>, Fault> {
            let texts: Vec<String> = asked.all(name).map(str::to_owned).collect();
            if texts.len() <= MOST_NAMES {
                return Ok(texts);
            }
            let finding = Finding::error(format!("{} plants to {name}", texts.len()));
            Err(Fault::question(finding.expected(format!("at most {MOST_NAMES}"))))
        };
        let seconds = asked.number("seconds", (0.0, MOST_SECONDS))?.unwrap_or(SECONDS);
        let alternatives = asked.whole("alternatives", MOST_FURTHER)?.unwrap_or(0);
        Ok(Self { alternatives, seconds, keep: texts("keep")?, without: texts("without")? })
    }
}

/// Tells a search that nobody waits for it any more.
struct Waiting(Arc<AtomicBool>);

impl Drop for Waiting {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Relaxed);
    }
}

/// Solves something for the tank on the desk. When the one who asked goes away, the search ends.
pub(super) async fn solving<T: Send + 'static>(
    app: &App,
    asked: ListAsked,
    solve: impl FnOnce(&Shared, &FillQuestion) -> Result<T, Fault> + Send + 'static,
) -> Result<T, Fault> {
    let waiting = Waiting(Arc::new(AtomicBool::new(false)));
    let question = FillQuestion {
        alternatives: asked.alternatives,
        keep: asked.keep,
        without: asked.without,
        limit: Duration::from_secs_f64(asked.seconds),
        stop: Arc::clone(&waiting.0),
    };
    let answer = work(app, move |shared| solve(shared, &question)).await;
    drop(waiting);
    answer
}

/// The best list for the tank on the desk.
pub(in crate::page) async fn list_answer(app: &App, asked: ListAsked) -> Result<ListAnswer, Fault> {
    solving(app, asked, |shared, question| {
        let document = shared.desk().document();
        shared.rooms.fill(&document, question)
    })
    .await
}

pub(super) async fn fill(State(app): State<App>, uri: Uri, headers: HeaderMap) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, FILL_ASKS)?;
    let answer = list_answer(&app, ListAsked::read(&asked)?).await?;
    respond(&headers, &answer.view, |_| drawn::drawn(&answer, asked.look()))
}

pub(super) async fn csv(State(app): State<App>, uri: Uri) -> Result<Response, Fault> {
    let asked = Asked::read(&uri, FILL_ASKS)?;
    let answer = list_answer(&app, ListAsked::read(&asked)?).await?;
    let text = csv::fill(&answer.view).map_err(|e| Fault::inside(Finding::error(e.to_string()).into()))?;
    Ok(file("text/csv; charset=utf-8", &stem(&app, "-list.csv"), text))
}
