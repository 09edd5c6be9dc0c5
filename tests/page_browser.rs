//! The page in a real browser: Chromium through WebDriver, as a person would use it.
//!
//! Needs `chromium` and `chromedriver` (Debian: packages chromium and chromium-driver). Where they
//! are missing the test says so and is skipped; with `CI=true` it fails instead. Screenshots and
//! the printed sheet are kept under `target/page-pictures` to be looked at.

use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use fantoccini::actions::{
    InputSource, KeyAction, KeyActions, MOUSE_BUTTON_LEFT, MouseActions, PointerAction,
};
use fantoccini::wd::Capabilities;
use fantoccini::{Client, ClientBuilder, Locator};
use quillwort::page;
use serde_json::{Value, json};

use crate::page_support::{copy, page};

/// The driver's process; it ends with the test.
struct Driver {
    process: Child,
    port: u16,
}

impl Drop for Driver {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

fn is_ci() -> bool {
    std::env::var("CI").is_ok_and(|v| v == "true")
}

/// Starts the driver; `None`, loudly, where there is none.
fn driver() -> Option<Driver> {
    let found = |name: &str| Command::new(name).arg("--version").stdout(Stdio::null()).status().is_ok();
    let missing: Vec<&str> = ["chromium", "chromedriver"].into_iter().filter(|n| !found(n)).collect();
    if !missing.is_empty() {
        let words = format!("the page was NOT tried in a browser: {} missing", missing.join(" and "));
        assert!(!is_ci(), "{words}; with CI=true it has to be");
        eprintln!("\n*** SKIPPED: {words} ***\n");
        return None;
    }
    let port =
        std::net::TcpListener::bind("127.0.0.1:0").and_then(|l| l.local_addr()).expect("a port").port();
    let process = Command::new("chromedriver")
        .arg(format!("--port={port}"))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the driver starts");
    Some(Driver { process, port })
}

async fn browser(driver: &Driver, profile: &Path) -> Client {
    let args = [
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        "--hide-scrollbars",
        "--disable-dev-shm-usage",
    ];
    let args: Vec<String> = args
        .iter()
        .map(ToString::to_string)
        .chain([format!("--user-data-dir={}", profile.display())])
        .collect();
    let mut capabilities = Capabilities::new();
    capabilities
        .insert("goog:chromeOptions".to_owned(), json!({ "args": args, "binary": "/usr/bin/chromium" }));
    let address = format!("http://127.0.0.1:{}", driver.port);
    for _ in 0..100 {
        if let Ok(client) =
            ClientBuilder::new(plain_http()).capabilities(capabilities.clone()).connect(&address).await
        {
            return client;
        }
        tokio::time::sleep(Duration::from_millis(200)).await;
    }
    panic!("the driver does not answer");
}

fn plain_http() -> hyper_util::client::legacy::connect::HttpConnector {
    hyper_util::client::legacy::connect::HttpConnector::new()
}

/// A person at the page.
struct Person {
    client: Client,
    address: SocketAddr,
    pictures: PathBuf,
}

impl Person {
    async fn goes_to(&self, path: &str) {
        self.client.goto(&format!("http://{}{path}", self.address)).await.expect("the page loads");
    }

    async fn sees(&self, css: &str) -> String {
        let found = self.client.wait().at_most(Duration::from_secs(20)).for_element(Locator::Css(css)).await;
        found.unwrap_or_else(|e| panic!("{css}: {e}")).text().await.expect("text")
    }

    /// Waits until a script says true.
    async fn waits_for(&self, what: &str, script: &str) {
        let script = format!("return Boolean({script})");
        for _ in 0..600 {
            if self.client.execute(&script, vec![]).await.expect("a script") == json!(true) {
                return;
            }
            tokio::time::sleep(Duration::from_millis(100)).await;
        }
        let said = self.client.execute("return document.body.innerText", vec![]).await.expect("a script");
        panic!("{what} does not come:\n{said}");
    }

