//! What stands between the network and every handler: whom the page answers, how long and how
//! much, and what a browser may do with the answer.
//!
//! The page listens on loopback only, but any site that a person visits can send requests there.
//! So the Host has to be a loopback name (DNS rebinding), the Origin has to be the page itself
//! (cross-site posts), and answers forbid to be framed, embedded or guessed at.

use std::net::SocketAddr;
use std::time::Duration;

use axum::Router;
use axum::body::Body;
use axum::extract::{DefaultBodyLimit, Request, State};
use axum::http::uri::Authority;
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, header};
use axum::middleware::{Next, from_fn, from_fn_with_state};
use axum::response::{IntoResponse, Response};
use tokio::task::JoinHandle;

use super::fault::Fault;

/// Bytes of a request's body, at most.
pub const LARGEST_BODY: usize = 64 * 1024;
/// Bytes of a path with its query, at most.
const LONGEST_PATH: usize = 8 * 1024;
/// A request that is not answered by then is given up.
const LONGEST: Duration = Duration::from_secs(90);

/// Everything comes from the page itself; nothing runs inline, nothing is framed.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; \
                      form-action 'self'; base-uri 'none'; frame-ancestors 'none'";
/// A drawing opened by itself: its own style, and nothing else.
const DRAWING_POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'; sandbox";

/// The names under which the page may be asked for.
#[derive(Debug, Clone)]
pub struct Hosts(Vec<String>);

impl Hosts {
    /// The loopback names with the port that is listened on.
    pub fn of(address: SocketAddr) -> Self {
        let port = address.port();
        let names = ["127.0.0.1", "localhost", "[::1]"];
        Self(names.map(|name| format!("{name}:{port}")).to_vec())
    }

    fn has(&self, host: &str) -> bool {
        self.0.iter().any(|h| h.eq_ignore_ascii_case(host))
    }

    fn has_origin(&self, origin: &str) -> bool {
        origin.strip_prefix("http://").is_some_and(|host| self.has(host))
    }
}

/// Puts a router behind the guard.
pub fn guarded(router: Router, hosts: Hosts) -> Router {
    router
        .layer(DefaultBodyLimit::max(LARGEST_BODY))
        .layer(from_fn(alone))
        .layer(from_fn_with_state(hosts, admit))
        .layer(from_fn(mark))
}

fn text<'a>(headers: &'a HeaderMap, name: &HeaderName) -> Option<&'a str> {
    headers.get(name).map(|v| v.to_str().unwrap_or("?"))
}

/// Lets in what a person's own browser, or a program of theirs, asks of this page.
async fn admit(State(hosts): State<Hosts>, request: Request, next: Next) -> Response {
    match refusal(&hosts, &request) {
        Some(fault) => fault.into_response(),
        None => next.run(request).await,
    }
}

fn refusal(hosts: &Hosts, request: &Request) -> Option<Fault> {
    let headers = request.headers();
    let host = text(headers, &header::HOST).or_else(|| request.uri().authority().map(Authority::as_str));
    if !host.is_some_and(|h| hosts.has(h)) {
        return Some(Fault::plain(StatusCode::MISDIRECTED_REQUEST, "this page answers on loopback only"));
    }
    if text(headers, &header::ORIGIN).is_some_and(|origin| !hosts.has_origin(origin)) {
        return Some(Fault::plain(StatusCode::FORBIDDEN, "another site asked for this"));
    }
    let site = headers.get("sec-fetch-site").map(|v| v.to_str().unwrap_or("?"));
    let foreign = !matches!(site, None | Some("same-origin" | "none"));
    // A link from elsewhere may open a page; it may not reach into it.
    let opens = request.method() == Method::GET
        && headers.get("sec-fetch-mode").is_some_and(|m| m == "navigate")
        && headers.get("sec-fetch-dest").is_some_and(|d| d == "document");
    if foreign && !opens {
        return Some(Fault::plain(StatusCode::FORBIDDEN, "another site asked for this"));
    }
    let length = request.uri().path_and_query().map_or(0, |p| p.as_str().len());
    if length > LONGEST_PATH {
        return Some(Fault::plain(StatusCode::URI_TOO_LONG, "the address is too long"));
    }
    None
}

/// The work of a request; it ends when nobody waits for it any more.
struct Worker(JoinHandle<Response>);

impl Drop for Worker {
    fn drop(&mut self) {
        self.0.abort();
    }
}

/// Runs each request by itself, so that a fault of the program in one is an answer to that one.
async fn alone(request: Request, next: Next) -> Response {
    let mut worker = Worker(tokio::spawn(next.run(request)));
    match tokio::time::timeout(LONGEST, &mut worker.0).await {
        Ok(Ok(response)) => response,
        Ok(Err(_)) => {
            Fault::plain(StatusCode::INTERNAL_SERVER_ERROR, "a fault of the program; please report it")
                .into_response()
        }
        Err(_) => Fault::plain(StatusCode::GATEWAY_TIMEOUT, "this took too long").into_response(),
    }
}

/// Marks every answer with what a browser may do with it.
async fn mark(request: Request<Body>, next: Next) -> Response {
    let mut response = next.run(request).await;
    let headers = response.headers_mut();
    let drawing = headers.get(header::CONTENT_TYPE).is_some_and(|t| t.as_bytes().starts_with(b"image/svg"));
    let policy = if drawing { DRAWING_POLICY } else { POLICY };
    let fixed = [
        ("content-security-policy", policy),
        ("x-content-type-options", "nosniff"),
        ("x-frame-options", "DENY"),
        ("referrer-policy", "no-referrer"),
        ("cross-origin-opener-policy", "same-origin"),
        ("cross-origin-resource-policy", "same-origin"),
        ("permissions-policy", "camera=(), geolocation=(), microphone=()"),
    ];
    for (name, value) in fixed {
        headers.insert(HeaderName::from_static(name), HeaderValue::from_static(value));
    }
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    response
}
