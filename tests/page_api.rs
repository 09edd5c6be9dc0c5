//! The interface of the page: the same bytes as the command line, described, and quick.

use std::collections::BTreeSet;
use std::fs;
use std::io::{Read, Write};
use std::path::Path;
use std::time::{Duration, Instant};

use axum::http::StatusCode;
use quillwort::page;
use serde_json::{Value, json};

use crate::page_support::{copy, page};
use crate::program::run;

const DEMOS: [&str; 3] = ["attic-lowtech.toml", "shelf-gassed.toml", "hall-hardwater.toml"];

#[tokio::test]
async fn page_and_command_line_give_the_same_bytes() {
    for demo in DEMOS {
        let path = copy("bytes", demo);
        let page = page(Some(&path));
        let path = path.to_str().expect("a path");
        let plants = ["java fern", "Micranthemum tweediei", "Vallisneria spiralis"];
        for (address, args) in [
            ("/api/tank".to_owned(), vec!["tank", path]),
            ("/api/tank?cell=2".to_owned(), vec!["tank", path, "--map-cell", "2 cm"]),
            // As long as it takes: a search that is ended by the clock ends where the machine is.
            ("/api/fill?seconds=60".to_owned(), vec!["fill", path, "--time-limit", "60"]),
            (
                "/api/fill?seconds=60&keep=java%20fern&without=Egeria%20densa".to_owned(),
                vec!["fill", path, "--time-limit", "60", "--keep", "java fern", "--without", "Egeria densa"],
            ),
            (
                "/api/check?plants=java%20fern,Micranthemum%20tweediei&plants=Vallisneria%20spiralis"
                    .to_owned(),
                [vec!["check", path], plants.to_vec()].concat(),
            ),
        ] {
            let printed = run(&[args, vec!["--format", "json"]].concat());
            assert_eq!(page.get(&address).await.text, printed.out, "{demo} {address}: {}", printed.err);
        }
    }
}

/// What comes of the list, for the tank whose list is found in a small part of the time there is.
#[tokio::test]
async fn what_comes_of_the_list_is_the_same_bytes() {
    let path = copy("later-bytes", "attic-lowtech.toml");
    let page = page(Some(&path));
    let folder = path.with_file_name("written");
    let (path, folder_name) = (path.to_str().expect("a path"), folder.to_str().expect("a path"));
    for (address, args) in [
        ("/api/grow", vec!["grow", path, "--format", "json"]),
        (
            "/api/calendar?start=2027-01-09&zone=Europe/Berlin",
            vec!["calendar", path, "--start", "2027-01-09", "--zone", "Europe/Berlin", "--format", "json"],
        ),
        ("/api/plan", vec!["plan", path, "--format", "json"]),
        ("/api/plan/shopping.csv", vec!["plan", path, "--format", "csv"]),
    ] {
        let printed = run(&args);
        assert_eq!(page.get(address).await.text, printed.out, "{address}: {}", printed.err);
    }
    let written =
        run(&["plan", path, "--out", folder_name, "--force", "--start", "2027-01-09", "--units", "us"]);
    let read = |name: &str| fs::read_to_string(folder.join(name)).expect(&written.err);
    let sheet = page.get("/api/plan/sheet.html?start=2027-01-09&units=us").await;
    assert_eq!(sheet.text, read("index.html"));
    assert!(sheet.header("content-disposition").contains("attic-lowtech-sheet.html"));
    assert_eq!(page.get("/api/plan/shopping.csv").await.text, read("shopping.csv"));
}

#[tokio::test]
async fn the_catalogue_gives_the_same_bytes() {
    let page = page(None);
    for (address, args) in [
        (
            "/api/find?words=carpet%20low%20light&placement=foreground&gas=without%20gas&limit=20",
            vec!["find", "carpet low light", "--placement", "foreground", "--gas", "none"],
        ),
        (
            "/api/find?gh=12..18&jurisdiction=EU&limit=7&offset=3",
            vec!["find", "--range", "gh=12..18", "--jurisdiction", "EU", "--limit", "7", "--offset", "3"],
        ),
        ("/api/plants/leptochilus-pteropus", vec!["show", "java fern"]),
        ("/api/plants/java%20fern", vec!["show", "java fern"]),
    ] {
        let printed = run(&[args, vec!["--format", "json"]].concat());
        assert_eq!(page.get(address).await.text, printed.out, "{address}: {}", printed.err);
    }
}

