//! What stands under the plan: scale, bands, zones, lamps, and what the figures leave out.

use super::light_map::{DASHES, INK, MARGIN, PAGE, Plan, cross, numbered, tint};
use super::writer::{Svg, number};
use crate::report::view::{LampView, TankReportView};
use crate::units::{Length, Quantity};

/// Column of the second list.
const SECOND: f64 = 118.0;
const ROW: f64 = 5.6;

/// Writes the legend, or only measures it; gives the height of the page.
pub(super) fn legend(svg: Option<&mut Svg>, view: &TankReportView, plan: &Plan) -> f64 {
    let scale_at = plan.bottom + 17.0;
    let bands_at = scale_at + 16.0;
    let lists_at = bands_at + 24.0;
    let zones = view.tank.zones.len();
    let kinds = [!view.hardscape.is_empty(), zones > 0, !view.light.readings.is_empty()];
    let kinds = kinds.into_iter().filter(|there| *there).count();
    let longer = zones.max(1 + kinds + alike(&view.light.lamps).len());
    let foot_at = lists_at + ROW * (longer as f64 + 1.0) + 3.0;
    let page = foot_at + 16.0;
    let Some(svg) = svg else { return page };
    scale_bar(svg, plan, scale_at);
    bands(svg, view, bands_at);
    zone_list(svg, view, lists_at);
    key(svg, view, plan, lists_at);
    foot(svg, view, foot_at);
    page
}

/// Four steps, every other one filled.
fn scale_bar(svg: &mut Svg, plan: &Plan, y: f64) {
    let (unit_cm, unit) = plan.unit();
    let step = plan.tick();
    let steps = ((60.0 / plan.mm(step)) as usize).clamp(1, 4);
    for i in 0..steps {
        let fill = if i % 2 == 0 { INK } else { "none" };
        let at = [MARGIN + i as f64 * plan.mm(step), y];
        svg.rect(at, [plan.mm(step), 1.6], &[("fill", fill), ("stroke", INK), ("stroke-width", "0.25")]);
    }
    svg.open("g", &[("font-size", "2.9"), ("text-anchor", "middle")]);
    for i in 0..=steps {
        let words = number(i as f64 * step / unit_cm);
        svg.label(MARGIN + i as f64 * plan.mm(step), y + 5.0, &words);
    }
    svg.close();
    svg.open("g", &[("font-size", "2.9")]);
    let end = MARGIN + steps as f64 * plan.mm(step) + 4.0;
    svg.label(end, y + 1.7, &format!("{unit}; 1 : {} when printed at its own size", number(plan.scale)));
    svg.close();
}

/// The bands as a strip, PPFD above its borders and daily light below.
fn bands(svg: &mut Svg, view: &TankReportView, y: f64) {
    let bands = &view.light.bands;
    let left = MARGIN + 30.0;
    let width = ((PAGE - MARGIN - left) / bands.len().max(1) as f64).min(20.0);
    svg.open("g", &[("font-size", "2.9"), ("font-style", "italic")]);
    svg.label(MARGIN, y - 1.6, "µmol/m²/s");
    svg.label(MARGIN, y + 4.6, "share of the bed");
    svg.label(MARGIN, y + 11.2, "mol/m² a day");
    svg.close();
    for (i, _) in bands.iter().enumerate() {
        let fill = tint(i, bands.len());
        let at = [left + i as f64 * width, y];
        svg.rect(at, [width, 7.0], &[("fill", &fill), ("stroke", INK), ("stroke-width", "0.3")]);
    }
    svg.open("g", &[("font-size", "2.9"), ("text-anchor", "middle")]);
    for (i, band) in bands.iter().enumerate() {
        let x = left + i as f64 * width;
        svg.label(x, y - 1.6, &band.from_umol_m2_s.to_string());
        svg.label(x, y + 11.2, &format!("{:.2}", band.from_mol_m2_d));
        svg.label(x + width / 2.0, y + 4.6, &band.share());
        if i + 1 == bands.len() {
            svg.label(x + width, y - 1.6, &band.to_umol_m2_s.to_string());
            svg.label(x + width, y + 11.2, &format!("{:.2}", band.to_mol_m2_d));
        }
    }
    svg.close();
}

fn zone_list(svg: &mut Svg, view: &TankReportView, y: f64) {
    let zones = &view.tank.zones;
    if zones.is_empty() {
        return;
    }
    svg.open("g", &[("font-size", "2.9"), ("font-style", "italic")]);
    svg.label(MARGIN, y, "zone");
    svg.open("g", &[("text-anchor", "end")]);
    svg.label(SECOND - 8.0, y, "mol/m² a day, mean and middle 80 %");
    svg.close();
    svg.close();
    for (i, zone) in zones.iter().enumerate() {
        let row = y + ROW * (i as f64 + 1.0);
        svg.open("g", &[("font-size", "3.2"), ("text-anchor", "middle")]);
        numbered(svg, [MARGIN + 2.5, row - 1.1], i + 1);
        svg.close();
        svg.open("g", &[("font-size", "3.2")]);
        svg.label(MARGIN + 7.0, row, &shortened(&zone.name, 26));
        svg.open("g", &[("text-anchor", "end")]);
        svg.label(SECOND - 30.0, row, &format!("{:.2}", zone.dli_mean_mol_m2_d));
        let span = format!("{:.2} to {:.2}", zone.dli_p10_mol_m2_d, zone.dli_p90_mol_m2_d);
        svg.label(SECOND - 8.0, row, &span);
        svg.close();
        svg.close();
    }
}