    async fn presses(&self, css: &str) {
        self.waits_for(
            css,
            &format!("document.querySelector(`{css}`) && !document.querySelector(`{css}`).disabled"),
        )
        .await;
        let script = "document.querySelector(arguments[0]).scrollIntoView({block: 'center'})";
        self.client.execute(script, vec![json!(css)]).await.expect("a script");
        self.client.find(Locator::Css(css)).await.expect(css).click().await.expect(css);
    }

    /// Writes into a field and leaves it.
    async fn writes(&self, css: &str, text: &str) {
        let script =
            "const d = document.querySelector(arguments[0]).closest('details'); if (d) d.open = true;";
        self.client.execute(script, vec![json!(css)]).await.expect("a script");
        let field = self.client.find(Locator::Css(css)).await.expect(css);
        field.clear().await.expect("cleared");
        field.send_keys(text).await.expect("written");
    }

    async fn leaves(&self) {
        self.client.execute("document.activeElement.blur()", vec![]).await.expect("a script");
    }

    async fn keys(&self, keys: &[char]) {
        let mut actions = KeyActions::new("keys".to_owned());
        for key in keys {
            actions = actions.then(KeyAction::Down { value: *key }).then(KeyAction::Up { value: *key });
        }
        self.client.perform_actions(actions).await.expect("keys");
    }

    /// Drags the middle of an element.
    async fn drags(&self, css: &str, x: i64, y: i64) {
        let script = "const e = document.querySelector(arguments[0]); e.scrollIntoView({block: 'center'}); \
                      const b = e.getBoundingClientRect(); return [b.left + 8, b.top + b.height / 2]";
        let at = self.client.execute(script, vec![json!(css)]).await.expect("a script");
        let (left, top) = (at[0].as_f64().expect("x"), at[1].as_f64().expect("y"));
        let to = |dx: i64, dy: i64| PointerAction::MoveTo {
            duration: Some(Duration::from_millis(120)),
            x: left + dx as f64,
            y: top + dy as f64,
        };
        let actions = MouseActions::new("mouse".to_owned())
            .then(to(0, 0))
            .then(PointerAction::Down { button: MOUSE_BUTTON_LEFT })
            .then(to(x / 2, y / 2))
            .then(to(x, y))
            .then(PointerAction::Up { button: MOUSE_BUTTON_LEFT });
        self.client.perform_actions(actions).await.expect("a drag");
    }

    async fn pictures(&self, path: &str, name: &str) {
        for width in [1280, 768, 390] {
            self.client.set_window_size(width, 900).await.expect("a size");
            self.goes_to(path).await;
            let height = self
                .client
                .execute("return document.documentElement.scrollHeight", vec![])
                .await
                .expect("a script");
            let height = u32::try_from(height.as_u64().unwrap_or(900)).unwrap_or(900).clamp(900, 6000);
            self.client.set_window_size(width, height).await.expect("a size");
            let wide = self
                .client
                .execute("return document.documentElement.scrollWidth <= innerWidth", vec![])
                .await;
            assert_eq!(wide.expect("a script"), json!(true), "{path} is wider than {width} px");
            let picture = self.client.screenshot().await.expect("a picture");
            std::fs::write(self.pictures.join(format!("{name}-{width}.png")), picture).expect("kept");
        }
        self.client.set_window_size(1280, 900).await.expect("a size");
    }