#[tokio::test]
async fn plants_come_in_the_order_asked_for() {
    let page = page(None);
    let hits = |view: &Value| view["hits"].as_array().expect("hits").clone();
    let best = page.get("/api/find?placement=foreground&limit=1000").await.json();
    let by_height = page.get("/api/find?placement=foreground&sort=height&limit=1000").await.json();
    let heights: Vec<f64> = hits(&by_height).iter().filter_map(|h| h["height_max_cm"].as_f64()).collect();
    assert!(heights.windows(2).all(|w| w[0] <= w[1]) && heights.len() > 20);
    let taxa = |view: &Value| hits(view).iter().map(|h| h["taxon"].to_string()).collect::<BTreeSet<_>>();
    assert_eq!(taxa(&best), taxa(&by_height));
    let second = page.get("/api/find?placement=foreground&sort=height&limit=5&offset=5").await.json();
    assert_eq!(hits(&second)[..], hits(&by_height)[5..10]);
    assert_eq!(second["total"], best["total"]);
}

#[tokio::test]
async fn a_change_can_be_tried_without_being_made() {
    let page = page(Some(&copy("tried", "attic-lowtech.toml")));
    let changes = json!([{ "do": "set", "key": "light.lamp[0].above_water", "value": "20 cm" }]);
    let tried = page.post("/api/desk/try", &json!({ "revision": 1, "changes": changes })).await.json();
    let before = page.get("/api/tank").await.json();
    assert!(tried["ppfd_mean_umol_m2_s"].as_f64() < before["ppfd_mean_umol_m2_s"].as_f64());
    assert_eq!(page.get("/api/desk").await.json()["undo"], 0);
    page.change(changes).await;
    assert_eq!(page.get("/api/tank").await.json(), tried);
}

/// Every address of the interface is described, and every description is an address.
#[tokio::test]
async fn the_description_names_every_address() {
    let page = page(None);
    let description = page.get("/api/openapi.json").await.json();
    assert_eq!(description["openapi"], "3.1.0");
    let source = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/page/api/mod.rs"))
        .expect("source");
    let routed: BTreeSet<String> = source
        .split(".route(\"")
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .filter(|path| *path != "/api/openapi.json")
        .map(str::to_owned)
        .collect();
    let described: BTreeSet<String> =
        description["paths"].as_object().expect("paths").keys().cloned().collect();
    assert_eq!(routed, described);
    let text = description.to_string();
    for reference in text.split("#/components/schemas/").skip(1) {
        let name = reference.split('"').next().expect("a name");
        assert!(description["components"]["schemas"][name].is_object(), "{name}");
    }
}

#[tokio::test]
async fn questions_that_cannot_be_read_are_answered_with_what_is_wrong() {
    let page = page(None);
    for (address, status) in [
        ("/api/find?plaement=foreground", StatusCode::BAD_REQUEST),
        ("/api/find?placement=forground", StatusCode::BAD_REQUEST),
        ("/api/find?gh=9..3", StatusCode::BAD_REQUEST),
        ("/api/find?limit=many", StatusCode::BAD_REQUEST),
        ("/api/find?sort=price", StatusCode::BAD_REQUEST),
        ("/api/fill?seconds=1e9", StatusCode::BAD_REQUEST),
        ("/api/grow?weeks=0", StatusCode::BAD_REQUEST),
        ("/api/calendar", StatusCode::BAD_REQUEST),
        ("/api/calendar?start=2027-13-01&lights_on=25:00", StatusCode::BAD_REQUEST),
        ("/api/tank?cell=0.0001", StatusCode::BAD_REQUEST),
        ("/api/plants/no-such-plant", StatusCode::NOT_FOUND),
        ("/api/check?plants=no%20such%20plant", StatusCode::UNPROCESSABLE_ENTITY),
        ("/api/check", StatusCode::UNPROCESSABLE_ENTITY),
        ("/api/nothing", StatusCode::NOT_FOUND),
        ("/nothing", StatusCode::NOT_FOUND),
    ] {
        let answer = page.get(address).await;
        assert_eq!(answer.status, status, "{address}: {}", answer.text);
        assert!(answer.json()["findings"][0]["message"].is_string(), "{address}");
    }
    let answer = page.post("/api/tank", &json!({})).await;
    assert_eq!(answer.status, StatusCode::METHOD_NOT_ALLOWED);
}

#[tokio::test]
async fn a_file_with_mistakes_is_shown_with_them_and_mended() {
    let path = copy("mistakes", "attic-lowtech.toml");
    let text =
        fs::read_to_string(&path).expect("the file").replace("kind = \"capped soil\"", "kind = \"mud\"");
    fs::write(&path, text.replace("32 cm", "99 cm")).expect("the file is written");
    let page = page(Some(&path));
    assert_eq!(page.get("/api/tank").await.status, StatusCode::UNPROCESSABLE_ENTITY);
    let shown = page.get("/tank").await;
    assert_eq!(shown.status, StatusCode::OK);
    assert!(shown.text.contains("is not a value of `bed.kind`"), "{}", shown.text);
    for address in ["/list", "/sheet", "/plants/leptochilus-pteropus", "/catalogue"] {
        assert_eq!(page.get(address).await.status, StatusCode::OK, "{address}");
    }
    page.change(json!([{ "do": "set", "key": "bed.kind", "value": "sand" }])).await;
    let answer = page.change(json!([{ "do": "set", "key": "glass.water", "value": "32 cm" }])).await;
    assert_eq!(answer.status, StatusCode::OK, "{}", answer.text);
    assert_eq!(page.get("/api/tank").await.status, StatusCode::OK);
}

