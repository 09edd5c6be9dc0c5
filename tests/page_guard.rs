//! The guard of the page: whom it answers, how much it takes, what its answers allow.

use axum::Router;
use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use axum::routing::get;
use quillwort::page::{Hosts, LARGEST_BODY, guarded};
use serde_json::json;
use tower::ServiceExt;

use crate::page_support::{HOST, asking, page};

#[tokio::test]
async fn only_loopback_names_with_the_right_port_are_answered() {
    let page = page(None);
    for host in [HOST, "localhost:4711", "LOCALHOST:4711", "[::1]:4711"] {
        let request =
            Request::get("/api/desk").header(header::HOST, host).body(Body::empty()).expect("a request");
        assert_eq!(page.send(request).await.status, StatusCode::OK, "{host}");
    }
    for host in
        ["evil.example", "127.0.0.1", "127.0.0.1:80", "127.0.0.1:4711.evil.example", "localhost:47110", ""]
    {
        let request =
            Request::get("/api/desk").header(header::HOST, host).body(Body::empty()).expect("a request");
        assert_eq!(page.send(request).await.status, StatusCode::MISDIRECTED_REQUEST, "{host}");
    }
    let without = Request::get("/api/desk").body(Body::empty()).expect("a request");
    assert_eq!(page.send(without).await.status, StatusCode::MISDIRECTED_REQUEST);
}

#[tokio::test]
async fn other_sites_can_neither_post_nor_read() {
    let page = page(None);
    let body = || Body::from(json!({ "revision": 1 }).to_string());
    let post = |name: &'static str, value: &'static str| {
        asking("/api/desk/undo")
            .method("POST")
            .header(header::CONTENT_TYPE, "application/json")
            .header(name, value)
    };
    for (name, value, status) in [
        ("origin", "http://127.0.0.1:4711", StatusCode::OK),
        ("origin", "http://localhost:4711", StatusCode::OK),
        ("origin", "http://evil.example", StatusCode::FORBIDDEN),
        ("origin", "https://127.0.0.1:4711", StatusCode::FORBIDDEN),
        ("origin", "http://127.0.0.1:9999", StatusCode::FORBIDDEN),
        ("origin", "null", StatusCode::FORBIDDEN),
        ("sec-fetch-site", "same-origin", StatusCode::OK),
        ("sec-fetch-site", "cross-site", StatusCode::FORBIDDEN),
        ("sec-fetch-site", "same-site", StatusCode::FORBIDDEN),
    ] {
        let answer = page.send(post(name, value).body(body()).expect("a request")).await;
        assert_eq!(answer.status, status, "{name}: {value}");
    }
    // A link from elsewhere may open the page, and nothing else.
    let link = |dest: &'static str, mode: &'static str| {
        let link = asking("/catalogue").header("sec-fetch-site", "cross-site");
        link.header("sec-fetch-mode", mode)
            .header("sec-fetch-dest", dest)
            .body(Body::empty())
            .expect("a request")
    };
    assert_eq!(page.send(link("document", "navigate")).await.status, StatusCode::OK);
    for (dest, mode) in
        [("iframe", "navigate"), ("script", "no-cors"), ("image", "no-cors"), ("empty", "cors")]
    {
        assert_eq!(page.send(link(dest, mode)).await.status, StatusCode::FORBIDDEN, "{dest}");
    }
}

/// A form of another site can only send types that need no asking beforehand.
#[tokio::test]
async fn only_json_is_taken() {
    let page = page(None);
    for kind in ["text/plain", "application/x-www-form-urlencoded", "multipart/form-data"] {
        let request = asking("/api/desk/undo").method("POST").header(header::CONTENT_TYPE, kind);
        let answer = page.send(request.body(Body::from("{\"revision\":1}")).expect("a request")).await;
        assert_eq!(answer.status, StatusCode::UNSUPPORTED_MEDIA_TYPE, "{kind}");
        assert!(answer.json()["findings"][0]["message"].is_string());
    }
}