    /// No serious finding of axe-core, when its script is at hand.
    async fn is_for_everybody(&self, axe: Option<&str>, path: &str) {
        let Some(axe) = axe else { return };
        self.goes_to(path).await;
        self.client.execute(axe, vec![]).await.expect("axe loads");
        let run = "const done = arguments[0]; axe.run(document, {resultTypes: ['violations']}) \
                   .then(r => done(r.violations.map(v => [v.impact, v.id, v.help, v.nodes.slice(0, 3).map(n => n.html)])), \
                   e => done([['serious', String(e), '', []]]))";
        let found = self.client.execute_async(run, vec![]).await.expect("axe runs");
        let grave = |v: &&Value| matches!(v[0].as_str(), Some("serious" | "critical"));
        let found: Vec<&Value> = found.as_array().expect("findings").iter().filter(grave).collect();
        assert!(found.is_empty(), "{path}: {found:#?}");
    }
}

/// axe-core's script; `None`, loudly, where it is not at hand.
fn axe() -> Option<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tools/page/node_modules/axe-core/axe.min.js");
    let script = std::fs::read_to_string(&path).ok();
    if script.is_none() {
        assert!(!is_ci(), "axe-core is not installed: tools/page_check.sh does it");
        eprintln!(
            "\n*** SKIPPED: the page was NOT checked by axe-core; tools/page_check.sh installs it ***\n"
        );
    }
    script
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_person_plans_a_tank() {
    let Some(driver) = driver() else { return };
    let path = copy("browser", "attic-lowtech.toml");
    let held = page(Some(&path));
    let listener = page::listen(0).await.expect("a port");
    let address = listener.local_addr().expect("an address");
    tokio::spawn(page::serve(listener, std::sync::Arc::clone(&held.shared), std::future::pending()));
    let profile = tempfile::tempdir().expect("a folder");
    let pictures = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/page-pictures");
    std::fs::create_dir_all(&pictures).expect("a folder");
    let person = Person { client: browser(&driver, profile.path()).await, address, pictures };

    edits_the_tank(&person).await;
    moves_things(&person).await;
    looks_around(&person).await;
    makes_the_list(&person).await;
    person.presses("#save").await;
    person.waits_for("saved", "document.querySelector('.where').textContent.includes(', saved')").await;
    let saved = std::fs::read_to_string(&path).expect("the file");
    assert!(
        saved.contains("30 cm\"         # water level") && saved.contains("Hygrophila difformis"),
        "{saved}"
    );
    prints_the_sheet(&person).await;

    let axe = axe();
    for (path, name) in [
        ("/tank", "tank"),
        ("/list", "list"),
        ("/catalogue?words=red", "catalogue"),
        ("/plants/leptochilus-pteropus", "plant"),
        ("/sheet", "sheet"),
    ] {
        person.pictures(path, name).await;
        person.is_for_everybody(axe.as_deref(), path).await;
    }
    let foreign = "return performance.getEntriesByType('resource').filter(e => !e.name.startsWith(location.origin)).length";
    assert_eq!(person.client.execute(foreign, vec![]).await.expect("a script"), json!(0));
    person.client.close().await.expect("closed");
}

async fn edits_the_tank(person: &Person) {
    person.goes_to("/tank").await;
    assert_eq!(person.sees("h1").await, "Attic study");
    // What is wrong is said beside the field while one types.
    person.writes("#field-glass-water", "30 litres").await;
    person
        .waits_for("a finding", "document.querySelector('#wrong-glass-water').textContent.includes('litres')")
        .await;
    person.leaves().await;
    person.waits_for("an invalid field", "document.querySelector('#field-glass-water[aria-invalid]')").await;
    person.writes("#field-glass-water", "30 cm").await;
    person.leaves().await;
    person.waits_for("an edit", "document.querySelector('.where').textContent.includes('not saved')").await;
    person
        .waits_for(
            "new figures",
            "document.querySelector('#figures').textContent.includes('54 L to the water line')",
        )
        .await;
    assert_eq!(person.sees("#wrong-glass-water").await, "");
}

async fn moves_things(person: &Person) {
    let place = |id: &str| format!("document.getElementById('{id}').getAttribute('aria-label')");
    person.drags("#held-zone-3", 0, 30).await;
    person.waits_for("a moved zone", &format!("!{}.includes('21 to 30')", place("held-zone-3"))).await;
    person.presses("#undo").await;
    person.waits_for("the zone back", &format!("{}.includes('21 to 30')", place("held-zone-3"))).await;
    // The same by keys alone: three steps to the left are one step of the tank.
    person
        .client
        .execute("document.getElementById('held-light-lamp-0').focus()", vec![])
        .await
        .expect("a script");
    person.keys(&['\u{e012}', '\u{e012}', '\u{e012}']).await;
    person
        .waits_for("a moved lamp", &format!("{}.includes('27 cm from the left')", place("held-light-lamp-0")))
        .await;
    person.waits_for("the lamp still in hand", "document.activeElement.id === 'held-light-lamp-0'").await;
    person
        .waits_for(
            "it read out",
            "document.querySelector('#live').textContent.includes('27 cm from the left')",
        )
        .await;
    person.presses("#undo").await;
    person
        .waits_for(
            "the lamp back",
            &format!("{}.includes('30 cm from the left')", place("held-light-lamp-0")),
        )
        .await;
}

async fn looks_around(person: &Person) {
    person.goes_to("/catalogue").await;
    person.writes("#words", "java fern").await;
    person
        .waits_for(
            "an answer",
            "document.querySelector('.found a')?.textContent.includes('Leptochilus pteropus')",
        )
        .await;
    person.waits_for("the question in the address", "location.search.includes('words=java+fern')").await;
    person.client.refresh().await.expect("loaded again");
    person
        .waits_for(
            "the same answer",
            "document.querySelector('.found a')?.textContent.includes('Leptochilus pteropus')",
        )
        .await;
    person.client.execute("document.querySelector('#narrow').open = true", vec![]).await.expect("a script");
    person.presses("#facet-placement-epiphyte").await;
    person.waits_for("a narrower question", "location.search.includes('placement=epiphyte')").await;
    person.presses(".found a").await;
    assert!(person.sees("h1").await.contains("Leptochilus pteropus"));
    assert!(person.sees("#here").await.contains("limited by"));
}

async fn makes_the_list(person: &Person) {
    person.goes_to("/list").await;
    person.waits_for("a proof", "document.querySelector('#proof').textContent.includes('no list')").await;
    person.presses("article[aria-label='Hygrophila difformis'] button").await;
    person.waits_for("it kept", "document.querySelector(\"article[aria-label='Hygrophila difformis']\").textContent.includes('Kept')").await;
    let swap = "const s = [...document.querySelectorAll('select[data-out]')].find(s => s.dataset.out !== 'hygrophila-difformis'); \
                s.value = s.options[1].value; return [s.id, s.dataset.out, s.value]";
    let swapped = person.client.execute(swap, vec![]).await.expect("a script");
    let [id, out, other] = [0, 1, 2].map(|i| swapped[i].as_str().expect("a word"));
    person.presses(&format!("[data-swap={id}]")).await;
    person.waits_for("a swap", &format!("!document.querySelector('select[data-out={out}]')")).await;
    person
        .waits_for(
            "the other",
            &format!("document.querySelector('#list').innerHTML.includes('/plants/{other}')"),
        )
        .await;
    person.writes("#ask", "Micranthemum tweediei").await;
    person.presses("form[data-ask] button").await;
    person
        .waits_for("a verdict", "document.querySelector('#asked').textContent.includes('limited by')")
        .await;
    person.presses("button[type=submit].first").await;
    person.waits_for("a proof", "document.querySelector('#proof').textContent.includes('no list')").await;
}

async fn prints_the_sheet(person: &Person) {
    person.goes_to("/sheet").await;
    person.waits_for("the sheet", "document.querySelector('table td')").await;
    person
        .waits_for("the drawings", "[...document.images].every(i => i.complete && i.naturalWidth > 0)")
        .await;
    // A busy machine may take longer than the driver waits.
    let mut printed = Vec::new();
    for _ in 0..5 {
        if let Ok(sheet) = person.client.print(fantoccini::wd::PrintConfiguration::default()).await {
            printed = sheet;
            break;
        }
    }
    assert!(printed.starts_with(b"%PDF") && printed.len() > 20_000, "{} bytes", printed.len());
    std::fs::write(person.pictures.join("sheet.pdf"), printed).expect("kept");
}
