//! What the tests of the local page share: the page without a network, and questions to it.

use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Request, StatusCode, header};
use quillwort::answers::{House, LibraryPlace};
use quillwort::page::{Desk, Rooms, Shared, router};
use serde_json::Value;
use tower::ServiceExt;

/// Where the page believes to be.
pub const HOST: &str = "127.0.0.1:4711";

/// A page with its tank.
pub struct Page {
    pub shared: Arc<Shared>,
    router: Router,
}

/// What the page answered.
pub struct Answer {
    pub status: StatusCode,
    pub headers: HeaderMap,
    pub text: String,
}

impl Answer {
    pub fn json(&self) -> Value {
        serde_json::from_str(&self.text).unwrap_or_else(|e| panic!("{e}: {}", self.text))
    }

    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).map_or("", |v| v.to_str().expect("ASCII"))
    }
}

/// The library of the test run.
pub fn rooms() -> Rooms {
    let tmp = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let place = LibraryPlace { root: tmp.join("library"), own: Some(tmp.join("no-own-rows")) };
    Rooms::new(House::open(&place, &mut |_| {}).expect("the library opens"))
}

/// A page for a tank file, or for a new tank.
pub fn page(path: Option<&Path>) -> Page {
    let rooms = rooms();
    let desk = Desk::open(path).expect("the tank opens");
    rooms.read_prices(&desk).expect("the price list is read");
    let shared = Arc::new(Shared::new(desk, rooms));
    let address: SocketAddr = HOST.parse().expect("an address");
    Page { router: router(Arc::clone(&shared), address), shared }
}

/// A copy of a demo tank that a test may write to, with its price list beside it.
pub fn copy(test: &str, demo: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("page").join(test);
    std::fs::create_dir_all(&folder).expect("the test folder can be made");
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("data/demo");
    for name in [demo, "prices-invented.csv"] {
        std::fs::copy(from.join(name), folder.join(name)).expect("a demo file");
    }
    folder.join(demo)
}

impl Page {
    pub async fn send(&self, request: Request<Body>) -> Answer {
        let response = self.router.clone().oneshot(request).await.expect("an answer");
        let (parts, body) = response.into_parts();
        let bytes = to_bytes(body, 64 << 20).await.expect("a body");
        let text = String::from_utf8(bytes.to_vec()).expect("UTF-8");
        Answer { status: parts.status, headers: parts.headers, text }
    }

    pub async fn get(&self, address: &str) -> Answer {
        self.send(asking(address).body(Body::empty()).expect("a request")).await
    }

    pub async fn drawn(&self, address: &str) -> Answer {
        let request = asking(address).header(header::ACCEPT, "text/html");
        self.send(request.body(Body::empty()).expect("a request")).await
    }

    pub async fn post(&self, address: &str, body: &Value) -> Answer {
        let request = asking(address).method("POST").header(header::CONTENT_TYPE, "application/json");
        self.send(request.body(Body::from(body.to_string())).expect("a request")).await
    }

    /// Changes the tank at its present revision.
    pub async fn change(&self, changes: Value) -> Answer {
        let revision = self.get("/api/desk").await.json()["revision"].clone();
        self.post("/api/desk/edit", &serde_json::json!({ "revision": revision, "changes": changes })).await
    }

    /// A step such as `undo` or `save` at the present revision.
    pub async fn step(&self, step: &str) -> Answer {
        let revision = self.get("/api/desk").await.json()["revision"].clone();
        self.post(&format!("/api/desk/{step}"), &serde_json::json!({ "revision": revision })).await
    }
}

/// A request as a browser of this machine sends it.
pub fn asking(address: &str) -> axum::http::request::Builder {
    Request::builder().uri(address).header(header::HOST, HOST)
}
