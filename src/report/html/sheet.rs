//! The project sheet: all of a plan on a page that prints on A4 and on Letter.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::calendar::calendar;
use crate::report::view::{CalendarView, DriftView, EVERY_ARRIVAL, PlanView, PurchaseView};

/// A drawing on the sheet.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// What it shows.
    pub title: String,
    /// SVG 1.1, with or without an XML declaration.
    pub svg: String,
}

/// What is on the sheet.
#[derive(Debug, Clone)]
pub struct Sheet<'a> {
    /// The plan.
    pub plan: &'a PlanView,
    /// The drawings, in order.
    pub drawings: &'a [Drawing],
    /// The calendar, where there is a day to begin.
    pub calendar: Option<&'a CalendarView>,
    /// Names of the files beside the page, with what each holds.
    pub files: &'a [(String, String)],
}

const STYLE: &str = include_str!("sheet.css");

/// The page.
pub fn sheet(sheet: &Sheet<'_>) -> String {
    let plan = sheet.plan;
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; img-src data:";
                title { (plan.tank.name) ": planting" }
                style { (PreEscaped(STYLE)) }
            }
            body {
                (head(plan))
                @for (n, drawing) in sheet.drawings.iter().enumerate() { (figure(n, drawing)) }
                (what_goes_where(plan))
                (list("To note", &plan.remarks))
                (shopping(plan))
                @if let Some(view) = sheet.calendar { (calendar(view)) }
                (list("Cautions", &plan.cautions))
                (list("Taken for granted", &plan.assumed))
                (files(sheet.files))
            }
        }
    };
    page.into_string() + "\n"
}

fn head(plan: &PlanView) -> Markup {
    let tank = &plan.tank;
    html! {
        header {
            h1 { (tank.name) }
            p {
                (tank.length_cm) " × " (tank.depth_cm) " × " (tank.height_cm) " cm inside, water to "
                (tank.water_cm) " cm. " (plan.totals.taxa) " taxa in " (plan.drifts.len()) " drifts, "
                (plan.totals.pieces) " pieces from " (plan.totals.portions) " portions, planted "
                (plan.density.word) "."
            }
        }
    }
}

fn figure(n: usize, drawing: &Drawing) -> Markup {
    html! {
        figure {
            (PreEscaped(scoped(&drawing.svg, &format!("d{n}-"))))
            figcaption { (drawing.title) }
        }
    }
}

fn what_goes_where(plan: &PlanView) -> Markup {
    let mut zones: Vec<usize> = plan.drifts.iter().map(|d| d.zone).collect();
    zones.dedup();
    let of = |zone: usize| plan.drifts.iter().filter(move |d| d.zone == zone);
    html! {
        section {
            h2 { "What goes where" }
            table.drifts {
                thead { tr {
                    th.number scope="col" { "No." } th scope="col" { "Plant" }
                    th.number scope="col" { "Pieces" } th.number scope="col" { "cm apart" }
                    th.number scope="col" { "Portions" } th scope="col" { "How it is planted" }
                } }
                @for zone in zones {
                    tbody {
                        tr.zone { th colspan="6" scope="rowgroup" {
                            @if let Some(first) = of(zone).next() { (first.zone_name) }
                            span.aside {
                                (plan.tank.zones.get(zone).map_or("", |z| z.placement.as_str())) ", "
                                (format!("{:.0}", of(zone).map(|d| d.area_cm2).sum::<f64>())) " cm²"
                            }
                        } }
                        @for drift in of(zone) { (drift_row(drift)) }
                    }
                }
            }
        }
    }
}

fn drift_row(drift: &DriftView) -> Markup {
    html! {
        tr {
            td.number { (drift.number) }
            td { i { (drift.name) } @if drift.vernacular != drift.name { br; (drift.vernacular) } }
            td.number { (drift.places) " " span.aside { (drift.piece_word) } }
            td.number { (drift.spacing_cm) }
            td.number { (drift.portions) }
            td { (drift.how) }
        }
    }
}

