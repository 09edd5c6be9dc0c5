//! The local page: the same answers as the command line, drawn in a browser, for one person on
//! one machine. Listens on loopback only; touches the given tank file and the library, nothing else.
//!
//! ```text
//! guard   whom the page answers, how long, how much; what a browser may do with it
//! desk    the tank file as text: edits that keep comments, steps back and forth, saving
//! rooms   the open library and the answers made with it
//! api     every answer as JSON, or drawn for the page
//! pages   the pages, drawn whole from the same answers
//! html    answers as HTML; computes nothing
//! ```
//!
//! Not here: any computing. A figure on the page is a figure of a view of `report`.

mod api;
mod asked;
mod assets;
mod desk;
mod fault;
mod guard;
mod html;
mod pages;
mod rooms;
mod shared;

use std::net::{Ipv4Addr, SocketAddr};
use std::sync::Arc;

use axum::Router;

pub use desk::{Change, Desk, Names, OnDisk, Part, Refused};
pub use fault::{Fault, FaultView, FindingView};
pub use guard::{Hosts, LARGEST_BODY, guarded};
pub use rooms::Rooms;
pub use shared::Shared;

/// The whole page behind its guard, as it is served at `address`.
pub fn router(shared: Arc<Shared>, address: SocketAddr) -> Router {
    let router = Router::new().merge(api::routes()).merge(pages::routes()).with_state(shared);
    guarded(router, Hosts::of(address))
}

/// Listens on loopback; port 0 takes any free one.
///
/// # Errors
/// The port is taken.
pub async fn listen(port: u16) -> std::io::Result<tokio::net::TcpListener> {
    tokio::net::TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port))).await
}

/// Answers until `stop` ends; requests that are under way are answered first.
///
/// # Errors
/// The listener fails.
pub async fn serve(
    listener: tokio::net::TcpListener,
    shared: Arc<Shared>,
    stop: impl Future<Output = ()> + Send + 'static,
) -> std::io::Result<()> {
    let address = listener.local_addr()?;
    axum::serve(listener, router(shared, address)).with_graceful_shutdown(stop).await
}