#[tokio::test]
async fn what_is_drawn_speaks_the_readers_units() {
    let page = page(Some(&copy("units", "attic-lowtech.toml")));
    let metric = page.drawn("/api/tank").await;
    let us = page.drawn("/api/tank?units=us").await;
    assert_eq!(metric.header("content-type"), "text/html; charset=utf-8");
    assert!(metric.text.contains("57.6 L to the water line") && metric.text.contains("81 kg"));
    assert!(us.text.contains("15.2 US gal to the water line") && us.text.contains("lb"), "{}", us.text);
    let whole = page.get("/tank?units=us").await.text;
    assert!(whole.contains("href=\"/list?units=us\""));
}

#[tokio::test]
async fn the_sheet_has_its_drawings_and_files() {
    let page = page(Some(&copy("sheet", "shelf-gassed.toml")));
    let sheet = page.get("/sheet?start=2027-01-09").await.text;
    let ends = |start: &'static str| sheet.split(start).skip(1).filter_map(|rest| rest.split('"').next());
    let linked: BTreeSet<&str> = ends("href=\"/api/").chain(ends("src=\"/api/")).collect();
    assert!(linked.len() >= 8, "{linked:?}");
    for link in linked {
        let address = format!("/api/{}", link.replace("&amp;", "&"));
        let answer = page.get(&address).await;
        assert_eq!(answer.status, StatusCode::OK, "{address}: {}", answer.text);
        if address.contains(".svg") {
            roxmltree::Document::parse(&answer.text).unwrap_or_else(|e| panic!("{address}: {e}"));
        }
        if address.contains(".ics") {
            assert!(answer.text.starts_with("BEGIN:VCALENDAR\r\n"), "{address}");
        }
    }
}

/// A person who goes away ends the search: the next question does not wait for it.
#[tokio::test]
async fn a_search_ends_when_nobody_waits_for_it() {
    let page = page(Some(&copy("left", "hall-hardwater.toml")));
    let short = tokio::time::timeout(Duration::from_millis(1), page.get("/api/fill?seconds=60")).await;
    assert!(short.is_err(), "the search takes longer than a millisecond");
    let ended = tokio::time::timeout(Duration::from_secs(20), page.get("/api/fill?seconds=0")).await;
    let status = ended.expect("an answer").json()["proof"]["status"].clone();
    assert!(["optimal", "feasible", "unknown"].contains(&status.as_str().expect("a word")), "{status}");
}

/// First load: page, style, script and mark together.
#[tokio::test]
async fn the_first_load_is_small() {
    let page = page(Some(&copy("small", "hall-hardwater.toml")));
    let first = page.get("/tank").await.text;
    let mut total = first.len();
    for part in first.split("/assets/").skip(1).filter_map(|rest| rest.split('"').next()) {
        let answer = page.get(&format!("/assets/{part}")).await;
        assert_eq!(answer.status, StatusCode::OK, "{part}");
        assert!(answer.header("cache-control").contains("immutable"));
        total += answer.text.len();
    }
    assert!(total < 200_000, "{total} bytes");
}

/// Over a real socket: two hundred at once, none refused, none failed.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn two_hundred_at_once_are_all_answered() {
    let held = page(Some(&copy("many", "attic-lowtech.toml")));
    let listener = page::listen(0).await.expect("a port");
    let address = listener.local_addr().expect("an address");
    assert!(address.ip().is_loopback());
    let (stop, stopped) = tokio::sync::oneshot::channel::<()>();
    let serving = tokio::spawn(page::serve(listener, std::sync::Arc::clone(&held.shared), async {
        let _ = stopped.await;
    }));
    let ask = move |path: &'static str| {
        let mut stream = std::net::TcpStream::connect(address).expect("a connection");
        let request = format!("GET {path} HTTP/1.1\r\nhost: {address}\r\nconnection: close\r\n\r\n");
        stream.write_all(request.as_bytes()).expect("sent");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("read");
        String::from_utf8_lossy(&answer[..12.min(answer.len())]).into_owned()
    };
    let started = Instant::now();
    let paths = [
        "/api/find?words=red",
        "/api/plants/leptochilus-pteropus",
        "/api/desk",
        "/api/find?words=moss",
        "/catalogue",
    ];
    let asked: Vec<_> =
        (0..200_usize).map(|i| tokio::task::spawn_blocking(move || ask(paths[i % paths.len()]))).collect();
    for answer in asked {
        assert_eq!(answer.await.expect("no fault"), "HTTP/1.1 200");
    }
    assert!(started.elapsed() < Duration::from_secs(60), "{:?}", started.elapsed());
    stop.send(()).expect("still serving");
    serving.await.expect("no fault").expect("stopped in order");
}
