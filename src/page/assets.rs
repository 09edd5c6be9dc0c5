//! Style, script and mark of the page, carried in the program and cached by their hash.

use std::sync::LazyLock;

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use sha2::{Digest, Sha256};

const SCRIPT: &str = concat!(include_str!("assets/settle.js"), "\n", include_str!("assets/page.js"));

/// Name, type and text.
const FILES: [(&str, &str, &str); 3] = [
    ("page.css", "text/css; charset=utf-8", include_str!("assets/page.css")),
    ("page.js", "text/javascript; charset=utf-8", SCRIPT),
    ("icon.svg", "image/svg+xml", include_str!("assets/icon.svg")),
];

/// A hash of all of them: an address never stands for two texts.
static VERSION: LazyLock<String> = LazyLock::new(|| {
    let mut hash = Sha256::new();
    for (_, _, text) in FILES {
        hash.update(text.as_bytes());
    }
    let bytes = hash.finalize();
    bytes.iter().take(6).fold(String::new(), |text, byte| text + &format!("{byte:02x}"))
});

/// The address of a file.
pub(super) fn address(name: &str) -> String {
    format!("/assets/{}/{name}", *VERSION)
}

/// Answers with a file.
pub(super) async fn serve(Path((version, name)): Path<(String, String)>) -> Response {
    match FILES.iter().find(|(n, ..)| *n == name && version == *VERSION) {
        Some((_, kind, text)) => {
            let forever = "public, max-age=31536000, immutable";
            ([(header::CONTENT_TYPE, *kind), (header::CACHE_CONTROL, forever)], *text).into_response()
        }
        None => StatusCode::NOT_FOUND.into_response(),
    }
}