fn shopping(plan: &PlanView) -> Markup {
    let totals = &plan.totals;
    html! {
        section.shopping {
            h2 { "Shopping list" }
            p { "On arrival, with every plant: " (EVERY_ARRIVAL) "." }
            table {
                thead { tr {
                    th.number scope="col" { "Portions" } th scope="col" { "Plant" }
                    th.number scope="col" { "Each" } th.number scope="col" { "Sum" }
                    th scope="col" { "And look whether" } th scope="col" { "Got" }
                } }
                tbody { @for purchase in &plan.purchases { (purchase_row(purchase)) } }
                tfoot { tr {
                    td.number { (totals.portions) } th scope="row" { "in all" } td {}
                    td.number { (totals.cost) " " (totals.currency) } td colspan="2" {}
                } }
            }
            @if !totals.without_price.is_empty() {
                p { "Price missing, not in the sum: " (totals.without_price.join(", ")) "." }
            }
            @if !totals.price_origins.is_empty() { p { "Prices: " (totals.price_origins.join("; ")) "." } }
        }
    }
}

fn purchase_row(purchase: &PurchaseView) -> Markup {
    html! {
        tr {
            td.number { (purchase.portions) }
            td {
                i { (purchase.name) } " " span.aside { (purchase.authorship) }
                br; (purchase.trade_names.join(", "))
                @for flag in &purchase.flags { br; b { "! " } (flag) }
            }
            td.number { (purchase.price.as_deref().unwrap_or("missing")) }
            td.number { (purchase.subtotal.as_deref().unwrap_or("missing")) }
            td { (own_checks(&purchase.on_arrival)) }
            td.tick {}
        }
    }
}

/// What to look at in this plant alone.
fn own_checks(all: &str) -> &str {
    all.strip_prefix(EVERY_ARRIVAL).unwrap_or(all).trim_start_matches("; ")
}

fn list(title: &str, items: &[String]) -> Markup {
    html! {
        @if !items.is_empty() {
            section { h2 { (title) } ul { @for item in items { li { (item) } } } }
        }
    }
}

fn files(files: &[(String, String)]) -> Markup {
    html! {
        @if !files.is_empty() {
            section.files {
                h2 { "In this folder" }
                ul { @for (name, what) in files { li { a href=(name) { (name) } " " (what) } } }
            }
        }
    }
}

/// A drawing to stand inside a page: without declaration, its identifiers apart from those of others.
fn scoped(svg: &str, prefix: &str) -> String {
    let start = svg.find("<svg").unwrap_or(0);
    let mut text = svg[start..].to_owned();
    for mark in ["id=\"", "url(#", "href=\"#"] {
        text = prefixed(&text, mark, prefix);
    }
    labels(&text, prefix)
}

/// Puts the prefix behind every mark that begins a word of its own.
fn prefixed(text: &str, mark: &str, prefix: &str) -> String {
    let mut out = String::with_capacity(text.len() + 64);
    let mut rest = text;
    while let Some(at) = rest.find(mark) {
        let end = at + mark.len();
        out.push_str(&rest[..end]);
        // `id="` also ends longer attribute names.
        let own = !mark.starts_with("id") || rest[..at].ends_with([' ', '\n', '\t']);
        if own {
            out.push_str(prefix);
        }
        rest = &rest[end..];
    }
    out + rest
}

/// The lists of identifiers by which a drawing is named to those who cannot see it.
fn labels(text: &str, prefix: &str) -> String {
    const MARK: &str = "aria-labelledby=\"";
    let mut out = String::with_capacity(text.len() + 64);
    let mut rest = text;
    while let Some(at) = rest.find(MARK) {
        let from = at + MARK.len();
        let to = rest[from..].find('"').map_or(rest.len(), |n| from + n);
        out.push_str(&rest[..from]);
        let names: Vec<String> = rest[from..to].split(' ').map(|n| format!("{prefix}{n}")).collect();
        out.push_str(&names.join(" "));
        rest = &rest[to..];
    }
    out + rest
}

#[cfg(test)]
mod tests {
    use super::scoped;

    #[test]
    fn drawings_keep_their_identifiers_apart() {
        let svg = "<?xml version=\"1.0\"?>\n<svg aria-labelledby=\"t d\"><title id=\"t\">a</title><g data-id=\"x\" fill=\"url(#h)\"/></svg>";
        assert_eq!(
            scoped(svg, "p-"),
            "<svg aria-labelledby=\"p-t p-d\"><title id=\"p-t\">a</title><g data-id=\"x\" fill=\"url(#p-h)\"/></svg>"
        );
    }
}
