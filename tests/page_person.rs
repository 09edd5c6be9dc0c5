//! A person at the page: Chromium through WebDriver, with what tests of the page in a browser share.
//!
//! Needs `chromium` and `chromedriver` (Debian: packages chromium and chromium-driver). Where they
//! are missing the test says so and is skipped; with `CI=true` it fails instead.

use std::net::SocketAddr;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use fantoccini::actions::{
    InputSource, KeyAction, KeyActions, MOUSE_BUTTON_LEFT, MouseActions, PointerAction,
};
use fantoccini::elements::Element;
use fantoccini::error::CmdError;
use fantoccini::wd::Capabilities;
use fantoccini::{Client, ClientBuilder, Locator};
use quillwort::page;
use serde_json::{Value, json};

use crate::page_support::Page;

/// Times that something on the page is looked for anew when it was drawn anew meanwhile.
const TRIES: usize = 5;

/// The driver's process; it ends with the test.
pub struct Driver {
    process: Child,
    port: u16,
}

impl Drop for Driver {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

pub fn is_ci() -> bool {
    std::env::var("CI").is_ok_and(|v| v == "true")
}

/// Starts the driver; `None`, loudly, where there is none.
pub fn driver() -> Option<Driver> {
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
pub struct Person {
    pub client: Client,
    pub pictures: PathBuf,
    address: SocketAddr,
}

impl Person {
    /// Opens a browser at a page that is served for it.
    pub async fn at(driver: &Driver, held: &Page, profile: &Path) -> Self {
        let listener = page::listen(0).await.expect("a port");
        let address = listener.local_addr().expect("an address");
        tokio::spawn(page::serve(listener, std::sync::Arc::clone(&held.shared), std::future::pending()));
        let pictures = Path::new(env!("CARGO_MANIFEST_DIR")).join("target/page-pictures");
        std::fs::create_dir_all(&pictures).expect("a folder");
        Self { client: browser(driver, profile).await, address, pictures }
    }

    pub async fn goes_to(&self, path: &str) {
        self.client.goto(&format!("http://{}{path}", self.address)).await.expect("the page loads");
    }

    pub async fn sees(&self, css: &str) -> String {
        let found = self.client.wait().at_most(Duration::from_secs(20)).for_element(Locator::Css(css)).await;
        found.unwrap_or_else(|e| panic!("{css}: {e}")).text().await.expect("text")
    }

    /// Waits until a script says true.
    pub async fn waits_for(&self, what: &str, script: &str) {
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

    /// Does something with an element; finds it again when the page drew it anew in between.
    pub async fn with<T>(&self, css: &str, what: impl AsyncFn(Element) -> Result<T, CmdError>) -> T {
        for _ in 1..TRIES {
            let element = self.client.find(Locator::Css(css)).await.expect(css);
            match what(element).await {
                Err(error) if error.is_stale_element_reference() => {}
                done => return done.expect(css),
            }
        }
        what(self.client.find(Locator::Css(css)).await.expect(css)).await.expect(css)
    }

    pub async fn presses(&self, css: &str) {
        let there = format!(
            "[...document.querySelectorAll(`{css}`)].some(b => b.getAttribute('aria-disabled') !== 'true')"
        );
        self.waits_for(css, &there).await;
        let script = "document.querySelector(arguments[0]).scrollIntoView({block: 'center'})";
        self.client.execute(script, vec![json!(css)]).await.expect("a script");
        self.with(css, async |button| button.click().await).await;
    }

    /// Writes into a field and leaves it.
    pub async fn writes(&self, css: &str, text: &str) {
        let script =
            "const d = document.querySelector(arguments[0]).closest('details'); if (d) d.open = true;";
        self.client.execute(script, vec![json!(css)]).await.expect("a script");
        self.with(css, async |field| {
            field.clear().await?;
            field.send_keys(text).await
        })
        .await;
    }

    pub async fn leaves(&self) {
        self.client.execute("document.activeElement.blur()", vec![]).await.expect("a script");
    }

    pub async fn keys(&self, keys: &[char]) {
        let mut actions = KeyActions::new("keys".to_owned());
        for key in keys {
            actions = actions.then(KeyAction::Down { value: *key }).then(KeyAction::Up { value: *key });
        }
        self.client.perform_actions(actions).await.expect("keys");
    }

    /// Drags the middle of an element.
    pub async fn drags(&self, css: &str, x: i64, y: i64) {
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

    pub async fn pictures(&self, path: &str, name: &str) {
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
    pub async fn is_for_everybody(&self, axe: Option<&str>, path: &str) {
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
pub fn axe() -> Option<String> {
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