#[tokio::test]
async fn bodies_and_addresses_have_a_size() {
    let page = page(None);
    let long = "x".repeat(LARGEST_BODY);
    let answer = page.post("/api/desk/edit", &json!({ "revision": 1, "changes": [], "more": long })).await;
    assert_eq!(answer.status, StatusCode::PAYLOAD_TOO_LARGE);
    let answer = page.get(&format!("/api/find?words={}", "x".repeat(9000))).await;
    assert_eq!(answer.status, StatusCode::URI_TOO_LONG);
    let set = |value: &str| json!([{ "do": "set", "key": "name", "value": value }]);
    assert_eq!(page.change(set(&"x".repeat(4001))).await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let many: Vec<_> = (0..201).map(|_| json!({ "do": "add", "what": "zone" })).collect();
    assert_eq!(page.change(json!(many)).await.status, StatusCode::BAD_REQUEST);
}

#[tokio::test]
async fn every_answer_says_what_a_browser_may_do_with_it() {
    let page = page(None);
    for address in
        ["/tank", "/list", "/api/desk", "/api/find", "/nothing", "/api/tank/light.svg", "/api/openapi.json"]
    {
        let answer = page.get(address).await;
        let policy = answer.header("content-security-policy");
        assert!(
            policy.contains("default-src 'none'") && policy.contains("frame-ancestors 'none'"),
            "{address}"
        );
        assert!(
            !policy.contains("script-src 'unsafe") && !policy.contains("unsafe-eval"),
            "{address}: {policy}"
        );
        for (name, value) in [
            ("x-content-type-options", "nosniff"),
            ("x-frame-options", "DENY"),
            ("referrer-policy", "no-referrer"),
            ("cross-origin-resource-policy", "same-origin"),
        ] {
            assert_eq!(answer.header(name), value, "{address}");
        }
        assert_eq!(answer.header("access-control-allow-origin"), "", "{address}");
        assert_eq!(answer.header("cache-control"), "no-store", "{address}");
    }
}

/// No script, style or handler stands inside a page, so the policy needs no exception.
#[tokio::test]
async fn pages_hold_nothing_that_the_policy_forbids() {
    let page = page(None);
    for address in ["/tank", "/list", "/catalogue", "/plants/leptochilus-pteropus", "/sheet"] {
        let text = page.get(address).await.text;
        for forbidden in
            [" style=", "<style", " onclick=", " onload=", "javascript:", "<script>", "http://", "https://"]
        {
            let found = text.find(forbidden).map(|i| &text[i.saturating_sub(60)..(i + 60).min(text.len())]);
            // Names of sources and of the SVG standard are no requests.
            let harmless = found
                .is_none_or(|f| forbidden.starts_with("http") && !f.contains("src=") && !f.contains("href="));
            assert!(harmless, "{address} holds {forbidden}: {found:?}");
        }
    }
}

#[tokio::test]
async fn a_fault_of_one_request_is_an_answer_to_that_one() {
    let router = Router::new().route("/falls", get(falls)).route("/stands", get(|| async { "well" }));
    let router = guarded(router, Hosts::of(HOST.parse().expect("an address")));
    let ask = |address: &'static str| {
        router.clone().oneshot(asking(address).body(Body::empty()).expect("a request"))
    };
    let fallen = ask("/falls").await.expect("an answer");
    assert_eq!(fallen.status(), StatusCode::INTERNAL_SERVER_ERROR);
    assert_eq!(fallen.headers()["x-content-type-options"], "nosniff");
    assert_eq!(ask("/stands").await.expect("an answer").status(), StatusCode::OK);
}

async fn falls() -> &'static str {
    panic!("on purpose, by a test");
}

#[tokio::test]
async fn no_address_reaches_a_file() {
    let page = page(None);
    for address in [
        "/assets/../Cargo.toml",
        "/assets/x/..%2F..%2FCargo.toml",
        "/assets/%2e%2e/%2e%2e/etc/passwd",
        "/api/plants/..%2F..%2Fetc%2Fpasswd",
        "/etc/passwd",
        "//etc/passwd",
    ] {
        let answer = page.get(address).await;
        assert_eq!(answer.status, StatusCode::NOT_FOUND, "{address}");
        assert!(!answer.text.contains("root:") && !answer.text.contains("[package]"), "{address}");
    }
    // The price list is a path in the file: the page does not let it be changed.
    let prices = json!([{ "do": "set", "key": "wishes.prices", "value": "/etc/passwd" }]);
    assert_eq!(page.change(prices).await.status, StatusCode::UNPROCESSABLE_ENTITY);
}
