//! The frame of every page: head with the desk, main part, foot.

use maud::{DOCTYPE, Markup, html};

use super::bits::Look;
use crate::page::assets;
use crate::page::desk::{Desk, OnDisk};
use crate::units::UnitSystem;

/// The pages of the notebook.
const PAGES: [(&str, &str); 4] =
    [("/tank", "The tank"), ("/list", "The list"), ("/catalogue", "The catalogue"), ("/sheet", "The sheet")];

/// A whole page. `address` is its own, with the query.
pub(in crate::page) fn page(look: Look, title: &str, address: &str, desk: &Markup, main: &Markup) -> String {
    let own = address.split('?').next().unwrap_or(address);
    let units = if look.units == UnitSystem::Us { "us" } else { "metric" };
    let whole = html! {
        (DOCTYPE)
        html lang="en" data-units=(units) {
            (head(title))
            body {
                a.skip href="#main" { "To the page itself" }
                header.head {
                    div.head-row {
                        a.mark href=(look.to("/")) { "Quillwort" }
                        nav aria-label="Pages" {
                            ul.pages {
                                @for (at, name) in PAGES {
                                    li { a href=(look.to(at)) aria-current=[(own == at).then_some("page")] { (name) } }
                                }
                            }
                        }
                        (other_units(look, address))
                    }
                    div.desk #desk role="group" aria-label="The tank file" data-from=(look.to("/api/desk")) { (desk) }
                }
                main #main tabindex="-1" {
                    div.notice #notice role="alert" hidden {}
                    (main)
                }
                footer.foot {
                    p {
                        "Everything here is computed on this machine; nothing leaves it. Figures of the catalogue are "
                        "mostly common practice and say so. Law is dated and not legal advice. "
                        a href="/api/openapi.json" { "The same answers for programs" } "."
                    }
                }
                div.unseen #live role="status" aria-live="polite" {}
            }
        }
    };
    whole.into_string()
}

fn head(title: &str) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width, initial-scale=1";
            title { (title) " · Quillwort" }
            link rel="icon" type="image/svg+xml" href=(assets::address("icon.svg"));
            link rel="stylesheet" href=(assets::address("page.css"));
            script src=(assets::address("page.js")) defer {}
        }
    }
}

/// The link to the same page in the other units.
fn other_units(look: Look, address: &str) -> Markup {
    let (path, query) = address.split_once('?').unwrap_or((address, ""));
    let mut kept: Vec<&str> =
        query.split('&').filter(|p| !p.is_empty() && !p.starts_with("units=")).collect();
    let label = match look.units {
        UnitSystem::Metric => {
            kept.push("units=us");
            "in inches, gallons, °F"
        }
        UnitSystem::Us => "in centimetres, litres, °C",
    };
    let query = if kept.is_empty() { String::new() } else { format!("?{}", kept.join("&")) };
    html! { a.units href={ (path) (query) } { (label) } }
}

/// What lies on the desk: name, state, and what can be done with the file.
pub(in crate::page) fn desk(desk: &Desk) -> Markup {
    let (back, forth) = desk.steps();
    let on_disk = desk.on_disk();
    let state = match (on_disk, desk.is_unsaved()) {
        (OnDisk::Changed, _) => "changed on disk by something else: read it anew, or download yours",
        (OnDisk::None, _) => "in memory only: download it to keep it",
        (OnDisk::Known, true) => "not saved yet",
        (OnDisk::Known, false) => "saved",
    };
    // Steps that cannot be taken stay in reach of the keyboard: a button that is switched off while it
    // is held would lose the focus.
    let off = |is_off: bool| is_off.then_some("true");
    html! {
        span.where data-revision=(desk.revision()) { i { (desk.file_name()) } ", " (state) }
        button #undo type="button" data-post="/api/desk/undo" data-said="Taken back" aria-disabled=[off(back == 0)] { "Undo" }
        button #redo type="button" data-post="/api/desk/redo" data-said="Made again" aria-disabled=[off(forth == 0)] { "Redo" }
        @if on_disk != OnDisk::None {
            button #save type="button" data-post="/api/desk/save" data-said="Saved"
                aria-disabled=[off(!desk.is_unsaved() || on_disk == OnDisk::Changed)] { "Save" }
        }
        @if on_disk == OnDisk::Changed {
            button type="button" data-post="/api/desk/reload" data-said="Read anew" { "Read anew" }
        }
        a.button href="/api/desk/tank.toml" download=(desk.file_name()) { "Download" }
    }
}