fn shortened(text: &str, most: usize) -> String {
    if text.chars().count() <= most {
        return text.to_owned();
    }
    text.chars().take(most - 1).chain(['…']).collect()
}

/// What the lines mean, and the lamps.
fn key(svg: &mut Svg, view: &TankReportView, plan: &Plan, y: f64) {
    let left = if view.tank.zones.is_empty() { MARGIN } else { SECOND };
    let sample = [left, 9.0];
    let words_at = left + 12.0;
    let mut row = y;
    let mut next = || {
        row += ROW;
        row
    };
    let box_at = |row: f64| [sample[0], row - 3.4];
    svg.open("g", &[("font-size", "2.9"), ("font-style", "italic")]);
    svg.label(left, y, "key");
    svg.close();
    svg.open("g", &[("font-size", "3.2")]);
    let at = next();
    svg.line([left, at - 1.0], [left + sample[1], at - 1.0], &[("stroke", INK), ("stroke-width", "0.3")]);
    svg.label(words_at, at, "equal light; fine: halfway between");
    if !view.hardscape.is_empty() {
        let at = next();
        let names: Vec<&str> = view.hardscape.iter().map(|p| p.name.as_str()).collect();
        let more = [("fill", "url(#piece)"), ("stroke", INK), ("stroke-width", "0.45")];
        svg.rect(box_at(at), [sample[1], 4.4], &more);
        svg.label(words_at, at, &shortened(&names.join(", "), 36));
    }
    if !view.tank.zones.is_empty() {
        let at = next();
        let more = [("stroke", INK), ("stroke-width", "0.35"), ("stroke-dasharray", DASHES)];
        svg.line([left, at - 1.0], [left + sample[1], at - 1.0], &more);
        svg.label(words_at, at, "border of a zone");
    }
    for (count, lamp) in alike(&view.light.lamps) {
        let at = next();
        let more = [("stroke", INK), ("stroke-width", "0.4"), ("stroke-dasharray", "6 1 0.8 1")];
        svg.line([left, at - 1.0], [left + sample[1], at - 1.0], &more);
        let above = Length::from_cm(lamp.above_water_cm).show(plan.units);
        let lamps = if count == 1 { "lamp,".to_owned() } else { format!("{count} lamps, each") };
        let words = format!("{lamps} {} µmol/s, {above} above water", lamp.photon_flux_umol_s);
        svg.label(words_at, at, &words);
    }
    if !view.light.readings.is_empty() {
        let at = next();
        cross(svg, [left + sample[1] / 2.0, at - 1.2]);
        let words = if view.light.basis == "readings" { "reading; no lamp is stated" } else { "reading" };
        svg.label(words_at, at, words);
    }
    svg.close();
}

/// Lamps that differ in nothing the key says, with their number.
fn alike(lamps: &[LampView]) -> Vec<(usize, &LampView)> {
    let mut found: Vec<(usize, &LampView)> = Vec::new();
    let says = |l: &LampView| (l.photon_flux_umol_s.to_bits(), l.above_water_cm.to_bits());
    for lamp in lamps {
        match found.iter_mut().find(|(_, known)| says(known) == says(lamp)) {
            Some((count, _)) => *count += 1,
            None => found.push((1, lamp)),
        }
    }
    found
}

fn foot(svg: &mut Svg, view: &TankReportView, y: f64) {
    let tank = &view.tank;
    let how: &[&str] = if view.light.basis == "readings" {
        &["Drawn between the readings by their distance: how the beam of the lamp spreads is not known."]
    } else {
        &[
            "Computed with refraction, the colour of the water and the reflection of the glass; without waves, \
             algae on the glass,",
            "and the shade of hardscape and plants.",
        ]
    };
    let figures = format!(
        "Mean {} µmol/m²/s, {} mol/m² a day; darkest {}, brightest {}. A level leaf at the bed, all lamps on.",
        tank.ppfd_mean_umol_m2_s,
        tank.dli_mean_mol_m2_d,
        view.light.least.ppfd_umol_m2_s,
        view.light.most.ppfd_umol_m2_s
    );
    svg.open("g", &[("font-size", "2.9"), ("font-style", "italic")]);
    for (i, line) in [&*figures].iter().chain(how).enumerate() {
        svg.label(MARGIN, y + 4.2 * i as f64, line);
    }
    svg.close();
}
