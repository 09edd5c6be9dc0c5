//! The tank: the plan, what the figures come to, and the fields beside them.

use maud::{Markup, html};

use super::bits::{Look, cautions, line, plain};
use super::plan::plan;
use crate::page::fault::FindingView;
use crate::report::view::{AuditValueView, AuditView, TankReportView, ZoneView};
use crate::units::{Area, Pressure, Temperature, Volume};

/// The page, with `drawn` either the drawing or what is wrong with the file.
pub(in crate::page) fn tank(look: Look, name: &str, drawn: &Markup, fields: &Markup) -> Markup {
    html! {
        h1 { (name) }
        div.two {
            section aria-label="The plan and what it comes to" {
                div #drawn data-from=(look.to("/api/tank")) { (drawn) }
            }
            section aria-label="What is written about the tank" {
                h2.unseen { "What is written about the tank" }
                div #fields data-from=(look.to("/api/desk/fields")) data-fields { (fields) }
            }
        }
    }
}

/// What is wrong with a file that cannot be computed.
pub(in crate::page) fn wrong(findings: &[FindingView]) -> Markup {
    html! {
        div.notice {
            p { "The tank cannot be computed as it is written:" }
            ul {
                @for finding in findings {
                    li {
                        @if let (Some(line), Some(column)) = (finding.line, finding.column) {
                            "line " (line) ", column " (column) ": "
                        }
                        (finding.message)
                        @if let Some(expected) = &finding.expected { "; expected " (expected) }
                        @if !finding.near.is_empty() { "; did you mean " (finding.near.join(" or ")) "?" }
                    }
                }
            }
        }
    }
}

/// The plan and the figures under it.
pub(in crate::page) fn drawn(view: &TankReportView, warnings: &[FindingView], look: Look) -> Markup {
    html! {
        (plan(view, look))
        @if !warnings.is_empty() { (doubts(warnings)) }
        div #figures {
            h2 { "What it comes to" }
            (figures(view, look))
            @if !view.tank.zones.is_empty() { h2 { "The zones" } (zones(&view.tank.zones, look)) }
            h2 { "The set-up against the usual rules" }
            (audit(&view.audit, look))
            (cautions(&view.cautions, &view.left_out))
        }
    }
}

fn doubts(warnings: &[FindingView]) -> Markup {
    html! {
        ul.notice { @for warning in warnings { li {
            (warning.message)
            @if let Some(expected) = &warning.expected { "; " (expected) }
        } } }
    }
}

fn figures(view: &TankReportView, look: Look) -> Markup {
    let (tank, volumes, loads) = (&view.tank, &view.volumes, &view.loads);
    let carbon = &view.carbon;
    html! {
        dl.ledger {
            (line("light", &html! {
                (tank.ppfd_mean_umol_m2_s) " µmol/m²/s on the bed (" (tank.ppfd_p10_umol_m2_s) " to " (tank.ppfd_p90_umol_m2_s)
                "), " (tank.dli_mean_mol_m2_d) " mol/m² a day"
                @for note in &view.light.notes { br; span.soft { (note) } }
            }))
            (line("carbon", &html! {
                "CO2 " (plain(tank.co2_mg_l)) " mg/L over the photoperiod; bicarbonate is worth "
                (plain(tank.bicarbonate_as_co2_mg_l)) " mg/L more to plants that use it"
                @if carbon.has_course {
                    br; "at lights on " (plain(carbon.co2_lights_on_mg_l)) ", at lights off " (plain(carbon.co2_lights_off_mg_l)) " mg/L"
                }
                @for note in &tank.carbon_notes { br; span.soft { (note) } }
            }))
            (line("water", &html! {
                (look.range::<Temperature>(tank.temperature_c)) ", pH " (plain(tank.ph)) ", GH " (plain(tank.gh_dgh))
                " dGH, KH " (plain(tank.kh_dkh)) " dKH"
            }))
            (line("contents", &html! {
                (look.base::<Volume>(volumes.filled_l)) " to the water line, " (look.base::<Volume>(volumes.water_l))
                " of water above the bed, open over " (look.base::<Area>(volumes.surface_cm2 * 1e-4))
            }))
            (line("mass", &html! {
                (look.mass(loads.total_kg)) ": water " (look.mass(loads.water_kg)) ", glass " (look.mass(loads.glass_kg))
                ", bed " (look.mass(loads.bed_kg))
                @if loads.hardscape_kg > 0.0 { ", wood and rock " (look.mass(loads.hardscape_kg)) " at most" }
            }))
            (line("floor", &html! {
                (look.base::<Pressure>(loads.floor_pressure_kpa)) " on " (look.base::<Area>(loads.footprint_cm2 * 1e-4))
                " of base; see the cautions"
            }))
        }
    }
}

fn zones(zones: &[ZoneView], look: Look) -> Markup {
    html! {
        section.scroll tabindex="0" aria-label="The zones" {
            table {
                thead { tr {
                    th scope="col" { "zone" } th scope="col" { "part" }
                    th.number scope="col" { "area" } th.number scope="col" { "plants up to" }
                    th.number scope="col" { "light a day, mol/m²" } th.number scope="col" { "middle 80 %" }
                } }
                tbody { @for (i, zone) in zones.iter().enumerate() { tr {
                    td { (i + 1) " " (zone.name) } td { (zone.placement) }
                    td.number { (look.base::<Area>(zone.area_cm2 * 1e-4)) }
                    td.number { (look.cm(zone.tallest_cm)) }
                    td.number { (zone.dli_mean_mol_m2_d) }
                    td.number { (zone.dli_p10_mol_m2_d) "–" (zone.dli_p90_mol_m2_d) }
                } } }
            }
        }
    }
}

fn audit(lines: &[AuditView], look: Look) -> Markup {
    html! {
        dl.ledger {
            @for rule in lines {
                (line(&rule.topic, &html! {
                    @if let Some(value) = rule.value { (found(value, look)) ": " }
                    @if rule.standing == "unusual" { b { (rule.verdict) } } @else { (rule.verdict) }
                    br; span.soft {
                        (rule.rule) " ("
                        @if rule.origin == "practice" { "common practice, no source" } @else { (rule.origin) }
                        ")"
                    }
                }))
            }
        }
    }
}

fn found(value: AuditValueView, look: Look) -> String {
    match value {
        AuditValueView::Time { hours } => format!("{hours} h"),
        AuditValueView::GasLead { before_light_hours, before_dark_hours } => {
            format!("on {before_light_hours} h before the light, off {before_dark_hours} h before its end")
        }
        AuditValueView::Turnover { volumes_per_hour } => format!("{volumes_per_hour} tank volumes an hour"),
        AuditValueView::Share { share } => format!("{:.0} %", share * 100.0),
        AuditValueView::Bed { front_cm, back_cm } => {
            format!("{} in front, {} behind", look.cm(front_cm), look.cm(back_cm))
        }
        AuditValueView::Support { light_share, carbon_share } => format!(
            "light for {:.0} % of full growth, carbon for {:.0} to {:.0} %",
            light_share * 100.0,
            carbon_share.lo * 100.0,
            carbon_share.hi * 100.0
        ),
        AuditValueView::Co2 { co2_mg_l } => format!("{} mg/L", plain(co2_mg_l)),
    }
}
