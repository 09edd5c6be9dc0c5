//! What all requests share: the tank on the desk, the library, and turns for heavy work.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use axum::http::StatusCode;
use tokio::sync::Semaphore;

use super::desk::Desk;
use super::fault::Fault;
use super::rooms::Rooms;

/// Requests that compute at the same time; others wait for their turn.
const TURNS: usize = 4;

/// One tank, one library, many requests.
#[derive(Debug)]
pub struct Shared {
    desk: Mutex<Desk>,
    /// The library and all that is computed with it.
    pub(super) rooms: Rooms,
    turns: Semaphore,
}

/// As every handler holds it.
pub(super) type App = Arc<Shared>;

impl Shared {
    /// The tank and the library that the page works with.
    pub fn new(desk: Desk, rooms: Rooms) -> Self {
        Self { desk: Mutex::new(desk), rooms, turns: Semaphore::new(TURNS) }
    }

    /// The tank on the desk. A request that failed while it held the desk has changed nothing: an
    /// edit replaces the text in one step.
    pub fn desk(&self) -> MutexGuard<'_, Desk> {
        self.desk.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// Computes off the threads that answer. A panic goes on in the request that caused it.
pub(super) async fn work<T: Send + 'static>(
    app: &App,
    job: impl FnOnce(&Shared) -> Result<T, Fault> + Send + 'static,
) -> Result<T, Fault> {
    let stopping = || Fault::plain(StatusCode::SERVICE_UNAVAILABLE, "the program is being stopped");
    let _turn = app.turns.acquire().await.map_err(|_| stopping())?;
    let shared = Arc::clone(app);
    match tokio::task::spawn_blocking(move || job(&shared)).await {
        Ok(result) => result,
        Err(error) => match error.try_into_panic() {
            Ok(panic) => std::panic::resume_unwind(panic),
            Err(_) => Err(stopping()),
        },
    }
}
